"""How unlike two colours look: sRGB to CIELAB, and CIEDE2000 between them.

Only the order of rows comes from here, so that of two marks alike in worth the more striking is named
first. No verdict rests on it: words for colours are compared as words.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

_WHITE: Final = (0.95047, 1.0, 1.08883)
"""D65, as IEC 61966-2-1 (sRGB) has it, with Y = 1."""

_TO_XYZ: Final = (
    (0.4124, 0.3576, 0.1805),
    (0.2126, 0.7152, 0.0722),
    (0.0193, 0.1192, 0.9505),
)
"""Linear sRGB to XYZ, IEC 61966-2-1."""

_FAR: Final = 25.0**7
"""The constant of chroma in CIEDE2000."""


class Lab(NamedTuple):
    """A colour in CIELAB."""

    lightness: float
    """From 0, black, to 100, white."""

    a: float
    """Green below 0, red above."""

    b: float
    """Blue below 0, yellow above."""


def lab_of(colour: str) -> Lab:
    """Turn ``#rrggbb`` in sRGB into CIELAB under D65 (CIE 15:2004; IEC 61966-2-1)."""
    linear = [_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5)]
    x, y, z = (
        _root(sum(weight * value for weight, value in zip(row, linear, strict=True)) / white)
        for row, white in zip(_TO_XYZ, _WHITE, strict=True)
    )
    return Lab(116 * y - 16, 500 * (x - y), 200 * (y - z))


def _linear(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _root(value: float) -> float:
    return math.cbrt(value) if value > (6 / 29) ** 3 else value * (29 / 6) ** 2 / 3 + 4 / 29


def ciede2000(first: Lab, second: Lab) -> float:
    """Give the CIEDE2000 difference of two colours, weights 1 (CIE 142-2001).

    Hues are averaged as Sharma, Wu and Dalal 2005 (Color Res. Appl. 30:21-30) make plain.
    """
    mean = (math.hypot(first.a, first.b) + math.hypot(second.a, second.b)) / 2
    stretch = 1.5 - 0.5 * math.sqrt(mean**7 / (mean**7 + _FAR))
    c1, c2 = math.hypot(first.a * stretch, first.b), math.hypot(second.a * stretch, second.b)
    h1, h2 = _hue(first.a * stretch, first.b), _hue(second.a * stretch, second.b)

    turn = h2 - h1
    if c1 * c2 == 0:
        turn = 0.0
    elif abs(turn) > 180:
        turn -= math.copysign(360, turn)
    d_light, d_chroma = second.lightness - first.lightness, c2 - c1
    d_hue = 2 * math.sqrt(c1 * c2) * math.sin(math.radians(turn / 2))

    light, chroma = (first.lightness + second.lightness) / 2, (c1 + c2) / 2
    hue = h1 + h2 if c1 * c2 == 0 else (h1 + turn / 2) % 360
    shape = 1 - 0.17 * _cos(hue - 30) + 0.24 * _cos(2 * hue) + 0.32 * _cos(3 * hue + 6) - 0.20 * _cos(4 * hue - 63)
    by_light = 1 + 0.015 * (light - 50) ** 2 / math.sqrt(20 + (light - 50) ** 2)
    by_chroma = 1 + 0.045 * chroma
    by_hue = 1 + 0.015 * chroma * shape
    bend = -2 * math.sqrt(chroma**7 / (chroma**7 + _FAR))
    bend *= math.sin(math.radians(60 * math.exp(-(((hue - 275) / 25) ** 2))))
    parts = (d_light / by_light, d_chroma / by_chroma, d_hue / by_hue)
    return math.sqrt(sum(part**2 for part in parts) + bend * parts[1] * parts[2])


def _hue(a: float, b: float) -> float:
    return math.degrees(math.atan2(b, a)) % 360 if (a, b) != (0, 0) else 0.0


def _cos(degrees: float) -> float:
    return math.cos(math.radians(degrees))
