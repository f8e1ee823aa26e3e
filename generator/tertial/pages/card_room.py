"""What a field card has room for: each piece of it is measured, and the most needed are taken while they fit.

A card is a quarter of the smaller of the two common sheets, so that four of them fill a sheet of A4 (ISO 216) and
one of Letter (ANSI Y14.1) alike. Lengths are millimetres on paper; ``layouts/assets/cards.css`` sets the same ones.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, TypeVar

from tertial.sketches.labels import text_width

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tertial.sketches.plate import ScalePlate

WIDTH: Final = 93.0
"""Width of a card between its margins: 105 less two of 6."""

HEIGHT: Final = 127.0
"""Height of a card between its margins: half of Letter's 279.4, rounded down, less two of 6."""

PLATE: Final = 38.0
"""Height of the drawings at most."""

PLATE_OF_FOUR: Final = 34.0
"""The same of four birds that fill the width."""

LEAST_NOTES: Final = 10.0
"""Room that is left for what is written on the card by hand: a line at least."""

_POINT: Final = 25.4 / 72
_CAUTION: Final = 1.04
"""The table of widths of letters is for another size of the typeface, so lines are taken to be a little longer."""


class Type:
    """A size of type, with the distance of its lines.

    :param points: size of the letters.
    :param line: distance of the lines in millimetres.
    :param after: room below a piece, in millimetres.
    """

    def __init__(self, points: float, line: float, after: float) -> None:
        self._em = points * _POINT
        self._line, self._after = line, after

    def height(self, text: str, width: float) -> float:
        """Give the height of a text, and the room below, within a width."""
        return lines(text, width / self._em) * self._line + self._after

    def lines_height(self, count: int) -> float:
        """Give the height of so many lines, and the room below."""
        return count * self._line + self._after

    def row_height(self, cells: Iterable[tuple[Iterable[str], float]]) -> float:
        """Give the height of cells beside each other: each a few paragraphs and the width it has."""
        tallest = max(sum(lines(text, width / self._em) for text in texts) for texts, width in cells)
        return tallest * self._line + self._after


NAME: Final = Type(10.5, 4.6, 0)
SENTENCE: Final = Type(8.5, 3.6, 0.5)
ROW: Final = Type(8.5, 3.5, 1.3)
"""Names, sentences, and rows of the table."""

COLUMNS: Final = (23.0, 33.0, 33.0)
"""Widths of the table's columns, without the gaps between them."""


def lines(text: str, width: float) -> int:
    """Give in how many lines a text is set.

    :param width: of a line, in sizes of the letters. A word that is longer is broken.
    """
    count, at = 1, 0.0
    for word in text.split():
        long = text_width(word) * _CAUTION
        start = at + text_width(" ") if at else 0.0
        if start + long <= width:
            at = start + long
            continue
        count += bool(at) + max(0, math.ceil(long / width) - 1)
        at = long % width if long > width else long
    return count


def plate_height(plate: ScalePlate | None) -> float:
    """Give how high drawings stand on a card with the room below; None for two that have no common scale."""
    return 2.5 + (min(PLATE, WIDTH * plate.height / plate.width) if plate else PLATE)


_Piece = TypeVar("_Piece")


def taken(pieces: Iterable[tuple[_Piece, float]], room: float) -> Iterator[_Piece]:
    """Give the pieces that fit, the first first: one that is too high is left out for lower ones after it.

    :param pieces: each with its height.
    :param room: height for all of them.
    """
    for piece, height in pieces:
        if height <= room:
            room -= height
            yield piece
