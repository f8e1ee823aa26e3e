"""The named spots of a drawing, carried by one affine map to pixels of its picture, and told as an entry does.

A spot is ``<circle class="spot" data-name="bill tip" cx="…" cy="…" r="1" fill="none"/>``, a child of the
drawing's root, so that its coordinates are those of the view box and no transform is between. Nobody types a
coordinate into an entry: draw anew, and the lines follow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final
from xml.etree import ElementTree

if TYPE_CHECKING:
    from collections.abc import Mapping

SVG: Final = "{http://www.w3.org/2000/svg}"

SCALE: Final = ("bill tip", "tail tip")
"""The two spots whose distance is the length of the bird."""

HEAD: Final = ("head from", "head to")
"""Corners of the box round the head."""

SILENT: Final = frozenset({*SCALE, *HEAD, "bill base", "eye"})
"""Spots that no pointer leads to; every other one becomes a pointer, in the order drawn."""


@dataclass(frozen=True, slots=True)
class Affine:
    """A map of the plane: ``x' = a x + b y + c`` and ``y' = d x + e y + f``."""

    a: float
    """Share of x in x'."""

    b: float
    """Share of y in x'."""

    c: float
    """What is added to x'."""

    d: float
    """Share of x in y'."""

    e: float
    """Share of y in y'."""

    f: float
    """What is added to y'."""

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Carry a point."""
        return self.a * x + self.b * y + self.c, self.d * x + self.e * y + self.f

    def back(self) -> Affine:
        """Give the map that undoes this one; a map that folds the plane has none and raises ZeroDivisionError."""
        det = self.a * self.e - self.b * self.d
        a, b, d, e = self.e / det, -self.b / det, -self.d / det, self.a / det
        return Affine(a, b, -(a * self.c + b * self.f), d, e, -(d * self.c + e * self.f))


def turned(centre: tuple[float, float], scale: float, degrees: float, to: tuple[float, float]) -> Affine:
    """Make the map that scales and turns about a point and lays that point elsewhere.

    :param centre: the point about which is turned.
    :param scale: pixels a unit of the drawing.
    :param degrees: clockwise, as y grows downwards.
    :param to: where the centre comes to lie, in pixels.
    """
    turn = math.radians(degrees)
    cos, sin = scale * math.cos(turn), scale * math.sin(turn)
    x, y = centre
    return Affine(cos, -sin, to[0] - cos * x + sin * y, sin, cos, to[1] - sin * x - cos * y)


@dataclass(frozen=True, slots=True)
class Drawing:
    """What is known of a drawing without rendering it."""

    width: float
    """Width of the view box; its corner is 0, 0."""

    height: float
    """Height of the view box."""

    spots: Mapping[str, tuple[float, float]]
    """Named spots in units of the view box, in the order drawn."""


def read_drawing(svg: str) -> Drawing:
    """Read size and spots of a drawing.

    :raises ValueError: for a spot inside a group, a name that stands twice, or a view box that begins elsewhere.
    """
    root = ElementTree.fromstring(svg)
    left, top, width, height = map(float, root.get("viewBox", "").split())
    if (left, top) != (0, 0):
        raise ValueError("the view box does not begin at 0, 0")
    marked = [circle for circle in root.iter(f"{SVG}circle") if circle.get("class") == "spot"]
    outer = [circle for circle in root if circle in marked]
    if len(outer) != len(marked):
        raise ValueError("a spot stands inside a group, where a transform may hide")
    spots = {each.get("data-name", ""): (float(each.get("cx", "")), float(each.get("cy", ""))) for each in marked}
    if len(spots) != len(marked):
        raise ValueError("two spots have one name")
    return Drawing(width, height, spots)


def lines_of(drawing: Drawing, to_pixels: Affine) -> list[str]:
    """Tell the spots as lines of a sketch in an entry: scale, head, pointers; what has no spots has no line.

    The box of a turned head is that of its four corners.
    """
    spots = drawing.spots
    lines = []
    if all(name in spots for name in SCALE):
        start, end = (f"{name} {_text(to_pixels.at(*spots[name]))}" for name in SCALE)
        lines.append(f"    scale: {start} to {end}")
    if all(name in spots for name in HEAD):
        (left, top), (right, bottom) = (spots[name] for name in HEAD)
        corners = [to_pixels.at(x, y) for x in (left, right) for y in (top, bottom)]
        low, high = (tuple(side(each) for each in zip(*corners, strict=True)) for side in (min, max))
        lines.append(f"    head: {_text(low)} to {_text(high)}")
    pointers = [name for name in spots if name not in SILENT]
    if pointers:
        lines += ["    pointers:", *(f"      - {_text(to_pixels.at(*spots[name]))} {name}" for name in pointers)]
    return lines


def told(entry: str, name: str, lines: list[str]) -> str:
    """Give an entry's text with the lines of one sketch made anew; other lines stay as they are.

    :param entry: the whole text.
    :param name: the sketch's file name; the same stem with another suffix is taken for it too.
    :param lines: what ``lines_of`` gives.
    """
    stem = name.rpartition(".")[0]
    out: list[str] = []
    inside = dropping = False
    for line in entry.split("\n"):
        if inside and not line.startswith("    "):
            out += lines
            inside = False
        if line.startswith("  - file: ") and line.removeprefix("  - file: ").rpartition(".")[0] == stem:
            inside, line = True, f"  - file: {name}"  # noqa: PLW2901 - the line is the thing that is renewed
        if inside and line.startswith("    ") and not line.startswith("     "):
            dropping = line.strip().startswith(("scale:", "head:", "pointers:"))
        if not (inside and dropping and line.startswith("    ")):
            out.append(line)
    return "\n".join(out)


def _text(point: tuple[float, ...]) -> str:
    return ",".join(str(round(value)) for value in point)
