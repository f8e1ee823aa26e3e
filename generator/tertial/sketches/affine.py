"""Affine maps of the plane: how a spot of the author's file comes to lie in the published picture."""

from __future__ import annotations

import math
from typing import NamedTuple


class Affine(NamedTuple):
    """The map ``x' = a x + b y + c``, ``y' = d x + e y + f``, in pixels, with the first pixel from 0 to 1."""

    a: float = 1.0
    """What a step to the right adds to x'."""

    b: float = 0.0
    """What a step downwards adds to x'."""

    c: float = 0.0
    """Where x' begins."""

    d: float = 0.0
    """What a step to the right adds to y'."""

    e: float = 1.0
    """What a step downwards adds to y'."""

    f: float = 0.0
    """Where y' begins."""

    @property
    def numbers(self) -> tuple[float, float, float, float, float, float]:
        """The six numbers in their order."""
        return self.a, self.b, self.c, self.d, self.e, self.f

    @property
    def zoom(self) -> float:
        """How much longer a line becomes, taken over all directions: for lengths in a picture kept in proportion."""
        return math.sqrt(abs(self.a * self.e - self.b * self.d))

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Give where a spot comes to lie."""
        return self.a * x + self.b * y + self.c, self.d * x + self.e * y + self.f

    def then(self, after: Affine) -> Affine:
        """Give the map that does this one first and another one after it."""
        c, f = after.at(self.c, self.f)
        return Affine(
            after.a * self.a + after.b * self.d,
            after.a * self.b + after.b * self.e,
            c,
            after.d * self.a + after.e * self.d,
            after.d * self.b + after.e * self.e,
            f,
        )

    def inverse(self) -> Affine:
        """Give the way back. A map that makes an area vanish has none: ``ZeroDivisionError``."""
        area = self.a * self.e - self.b * self.d
        a, b, d, e = self.e / area, -self.b / area, -self.d / area, self.a / area
        return Affine(a, b, -a * self.c - b * self.f, d, e, -d * self.c - e * self.f)


def scaled(x: float, y: float) -> Affine:
    """Give the map that stretches both axes from the upper left corner."""
    return Affine(a=x, e=y)


def shifted(x: float, y: float) -> Affine:
    """Give the map that moves everything."""
    return Affine(c=x, f=y)


def turned(degrees: float) -> Affine:
    """Give the turn round the upper left corner, clockwise as a viewer sees it because y runs downwards."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Affine(cos, -sin, 0.0, sin, cos, 0.0)
