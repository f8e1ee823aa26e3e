"""Which parts a remark offers as telling two birds apart: "the bill decides it; the call agrees".

Only plain words are taken at their word. A clause that denies or hedges claims nothing.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.lexicon import TOKEN
from tertial.marks.tables import read_table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.marks.parts import Part, PartTable

_CLAUSE: Final = re.compile(r"[^;.:!?]+")
_LONGEST: Final = 4
"""Words in the longest name of a part that is looked for."""


class Offered(NamedTuple):
    """A part in a clause that claims to decide."""

    part: Part
    """The part."""

    start: int
    """Where its name begins in the remark, in characters from 0."""

    end: int
    """Where it ends, exclusive."""


def offered(remark: str, parts: PartTable) -> Iterator[tuple[Offered, ...]]:
    """Give, for each clause of a remark that claims to decide, the parts that it names; never none."""
    claiming, denying = _wordings()
    for clause in _CLAUSE.finditer(remark):
        text = clause.group()
        if claiming.search(text) and not denying.search(text):
            named = tuple(_parts(text, clause.start(), parts))
            if named:
                yield named


def _parts(clause: str, offset: int, parts: PartTable) -> Iterator[Offered]:
    """Find the names of parts, the longest first from each word on."""
    tokens = list(TOKEN.finditer(clause))
    at = 0
    while at < len(tokens):
        for end in range(min(len(tokens), at + _LONGEST), at, -1):
            start, stop = tokens[at].start(), tokens[end - 1].end()
            part = parts.find(clause[start:stop])
            if part is not None:
                yield Offered(part, offset + start, offset + stop)
                at = end
                break
        else:
            at += 1


@cache
def _wordings() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """Give what finds a word that claims to decide, and what finds one that takes it back."""
    rows = read_table("decisive-words.csv")
    claiming, denying = (
        "|".join(re.escape(row["wording"]) for row in rows if row["says"] == says) for says in ("yes", "no")
    )
    return (
        re.compile(rf"\b(?:{claiming})\b", re.IGNORECASE),
        re.compile(rf"\b(?:{denying})\b", re.IGNORECASE),
    )
