"""A photographed drawing becomes the drawing again: judged against the very drawing that was photographed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image, ImageDraw
from skimage.metrics import structural_similarity
from tests.sketches.photographs import WASH, Circumstances, of_the_demo, photograph, shapes

from tertial.sketches.affine import Affine
from tertial.sketches.develop import develop
from tertial.sketches.developing import Choice

if TYPE_CHECKING:
    from tests.sketches.photographs import Photo

SIZE = (1500, 1125)
WHITE = (255, 255, 255)

DRAWINGS = {
    "shapes": None,
    "framed shapes": None,
    "woodpecker": "downy-male",
    "finch": "purple-finch-female",
}
CIRCUMSTANCES = {
    "by a window": Circumstances(),
    "on a table, askew": Circumstances(lean=2.6, table=110),
    "in the evening": Circumstances(dim=0.6, shadow=0.4, grain=0.02, paper=(0.92, 0.84, 0.68)),
}


def drawing(name: str) -> Image.Image:
    file = DRAWINGS[name]
    picture = of_the_demo(file) if file else shapes(framed="framed" in name)
    return picture.resize((1200, 900), Image.Resampling.LANCZOS)


def laid_on(picture: Image.Image, there: Affine, size: tuple[int, int]) -> Image.Image:
    """Bring a picture into the frame of the drawing that it shows, by the map from the one to the other."""
    way = Image.Transform.AFFINE
    return picture.transform(size, way, there.numbers, Image.Resampling.BICUBIC, fillcolor=WHITE)


def likeness(known: Image.Image, other: Image.Image) -> float:
    """The structural similarity of two pictures in grey (Wang et al. 2004), 1 for the same picture."""
    return float(structural_similarity(np.asarray(known.convert("L")), np.asarray(other.convert("L"))))


def developed(photo: Photo, choice: Choice = Choice.JUDGED) -> tuple[Image.Image, Affine]:
    made, there, told = develop(photo.picture, 1600, choice)
    assert told.done, told.why
    return made, photo.taken.then(there)


@pytest.mark.parametrize("how", CIRCUMSTANCES.values(), ids=CIRCUMSTANCES)
@pytest.mark.parametrize("name", DRAWINGS)
def test_what_is_developed_is_nearer_to_the_drawing(name: str, how: Circumstances) -> None:
    """The developed photo is like the drawing by 0.93 at least (0.88 in poor light), and by 0.1 more than before.

    Outside check: the structural similarity of Wang et al. (2004), in the version of scikit-image.
    """
    known = drawing(name)
    photo = photograph(known, SIZE, how)
    made, there = developed(photo)
    before = likeness(known, laid_on(photo.picture, photo.taken, known.size))
    after = likeness(known, laid_on(made, there, known.size))
    assert after >= (0.88 if how.shadow > 0.3 else 0.93)
    assert after >= before + 0.1


@pytest.mark.parametrize("how", CIRCUMSTANCES.values(), ids=CIRCUMSTANCES)
def test_paper_becomes_white_and_a_pale_wash_does_not(how: Circumstances) -> None:
    """Nearly all of the bare paper is pure white; the large wash keeps its colour to within some steps of 255."""
    known = shapes()
    made, there = developed(photograph(known, SIZE, how))
    back = np.asarray(laid_on(made, there, known.size)).astype(int)
    truth = np.asarray(known).astype(int)
    # Away from every edge, where one pixel is a mixture of two colours.
    bare = eroded((truth == 255).all(axis=2), 9)
    wash = eroded((np.abs(truth - np.array(WASH)) <= 2).all(axis=2), 9)
    assert (back[bare] >= 254).all(axis=1).mean() > 0.95
    # A shadow that ends within the wash cannot be told from a wash that is darker there: hence the steps allowed.
    assert np.abs(np.median(back[wash], axis=0) - np.array(WASH)).max() <= 20
    assert (back[wash].min(axis=1) < 245).mean() > 0.95


def eroded(
    mask: np.ndarray[tuple[int, int], np.dtype[np.bool_]], by: int
) -> np.ndarray[tuple[int, int], np.dtype[np.bool_]]:
    """Take away what lies within some pixels of a mask's edge."""
    kept = mask.copy()
    for axis in (0, 1):
        for step in range(-by, by + 1):
            kept &= np.roll(mask, step, axis)
    return kept


def test_no_halo_stays_round_ink() -> None:
    """Paper a few pixels beside a dark form is as white as paper far from it."""
    known = drawing("woodpecker")
    made, there = developed(photograph(known, SIZE, CIRCUMSTANCES["by a window"]))
    back = np.asarray(laid_on(made, there, known.size)).astype(int)
    white = (np.asarray(known) == 255).all(axis=2)
    beside = eroded(white, 4) & ~eroded(white, 12)
    assert beside.sum() > 5000
    assert np.percentile(back[beside].min(axis=1), 10) >= 250


@pytest.mark.parametrize("lean", [-4.5, -2.0, -0.6, 0.8, 3.1, 4.8])
@pytest.mark.parametrize("seen", ["edges of the sheet", "a drawn frame"])
def test_a_page_is_straightened_by_its_long_lines(lean: float, seen: str) -> None:
    """Where edges or a frame bear witness, what leans afterwards is less than a fifth of a degree."""
    edges = seen == "edges of the sheet"
    photo = photograph(shapes(framed=not edges), SIZE, Circumstances(lean=lean, table=120 if edges else 0))
    _, _, told = develop(photo.picture, 1600, Choice.JUDGED)
    assert abs(told.turned + lean) < 0.2


