"""Pages that lead to others: the front page, list order, codes, flocks, notes, and the page for none."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from tertial.pages.accounts import BodyView, day
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.site import (
    BY_CODE,
    FLOCKS,
    FRONT,
    LIST_ORDER,
    NOT_FOUND,
    NOTES,
    Link,
    Page,
    Site,
    flock_path,
    note_id,
    pair_path,
    said,
    species_path,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.flock import FlockEntry
    from tertial.entries.species import SpeciesEntry
    from tertial.guide import Flock, Species


@dataclass(frozen=True, slots=True)
class Listed:
    """A species in a list."""

    name: Link
    code: str
    scientific: str
    sketch: PictureView | None
    """Its first sketch."""


@dataclass(frozen=True, slots=True)
class FrontView:
    """The front page."""

    region: str
    species: int
    """Number of species accounts."""
    pairs: tuple[tuple[Link, PictureView | None, PictureView | None], ...]
    flocks: tuple[Link, ...]
    families: tuple[tuple[str, tuple[Listed, ...]], ...]
    news: tuple[tuple[str, str, Link], ...]
    """Day, what happened, and where; newest first."""
    how_to_begin: bool
    """Nothing is written yet."""


@dataclass(frozen=True, slots=True)
class ListView:
    """Species in list order by family."""

    families: tuple[tuple[str, tuple[Listed, ...]], ...]


@dataclass(frozen=True, slots=True)
class CodesView:
    """Species by code."""

    scheme: str
    rows: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class FlocksView:
    """All flocks."""

    flocks: tuple[tuple[Link, str, tuple[Link, ...], PictureView | None], ...]
    """Name, months in words, members, and the first sketch."""


@dataclass(frozen=True, slots=True)
class NotesView:
    """Entries that are listed as text."""

    notes: tuple[tuple[str, str, str, BodyView], ...]
    """Kind, name, id on the page, and the author's text."""


_NEWS = 6


def list_pages(site: Site) -> Iterator[Page]:
    """Give the pages that lead to others."""
    guide, frame = site.guide, site.frame()
    yield Page(FRONT, "front.html", "", f"{frame.title}: a personal field guide.", _front(site))
    yield Page(
        LIST_ORDER,
        "list.html",
        "Species",
        "Every account in list order, by family.",
        ListView(_families(site)),
    )
    by_code = tuple(_listed(site, each) for each in sorted(guide.species, key=lambda each: (each.code, each.name)))
    yield Page(BY_CODE, "codes.html", "Codes", "Every account by its alpha code.", CodesView(guide.scheme, by_code))
    if guide.flocks:
        flocks = tuple(_flock(site, flock) for flock in guide.flocks)
        yield Page(FLOCKS, "flocks.html", "Flocks", "Who keeps company with whom.", FlocksView(flocks))
    if guide.noted:
        notes = tuple(
            (
                entry.kind,
                entry.name.value,
                note_id(entry),
                BodyView(entry.source, entry.body, f"{note_id(entry)}-"),
            )
            for entry in guide.noted
        )
        yield Page(NOTES, "notes.html", "Notes", "Outings, places and unknown birds, as text.", NotesView(notes))
    yield Page(NOT_FOUND, "not-found.html", "No such page", "There is no page here.", None)


def _front(site: Site) -> FrontView:
    guide = site.guide
    pairs = tuple(
        (
            Link(f"{pair.first.name} or {pair.second.name}", pair_path(pair)),
            _first_sketch(site, pair.first),
            _first_sketch(site, pair.second),
        )
        for pair in guide.pairs
    )
    return FrontView(
        said(guide.settings.region),
        len(guide.species),
        pairs,
        tuple(Link(flock.entry.name.value, flock_path(flock)) for flock in guide.flocks),
        _families(site),
        tuple(_news(site)),
        not (guide.species or guide.flocks or guide.noted),
    )


def _families(site: Site) -> tuple[tuple[str, tuple[Listed, ...]], ...]:
    grouped = groupby(site.guide.species, key=lambda each: each.bird.family if each.bird else "Not on the list")
    return tuple((family, tuple(_listed(site, each) for each in birds)) for family, birds in grouped)


def _listed(site: Site, species: Species) -> Listed:
    return Listed(
        Link(species.name, species_path(species)),
        species.code,
        species.scientific,
        _first_sketch(site, species),
    )


def _first_sketch(site: Site, species: Species) -> PictureView | None:
    views = picture_views(site, species.entry.source, species.entry.sketches[:1])
    return views[0] if views else None


def _flock(site: Site, flock: Flock) -> tuple[Link, str, tuple[Link, ...], PictureView | None]:
    entry = flock.entry
    views = picture_views(site, entry.source, entry.sketches[:1])
    return (
        Link(entry.name.value, flock_path(flock)),
        entry.when.value.text if entry.when else "",
        tuple(site.code(member.value) for member in entry.members),
        views[0] if views else None,
    )


def _news(site: Site) -> Iterator[tuple[str, str, Link]]:
    """Give the latest accounts by the author's own dates; without dates there is no news."""
    accounts: list[tuple[SpeciesEntry | FlockEntry, Link]] = [
        *((each.entry, Link(each.name, species_path(each))) for each in site.guide.species),
        *((each.entry, Link(each.entry.name.value, flock_path(each))) for each in site.guide.flocks),
    ]
    dated = [
        (latest.value, "changed" if entry.changed else "new", link)
        for entry, link in accounts
        if (latest := entry.changed or entry.written) is not None
    ]
    dated.sort(key=lambda each: (-each[0].toordinal(), each[2].text))
    for date, what, link in dated[:_NEWS]:
        yield day(date), what, link
