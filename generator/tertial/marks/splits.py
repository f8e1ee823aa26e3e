"""How a mark parts the plumages of a key, and how much its answer is expected to tell.

Information gain chooses between questions that are equally easy to answer (Quinlan 1986, Induction of
decision trees, Machine Learning 1:81-106). Sets of plumages are whole numbers with a bit for each place.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

_FEW: Final = 8
"""Up to so many plumages a couplet is worth asking however few records it rests on.

Of more, at most as many may go down both leads as are on the shorter side: then a key of n plumages has
no more than about n ** 1.71 leads, where otherwise it could double with every couplet.
"""


class Split(NamedTuple):
    """Two sides of some plumages, and those that are on neither."""

    one: int
    """The side with fewer plumages; of equals, that with the first."""

    other: int
    """The other side."""

    unrecorded: int
    """The plumages without a record, which go with both."""

    @property
    def gain(self) -> float:
        """The information gain over which plumage it is; one without a record goes either way by half."""
        sizes = (self.one.bit_count(), self.other.bit_count())
        both = [0.5] * self.unrecorded.bit_count()
        first, second = ([1.0] * sizes[0] + [0.0] * sizes[1], [0.0] * sizes[0] + [1.0] * sizes[1])
        return information_gain((first + both, second + both))


def split_items(here: int, recorded: int, apart: Mapping[int, int]) -> Split | None:
    """Part some plumages as evenly as a mark allows; those that it does not tell apart stay together.

    :param here: the plumages to part.
    :param recorded: all plumages of which the mark is recorded.
    :param apart: for the place of each of these, the ones that the mark tells from it.
    :returns: None if the mark cannot part them, or is recorded of too few.
    """
    known = left = here & recorded
    total = known.bit_count()
    if not any(known & apart[place] for place in places_of(known)):
        return None
    sides = {0: 0}
    while left:
        group = _together(left, apart)
        left &= ~group
        for size, side in tuple(sides.items()):
            sides.setdefault(size + group.bit_count(), side | group)
    size = min(sides, key=lambda size: (abs(2 * size - total), size))
    if size in (0, total):
        return None
    one, other = sorted((sides[size], known & ~sides[size]), key=lambda side: (side.bit_count(), side & -side))
    unrecorded = here & ~recorded
    too_few = here.bit_count() > _FEW and unrecorded.bit_count() > one.bit_count()
    return None if too_few else Split(one, other, unrecorded)


def places_of(items: int) -> Iterator[int]:
    """Give the places of the plumages in a set, ascending."""
    while items:
        yield (items & -items).bit_length() - 1
        items &= items - 1


def _together(items: int, apart: Mapping[int, int]) -> int:
    """Give the first plumage with all that are not told from it, from these, and so on."""
    group = fresh = items & -items
    while fresh:
        reached = 0
        for place in places_of(fresh):
            reached |= items & ~apart[place]
        fresh = reached & ~group
        group |= reached
    return group


def entropy(counts: Sequence[float]) -> float:
    """Give the uncertainty in bits of a draw from classes of these sizes; 0 if there is nothing to draw."""
    total = math.fsum(counts)
    return -math.fsum(count / total * math.log2(count / total) for count in counts if count) if total else 0.0


def information_gain(branches: Sequence[Sequence[float]]) -> float:
    """Give the uncertainty in bits that an answer is expected to take away.

    :param branches: for each answer the sizes of the classes that give it, in one order of the classes.
    """
    classes = [math.fsum(sizes) for sizes in zip(*branches, strict=True)]
    total = math.fsum(classes)
    if not total:
        return 0.0
    return entropy(classes) - math.fsum(math.fsum(branch) / total * entropy(branch) for branch in branches)