@pytest.mark.parametrize("name", ["shapes", "woodpecker", "finch"])
def test_a_drawing_without_long_lines_is_never_turned(name: str) -> None:
    """A trunk or a twig may lean as much as it likes: one line is no witness."""
    photo = photograph(drawing(name), SIZE, Circumstances(lean=3.0))
    _, _, told = develop(photo.picture, 1600, Choice.JUDGED)
    assert told.turned == 0.0


MARKS = [(40, 40), (1160, 70), (1120, 850), (60, 860), (600, 450)]


def marked() -> Image.Image:
    """A frame with five small crosses."""
    picture = Image.new("RGB", (1200, 900), WHITE)
    pen = ImageDraw.Draw(picture)
    pen.rectangle((10, 10, 1190, 890), outline=(120, 120, 120), width=3)
    for x, y in MARKS:
        pen.rectangle((x - 7, y - 7, x + 6, y + 6), fill=(10, 10, 10))
    return picture


def found_near(picture: Image.Image, spot: tuple[float, float]) -> tuple[float, float]:
    """Give the middle of the dark pixels near a spot."""
    x, y = (round(part) for part in spot)
    part = np.asarray(picture.convert("L"))[y - 15 : y + 15, x - 15 : x + 15]
    rows, columns = np.nonzero(part < 100)
    assert len(rows)
    return x - 15 + columns.mean() + 0.5, y - 15 + rows.mean() + 0.5


@pytest.mark.parametrize("lean", [0.0, 2.4, -3.7])
@pytest.mark.parametrize("table", [0, 120])
def test_the_map_leads_to_where_a_mark_has_come(lean: float, table: int) -> None:
    """After turning, cropping and making smaller, each mark lies within two pixels of where the map says."""
    photo = photograph(marked(), (2600, 1950), Circumstances(lean=lean, table=table, grain=0.005, texture=0.0))
    made, there, told = develop(photo.picture, 1600, Choice.JUDGED)
    assert told.kept < 0.9
    assert (told.turned != 0) == (lean != 0)
    for mark in MARKS:
        x, y = there.at(*photo.taken.at(*mark))
        found = found_near(made, (x, y))
        assert abs(found[0] - x) < 2
        assert abs(found[1] - y) < 2


def test_ink_is_never_cut() -> None:
    """All that is drawn is within the developed picture, with a margin round it."""
    known = drawing("finch")
    made, there = developed(photograph(known, SIZE, CIRCUMSTANCES["on a table, askew"]))
    rows, columns = np.nonzero(np.asarray(known.convert("L")) < 200)
    corners = [(x, y) for x in (columns.min(), columns.max()) for y in (rows.min(), rows.max())]
    for x, y in (there.at(float(x), float(y)) for x, y in corners):
        assert 5 < x < made.width - 5
        assert 5 < y < made.height - 5


@pytest.mark.parametrize(
    ("ground", "noise", "why"),
    [
        (WHITE, 0, "its rim is of one colour"),
        ((246, 240, 226), 0, "its rim is of one colour"),
        ((120, 130, 90), 90, "no even paper was found"),
    ],
)
def test_what_is_no_photographed_page_is_left_alone(ground: tuple[int, int, int], noise: int, why: str) -> None:
    """A finished drawing on white or on a colour, and a picture without any paper, stay as they are."""
    picture = Image.new("RGB", (400, 300), ground)
    ImageDraw.Draw(picture).ellipse((150, 100, 260, 190), fill=(70, 60, 50))
    if noise:
        leaves = Image.merge("RGB", [Image.effect_noise((80, 60), noise) for _ in range(3)])
        picture = Image.blend(picture, leaves.resize((400, 300), Image.Resampling.BICUBIC), 0.7)
    made, there, told = develop(picture, 1600, Choice.JUDGED)
    assert made is picture
    assert there == Affine()
    assert not told.done
    assert told.why.startswith(why)


def test_a_finished_drawing_is_developed_when_asked() -> None:
    """What is written overrules what is judged: the ground of a colour becomes white, and the rest is cropped."""
    picture = Image.new("RGB", (400, 300), (246, 240, 226))
    ImageDraw.Draw(picture).ellipse((150, 100, 260, 190), fill=(70, 60, 50))
    made, _, told = develop(picture, 1600, Choice.DRAWING)
    assert told.done
    assert made.getpixel((1, 1)) == WHITE
    assert made.width < 150


@pytest.mark.parametrize("size", [(1, 1), (3, 200), (200, 2), (161, 161)])
@pytest.mark.parametrize("choice", [Choice.JUDGED, Choice.DRAWING])
def test_no_size_is_too_small_to_be_answered(size: tuple[int, int], choice: Choice) -> None:
    """Strips and dots come back, developed or not, and never empty."""
    made, _, _ = develop(Image.effect_noise(size, 20).convert("RGB"), 1600, choice)
    assert min(made.size) >= 1


def test_developing_again_gives_the_same_pixels() -> None:
    """Nothing is left to chance."""
    photo = photograph(shapes((600, 450)), (800, 600), Circumstances(lean=1.5, table=60))
    once, again = (develop(photo.picture, 1600, Choice.JUDGED) for _ in range(2))
    assert once[0].tobytes() == again[0].tobytes()
    assert once[1:] == again[1:]
