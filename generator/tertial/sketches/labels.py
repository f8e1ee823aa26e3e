"""Where the words beside a drawing stand: in its two margins, each led to its spot by a hairline.

Pure geometry in a frame of its own, 1000 units wide. A hairline runs level from its spot to the edge of the
drawing and from there to its words. Words stand in the order of their spots from top to bottom, so that no two
hairlines of a side cross.
"""

from __future__ import annotations

import csv
import math
import re
import unicodedata
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    Point = tuple[float, float]

WIDTH: Final = 1000
"""Width of the frame in its units."""

MARGIN: Final = 190
"""Width of either margin; the drawing takes what is between. The style sheet knows the same shares."""

LETTER: Final = 20
"""Size of the letters."""

LINE: Final = 24
"""From one line of a label to the next."""

GAP: Final = 12
"""Between two labels."""

_SPREAD: Final = 0.12
_GUTTER: Final = 26
_ELBOW: Final = 6
_WIDEST: Final = (MARGIN - _GUTTER - 2) / LETTER
# Wider letters than any of the table, and those that fill a square (Unicode, UAX 11).
_UNKNOWN: Final = 0.9
_SQUARE: Final = 1.05
_PARTS: Final = re.compile(r"[^-]*-|[^-]+$")
_TABLE: Final = Path(__file__).parent / "data" / "letter-widths.csv"

# Numbers stand in small circles on narrow screens and on paper.
_AWAY: Final = 40.0
_APART: Final = 37.0


class Label(NamedTuple):
    """The words at one spot."""

    lines: tuple[str, ...]
    """The words, broken into lines."""

    on_left: bool
    """They stand in the left margin, and end at ``x``; else they begin there."""

    x: float
    """Where the lines end or begin."""

    top: float
    """Upper edge of the first line."""

    spot: Point
    """Where the hairline begins."""

    elbow: Point
    """Where it leaves the drawing."""

    end: Point
    """Where it meets the words."""

    number_at: Point
    """Where the number stands when there is no room for words."""

    @property
    def bottom(self) -> float:
        """Lower edge of the last line."""
        return self.top + LINE * len(self.lines)

    @property
    def baselines(self) -> tuple[tuple[float, str], ...]:
        """Each line with the height on which its letters stand."""
        return tuple((round(self.top + LINE * at + 0.78 * LINE, 1), line) for at, line in enumerate(self.lines))


class Plate(NamedTuple):
    """A drawing with words in its margins."""

    height: int
    """Height of the frame; larger than the drawing's only where the words need it."""

    labels: tuple[Label, ...]
    """The words, in the order given."""

    width: int = WIDTH
    """Width of the frame."""


def place_labels(spots: Sequence[Point], texts: Sequence[str], size: tuple[float, float]) -> Plate:
    """Place words beside a drawing.

    :param spots: where the words point to, in pixels of the drawing; one outside is drawn to the nearest edge.
    :param texts: the words, one text a spot.
    :param size: width and height of the drawing in pixels.
    """
    zoom = (WIDTH - 2 * MARGIN) / size[0]
    drawn = size[1] * zoom
    lines = [_broken(text) for text in texts]
    heights = [LINE * len(each) for each in lines]
    left, right = _sides(spots, heights, size[0], drawn)
    height = math.ceil(max(drawn, _needed(left, heights), _needed(right, heights)))
    top = (height - drawn) / 2
    inside = [
        (round(MARGIN + min(max(x, 0.0), size[0]) * zoom, 1), round(top + min(max(y, 0.0), size[1]) * zoom, 1))
        for x, y in spots
    ]
    tops = dict(_tops(left, inside, heights, height)) | dict(_tops(right, inside, heights, height))
    numbers = _numbers(inside, left, (top, top + drawn))
    return Plate(
        height,
        tuple(_label(lines[at], at in left, spot, tops[at], numbers[at]) for at, spot in enumerate(inside)),
    )


def text_width(text: str) -> float:
    """Give the width of a text in sizes of its letters."""
    return sum(_letter_width(letter) for letter in text)


def _label(lines: tuple[str, ...], on_left: bool, spot: Point, top: float, number_at: Point) -> Label:
    outwards = -1 if on_left else 1
    edge = MARGIN if on_left else WIDTH - MARGIN
    middle = round(top + LINE * len(lines) / 2, 1)
    elbow, end = (edge + outwards * _ELBOW, spot[1]), (edge + outwards * (_GUTTER - 4), middle)
    return Label(lines, on_left, edge + outwards * _GUTTER, top, spot, elbow, end, number_at)


