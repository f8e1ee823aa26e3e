"""Two birds, each in one plumage, set side by side: what separates them, best first."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.colours import ciede2000, lab_of
from tertial.marks.measures import Measured, MeasureSeparation, separate_measures
from tertial.marks.separation import Separated, separate
from tertial.marks.statements import Aspect, Key, Reading, Statement
from tertial.marks.tables import read_table
from tertial.marks.verdicts import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tertial.marks.describe import Described, Told
    from tertial.marks.parts import Part, PartTable
    from tertial.marks.plumages import Plumage
    from tertial.marks.words import Words


class AspectRow(NamedTuple):
    """One aspect of a part of both birds."""

    key: Key
    """The aspect, and the place on the part."""

    first: Told | None
    """What the first bird's account says."""

    second: Told | None
    """What the second bird's account says."""

    separated: Separated | None
    """What it came to; None unless both say something."""

    @property
    def verdict(self) -> Verdict:
        """What it is worth."""
        return self.separated.verdict if self.separated else Verdict.NOT_RECORDED


class PartRow(NamedTuple):
    """One part of both birds."""

    word: str
    """Its preferred word, or the author's own."""

    part: Part | None
    """The part, if the table has it."""

    first: tuple[tuple[Reading, Plumage], ...]
    """The phrases of the first bird's account, each with the plumage it was written for."""

    second: tuple[tuple[Reading, Plumage], ...]
    """Those of the second bird's."""

    aspects: tuple[AspectRow, ...]
    """Its aspects, the most separating first, then those that are recorded of one bird alone."""

    striking: float
    """CIEDE2000 difference of the colours that differ, 0 without any; for the order of rows only."""

    best: AspectRow | None
    """The aspect that separates most; None when no aspect is recorded for both."""

    verdict: Verdict
    """What the part is worth."""

    @property
    def value(self) -> float:
        """Separation of the part: that of its best aspect."""
        return _separation(self.best) if self.best else 0.0

    @property
    def ease(self) -> tuple[int, int, float]:
        """A sort key, easiest first: the view needed, the size of the part, how striking the colours are."""
        return (*ease_of(self.part), -self.striking)

    @property
    def rank(self) -> tuple[int, int, int, float, float, str]:
        """A sort key, most telling first."""
        return (self.verdict.rank, *self.ease, -self.value, self.word)


class MeasureRow(NamedTuple):
    """One measure of both birds."""

    word: str
    """Its name."""

    first: tuple[Measured, Plumage] | None
    """The first bird's, with the plumage measured."""

    second: tuple[Measured, Plumage] | None
    """The second bird's."""

    separated: MeasureSeparation | None
    """What it came to; None unless both have a spread."""

    @property
    def verdict(self) -> Verdict:
        """What it is worth in the field."""
        return self.separated.field if self.separated else Verdict.NOT_RECORDED


@dataclass(frozen=True)
class Comparison:
    """Two birds in a plumage each."""

    first: Plumage
    """The first bird's plumage."""

    second: Plumage
    """The second bird's plumage."""

    parts: tuple[PartRow, ...]
    """The parts that either account describes, the most telling first."""

    measures: tuple[MeasureRow, ...]
    """The measures of either, the most telling first."""

    @cached_property
    def value(self) -> float:
        """Separation of the two: that of the best part."""
        return max((row.value for row in self.parts), default=0.0)

    @property
    def chance(self) -> float:
        """The best possible share of right answers by that part alone, were both birds met equally often."""
        return (1 + self.value) / 2

    @property
    def settled(self) -> bool:
        """Some part is diagnostic or strong."""
        return any(row.verdict.settles for row in self.parts)

    def count(self, verdict: Verdict) -> int:
        """Give the number of parts with a verdict."""
        return sum(row.verdict is verdict for row in self.parts)


def ease_of(part: Part | None) -> tuple[int, int]:
    """A sort key of parts, easiest first: the view needed, then the size; what no table has comes last."""
    return (part.view.order, -part.region.extent) if part else (99, 0)


def compared_keys(first: Mapping[Key, Told], second: Mapping[Key, Told]) -> Iterator[Key]:
    """Give the respects in which a part of two birds is compared: see ``_is_compared``."""
    return (key for key in first if key in second and _is_compared(first[key], second[key]))


