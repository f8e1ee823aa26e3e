"""By how much a photographed page leans, told by its long straight lines: edges of the sheet, a frame, ruling.

A bird has none of these, and one line alone (a horizon, a perch) may lean because it was drawn so. Two long
lines apart from each other that lean alike are taken as witnesses; without them nothing is turned.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Grey = NDArray[np.floating]

MOST: Final = 5.5
"""Lean in degrees up to which a page is straightened; beyond it, it may be meant."""

LEAST: Final = 0.15
"""Lean in degrees that nobody sees."""

# Our own choices, tried on photos made for the tests and on drawings without any line.
_STEP: Final = 0.25
_FINE: Final = 0.05
_EDGE: Final = 0.05
_LONG: Final = 0.55
_APART: Final = 0.05
_WITNESSES: Final = 2


def lean(grey: Grey) -> float:
    """Tell how a page leans.

    :param grey: luminance from 0 to 1, rows by columns, some hundreds of pixels on a side.
    :returns: degrees clockwise from -5.5 to 5.5, or 0 where no two lines bear witness.
    """
    height, width = grey.shape
    logs = np.log(np.maximum(grey, 0.02))
    # Along lines that nearly lie, and along those that nearly stand: for the latter the picture is transposed,
    # which turns a lean into its opposite.
    lying, standing = _edges(logs), _edges(logs.T)
    coarse = np.arange(-MOST, MOST + _STEP / 2, _STEP)
    best = max(coarse, key=lambda angle: _evidence(lying, standing, angle))
    fine = np.arange(best - _STEP, best + _STEP + _FINE / 2, _FINE)
    best = float(max(fine, key=lambda angle: _evidence(lying, standing, angle)))
    seen = _long_lines(lying, best, width, height) + _long_lines(standing, -best, height, width)
    return best if seen >= _WITNESSES and LEAST <= abs(best) <= MOST else 0.0


def _edges(logs: Grey) -> tuple[Grey, Grey]:
    """Give x and y of the points at which brightness changes most from row to row."""
    down = np.abs(np.diff(logs, axis=0))[1:-1, 1:]
    across = np.abs(np.diff(logs, axis=1))[1:-2]
    steep = np.abs(np.diff(logs, axis=0))
    peak = (down >= steep[:-2, 1:]) & (down > steep[2:, 1:])
    y, x = np.nonzero((down > _EDGE) & (down > 2 * across) & peak)
    return x.astype(np.float32), y.astype(np.float32)


def _profile(points: tuple[Grey, Grey], angle: float) -> NDArray[np.int64]:
    """Count the points on each line that leans by an angle in degrees."""
    x, y = points
    if not len(x):
        return np.zeros(1, np.int64)
    rows = np.rint(y - x * math.tan(math.radians(angle))).astype(np.int64)
    return np.bincount(rows - rows.min())


def _evidence(lying: tuple[Grey, Grey], standing: tuple[Grey, Grey], angle: float) -> float:
    profiles = _profile(lying, angle), _profile(standing, -angle)
    return float(sum(np.square(profile.astype(np.float64)).sum() for profile in profiles))


def _long_lines(points: tuple[Grey, Grey], angle: float, length: int, across: int) -> int:
    """Count lines of some length that lean by an angle, each well apart from the next.

    What counts is how much of its length a line covers, not how many points lie near it: hatching and bark
    heap up points in places, where a true line has them all along.
    """
    x, y = points
    if not len(x):
        return 0
    rows = np.rint(y - x * math.tan(math.radians(angle))).astype(np.int64)
    covered = np.zeros((int(rows.max() - rows.min()) + 3, length), np.bool_)
    for near in range(3):
        covered[rows - rows.min() + near, x.astype(np.int64)] = True
    seen, last = 0, -math.inf
    for row in np.nonzero(covered.sum(axis=1) >= _LONG * length)[0]:
        if row - last >= _APART * across:
            seen += 1
            last = float(row)
    return seen
