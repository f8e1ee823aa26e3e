"""The word lists of phrases, brought into one look-up.

Every list says what its words are: terms of an aspect, markings, shades, constancy, places, numbers and
the small words between them. A word may have several senses (``thin`` bills, ``thin`` calls); which of
them is meant is for the reader of phrases to say, who knows the part.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.folding import other_numbers
from tertial.marks.statements import Aspect
from tertial.marks.tables import read_table, split_cell

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

TOKEN: Final = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+(?:['\u2019][^\W\d_]+)*")
"""A number, or a word of letters; whatever else stands between words parts them."""

ARTICLES: Final = frozenset({"a", "an", "the", "its"})
"""Words that no wording depends on: "half the head" and "half head" are looked up as one."""

_SHORT_WORD: Final = re.compile("[a-z]{3,7}")
_DOUBLING: Final = re.compile("^[^aeiou]+[aeiou][gmntd]$")

COLOUR: Final = Aspect.COLOUR


class Kind(StrEnum):
    """What a word does in a phrase."""

    TERM = "term"
    SHADE = "shade"
    TINT = "tint"
    GLOSS = "gloss"
    MARKED = "marked"
    MARKING = "marking"
    CONSTANCY = "constancy"
    PLACE = "place"
    NUMBER = "number"
    COMPARATIVE = "comparative"
    NEGATION = "negation"
    ABSENCE = "absence"
    PRESENCE = "presence"
    OR = "or"
    TO = "to"
    AND = "and"
    WITH = "with"
    BUT = "but"
    THAN = "than"
    AS = "as"
    MORE = "more"
    CONDITION = "condition"
    DOUBT = "doubt"
    PREPOSITION = "preposition"
    NOTHING = "nothing"
    SILENT = "silent"
    COUNTED = "counted"
    DEGREE = "degree"


class Sense(NamedTuple):
    """One thing that a word may mean."""

    kind: Kind
    """What it does."""

    word: str
    """The preferred word."""

    aspect: Aspect | None = None
    """Of a term or shade: the respect in which it describes."""


class Term(NamedTuple):
    """Where a term stands among the others of its aspect."""

    facet: str
    """Terms of one facet exclude each other; terms of different facets say nothing of each other."""

    rung: int | None = None
    """Its place on the facet's scale, if that is ordered."""

    near: frozenset[str] = frozenset()
    """Groups of terms that may be used for the same thing."""

    hex: str = ""
    """Of a colour, its sRGB reference as ``#rrggbb``."""


@dataclass(frozen=True, slots=True, eq=False)
class Lists:
    """All word lists; two are the same only if they are one."""

    wordings: tuple[tuple[str, Sense], ...]
    """Every wording with one sense of it, preferred words first within a list."""

    terms: Mapping[tuple[Aspect, str], Term]
    """What is known of each term by aspect and preferred word."""

    weights: Mapping[str, float]
    """Share of birds by preferred word of constancy, with ``plain statement`` among them."""

    never: frozenset[str]
    """Words of constancy that deny."""

    where: Mapping[str, str]
    """From a marking to the name of the places that bear its colour (``streaked`` to ``streaks``)."""

    tints: frozenset[str]
    """Shades by which a colour lies over another one (``washed``, ``glossy``)."""

    keeps: frozenset[str]
    """Markings whose colour is never that of the part, however it is worded."""


def tokens(text: str) -> tuple[str, ...]:
    """Split a wording into lower-case words in British spelling, articles dropped."""
    return tuple(word for word in map(plain_token, TOKEN.findall(text)) if word not in ARTICLES)


@cache
def _spellings() -> tuple[tuple[str, str], ...]:
    return tuple((row["american"], row["british"]) for row in read_table("spellings.csv"))


@lru_cache(maxsize=8192)
def plain_token(token: str) -> str:
    """Give a word in lower case and British spelling."""
    found = token.casefold().replace("\u2019", "'")
    for american, british in _spellings():
        if american in found:
            found = found.replace(american, british)
    return found


@cache
def load_lists() -> Lists:
    """Read the shipped lists, once."""
    constancy = read_table("constancy.csv")
    markings = read_table("markings.csv")
    places = read_table("places.csv")
    wordings = (*_terms(), *_markings(markings), *_proportions(), *_small_words(constancy, places))
    return Lists(
        wordings=(*wordings, *_comparatives(wordings)),
        terms=dict(_known_terms(markings)),
        weights={row["word"]: float(row["weight"]) for row in constancy},
        never=frozenset(row["word"] for row in constancy if row["negative"]),
        where={row["term"]: row["where"] for row in markings},
        tints=frozenset(sense.word for _, sense in wordings if sense.kind in {Kind.TINT, Kind.GLOSS}),
        keeps=frozenset(row["term"] for row in markings if row["keeps"]),
    )


