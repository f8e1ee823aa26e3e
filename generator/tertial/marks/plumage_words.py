"""The words for ages, sexes, seasons and morphs, as one table.

Kept apart from ``plumages`` so that pages can explain every word without reading a plumage, and so
that a new word is a new row and never a new branch.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.folding import fold
from tertial.marks.tables import read_table, split_cell

if TYPE_CHECKING:
    from collections.abc import Mapping


class Facets(NamedTuple):
    """What a word settles about a bird; '' where it settles nothing."""

    age: str = ""
    """The stage of life, or the cycle of molts."""

    sex: str = ""
    """``male`` or ``female``."""

    season: str = ""
    """The plumage within the year, named by season or by molt."""

    morph: str = ""
    """The colour form."""


class PlumageWord(NamedTuple):
    """One row of the table."""

    word: str
    """The preferred word."""

    facets: Facets
    """What it settles; nothing at all for ``all``."""

    implies: str
    """The age that it stands for while no age is named; '' if it stands for none."""

    synonyms: tuple[str, ...]
    """Other words with the same meaning, accepted as they are."""

    hints: tuple[str, ...]
    """Short or loose words that are refused, and answered with this one as a suggestion."""

    meaning: str
    """One sentence on what it says of a bird."""

    sources: tuple[str, ...]
    """Keys of the sources of the word; ``M`` is common practice without one."""

    order: int
    """Its place from 0 in the display order."""


class Ranks(NamedTuple):
    """The display place of every value, facet by facet; '' comes before all others."""

    age: Mapping[str, int]
    """Adults first, then the young, older before younger."""

    sex: Mapping[str, int]
    """Male, female."""

    season: Mapping[str, int]
    """Plumages named by season, then those named by molt."""

    morph: Mapping[str, int]
    """Light to dark, then the others."""


class Lexicon(NamedTuple):
    """The table, looked up in each of the ways that reading and writing need."""

    words: tuple[PlumageWord, ...]
    """All rows in display order."""

    accepted: Mapping[str, PlumageWord]
    """From the folded form of a word or a synonym to its row."""

    hinted: Mapping[str, tuple[PlumageWord, ...]]
    """From the folded form of a hint to the rows that it may have meant."""

    naming: Mapping[Facets, PlumageWord]
    """From what is settled to the row that names it."""

    ranks: Ranks
    """The display order of each facet."""


@cache
def load_plumage_words() -> Lexicon:
    """Read the shipped table, once; a word listed twice, or two words for the same, is a fault of it."""
    words = tuple(
        PlumageWord(
            word=row["word"],
            facets=Facets(row["age"], row["sex"], row["season"], row["morph"]),
            implies=row["implies"],
            synonyms=split_cell(row["synonyms"]),
            hints=split_cell(row["hints"]),
            meaning=row["meaning"],
            sources=split_cell(row["source"]),
            order=order,
        )
        for order, row in enumerate(read_table("plumages.csv"))
    )
    accepted: dict[str, PlumageWord] = {}
    hinted: dict[str, tuple[PlumageWord, ...]] = {}
    naming: dict[Facets, PlumageWord] = {}
    for word in words:
        if naming.setdefault(word.facets, word) is not word:
            raise ValueError(f'"{word.word}" and "{naming[word.facets].word}" settle the same')
        for text in (word.word, *word.synonyms):
            if accepted.setdefault(fold(text), word) is not word:
                raise ValueError(f'"{text}" leads to two plumage words')
        for hint in word.hints:
            hinted[fold(hint)] = (*hinted.get(fold(hint), ()), word)
    columns = zip(*(word.facets for word in words), strict=True)
    ranks = Ranks(*({value: place for place, value in enumerate(dict.fromkeys(c))} for c in columns))
    return Lexicon(words, accepted, hinted, naming, ranks)
