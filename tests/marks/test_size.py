"""The ladder of well-known birds, and the bounds of families."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.entries.convert import UNITS
from tertial.loading import load_guide
from tertial.marks.fitting import Fit
from tertial.marks.parts import load_parts
from tertial.marks.size import (
    Beside,
    fit_beside,
    is_loose,
    ladder,
    load_bounds,
    load_part_bounds,
    load_yardsticks,
    nearest,
    rung_named,
)
from tertial.names.birds import load_names

if TYPE_CHECKING:
    from pathlib import Path

    from tertial.entries.values import Quantity
    from tertial.marks.size import Yardstick

RUNGS = load_yardsticks()
WORDS = [rung.word for rung in RUNGS]

# Mean mass of adults in grams: Tobias et al. 2022, AVONET, Ecology Letters 25:581-597, doi 10.1111/ele.13898.
AVONET = {
    "Downy Woodpecker": 25.6,
    "Hairy Woodpecker": 62.7,
    "Greater Yellowlegs": 161.7,
    "Lesser Yellowlegs": 77.5,
    "Sharp-shinned Hawk": 130.6,
    "Cooper's Hawk": 429.7,
    "House Finch": 21.4,
    "Purple Finch": 23.3,
    "Cassin's Finch": 26.5,
    "Black-capped Chickadee": 10.8,
    "Carolina Chickadee": 10.0,
    "Canada Goose": 2811.7,
    "Greater Scaup": 1005.4,
    "Lesser Scaup": 819.5,
    "Semipalmated Sandpiper": 27.5,
    "Least Sandpiper": 22.9,
    "Long-billed Dowitcher": 104.4,
    "Common Tern": 129.2,
    "Forster's Tern": 149.0,
    "Song Sparrow": 21.9,
    "Lincoln's Sparrow": 16.6,
    "Tufted Titmouse": 21.6,
    "White-breasted Nuthatch": 21.0,
    "Red-breasted Nuthatch": 9.8,
    "Brown Creeper": 8.1,
    "Golden-crowned Kinglet": 6.2,
}
# Mean mass of males and of females in grams: Lislevand, Figuerola and Szekely 2007, Ecology 88:1605.
LISLEVAND = {
    "Downy Woodpecker": (27.8, 28.6),
    "Hairy Woodpecker": (69.8, 61.2),
    "Greater Yellowlegs": (164, 176),
    "Sharp-shinned Hawk": (103, 174),
    "House Finch": (21.4, 22.1),
    "Black-capped Chickadee": (13.5, 12.4),
    "Canada Goose": (3814, 3314),
    "Greater Scaup": (1052, 975),
    "Common Tern": (124, 126),
    "Song Sparrow": (25.0, 23.4),
    "Red-breasted Nuthatch": (11.0, 10.0),
    "Brown Creeper": (7.9, 7.9),
    "Golden-crowned Kinglet": (6.3, 6.1),
}


def family_of(name: str) -> str:
    (bird,) = load_names().find(name)
    return bird.family


def ends(quantity: Quantity) -> tuple[float, float]:
    """Give both ends of a measure in grams or millimetres."""
    found = [value for value in (quantity.low, quantity.high, quantity.mean) if value is not None]
    factor = UNITS[quantity.unit].factor
    return float(min(found) * factor), float(max(found) * factor)


def test_rungs_stand_in_one_order_by_mass_and_by_length() -> None:
    """From the smallest to the largest, by the cube root of mass as by length."""
    assert len(RUNGS) >= 6
    for lower, upper in pairwise(RUNGS):
        assert lower.mass ** (1 / 3) < upper.mass ** (1 / 3)
        assert lower.length < upper.length


def test_no_two_neighbours_are_alike() -> None:
    """A step is a difference that can be seen: a fifth of the cube root of mass or more."""
    assert all(upper.mass ** (1 / 3) >= 1.2 * lower.mass ** (1 / 3) for lower, upper in pairwise(RUNGS))


@pytest.mark.parametrize("rung", RUNGS, ids=WORDS)
def test_a_rung_is_a_bird_of_the_list_within_its_family(rung: Yardstick) -> None:
    """Its code leads to a bird, and the bird is as large as its family can be."""
    bird = load_names().by_code(rung.code, "IBP")
    assert bird is not None
    bounds = load_bounds()[bird.family]
    assert bounds.mass[0] <= rung.mass <= bounds.mass[1]
    assert bounds.length[0] <= rung.length <= bounds.length[1]


@pytest.mark.parametrize(("name", "mass"), AVONET.items())
def test_every_known_mass_lies_within_its_family(name: str, mass: float) -> None:
    """Outside check: the means of AVONET lie between the lightest and the heaviest."""
    lightest, heaviest = load_bounds()[family_of(name)].mass
    assert lightest < mass < heaviest


@pytest.mark.parametrize(("name", "masses"), LISLEVAND.items())
def test_every_known_mass_of_a_sex_lies_within_its_family(name: str, masses: tuple[float, float]) -> None:
    """Outside check: so do the means of each sex by Lislevand and others."""
    lightest, heaviest = load_bounds()[family_of(name)].mass
    assert lightest < min(masses) <= max(masses) < heaviest


def test_a_slip_of_the_unit_is_seen() -> None:
    """The bounds are narrow enough: no known mass in kilograms for grams is possible, nor the other way."""
    bounds = load_bounds()
    slips = [
        (name, slip)
        for name, mass in AVONET.items()
        for slip in (mass / 1000, mass * 1000)
        if bounds[family_of(name)].mass[0] <= slip <= bounds[family_of(name)].mass[1]
    ]
    assert slips == []


def test_every_family_is_one_of_the_list() -> None:
    """A family that nobody has would bound nothing, and each pair of bounds runs upwards."""
    families = {bird.family for bird in load_names() if bird.is_species}
    bounds = load_bounds()
    assert len(bounds) > 40
    assert bounds.keys() <= families
    for each in bounds.values():
        assert each.mass[0] < each.mass[1]
        assert each.length[0] < each.length[1]


def test_every_bounded_part_is_one_of_the_table() -> None:
    """A part that nobody can write would bound nothing."""
    bounds = load_part_bounds()
    assert bounds
    assert all((part := load_parts().find(word)) and part.word == word for word in bounds)
    assert min(bounds.values()) > 0.5


def test_the_demo_lies_within_its_families(repository: Path) -> None:
    """Every length and mass of the demo is possible, and every species has bounds to be held against."""
    sized = [species for species in load_guide(repository).species if species.entry.size and species.bird]
    assert len(sized) > 15
    for species in sized:
        assert species.bird is not None
        assert species.entry.size is not None
        bounds, size = load_bounds()[species.bird.family], species.entry.size
        for quantity, (low, high), unit in ((size.mass, bounds.mass, 1), (size.length, bounds.length, 10)):
            if quantity is not None:
                smallest, largest = ends(quantity.value)
                assert low * unit <= smallest <= largest <= high * unit, species.name


@pytest.mark.parametrize(
    ("mass", "length", "word"),
    [
        (62.7, None, "starling"),
        (25.6, None, "nuthatch"),
        (1005.4, None, "mallard"),
        (8.1, None, "kinglet"),
        (8.3, None, "chickadee"),
        (1, 1, "kinglet"),
        (99_999, None, "swan"),
        (None, 22, "starling"),
        (None, 60, "mallard"),
        (62.7, 150, "starling"),
    ],
)
def test_the_nearest_rung_is_sought_by_ratio(mass: float | None, length: float | None, word: str) -> None:
    """Mass decides, length stands in for it; a bird beyond either end goes by the end."""
    found = nearest(RUNGS, mass, length)
    assert found is not None
    assert RUNGS[found].word == word


@pytest.mark.parametrize(("mass", "length"), [(None, None), (0, None), (0, 0)])
def test_nothing_known_is_near_nothing(mass: float | None, length: float | None) -> None:
    """Without a figure, or with nought, no rung is named."""
    assert nearest(RUNGS, mass, length) is None


@given(st.floats(0.1, 1e6), st.floats(0.1, 1e6))
def test_a_heavier_bird_stands_no_lower(one: float, other: float) -> None:
    """The ladder keeps the order of masses."""
    lower, upper = (nearest(RUNGS, mass, None) for mass in sorted((one, other)))
    assert lower is not None
    assert upper is not None
    assert lower <= upper


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("starling-sized", "starling"),
        ("about a starling", "starling"),
        ("1.2 starlings long", "starling"),
        ("Mallard", "mallard"),
        ("as large as a Canada goose", "goose"),
        ("medium-sized", None),
        ("gooseberry", None),
        ("", None),
    ],
)
def test_words_lead_to_the_rung_that_they_name(text: str, word: str | None) -> None:
    """The bird's word is found in any phrase, in singular and plural, but not inside another word."""
    found = rung_named(RUNGS, text)
    assert (None if found is None else RUNGS[found].word) == word


