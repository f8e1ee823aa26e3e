"""Words that people look with and that no account need have: sorts of birds, and what settles a plumage."""

from __future__ import annotations

import csv
import re
from importlib.resources import files
from typing import TYPE_CHECKING, Final

from tertial.marks.plumage_words import load_plumage_words
from tertial.marks.tables import split_cell
from tertial.names.fold import fold, latin

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from tertial.guide import Species
    from tertial.wording import Wording

_WORD: Final = re.compile(r"\w+")

SAID_BY_SEARCH: Final = (
    "%(first)s or %(last)s",
    "All %(count)s",
    "Found:",
    "Nothing found. Fewer words may find more.",
    "Nothing is found for %(words)s; shown without it.",
    "Words found apart",
    "text: %(word)s",
    '"%(word)s"',
    ":",
    ";",
)
"""The phrases of the script that searches."""

HABITAT, COUNTED_AT = "in", "counted at"
"""How an account belongs to a place: what stands before its name."""


def sorts(species: Sequence[Species], wording: Wording) -> Iterator[tuple[tuple[str, ...], list[int]]]:
    """Give the words for a sort of birds, such as ``wader``, each with the places of its birds in the sequence.

    Those of the language of the guide lead.

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
            words = split_cell(row["words"])
            yield (*wording.sorts.get(words[0], ()), *words), found


def small_words(*wordings: Wording) -> tuple[str, ...]:
    """Give the words that languages need and that say nothing of a bird, such as ``of`` and ``de``, sorted."""
    return tuple(sorted({fold(each) for wording in wordings for each in wording.rules.get("small words", "").split()}))


def plumage_terms(wording: Wording) -> Iterable[str]:
    """Give single words for ages, sexes and seasons, short and loose ones among them, sorted.

    Of a plumage that a language tells in several words each counts, as ``plumage`` and ``premier`` in French, but for
    small ones. Those of colour forms are left out, because most are colours too.
    """
    found: set[str] = set()
    for word in load_plumage_words().words:
        if any(word.facets[:3]):
            found.update((word.word, *word.synonyms, *word.hints))
            found.update(_WORD.findall(latin(" ".join(wording.plumage_words((word.word,))))))
    found.difference_update(small_words(wording))
    return sorted(each for each in found if each.isalpha() and each.isascii() and len(each) > 1)
