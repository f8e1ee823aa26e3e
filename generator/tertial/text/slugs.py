"""File names made of what authors write."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

_WORD: Final = re.compile("[A-Za-z0-9]+")


def slug_of(name: str) -> str:
    """Turn a name into a file name of small letters, digits and hyphens."""
    plain = name.replace("'", "").replace("\N{RIGHT SINGLE QUOTATION MARK}", "")
    if not plain.isascii():
        plain = "".join(char for char in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(char))
    return "-".join(_WORD.findall(plain)).casefold() or "entry"