def _rows(row: Mapping[str, str], first: str, others: str) -> Iterable[str]:
    return (row[first], *split_cell(row[others]))


def _terms() -> Iterator[tuple[str, Sense]]:
    for row in read_table("colours.csv"):
        for wording in _rows(row, "term", "synonyms"):
            yield wording, Sense(Kind.TERM, row["term"], COLOUR)
    for row in (*read_table("terms.csv"), *read_table("behaviour.csv")):
        sense = Sense(Kind(row["kind"] or "term"), row["term"], Aspect(row["aspect"]))
        for wording in _rows(row, "term", "synonyms"):
            yield wording, sense


def _markings(rows: Iterable[Mapping[str, str]]) -> Iterator[tuple[str, Sense]]:
    for row in rows:
        for wording in _rows(row, "term", "participles"):
            yield wording, Sense(Kind.MARKED, row["term"], Aspect.PATTERN)
        for noun in _rows(row, "where", "nouns"):
            for wording in (noun, *other_numbers(noun)):
                yield wording, Sense(Kind.MARKING, row["term"], Aspect.PATTERN)


def _proportions() -> Iterator[tuple[str, Sense]]:
    for part in read_table("proportion-parts.csv"):
        for row in read_table("proportions.csv"):
            sense = Sense(Kind.TERM, row["term"].replace("*", part["part"]), Aspect.LENGTH)
            for wording in _rows(row, "term", "wordings"):
                for name in split_cell(part["wordings"]):
                    yield wording.replace("*", name), sense


def _small_words(
    constancy: Iterable[Mapping[str, str]], places: Iterable[Mapping[str, str]]
) -> Iterator[tuple[str, Sense]]:
    for row in constancy:
        for wording in _rows(row, "word", "synonyms"):
            yield wording, Sense(Kind.CONSTANCY, row["word"])
    for row in places:
        for wording in _rows(row, "place", "synonyms"):
            yield wording, Sense(Kind.PLACE, row["place"])
    for row in read_table("numbers.csv"):
        for wording in _rows(row, "number", "words"):
            yield wording, Sense(Kind.NUMBER, row["number"], Aspect.NUMBER)
    for row in read_table("function-words.csv"):
        for wording in _rows(row, "word", "synonyms"):
            yield wording, Sense(Kind(row["kind"]), row["word"])


def _comparatives(wordings: Iterable[tuple[str, Sense]]) -> Iterator[tuple[str, Sense]]:
    """Form "redder" and "reddest" from every short word of the lists, unless that means something already.

    Like number forms they are only looked up and never shown, so that an odd one does no harm.
    """
    listed = {wording.casefold() for wording, sense in wordings if sense.kind is not Kind.PLACE}
    for wording, sense in wordings:
        stem = wording.casefold()
        if sense.kind not in {Kind.TERM, Kind.SHADE} or not _SHORT_WORD.fullmatch(stem):
            continue
        if _DOUBLING.search(stem):
            stem += stem[-1]
        elif stem.endswith("y"):
            stem = stem[:-1] + "i"
        for form in (f"{stem.removesuffix('e')}er", f"{stem.removesuffix('e')}est"):
            if form not in listed:
                yield form, Sense(Kind.COMPARATIVE, wording)


def _known_terms(markings: Iterable[Mapping[str, str]]) -> Iterator[tuple[tuple[Aspect, str], Term]]:
    for colour in read_table("colours.csv"):
        yield (COLOUR, colour["term"]), Term("colour", None, frozenset(split_cell(colour["near"])), colour["hex"])
    for row in (*read_table("terms.csv"), *read_table("behaviour.csv")):
        rung = int(row["rung"]) if row["rung"] else None
        yield (Aspect(row["aspect"]), row["term"]), Term(row["facet"], rung, frozenset(split_cell(row["near"])))
    for marking in markings:
        yield (Aspect.PATTERN, marking["term"]), Term(marking["facet"], None, frozenset(split_cell(marking["near"])))
    for part in read_table("proportion-parts.csv"):
        for step in read_table("proportions.csv"):
            proportion = step["term"].replace("*", part["part"])
            yield (Aspect.LENGTH, proportion), Term(f"against {part['part']}", int(step["rung"]))
    for rank, amount in enumerate(("few", "many")):
        yield (Aspect.NUMBER, amount), Term("amount", rank)
