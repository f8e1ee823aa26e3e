"""Two look-alikes side by side: what separates them in each plumage, on top and with the reason."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.plumages import ALL
from tertial.marks.verdicts import Verdict
from tertial.pages.accounts import behaviour_rows, months_strip
from tertial.pages.facts import remarks, sketch_view
from tertial.pages.marks import (
    Said,
    method_of,
    said_phrases,
    verdict_style,
)
from tertial.pages.naming import months_words, named, pair_named, plumage_heading, plumage_named
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.plates import PlatesView, pair_plates
from tertial.pages.plumage_tables import PlumageTable, plumage_tables, table_id
from tertial.pages.shared import comparisons_of, wanted_of
from tertial.pages.shorts import Short, shorts
from tertial.pages.site import PAIRS, Link, Page, Site, account_path, card_path, pair_path, said
from tertial.pages.sizes import SizeRow, size_rows

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from tertial.guide import Pair, Species
    from tertial.marks.compare import Comparison

_MOST_WANTED: Final = 6
"""A list for a walk, not for a winter."""


class Side(NamedTuple):
    """One of the two birds."""

    name: str
    code: Link
    scientific: str
    sketches: tuple[PictureView, ...]
    remark: tuple[Link, ...]
    """What its account says of the difference, or nothing."""
    months: tuple[tuple[str, bool], ...]
    months_text: str


class Fact(NamedTuple):
    """A matter on which both accounts say something that is not weighed."""

    matter: Link
    first: tuple[Link, ...]
    second: tuple[Link, ...]
    ours: bool = False  # told in the words of the pages


class Glance(NamedTuple):
    """One part through all plumages."""

    part: Link
    cells: tuple[tuple[str, str, str], ...]
    """For each plumage the verdict, its class, and the address of what it means; all '' where neither account has
    the part."""


class WantedView(NamedTuple):
    """A record to make on the next walk."""

    code: Link
    part: Link
    plumage: str
    """The plumage, named for any too."""
    other: Link
    phrase: Said
    """What the other bird's account says of the part."""


class ListedSide(NamedTuple):
    """One of the two birds, in the list of all pairs."""

    code: Link
    """Its code."""

    sketches: tuple[PictureView, ...]
    """Its first sketch, if it has one."""

    remark: tuple[Link, ...]
    """What its account says of the difference, or nothing."""


class PairView(NamedTuple):
    """A pair of look-alikes."""

    first: Side
    second: Side
    shorts: tuple[Short, ...]
    headings: tuple[Link, ...]
    """The plumages that are compared, each with the way to its table, if it has one."""
    glance: tuple[Glance, ...]
    tables: tuple[PlumageTable, ...]
    sizes: tuple[SizeRow, ...]
    facts: tuple[Fact, ...]
    wanted: tuple[WantedView, ...]
    verdicts: tuple[tuple[Link, str], ...]
    """Every verdict with its explanation and class, for the legend."""
    plates: PlatesView
    """Both at one scale, and their heads at one length."""
    card: str
    """Address of the card to take along."""


class PairsView(NamedTuple):
    """All pairs of the guide."""

    pairs: tuple[tuple[Link, ListedSide, ListedSide], ...]
    """For each pair the way to its page, and both birds."""


def pair_pages(site: Site) -> Iterator[Page]:
    """Give the page of every pair, and the page that lists them."""
    pairs = site.guide.pairs
    for pair in pairs:
        title = pair_named(site, pair)
        yield Page(pair_path(pair), "pair.html", title, "", partial(_pair_view, site, pair), pair)
    if pairs:
        description = site.say("Pairs of birds that are taken for one another, each with its page.")
        yield Page(PAIRS, "pairs.html", site.say("Look-alikes"), description, partial(_pairs_view, site))


def _pairs_view(site: Site) -> PairsView:
    return PairsView(
        tuple(
            (
                Link(pair_named(site, pair), pair_path(pair)),
                _listed_side(site, pair.first, pair.second),
                _listed_side(site, pair.second, pair.first),
            )
            for pair in site.guide.pairs
        )
    )


def _listed_side(site: Site, species: Species, other: Species) -> ListedSide:
    sketch = sketch_view(site, species)
    remark = next((remark for code, remark in species.fact(remarks) if code == other.code), "")
    return ListedSide(site.code(species.code), (sketch,) if sketch else (), site.words(remark, site.mentions.phrases))


