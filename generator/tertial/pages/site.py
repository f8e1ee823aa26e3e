"""What every page shares: addresses, the frame round the content, and words with their links."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from tertial.grouping import Group
from tertial.guide import Account, Flock, Guide, Outing, Pair, Place, Species, Unsolved
from tertial.languages import wording_of, words_of_author
from tertial.pages.mentioning import Mentions, mentions
from tertial.pages.tongues import in_tongue
from tertial.text.prose import segments
from tertial.text.slugs import slug_of
from tertial.text.terms import NONE, Terms
from tertial.wording import ENGLISH

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tertial.entries.sheet import Noted
    from tertial.entries.values import Written
    from tertial.sketches.sizes import Original, PublishedPicture
    from tertial.text.prose import Segment
    from tertial.wording import Wording

FRONT = "index.html"
FIND = "find.html"
COLOURS = "colours.html"
WHERE = "where.html"
NEWS = "news.html"
LIST_ORDER = "species/index.html"
BY_CODE = "codes.html"
PAIRS = "pairs/index.html"
CARDS = "cards/index.html"
GROUPS = "groups/index.html"
COMPARE = "compare.html"
SORTING = "sorting.html"
FLOCKS = "flocks/index.html"
PARTS = "parts.html"
WORDS = "words.html"
LADDER = "ladder.html"
METHOD = "method.html"
OUTINGS = "outings/index.html"
PLACES = "places/index.html"
UNSOLVED = "unsolved/index.html"
FEED = "feed.xml"
NOT_FOUND = "404.html"
"""Addresses of the pages that stand alone; the last is the name that web hosts look for."""

READING_POLICY: Final = (
    "default-src 'none'; img-src 'self'; style-src 'self'; font-src 'self'; script-src 'self'; "
    "base-uri 'none'; form-action 'none'"
)
"""What a page needs to be read (Content Security Policy, W3C)."""

POLICY: Final = f"{READING_POLICY}; connect-src 'self'; worker-src 'self'; manifest-src 'self'"
"""What the pages of a finished guide may load: besides, what keeps it on a device, and what tools ask in their name."""

Subject: TypeAlias = Account | Pair | Group
"""What a page may be about."""


class Link(NamedTuple):
    """Words that lead somewhere, or words alone. A tuple, because templates take apart many thousands."""

    text: str
    """The words."""

    address: str = ""
    """Address from the guide's root; '' for words alone."""


class Page(NamedTuple):
    """A page to be written."""

    path: str
    """Path from the guide's root."""

    template: str
    """Name of the template in ``layouts``."""

    title: str
    """Its title, without that of the guide."""

    description: str
    """One sentence on what is to be found there; '' where it is told of the subject (``telling.py``)."""

    view: Callable[[], object]
    """Gathers what its template shows, each template its own kind; asked only when the page is rendered,
    so that one page of a thousand costs one page."""

    about: Subject | None = None
    """What it is about, if about one thing of the guide."""

    @property
    def root(self) -> str:
        """The way from this page to the guide's root, for relative links."""
        return "../" * self.path.count("/")


class Frame(NamedTuple):
    """What stands round every page."""

    title: str
    """Title of the guide."""

    author: str
    """Who keeps it, or ''."""

    licence: str
    """Its licence, or ''."""

    language: str
    """Language tag of its pages."""

    menu: tuple[tuple[Link, ...], ...]
    """Ways to the main pages, in groups of a kind."""

    base_address: str
    """Where the guide is published, or ''."""

    feed: str
    """Address of the feed, or ''; there is none without dates and an address."""

    find: str = ""
    """Address of the page to find things on, or '' where there is nothing to be found."""

    policy: str = POLICY
    """What its pages may load."""

    proof: object = None
    """What proof adds to every page; None in a finished guide."""


