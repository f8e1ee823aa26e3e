"""Outings and places: what was counted when, and of where no more than may be told."""

from __future__ import annotations

import math
from collections import Counter
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.names.birds import GROUP, HYBRID
from tertial.outings.position import cell_of
from tertial.pages.counts import CountRow, count_row, number_met, rank_counted, species_met
from tertial.pages.facts import counted, length
from tertial.pages.naming import listed_name, measure_words
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.site import OUTINGS, PLACES, Link, Page, Site, account_path, said
from tertial.pages.tongues import woven

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.outing import FlockSeen
    from tertial.guide import Outing, Place
    from tertial.text.source import Passage


class FlockRow(NamedTuple):
    """A flock met on an outing."""

    members: tuple[tuple[Link, str], ...]
    """Code and number."""

    doing: str
    scan: tuple[Link, ...]
    """Neighbours in their order."""


class OutingView(NamedTuple):
    """An outing."""

    date: str
    place: Link | None
    effort: tuple[tuple[str, str], ...]
    """What, and how much."""
    weather: str
    counts: tuple[CountRow, ...]
    has_unsure: bool
    """Some birds were named only as one of several, or as far as a group."""
    has_hybrids: bool
    flocks: tuple[FlockRow, ...]
    sketches: tuple[PictureView, ...]
    photos: tuple[PictureView, ...]
    body: Passage
    before: Link | None
    after: Link | None


class OutingsView(NamedTuple):
    """All outings, the latest first."""

    outings: tuple[tuple[Link, str, str, int], ...]
    """Date with the way to its page, place, effort in words, number of species counted."""


class PlaceView(NamedTuple):
    """A place."""

    name: str
    habitat: tuple[str, ...]
    position: str
    """What may be told of the position, in words."""
    outings: tuple[Link, ...]
    met: tuple[tuple[Link, str, int], ...]
    """Code, name, and on how many outings here it was counted."""
    sketches: tuple[PictureView, ...]
    photos: tuple[PictureView, ...]
    body: Passage


class PlacesView(NamedTuple):
    """All places."""

    places: tuple[tuple[Link, tuple[str, ...], int], ...]
    """Name, habitats, number of outings."""


def outing_pages(site: Site) -> Iterator[Page]:
    """Give the page of every outing, and the page that lists them."""
    outings = site.guide.outings
    for at, outing in enumerate(outings):
        date = site.wording.day(outing.date)
        before = outings[at - 1] if at else None
        after = outings[at + 1] if at + 1 < len(outings) else None
        view = partial(_outing, site, outing, _link(site, before), _link(site, after))
        yield Page(account_path(outing), "outing.html", date, "", view, outing)
    if outings:
        yield Page(
            OUTINGS,
            "outings.html",
            site.say("Outings"),
            site.say("Every outing, the latest first."),
            partial(_outings, site),
        )


def _outings(site: Site) -> OutingsView:
    return OutingsView(
        tuple(
            (
                Link(site.wording.day(outing.date), account_path(outing)),
                outing.place.name if outing.place else outing.head.place,
                outing_length(site, *outing.fact(length)),
                number_met(site.guide, outing.fact(counted)),
            )
            for outing in reversed(site.guide.outings)
        )
    )


def place_pages(site: Site) -> Iterator[Page]:
    """Give the page of every place, and the page that lists them."""
    places = site.guide.places
    for place in places:
        yield Page(account_path(place), "place.html", place.name, "", partial(_place, site, place), place)
    if places:
        yield Page(PLACES, "places.html", site.say("Places"), site.say("Where the outings go."), partial(_places, site))


def _places(site: Site) -> PlacesView:
    return PlacesView(
        tuple(
            (
                Link(place.name, account_path(place)),
                tuple(each.value for each in place.entry.habitat),
                sum(outing.place is place for outing in site.guide.outings),
            )
            for place in site.guide.places
        )
    )


def _link(site: Site, outing: Outing | None) -> Link | None:
    return Link(site.wording.day(outing.date), account_path(outing)) if outing else None


