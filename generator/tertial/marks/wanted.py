"""What to look at next time: the records that are missing and would help most.

A part described for one bird and not for the other might tell them apart; how well at best, the one
record says already. Nothing is promised: the second bird may prove to be the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.compare import compared_keys, ease_of, separation_of
from tertial.marks.plumages import ALL
from tertial.marks.verdicts import rounded

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tertial.marks.describe import Described, Promise, Told
    from tertial.marks.parts import PartTable
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Aspect
    from tertial.marks.words import Words


class Wanted(NamedTuple):
    """One record that is missing; a tuple, because many are found and few are shown."""

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

    lacking: tuple[Plumage, ...]
    """The plumages in which it is missing, in the order of the pairs."""


def wanted(pairs: Iterable[tuple[Described, Described]], parts: PartTable, words: Words) -> tuple[Wanted, ...]:
    """Give the records that would help most, the most helpful first.

    :param pairs: two birds in each of their plumages. A part that is missing in several is given once,
        for the plumage in which it would gain most.
    """
    best: dict[tuple[bool, str], tuple[tuple[float, ...], Promise, Plumage]] = {}
    lacking: dict[tuple[bool, str], list[Plumage]] = {}
    for first, second in pairs:
        known = separation_of(first, second, words)
        for word, of_first, promise in _one_sided(first, second):
            lacks = first if of_first else second
            plumage = ALL if promise.told.origin == ALL else lacks.plumage
            gain = rounded(max(0.0, promise.value - known))
            key = (of_first, word)
            lacking.setdefault(key, []).append(lacks.plumage)
            if key not in best or (-gain, -promise.value) <= best[key][0][:2]:
                rank = (-gain, -promise.value, *map(float, plumage.order))
                if key not in best or rank < best[key][0]:
                    best[key] = (rank, promise, plumage)
    ordered = sorted(best, key=lambda key: (best[key][0][:2], ease_of(parts.find(key[1])), best[key][0][2:], key[1]))
    return tuple(
        Wanted(
            of_first,
            plumage,
            word,
            promise.key.aspect,
            promise.told,
            promise.value,
            -rank[0],
            tuple(lacking[of_first, word]),
        )
        for of_first, word in ordered
        for rank, promise, plumage in (best[of_first, word],)
    )


def _one_sided(first: Described, second: Described) -> Iterator[tuple[str, bool, Promise]]:
    """Give the parts of which nothing can be compared, whether the first bird's record is missing, and what
    the other's promises."""
    ours, theirs = first.promises, second.promises
    for word in dict.fromkeys((*ours, *theirs)):
        one, other = ours.get(word), theirs.get(word)
        if word in first.told and word in second.told and any(compared_keys(first.told[word], second.told[word])):
            continue
        if one and (other is None or one.rank < other.rank):
            yield word, False, one
        elif other:
            yield word, True, other


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
