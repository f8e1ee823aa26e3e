"""What a plumage takes over from more general ones, and which plumages to set side by side.

Works on any key and any value, because the rule is the same for phrases, for single aspects and
for measures: a caller that inherits aspect by aspect makes the aspect a part of the key.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, NamedTuple, TypeVar

from tertial.marks.plumages import ALL, Plumage, chain

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

K = TypeVar("K")
T = TypeVar("T")


class Inherited(NamedTuple, Generic[K, T]):
    """One statement that holds for a plumage, with the plumage that it was written for."""

    part: K
    """The preferred word of the part, or whatever key the records have."""

    value: T
    """What was written."""

    origin: Plumage
    """Where it was written: the plumage asked for, or one of its chain."""

    @property
    def from_all(self) -> bool:
        """It was written for all birds of the kind, which pages and JSON have to say."""
        return self.origin == ALL


def inherit(records: Mapping[Plumage, Mapping[K, T]], plumage: Plumage) -> tuple[Inherited[K, T], ...]:
    """Gather what holds for a plumage: for each part, the first of its chain that has the part.

    The statements come in the order of the chain, and within one plumage as they were written.
    """
    found: dict[K, Inherited[K, T]] = {}
    for origin in chain(plumage):
        for part, value in records.get(origin, {}).items():
            found.setdefault(part, Inherited(part, value, origin))
    return tuple(found.values())


def union_plumages(a: Iterable[Plumage], b: Iterable[Plumage]) -> tuple[Plumage, ...]:
    """Give the plumages written for either of two birds, in display order.

    ``all`` speaks through every other plumage already, so it stands only where it stands alone.
    """
    written = {*a, *b}
    return tuple(sorted(written - {ALL} or written, key=lambda plumage: plumage.order))
