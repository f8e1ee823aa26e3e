"""Hybrids as they are written down: ``MALL x ABDU``, by codes or names, with an x or the sign of a cross."""

from __future__ import annotations

import re

_CROSS = re.compile(r"\s+[xX]\s+|\s*\N{MULTIPLICATION SIGN}\s*")
_SAID = re.compile(r"\s+hybrid$", re.IGNORECASE)


def parents_of(text: str) -> tuple[str, ...]:
    """Give both parents of a hybrid as they are written.

    :returns: two different words; nothing where the text names no cross of two.
    """
    parents = _CROSS.split(_SAID.sub("", text.strip()))
    return tuple(parents) if len(parents) == 2 and all(parents) and len(set(map(str.casefold, parents))) == 2 else ()
