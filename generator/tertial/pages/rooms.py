"""Which module makes which pages: all pages of a guide, or those of some modules.

A module is imported when its pages are asked for: who has changed a line of one account needs a few of them,
and to import them all takes as long as the rest of the work.
"""

# ruff: noqa: PLC0415

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator

    from tertial.pages.site import Page, Site


def all_pages(site: Site) -> Iterator[Page]:
    """Give every page of the guide."""
    return (page for _, page in pages_of(site, ROOMS))


def pages_of(site: Site, rooms: Collection[str]) -> Iterator[tuple[str, Page]]:
    """Give the pages that some modules make, each with its module, in the order of ``ROOMS``."""
    for room, make in ROOMS.items():
        if room in rooms:
            for page in make(site):
                yield room, page


def _lists(site: Site) -> Iterator[Page]:
    from tertial.pages.lists import list_pages

    return list_pages(site)


def _finding(site: Site) -> Iterator[Page]:
    from tertial.pages.finding import finding_pages

    return finding_pages(site)


def _ways(site: Site) -> Iterator[Page]:
    from tertial.pages.ways import way_pages

    return way_pages(site)


def _ladder(site: Site) -> Iterator[Page]:
    from tertial.pages.ladder import ladder_pages

    return ladder_pages(site)


def _accounts(site: Site) -> Iterator[Page]:
    from tertial.pages.accounts import species_pages

    return species_pages(site)


def _comparison(site: Site) -> Iterator[Page]:
    from tertial.pages.comparison import pair_pages

    return pair_pages(site)


def _cards(site: Site) -> Iterator[Page]:
    from tertial.pages.cards import card_pages

    return card_pages(site)


def _groups(site: Site) -> Iterator[Page]:
    from tertial.pages.groups import group_pages

    return group_pages(site)


def _browse(site: Site) -> Iterator[Page]:
    from tertial.pages.browse import browse_pages

    return browse_pages(site)


def _flocks(site: Site) -> Iterator[Page]:
    from tertial.pages.flocks import flock_pages

    return flock_pages(site)


def _unsolved(site: Site) -> Iterator[Page]:
    from tertial.pages.unsolved import unsolved_pages

    return unsolved_pages(site)


def _outings(site: Site) -> Iterator[Page]:
    from tertial.pages.outings import outing_pages, place_pages

    return chain(outing_pages(site), place_pages(site))


def _reference(site: Site) -> Iterator[Page]:
    from tertial.pages.reference import reference_pages

    return reference_pages(site)


def _news(site: Site) -> Iterator[Page]:
    from tertial.pages.news import feed_pages

    return feed_pages(site)


def _satchel(site: Site) -> Iterator[Page]:
    from tertial.pages.satchel import manifest_pages

    return manifest_pages(site)


ROOMS: Final[dict[str, Callable[[Site], Iterator[Page]]]] = {
    "accounts": _accounts,
    "comparison": _comparison,
    "flocks": _flocks,
    "outings": _outings,
    "unsolved": _unsolved,
    "cards": _cards,
    "groups": _groups,
    "lists": _lists,
    "finding": _finding,
    "ways": _ways,
    "ladder": _ladder,
    "browse": _browse,
    "reference": _reference,
    "news": _news,
    "satchel": _satchel,
}
"""What lists the pages of each module of ``pages`` that has any. Those of single entries come first: they are what is
open while an entry is written, and the proof lists pages until it has the one that is asked for."""
