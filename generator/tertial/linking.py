"""From entries to the guide: what belongs together is linked by names, codes and days alone.

All that linking needs of an entry stands in its head, so that a guide can be linked of entries that
nobody has read.
"""

from __future__ import annotations

import datetime as dt
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from tertial.entries.flock import FlockEntry
from tertial.entries.outing import OutingEntry
from tertial.entries.place import PlaceEntry
from tertial.entries.sheet import Head
from tertial.entries.species import SpeciesEntry
from tertial.guide import Account, Flock, Guide, Outing, Pair, Place, Species, Unsolved
from tertial.names.alpha import code_in_force
from tertial.names.birds import Bird, load_names
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from pathlib import Path

    from tertial.entries.load import Entry
    from tertial.entries.settings import Settings
    from tertial.entries.sheet import Sheet
    from tertial.entries.values import Written
    from tertial.marks.parts import PartTable
    from tertial.names.birds import Scheme
    from tertial.text.problem import Problem

# The page that lists a kind of account stands beside them and has a name already.
_LIST_PAGE: Final = "index"


class Ground(NamedTuple):
    """What holds for every entry of a guide."""

    folder: Path
    """The guide's folder."""

    settings: Settings
    """What ``guide.yaml`` says."""

    parts: PartTable
    """Parts of a bird, the author's own words included."""

    problems: tuple[Problem, ...]
    """What is wrong with the settings."""

    @property
    def scheme(self) -> Scheme:
        """The list of codes in force."""
        return "BBL" if self.settings.code_list == "BBL" else "IBP"


def head_of(entry: Entry, scheme: Scheme, before: Head | None = None) -> Head:
    """Give the head of an entry.

    :param before: the head that it had when it was read last: the list of birds need not be asked again.
    """
    if isinstance(entry, SpeciesEntry):
        return _species_head(entry, scheme, before)
    if isinstance(entry, FlockEntry):
        members = tuple(member.value for member in entry.members)
        return Head(
            "flock", entry.name.value, members=members, written=_day(entry.written), changed=_day(entry.changed)
        )
    if isinstance(entry, PlaceEntry):
        return Head("place", entry.name.value, id=_said(entry.id))
    if isinstance(entry, OutingEntry):
        start = entry.start.value.isoformat() if entry.start else ""
        return Head("outing", entry.date.value.isoformat(), place=_said(entry.place), start=start)
    return Head(
        "unknown",
        entry.name.value,
        place=_said(entry.place),
        written=_day(entry.seen),
        settled=_said(entry.settled),
    )


def _species_head(entry: SpeciesEntry, scheme: Scheme, before: Head | None) -> Head:
    if before and (before.kind, before.name) == ("species", entry.name.value):
        bird = Bird(*before.bird) if before.bird else None
    else:
        found = load_names().find(entry.name.value)
        bird = found[0] if len(found) == 1 else None
    return Head(
        "species",
        entry.name.value,
        code_in_force(_said(entry.code), bird.listed_code(scheme) if bird else "", entry.name.value),
        _said(entry.scientific),
        tuple(bird) if bird else (),
        tuple(similar.code.value for similar in entry.similar),
        written=_day(entry.written),
        changed=_day(entry.changed),
    )


def _said(written: Written[str] | None) -> str:
    return written.value if written else ""


def _day(written: Written[dt.date] | None) -> str:
    return written.value.isoformat() if written else ""


def account_of(ground: Ground, sheet: Sheet[Any], head: Head) -> Account:
    """Give the account of one entry by itself, linked with no other and without a page."""
    if head.kind == "species":
        return Species(sheet, head, "", Bird(*head.bird) if head.bird else None, ground.parts)
    if head.kind == "flock":
        return Flock(sheet, head, "")
    if head.kind == "place":
        return Place(sheet, head, "")
    return Outing(sheet, head, "", None) if head.kind == "outing" else Unsolved(sheet, head, "", None)


