"""Phrases as they are compared: read, and parted by what their terms are about."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from tertial.marks.reading import read_phrase
from tertial.marks.separation import by_facet

if TYPE_CHECKING:
    from tertial.marks.statements import Reading
    from tertial.marks.words import Words


@lru_cache(maxsize=65536)
def read_by_facet(text: str, words: Words, part: str = "") -> Reading:
    """Read a phrase, with a statement for each facet of each aspect. Kept, because guides repeat their phrases."""
    reading = read_phrase(text, words, part)
    return reading._replace(statements=tuple(each for whole in reading.statements for each in by_facet(whole, words)))
