"""What to look at next time: the records that are missing and would help most.

A part described for one bird and not for the other might tell them apart; how well at best, the one
record says already. Nothing is promised: the second bird may prove to be the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from tertial.marks.plumages import ALL
from tertial.marks.verdicts import rounded

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tertial.marks.compare import AspectRow, Comparison, PartRow
    from tertial.marks.describe import Told
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Aspect

_PLAIN: Final = 0.9
"""The weight of a plain statement, as the table of constancy has it."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One record that is missing."""

    of_first: bool
    """It is missing in the first bird's account, else in the second's."""

    plumage: Plumage
    """For which plumage."""

    word: str
    """The part."""

    aspect: Aspect
    """The respect in which it should be described."""

    beside: Told
    """What the other bird's account says."""

    promise: float
    """The separation that the record could bring at best, from 0 to 1."""

    gain: float
    """By how much that is more than what the plumage has already."""


def wanted(comparisons: Iterable[Comparison]) -> tuple[Wanted, ...]:
    """Give the records that would help most, the most helpful first.

    :param comparisons: two birds in each of their plumages. A part that is missing in several is
        given once, for the plumage in which it would gain most.
    """
    found = [each for comparison in comparisons for row in comparison.parts for each in _of_part(comparison, row)]
    best: dict[tuple[bool, str], tuple[tuple[float, ...], Wanted]] = {}
    for each, ease in found:
        key = (each.of_first, each.word)
        rank = (-each.gain, -each.promise, *ease, *map(float, each.plumage.order))
        if key not in best or rank < best[key][0]:
            best[key] = (rank, each)
    return tuple(each for _, each in sorted(best.values(), key=lambda pair: (pair[0], pair[1].word)))


def missing_in(each: Wanted, comparisons: Iterable[Comparison]) -> tuple[Plumage, ...]:
    """Give the plumages in which a record is missing, in the order of the comparisons."""
    return tuple(
        comparison.first if each.of_first else comparison.second
        for comparison in comparisons
        for row in comparison.parts
        if any((found.of_first, found.word) == (each.of_first, each.word) for found, _ in _of_part(comparison, row))
    )


def _of_part(comparison: Comparison, row: PartRow) -> Iterable[tuple[Wanted, tuple[float, ...]]]:
    if row.best is not None:
        return
    one_sided = [aspect for aspect in row.aspects if (aspect.first is None) != (aspect.second is None)]
    if not one_sided:
        return
    most = max(one_sided, key=lambda aspect: (_promise(aspect), aspect.key.aspect))
    told = most.first or most.second
    if told is None or _promise(most) == 0:
        return
    gain = rounded(max(0.0, _promise(most) - comparison.value))
    plumage = ALL if told.origin == ALL else comparison.second if most.first else comparison.first
    yield Wanted(most.first is None, plumage, row.word, most.key.aspect, told, _promise(most), gain), row.ease


def _promise(row: AspectRow) -> float:
    """How far a plain statement of the other bird, were it another, would separate the two."""
    told = row.first or row.second
    if told is None or told.statement.implied:
        return 0.0
    stated = sum(claim.weight for claim in told.statement.claims if not claim.negative)
    return rounded(max(0.0, stated + _PLAIN - 1))


@dataclass(frozen=True, slots=True)
class WantedOfMany:
    """One record that is missing in the account of one of several birds."""

    bird: str
    """Whose record it is."""

    plumage: Plumage
    """For which plumage."""

    word: str
    """The part."""

    against: tuple[str, ...]
    """The birds that it could part this one from, in the order of the group."""

    gain: float
    """The sum of what it could gain over all of them."""


def wanted_of_many(pairs: Iterable[tuple[str, str, Iterable[Wanted]]]) -> tuple[WantedOfMany, ...]:
    """Give the records that would help most among several birds, the most helpful first.

    :param pairs: two birds' names, and what ``wanted`` gives for them.
    """
    found: dict[tuple[str, str], tuple[Wanted, dict[str, float]]] = {}
    for first, second, records in pairs:
        for each in records:
            bird, other = (first, second) if each.of_first else (second, first)
            best, gains = found.setdefault((bird, each.word), (each, {}))
            gains[other] = each.gain
            if each.gain > best.gain:
                found[bird, each.word] = (each, gains)
    several = [
        WantedOfMany(bird, best.plumage, word, tuple(gains), round(sum(gains.values()), 6))
        for (bird, word), (best, gains) in found.items()
    ]
    return tuple(sorted(several, key=lambda each: (-each.gain, each.word, each.bird)))
