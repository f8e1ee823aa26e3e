"""Known spots in, known pixels out: the program that photographs the demo's drawings, without a browser."""

from __future__ import annotations

import io
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw
from tests.demo.paper import LONGEST, MOST_BYTES, MOST_SKEW, framing, photograph
from tests.demo.spots import Affine, Drawing, lines_of, read_drawing, told, turned

ENTRY = """\
---
species: Some Bird
sketches:
  - file: other.png
    alt: Another
    scale: bill tip 1,1 to tail tip 2,2
  - file: some.png
    shows: male
    scale: bill tip 1,1 to tail tip 2,2
    pointers:
      - 1,1 nape
    caption: By the weir
sources:
  - "    scale: none"
---
    scale: indented text of the author's
"""


def svg(*inside: str, box: str = "0 0 400 300") -> str:
    """Write a drawing."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{"".join(inside)}</svg>'


def spot(name: str, x: float, y: float) -> str:
    """Write a spot."""
    return f'<circle class="spot" data-name="{name}" cx="{x}" cy="{y}" r="1" fill="none"/>'


def opened(data: bytes) -> Image.Image:
    """Read a photograph back."""
    return Image.open(io.BytesIO(data))


@pytest.mark.parametrize(
    ("degrees", "point", "expected"),
    [
        (0, (10, 20), (100, 200)),
        (0, (11, 20), (102, 200)),
        (90, (11, 20), (100, 202)),
        (90, (10, 21), (98, 200)),
        (180, (11, 21), (98, 198)),
    ],
)
def test_a_turn_is_clockwise_about_its_centre(
    degrees: float, point: tuple[float, float], expected: tuple[float, float]
) -> None:
    """With y growing downwards a quarter clockwise takes right to below, two pixels to the unit."""
    assert turned((10, 20), 2, degrees, (100, 200)).at(*point) == pytest.approx(expected)


@given(st.floats(-3, 3), st.floats(0.2, 4), *(st.floats(-2000, 2000, width=32) for _ in range(4)))
def test_the_way_back_undoes_a_map(degrees: float, scale: float, x: float, y: float, right: float, down: float) -> None:
    """A point carried to the photograph and back is where it was."""
    there = turned((800, 600), scale, degrees, (right, down))
    assert there.back().at(*there.at(x, y)) == pytest.approx((x, y), abs=1e-6)


@given(st.text(max_size=20), st.sampled_from([(1600, 1200), (1200, 1600), (1000, 1000), (1600, 700)]))
def test_the_whole_drawing_is_on_the_photograph(name: str, box: tuple[int, int]) -> None:
    """However the page is turned and laid, no corner of the drawing is cut off, and the turn is a small one."""
    to_pixels, (width, height) = framing(name, *box)
    corners = [to_pixels.at(x, y) for x in (0, box[0]) for y in (0, box[1])]
    assert all(0 < x < width and 0 < y < height for x, y in corners)
    assert 0.5 < abs(math.degrees(math.atan2(to_pixels.d, to_pixels.a))) <= MOST_SKEW
    assert max(width, height) == LONGEST


@pytest.mark.parametrize("name", ["hairy-male", "downy-male", "song-sparrow"])
def test_a_spot_is_found_where_the_map_says(name: str) -> None:
    """Dots drawn at known places lie on the photograph within one pixel of where their spots are carried."""
    places = [(60, 60), (1540, 60), (1540, 1140), (60, 1140), (800, 600)]
    picture = Image.new("L", (1600, 1200), 255)
    pen = ImageDraw.Draw(picture)
    for x, y in places:
        # Pillow counts a dot by pixel centres: this one has its middle on the corner of four pixels.
        pen.ellipse((x - 9, y - 9, x + 8, y + 8), fill=0)
    to_pixels, size = framing(name, 1600, 1200)
    seen = np.asarray(opened(photograph(name, picture, to_pixels, size)).convert("L"), dtype=float)
    for place in places:
        across, down = to_pixels.at(*place)
        left, top = round(across) - 20, round(down) - 20
        rows, columns = np.nonzero(seen[top : top + 40, left : left + 40] < 100)
        assert (left + columns.mean() + 0.5, top + rows.mean() + 0.5) == pytest.approx((across, down), abs=1)


def test_one_name_gives_one_photograph() -> None:
    """The same drawing under the same name gives the same bytes; another name lies otherwise in other light."""
    picture = Image.new("RGB", (160, 120), "white")
    to_pixels = turned((80, 60), 2, 1, (200, 150))
    once, again, other = (photograph(name, picture, to_pixels, (400, 300)) for name in ("a", "a", "b"))
    assert once == again
    assert once != other
    assert framing("a", 160, 120) != framing("b", 160, 120)


def test_a_photograph_looks_like_paper_and_is_bare() -> None:
    """White comes out as warm paper in uneven light, black as ink; nothing of a camera is in the file."""
    picture = Image.new("RGB", (1600, 1200), "white")
    picture.paste((0, 0, 0), (700, 500, 900, 700))
    to_pixels, size = framing("page", 1600, 1200)
    seen = opened(photograph("page", picture, to_pixels, size))
    assert (seen.format, seen.size, dict(seen.getexif())) == ("JPEG", size, {})
    red, green, blue = np.asarray(seen, dtype=float).reshape(-1, 3).mean(axis=0)
    assert 190 < blue < green < red < 245
    grey = np.asarray(seen.convert("L").resize((20, 16), Image.Resampling.BOX), dtype=float)
    assert grey.max() - np.sort(grey, axis=None)[8] > 25
    assert seen.convert("L").getpixel((size[0] // 2, size[1] // 2)) < 40  # type: ignore[operator]


def test_a_busy_drawing_is_saved_coarser_until_it_fits() -> None:
    """A page full of strokes stays below the largest file."""
    picture = Image.new("L", (1600, 1200), 255)
    pen = ImageDraw.Draw(picture)
    for step in range(0, 1600, 9):
        pen.line((step, 0, 1600 - step, 1200), fill=90)
    to_pixels, size = framing("busy", 1600, 1200)
    assert 0 < len(photograph("busy", picture.resize((800, 600)), _doubled(to_pixels), size)) <= MOST_BYTES


def _doubled(to_pixels: Affine) -> Affine:
    a, b, c, d, e, f = to_pixels.a, to_pixels.b, to_pixels.c, to_pixels.d, to_pixels.e, to_pixels.f
    return Affine(2 * a, 2 * b, c, 2 * d, 2 * e, f)


def test_spots_are_read_in_the_order_drawn() -> None:
    """Names and coordinates come from the circles; other circles are none of their business."""
    drawing = read_drawing(svg(spot("nape", 12.5, 30), '<circle cx="1" cy="2" r="3"/>', spot("crown", 5, 6)))
    assert drawing == Drawing(400, 300, {"nape": (12.5, 30), "crown": (5, 6)})
    assert list(drawing.spots) == ["nape", "crown"]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (svg(f'<g transform="scale(2)">{spot("nape", 1, 2)}</g>'), "inside a group"),
        (svg(spot("nape", 1, 2), spot("nape", 3, 4)), "one name"),
        (svg(box="-10 0 400 300"), "begin at 0, 0"),
    ],
)
def test_a_spot_that_could_mislead_is_refused(text: str, reason: str) -> None:
    """A coordinate is only believed where nothing could move it."""
    with pytest.raises(ValueError, match=reason):
        read_drawing(text)


def test_spots_become_the_lines_of_an_entry() -> None:
    """Scale, head and pointers are told in whole pixels; bill base and eye are for measuring only."""
    named = {"head to": (8, 9), "nape": (4.4, 4), "tail tip": (90, 80), "bill tip": (1, 2)}
    named |= {"eye": (3, 3), "bill base": (2, 2), "head from": (1, 1), "wing bar": (7, 7)}
    assert lines_of(Drawing(100, 100, named), Affine(2, 0, 10, 0, 2, 20)) == [
        "    scale: bill tip 12,24 to tail tip 190,180",
        "    head: 12,22 to 26,38",
        "    pointers:",
        "      - 19,28 nape",
        "      - 24,34 wing bar",
    ]


def test_the_box_of_a_turned_head_holds_all_its_corners() -> None:
    """After a quarter turn the box is still told from upper left to lower right."""
    drawing = Drawing(100, 100, {"head from": (10, 20), "head to": (40, 30)})
    assert lines_of(drawing, turned((0, 0), 1, 90, (100, 0))) == ["    head: 70,10 to 80,40"]


def test_a_drawing_without_spots_has_no_lines() -> None:
    """Nothing is made up."""
    assert lines_of(Drawing(100, 100, {"eye": (1, 1), "bill tip": (2, 2)}), Affine(1, 0, 0, 0, 1, 0)) == []


def test_only_the_lines_of_one_sketch_are_made_anew() -> None:
    """The file gets its new suffix and the spots their lines; every other line of the entry stays."""
    lines = ["    scale: bill tip 5,5 to tail tip 9,9", "    head: 1,1 to 2,2"]
    expected = ENTRY.replace("some.png", "some.jpg").replace(
        "    shows: male\n    scale: bill tip 1,1 to tail tip 2,2\n    pointers:\n      - 1,1 nape\n"
        "    caption: By the weir\n",
        "    shows: male\n    caption: By the weir\n" + "\n".join(lines) + "\n",
    )
    once = told(ENTRY, "some.jpg", lines)
    assert once == expected
    assert told(once, "some.jpg", lines) == once
