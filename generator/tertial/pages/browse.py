"""Pages that answer for birds of the reader's choice, and the data that their scripts look up in.

Both pages can be read without a script: one leads to the ready-made comparisons, the other is a blank
field sheet. The data are classic scripts, because a page opened from a disk may load nothing else.
"""

from __future__ import annotations

import json
from functools import cache, partial
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

from tertial.grouping import groups
from tertial.marks.fitting import Fit
from tertial.marks.plumages import ALL
from tertial.marks.verdicts import Verdict
from tertial.pages.browse_sheet import sheet_data, sheet_view, states_of_sheet
from tertial.pages.browse_shelf import shelf_of
from tertial.pages.naming import group_named, named, pair_named, plumage_named
from tertial.pages.site import COMPARE, SORTING, Link, Page, Site, group_path, pair_path
from tertial.pages.tongues import language_of

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


PHRASES: Final = f"{DATA}/phrases.js"
"""What the scripts of these pages say."""

SAID_BY_SCRIPTS: Final = (
    *(verdict.value for verdict in Verdict),
    *(fit.value for fit in Fit),
    "First bird",
    "Second bird",
    "Third bird",
    "Fourth bird",
    "set side by side",
    "The guide has no %(names)s.",
    "What the guide says of %(bird)s is missing.",
    "Choose two birds or more.",
    "What separates them",
    "Part",
    "Measures",
    "Measure",
    "The page of %(birds)s.",
    "Which it separates",
    "Verdict",
    "from %(plumage)s",
    "every pair",
    "%(bird)s from %(others)s",
    "; in the hand",
    "by %(respect)s",
    "%(ticked)s: fits %(fits)s, not against %(left)s, contradicts %(contradicts)s, not recorded for %(open)s.",
    "not against it",
    "%(fits)s of %(seen)s seen marks agree",
    "%(contradicts)s against",
    "%(open)s not recorded",
    "%(bird)s (%(fits)s of %(seen)s)",
    "Fits: no bird.",
    "Fits: %(birds)s.",
    "Fits: %(birds)s; and %(more)s more.",
    "No bird fits. Not against it: %(birds)s.",
    "No bird fits. Not against it: %(birds)s; and %(more)s more.",
    "why",
    "Nothing is ticked yet.",
    "as %(plumages)s",
    "against it:",
    "for it:",
    "To the birds.",
    "Speaks against %(birds)s.",
    "Speaks against no bird.",
    ":",
    ";",
)
"""The phrases that they look up."""

COUNTED_BY_SCRIPTS: Final = {
    "%(num)s part": "%(num)s parts",
    "%(num)s thing ticked": "%(num)s things ticked",
}
"""Those with a number: the phrase for one, and for several."""


class Choice(NamedTuple):
    """A species to be picked."""

    name: str
    language: str
    """Tag of the language of the name; '' for that of the page."""
    code: str
    data: str
    """Address of its data."""
    plumages: tuple[tuple[str, str], ...]
    """Each plumage as the address of a comparison has it, and in words; '' for all."""


class CompareView(NamedTuple):
    """The page that sets any birds side by side."""

    choices: tuple[Choice, ...]
    pairs: tuple[tuple[Link, str], ...]
    """Every ready-made pair with both codes, as the address of a comparison has them."""
    groups: tuple[tuple[Link, str], ...]
    """Every ready-made group, and its codes likewise."""
    marks: str
    """Address of what accounts are compared by."""


class DataView(NamedTuple):
    """A value for a script."""

    name: str
    """Under which the script asks for it, as JSON."""
    value: str
    """The value, as JSON."""


def browse_pages(site: Site) -> Iterator[Page]:
    """Give the page that compares any birds, the sorting-out sheet, and their data; none without an account."""
    if not site.guide.species:
        return
    shelf = shelf_of(site)
    states = cache(partial(states_of_sheet, shelf))
    description = site.say("Two to four birds of your choice side by side, with what separates them on top.")
    yield Page(
        COMPARE, "compare.html", site.say("Any birds"), description, of_all(shelf, partial(_compare_view, site, shelf))
    )
    description = site.say("A sheet to tick what was seen of a bird, beside what each account says to it.")
    sheet = of_all(shelf, lambda: sheet_view(site, shelf, states()))
    yield Page(SORTING, "sorting.html", site.say("Sorting out a bird"), description, sheet)
    yield data_page(PHRASES, "phrases", partial(_phrases, site))
    yield data_page(MARKS, "marks", of_all(shelf, shelf.marks))
    yield data_page(SHEET, "sheet", of_all(shelf, lambda: sheet_data(site, shelf, states())))
    for at, species in enumerate(shelf.species):
        yield data_page(_data_path(species.slug), species.code, of_all(shelf, partial(_account, shelf, at)))


def _phrases(site: Site) -> Json:
    """Give what the scripts say, and how the language writes."""
    wording = site.wording
    one = {phrase: wording.form(phrase, several, 1) for phrase, several in COUNTED_BY_SCRIPTS.items()}
    return {
        "phrases": {phrase: wording.say(phrase) for phrase in dict.fromkeys(SAID_BY_SCRIPTS)} | one,
        "several": {phrase: wording.form(phrase, several, 2) for phrase, several in COUNTED_BY_SCRIPTS.items()},
        "one below two": "plural from" in wording.rules,
        "decimal mark": wording.rules.get("decimal mark", "."),
        "written in": "" if site.written_in == wording.tag else site.written_in,
        "all": plumage_named(site, ALL),
    }


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
            Link(pair_named(site, pair), pair_path(pair)),
            f"{pair.first.code}+{pair.second.code}",
        )
        for pair in site.guide.pairs
    )
    ready = tuple(
        (
            Link(group_named(site, group), group_path(group.slug)),
            "+".join(species.code for species in group.members),
        )
        for group in groups(site.guide)
    )
    return CompareView(tuple(_choice(site, bird) for bird in shelf.birds), pairs, ready, MARKS)


def _choice(site: Site, bird: Shelved) -> Choice:
    species = bird.species
    plumages = tuple(
        (
            f"{species.code}.{plumage.text.replace(' ', '-')}",
            "" if plumage == ALL else plumage_named(site, plumage),
        )
        for plumage in (described.plumage for described in bird.plumages)
    )
    name = named(site, species)
    return Choice(name, language_of(name), species.code, _data_path(species.slug), plumages)
