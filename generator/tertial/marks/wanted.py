"""What to look at next time: the records that are missing and would help most.

A part described for one bird and not for the other might tell them apart; how well at best, the one
record says already. Nothing is promised: the second bird may prove to be the same.
"""

from __future__ import annotations

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


class _Best(NamedTuple):
    """The pair of plumages in which a record would gain most."""

    rank: tuple[float, float, tuple[int, ...]]
    """A sort key, the most helpful first: the gain and the promise, both negative, and the order of the plumage."""

    promise: Promise
    """What the other bird's record promises there."""

    plumage: Plumage
    """For which plumage it is missing."""

    lacking: list[Plumage]
    """The plumages in which it is missing."""


def wanted(pairs: Iterable[tuple[Described, Described]], parts: PartTable, words: Words) -> tuple[Wanted, ...]:
    """Give the records that would help most, the most helpful first.

    :param pairs: two birds in each of their plumages. A part that is missing in several is given once,
        for the plumage in which it would gain most.
    """

    def order(record: tuple[tuple[bool, str], _Best]) -> tuple[object, ...]:
        (_, word), best = record
        gain, promise, plumage = best.rank
        return (gain, promise, ease_of(parts.find(word)), plumage, word)

    return tuple(
        Wanted(
            of_first,
            best.plumage,
            word,
            best.promise.key.aspect,
            best.promise.told,
            best.promise.value,
            -best.rank[0],
            tuple(best.lacking),
        )
        for (of_first, word), best in sorted(_best(pairs, words).items(), key=order)
    )


def _best(pairs: Iterable[tuple[Described, Described]], words: Words) -> dict[tuple[bool, str], _Best]:
    """Give for each record that is missing, of the first bird or the second, where it would gain most."""
    found: dict[tuple[bool, str], _Best] = {}
    for first, second in pairs:
        known = separation_of(first, second, words)
        # Promises are of a few values only, and to round is dear.
        gains: dict[float, float] = {}
        for word, of_first, promise in _one_sided(first, second):
            lacks = first.plumage if of_first else second.plumage
            plumage = ALL if promise.told.origin == ALL else lacks
            value = promise.value
            if value not in gains:
                gains[value] = rounded(max(0.0, value - known))
            rank = (-gains[value], -value, plumage.order)
            before = found.get((of_first, word))
            if before is None:
                found[of_first, word] = _Best(rank, promise, plumage, [lacks])
                continue
            before.lacking.append(lacks)
            if rank < before.rank:
                found[of_first, word] = _Best(rank, promise, plumage, before.lacking)
    return found


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


class WantedOfMany(NamedTuple):
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


def wanted_of_many(
    pairs: Iterable[tuple[str, str, Iterable[tuple[Described, Described]]]], words: Words
) -> tuple[WantedOfMany, ...]:
    """Give the records that would help most among several birds, the most helpful first.

    :param pairs: two birds' names, and the two in each of their plumages.
    """
    found: dict[tuple[str, str], tuple[float, Plumage, dict[str, float]]] = {}
    for first, second, described in pairs:
        for (of_first, word), best in _best(described, words).items():
            bird, other, gain = *((first, second) if of_first else (second, first)), -best.rank[0]
            most, _, gains = found.setdefault((bird, word), (gain, best.plumage, {}))
            gains[other] = gain
            if gain > most:
                found[bird, word] = (gain, best.plumage, gains)
    several = [
        WantedOfMany(bird, plumage, word, tuple(gains), round(sum(gains.values()), 6))
        for (bird, word), (_, plumage, gains) in found.items()
    ]
    return tuple(sorted(several, key=lambda each: (-each.gain, each.word, each.bird)))