def separation_of(first: Described, second: Described, words: Words) -> float:
    """Give the separation of two birds alone, as ``Comparison.value`` has it."""
    best = 0.0
    for word, ours in first.told.items():
        theirs = second.told.get(word, {})
        found = [separate(ours[key].statement, theirs[key].statement, words) for key in compared_keys(ours, theirs)]
        if found:
            best = max(best, min(found, key=_rank).value)
    return best


def compare(first: Described, second: Described, parts: PartTable, words: Words) -> Comparison:
    """Set two birds side by side."""
    rows = [part_row(word, first, second, parts, words) for word in dict.fromkeys((*first.told, *second.told))]
    measures = [
        _measure_row(word, first.measures.get(word), second.measures.get(word))
        for word in dict.fromkeys((*first.measures, *second.measures))
    ]
    return Comparison(
        first.plumage,
        second.plumage,
        tuple(sorted(rows, key=lambda row: row.rank)),
        tuple(sorted(measures, key=lambda row: (row.verdict.rank, -_value(row), row.word))),
    )


def _value(row: MeasureRow) -> float:
    return row.separated.value if row.separated else 0.0


def part_row(word: str, one: Described, other: Described, parts: PartTable, words: Words) -> PartRow:
    """Set one part of two birds side by side."""
    first, second = one.told.get(word, {}), other.told.get(word, {})
    keys = dict.fromkeys((*first, *second))
    rows = [
        _aspect_row(key, first.get(key), second.get(key), words)
        for key in keys
        if _is_compared(first.get(key), second.get(key))
    ]
    if len(rows) > 1:
        rows.sort(key=lambda row: (*(_rank(row.separated) if row.separated else _LAST), row.key.order))
    most = max((_striking(row, words) for row in rows if row.separated), default=0.0)
    best = rows[0] if rows and rows[0].separated else None
    said = one.said.get(word, ()), other.said.get(word, ())
    return PartRow(
        word, parts.find(word), *said, tuple(rows), most, best, best.verdict if best else Verdict.NOT_RECORDED
    )


def _is_compared(first: Told | None, second: Told | None) -> bool:
    """Leave out what nobody wrote: that a described part is present matters only against an absence."""
    return (first is not None and not first.statement.implied) or (second is not None and not second.statement.implied)


def _aspect_row(key: Key, first: Told | None, second: Told | None, words: Words) -> AspectRow:
    separated = separate(first.statement, second.statement, words) if first and second else None
    return AspectRow(key, first, second, separated)


_LAST: Final = (len(Verdict), 0.0)
"""Where an aspect stands that is recorded of one bird alone."""


def _rank(separated: Separated) -> tuple[int, float]:
    """A sort key, what settles most first."""
    return (separated.verdict.rank, -separated.value)


def _separation(row: AspectRow) -> float:
    return row.separated.value if row.separated else 0.0


def _striking(row: AspectRow, words: Words) -> float:
    if row.first is None or row.second is None or not _separation(row):
        return 0.0
    return striking(row.first.statement, row.second.statement, words)


@lru_cache(maxsize=65536)
def striking(first: Statement, second: Statement, words: Words) -> float:
    """Say how unlike the colours of two statements look at most, in CIEDE2000; 0 where they name none."""
    if first.key.aspect is not Aspect.COLOUR:
        return 0.0
    sides = [[lab_of(each) for each in _colours(statement, words)] for statement in (first, second)]
    return max((ciede2000(a, b) for a in sides[0] for b in sides[1]), default=0.0)


def _colours(statement: Statement, words: Words) -> Iterable[str]:
    for claim in statement.claims:
        for quality in () if claim.negative else claim.qualities:
            colour = words.colour(quality.word)
            if colour:
                yield colour


def _measure_row(
    word: str, first: tuple[Measured, Plumage] | None, second: tuple[Measured, Plumage] | None
) -> MeasureRow:
    visible = word not in UNSEEN
    separated = separate_measures(first[0], second[0], visible) if first and second else None
    return MeasureRow(word, first, second, separated)


UNSEEN: Final = frozenset(row["measure"] for row in read_table("measures.csv") if row["seen"] == "no")
"""Measures that no view of a bird tells."""