@dataclass(frozen=True, slots=True)
class Site:
    """The guide as its pages see it."""

    guide: Guide
    """The guide."""

    pictures: Mapping[Original, PublishedPicture]
    """Published pictures by the author's file and how it is wanted."""

    files: Mapping[str, bytes | Path] = field(default_factory=dict, repr=False)
    """Published files by address, for what is told from their pixels."""

    previews: Mapping[str, str] = field(default_factory=dict, repr=False)
    """Addresses of pictures that show a page to other programs, by path of the page; that under '' shows the guide."""

    known_mentions: list[Mentions] = field(default_factory=list, repr=False)
    """How texts name the parts of a bird, once it was asked for; one list where codes and words are the same."""

    made: dict[str, Noted] = field(default_factory=dict, repr=False)
    """What was made of several entries already, by name."""

    _spoken: list[Wording] = field(default_factory=list, repr=False)
    """The words of its pages, once they were asked for."""

    _parts: dict[str, Link] = field(default_factory=dict, repr=False)
    """Links of parts already made, by the author's word."""

    _words: dict[tuple[str, Terms, str], tuple[Link, ...]] = field(default_factory=dict, repr=False)
    """Phrases already parted, by text, terms and part: most stand on several pages."""

    _comparisons: dict[str, dict[str, str]] = field(default_factory=dict, repr=False)
    """For each code the codes it is compared with, and where; filled at the first question."""

    @property
    def wording(self) -> Wording:
        """The words of its pages; read at the first question."""
        if not self._spoken:
            self._spoken.append(wording_of(self.guide.settings, self.guide.folder))
        return self._spoken[0]

    @property
    def written_in(self) -> str:
        """The language that its author writes in, as BCP 47 writes it."""
        settings = self.guide.settings
        return said(settings.written_in) or said(settings.language) or ENGLISH

    def theirs(self, text: str) -> str:
        """Tell the language of what an author wrote."""
        return self.in_tongue(text, self.written_in)

    def in_tongue(self, text: str, language: str) -> str:
        """Tell the language of a text, where it is not that of the pages, be it as another country has it."""
        tag = self.wording.tag
        return in_tongue(text, "" if language in (tag, tag.partition("-")[0].lower()) else language)

    def say(self, phrase: str, **values: object) -> str:
        """Say a phrase in the language of the guide, with values in its places ``%(name)s``."""
        return self.wording.say(phrase, **values)

    def file(self, address: str) -> Path | None:
        """Give the file that is published at an address; None where none is on the disk yet."""
        found = self.files.get(address)
        return None if isinstance(found, bytes) else found

    @property
    def mentions(self) -> Mentions:
        """How texts name the parts of a bird; made at the first question."""
        if not self.known_mentions:
            spoken = words_of_author(self.guide.settings, self.guide.folder)
            self.known_mentions.append(mentions(self.guide, spoken))
        return self.known_mentions[0]

    def words(self, text: str, terms: Terms = NONE, part: str = "") -> tuple[Link, ...]:
        """Part a phrase into words and links at the codes of the guide, and at parts of a bird where asked to.

        :param terms: of ``mentions``.
        :param part: the part that the phrase is written of, as the author names it, which needs no link.
        """
        key = (text, terms, part)
        found = self._words.get(key)
        if found is None:
            own = self.guide.parts.find(part) if part else None
            pieces = segments(text, self.guide.codes, terms, {own.word} if own else set())
            found = self._words[key] = tuple(Link(each.text, self._address(each)) for each in pieces)
        return found

    def _address(self, piece: Segment) -> str:
        if piece.word:
            return account_path(self.guide.by_code[piece.word])
        return part_path(piece.term) if piece.term else ""

    def code(self, code: str) -> Link:
        """Give a code with the way to its account, if it has one."""
        species = self.guide.by_code.get(code)
        return Link(code, account_path(species) if species else "")

    def part(self, text: str) -> Link:
        """Give a part as the author names it, with the way to the page of parts."""
        link = self._parts.get(text)
        if link is None:
            part = self.guide.parts.find(text)
            shown = self.wording.part(part.word) if part and self.wording.parts else text
            link = Link(shown, part_path(part.word)) if part else Link(self.theirs(text))
            self._parts[text] = link
        return link

    def comparisons(self, code: str) -> Mapping[str, str]:
        """Give the pages that set a species beside others: address by the other's code."""
        if not self._comparisons:
            for pair in self.guide.pairs:
                self._comparisons.setdefault(pair.first.code, {})[pair.second.code] = pair_path(pair)
                self._comparisons.setdefault(pair.second.code, {})[pair.first.code] = pair_path(pair)
        return self._comparisons.get(code, {})


def said(written: Written[str] | None) -> str:
    """Give what was written, or ''."""
    return written.value if written else ""


def part_id(word: str) -> str:
    """The id of a part on the page of parts."""
    return f"part-{slug_of(word)}"


def part_path(word: str) -> str:
    """Address of a part on the page of parts."""
    return f"{PARTS}#{part_id(word)}"


def pair_path(pair: Pair) -> str:
    """Address of the page that sets two look-alikes side by side."""
    return f"pairs/{pair.slug}.html"


def card_path(pair: Pair) -> str:
    """Address of the card of two look-alikes."""
    return f"cards/{pair.slug}.html"


_FOLDERS: Final = {Species: "species", Flock: "flocks", Outing: "outings", Place: "places", Unsolved: "unsolved"}


def group_path(slug: str) -> str:
    """Address of the page of a group."""
    return f"groups/{slug}.html"


def account_path(account: Account) -> str:
    """Address of the page of an account of any kind."""
    return f"{_FOLDERS[type(account)]}/{account.slug}.html"
