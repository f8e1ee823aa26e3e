"""What every page shares: addresses, the frame round the content, and words with their links."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from tertial.guide import Account, Flock, Guide, Outing, Pair, Place, Species, Unsolved, slug_of
from tertial.text.prose import segments

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tertial.entries.values import Written
    from tertial.sketches.sizes import PublishedPicture

FRONT = "index.html"
LIST_ORDER = "species/index.html"
BY_CODE = "codes.html"
PAIRS = "pairs/index.html"
FLOCKS = "flocks/index.html"
PARTS = "parts.html"
METHOD = "method.html"
OUTINGS = "outings/index.html"
PLACES = "places/index.html"
UNSOLVED = "unsolved/index.html"
FEED = "feed.xml"
NOT_FOUND = "404.html"
"""Addresses of the pages that stand alone; the last is the name that web hosts look for."""

POLICY: Final = (
    "default-src 'none'; img-src 'self'; style-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'"
)
"""What the pages of a finished guide may load (Content Security Policy, W3C)."""

_MENU = (
    ("Species", LIST_ORDER),
    ("Codes", BY_CODE),
    ("Look-alikes", PAIRS),
    ("Flocks", FLOCKS),
    ("Unsolved", UNSOLVED),
    ("Outings", OUTINGS),
    ("Places", PLACES),
    ("Parts of a bird", PARTS),
    ("Method", METHOD),
)


@dataclass(frozen=True, slots=True)
class Link:
    """Words that lead somewhere, or words alone."""

    text: str
    """The words."""

    address: str = ""
    """Address from the guide's root; '' for words alone."""


@dataclass(frozen=True, slots=True)
class Page:
    """A page to be written."""

    path: str
    """Path from the guide's root."""

    template: str
    """Name of the template in ``layouts``."""

    title: str
    """Its title, without that of the guide."""

    description: str
    """One sentence on what is to be found there."""

    view: Callable[[], object]
    """Gathers what its template shows, each template its own kind; asked only when the page is rendered,
    so that one page of a thousand costs one page."""

    @property
    def root(self) -> str:
        """The way from this page to the guide's root, for relative links."""
        return "../" * self.path.count("/")


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round every page."""

    title: str
    """Title of the guide."""

    author: str
    """Who keeps it, or ''."""

    licence: str
    """Its licence, or ''."""

    language: str
    """Language tag of its text."""

    menu: tuple[Link, ...]
    """Ways to the main pages."""

    base_address: str
    """Where the guide is published, or ''."""

    feed: str
    """Address of the feed, or ''; there is none without dates and an address."""

    policy: str = POLICY
    """What its pages may load."""

    proof: object = None
    """What proof adds to every page; None in a finished guide."""


@dataclass(frozen=True, slots=True)
class Site:
    """The guide as its pages see it."""

    guide: Guide
    """The guide."""

    pictures: Mapping[Path, PublishedPicture]
    """Published pictures by the author's file."""

    def frame(self) -> Frame:
        """Give the frame of every page; the menu leaves out what the guide does not have."""
        settings = self.guide.settings
        guide = self.guide
        has = {
            PAIRS: bool(guide.pairs),
            FLOCKS: bool(guide.flocks),
            UNSOLVED: bool(guide.unsolved),
            OUTINGS: bool(guide.outings),
            PLACES: bool(guide.places),
        }
        menu = tuple(Link(text, address) for text, address in _MENU if has.get(address, True))
        return Frame(
            said(settings.title) or "A field guide",
            said(settings.author),
            said(settings.licence),
            said(settings.language) or "en",
            menu,
            said(settings.base_address),
            FEED if settings.base_address and self._has_dates() else "",
        )

    def _has_dates(self) -> bool:
        guide = self.guide
        accounts: tuple[Species | Flock, ...] = (*guide.species, *guide.flocks)
        dated = (each.entry.written or each.entry.changed for each in accounts)
        seen = (bird.entry.seen for bird in guide.unsolved)
        return bool(guide.outings) or any(dated) or any(seen)

    def words(self, text: str) -> tuple[Link, ...]:
        """Part a phrase into words and links at the codes of the guide."""
        by_code = self.guide.by_code
        return tuple(
            Link(piece.text, account_path(by_code[piece.word]) if piece.word else "")
            for piece in segments(text, self.guide.codes)
        )

    def code(self, code: str) -> Link:
        """Give a code with the way to its account, if it has one."""
        species = self.guide.by_code.get(code)
        return Link(code, account_path(species) if species else "")

    def part(self, text: str) -> Link:
        """Give a part as the author names it, with the way to the page of parts."""
        part = self.guide.parts.find(text)
        return Link(text, f"{PARTS}#{part_id(part.word)}" if part else "")


def said(written: Written[str] | None) -> str:
    """Give what was written, or ''."""
    return written.value if written else ""


def part_id(word: str) -> str:
    """The id of a part on the page of parts."""
    return f"part-{slug_of(word)}"


def pair_path(pair: Pair) -> str:
    """Address of the page that sets two look-alikes side by side."""
    return f"pairs/{pair.slug}.html"


_FOLDERS: Final = {Species: "species", Flock: "flocks", Outing: "outings", Place: "places", Unsolved: "unsolved"}


def account_path(account: Account) -> str:
    """Address of the page of an account of any kind."""
    return f"{_FOLDERS[type(account)]}/{account.slug}.html"
