"""Plates at one scale and the ladder of sizes: known geometry in, known centimetres out."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tertial.sketches.ladder import Measured, size_ladder
from tertial.sketches.plate import LETTER, WIDTH, ScalePlate, Sketch, lay_out, lean_of, pixels_per_cm

MANY = 400.0
"""Pixels to a centimetre, more than any plate needs."""


def bird(wide: float, tall: float, per_cm: float = MANY, *, foot: float | None = None, words: str = "XXXX") -> Sketch:
    """Give a drawing of so many centimetres with a margin of a tenth of its picture on each side."""
    across, down = wide * per_cm / 0.8, tall * per_cm / 0.8
    drawn = (0.1 * across, 0.1 * down, 0.9 * across, 0.9 * down)
    return Sketch((across, down), drawn, per_cm, None if foot is None else drawn[1] + foot * per_cm, (words,))


def shown_cm(plate: ScalePlate, at: int) -> tuple[float, float]:
    """Give width and height of what is drawn of one bird as it stands on the plate, measured by the plate's own bar."""
    units = plate.bar.length / plate.bar.cm
    placed = plate.placed[at]
    return 0.8 * placed.width / units, 0.8 * placed.height / units


@pytest.mark.parametrize(
    ("start", "end", "cm", "expected"),
    [((0, 0), (300, 400), 25, 20), ((300, 400), (0, 0), 25, 20), ((10, 10), (10, 110), 2.5, 40)],
)
def test_two_spots_and_a_length_give_the_scale(
    start: tuple[float, float], end: tuple[float, float], cm: float, expected: float
) -> None:
    """The scale is the distance of the spots by the length, whichever comes first."""
    assert pixels_per_cm(start, end, cm) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("tail", "degrees"), [((10, 0), 0), ((-10, 0), 0), ((0, 10), 90), ((10, 10), 45), ((-10, -10), -45)]
)
def test_the_slope_of_a_bird_does_not_ask_which_way_it_faces(tail: tuple[float, float], degrees: float) -> None:
    """Level is 0, upright 90, and head down negative, to either side."""
    assert lean_of((0, 0), tail) == pytest.approx(degrees)


def test_birds_keep_their_centimetres_whatever_the_scale_of_their_drawings() -> None:
    """A bird of 10 cm drawn large and one of 20 cm drawn small come out at 10 and 20 cm, to one in a hundred."""
    plate = lay_out([[bird(10, 6, 150)], [bird(20, 9, 60)]])
    assert shown_cm(plate, 0) == pytest.approx((10, 6), rel=0.01)
    assert shown_cm(plate, 1) == pytest.approx((20, 9), rel=0.01)


SIZES = st.floats(4, 120)
BIRDS = st.builds(bird, SIZES, SIZES, st.floats(5, 300), words=st.sampled_from(["DOWO", "juvenile female"]))
GROUPS = st.lists(st.lists(BIRDS, min_size=1, max_size=2), min_size=1, max_size=7)


@settings(deadline=None)
@given(GROUPS)
def test_any_birds_are_at_one_scale_inside_the_frame_and_not_enlarged(groups: list[list[Sketch]]) -> None:
    """Whatever is laid out, every bird has its size by the bar, lies within the frame, and has pixels enough."""
    plate = lay_out(groups)
    every = [sketch for group in groups for sketch in group]
    assert len(plate.placed) == len(every)
    assert plate.width <= WIDTH
    for at, (sketch, placed) in enumerate(zip(every, plate.placed, strict=True)):
        drawn = (sketch.drawn[2] - sketch.drawn[0]) / sketch.per_cm, (sketch.drawn[3] - sketch.drawn[1]) / sketch.per_cm
        # Corners are rounded to a hundredth of a unit, which is much of a bird that is a few units high.
        assert shown_cm(plate, at) == pytest.approx(drawn, rel=0.01, abs=0.02 / plate.per_cm)
        assert placed.width <= sketch.size[0] * (1 + 1e-6) + 0.01
        left, right = placed.x + 0.1 * placed.width, placed.x + 0.9 * placed.width
        assert left >= -0.1
        assert right <= plate.width + 0.1
        assert placed.baselines[-1][0] < plate.height


@settings(deadline=None)
@given(GROUPS)
def test_no_two_birds_of_a_row_lie_over_each_other(groups: list[list[Sketch]]) -> None:
    """What is drawn of one bird ends before that of the next in its row begins."""
    plate = lay_out(groups)
    edges = [(each.x + 0.1 * each.width, each.x + 0.9 * each.width) for each in plate.placed]
    for (_, end), (start, _) in pairwise(edges):
        # A bird further left than the one before it begins a new row.
        assert start > end or start < plate.width / 2


