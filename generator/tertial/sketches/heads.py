"""Heads of look-alikes at one length, facing one way, bill base under bill base; and two outlines over each other.

Pure geometry in a frame of its own, of which one unit is shown as one pixel of the screen or less. A head is as long
as from the base of the bill to the back of its box. Where that base is not known of every head, head and bill are
taken together. A head is placed as if it faced left; one that faces right is mirrored.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.sketches.plate import LETTER, WIDTH, words_width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    Point = tuple[float, float]
    Edges = tuple[float, float, float, float]

IN_A_ROW: Final = (4, 2, 1)
"""So many heads stand beside each other, the first of these for whose words there is room; a pair is never parted."""

# Our own choices, in units of the frame; the margin is a share of the box.
_LONGEST: Final = 200.0
_OVERLAID: Final = 420.0
_GAP: Final = 26
_LINE: Final = 46
_MARGIN: Final = 0.05


class Traced(NamedTuple):
    """The outline of a head, in pixels of the published picture."""

    line: tuple[Point, ...]
    """From the crown over the bill to the throat."""

    base: Point | None
    """The base of the bill: the middle of where the head is nearly half as deep as its box; None where it never is."""


class Head(NamedTuple):
    """One head as it is to be placed; all spots are in pixels of the published picture."""

    size: Point
    """Width and height of the published picture."""

    box: Edges
    """Left, upper, right and lower edge of the head."""

    faces_left: bool = True
    """Which way it looks."""

    base: Point | None = None
    """The base of the bill, as far as it is known."""

    eye: Point | None = None
    """The eye, likewise."""

    outline: tuple[Point, ...] = ()
    """Its outline from crown to throat; empty where it could not be traced."""

    words: tuple[str, ...] = ()
    """Lines to stand under it."""

    @property
    def back(self) -> float:
        """The edge of the box behind the head."""
        return self.box[2] if self.faces_left else self.box[0]

    @property
    def front(self) -> float:
        """The edge of the box before the bill."""
        return self.box[0] if self.faces_left else self.box[2]

    @property
    def length(self) -> float:
        """Its length in pixels, from the base of the bill where that is known, else with the bill."""
        return abs(self.back - (self.base[0] if self.base else self.front))


class PlacedHead(NamedTuple):
    """Where a head stands in the frame, as a window on its picture."""

    x: float
    """Left edge of the window."""

    y: float
    """Its upper edge."""

    width: float
    """Its width."""

    height: float
    """Its height."""

    window: Edges
    """Left and upper edge, width and height of what it shows, in pixels of the picture as placed."""

    mirrored: bool
    """The picture is mirrored first."""

    middle: float
    """Middle of its words."""

    baselines: tuple[tuple[float, str], ...]
    """Each line of its words with the height on which its letters stand."""


class HeadStrip(NamedTuple):
    """Heads at one length."""

    width: int
    """Width of the frame; on a screen it is at most so many pixels wide."""

    height: int
    """Height of the frame."""

    heads: tuple[PlacedHead, ...]
    """The heads, in the order given."""

    from_bill_base: bool
    """Their length leaves out the bill; else it is that of head and bill together."""

    length: float
    """The one length."""


class Overlay(NamedTuple):
    """Two outlines over each other."""

    width: int
    """Width of the frame; on a screen it is at most so many pixels wide."""

    height: int
    """Height of the frame."""

    paths: tuple[str, str]
    """Both lines, as path data of SVG."""


def lay_heads(heads: Sequence[Head]) -> HeadStrip:
    """Place heads at one length, as large as they and the frame allow.

    :param heads: at least one, each with a box that has an area.
    """
    alike, from_bill_base = _alike(heads)
    words = max(words_width(head.words) for head in alike)
    most = next((each for each in IN_A_ROW if each * (words + _GAP) <= WIDTH + _GAP), IN_A_ROW[-1])
    # What is odd in number is no set of pairs, and may be parted into rows of like length.
    most = math.ceil(len(alike) / math.ceil(len(alike) / most)) if len(alike) % 2 else most
    rows = [alike[at : at + most] for at in range(0, len(alike), most)]
    across = max(len(row) for row in rows)
    # In lengths of a head: what lies before and behind the bill's base, and above and below eye or base.
    edges = [_relative(head) for head in alike]
    before, over = -min(edge[0] for edge in edges), -min(edge[1] for edge in edges)
    behind, under = max(edge[2] for edge in edges), max(edge[3] for edge in edges)
    room = (WIDTH - _GAP * (across - 1)) / across
    # No head is enlarged.
    length = min(_LONGEST, room / (before + behind), *(head.length for head in alike))
    cell, tall = max(words, (before + behind) * length), (over + under) * length
    # Words wider than the heads leave room on both sides.
    before += (cell / length - before - behind) / 2
    lines = max(len(head.words) for head in alike)
    step = tall + _LINE * lines + _GAP
    placed = tuple(
        _placed(head, (column * (cell + _GAP) + before * length, row * step + over * length), length)
        for row, members in enumerate(rows)
        for column, head in enumerate(members)
    )
    width = math.ceil(across * cell + _GAP * (across - 1))
    return HeadStrip(width, math.ceil(len(rows) * step), placed, from_bill_base, round(length, 2))


def overlay(first: Head, second: Head) -> Overlay | None:
    """Lay the outlines of two heads over each other; None where one has none."""
    if not (first.outline and second.outline):
        return None
    (first, second), _ = _alike((first, second))
    sides = []
    for head in (first, second):
        anchor, zoom, way = _anchor(head), 1 / head.length, 1 if head.faces_left else -1
        sides.append([((x - anchor[0]) * zoom * way, (y - anchor[1]) * zoom) for x, y in head.outline])
    left, upper = min(x for side in sides for x, _ in side), min(y for side in sides for _, y in side)
    right, lower = max(x for side in sides for x, _ in side), max(y for side in sides for _, y in side)
    zoom = min(_OVERLAID, (WIDTH - 2 * _GAP) / (right - left))
    paths = (
        smooth_path([(_GAP / 2 + (x - left) * zoom, _GAP / 2 + (y - upper) * zoom) for x, y in side]) for side in sides
    )
    width, height = math.ceil((right - left) * zoom + _GAP), math.ceil((lower - upper) * zoom + _GAP)
    return Overlay(width, height, (next(paths), next(paths)))


def bill_share(head: Head) -> float | None:
    """Give the length of the bill as a share of the head's, both as drawn; None where its base is not known."""
    if head.base is None or not head.outline:
        return None
    pick = min if head.faces_left else max
    tip = pick(head.outline, key=lambda point: point[0])
    return math.dist(tip, head.base) / head.length


