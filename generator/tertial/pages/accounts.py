"""The account of a species, and what other pages share with it: rows, months, days."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from tertial.marks.sentences import pair_sentences
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.rows import Block, Row, phrase_rows, plumage_heading
from tertial.pages.site import Link, Page, Site, account_path, said
from tertial.pages.written_marks import MarkSheet, Missing, mark_sheet, missing, written_blocks
from tertial.side_by_side import compare_plumages

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator

    from tertial.entries.shared import Behaviour
    from tertial.entries.values import Months, Written
    from tertial.guide import Species
    from tertial.text.source import SourceText, Span

MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


@dataclass(frozen=True, slots=True)
class SimilarView:
    """A look-alike as its account lists it."""

    code: Link
    """Its code."""

    name: str
    """Its name; '' when the guide and the list know none."""

    remark: tuple[Link, ...]
    """The difference in the author's words."""

    reckoned: str
    """Where the author has no words for it, what the two accounts come to; '' where that cannot be told."""

    comparison: str
    """Address of the page with both side by side, or ''."""


@dataclass(frozen=True, slots=True)
class BodyView:
    """The author's text, to be rendered with links from where it stands."""

    source: SourceText
    """The file."""

    span: Span
    """Where the text stands in it; CommonMark."""


@dataclass(frozen=True, slots=True)
class SpeciesView:
    """A species account."""

    name: str
    code: str
    scientific: str
    family: str
    french: str
    months: tuple[tuple[str, bool], ...]
    """Each month's name and whether the bird is met in it; empty when nothing is written."""
    months_text: str
    where: tuple[str, ...]
    how_common: tuple[Link, ...]
    size: tuple[Row, ...]
    size_source: tuple[Link, ...]
    measures: tuple[Block, ...]
    sketches: tuple[PictureView, ...]
    photos: tuple[PictureView, ...]
    marks: tuple[Block, ...]
    """As they are written."""
    sheet: MarkSheet
    """The same in one table."""
    voice: tuple[Row, ...]
    foraging: tuple[str, ...]
    behaviour: tuple[Row, ...]
    similar: tuple[SimilarView, ...]
    flocks: tuple[Link, ...]
    missing: Missing
    body: BodyView
    sources: tuple[tuple[Link, ...], ...]
    written: str
    changed: str
    before: Link | None
    """The account before this one in list order."""
    after: Link | None


def species_pages(site: Site) -> Iterator[Page]:
    """Give the page of every species account."""
    species = site.guide.species
    for at, each in enumerate(species):
        before = species[at - 1] if at else None
        after = species[at + 1] if at + 1 < len(species) else None
        view = partial(_species_view, site, each, before, after)
        yield Page(account_path(each), "species.html", each.name, "", view, each)


def _species_view(site: Site, species: Species, before: Species | None, after: Species | None) -> SpeciesView:
    entry, bird, source = species.entry, species.bird, species.entry.source
    blocks, row_of = written_blocks(site, species)
    return SpeciesView(
        name=species.name,
        code=species.code,
        scientific=species.scientific,
        family=bird.family if bird else "",
        french=bird.french if bird else "",
        months=months_strip(entry.when),
        months_text=entry.when.value.text if entry.when else "",
        where=tuple(place.value for place in entry.where),
        how_common=site.words(said(entry.how_common)),
        size=tuple(size_rows(site, species)),
        size_source=site.words(said(entry.size.source)) if entry.size else (),
        measures=tuple(_measures(site, species)),
        sketches=picture_views(site, source, entry.sketches, row_of),
        photos=picture_views(site, source, entry.photos),
        marks=blocks,
        sheet=mark_sheet(site, blocks),
        voice=phrase_rows(site, entry.voice),
        foraging=foraging(entry.behaviour),
        behaviour=behaviour_rows(site, entry.behaviour),
        similar=tuple(_similar(site, species)),
        flocks=tuple(
            Link(flock.name, account_path(flock)) for flock in site.guide.flocks if species.code in flock.head.members
        ),
        missing=missing(site, species),
        body=BodyView(source, entry.body),
        sources=tuple(site.words(each.value) for each in entry.sources),
        written=day(entry.written.value if entry.written else None),
        changed=day(entry.changed.value if entry.changed else None),
        before=Link(before.name, account_path(before)) if before else None,
        after=Link(after.name, account_path(after)) if after else None,
    )


def listed_name(site: Site, code: str) -> str:
    """Give the name that the guide or the code list has for a code, or ''."""
    species = site.guide.by_code.get(code)
    if species is not None:
        return species.name
    bird = site.guide.names.by_code(code, site.guide.scheme)
    return bird.listed_name(site.guide.scheme) if bird else ""


def behaviour_rows(site: Site, behaviour: Behaviour | None) -> tuple[Row, ...]:
    """Make rows of what is noted of behaviour."""
    notes = behaviour.notes if behaviour else ()
    return tuple(Row(site.part(each.part.value), site.words(each.text.value)) for each in notes)


def foraging(behaviour: Behaviour | None) -> tuple[str, ...]:
    """Give the ways of taking food, as the author names them."""
    return tuple(way.value for way in behaviour.foraging) if behaviour else ()


def size_rows(site: Site, species: Species) -> Iterator[Row]:
    """Make rows of the size: in words first, then in figures."""
    size = species.entry.size
    if size is None:
        return
    if size.size_class:
        yield Row(Link("size"), site.words(size.size_class.value))
    for name, quantity in (("length", size.length), ("wingspan", size.wingspan), ("mass", size.mass)):
        if quantity:
            yield Row(Link(name), (Link(quantity.value.text),))


def _measures(site: Site, species: Species) -> Iterator[Block]:
    for block in species.entry.measures:
        rows = tuple(Row(site.part(each.part.value), (Link(each.quantity.value.text),)) for each in block.measures)
        if rows:
            yield Block(plumage_heading(block.plumage.value), rows)


def _similar(site: Site, species: Species) -> Iterator[SimilarView]:
    comparisons = site.comparisons(species.code)
    for each in species.entry.similar:
        code, remark = each.code.value, said(each.remark)
        yield SimilarView(
            site.code(code),
            listed_name(site, code),
            site.words(remark),
            "" if remark else _difference(site, species, code),
            comparisons.get(code, ""),
        )


def _difference(site: Site, species: Species, code: str) -> str:
    other = site.guide.by_code.get(code)
    found = pair_sentences(compare_plumages(site.guide, species, other)) if other and other != species else ()
    return found[0].text if found else ""


def months_strip(when: Written[Months] | None) -> tuple[tuple[str, bool], ...]:
    """Give every month with whether the bird is met in it; nothing when nothing is written."""
    if when is None:
        return ()
    return tuple((name, number in when.value.numbers) for number, name in enumerate(MONTH_NAMES, 1))


def day(date: dt.date | None) -> str:
    """Write a date as people read it, the same in every locale; '' for none."""
    return f"{date.day} {MONTH_NAMES[date.month - 1]} {date.year}" if date else ""
