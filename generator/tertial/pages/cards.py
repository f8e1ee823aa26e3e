"""Field cards: one pair of look-alikes on a small sheet to take along, and many of them, four to a large one.

A card must not run over its side, so it carries only what ``card_room`` finds room for, the most needed first.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.pages.card_marks import card_marks, card_sizes, card_wanted
from tertial.pages.card_room import (
    COLUMNS,
    HEIGHT,
    LEAST_NOTES,
    NAME,
    ROW,
    SENTENCE,
    WIDTH,
    plate_height,
    taken,
)
from tertial.pages.facts import remarks as remarks_of
from tertial.pages.naming import named, pair_named
from tertial.pages.plates import PlateView, card_plate
from tertial.pages.plumage_tables import everywhere
from tertial.pages.shared import comparisons_of
from tertial.pages.site import CARDS, Link, Page, Site, account_path, card_path, pair_path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide, Pair, Species
    from tertial.marks.sentences import PlumageSentence
    from tertial.pages.card_marks import CardRow

# Our own choices: what can be held against a bird before it is gone.
_MOST_ROWS: Final = 8
_FIRST_ROWS: Final = 5
_MOST_SIZES: Final = 1
_MOST_NEXT: Final = 3
_REMARK_LINES: Final = 3
_ON_A_PAGE: Final = 12
"""Three sheets. A page of all cards would be made anew at every change of any bird."""


class CardBird(NamedTuple):
    """One of the two birds."""

    code: Link
    name: str


class CardRemark(NamedTuple):
    """What an author says of the difference."""

    code: str
    """The bird whose account says it."""

    words: str


class CardView(NamedTuple):
    """A field card."""

    pair: Link
    """Both names, and the way to their page."""

    card: str
    """Address of the page with this card alone."""

    first: CardBird
    second: CardBird
    plate: PlateView | None
    """Drawings of each at one scale, or else one of each beside the other; None without drawings."""

    remarks: tuple[CardRemark, ...]
    """What the two accounts say of the difference."""

    sentences: tuple[PlumageSentence, ...]
    """What separates the two, if no author says it: those alone whose marks all stand in the table."""

    rows: tuple[CardRow, ...]
    """The best marks, one of each plumage first, and a measure if it helps."""

    wanted: tuple[str, ...]
    """Records that are missing, for the next walk."""


class CardsView(NamedTuple):
    """Cards to be printed four to a sheet."""

    cards: tuple[CardView, ...]
    others: tuple[Link, ...]
    """The ways to further pages of cards."""


def card_pages(site: Site) -> Iterator[Page]:
    """Give the page of every card, and those that hold many."""
    pairs = site.guide.pairs
    for pair in pairs:
        title = pair_named(site, pair)
        description = site.say("%(birds)s: a card to take along, on paper of the size A6.", birds=title)
        yield Page(
            card_path(pair),
            "card.html",
            site.say("Card: %(birds)s", birds=title),
            description,
            partial(_card_of, site, pair),
        )
    for path, at in card_sheets(site.guide).items():
        title = _title(site, at)
        description = site.say("%(title)s: pairs of look-alikes, four to a sheet of A4 or Letter.", title=title)
        yield Page(path, "cards.html", title, description, partial(_cards_view, site, at))


def card_sheets(guide: Guide) -> dict[str, int]:
    """Give the pages of many cards, each with the place of its first pair among all."""
    places = range(0, len(guide.pairs), _ON_A_PAGE)
    return {f"cards/part-{number}.html" if at else CARDS: at for number, at in enumerate(places, 1)}


def _title(site: Site, at: int) -> str:
    return site.say("Field cards, part %(number)s", number=at // _ON_A_PAGE + 1) if at else site.say("Field cards")


def _cards_view(site: Site, at: int) -> CardsView:
    pairs = site.guide.pairs[at : at + _ON_A_PAGE]
    others = (Link(_title(site, other), path) for path, other in card_sheets(site.guide).items() if other != at)
    return CardsView(tuple(_card_of(site, pair) for pair in pairs), tuple(others))


def _card_of(site: Site, pair: Pair) -> CardView:
    """Give a card, made once: it stands by itself and among others."""
    return pair.first.sheet.shared(site.made, f"card of {pair.slug}", partial(_card_view, site, pair))


def _card_view(site: Site, pair: Pair) -> CardView:
    birds = (pair.first, pair.second)
    comparisons = comparisons_of(site, *birds)
    first, second = (CardBird(Link(each.code, account_path(each)), named(site, each)) for each in birds)
    plate = card_plate(site, *birds)
    remarks = list(_remarks(*birds))
    found = card_marks(site, comparisons, everywhere(*birds), (each.words for each in remarks))
    marks = [*found.ordered()][:_MOST_ROWS]
    sizes = [*card_sizes(site, comparisons)][:_MOST_SIZES]
    missing = [*card_wanted(site, comparisons, *birds, _MOST_NEXT)]
    best = len(found.turns)
    pieces: list[tuple[object, float]] = [
        *((each, _remark_height(each)) for each in remarks[:1]),
        *([(plate, plate_height(plate.plate))] if plate else []),
        *((each, _row_height(each)) for each in (*marks[:best], *sizes)),
        *((each, _row_height(each)) for each in marks[best:_FIRST_ROWS]),
        *((each, _wanted_height(site, each)) for each in missing[:1]),
        *((each, _remark_height(each)) for each in remarks[1:]),
        *((each, _row_height(each)) for each in marks[max(best, _FIRST_ROWS) :]),
    ]
    names = sum(NAME.height(f"{each.code.text}  {each.name}", WIDTH) for each in (first, second))
    room = HEIGHT - LEAST_NOTES - names - ROW.height("", WIDTH)
    held = list(taken(pieces, room))
    room -= sum(height for piece, height in pieces if piece in held)
    # A sentence whose marks are not all in the table would send its reader to look for what the card does not say.
    said = [each for each, rows in found.sentences if not remarks and rows.issubset(held)]
    more = [
        *((each, _sentence_height(each)) for each in said),
        *((each, _wanted_height(site, each)) for each in missing[1:]),
    ]
    held += taken(more, room)
    return CardView(
        Link(pair_named(site, pair), pair_path(pair)),
        card_path(pair),
        first,
        second,
        plate if plate in held else None,
        tuple(each for each in remarks if each in held),
        tuple(each for each in said if each in held),
        tuple(each for each in (*marks, *sizes) if each in held),
        tuple(each for each in missing if each in held),
    )


def _remarks(first: Species, second: Species) -> Iterator[CardRemark]:
    """Give what the two accounts say of the difference, if it is short; the shorter first."""
    found = [
        CardRemark(each.code, words)
        for each, other in ((first, second), (second, first))
        for code, words in remarks_of(each)
        if words and code == other.code
    ]
    short = (each for each in found if _remark_height(each) <= SENTENCE.lines_height(_REMARK_LINES))
    yield from sorted(short, key=lambda each: len(each.words))


def _remark_height(remark: CardRemark) -> float:
    return SENTENCE.height(f"{remark.code}: {remark.words}", WIDTH)


def _sentence_height(sentence: PlumageSentence) -> float:
    return SENTENCE.height(f"{sentence.who}: {sentence.clause}", WIDTH)


def _row_height(row: CardRow) -> float:
    head = (row.part, f"{row.whose}, {row.verdict}" if row.whose else row.verdict)
    return ROW.row_height(zip((head, (row.first,), (row.second,)), COLUMNS, strict=True))


def _wanted_height(site: Site, words: str) -> float:
    return SENTENCE.height(site.say("To look at: %(what)s", what=words), WIDTH)
