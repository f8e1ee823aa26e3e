"""Two look-alikes side by side: parts as rows, both birds as columns, a table for each plumage.

What is written for all plumages of both birds stands in one table. A part that either bird
describes by plumage stands in the tables of the plumages, so that nothing is said twice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.inherit import inherit, union_plumages
from tertial.marks.plumages import ALL, Plumage
from tertial.pages.accounts import months_strip, phrase_rows, plumage_heading, size_rows
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.plates import PlatesView, pair_plates
from tertial.pages.site import PAIRS, Link, Page, Site, account_path, pair_path, said

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tertial.entries.values import Phrase
    from tertial.guide import Pair, Species
    from tertial.pages.accounts import Row


class Cell(NamedTuple):
    """What one bird's account says of one part."""

    said: tuple[Link, ...]
    """The phrase; empty when nothing is recorded."""

    origin: str
    """The plumage it was written for, when that is a wider one than the table's; else ''."""


class PairRow(NamedTuple):
    """One part of both birds."""

    part: Link
    """The part."""

    first: Cell
    """The first bird's."""

    second: Cell
    """The second bird's."""


@dataclass(frozen=True, slots=True)
class PairTable:
    """The rows of one plumage."""

    heading: str
    """The plumage."""

    id: str
    """Id of the table, for links."""

    rows: tuple[PairRow, ...]
    """Its rows; never empty."""


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two birds."""

    name: str
    code: Link
    scientific: str
    sketches: tuple[PictureView, ...]
    remark: tuple[Link, ...]
    """What its account says of the difference, or nothing."""
    months: tuple[tuple[str, bool], ...]
    months_text: str


@dataclass(frozen=True, slots=True)
class PairView:
    """A pair of look-alikes."""

    first: Side
    second: Side
    tables: tuple[PairTable, ...]
    plates: PlatesView
    """Both at one scale, and their heads at one length."""


@dataclass(frozen=True, slots=True)
class PairsView:
    """All pairs of the guide."""

    pairs: tuple[tuple[Link, Side, Side], ...]
    """For each pair the way to its page, and both birds."""


def pair_pages(site: Site) -> Iterator[Page]:
    """Give the page of every pair, and the page that lists them."""
    pairs = site.guide.pairs
    for pair in pairs:
        title = f"{pair.first.name} or {pair.second.name}"
        description = f"{title}: their marks side by side, plumage by plumage."
        yield Page(pair_path(pair), "pair.html", title, description, partial(_pair_view, site, pair))
    if pairs:
        description = "Pairs of birds that are taken for one another, each with its page."
        yield Page(PAIRS, "pairs.html", "Look-alikes", description, partial(_pairs_view, site))


def _pairs_view(site: Site) -> PairsView:
    return PairsView(
        tuple(
            (
                Link(f"{pair.first.name} or {pair.second.name}", pair_path(pair)),
                _side(site, pair.first, pair.second),
                _side(site, pair.second, pair.first),
            )
            for pair in site.guide.pairs
        )
    )


def _pair_view(site: Site, pair: Pair) -> PairView:
    first, second = pair.first, pair.second
    tables = (
        _facts(site, first, second),
        *_mark_tables(site, first, second),
        _notes(site, first, second, "Voice"),
        _notes(site, first, second, "Behaviour"),
    )
    return PairView(
        _side(site, first, second),
        _side(site, second, first),
        tuple(table for table in tables if table.rows),
        pair_plates(site, first, second),
    )


def _side(site: Site, species: Species, other: Species) -> Side:
    entry = species.entry
    remarks = (each.remark for each in entry.similar if each.code.value == other.code)
    return Side(
        species.name,
        Link(species.code, account_path(species)),
        species.scientific,
        picture_views(site, entry.source, entry.sketches),
        site.words(said(next(remarks, None))),
        months_strip(entry.when),
        entry.when.value.text if entry.when else "",
    )


def _mark_tables(site: Site, first: Species, second: Species) -> Iterator[PairTable]:
    by_plumage = {
        part
        for species in (first, second)
        for plumage, phrases in species.records.items()
        if plumage != ALL
        for part in phrases
    }
    everywhere = site.guide.parts_in_order(_parts_of(first, second) - by_plumage)
    yield PairTable(
        "All plumages",
        "all",
        tuple(_rows(site, first.records.get(ALL, {}), second.records.get(ALL, {}), everywhere)),
    )
    for plumage in union_plumages(first.records, second.records):
        if plumage == ALL:
            continue
        sides = [_inherited(species, plumage) for species in (first, second)]
        rows = tuple(
            PairRow(
                site.part(part),
                _inherited_cell(site, sides[0].get(part), plumage),
                _inherited_cell(site, sides[1].get(part), plumage),
            )
            for part in site.guide.parts_in_order(by_plumage)
            if _is_telling([side.get(part) for side in sides], plumage)
        )
        text = plumage.text
        yield PairTable(plumage_heading(text), text.replace(" ", "-"), rows)


def _is_telling(found: list[tuple[Phrase, Plumage] | None], plumage: Plumage) -> bool:
    """Tell whether a part belongs in a plumage's table: both birds have it, or one has it for this very plumage.

    What one bird merely inherits and the other lacks says nothing of the plumage.
    """
    return all(found) or any(each is not None and each[1] == plumage for each in found)


def _parts_of(*birds: Species) -> set[str]:
    return {part for species in birds for phrases in species.records.values() for part in phrases}


def _rows(
    site: Site, first: Mapping[str, Phrase], second: Mapping[str, Phrase], parts: tuple[str, ...]
) -> Iterator[PairRow]:
    for part in parts:
        yield PairRow(site.part(part), _cell(site, first.get(part)), _cell(site, second.get(part)))


def _cell(site: Site, phrase: Phrase | None) -> Cell:
    return Cell(site.words(phrase.text.value) if phrase else (), "")


def _inherited(species: Species, plumage: Plumage) -> dict[str, tuple[Phrase, Plumage]]:
    return {each.part: (each.value, each.origin) for each in inherit(species.records, plumage)}


def _inherited_cell(site: Site, found: tuple[Phrase, Plumage] | None, plumage: Plumage) -> Cell:
    if found is None:
        return Cell((), "")
    phrase, origin = found
    return Cell(site.words(phrase.text.value), "" if origin == plumage else origin.text)


def _facts(site: Site, first: Species, second: Species) -> PairTable:
    matters = [
        (
            "met in",
            [Cell(site.words(s.entry.when.value.text if s.entry.when else ""), "") for s in (first, second)],
        ),
        ("where", [Cell(site.words(", ".join(p.value for p in s.entry.where)), "") for s in (first, second)]),
        ("how common", [Cell(site.words(said(s.entry.how_common)), "") for s in (first, second)]),
    ]
    rows = [PairRow(Link(name), *cells) for name, cells in matters]
    rows.extend(_side_by_side(tuple(size_rows(site, first)), tuple(size_rows(site, second))))
    return PairTable("Season, place and size", "facts", tuple(row for row in rows if row.first.said or row.second.said))


def _notes(site: Site, first: Species, second: Species, heading: str) -> PairTable:
    sides = []
    for species in (first, second):
        if heading == "Voice":
            phrases = species.entry.voice
        else:
            phrases = species.entry.behaviour.notes if species.entry.behaviour else ()
        sides.append(phrase_rows(site, phrases))
    return PairTable(heading, heading.lower(), tuple(_side_by_side(*sides)))


def _side_by_side(first: tuple[Row, ...], second: tuple[Row, ...]) -> Iterator[PairRow]:
    """Set rows of two birds beside each other by their first words, in the order of the first bird's."""
    left = {row.part.text: row for row in first}
    right = {row.part.text: row for row in second}
    for name in dict.fromkeys((*left, *right)):
        ours, theirs = left.get(name), right.get(name)
        row = ours or theirs
        if row is not None:
            yield PairRow(row.part, Cell(ours.said if ours else (), ""), Cell(theirs.said if theirs else (), ""))
