"""A position made coarse: the right cell, told truly, and never more of it than asked for."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tertial.outings.position import Cell, cell_of

GRADES = ("1", "0.1", "0.01", "0.001")

# WGS84 (NIMA TR8350.2, 3rd ed.): equatorial radius in metres and first eccentricity squared.
RADIUS = 6_378_137.0
ECCENTRICITY = 6.69437999014e-3

grades = st.sampled_from(GRADES).map(Decimal)
latitudes = st.decimals(-90, 90, places=6)
longitudes = st.decimals(-180, 180, places=6)


def in_space(latitude: float, longitude: float) -> tuple[float, float, float]:
    """Give a position on the ellipsoid in rectangular metres."""
    north, east = math.radians(latitude), math.radians(longitude)
    normal = RADIUS / math.sqrt(1 - ECCENTRICITY * math.sin(north) ** 2)
    flat = normal * math.cos(north)
    return flat * math.cos(east), flat * math.sin(east), normal * (1 - ECCENTRICITY) * math.sin(north)


def cell(latitude: str, longitude: str, degrees: str) -> Cell:
    return cell_of(Decimal(latitude), Decimal(longitude), Decimal(degrees))


@pytest.mark.parametrize(
    ("latitude", "longitude", "degrees", "north", "east"),
    [
        ("44.97778", "-93.26500", "0.1", "44.95", "-93.25"),
        ("44.97778", "-93.26500", "0.01", "44.975", "-93.265"),
        ("-33.86882", "151.20930", "0.1", "-33.85", "151.25"),
        ("44.97778", "-93.26500", "1", "44.5", "-93.5"),
        ("44.97778", "-93.26500", "0.001", "44.9775", "-93.2645"),
    ],
)
def test_the_centre_of_the_cell_is_given(latitude: str, longitude: str, degrees: str, north: str, east: str) -> None:
    """The cells are those of a decimal grid that begins at nought, negative degrees included.

    Outside check: grid and centre after Chapman 2020 (doi 10.15468/doc-5jp4-5g10), worked by hand.
    """
    found = cell(latitude, longitude, degrees)
    assert (str(found.latitude), str(found.longitude)) == (north, east)


@pytest.mark.parametrize(
    ("latitude", "metres"),
    [
        ("0", (78452, 7845, 785, 78)),
        ("45", (68131, 6813, 681, 68)),
        ("60", (62302, 6230, 623, 62)),
    ],
)
def test_half_the_diagonal_is_the_uncertainty(latitude: str, metres: tuple[int, ...]) -> None:
    """Of a cell that begins at a latitude, the radius is the known one, rounded up.

    Outside check: half-diagonals of grid cells on WGS84, the method of Chapman 2020, section on grids.
    """
    for degrees, expected in zip(GRADES, metres, strict=True):
        assert 0 <= cell(latitude, "10", degrees).metres - expected <= 1


@given(latitudes, longitudes, grades)
@example(Decimal(90), Decimal(180), Decimal(1))
@example(Decimal(-90), Decimal(-180), Decimal(1))
@example(Decimal("-0.000001"), Decimal("0.000001"), Decimal("0.1"))
@settings(deadline=None)
def test_the_true_position_lies_in_the_cell(latitude: Decimal, longitude: Decimal, degrees: Decimal) -> None:
    """It is within half a side of the centre, and no farther from it than is told."""
    found = cell_of(latitude, longitude, degrees)
    assert abs(found.latitude - latitude) <= degrees / 2
    assert abs(found.longitude - longitude) <= degrees / 2
    assert abs(found.latitude) < 90
    assert abs(found.longitude) < 180
    true = in_space(float(latitude), float(longitude))
    told = in_space(float(found.latitude), float(found.longitude))
    assert math.dist(true, told) <= found.metres


@given(latitudes, longitudes, grades)
@settings(deadline=None)
def test_the_whole_cell_looks_the_same(latitude: Decimal, longitude: Decimal, degrees: Decimal) -> None:
    """What is told depends on the cell alone, so that nothing else of the position can be worked out."""
    found = cell_of(latitude, longitude, degrees)
    assert cell_of(found.latitude, found.longitude, degrees) == found
    digits = -degrees.normalize().as_tuple().exponent if degrees < 1 else 0  # type: ignore[operator]
    for told in (found.latitude, found.longitude):
        assert told == round(told, digits + 1)
