"""One bird in one plumage, as far as its account goes.

What a plumage does not say it takes over aspect by aspect from more general ones, unless it says that
the part is not there, or that it could not be told.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, NamedTuple, TypeAlias

from tertial.marks.measures import Measured
from tertial.marks.plumages import Plumage, chain
from tertial.marks.statements import ABSENT, Aspect, Key, Reading, Statement

Readings: TypeAlias = Mapping[Plumage, Mapping[str, Reading]]
"""What an account says: for each plumage, for each part by its preferred word, the phrase as read by facet."""

Measures: TypeAlias = Mapping[Plumage, Mapping[str, Measured]]
"""What was measured: for each plumage, for each measure by its word. A unit to each word, for both birds."""

_SURE: Final = 0.5
"""A part that is absent in more than this share of birds takes no description over from other plumages."""


class Told(NamedTuple):
    """One statement that holds for a plumage."""

    statement: Statement
    """What is said."""

    reading: Reading
    """The phrase that says it."""

    origin: Plumage
    """The plumage that it was written for."""


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
