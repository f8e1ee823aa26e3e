"""The account of a species, and what other pages share with it: rows, months, days."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.site import Link, Page, Site, account_path, said
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Iterator

    from tertial.entries.shared import Behaviour
    from tertial.entries.values import Months, Phrase, Written
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


class Row(NamedTuple):
    """A line of a table: what it is about, and what is said."""

    part: Link
    """The part or matter."""

    said: tuple[Link, ...]
    """What is said of it."""

    id: str = ""
    """By which a pointer of a picture leads here, or ''."""


@dataclass(frozen=True, slots=True)
class Block:
    """Rows under a heading."""

    heading: str
    """The heading."""

    rows: tuple[Row, ...]
    """The rows; never empty."""


@dataclass(frozen=True, slots=True)
class SimilarView:
    """A look-alike as its account lists it."""

    code: Link
    """Its code."""

    name: str
    """Its name; '' when the guide and the list know none."""

    remark: tuple[Link, ...]
    """The difference in the author's words."""

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
    voice: tuple[Row, ...]
    foraging: tuple[str, ...]
    behaviour: tuple[Row, ...]
    similar: tuple[SimilarView, ...]
    flocks: tuple[Link, ...]
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
        description = f"{each.name} ({each.code}): marks by plumage, size, voice, behaviour and look-alikes."
        yield Page(
            account_path(each),
            "species.html",
            each.name,
            description,
            partial(_species_view, site, each, before, after),
        )


def _species_view(site: Site, species: Species, before: Species | None, after: Species | None) -> SpeciesView:
    entry, bird, source = species.entry, species.bird, species.entry.source
    blocks, row_of = _marks(site, species)
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
        voice=phrase_rows(site, entry.voice),
        foraging=foraging(entry.behaviour),
        behaviour=behaviour_rows(site, entry.behaviour),
        similar=tuple(_similar(site, species)),
        flocks=tuple(
            Link(flock.name, account_path(flock)) for flock in site.guide.flocks if species.code in flock.head.members
        ),
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


def phrase_rows(site: Site, phrases: tuple[Phrase, ...]) -> tuple[Row, ...]:
    """Make rows of phrases."""
    return tuple(Row(site.part(each.part.value), site.words(each.text.value)) for each in phrases)


def _marks(site: Site, species: Species) -> tuple[tuple[Block, ...], Callable[[str, str], str]]:
    """Make the blocks of marks, and what finds the row of a part for a sketch that shows a plumage.

    Only rows that a pointer may lead to get an id.
    """
    entry = species.entry

    def known(word: str) -> str:
        part = site.guide.parts.find(word)
        return part.word if part else word

    pointed = {known(pointer.value.name) for sketch in entry.sketches for pointer in sketch.pointers}
    ids: dict[tuple[str, str], str] = {}
    blocks = []
    for block in entry.marks:
        rows = []
        for phrase, row in zip(block.phrases, phrase_rows(site, block.phrases), strict=True):
            key = known(phrase.part.value), block.plumage.value
            if key[0] in pointed and key not in ids:
                # Numbered, because two plumages may be written alike but for signs that an id leaves out.
                ids[key] = f"mark-{len(ids) + 1}-{slug_of(key[0])}"
                rows.append(row._replace(id=ids[key]))
            else:
                rows.append(row)
        if rows:
            blocks.append(Block(plumage_heading(block.plumage.value), tuple(rows)))

    def row_of(part: str, shows: str) -> str:
        word = known(part)
        own = ids.get((word, shows)) or ids.get((word, "all"))
        return own or next((found for (name, _), found in ids.items() if name == word), "")

    return tuple(blocks), row_of


def behaviour_rows(site: Site, behaviour: Behaviour | None) -> tuple[Row, ...]:
    """Make rows of what is noted of behaviour."""
    notes = behaviour.notes if behaviour else ()
    return tuple(Row(Link(each.part.value), site.words(each.text.value)) for each in notes)


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


def plumage_heading(text: str) -> str:
    """Head a block by its plumage as the author names it."""
    return "All plumages" if text == "all" else capitalised(text)


def capitalised(text: str) -> str:
    """Begin a text with a capital, and leave the rest alone."""
    return text[:1].upper() + text[1:]


def _similar(site: Site, species: Species) -> Iterator[SimilarView]:
    comparisons = site.comparisons(species.code)
    for each in species.entry.similar:
        code = each.code.value
        yield SimilarView(
            site.code(code), listed_name(site, code), site.words(said(each.remark)), comparisons.get(code, "")
        )


def months_strip(when: Written[Months] | None) -> tuple[tuple[str, bool], ...]:
    """Give every month with whether the bird is met in it; nothing when nothing is written."""
    if when is None:
        return ()
    return tuple((name, number in when.value.numbers) for number, name in enumerate(MONTH_NAMES, 1))


def day(date: dt.date | None) -> str:
    """Write a date as people read it, the same in every locale; '' for none."""
    return f"{date.day} {MONTH_NAMES[date.month - 1]} {date.year}" if date else ""