@cache
def _widths() -> dict[str, float]:
    with _TABLE.open(encoding="utf-8", newline="") as file:
        return {letter: float(row["width"]) for row in csv.DictReader(file) for letter in row["letters"]}


def _letter_width(letter: str) -> float:
    known = _widths().get(letter)
    if known is not None:
        return known
    if unicodedata.combining(letter):
        return 0.0
    return _SQUARE if unicodedata.east_asian_width(letter) in "WF" else _UNKNOWN


def _broken(text: str) -> tuple[str, ...]:
    """Break a text into lines that fit: between words, and one that is too long after a hyphen, or within."""
    lines = [""]
    for word in text.split():
        for piece in _pieces(word):
            joined = f"{lines[-1]} {piece}" if lines[-1] else piece
            if text_width(joined) <= _WIDEST:
                lines[-1] = joined
            else:
                lines.append(piece)
    return tuple(lines)


def _pieces(word: str) -> Iterator[str]:
    piece = ""
    for part in _PARTS.findall(word):
        if piece and text_width(piece + part) > _WIDEST:
            yield piece
            piece = ""
        for letter in part:
            if piece and text_width(piece + letter) > _WIDEST:
                yield piece
                piece = ""
            piece += letter
    yield piece


def _needed(side: Sequence[int], heights: Sequence[int]) -> int:
    return sum(heights[at] + GAP for at in side)


def _sides(spots: Sequence[Point], heights: Sequence[int], width: float, drawn: float) -> tuple[list[int], list[int]]:
    """Part the spots into left and right; where one margin is full, those nearest to the middle go to the other."""
    by_x = sorted(range(len(spots)), key=lambda at: (spots[at][0], spots[at][1], at))
    xs = [spots[at][0] for at in by_x] or [0.0]
    # A bird is seldom in the middle of its page: what parts left from right is the middle of what is pointed at.
    middle = (xs[0] + xs[-1]) / 2 if xs[-1] - xs[0] > _SPREAD * width else width / 2
    cut = sum(1 for x in xs if x < middle) if spots else 0

    def excess(cut: int) -> float:
        return max(0.0, _needed(by_x[:cut], heights) - drawn, _needed(by_x[cut:], heights) - drawn)

    best = min(range(len(by_x) + 1), key=lambda each: (excess(each), abs(each - cut), each))

    def key(at: int) -> tuple[float, float, int]:
        return spots[at][1], spots[at][0], at

    return sorted(by_x[:best], key=key), sorted(by_x[best:], key=key)


def _tops(
    side: Sequence[int], spots: Sequence[Point], heights: Sequence[int], height: int
) -> Iterator[tuple[int, float]]:
    """Place the labels of a side as near to their spots as their order and the frame allow.

    The least squares under an order, by pooling neighbours that would overlap (Ayer et al. 1955).
    """
    offsets = [_needed(side[:at], heights) for at in range(len(side))]
    blocks: list[tuple[float, int]] = []
    for at, offset in zip(side, offsets, strict=True):
        mean, count = spots[at][1] - heights[at] / 2 - offset, 1
        while blocks and blocks[-1][0] > mean:
            before, many = blocks.pop()
            mean, count = (before * many + mean * count) / (many + count), many + count
        blocks.append((mean, count))
    room = height - _needed(side, heights) + (GAP if side else 0)
    wanted = [mean for mean, count in blocks for _ in range(count)]
    for at, offset, mean in zip(side, offsets, wanted, strict=True):
        yield at, round(min(max(mean, 0.0), room), 1) + offset


def _numbers(spots: Sequence[Point], left: Sequence[int], ends: tuple[float, float]) -> list[Point]:
    """Give each spot a place for its number: towards its margin, or where there is none yet."""
    found: list[Point] = []
    for at, (x, y) in enumerate(spots):
        outwards = -1 if at in left else 1
        ways = ((outwards, 0), (-outwards, 0), (0, -1), (0, 1), (outwards, -1), (outwards, 1), (-outwards, -1))
        places = [(round(x + _AWAY * far * a, 1), round(y + _AWAY * far * b, 1)) for far in (1, 2) for a, b in ways]
        inside = [
            (px, py)
            for px, py in places
            if MARGIN + _APART / 2 <= px <= WIDTH - MARGIN - _APART / 2
            and ends[0] + _APART / 2 <= py <= ends[1] - _APART / 2
        ]
        free = (place for place in inside if all(math.dist(place, other) >= _APART for other in (*found, *spots)))
        found.append(next(free, inside[0] if inside else (x, y)))
    return found