def link(ground: Ground, sheets: Iterable[Sheet[Any]], problems: tuple[Problem, ...], files: int) -> Guide:
    """Link the entries of a guide.

    :param sheets: those that have a head, in the order of their paths.
    :param problems: what was found while reading.
    :param files: number of entry files.
    """
    by_kind: dict[str, list[tuple[Sheet[Any], Head]]] = {}
    for sheet in sheets:
        if sheet.head is not None:
            by_kind.setdefault(sheet.head.kind, []).append((sheet, sheet.head))
    species = _in_list_order(ground.parts, by_kind.get("species", []))
    flocks = [Flock(sheet, head, slug) for sheet, head, slug in _slugged(by_kind.get("flock", []))]
    places = [Place(sheet, head, slug) for sheet, head, slug in _slugged(by_kind.get("place", []))]
    by_id = {place.slug: place for place in reversed(places)}
    begun = sorted(by_kind.get("outing", []), key=_beginning)
    outings = [Outing(sheet, head, slug, by_id.get(head.place)) for sheet, head, slug in _slugged(begun)]
    seen = sorted(by_kind.get("unknown", []), key=_latest)
    unsolved = [Unsolved(sheet, head, slug, by_id.get(head.place)) for sheet, head, slug in _slugged(seen)]
    by_code = {each.code: each for each in reversed(species)}
    accounts: tuple[Account, ...] = (*species, *flocks, *outings, *places, *unsolved)
    return Guide(
        ground.folder,
        ground.settings,
        species,
        tuple(sorted(flocks, key=lambda flock: flock.name)),
        tuple(outings),
        tuple(sorted(places, key=lambda place: place.name)),
        tuple(unsolved),
        tuple(_pairs(species, by_code)),
        ground.parts,
        problems,
        files,
        by_code,
        frozenset(by_code),
        {each.path: each for each in accounts},
        by_id,
    )


def _slugged(heads: Iterable[tuple[Sheet[Any], Head]]) -> Iterator[tuple[Sheet[Any], Head, str]]:
    """Give each entry a file name of its own, and the entries in the order in which they came.

    Several outings of a day, or two flocks of one name, want the same. Each has the one that its own file
    bears, as ``entry`` numbers them, so that none takes over the address of another; the rest come by their
    paths. The page of a place is called by its id, by which outings name it.
    """
    wanted = [(sheet, head, slug_of(head.id or head.name)) for sheet, head in heads]
    given: dict[str, str] = {}
    taken = {_LIST_PAGE}
    by_path = sorted(wanted, key=lambda each: each[0].path)
    for sheet, head, slug in by_path:
        stem = PurePosixPath(sheet.path).stem
        lead, _, number = stem.rpartition("-")
        is_numbered = head.kind != "place" and lead == slug and number.isascii() and number.isdecimal()
        if stem not in taken and (stem == slug or is_numbered):
            given[sheet.path] = stem
            taken.add(stem)
    for sheet, _, slug in by_path:
        if sheet.path not in given:
            given[sheet.path] = _unique(slug, taken)
    return ((sheet, head, given[sheet.path]) for sheet, head, _ in wanted)


def _beginning(outing: tuple[Sheet[Any], Head]) -> tuple[str, str, str]:
    sheet, head = outing
    return (head.name, head.start, sheet.path)


def _latest(bird: tuple[Sheet[Any], Head]) -> tuple[int, str]:
    sheet, head = bird
    return (-dt.date.fromisoformat(head.written).toordinal() if head.written else 0, sheet.path)


def _in_list_order(parts: PartTable, heads: list[tuple[Sheet[Any], Head]]) -> tuple[Species, ...]:
    """Put species accounts in list order. Two of one name are an error, but both are there to be shown."""

    def order(each: tuple[Sheet[Any], Head]) -> tuple[int, str, str]:
        sheet, head = each
        sequence = head.bird[0] if head.bird else None
        # Birds outside the list come last, by name.
        return (sequence if sequence is not None else 1_000_000, head.name, sheet.path)

    return tuple(
        Species(sheet, head, slug, Bird(*head.bird) if head.bird else None, parts)
        for sheet, head, slug in _slugged(sorted(heads, key=order))
    )


def _pairs(species: tuple[Species, ...], by_code: Mapping[str, Species]) -> Iterator[Pair]:
    place = {each.path: at for at, each in enumerate(species)}
    found: set[tuple[int, int]] = set()
    for at, each in enumerate(species):
        for code in each.head.similar:
            other = by_code.get(code)
            if other is not None and other.code != each.code:
                # The very account that names the other: a second one of its code need not do so.
                first, second = sorted((at, place[other.path]))
                found.add((first, second))
    taken: set[str] = set()
    for first, second in sorted(found):
        slug = slug_of(f"{species[first].code} {species[second].code}")
        yield Pair(species[first], species[second], _unique(slug, taken))


def _unique(slug: str, taken: set[str]) -> str:
    candidate, number = slug, 1
    while candidate in taken:
        number += 1
        candidate = f"{slug}-{number}"
    taken.add(candidate)
    return candidate