def smooth_path(points: Sequence[Point]) -> str:
    """Give path data of SVG for a line that goes smoothly through points (Catmull and Rom 1974)."""
    parts = [f"M{points[0][0]:.1f} {points[0][1]:.1f}"]
    for at in range(len(points) - 1):
        before, start, end = points[max(0, at - 1)], points[at], points[at + 1]
        after = points[min(len(points) - 1, at + 2)]
        numbers = (
            start[0] + (end[0] - before[0]) / 6,
            start[1] + (end[1] - before[1]) / 6,
            end[0] - (after[0] - start[0]) / 6,
            end[1] - (after[1] - start[1]) / 6,
            *end,
        )
        parts.append("C" + " ".join(f"{number:.1f}" for number in numbers))
    return "".join(parts)


def _alike(heads: Sequence[Head]) -> tuple[list[Head], bool]:
    """Measure all heads the same way, and set them level by the eye if it is known of all of them."""
    from_base = all(head.base is not None and head.length > 0 for head in heads)
    by_eye = all(head.eye is not None for head in heads)
    return [
        head._replace(base=head.base if from_base else None, eye=head.eye if by_eye else None) for head in heads
    ], from_base


def _anchor(head: Head) -> Point:
    """Give the spot that lies on the same spot of every head."""
    x = head.base[0] if head.base else head.front
    if head.eye:
        return x, head.eye[1]
    return x, head.base[1] if head.base else (head.box[1] + head.box[3]) / 2


def _shown(head: Head) -> Edges:
    """Give the box with a margin everywhere but behind, where the body begins."""
    left, upper, right, lower = head.box
    margin = _MARGIN * (right - left)
    return (
        max(0.0, left - margin if head.faces_left else left),
        max(0.0, upper - margin),
        min(head.size[0], right if head.faces_left else right + margin),
        min(head.size[1], lower + margin),
    )


def _relative(head: Head) -> Edges:
    """Give the edges of what is shown, as seen from its anchor with the head facing left, in lengths of the head."""
    left, upper, right, lower = _shown(head)
    x, y = _anchor(head)
    before, behind = (left - x, right - x) if head.faces_left else (x - right, x - left)
    return before / head.length, (upper - y) / head.length, behind / head.length, (lower - y) / head.length


def _placed(head: Head, anchor: Point, length: float) -> PlacedHead:
    left, upper, right, lower = _relative(head)
    shown = _shown(head)
    window_left = shown[0] if head.faces_left else head.size[0] - shown[2]
    x, y = anchor[0] + left * length, anchor[1] + upper * length
    middle = anchor[0] + (left + right) / 2 * length
    return PlacedHead(
        round(x, 2),
        round(y, 2),
        round((right - left) * length, 2),
        round((lower - upper) * length, 2),
        (round(window_left, 1), round(shown[1], 1), round(shown[2] - shown[0], 1), round(shown[3] - shown[1], 1)),
        not head.faces_left,
        round(middle, 1),
        tuple(_baselines(head.words, anchor[1] + lower * length)),
    )


def _baselines(words: Sequence[str], y: float) -> Iterator[tuple[float, str]]:
    return ((round(y + _LINE * at + 0.9 * LETTER, 1), line) for at, line in enumerate(words))