@pytest.mark.parametrize(
    ("text", "loose"),
    [
        ("larger than a pigeon", True),
        ("between a nuthatch and a starling", True),
        ("Half a mallard", True),
        ("twice a chickadee", True),
        ("starling-sized", False),
        ("about a starling", False),
    ],
)
def test_a_side_of_a_rung_is_no_rung(text: str, loose: bool) -> None:
    """Words that only say on which side of a bird a size lies are told from those that name it."""
    assert is_loose(text) is loose


def test_a_guide_chooses_its_rungs() -> None:
    """Known codes are taken in the order of size, whatever the order of writing; without any, all of them."""
    assert [rung.word for rung in ladder(["MALL", "GCKI", "XXXX"])] == ["kinglet", "mallard"]
    assert ladder([]) == ladder(["XXXX"]) == RUNGS


@pytest.mark.parametrize(
    ("seen", "steps", "expected"),
    [
        (Beside.SMALLER, -1, Fit.FITS),
        (Beside.SMALLER, 0, Fit.NOT_RECORDED),
        (Beside.SMALLER, 1, Fit.CONTRADICTS),
        (Beside.SAME, 0, Fit.FITS),
        (Beside.SAME, 1, Fit.NOT_RECORDED),
        (Beside.SAME, -1, Fit.NOT_RECORDED),
        (Beside.SAME, 2, Fit.CONTRADICTS),
        (Beside.SAME, -2, Fit.CONTRADICTS),
        (Beside.LARGER, 2, Fit.FITS),
        (Beside.LARGER, 0, Fit.NOT_RECORDED),
        (Beside.LARGER, -1, Fit.CONTRADICTS),
    ],
)
def test_a_size_beside_a_known_bird_is_judged_by_rungs(seen: Beside, steps: int, expected: Fit) -> None:
    """What a glance cannot tell is left open: a bird of the same rung, and in looking alike the next one."""
    assert fit_beside(seen, 3 + steps, 3) is expected
