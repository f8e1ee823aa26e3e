"""Pages that answer for birds of the reader's choice, and the data that their scripts look up in.

Both pages can be read without a script: one leads to the ready-made comparisons, the other is a blank
field sheet. The data are classic scripts, because a page opened from a disk may load nothing else.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Final

from tertial.pages.browse_sheet import sheet_data, sheet_view
from tertial.pages.browse_shelf import Shelf
from tertial.pages.site import COMPARE, SORTING, Link, Page, Site, account_path, pair_path

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.guide import Guide
    from tertial.pages.browse_shelf import Json, Shelved

DATA: Final = "data"
"""Folder of the data, from the guide's root."""

MARKS: Final = f"{DATA}/marks.js"
"""What all accounts are compared by."""

SHEET: Final = f"{DATA}/sorting.js"
"""What the sorting-out sheet looks up."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A species to be picked."""

    name: str
    code: str
    data: str
    """Address of its data."""
    plumages: tuple[tuple[str, str], ...]
    """Each plumage as the address of a comparison has it, and in words."""


@dataclass(frozen=True, slots=True)
class ReadyGroup:
    """A group of look-alikes, as far as they have accounts."""

    name: str
    members: tuple[Link, ...]
    """Codes with the ways to the accounts."""
    pairs: tuple[Link, ...]
    """Pages that set two of them side by side."""


@dataclass(frozen=True, slots=True)
class CompareView:
    """The page that sets any birds side by side."""

    choices: tuple[Choice, ...]
    pairs: tuple[tuple[Link, str], ...]
    """Every ready-made pair with both codes, as the address of a comparison has them."""
    groups: tuple[ReadyGroup, ...]
    marks: str
    """Address of what accounts are compared by."""


@dataclass(frozen=True, slots=True)
class DataView:
    """A value for a script."""

    name: str
    """Under which the script asks for it, as JSON."""
    value: str
    """The value, as JSON."""


def browse_pages(site: Site) -> Iterator[Page]:
    """Give the page that compares any birds, the sorting-out sheet, and their data; none without an account."""
    if not site.guide.species:
        return
    shelf = Shelf(site.guide)
    description = "Two to four birds of your choice side by side, with what separates them on top."
    yield Page(COMPARE, "compare.html", "Any birds", description, partial(_compare_view, site, shelf))
    description = "A sheet to tick what was seen of a bird, beside what each account says to it."
    yield Page(SORTING, "sorting.html", "Sorting out a bird", description, partial(sheet_view, site, shelf))
    yield _data(MARKS, "marks", shelf.marks)
    yield _data(SHEET, "sheet", partial(sheet_data, shelf))
    for species in site.guide.species:
        if site.guide.by_code[species.code] is species:
            yield _data(_data_path(species.slug), species.code, partial(_account, shelf, species.code))


def _account(shelf: Shelf, code: str) -> Json:
    return shelf.account(next(bird for bird in shelf.birds if bird.species.code == code))


def _data_path(slug: str) -> str:
    return f"{DATA}/species/{slug}.js"


def _data(path: str, name: str, value: Callable[[], Json]) -> Page:
    return Page(path, "data.js", name, "Data for a script of the guide.", partial(_data_view, name, value))


def _data_view(name: str, value: Callable[[], Json]) -> DataView:
    return DataView(_json(name), _json(value()))


def _json(value: Json) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _compare_view(site: Site, shelf: Shelf) -> CompareView:
    pairs = tuple(
        (
            Link(f"{pair.first.name} or {pair.second.name}", pair_path(pair)),
            f"{pair.first.code}+{pair.second.code}",
        )
        for pair in site.guide.pairs
    )
    return CompareView(tuple(_choice(bird) for bird in shelf.birds), pairs, tuple(_groups(site.guide)), MARKS)


def _choice(bird: Shelved) -> Choice:
    species = bird.species
    names = [described.plumage.text for described in bird.plumages]
    plumages = tuple((f"{species.code}.{name.replace(' ', '-')}", name) for name in names)
    return Choice(species.name, species.code, _data_path(species.slug), plumages)


def _groups(guide: Guide) -> Iterator[ReadyGroup]:
    for name, codes in guide.settings.groups:
        members = {code.value: guide.by_code[code.value] for code in codes if code.value in guide.by_code}
        pairs = tuple(
            Link(f"{pair.first.code} or {pair.second.code}", pair_path(pair))
            for pair in guide.pairs
            if pair.first.code in members and pair.second.code in members
        )
        if members:
            links = tuple(Link(code, account_path(species)) for code, species in members.items())
            yield ReadyGroup(name.value, links, pairs)