@settings(deadline=None)
@given(GROUPS)
def test_every_bird_stands_on_the_ground_of_a_row(groups: list[list[Sketch]]) -> None:
    """The lowest that is drawn of a bird lies on one of the ground lines, which run from edge to edge."""
    plate = lay_out(groups)
    grounds = [ground.y for ground in plate.grounds]
    for placed in plate.placed:
        assert min(abs(placed.y + 0.9 * placed.height - y) for y in grounds) < 0.2
    assert {(ground.start, ground.end) for ground in plate.grounds} == {(0, plate.width)}


def test_birds_of_one_row_share_their_ground() -> None:
    """A tall bird and a low one stand on the same line."""
    plate = lay_out([[bird(10, 30), bird(10, 5)]])
    lowest = [placed.y + 0.9 * placed.height for placed in plate.placed]
    assert lowest == pytest.approx([plate.grounds[0].y] * 2, abs=0.1)


def test_a_named_foot_is_on_the_ground() -> None:
    """Where the feet are known they stand on the line, and a tail hangs below it."""
    plate = lay_out([[bird(10, 20, foot=15.0), bird(10, 20)]])
    hanging, standing = plate.placed
    units = plate.bar.length / plate.bar.cm
    assert (hanging.y - standing.y) / units == pytest.approx(5, rel=0.01)
    assert standing.y + 0.9 * standing.height == pytest.approx(plate.grounds[0].y, abs=0.1)


def test_a_drawing_without_pixels_enough_holds_the_plate_back() -> None:
    """The plate becomes no larger than the coarsest drawing, and tells which one that is."""
    plate = lay_out([[bird(10, 6), bird(12, 6, 8)]])
    assert plate.held_back == 1
    assert plate.placed[1].width == pytest.approx(12 * 8 / 0.8, rel=0.001)
    assert plate.width < WIDTH / 2


def test_drawings_with_pixels_enough_fill_the_frame() -> None:
    """With fine drawings the frame is what ends the plate, and no drawing is blamed."""
    plate = lay_out([[bird(10, 3), bird(12, 3)]])
    assert plate.held_back is None
    assert plate.width == pytest.approx(WIDTH, abs=1)


def test_sketches_of_a_group_are_in_one_row() -> None:
    """Two birds in one plumage stand beside each other on every plate."""
    plate = lay_out([[bird(10, 16), bird(14, 22)] for _ in range(4)])
    grounds = [round(placed.y + 0.9 * placed.height) for placed in plate.placed]
    assert grounds[::2] == grounds[1::2]
    assert len(plate.grounds) > 1


@pytest.mark.parametrize(("wide", "cm"), [(8.0, 2), (30.0, 5), (200.0, 50), (1.5, 0.2)])
def test_the_bar_is_of_a_round_length(wide: float, cm: float) -> None:
    """The bar is the longest of 1, 2 or 5 times a power of ten that takes up less than a third of the plate."""
    plate = lay_out([[bird(wide, wide / 4, 1e4)]])
    assert plate.bar.cm == pytest.approx(cm)
    assert plate.bar.length <= 0.3 * plate.width + 0.1


def test_words_have_room_on_the_narrowest_screen() -> None:
    """The words of small birds do not run into each other at the largest size of letters."""
    plate = lay_out([[bird(2, 1, words="juvenile female"), bird(2, 1, words="juvenile female"), bird(90, 9)]])
    middles = [placed.middle for placed in plate.placed]
    assert middles[1] - middles[0] > 15 * 0.35 * LETTER


def test_a_plate_is_the_same_every_time() -> None:
    """One input has one layout."""
    groups = [[bird(10, 6), bird(7, 9, 31)], [bird(33, 20, 77)]]
    assert lay_out(groups) == lay_out(groups)


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(3, 150), st.floats(1, 1.5), st.booleans()), min_size=1, max_size=8))
def test_the_ladder_has_every_length_where_its_centimetres_are(birds: list[tuple[float, float, bool]]) -> None:
    """Bars end at the length by the scale of the ticks, drawings have their size, and all is within the frame."""
    given_birds = [Measured(low, low * ratio, bird(low, low / 2, 30) if drawn else None) for low, ratio, drawn in birds]
    ladder = size_ladder(given_birds)
    (zero, _), (tick, text) = ladder.ticks[:2]
    per_cm = (tick - zero) / float(text)
    for each, rung in zip(given_birds, ladder.rungs, strict=True):
        assert (rung.low - ladder.start) / per_cm == pytest.approx(each.low, rel=0.01, abs=0.3 / per_cm)
        assert (rung.high - ladder.start) / per_cm == pytest.approx(each.high, rel=0.01, abs=0.3 / per_cm)
        assert rung.high <= ladder.width
        assert (rung.window is None) == (each.sketch is None)
        if rung.window:
            assert rung.window.width / per_cm == pytest.approx(each.low, rel=0.01, abs=0.3 / per_cm)
            assert rung.window.width <= rung.window.shown[2] + 0.1
