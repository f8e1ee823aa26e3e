"""File names made of what authors write."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

_WORD: Final = re.compile("[A-Za-z0-9]+")

_LONGEST: Final = 100
"""Letters of a name. File systems take 255 bytes, and endings and numbers are added to it."""


def slug_of(name: str) -> str:
    """Turn a name into a file name of small letters, digits and hyphens; of a very long one, its first words."""
    plain = name.replace("'", "").replace("\N{RIGHT SINGLE QUOTATION MARK}", "")
    if not plain.isascii():
        plain = "".join(char for char in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(char))
    slug = "-".join(_WORD.findall(plain)).casefold() or "entry"
    if len(slug) <= _LONGEST:
        return slug
    return slug[: slug.rfind("-", 1, _LONGEST + 1)] if "-" in slug[1 : _LONGEST + 1] else slug[:_LONGEST]
