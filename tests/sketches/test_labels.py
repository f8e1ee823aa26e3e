"""Words in the margins of a plate: none over another, none outside, each in the order of what it points to."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from tertial.sketches.labels import LETTER, MARGIN, WIDTH, place_labels, text_width

if TYPE_CHECKING:
    from tertial.sketches.labels import Label, Plate

    Point = tuple[float, float]

words = st.text("abcilmw WMéß鳥", min_size=1, max_size=40).filter(str.strip)
sizes = st.tuples(st.integers(40, 1600), st.integers(40, 3000))
points = st.tuples(st.floats(-0.2, 1.2), st.floats(-0.2, 1.2))
pointers = st.lists(st.tuples(points, words), min_size=1, max_size=14)


def placed(given_pointers: list[tuple[Point, str]], size: tuple[int, int]) -> Plate:
    spots = [(x * size[0], y * size[1]) for (x, y), _ in given_pointers]
    return place_labels(spots, [text for _, text in given_pointers], size)


def sides(plate: Plate) -> list[list[Label]]:
    return [[each for each in plate.labels if each.on_left == left] for left in (True, False)]


@settings(max_examples=200, deadline=None, derandomize=True)
@given(pointers, sizes)
def test_no_two_labels_overlap(some: list[tuple[Point, str]], size: tuple[int, int]) -> None:
    """On either side every label ends before the next begins."""
    for side in sides(placed(some, size)):
        for above, below in pairwise(sorted(side, key=lambda label: label.top)):
            assert above.bottom <= below.top


@settings(max_examples=200, deadline=None, derandomize=True)
@given(pointers, sizes)
def test_every_label_is_within_the_frame(some: list[tuple[Point, str]], size: tuple[int, int]) -> None:
    """No line is wider than the margin, and none stands above or below the frame."""
    plate = placed(some, size)
    for label in plate.labels:
        assert label.top >= 0
        assert label.bottom <= plate.height
        widest = max(text_width(line) for line in label.lines) * LETTER
        room = label.x if label.on_left else WIDTH - label.x
        assert widest <= room <= MARGIN


@settings(max_examples=200, deadline=None, derandomize=True)
@given(pointers, sizes)
def test_order_is_kept_and_no_two_hairlines_cross(some: list[tuple[Point, str]], size: tuple[int, int]) -> None:
    """What points lower stands lower, so that lines which run level and then to their words cannot cross."""
    for side in sides(placed(some, size)):
        for first, second in combinations(side, 2):
            if first.spot[1] != second.spot[1]:
                assert (first.spot[1] < second.spot[1]) == (first.end[1] < second.end[1])
                assert (first.spot[1] < second.spot[1]) == (first.elbow[1] < second.elbow[1])


@settings(max_examples=100, deadline=None, derandomize=True)
@given(pointers, sizes)
def test_no_word_is_lost(some: list[tuple[Point, str]], size: tuple[int, int]) -> None:
    """The lines of a label hold its letters in their order, and labels come in the order given."""
    plate = placed(some, size)
    assert ["".join(label.lines).replace(" ", "") for label in plate.labels] == [
        "".join(text.split()) for _, text in some
    ]
    assert plate == placed(some, size)


def test_spots_are_parted_by_the_middle_of_what_is_pointed_at() -> None:
    """A bird at the edge of its page has words on both sides all the same."""
    plate = place_labels([(100, 100), (300, 150)], ["nape", "bill"], (1600, 1200))
    assert [label.on_left for label in plate.labels] == [True, False]
    assert [label.lines for label in plate.labels] == [("nape",), ("bill",)]


def test_a_long_name_is_broken_between_words() -> None:
    """Words that do not fit into a line go into the next one."""
    (label,) = place_labels([(10, 10)], ["outer tail feathers"], (100, 100)).labels
    assert label.lines == ("outer tail", "feathers")
    assert [line for _, line in label.baselines] == ["outer tail", "feathers"]


def test_a_word_too_long_for_the_margin_is_broken_after_a_hyphen() -> None:
    """Where a word must be broken it is at its own hyphen, if it has one."""
    plate = place_labels([(50, 50)], ["Golden-crowned Kinglet"], (100, 100))
    assert [text for _, text in plate.labels[0].baselines] == ["Golden-", "crowned", "Kinglet"]


def test_numbers_stand_apart() -> None:
    """Where spots lie close together, their numbers do not."""
    plate = place_labels([(500, 500), (505, 500), (500, 506)], ["a", "b", "c"], (1000, 1000))
    numbers = [label.number_at for label in plate.labels]
    for first, second in combinations(numbers, 2):
        assert abs(first[0] - second[0]) + abs(first[1] - second[1]) >= 30
