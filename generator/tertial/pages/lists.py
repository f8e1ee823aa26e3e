"""Pages that lead to others: the front page, list order, codes, flocks, notes, and the page for none."""

from __future__ import annotations

from functools import partial
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from tertial.pages.facts import sketch_view
from tertial.pages.frame import frame_of
from tertial.pages.naming import months_words, named, pair_named
from tertial.pages.news import news
from tertial.pages.plates import frontispiece
from tertial.pages.site import (
    BY_CODE,
    FLOCKS,
    FRONT,
    LIST_ORDER,
    NOT_FOUND,
    Link,
    Page,
    Site,
    account_path,
    pair_path,
    said,
)
from tertial.pages.tongues import LATIN, in_tongue

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Flock, Species
    from tertial.pages.pictures import PictureView
    from tertial.pages.plates import PlateView


class Listed(NamedTuple):
    """A species in a list."""

    name: Link
    code: str
    scientific: str
    sketch: PictureView | None
    """Its first sketch."""


class FrontView(NamedTuple):
    """The front page."""

    region: str
    plate: PlateView | None
    """Some of its birds at one scale."""
    species: int
    """Number of species accounts."""
    pairs: tuple[tuple[Link, PictureView | None, PictureView | None], ...]
    flocks: tuple[Link, ...]
    families: tuple[tuple[str, tuple[Listed, ...]], ...]
    news: tuple[tuple[str, str, Link], ...]
    """Day, what happened, and where; newest first."""
    how_to_begin: bool
    """Nothing is written yet."""


class ListView(NamedTuple):
    """Species in list order by family."""

    families: tuple[tuple[str, tuple[Listed, ...]], ...]


class CodesView(NamedTuple):
    """Species by code."""

    scheme: str
    rows: tuple[Listed, ...]


class FlocksView(NamedTuple):
    """All flocks."""

    flocks: tuple[tuple[Link, str, tuple[Link, ...], PictureView | None], ...]
    """Name, months in words, members, and the first sketch."""


_NEWS = 6


def list_pages(site: Site) -> Iterator[Page]:
    """Give the pages that lead to others."""
    guide, frame = site.guide, frame_of(site)
    yield Page(
        FRONT,
        "front.html",
        "",
        site.say("%(title)s: a personal field guide.", title=frame.title),
        partial(_front, site),
    )
    yield Page(
        LIST_ORDER,
        "list.html",
        site.say("Species"),
        site.say("Every account in list order, by family."),
        partial(_list, site),
    )
    yield Page(
        BY_CODE, "codes.html", site.say("Codes"), site.say("Every account by its alpha code."), partial(_codes, site)
    )
    if guide.flocks:
        yield Page(
            FLOCKS, "flocks.html", site.say("Flocks"), site.say("Who keeps company with whom."), partial(_flocks, site)
        )
    yield Page(NOT_FOUND, "not-found.html", site.say("No such page"), site.say("There is no page here."), lambda: None)


def _list(site: Site) -> ListView:
    return ListView(_families(site))


def _codes(site: Site) -> CodesView:
    species = sorted(site.guide.species, key=lambda each: (each.code, each.name))
    return CodesView(site.guide.scheme, tuple(_listed(site, each) for each in species))


def _flocks(site: Site) -> FlocksView:
    return FlocksView(tuple(_flock(site, flock) for flock in site.guide.flocks))


def _front(site: Site) -> FrontView:
    guide = site.guide
    pairs = tuple(
        (
            Link(pair_named(site, pair), pair_path(pair)),
            sketch_view(site, pair.first),
            sketch_view(site, pair.second),
        )
        for pair in guide.pairs
    )
    return FrontView(
        said(guide.settings.region),
        frontispiece(site),
        len(guide.species),
        pairs,
        tuple(Link(flock.name, account_path(flock)) for flock in guide.flocks),
        _families(site),
        tuple(_latest(site)),
        not any(guide.accounts()),
    )


def _latest(site: Site) -> Iterator[tuple[str, str, Link]]:
    for each in news(site)[:_NEWS]:
        day = site.wording.day(each.date)
        # An outing is named by its day, which stands beside it here, and its place.
        place = each.title.removeprefix(f"{day}, ")
        yield day, each.what, Link(each.title if place == each.title else site.theirs(place), each.address)


def _families(site: Site) -> tuple[tuple[str, tuple[Listed, ...]], ...]:
    # What is no species has no family either, and stands behind all others in list order.
    grouped = groupby(
        site.guide.species,
        key=lambda each: (
            in_tongue(each.bird.family, LATIN) if each.bird and each.bird.family else site.say("Not on the list")
        ),
    )
    return tuple((family, tuple(_listed(site, each) for each in birds)) for family, birds in grouped)


def _listed(site: Site, species: Species) -> Listed:
    return Listed(
        Link(named(site, species), account_path(species)),
        species.code,
        species.scientific,
        sketch_view(site, species),
    )


def _flock(site: Site, flock: Flock) -> tuple[Link, str, tuple[Link, ...], PictureView | None]:
    entry = flock.entry
    return (
        Link(flock.name, account_path(flock)),
        months_words(site, entry.when),
        tuple(site.code(member.value) for member in entry.members),
        sketch_view(site, flock),
    )
