"""A position made as coarse as its author wants it told.

The method is that of Chapman 2020 (Current Best Practices for Generalizing Sensitive Species
Occurrence Data, GBIF, doi 10.15468/doc-5jp4-5g10): a decimal geographic grid, never a random shift.
Given is the centre of the cell with half its diagonal as the uncertainty, because a corner would double
the radius. The diagonal is that of the side nearer to the equator, where the cell is widest, so that no
position in it is farther away than is told.
"""

from __future__ import annotations

import math
from decimal import ROUND_FLOOR, Decimal
from typing import Final, NamedTuple

# WGS84: equatorial radius in metres and flattening (NIMA TR8350.2, 3rd ed.).
_RADIUS: Final = 6_378_137.0
_FLATTENING: Final = 1 / 298.257223563


class Cell(NamedTuple):
    """A cell of the grid in which the position lies."""

    latitude: Decimal
    """Latitude of its centre, in degrees north."""

    longitude: Decimal
    """Longitude of its centre, in degrees east."""

    metres: int
    """Half its diagonal in metres, rounded up: how far off the position may be."""


def cell_of(latitude: Decimal, longitude: Decimal, degrees: Decimal) -> Cell:
    """Find the cell that a position lies in.

    :param latitude: degrees north, from -90 to 90.
    :param longitude: degrees east, from -180 to 180.
    :param degrees: side of the cells, above 0.
    """
    south, west = _corner(latitude, degrees, 90), _corner(longitude, degrees, 180)
    half = degrees / 2
    widest = min(abs(south), abs(south + degrees))
    return Cell(south + half, west + half, math.ceil(_half_diagonal(float(widest), float(degrees))))


def _corner(value: Decimal, degrees: Decimal, limit: int) -> Decimal:
    # Floor, not truncation: west and south of nought a cell begins at its smaller number too. The end of
    # the scale belongs to the last cell, because there is none behind it.
    corner = (value / degrees).to_integral_value(ROUND_FLOOR) * degrees
    return min(corner, limit - degrees)


def _half_diagonal(latitude: float, degrees: float) -> float:
    """Half the diagonal of a cell in metres, from the radii of curvature at a latitude."""
    square = _FLATTENING * (2 - _FLATTENING)
    sine = math.sin(math.radians(latitude))
    root = 1 - square * sine * sine
    along_meridian = _RADIUS * (1 - square) / root**1.5
    along_parallel = _RADIUS / math.sqrt(root) * math.cos(math.radians(latitude))
    return math.radians(degrees) / 2 * math.hypot(along_meridian, along_parallel)
