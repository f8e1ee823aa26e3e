"""Measures of two birds: overlap, spread from a range, and what a size is worth in the field."""

from __future__ import annotations

from itertools import combinations
from statistics import NormalDist

import numpy as np
import palmerpenguins
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from tertial.marks.measures import Basis, Measured, expected_range, separate_measures, spread_of
from tertial.marks.verdicts import Verdict

OVERLAPS = (
    ((10, 1), (12, 2), 0.453388),
    ((0.5, 1), (0.5, 2), 0.677325),
    ((100, 10), (110, 15), 0.653877),
    ((2.4, 1.6), (3.2, 2.0), 0.803505),
    ((10, 1), (10.2, 1), 0.920344),
    ((10, 1), (12, 1), 0.317311),
    ((10, 1), (14, 1), 0.045500),
)
"""Inman and Bradley 1989, Commun. Statist. Theory Methods 18:3851-3874: 2 F(-d/2) for equal spreads; the fourth
is the worked example of Python's own NormalDist."""

TIPPETT = {2: 1.128, 3: 1.693, 4: 2.059, 5: 2.326, 6: 2.534, 8: 2.847, 10: 3.078, 15: 3.472, 20: 3.735, 25: 3.931}
"""Tippett 1925, Biometrika 17:364-387, mean range of n normal values; written down from memory of the table."""

PENGUINS = {
    ("Adelie", "Chinstrap", "bill_length_mm", None): 0.0936,
    ("Adelie", "Chinstrap", "bill_depth_mm", None): 0.9598,
    ("Adelie", "Chinstrap", "body_mass_g", None): 0.9108,
    ("Adelie", "Gentoo", "flipper_length_mm", None): 0.0365,
    ("Chinstrap", "Gentoo", "bill_length_mm", None): 0.8331,
    ("Adelie", "Chinstrap", "bill_length_mm", "female"): 0.0679,
    ("Adelie", "Chinstrap", "bill_length_mm", "male"): 0.0052,
    ("Adelie", "Chinstrap", "body_mass_g", "female"): 0.7742,
    ("Adelie", "Chinstrap", "body_mass_g", "male"): 0.8816,
}
"""Overlap of normals with the means and standard deviations of Gorman, Williams and Fraser 2014 (PLoS ONE
9:e90081), computed with SciPy from the data set as published in the package palmerpenguins."""


def measured(species: str, column: str, sex: str | None = None) -> Measured:
    """Give mean and standard deviation of one measure of penguins."""
    table = palmerpenguins.load_penguins()
    rows = table[table["species"] == species]
    rows = rows if sex is None else rows[rows["sex"] == sex]
    values = rows[column].dropna().to_numpy(dtype=float)
    return Measured(mean=float(np.mean(values)), sd=float(np.std(values, ddof=1)), n=len(values))


@pytest.mark.parametrize(("first", "second", "overlap"), OVERLAPS)
def test_overlap_is_that_of_the_published_cases(
    first: tuple[float, float], second: tuple[float, float], overlap: float
) -> None:
    """The overlap coefficient comes out to six digits."""
    found = separate_measures(Measured(mean=first[0], sd=first[1]), Measured(mean=second[0], sd=second[1]))
    assert found is not None
    assert found.overlap == pytest.approx(overlap, abs=1e-6)


@example(6.0, 0.5000000000000001, 5.0, 0.5)
@example(6.0, 0.50000001, 5.0, 0.5)
@example(50.0, 0.5000001, 48.5, 0.5)
@given(st.floats(5, 50), st.floats(0.5, 5), st.floats(5, 50), st.floats(0.5, 5))
def test_overlap_agrees_with_the_reference_libraries(m1: float, s1: float, m2: float, s2: float) -> None:
    """Integrating the smaller of two densities of SciPy gives the same, and so does NormalDist where it can."""
    assume(abs(m1 - m2) < 6 * (s1 + s2))
    found = separate_measures(Measured(mean=m1, sd=s1), Measured(mean=m2, sd=s2))
    assert found is not None
    low, high = min(m1 - 9 * s1, m2 - 9 * s2), max(m1 + 9 * s1, m2 + 9 * s2)
    first, second = norm(m1, s1), norm(m2, s2)
    grid = np.linspace(low, high, 40001)
    area = float(np.trapezoid(np.minimum(first.pdf(grid), second.pdf(grid)), grid))
    assert found.overlap == pytest.approx(area, abs=2e-5)
    # Python's own loses all digits where the two spreads differ in their last ones.
    if abs(s1 - s2) > 1e-6 * s1:
        assert found.overlap == NormalDist(m1, s1).overlap(NormalDist(m2, s2))
    assert found.ratio >= 1
    assert found.value == pytest.approx(1 - found.overlap, abs=1e-8)


