"""Words that people look with and that no account need have: sorts of birds, and what settles a plumage."""

from __future__ import annotations

import csv
from importlib.resources import files
from typing import TYPE_CHECKING, Final

from tertial.marks.plumage_words import load_plumage_words
from tertial.marks.tables import split_cell

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from tertial.guide import Species

SAID_BY_SEARCH: Final = (
    "%(first)s or %(last)s",
    "All %(count)s",
    "Found:",
    "Nothing found. Fewer words may find more.",
    "Nothing is found for %(words)s; shown without it.",
    "Words found apart",
)
"""The phrases of the script that searches."""


def sorts(species: Sequence[Species]) -> Iterator[tuple[tuple[str, ...], list[int]]]:
    """Give the words for a sort of birds, such as ``wader``, each with the places of its birds in the sequence.

    The table goes by families, and leaves out birds by the last word of their English names. Common
    practice, no source.
    """
    text = files("tertial.pages").joinpath("data", "sorts.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines(), strict=True):
        families, others = split_cell(row["families"]), split_cell(row["not"])
        found = [
            at
            for at, each in enumerate(species)
            if each.bird and each.bird.family in families and not each.bird.english.endswith(others)
        ]
        if found:
            yield split_cell(row["words"]), found


def plumage_terms() -> Iterable[str]:
    """Give single words for ages, sexes and seasons, short and loose ones among them, sorted.

    Those of colour forms are left out, because most are colours too.
    """
    found: set[str] = set()
    for word in load_plumage_words().words:
        if any(word.facets[:3]):
            found.update((word.word, *word.synonyms, *word.hints))
    return sorted(each for each in found if each.isalpha() and each.isascii() and len(each) > 1)
