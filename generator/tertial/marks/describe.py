"""One bird in one plumage, as far as its account goes.

What a plumage does not say it takes over aspect by aspect from more general ones, unless it says that
the part is not there, or that it could not be told.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final, NamedTuple, TypeAlias

from tertial.marks.measures import Measured
from tertial.marks.plumages import Plumage, chain
from tertial.marks.statements import ABSENT, Aspect, Key, Reading, Statement
from tertial.marks.verdicts import rounded

Readings: TypeAlias = Mapping[Plumage, Mapping[str, Reading]]
"""What an account says: for each plumage, for each part by its preferred word, the phrase as read by facet."""

Measures: TypeAlias = Mapping[Plumage, Mapping[str, Measured]]
"""What was measured: for each plumage, for each measure by its word. A unit to each word, for both birds."""

_SURE: Final = 0.5
"""A part that is absent in more than this share of birds takes no description over from other plumages."""


_PLAIN: Final = 0.9
"""The weight of a plain statement, as the table of constancy has it."""


class Told(NamedTuple):
    """One statement that holds for a plumage."""

    statement: Statement
    """What is said."""

    reading: Reading
    """The phrase that says it."""

    origin: Plumage
    """The plumage that it was written for."""


class Promise(NamedTuple):
    """What one statement could bring beside a bird of which it is not known."""

    value: float
    """How far a plain statement of another bird, were it another, would separate the two."""

    key: Key
    """What the statement is about."""

    told: Told
    """The statement."""

    @property
    def rank(self) -> tuple[float, tuple[int, ...], tuple[int, str, str]]:
        """A sort key, the most promising first, among equals what is written for more birds."""
        return (-self.value, self.told.origin.order, self.key.order)


@dataclass(frozen=True)
class Described:
    """A bird in one plumage, as far as its account goes."""

    plumage: Plumage
    """The plumage asked for."""

    told: Mapping[str, Mapping[Key, Told]]
    """By part, and by what the statement is about. A part that was looked at in vain is there and empty."""

    said: Mapping[str, tuple[tuple[Reading, Plumage], ...]]
    """By part, the phrases that hold for it with the plumage each was written for, the closest first."""

    measures: Mapping[str, tuple[Measured, Plumage]]
    """Measures by their word, with the plumage measured."""

    @cached_property
    def promises(self) -> Mapping[str, Promise]:
        """By part, the statement that promises most; parts of which none promises anything are left out."""
        best: dict[str, Promise] = {}
        for part, keys in self.told.items():
            for key, each in keys.items():
                value = _promised(each.statement)
                if value:
                    promise = Promise(value, key, each)
                    if part not in best or promise.rank < best[part].rank:
                        best[part] = promise
        return best


@lru_cache(maxsize=65536)
def _promised(statement: Statement) -> float:
    if statement.implied:
        return 0.0
    stated = sum(claim.weight for claim in statement.claims if not claim.negative)
    return rounded(max(0.0, stated + _PLAIN - 1))


def describe(readings: Readings, measures: Measures, plumage: Plumage) -> Described:
    """Gather what holds for a plumage, aspect by aspect: the first of its chain that says it."""
    told: dict[str, dict[Key, Told]] = {}
    said: dict[str, list[tuple[Reading, Plumage]]] = {}
    closed: set[str] = set()
    sizes: dict[str, tuple[Measured, Plumage]] = {}
    for origin in chain(plumage):
        found = readings.get(origin, {})
        for part, reading in found.items():
            if part not in closed:
                under = told.setdefault(part, {})
                known = len(under)
                for statement in reading.statements:
                    under.setdefault(statement.key, Told(statement, reading, origin))
                if len(under) > known or part not in said:
                    said.setdefault(part, []).append((reading, origin))
        closed.update(part for part, reading in found.items() if _is_closed(reading))
        for word, measured in measures.get(origin, {}).items():
            sizes.setdefault(word, (measured, origin))
    return Described(plumage, told, {part: tuple(each) for part, each in said.items()}, sizes)


def _is_closed(reading: Reading) -> bool:
    """Whether nothing is taken over beside a phrase: it says "absent", or "not seen", or was not understood."""
    if not reading.statements:
        return True
    for statement in reading.statements:
        if statement.key.aspect is Aspect.PRESENCE and not statement.key.where:
            for claim in statement.claims:
                if claim.weight > _SURE and claim.qualities[0].word == ABSENT and not claim.negative:
                    return True
    return False