@pytest.mark.parametrize(("birds", "overlap"), PENGUINS.items())
def test_penguins_overlap_as_printed(birds: tuple[str, str, str, str | None], overlap: float) -> None:
    """Measured penguins give the overlaps of the check table."""
    first, second, column, sex = birds
    found = separate_measures(measured(first, column, sex), measured(second, column, sex))
    assert found is not None
    assert found.overlap == pytest.approx(overlap, abs=5e-5)


def test_bill_length_parts_two_penguins_and_mass_does_not() -> None:
    """Adelie from Chinstrap: the bill is strong in the hand, and settles it within a sex; mass is weak."""
    bill = separate_measures(measured("Adelie", "bill_length_mm"), measured("Chinstrap", "bill_length_mm"))
    male = separate_measures(
        measured("Adelie", "bill_length_mm", "male"), measured("Chinstrap", "bill_length_mm", "male")
    )
    mass = separate_measures(measured("Adelie", "body_mass_g"), measured("Chinstrap", "body_mass_g"), visible=False)
    assert bill is not None
    assert male is not None
    assert mass is not None
    assert (bill.hand, male.hand, mass.hand, mass.field) == (
        Verdict.STRONG,
        Verdict.DIAGNOSTIC,
        Verdict.WEAK,
        Verdict.WEAK,
    )


@pytest.mark.parametrize(("n", "width"), TIPPETT.items())
def test_the_expected_range_is_that_of_the_published_table(n: int, width: float) -> None:
    """The mean range of n values agrees with Tippett's table to its three digits."""
    assert expected_range(n) == pytest.approx(width, abs=6e-4)


def test_the_expected_range_is_the_integral_it_names() -> None:
    """SciPy's quadrature gives the same for numbers that no table prints."""
    for n in (7, 13, 60, 400):
        area, _ = quad(lambda x, n=n: 1 - norm.cdf(x) ** n - norm.sf(x) ** n, -9, 9)
        assert expected_range(n) == pytest.approx(area, abs=1e-6)


@pytest.mark.parametrize(
    ("given_as", "mean", "sd", "basis"),
    [
        (Measured(mean=22.4, sd=1.9, n=31), 22.4, 1.9, Basis.SD),
        (Measured(low=18, high=26), 22, 2, Basis.RANGE),
        (Measured(low=18, high=26, n=10), 22, 8 / 3.0775, Basis.RANGE_OF_N),
        (Measured(low=18, high=26, mean=21, sd=1.5), 21, 1.5, Basis.SD),
        (Measured(low=18, high=26, n=1), 22, 2, Basis.RANGE),
    ],
)
def test_the_spread_comes_from_the_best_that_is_recorded(
    given_as: Measured, mean: float, sd: float, basis: Basis
) -> None:
    """A standard deviation first, then a range of so many birds, then a bare range."""
    found = spread_of(given_as)
    assert found is not None
    assert (found.mean, found.basis) == (mean, basis)
    assert found.sd == pytest.approx(sd, abs=1e-4)


@pytest.mark.parametrize("without", [Measured(), Measured(mean=31.6, n=11), Measured(low=4, high=4), Measured(low=3)])
def test_without_a_spread_nothing_is_compared(without: Measured) -> None:
    """A mean alone, or one single value, tells nothing of how much birds differ."""
    assert spread_of(without) is None
    assert separate_measures(without, Measured(low=10, high=12)) is None
    assert separate_measures(Measured(low=10, high=12), without) is None


@pytest.mark.parametrize(
    ("first", "second", "value", "hand", "field"),
    [
        ((18, 26), (14, 18), 0.96, Verdict.DIAGNOSTIC, Verdict.HELPFUL),
        ((12, 15), (11, 13), 0.78, Verdict.STRONG, Verdict.WEAK),
        ((10, 14), (10, 14), 0.0, Verdict.SHARED, Verdict.SHARED),
    ],
)
def test_lengths_are_worth_in_hand_and_field_what_the_design_says(
    first: tuple[int, int], second: tuple[int, int], value: float, hand: Verdict, field: Verdict
) -> None:
    """The two worked cases of lengths, and a length against itself."""
    found = separate_measures(Measured(*first), Measured(*second))
    assert found is not None
    assert found.value == pytest.approx(value, abs=0.005)
    assert (found.hand, found.field) == (hand, field)


SIZES = [Measured(mean=float(mean), sd=sd) for mean in (5, 10, 11, 20, 200) for sd in (0.1, 1.0, 6.0)]


@pytest.mark.parametrize(("first", "second"), list(combinations(SIZES, 2)))
def test_a_size_is_never_more_than_helpful_in_the_field(first: Measured, second: Measured) -> None:
    """However far two birds lie apart, and whichever comes first, size alone does not settle it."""
    there, back = separate_measures(first, second), separate_measures(second, first)
    assert there is not None
    assert back is not None
    assert there.field.rank >= Verdict.HELPFUL.rank
    assert there.field.rank >= there.hand.rank
    assert (there.value, there.hand, there.field) == (back.value, back.hand, back.field)
    unseen = separate_measures(first, second, visible=False)
    assert unseen is not None
    assert unseen.field.rank >= Verdict.WEAK.rank
