"""Heads at one length: facing one way, bill base under bill base, and their outlines over each other."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

import pytest
from PIL import Image, ImageDraw, UnidentifiedImageError

from tertial.sketches.heads import Head, PlacedHead, bill_share, lay_heads, overlay, smooth_path
from tertial.sketches.outline import drawn_edges, trace_head
from tertial.sketches.tracing import kept_edges, kept_outline

if TYPE_CHECKING:
    from pathlib import Path

SIZE = (1000.0, 800.0)
LONG = Head(SIZE, (100, 100, 700, 400), base=(400, 260), outline=((700, 120), (110, 260), (700, 390)), words=("LONG",))
SHORT = Head(SIZE, (300, 200, 500, 320), base=(350, 260), outline=((500, 205), (302, 262), (500, 318)), words=("SHRT",))


def mirrored(head: Head) -> Head:
    """Give the same head, drawn to look the other way."""
    left, upper, right, lower = head.box
    base = (SIZE[0] - head.base[0], head.base[1]) if head.base else None
    line = tuple((SIZE[0] - x, y) for x, y in head.outline)
    return head._replace(
        box=(SIZE[0] - right, upper, SIZE[0] - left, lower),
        base=base,
        outline=line,
        faces_left=not head.faces_left,
    )


def spot(placed: PlacedHead, point: tuple[float, float]) -> tuple[float, float]:
    """Give where a spot of the picture comes to lie in the strip."""
    x = SIZE[0] - point[0] if placed.mirrored else point[0]
    left, upper, width, height = placed.window
    return placed.x + (x - left) * placed.width / width, placed.y + (point[1] - upper) * placed.height / height


def test_heads_come_out_at_one_length_with_their_bill_bases_on_one_line() -> None:
    """From the base of the bill to the back of its box each head is as long as the others."""
    strip = lay_heads([LONG, SHORT])
    assert strip.from_bill_base
    for head, placed in zip((LONG, SHORT), strip.heads, strict=True):
        assert head.base is not None
        base, back = spot(placed, head.base), spot(placed, (head.back, 0))
        assert back[0] - base[0] == pytest.approx(strip.length, rel=0.01)
    heights = [spot(placed, head.base or (0, 0))[1] for head, placed in zip((LONG, SHORT), strip.heads, strict=True)]
    assert heights[0] == pytest.approx(heights[1], abs=0.2)


def test_bill_bases_of_a_column_stand_under_each_other() -> None:
    """In rows of several heads the bases of a column lie under each other, whatever the bills before them."""
    heads = [LONG, SHORT, SHORT, LONG, LONG, SHORT]
    strip = lay_heads(heads)
    at = [spot(placed, head.base or (0, 0)) for head, placed in zip(heads, strip.heads, strict=True)]
    assert at[0][0] == pytest.approx(at[4][0], abs=0.2)
    assert at[1][0] == pytest.approx(at[5][0], abs=0.2)
    assert at[4][1] > at[0][1]


@pytest.mark.parametrize("head", [LONG, SHORT])
def test_a_head_that_faces_right_is_shown_as_if_it_faced_left(head: Head) -> None:
    """Drawn the other way round, a head comes to lie on the very same place, mirrored."""
    (plain,), (turned,) = lay_heads([head]).heads, lay_heads([mirrored(head)]).heads
    assert (plain.mirrored, turned.mirrored) == (False, True)
    assert turned == plain._replace(mirrored=True)


def test_without_a_bill_base_of_each_head_and_bill_are_taken_together() -> None:
    """If one base is not known, all heads are measured over the whole box."""
    strip = lay_heads([LONG, SHORT._replace(base=None)])
    assert not strip.from_bill_base
    for head, placed in zip((LONG, SHORT), strip.heads, strict=True):
        ends = spot(placed, (head.front, 0))[0], spot(placed, (head.back, 0))[0]
        assert ends[1] - ends[0] == pytest.approx(strip.length, rel=0.01)


def test_eyes_set_the_level_where_all_are_known() -> None:
    """With an eye of each head, eyes and not bill bases lie on one line."""
    heads = [LONG._replace(eye=(480, 200)), SHORT._replace(eye=(390, 250))]
    strip = lay_heads(heads)
    eyes = [spot(placed, head.eye or (0, 0))[1] for head, placed in zip(heads, strip.heads, strict=True)]
    assert eyes[0] == pytest.approx(eyes[1], abs=0.2)


def test_no_head_is_enlarged() -> None:
    """A head of few pixels keeps all others at its length."""
    small = SHORT._replace(size=(100.0, 80.0), box=(10, 10, 50, 40), base=(20, 25))
    strip = lay_heads([LONG, small])
    assert strip.length == pytest.approx(30, rel=0.01)
    assert all(placed.width <= placed.window[2] * 1.001 for placed in strip.heads)


def test_heads_that_are_odd_in_number_are_parted_evenly() -> None:
    """Five heads stand in rows of three and two; four in one row."""
    assert len({round(placed.y) for placed in lay_heads([LONG] * 4).heads}) == 1
    assert len({round(placed.x) for placed in lay_heads([LONG] * 5).heads}) == 3


def test_the_bill_is_told_in_lengths_of_the_head() -> None:
    """A bill of 290 pixels before a head of 300 is 0.97 heads long; without an outline nothing is said."""
    assert bill_share(LONG) == pytest.approx(290 / 300, rel=0.01)
    assert bill_share(mirrored(LONG)) == bill_share(LONG)
    assert bill_share(LONG._replace(outline=())) is None


def test_outlines_lie_over_each_other_at_the_base_of_the_bill() -> None:
    """A head and its mirror image have the same line; a head without an outline has no overlay."""
    both = overlay(LONG, mirrored(LONG))
    assert both is not None
    assert both.paths[0] == both.paths[1]
    assert overlay(LONG, SHORT._replace(outline=())) is None


def test_a_smooth_line_goes_through_its_points() -> None:
    """Path data begins at the first point and passes every other one."""
    path = smooth_path([(0, 0), (10, 5), (20, 0)])
    assert path.startswith("M0.0 0.0C")
    assert re.findall(r"([\d.]+ [\d.]+)(?=C|$)", path) == ["0.0 0.0", "10.0 5.0", "20.0 0.0"]


BOX = (100.0, 110.0, 620.0, 430.0)
TIP, BASE = 110.0, 300.0


def drawn_head(*, faces_left: bool = True, colour: str = "#806040", trunk: int = 0) -> Image.Image:
    """Draw an ellipse of 310 by 300 pixels with a bill of 190 before it, on white, with a white cheek."""
    picture = Image.new("RGB", (900, 700), "white")
    draw = ImageDraw.Draw(picture)
    draw.polygon([(TIP, 270), (BASE + 40, 246), (BASE + 40, 294)], fill=colour)
    draw.ellipse((BASE, 120, BASE + 310, 420), fill=colour, outline="black", width=3)
    draw.ellipse((BASE + 60, 280, BASE + 200, 380), fill="white")
    if trunk:
        draw.rectangle((0, 0, trunk, 699), fill="#998877")
    return picture if faces_left else picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT)


@pytest.mark.parametrize("faces_left", [True, False])
@pytest.mark.parametrize("colour", ["#806040", "#202020", "#d8c8b0"])
def test_an_ellipse_with_a_bill_is_traced_to_its_size(colour: str, *, faces_left: bool) -> None:
    """The outline has the drawn width and height to two in a hundred, and the cheek leaves no hole in it."""
    box = BOX if faces_left else (900 - BOX[2], BOX[1], 900 - BOX[0], BOX[3])
    traced = trace_head(drawn_head(faces_left=faces_left, colour=colour), box, faces_left=faces_left)
    assert traced is not None
    xs, ys = [x for x, _ in traced.line], [y for _, y in traced.line]
    assert max(xs) - min(xs) == pytest.approx(BASE + 310 - TIP, rel=0.02)
    assert max(ys) - min(ys) == pytest.approx(300, rel=0.02)
    assert traced.base is not None
    base = traced.base[0] if faces_left else 900 - traced.base[0]
    # The ellipse is 0.42 of the box deep so far behind its front.
    deep = 155 * (1 - math.sqrt(1 - (0.42 * (BOX[3] - BOX[1]) / 300) ** 2))
    assert base == pytest.approx(BASE + deep, abs=0.02 * 310)
    assert traced.base[1] == pytest.approx(270, abs=0.02 * 310)


def test_every_point_of_the_outline_is_on_the_ellipse_or_the_bill() -> None:
    """No point of the traced line strays from the drawn edge by more than two in a hundred of the head."""
    traced = trace_head(drawn_head(), BOX, faces_left=True)
    assert traced is not None
    for x, y in traced.line:
        off = abs((((x - BASE - 155) / 155) ** 2 + ((y - 270) / 150) ** 2) ** 0.5 - 1) * 152
        edge = abs(abs(y - 270) - 24 * (x - TIP) / (BASE + 40 - TIP)) if x < BASE + 20 else 999.0
        assert min(off, edge) < 0.02 * 500


def test_a_head_against_what_it_clings_to_has_no_outline() -> None:
    """Where a trunk covers the bill and the edge before it, nothing is told rather than something wrong."""
    assert trace_head(drawn_head(trunk=160), BOX, faces_left=True) is None


def test_a_trunk_beside_the_head_is_no_part_of_it() -> None:
    """A trunk that does not touch the head changes nothing in its outline."""
    alone = trace_head(drawn_head(), BOX, faces_left=True)
    picture = drawn_head()
    ImageDraw.Draw(picture).rectangle((86, 340, 130, 699), fill="#998877")
    assert trace_head(picture, BOX, faces_left=True) == alone


@pytest.mark.parametrize("box", [(5.0, 5.0, 9.0, 9.0), (0.0, 500.0, 200.0, 690.0)])
def test_a_box_with_nothing_in_it_has_no_outline(box: tuple[float, float, float, float]) -> None:
    """A box of a few pixels, or one of bare paper, gives none."""
    assert trace_head(drawn_head(), box, faces_left=True) is None


def test_what_is_drawn_is_found_and_dust_is_not() -> None:
    """The edges of a drawing are told to the pixel; a single dark pixel does not count."""
    picture = Image.new("L", (200, 100), 255)
    picture.paste(40, (30, 20, 160, 90))
    picture.putpixel((190, 5), 0)
    assert drawn_edges(picture) == (30, 20, 160, 90)
    assert drawn_edges(Image.new("L", (20, 10), 255)) == (0, 0, 20, 10)


def test_what_was_traced_is_kept_and_found_again(tmp_path: Path) -> None:
    """A second question is answered from what was kept, without the picture; another box is another question."""
    file = tmp_path / "960.png"
    drawn_head().save(file)
    outline, edges = kept_outline(file, BOX, faces_left=True), kept_edges(file)
    assert outline == trace_head(drawn_head(), BOX, faces_left=True)
    assert edges == pytest.approx((TIP / 900, 120 / 700, 611 / 900, 421 / 700), abs=0.003)
    names = {path.name for path in tmp_path.iterdir()}
    file.write_bytes(b"no picture any more")
    assert (kept_outline(file, BOX, faces_left=True), kept_edges(file)) == (outline, edges)
    assert {path.name for path in tmp_path.iterdir()} == names
    with pytest.raises(UnidentifiedImageError, match="cannot identify"):
        kept_outline(file, (0, 0, 300, 300), faces_left=True)


def test_a_half_written_result_is_made_anew(tmp_path: Path) -> None:
    """What cannot be read back is traced again."""
    file = tmp_path / "960.png"
    drawn_head().save(file)
    outline = kept_outline(file, BOX, faces_left=True)
    (kept,) = tmp_path.glob("*.json")
    kept.write_text('{"line": [[1', encoding="utf-8")
    assert kept_outline(file, BOX, faces_left=True) == outline


def test_a_drawing_in_vectors_has_no_pixels_to_tell_from(tmp_path: Path) -> None:
    """Of an SVG neither edges nor outline are told, and nothing is kept."""
    file = tmp_path / "960.svg"
    file.write_text("<svg/>", encoding="utf-8")
    assert (kept_outline(file, BOX, faces_left=True), kept_edges(file)) == (None, None)
    assert [path.name for path in tmp_path.iterdir()] == ["960.svg"]
