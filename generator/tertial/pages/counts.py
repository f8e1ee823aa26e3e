"""What an outing counted: the lines of its table, and which of them are of species."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.links import rank_of, species_of
from tertial.marks.plumages import read_plumage
from tertial.names.birds import GROUP, HYBRID
from tertial.pages.naming import either_named, hybrid_of, listed_name, plumage_as_written
from tertial.pages.site import Link
from tertial.pages.tongues import woven

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tertial.entries.counting import Count, Counted, Number
    from tertial.guide import Guide
    from tertial.pages.site import Site


class CountRow(NamedTuple):
    """One line of the table of counts."""

    counted: tuple[Link, ...]
    """Codes or words, with the ways to their accounts."""

    pair: Link | None
    """Of a hybrid, the way to the page with its parents side by side, if there is one."""

    name: str
    """Names in full, where the list knows them."""

    total: str
    """All birds."""

    plumages: str
    """Numbers by plumage, or ''."""


def species_met(guide: Guide, counted: Iterable[str]) -> tuple[str, ...]:
    """Give of the codes that an outing counted, as the fact tells them, those of species."""
    return tuple(code for code in counted if species_of(guide, code))


def number_met(guide: Guide, counted: Iterable[str]) -> int:
    """Give the number of species under these codes: forms of one are one."""
    return len({species_of(guide, code) for code in counted} - {""})


def rank_counted(guide: Guide, counted: Counted) -> str:
    """Give the rank of what a line counts: what is written as one of several is a group."""
    if counted.parents:
        return HYBRID
    return rank_of(guide, counted.code) if counted.code else GROUP


def count_row(site: Site, count: Count) -> CountRow:
    """Gather one line of the table."""
    counted, links = count.counted.value, list[Link]()
    for code in counted.codes:
        links.extend((Link("/"), site.code(code)) if links else (site.code(code),))
    names = [name for code in counted.codes if (name := listed_name(site, code))]
    hybrid = hybrid_of(site, counted.text) if counted.parents else None
    whole = [number for number in count.numbers.value if not number.plumage]
    total = _number(site, whole[0]) if whole else str(count.total)
    return CountRow(
        hybrid.codes if hybrid else tuple(links) or (Link(site.theirs(counted.text)),),
        hybrid.pair if hybrid else None,
        hybrid.name if hybrid else either_named(site, names) if names else "",
        total,
        _by_plumage(site, count),
    )


def _by_plumage(site: Site, count: Count) -> str:
    told = [(_number(site, each), _counted(site, each)) for each in count.by_plumage]
    return woven(", ".join(map(" ".join, told)), *(plumage for _, plumage in told))


def _number(site: Site, number: Number) -> str:
    birds = site.wording.numbers(str(number.birds))
    if number.about:
        return site.say("about %(amount)s", amount=birds)
    return site.say("at least %(amount)s", amount=birds) if number.at_least else birds


def _counted(site: Site, number: Number) -> str:
    plumage = read_plumage(number.plumage)
    if plumage is None or site.wording.is_english or number.birds == 1:
        return plumage_as_written(site, number.plumage)
    return site.wording.birds(plumage.words)
