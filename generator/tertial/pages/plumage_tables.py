"""The tables of a pair, one for each plumage.

A part that neither account describes by plumage stands in one table for all of them, so that nothing is
said twice.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.account_values import FEEDING
from tertial.marks.parts import Evidence, load_parts
from tertial.marks.plumages import ALL
from tertial.pages.marks import MarkGroup, NumberRow, mark_groups, number_rows, rest_groups
from tertial.pages.naming import plumage_heading
from tertial.side_by_side import compare_species

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from tertial.guide import Species
    from tertial.marks.compare import Comparison
    from tertial.pages.site import Site

SAID_OF_ALL: Final = frozenset(
    {part.word for part in load_parts() if part.region.evidence is Evidence.VOICE} | {FEEDING}
)
"""Parts of the voice and the feeding, which accounts give for all plumages at once."""


class PlumageTable(NamedTuple):
    """The marks of one plumage."""

    heading: str
    id: str
    groups: tuple[MarkGroup, ...]
    """What helps to tell the birds apart, by view."""
    rest: tuple[MarkGroup, ...]
    """What does not, by reason."""
    chance: str
    """Best possible share of right answers by the best part alone, in hundredths; '' where nothing separates."""
    numbers: tuple[NumberRow, ...]


def table_id(comparison: Comparison) -> str:
    """The id of a plumage's table."""
    return comparison.first.text.replace(" ", "-")


def everywhere(first: Species, second: Species) -> frozenset[str]:
    """Give the parts that neither account describes by plumage."""
    written = [(plumage, part) for each in (first, second) for plumage, parts in each.records.items() for part in parts]
    by_plumage = {part for plumage, part in written if plumage != ALL}
    return frozenset(part for _, part in written if part not in by_plumage) | SAID_OF_ALL


def plumage_tables(
    site: Site, comparisons: Sequence[Comparison], first: Species, second: Species
) -> Iterator[PlumageTable]:
    """Give the tables that have anything to say, that of all plumages first."""
    general = everywhere(first, second)
    if all(comparison.first != ALL for comparison in comparisons):
        table = _table(site, compare_species(site.guide, first, second, ALL), general)
        if table.groups or table.rest:
            yield table
    for comparison in comparisons:
        parts = {row.word for row in comparison.parts}
        kept = parts if comparison.first == ALL else parts - general
        table = _table(site, comparison, kept)
        if table.groups or table.rest:
            yield table


def _table(site: Site, comparison: Comparison, parts: Collection[str]) -> PlumageTable:
    name = table_id(comparison)
    kept = replace(comparison, parts=tuple(row for row in comparison.parts if row.word in parts))
    return PlumageTable(
        plumage_heading(site, comparison.first.text),
        name,
        mark_groups(site, kept, f"n-{name}"),
        rest_groups(site, kept, f"n-{name}"),
        f"{100 * comparison.chance:.0f}" if comparison.value else "",
        tuple(number_rows(site, kept, f"n-{name}")),
    )
