"""The page to find things on: the ways in, a search for those with a script, and for everyone an index of all names."""

from __future__ import annotations

from functools import partial
from itertools import groupby
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.grouping import groups
from tertial.guide import Flock, Place, Unsolved
from tertial.names.fold import fold
from tertial.pages.browse import DATA, data_page, of_all
from tertial.pages.browse_shelf import shelf_of
from tertial.pages.finding_data import finding_data, words_data
from tertial.pages.finding_names import other_names
from tertial.pages.naming import named
from tertial.pages.news import news
from tertial.pages.site import (
    BY_CODE,
    CARDS,
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
from tertial.pages.tongues import runs_of

if TYPE_CHECKING:
    from collections.abc import Iterator


NAMES: Final = f"{DATA}/finding.js"
"""What the search looks up of names, marks and places."""

WORDS_OF_TEXT: Final = f"{DATA}/words.js"
"""What it looks up of words in the text: apart, so that prose that is changed costs no marks."""

WAYS: Final = (
    ("List order and family", LIST_ORDER, "%(num)s family", "%(num)s families"),
    ("Code", BY_CODE, "%(num)s code", "%(num)s codes"),
    ("Size", LADDER, "%(num)s bird", "%(num)s birds"),
    ("Colour of a part", COLOURS, "%(num)s bird", "%(num)s birds"),
    ("Habitat and place", WHERE, "%(num)s place", "%(num)s places"),
    ("What is new", NEWS, "%(num)s account or outing", "%(num)s accounts and outings"),
    ("Look-alikes", PAIRS, "%(num)s pair", "%(num)s pairs"),
    ("Cards to print", CARDS, "%(num)s card", "%(num)s cards"),
    ("Groups and keys", GROUPS, "%(num)s group", "%(num)s groups"),
    ("Flocks", FLOCKS, "%(num)s flock", "%(num)s flocks"),
    ("Outings", OUTINGS, "%(num)s day", "%(num)s days"),
    ("Places", PLACES, "%(num)s place", "%(num)s places"),
    ("Unsolved birds", UNSOLVED, "%(num)s bird", "%(num)s birds"),
)
"""Ways in: what each is called, where it leads, and what is counted there, one and several."""

KINDS: Final = {Flock: "flock", Place: "place", Unsolved: "not named at once"}


class Entry(NamedTuple):
    """One line of the index."""

    name: Link
    """The name, code or day, and the page that it leads to."""

    is_code: bool
    """The name is a code."""

    whose: str
    """What it is another name of, or what kind of thing it is; '' for what a species account is called."""


class FindView(NamedTuple):
    """The page to find things on."""

    ways: tuple[tuple[Link, str], ...]
    """Ways in, each with how much is to be found there."""

    letters: tuple[tuple[str, tuple[Entry, ...]], ...]
    """The index: a letter or heading, and its lines."""

    names: str
    """Address of the data on names and marks."""

    words: str
    """Address of the data on words."""


def finding_pages(site: Site) -> Iterator[Page]:
    """Give the page to find things on with its data; none where nothing is written yet."""
    guide, shelf = site.guide, shelf_of(site)
    if not any(guide.accounts()):
        return
    description = site.say("Search and index: names in every language, codes, scientific names, places, days, marks.")
    yield Page(FIND, "find.html", site.say("Find"), description, partial(_find, site))
    found = partial(finding_data, shelf)
    yield data_page(NAMES, "names", of_all(shelf, found) if guide.species else found)
    yield data_page(WORDS_OF_TEXT, "words", partial(words_data, guide))


def _find(site: Site) -> FindView:
    return FindView(tuple(_ways(site)), tuple(_letters(site)), NAMES, WORDS_OF_TEXT)


def _ways(site: Site) -> Iterator[tuple[Link, str]]:
    guide = site.guide
    birds = len(guide.species)
    counts = {
        LIST_ORDER: len({each.bird.family for each in guide.species if each.bird and each.bird.family}),
        WHERE: len(guide.places),
        NEWS: len(news(site)),
        PAIRS: len(guide.pairs),
        CARDS: len(guide.pairs),
        GROUPS: len(groups(guide)),
        FLOCKS: len(guide.flocks),
        OUTINGS: len(guide.outings),
        PLACES: len(guide.places),
        UNSOLVED: len(guide.unsolved),
    }
    for text, address, one, many in WAYS:
        count = counts.get(address, birds)
        if count or (address == WHERE and birds):
            yield Link(site.say(text), address), site.wording.count(one, many, count)


def _letters(site: Site) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    entries = sorted(_entries(site), key=lambda each: (fold(each.name.text), each.name, runs_of(each.name.text)))
    by_letter = groupby(entries, key=lambda each: fold(each.name.text)[:1].upper())
    yield from ((letter if letter.isalpha() else site.say("Other signs"), tuple(found)) for letter, found in by_letter)
    days = tuple(
        Entry(
            Link(site.wording.day(each.date), account_path(each)),
            False,
            site.theirs(each.place.name) if each.place else site.say("outing"),
        )
        for each in site.guide.outings
    )
    if days:
        yield site.say("Days"), days


def _entries(site: Site) -> Iterator[Entry]:
    guide = site.guide
    for species in guide.species:
        address = account_path(species)
        yield Entry(Link(named(site, species), address), False, "")
        yield Entry(Link(species.code, address), True, named(site, species))
        for name in other_names(site, species):
            yield Entry(Link(name, address), False, named(site, species))
    others: tuple[Flock | Place | Unsolved, ...] = (*guide.flocks, *guide.places, *guide.unsolved)
    for account in others:
        way = Link(site.theirs(account.name), account_path(account))
        yield Entry(way, False, site.say(KINDS[type(account)]))
