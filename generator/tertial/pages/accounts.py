"""The account of a species, and what other pages share with it: rows, months, days."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.sentences import pair_sentences
from tertial.pages.naming import (
    listed_name,
    measure_named,
    measure_words,
    months_words,
    named,
    other_name,
    plumage_heading,
)
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.rows import Block, Row, phrase_rows
from tertial.pages.shared import comparisons_of
from tertial.pages.site import Link, Page, Site, account_path, said
from tertial.pages.tongues import LATIN, in_tongue
from tertial.pages.written_marks import MarkSheet, Missing, mark_sheet, missing, written_blocks
from tertial.wording import MONTHS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.shared import Behaviour
    from tertial.entries.values import Months, Written
    from tertial.guide import Species
    from tertial.text.source import Passage


class SimilarView(NamedTuple):
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


class SpeciesView(NamedTuple):
    """A species account."""

    name: str
    code: str
    scientific: str
    family: str
    other_name: tuple[str, str]
    """Its name in another language, and which that is; '' for none."""
    months: tuple[tuple[str, bool], ...]
    """Each month's name and whether the bird is met in it; empty when nothing is written."""
    months_text: str
    where: tuple[str, ...]
    how_common: tuple[Link, ...]
    size_class: tuple[Link, ...]
    """Its size beside a known bird."""
    size: tuple[tuple[str, str], ...]
    """Its measures: what, and how much."""
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
    body: Passage
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
        yield Page(account_path(each), "species.html", named(site, each), "", view, each)


def _species_view(site: Site, species: Species, before: Species | None, after: Species | None) -> SpeciesView:
    entry, bird, source = species.entry, species.bird, species.entry.source
    blocks, row_of = written_blocks(site, species)
    return SpeciesView(
        name=named(site, species),
        code=species.code,
        scientific=species.scientific,
        family=in_tongue(bird.family, LATIN) if bird else "",
        other_name=other_name(site, species),
        months=months_strip(site, entry.when),
        months_text=months_words(site, entry.when),
        where=tuple(place.value for place in entry.where),
        how_common=site.words(said(entry.how_common)),
        size_class=site.words(said(entry.size.size_class), site.mentions.phrases)
        if entry.size and entry.size.size_class
        else (),
        size=tuple(_size(site, species)),
        size_source=site.words(said(entry.size.source), site.mentions.running) if entry.size else (),
        measures=tuple(_measures(site, species)),
        sketches=picture_views(site, source, entry.sketches, row_of),
        photos=picture_views(site, source, entry.photos),
        marks=blocks,
        sheet=mark_sheet(site, species, blocks),
        voice=phrase_rows(site, entry.voice),
        foraging=foraging(entry.behaviour),
        behaviour=behaviour_rows(site, entry.behaviour),
        similar=tuple(_similar(site, species)),
        flocks=tuple(
            Link(flock.name, account_path(flock)) for flock in site.guide.flocks if species.code in flock.head.members
        ),
        missing=missing(site, species),
        body=species.passage,
        sources=tuple(site.words(each.value) for each in entry.sources),
        written=site.wording.day(entry.written.value if entry.written else None),
        changed=site.wording.day(entry.changed.value if entry.changed else None),
        before=Link(named(site, before), account_path(before)) if before else None,
        after=Link(named(site, after), account_path(after)) if after else None,
    )


def behaviour_rows(site: Site, behaviour: Behaviour | None) -> tuple[Row, ...]:
    """Make rows of what is noted of behaviour."""
    notes, running = behaviour.notes if behaviour else (), site.mentions.running
    return tuple(
        Row(site.part(each.part.value), site.words(each.text.value, running, each.part.value)) for each in notes
    )


def foraging(behaviour: Behaviour | None) -> tuple[str, ...]:
    """Give the ways of taking food, as the author names them."""
    return tuple(way.value for way in behaviour.foraging) if behaviour else ()


def _size(site: Site, species: Species) -> Iterator[tuple[str, str]]:
    size = species.entry.size
    for name, quantity in (("length", size.length), ("wingspan", size.wingspan), ("mass", size.mass)) if size else ():
        if quantity:
            yield site.say(name), measure_words(site, quantity.value.text)


def _measures(site: Site, species: Species) -> Iterator[Block]:
    for block in species.entry.measures:
        rows = tuple(
            Row(_measure(site, each.part.value), (Link(measure_words(site, each.quantity.value.text)),))
            for each in block.measures
        )
        if rows:
            yield Block(plumage_heading(site, block.plumage.value), rows)


def _measure(site: Site, word: str) -> Link:
    """A measure by its name, with the way to the page of parts where it is that of a part."""
    return site.part(word)._replace(text=measure_named(site, word))


def _similar(site: Site, species: Species) -> Iterator[SimilarView]:
    comparisons = site.comparisons(species.code)
    for each in species.entry.similar:
        code, remark = each.code.value, said(each.remark)
        yield SimilarView(
            site.code(code),
            listed_name(site, code),
            site.words(remark, site.mentions.phrases),
            "" if remark else _difference(site, species, code),
            comparisons.get(code, ""),
        )


def _difference(site: Site, species: Species, code: str) -> str:
    other = site.guide.by_code.get(code)
    found = pair_sentences(comparisons_of(site, species, other), site.wording) if other and other != species else ()
    return f"{found[0].who}{site.say(':')} {found[0].clause}" if found else ""


def months_strip(site: Site, when: Written[Months] | None) -> tuple[tuple[str, bool], ...]:
    """Give every month with whether the bird is met in it; nothing when nothing is written."""
    if when is None:
        return ()
    return tuple((site.say(name), number in when.value.numbers) for number, name in enumerate(MONTHS, 1))