def _pair_view(site: Site, pair: Pair) -> PairView:
    first, second = pair.first, pair.second
    comparisons = comparisons_of(site, first, second)
    tables = tuple(plumage_tables(site, comparisons, first, second))
    return PairView(
        _side(site, first, second),
        _side(site, second, first),
        shorts(site, comparisons, {table.id for table in tables}),
        tuple(_heading(site, each, {table.id for table in tables}) for each in comparisons),
        tuple(_glance(site, comparisons)),
        tables,
        tuple(first_sizes(site, comparisons)),
        tuple(_facts(site, first, second)),
        tuple(_wanted(site, first, second)),
        tuple((method_of(site, verdict), verdict_style(verdict)) for verdict in Verdict),
        pair_plates(site, first, second),
        card_path(pair),
    )


def _side(site: Site, species: Species, other: Species) -> Side:
    entry = species.entry
    remarks = (each.remark for each in entry.similar if each.code.value == other.code)
    return Side(
        named(site, species),
        Link(species.code, account_path(species)),
        species.scientific,
        picture_views(site, entry.source, entry.sketches),
        site.words(said(next(remarks, None)), site.mentions.phrases),
        months_strip(site, entry.when),
        months_words(site, entry.when),
    )


def _heading(site: Site, comparison: Comparison, tables: Collection[str]) -> Link:
    name = table_id(comparison)
    return Link(plumage_heading(site, comparison.first.text), f"#{name}" if name in tables else "")


def _glance(site: Site, comparisons: Sequence[Comparison]) -> Iterator[Glance]:
    """Give every part through all plumages, the most telling first; what is missing throughout is left out."""
    rows = [{row.word: row for row in comparison.parts} for comparison in comparisons]
    best = {
        word: min(by_word[word].rank for by_word in rows if word in by_word)
        for word in dict.fromkeys(word for by_word in rows for word in by_word)
    }
    for word in sorted(best, key=lambda word: best[word]):
        found = [by_word.get(word) for by_word in rows]
        if all(row is None or row.verdict is Verdict.NOT_RECORDED for row in found):
            continue
        cells = (
            (site.say(row.verdict.value), verdict_style(row.verdict), method_of(site, row.verdict).address)
            if row
            else ("", "", "")
            for row in found
        )
        yield Glance(site.part(word), tuple(cells))


def first_sizes(site: Site, comparisons: Sequence[Comparison]) -> Iterator[SizeRow]:
    """Give measures once, from the first plumage that has both."""
    seen: set[str] = set()
    for comparison in comparisons:
        for row in size_rows(site, comparison):
            if row.name.text not in seen:
                seen.add(row.name.text)
                yield row


def _facts(site: Site, first: Species, second: Species) -> Iterator[Fact]:
    both = (first, second)
    met = [site.words(months_words(site, each.entry.when)) for each in both]
    if any(link.text for side in met for link in side):
        yield Fact(Link(site.say("met in")), met[0], met[1], ours=True)
    yield from (
        Fact(Link(matter), sides[0], sides[1])
        for matter, sides in (
            (site.say("where"), [site.words(", ".join(place.value for place in each.entry.where)) for each in both]),
            (site.say("how common"), [site.words(said(each.entry.how_common)) for each in both]),
            (
                site.say("size"),
                [site.words(said(each.entry.size.size_class if each.entry.size else None)) for each in both],
            ),
        )
        if any(any(link.text for link in side) for side in sides)
    )
    notes = [{row.part: row.said for row in behaviour_rows(site, each.entry.behaviour)} for each in both]
    for matter in dict.fromkeys((*notes[0], *notes[1])):
        yield Fact(matter, notes[0].get(matter, ()), notes[1].get(matter, ()))


def _wanted(site: Site, first: Species, second: Species) -> Iterator[WantedView]:
    for each in wanted_of(site, first, second)[:_MOST_WANTED]:
        missing, other = (first, second) if each.of_first else (second, first)
        (phrase,) = said_phrases(site, [(each.beside.reading, each.beside.origin)], each.beside.origin, each.word)
        yield WantedView(
            site.code(missing.code),
            site.part(each.word),
            site.say("in any plumage") if each.plumage == ALL else plumage_named(site, each.plumage),
            site.code(other.code),
            phrase,
        )
