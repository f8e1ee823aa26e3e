"""Field cards: one pair of look-alikes on a small sheet to take along, and many of them, four to a large one.

A card must not run over its side, so it carries only what ``card_room`` finds room for, the most needed first.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.plumages import ALL
from tertial.marks.sentences import birds_among
from tertial.marks.verdicts import Verdict
from tertial.marks.wanted import wanted
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
from tertial.pages.comparison import first_sizes
from tertial.pages.marks import said_phrases, verdict_style
from tertial.pages.naming import named, pair_named
from tertial.pages.plates import PlateView, card_plate
from tertial.pages.plumage_tables import everywhere
from tertial.pages.shorts import Short, shorts
from tertial.pages.site import CARDS, Link, Page, Site, account_path, card_path, pair_path
from tertial.side_by_side import compare_plumages

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.guide import Pair, Species
    from tertial.marks.compare import Comparison, PartRow
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Reading

# Our own choices: what can be held against a bird before it is gone.
_MOST_ROWS: Final = 6
_FIRST_ROWS: Final = 3
_MOST_SIZES: Final = 1
_MOST_NEXT: Final = 3
_ON_A_PAGE: Final = 24
"""Six sheets. A page of all cards would be made anew at every change of any bird."""


class CardBird(NamedTuple):
    """One of the two birds."""

    code: Link
    name: str


class CardRow(NamedTuple):
    """A mark of both birds."""

    part: str
    whose: str
    """The birds it is of, where not of all."""

    verdict: str
    style: str
    first: str
    second: str


@dataclass(frozen=True, slots=True)
class CardView:
    """A field card."""

    pair: Link
    """Both names, and the way to their page."""

    card: str
    """Address of the page with this card alone."""

    first: CardBird
    second: CardBird
    plate: PlateView | None
    """A drawing of each at one scale, or else beside each other; None without drawings."""

    shorts: tuple[Short, ...]
    """What separates the two, plumage by plumage."""

    rows: tuple[CardRow, ...]
    """The best marks, the most telling first, and a measure."""

    wanted: tuple[str, ...]
    """Records that are missing, for the next walk."""


@dataclass(frozen=True, slots=True)
class CardsView:
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
            partial(_card_view, site, pair),
        )
    for at in range(0, len(pairs), _ON_A_PAGE):
        title, path = _sheets(site, at)
        description = site.say("%(title)s: pairs of look-alikes, four to a sheet of A4 or Letter.", title=title)
        yield Page(path, "cards.html", title, description, partial(_cards_view, site, at))


def _sheets(site: Site, at: int) -> Link:
    number = at // _ON_A_PAGE + 1
    return (
        Link(site.say("Field cards"), CARDS)
        if number == 1
        else Link(site.say("Field cards, part %(number)s", number=number), f"cards/part-{number}.html")
    )


def _cards_view(site: Site, at: int) -> CardsView:
    pairs = site.guide.pairs
    others = [_sheets(site, other) for other in range(0, len(pairs), _ON_A_PAGE) if other != at]
    return CardsView(tuple(_card_view(site, pair) for pair in pairs[at : at + _ON_A_PAGE]), tuple(others))


def _card_view(site: Site, pair: Pair) -> CardView:
    birds = (pair.first, pair.second)
    comparisons = compare_plumages(site.guide, *birds)
    first, second = (CardBird(Link(each.code, account_path(each)), named(site, each)) for each in birds)
    plate = card_plate(site, *birds)
    said, marks = shorts(site, comparisons), _marks(site, comparisons, everywhere(*birds))
    sizes = _sizes(site, comparisons)[:_MOST_SIZES]
    missing = _wanted(comparisons, *birds)
    pieces: list[tuple[object, float]] = [
        *((each, _short_height(each)) for each in said[:1]),
        *([(plate, plate_height(plate.plate))] if plate else []),
        *((each, _row_height(each)) for each in (*marks[:_FIRST_ROWS], *sizes)),
        *((each, _short_height(each)) for each in said[1:]),
        *((each, _wanted_height(each)) for each in missing[:1]),
        *((each, _row_height(each)) for each in marks[_FIRST_ROWS:_MOST_ROWS]),
        *((each, _wanted_height(each)) for each in missing[1:]),
    ]
    names = sum(NAME.height(f"{each.code.text}  {each.name}", WIDTH) for each in (first, second))
    heads = ROW.height("", WIDTH)
    held = list(taken(pieces, HEIGHT - LEAST_NOTES - names - heads))
    return CardView(
        Link(f"{first.name} or {second.name}", pair_path(pair)),
        card_path(pair),
        first,
        second,
        plate if plate in held else None,
        tuple(each for each in said if each in held),
        tuple(each for each in (*marks, *sizes) if each in held),
        tuple(each for each in missing if each in held),
    )


def _short_height(short: Short) -> float:
    return SENTENCE.height(f"{short.who}: {short.plain}", WIDTH)


def _row_height(row: CardRow) -> float:
    head = (row.part, f"{row.whose}, {row.verdict}" if row.whose else row.verdict)
    return ROW.row_height(zip((head, (row.first,), (row.second,)), COLUMNS, strict=True))


def _wanted_height(words: str) -> float:
    return SENTENCE.height(f"To look at: {words}", WIDTH)


def _marks(site: Site, comparisons: Sequence[Comparison], general: frozenset[str]) -> tuple[CardRow, ...]:
    """Give the marks that help, the most telling first, each part once: in the plumage in which it tells most."""
    found = [(row, comparison) for comparison in comparisons for row in comparison.parts]
    found.sort(key=lambda each: each[0].rank)
    best: dict[str, CardRow] = {}
    for row, comparison in found:
        if row.verdict.rank <= Verdict.HELPFUL.rank and row.word not in best:
            whose = "" if row.word in general else birds_among(comparison.first, comparisons, site.wording)
            best[row.word] = _mark(site, row, comparison, whose)
    return tuple(best.values())


def _mark(site: Site, row: PartRow, comparison: Comparison, whose: str) -> CardRow:
    sides = (row.first, comparison.first), (row.second, comparison.second)
    first, second = (_said(site, found, plumage, with_origin=bool(whose)) for found, plumage in sides)
    return CardRow(row.word, whose, row.verdict.value, verdict_style(row.verdict), first, second)


def _said(site: Site, found: Sequence[tuple[Reading, Plumage]], plumage: Plumage, *, with_origin: bool) -> str:
    """Put the phrases of a cell into plain words; where they come from is left out in a row on all birds."""
    phrases = said_phrases(site, found, plumage)
    return "; ".join(
        "".join(link.text for link in each.words) + (f" (from {each.origin})" if each.origin and with_origin else "")
        for each in phrases
    )


def _sizes(site: Site, comparisons: Sequence[Comparison]) -> tuple[CardRow, ...]:
    return tuple(
        CardRow(
            row.name.text,
            ("beside a known bird" if row.beside else "in the field") if row.field else "",
            row.field.text if row.field else "",
            row.style,
            row.first.text if row.first else site.say("not recorded"),
            row.second.text if row.second else site.say("not recorded"),
        )
        for row in first_sizes(site, comparisons)
    )


def _wanted(comparisons: Sequence[Comparison], first: Species, second: Species) -> tuple[str, ...]:
    return tuple(
        f"{(first if each.of_first else second).code}"
        f"{'' if each.plumage == ALL else f' {each.plumage.text}'}, {each.word}"
        for each in wanted(comparisons)[:_MOST_NEXT]
    )
