"""The account of a flock."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.pages.accounts import (
    behaviour_rows,
    foraging,
    months_strip,
)
from tertial.pages.facts import sketch_view
from tertial.pages.naming import listed_name, months_words, named
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.plates import PlatesView, birds_plates
from tertial.pages.rows import Row, phrase_rows
from tertial.pages.site import Link, Page, Site, account_path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Flock
    from tertial.text.source import Passage


class FlockView(NamedTuple):
    """A flock account."""

    name: str
    members: tuple[tuple[Link, str, str], ...]
    """Code, name, and the smallest sketch of the account, if any."""
    leader: Link | None
    months: tuple[tuple[str, bool], ...]
    months_text: str
    where: tuple[str, ...]
    marks: tuple[Row, ...]
    foraging: tuple[str, ...]
    behaviour: tuple[Row, ...]
    sketches: tuple[PictureView, ...]
    photos: tuple[PictureView, ...]
    body: Passage
    sources: tuple[tuple[Link, ...], ...]
    written: str
    changed: str
    plates: PlatesView
    """Its members at one scale, and their heads at one length."""


def flock_pages(site: Site) -> Iterator[Page]:
    """Give the page of every flock account."""
    for flock in site.guide.flocks:
        yield Page(account_path(flock), "flock.html", flock.name, "", partial(_flock_view, site, flock), flock)


def _flock_view(site: Site, flock: Flock) -> FlockView:
    entry, source = flock.entry, flock.entry.source
    return FlockView(
        name=entry.name.value,
        members=tuple(_member(site, code.value) for code in entry.members),
        leader=site.code(entry.leader.value) if entry.leader else None,
        months=months_strip(site, entry.when),
        months_text=months_words(site, entry.when),
        where=tuple(place.value for place in entry.where),
        marks=phrase_rows(site, entry.marks),
        foraging=foraging(entry.behaviour),
        behaviour=behaviour_rows(site, entry.behaviour),
        sketches=picture_views(site, source, entry.sketches),
        photos=picture_views(site, source, entry.photos),
        body=flock.passage,
        sources=tuple(site.words(each.value) for each in entry.sources),
        written=site.wording.day(entry.written.value if entry.written else None),
        changed=site.wording.day(entry.changed.value if entry.changed else None),
        plates=birds_plates(
            site, [species for code in entry.members if (species := site.guide.by_code.get(code.value))]
        ),
    )


def _member(site: Site, code: str) -> tuple[Link, str, str]:
    species = site.guide.by_code.get(code)
    if species is None:
        return Link(code), listed_name(site, code), ""
    sketch = sketch_view(site, species)
    return site.code(code), named(site, species), sketch.smallest if sketch else ""
