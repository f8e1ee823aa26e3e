"""Sketches of several birds at one scale on one ground, with a bar of so many centimetres.

Pure geometry in a frame of its own. One unit of it is shown as one pixel of the screen or less, so that what is
not enlarged here is not enlarged there. Groups of sketches, such as one plumage of two birds, stay together.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.sketches.labels import text_width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    Point = tuple[float, float]
    Edges = tuple[float, float, float, float]

WIDTH: Final = 1000
"""Width of the frame in its units, if the sketches fill it."""

LETTER: Final = 40
"""Size of the letters on the narrowest screens; the style sheet makes them smaller on others."""

# Our own choices, in units of the frame.
TALLEST: Final = 900
"""Its height without that of the bar."""

PLATE_GAP: Final = 24
"""What is left between two birds of a group."""
_BETWEEN: Final = 40
_LINE: Final = 46
_ABOVE: Final = 16
BAR_ROOM: Final = 70
"""What the bar takes of the height."""

_BAR_SHARE: Final = 0.3
_ROUND: Final = (5.0, 2.0, 1.0)
_HALVINGS: Final = 50


class Sketch(NamedTuple):
    """One sketch as it is to be placed."""

    size: Point
    """Width and height of the published picture in pixels."""

    drawn: Edges
    """Left, upper, right and lower edge of what is drawn in it, in pixels."""

    per_cm: float
    """Pixels of it to a centimetre of the bird."""

    foot: float | None = None
    """How far down the bird stands in it, in pixels; None for the lowest that is drawn."""

    words: tuple[str, ...] = ()
    """Lines to stand under it, for which there must be room."""

    @property
    def ground(self) -> float:
        """How far down the ground is, in pixels."""
        return self.drawn[3] if self.foot is None else self.foot


class Placed(NamedTuple):
    """Where a sketch stands in the frame."""

    x: float
    """Left edge of the whole picture."""

    y: float
    """Its upper edge."""

    width: float
    """Its width."""

    height: float
    """Its height."""

    middle: float
    """Middle of its words."""

    baselines: tuple[tuple[float, str], ...]
    """Each line of its words with the height on which its letters stand."""


class Ground(NamedTuple):
    """The line on which a row of birds stands."""

    y: float
    """How far down it is."""

    start: float
    """Where it begins."""

    end: float
    """Where it ends."""


class Bar(NamedTuple):
    """The bar of the scale."""

    cm: float
    """Its length in life."""

    length: float
    """Its length in the frame."""

    x: float
    """Where it begins."""

    y: float
    """How far down it is."""


class ScalePlate(NamedTuple):
    """Sketches at one scale."""

    width: int
    """Width of the frame; on a screen it is at most so many pixels wide."""

    height: int
    """Height of the frame."""

    per_cm: float
    """Units of the frame to a centimetre."""

    placed: tuple[Placed, ...]
    """The sketches, group after group in the order given."""

    grounds: tuple[Ground, ...]
    """The ground of each row, from the top down."""

    bar: Bar
    """The bar of the scale."""

    held_back: int | None
    """The sketch, counted through all groups, whose pixels kept the plate from being larger; None where none did."""


def pixels_per_cm(start: Point, end: Point, cm: float) -> float:
    """Give the scale of a sketch.

    :param start: one spot in pixels.
    :param end: another.
    :param cm: how far they are apart in life, in centimetres; more than nothing.
    """
    return math.dist(start, end) / cm


def lean_of(start: Point, end: Point) -> float:
    """Give by how many degrees the line from bill to tail falls: 0 when level, 90 upright, negative head down."""
    return math.degrees(math.atan2(end[1] - start[1], abs(end[0] - start[0])))


def lay_out(groups: Sequence[Sequence[Sketch]], frame: Point = (WIDTH, TALLEST)) -> ScalePlate:
    """Lay out sketches at one scale, as large as they and the frame allow.

    :param groups: at least one sketch; the sketches of a group stand in one row.
    :param frame: its width and height, in its units, and without the room of the bar.
    """
    every = [sketch for group in groups for sketch in group]
    sharpest = min(range(len(every)), key=lambda at: every[at].per_cm)
    most = every[sharpest].per_cm
    choices = [_rows(groups, count) for count in range(1, len(groups) + 1)]
    rows = max(choices, key=lambda rows: (_largest(rows, most, frame), -len(rows)))
    per_cm = _largest(rows, most, frame)
    width = math.ceil(max(_row_width(row, per_cm) for row in rows))
    placed: list[Placed] = []
    grounds: list[Ground] = []
    y = 0.0
    for row in rows:
        ground = y + _ABOVE + _above(row, per_cm)
        grounds.append(Ground(round(ground, 1), 0, width))
        placed.extend(_placed(row, per_cm, ground, (width - _row_width(row, per_cm)) / 2))
        y += _row_height(row, per_cm)
    bar = _bar(width, per_cm, y)
    held_back = sharpest if per_cm >= most * (1 - 1e-9) else None
    return ScalePlate(width, math.ceil(y + BAR_ROOM), per_cm, tuple(placed), tuple(grounds), bar, held_back)


_Row = list["Sequence[Sketch]"]


def _rows(groups: Sequence[Sequence[Sketch]], count: int) -> list[_Row]:
    """Part the groups into so many rows of like number, the longer ones first."""
    least, more = divmod(len(groups), count)
    ends = [at * least + min(at, more) for at in range(count + 1)]
    return [list(groups[start:end]) for start, end in pairwise(ends)]


def _largest(rows: Sequence[_Row], most: float, frame: Point) -> float:
    """Find by halving the largest scale at which the rows fit into the frame, but no larger than ``most``."""

    def fits(per_cm: float) -> bool:
        wide = max(_row_width(row, per_cm) for row in rows)
        return wide <= frame[0] and sum(_row_height(row, per_cm) for row in rows) <= frame[1] + BAR_ROOM * len(rows)

    if fits(most):
        return most
    low, high = 0.0, most
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


def _cell(sketch: Sketch, per_cm: float) -> float:
    return max((sketch.drawn[2] - sketch.drawn[0]) * per_cm / sketch.per_cm, words_width(sketch.words))


@lru_cache(maxsize=1024)
def words_width(words: tuple[str, ...]) -> float:
    """Give the width that lines of words need on the narrowest screens; a scale is sought in many steps, so kept."""
    return max((text_width(line) * LETTER for line in words), default=0.0)


def _row_width(row: _Row, per_cm: float) -> float:
    cells = [_cell(sketch, per_cm) for group in row for sketch in group]
    return sum(cells) + PLATE_GAP * (len(cells) - 1) + _BETWEEN * (len(row) - 1)


def _above(row: _Row, per_cm: float) -> float:
    return max((each.ground - each.drawn[1]) * per_cm / each.per_cm for group in row for each in group)


def _below(row: _Row, per_cm: float) -> float:
    return max((each.drawn[3] - each.ground) * per_cm / each.per_cm for group in row for each in group)


def _row_height(row: _Row, per_cm: float) -> float:
    lines = max(len(sketch.words) for group in row for sketch in group)
    return _ABOVE + _above(row, per_cm) + _below(row, per_cm) + _LINE * lines + _ABOVE


def _placed(row: _Row, per_cm: float, ground: float, x: float) -> Iterator[Placed]:
    words_at = ground + _below(row, per_cm)
    for group in row:
        for sketch in group:
            zoom = per_cm / sketch.per_cm
            cell = _cell(sketch, per_cm)
            left = x + (cell - (sketch.drawn[2] - sketch.drawn[0]) * zoom) / 2
            yield Placed(
                round(left - sketch.drawn[0] * zoom, 2),
                round(ground - sketch.ground * zoom, 2),
                round(sketch.size[0] * zoom, 2),
                round(sketch.size[1] * zoom, 2),
                round(x + cell / 2, 1),
                tuple((round(words_at + _LINE * at + 0.9 * LETTER, 1), line) for at, line in enumerate(sketch.words)),
            )
            x += cell + PLATE_GAP
        x += _BETWEEN


def _bar(width: float, per_cm: float, y: float) -> Bar:
    """Give the longest bar of 1, 2 or 5 times a power of ten centimetres that takes up no more than its share."""
    cm = _BAR_SHARE * width / per_cm
    power = 10.0 ** math.floor(math.log10(cm))
    length = next(step * power for step in _ROUND if step * power <= cm * (1 + 1e-9))
    return Bar(round(length, 9), round(length * per_cm, 2), 0.0, round(y + 0.5 * BAR_ROOM, 1))
