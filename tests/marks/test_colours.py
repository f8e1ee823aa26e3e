"""CIELAB and CIEDE2000, held against the published pairs and a reference library."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000, rgb2lab

from tertial.marks.colours import Lab, ciede2000, lab_of

PUBLISHED = (
    ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
    ((50.0, 3.1571, -77.2803), (50.0, 0.0, -82.7485), 2.8615),
    ((50.0, 2.8361, -74.0200), (50.0, 0.0, -82.7485), 3.4412),
    ((50.0, -1.3802, -84.2814), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, -1.1848, -84.8006), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, -0.9009, -85.5211), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, 0.0, 0.0), (50.0, -1.0, 2.0), 2.3669),
    ((50.0, -1.0, 2.0), (50.0, 0.0, 0.0), 2.3669),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0009), 7.1792),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0010), 7.1792),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0011), 7.2195),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0012), 7.2195),
    ((50.0, -0.0010, 2.4900), (50.0, 0.0009, -2.4900), 4.8045),
    ((50.0, -0.0010, 2.4900), (50.0, 0.0010, -2.4900), 4.8045),
    ((50.0, -0.0010, 2.4900), (50.0, 0.0011, -2.4900), 4.7461),
    ((50.0, 2.5, 0.0), (50.0, 0.0, -2.5), 4.3065),
    ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
    ((50.0, 2.5, 0.0), (61.0, -5.0, 29.0), 22.8977),
    ((50.0, 2.5, 0.0), (56.0, -27.0, -3.0), 31.9030),
    ((50.0, 2.5, 0.0), (58.0, 24.0, 15.0), 19.4535),
    ((50.0, 2.5, 0.0), (50.0, 3.1736, 0.5854), 1.0000),
    ((50.0, 2.5, 0.0), (50.0, 3.2972, 0.0), 1.0000),
    ((50.0, 2.5, 0.0), (50.0, 1.8634, 0.5757), 1.0000),
    ((50.0, 2.5, 0.0), (50.0, 3.2592, 0.3350), 1.0000),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((61.2901, 3.7196, -5.3901), (61.4292, 2.2480, -4.9620), 1.8731),
    ((35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((36.4612, 47.8580, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    ((90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    ((6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
)
"""Sharma, Wu and Dalal 2005, Color Res. Appl. 30:21-30, table 1, all 34 pairs; written down from memory, and
each confirmed by the reference library below."""

CHANNEL = st.integers(0, 255)


@pytest.mark.parametrize(("first", "second", "difference"), PUBLISHED)
def test_the_published_pairs_come_out(
    first: tuple[float, float, float], second: tuple[float, float, float], difference: float
) -> None:
    """Every pair of Sharma, Wu and Dalal agrees to the four digits printed, here and in scikit-image."""
    assert ciede2000(Lab(*first), Lab(*second)) == pytest.approx(difference, abs=5e-5)
    assert float(deltaE_ciede2000(np.array(first), np.array(second))) == pytest.approx(difference, abs=5e-5)


@given(st.tuples(CHANNEL, CHANNEL, CHANNEL), st.tuples(CHANNEL, CHANNEL, CHANNEL))
def test_any_two_colours_agree_with_the_reference_library(
    first: tuple[int, int, int], second: tuple[int, int, int]
) -> None:
    """Lab and difference of any two sRGB colours are those of scikit-image, within its coarser white point."""
    ours = [lab_of("#{:02x}{:02x}{:02x}".format(*colour)) for colour in (first, second)]
    theirs = [rgb2lab(np.array(colour, dtype=float) / 255) for colour in (first, second)]
    for a, b in zip(ours, theirs, strict=True):
        assert tuple(a) == pytest.approx(tuple(map(float, b)), abs=0.05)
    reference = float(deltaE_ciede2000(np.array(ours[0]), np.array(ours[1])))
    assert ciede2000(*ours) == pytest.approx(reference, abs=1e-6)
    assert ciede2000(ours[1], ours[0]) == pytest.approx(ciede2000(*ours), abs=1e-9)
