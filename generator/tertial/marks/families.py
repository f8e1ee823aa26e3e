"""What is worth recording of a bird before anything is known of it but its relations.

A new account offers the plumages and parts of its genus, else its family, else its order; the table
ends in birds at large, so that every bird gets an answer. Nothing is judged by it.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.parts import Evidence, load_parts
from tertial.marks.tables import read_table, split_cell

if TYPE_CHECKING:
    from collections.abc import Mapping

_ALL_BIRDS: Final = "Aves"


class Habit(NamedTuple):
    """What tells the birds of a group apart."""

    taxon: str
    """A genus, family or order as AviList spells it, or ``Aves``."""

    plumages: tuple[str, ...]
    """The plumages that differ, ``all`` first."""

    parts: tuple[str, ...]
    """Parts to record whatever the plumage, by their preferred words; sounds among them."""

    differing: tuple[str, ...]
    """Parts in which one plumage differs from another."""

    reason: str
    """Why these, in one clause."""

    source: str
    """Key of its source; ``M`` is common practice without one."""

    @property
    def seen(self) -> tuple[str, ...]:
        """The parts that are no sounds."""
        return tuple(word for word in self.parts if not _is_sound(word))

    @property
    def heard(self) -> tuple[str, ...]:
        """The sounds."""
        return tuple(word for word in self.parts if _is_sound(word))

    def parts_of(self, plumage: str) -> tuple[str, ...]:
        """Give the parts to record under one of the plumages."""
        return self.seen if plumage == self.plumages[0] else self.differing


@cache
def load_habits() -> Mapping[str, Habit]:
    """Read the shipped table, once, by taxon."""
    return {
        row["taxon"]: Habit(
            row["taxon"],
            split_cell(row["plumages"]),
            split_cell(row["parts"]),
            split_cell(row["differing"]),
            row["reason"],
            row["source"],
        )
        for row in read_table("families.csv")
    }


def habit_of(genus: str, family: str, order: str) -> Habit:
    """Give the narrowest group of the table that holds the bird."""
    habits = load_habits()
    return next(habits[taxon] for taxon in (genus, family, order, _ALL_BIRDS) if taxon in habits)


def _is_sound(word: str) -> bool:
    part = load_parts().find(word)
    return part is not None and part.region.evidence is Evidence.VOICE
