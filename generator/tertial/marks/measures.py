"""Two birds by a measure: how much their sizes overlap, in the hand and in the field.

A measure is taken as normal with the spread that was recorded. Where only a range is, its width is
divided by the width expected of so many birds, or by four when nobody says how many; the page then
says approximate. A mean alone has no spread, and is not compared.
"""

from __future__ import annotations

import math
from enum import StrEnum
from functools import cache
from statistics import NormalDist
from typing import Final, NamedTuple

from tertial.marks.tables import read_table
from tertial.marks.verdicts import Verdict, rounded, verdict_of

APART_IN_FIELD: Final = 1.25
"""Ratio of means from which a size can be seen beside a known bird; our own choice."""

MEASURES: Final = frozenset(row["measure"] for row in read_table("measures.csv"))
"""Measures that have a name of their own; every other is named as its part."""

_STEPS: Final = 2000
_REACH: Final = 9.0
"""The integral of the expected range runs over so many standard deviations, in so many steps."""


class Basis(StrEnum):
    """Where the spread of a measure comes from."""

    SD = "standard deviation as recorded"
    RANGE_OF_N = "range, divided by the width expected of so many birds"
    RANGE = "range, divided by four: approximate"


class Measured(NamedTuple):
    """A measure in one unit; the same unit for both birds."""

    low: float | None = None
    """Smallest value."""

    high: float | None = None
    """Largest value."""

    mean: float | None = None
    """Mean."""

    sd: float | None = None
    """Standard deviation."""

    n: int | None = None
    """Number of birds."""

    @property
    def centre(self) -> float | None:
        """The mean, or the middle of the range."""
        if self.mean is not None:
            return self.mean
        return None if self.low is None or self.high is None else (self.low + self.high) / 2


class Spread(NamedTuple):
    """A measure as a normal distribution."""

    mean: float
    """Its mean."""

    sd: float
    """Its standard deviation, above 0."""

    n: int | None
    """Number of birds, if known."""

    basis: Basis
    """Where the standard deviation comes from."""


class MeasureSeparation(NamedTuple):
    """What a measure of two birds came to."""

    first: Spread
    """The first bird."""

    second: Spread
    """The second bird."""

    overlap: float
    """Overlap coefficient of the two normals, from 0 to 1."""

    ratio: float
    """The larger mean over the smaller, 1 or more."""

    hand: Verdict
    """What it is worth on a bird in the hand, where it can be measured."""

    field: Verdict
    """What it is worth in the field: helpful at most."""

    @property
    def value(self) -> float:
        """Separation: what does not overlap."""
        return rounded(1 - self.overlap)


def spread_of(measured: Measured) -> Spread | None:
    """Give a measure as a normal distribution; None where no spread is recorded."""
    centre = measured.centre
    if centre is None:
        return None
    if measured.sd:
        return Spread(centre, measured.sd, measured.n, Basis.SD)
    if measured.low is None or measured.high is None or measured.high <= measured.low:
        return None
    width = measured.high - measured.low
    if measured.n and measured.n > 1:
        return Spread(centre, width / expected_range(measured.n), measured.n, Basis.RANGE_OF_N)
    return Spread(centre, width / 4, measured.n, Basis.RANGE)


_AS_GOOD_AS_ONE: Final = 1e-7
"""Two spreads that differ by no more of their size are taken for one: it moves an overlap by less than 1e-7."""


def separate_measures(first: Measured, second: Measured, visible: bool = True) -> MeasureSeparation | None:
    """Compare a measure of two birds.

    :param visible: the measure can be seen in the field at all; a mass cannot.
    :returns: None unless both have a spread, and a mean above 0.
    """
    a, b = spread_of(first), spread_of(second)
    if a is None or b is None or min(a.mean, b.mean) <= 0:
        return None
    # Where the two spreads are all but one, what the library reckons by divides nothing by nothing.
    other = a.sd if math.isclose(a.sd, b.sd, rel_tol=_AS_GOOD_AS_ONE) else b.sd
    overlap = NormalDist(a.mean, a.sd).overlap(NormalDist(b.mean, other))
    hand = verdict_of(rounded(1 - overlap), may_settle=True)
    ratio = max(a.mean, b.mean) / min(a.mean, b.mean)
    return MeasureSeparation(a, b, overlap, ratio, hand, in_field(hand, ratio, visible))


def in_field(hand: Verdict, ratio: float, visible: bool = True) -> Verdict:
    """Say what a size is worth in the field: at most helpful, and only if the means lie well apart."""
    if hand.rank <= Verdict.HELPFUL.rank:
        return Verdict.HELPFUL if visible and ratio >= APART_IN_FIELD else Verdict.WEAK
    return hand


@cache
def expected_range(n: int) -> float:
    """Give the width of the range expected of n values of a normal distribution, in standard deviations.

    Tippett 1925 (Biometrika 17:364-387): the integral of 1 - F(x)^n - (1 - F(x))^n.
    """
    normal = NormalDist()
    step = 2 * _REACH / _STEPS
    total = 0.0
    for at in range(_STEPS + 1):
        below = normal.cdf(-_REACH + at * step)
        weight = 0.5 if at in (0, _STEPS) else 1.0
        total += weight * (1 - below**n - math.pow(1 - below, n))
    return total * step
