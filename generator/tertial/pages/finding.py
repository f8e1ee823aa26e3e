"""The page to find things on: the ways in, a search for those with a script, and for everyone an index of all names."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from itertools import groupby
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.groups import groups
from tertial.guide import Flock, Place, Unsolved
from tertial.names.fold import fold
from tertial.pages.accounts import day
from tertial.pages.browse import DATA, data_page, of_all
from tertial.pages.finding_data import finding_data, other_names, words_data
from tertial.pages.news import news
from tertial.pages.site import (
    BY_CODE,
    COLOURS,
    FIND,
    FLOCKS,
    GROUPS,
    LADDER,
    LIST_ORDER,
    NEWS,
    OUTINGS,
    PAIRS,
    PLACES,
    UNSOLVED,
    WHERE,
    Link,
    Page,
    Site,
    account_path,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide
    from tertial.pages.browse_shelf import Shelf

NAMES: Final = f"{DATA}/finding.js"
"""What the search looks up of names, marks and places."""

WORDS_OF_TEXT: Final = f"{DATA}/words.js"
"""What it looks up of words in the text: apart, so that prose that is changed costs no marks."""

_DAYS: Final = "Days"
_KINDS: Final = {Flock: "flock", Place: "place", Unsolved: "not named at once"}


class Entry(NamedTuple):
    """One line of the index."""

    name: Link
    """The name, code or day, and the page that it leads to."""

    language: str
    """Tag of its language where that is not the guide's; ``code`` of a code; else ''."""

    whose: str
    """What it is another name of, or what kind of thing it is; '' for what a species account is called."""


@dataclass(frozen=True, slots=True)
class FindView:
    """The page to find things on."""

    ways: tuple[tuple[Link, str], ...]
    """Ways in, each with how much is to be found there."""

    letters: tuple[tuple[str, tuple[Entry, ...]], ...]
    """The index: a letter or heading, and its lines."""

    names: str
    """Address of the data on names and marks."""

    words: str
    """Address of the data on words."""


def finding_pages(site: Site, shelf: Shelf) -> Iterator[Page]:
    """Give the page to find things on with its data; none where nothing is written yet."""
    guide = site.guide
    if not any(guide.accounts()):
        return
    description = "Search and index: names in every language, codes, scientific names, places, days, marks."
    yield Page(FIND, "find.html", "Find", description, partial(_find, site))
    found = partial(finding_data, shelf)
    yield data_page(NAMES, "names", of_all(shelf, found) if guide.species else found)
    yield data_page(WORDS_OF_TEXT, "words", partial(words_data, guide))


def _find(site: Site) -> FindView:
    return FindView(tuple(_ways(site)), tuple(_letters(site.guide)), NAMES, WORDS_OF_TEXT)


def _ways(site: Site) -> Iterator[tuple[Link, str]]:
    guide = site.guide
    birds = len(guide.species)
    families = len({each.bird.family for each in guide.species if each.bird})
    for text, address, count, one, many in (
        ("List order and family", LIST_ORDER, families, "family", "families"),
        ("Code", BY_CODE, birds, "code", "codes"),
        ("Size", LADDER, birds, "bird", "birds"),
        ("Colour of a part", COLOURS, birds, "bird", "birds"),
        ("Habitat and place", WHERE, len(guide.places), "place", "places"),
        ("What is new", NEWS, len(news(site)), "account or outing", "accounts and outings"),
        ("Look-alikes", PAIRS, len(guide.pairs), "pair", "pairs"),
        ("Groups and keys", GROUPS, len(groups(guide)), "group", "groups"),
        ("Flocks", FLOCKS, len(guide.flocks), "flock", "flocks"),
        ("Outings", OUTINGS, len(guide.outings), "day", "days"),
        ("Places", PLACES, len(guide.places), "place", "places"),
        ("Unsolved birds", UNSOLVED, len(guide.unsolved), "bird", "birds"),
    ):
        if count or (address == WHERE and birds):
            yield Link(text, address), f"{count} {one if count == 1 else many}"


def _letters(guide: Guide) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    entries = sorted(_entries(guide), key=lambda each: (fold(each.name.text), each.name, each.language))
    by_letter = groupby(entries, key=lambda each: fold(each.name.text)[:1].upper())
    yield from ((letter if letter.isalpha() else "Other signs", tuple(found)) for letter, found in by_letter)
    days = tuple(
        Entry(Link(day(each.date), account_path(each)), "", each.place.name if each.place else "outing")
        for each in guide.outings
    )
    if days:
        yield _DAYS, days


def _entries(guide: Guide) -> Iterator[Entry]:
    for species in guide.species:
        address = account_path(species)
        yield Entry(Link(species.name, address), "", "")
        yield Entry(Link(species.code, address), "code", species.name)
        for name, language in other_names(species):
            yield Entry(Link(name, address), language, species.name)
    others: tuple[Flock | Place | Unsolved, ...] = (*guide.flocks, *guide.places, *guide.unsolved)
    for account in others:
        yield Entry(Link(account.name, account_path(account)), "", _KINDS[type(account)])