def _outing(site: Site, outing: Outing, before: Link | None, after: Link | None) -> OutingView:
    entry = outing.entry
    place = Link(outing.place.name, account_path(outing.place)) if outing.place else None
    ranks = {rank_counted(site.guide, count.counted.value) for count in entry.counts}
    return OutingView(
        site.wording.day(entry.date.value),
        place or (Link(entry.place.value) if entry.place else None),
        tuple(_effort(site, outing)),
        said(entry.weather),
        tuple(count_row(site, count) for count in entry.counts),
        GROUP in ranks,
        HYBRID in ranks,
        tuple(_flock_row(site, flock) for flock in entry.flocks),
        picture_views(site, entry.source, entry.sketches),
        picture_views(site, entry.source, entry.photos),
        outing.passage,
        before,
        after,
    )


def _effort(site: Site, outing: Outing) -> Iterator[tuple[str, str]]:
    entry = outing.entry
    if entry.start:
        yield site.say("Start"), entry.start.value.isoformat("minutes")
    if entry.minutes:
        yield site.say("Time"), _minutes(site, entry.minutes.value)
    if entry.distance:
        yield site.say("Distance"), measure_words(site, entry.distance.value.text)
    if entry.observers:
        yield site.say("Observers"), str(entry.observers.value)


def _minutes(site: Site, minutes: int) -> str:
    return site.wording.count("%(num)s minute", "%(num)s minutes", minutes)


def outing_length(site: Site, minutes: int, distance: str) -> str:
    """Tell how long an outing was, in time and on the ground; '' where neither is written.

    :param minutes: 0 for none.
    :param distance: as written, or ''.
    """
    far = measure_words(site, distance)
    return woven(", ".join(filter(None, (_minutes(site, minutes) if minutes else "", far))), far)


def _flock_row(site: Site, flock: FlockSeen) -> FlockRow:
    return FlockRow(
        tuple(
            (site.code(member.code.value), "" if member.birds is None else str(member.birds))
            for member in flock.members
        ),
        said(flock.doing),
        tuple(site.code(code.value) for code in flock.scan),
    )


def _place(site: Site, place: Place) -> PlaceView:
    entry = place.entry
    here = [outing for outing in site.guide.outings if outing.place is place]
    met = Counter(code for outing in here for code in species_met(site.guide, outing.fact(counted)))
    return PlaceView(
        entry.name.value,
        tuple(each.value for each in entry.habitat),
        position_words(site, place),
        tuple(Link(site.wording.day(outing.date), account_path(outing)) for outing in reversed(here)),
        tuple(
            (site.code(code), listed_name(site, code), times)
            for code, times in sorted(met.items(), key=lambda each: (-each[1], each[0]))
        ),
        picture_views(site, entry.source, entry.sketches),
        picture_views(site, entry.source, entry.photos),
        place.passage,
    )


def position_words(site: Site, place: Place) -> str:
    """Say of a place's position what its author lets be said; without leave, that it is withheld."""
    entry = place.entry
    if entry.position is None:
        return ""
    shown = entry.shown_as.value.degrees if entry.shown_as else None
    if shown is None:
        return site.say("The position is withheld.")
    position = entry.position.value
    if not shown:
        return site.say(
            "%(latitude)s, %(longitude)s (latitude, longitude)",
            latitude=site.wording.numbers(f"{position.latitude}"),
            longitude=site.wording.numbers(f"{position.longitude}"),
        )
    cell = cell_of(position.latitude, position.longitude, shown)
    # Rounded up: a shorter distance would be untrue at the corners of the cell.
    far = (f"{math.ceil(cell.metres / 100) / 10:.1f}", "km") if cell.metres >= 1000 else (f"{cell.metres}", "m")
    return site.say(
        "Within %(distance)s of %(latitude)s, %(longitude)s (latitude, longitude); told no closer.",
        distance=site.wording.amount(*far),
        latitude=site.wording.numbers(f"{cell.latitude}"),
        longitude=site.wording.numbers(f"{cell.longitude}"),
    )
