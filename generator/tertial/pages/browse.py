"""Pages that answer for birds of the reader's choice, and the data that their scripts look up in.

Both pages can be read without a script: one leads to the ready-made comparisons, the other is a blank
field sheet. The data are classic scripts, because a page opened from a disk may load nothing else.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING, Final, TypeVar

from tertial.groups import groups
from tertial.pages.browse_sheet import sheet_data, sheet_view, states_of_sheet
from tertial.pages.site import COMPARE, SORTING, Link, Page, Site, group_path, pair_path

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.pages.browse_shelf import Json, Shelf, Shelved

V = TypeVar("V")

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
class CompareView:
    """The page that sets any birds side by side."""

    choices: tuple[Choice, ...]
    pairs: tuple[tuple[Link, str], ...]
    """Every ready-made pair with both codes, as the address of a comparison has them."""
    groups: tuple[tuple[Link, str], ...]
    """Every ready-made group likewise."""
    marks: str
    """Address of what accounts are compared by."""


@dataclass(frozen=True, slots=True)
class DataView:
    """A value for a script."""

    name: str
    """Under which the script asks for it, as JSON."""
    value: str
    """The value, as JSON."""


def browse_pages(site: Site, shelf: Shelf) -> Iterator[Page]:
    """Give the page that compares any birds, the sorting-out sheet, and their data; none without an account.

    :param shelf: what all accounts say; worked out once for all pages that need it.
    """
    if not site.guide.species:
        return
    states = cache(partial(states_of_sheet, shelf))
    description = "Two to four birds of your choice side by side, with what separates them on top."
    yield Page(COMPARE, "compare.html", "Any birds", description, of_all(shelf, partial(_compare_view, site, shelf)))
    description = "A sheet to tick what was seen of a bird, beside what each account says to it."
    sheet = of_all(shelf, lambda: sheet_view(site, shelf, states()))
    yield Page(SORTING, "sorting.html", "Sorting out a bird", description, sheet)
    yield data_page(MARKS, "marks", of_all(shelf, shelf.marks))
    yield data_page(SHEET, "sheet", of_all(shelf, lambda: sheet_data(site, shelf, states())))
    for at, species in enumerate(shelf.species):
        yield data_page(_data_path(species.slug), species.code, of_all(shelf, partial(_account, shelf, at)))


def of_all(shelf: Shelf, view: Callable[[], V]) -> Callable[[], V]:
    """Let a view depend on every account, whichever it asks for."""

    def asked() -> V:
        shelf.ask_all()
        return view()

    return asked


def _account(shelf: Shelf, at: int) -> Json:
    return shelf.account(shelf.birds[at])


def _data_path(slug: str) -> str:
    return f"{DATA}/species/{slug}.js"


def data_page(path: str, name: str, value: Callable[[], Json]) -> Page:
    """Give a value to a script, under a name."""
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
    ready = tuple(
        (Link(group.name, group_path(group.slug)), "+".join(species.code for species in group.members))
        for group in groups(site.guide)
    )
    return CompareView(tuple(_choice(bird) for bird in shelf.birds), pairs, ready, MARKS)


def _choice(bird: Shelved) -> Choice:
    species = bird.species
    names = [described.plumage.text for described in bird.plumages]
    plumages = tuple((f"{species.code}.{name.replace(' ', '-')}", name) for name in names)
    return Choice(species.name, species.code, _data_path(species.slug), plumages)
