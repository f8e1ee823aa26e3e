"""Pictures that show pages elsewhere: their size, what is on them, and that each is drawn once."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageDraw

from tertial.sketches import showcard
from tertial.sketches.preview import Column, Preview
from tertial.sketches.previewing import kept_previews

LETTERS = Path(__file__).resolve().parents[2] / "layouts" / "assets" / "fonts"
PAPER = (0xF8, 0xF4, 0xEA)
# JPEG moves a plain colour by a step or two, and more beside an edge.
NEAR = 24


@pytest.fixture
def drawing(tmp_path: Path) -> Path:
    """A red disc on white, and a clear corner, as a size in the store."""
    picture = Image.new("RGBA", (480, 360), "white")
    pen = ImageDraw.Draw(picture)
    pen.ellipse((180, 120, 300, 240), "red")
    pen.rectangle((0, 0, 60, 60), (0, 0, 0, 0))
    file = tmp_path / "store" / "abc-drawing-1" / "480.webp"
    file.parent.mkdir(parents=True)
    picture.save(file, "WEBP", lossless=True)
    return file


def drawn(preview: Preview) -> Image.Image:
    with Image.open(io.BytesIO(showcard.draw(preview, LETTERS))) as picture:
        picture.load()
        assert picture.format == "JPEG"
        return picture


def far_from_paper(picture: Image.Image) -> tuple[int, int, int, int] | None:
    """Give the edges of all that is not paper."""
    difference = ImageChops.difference(picture, Image.new("RGB", picture.size, PAPER)).convert("L")
    return difference.point(lambda value: 255 * (value > NEAR)).getbbox()


def test_the_white_of_a_drawing_and_what_is_clear_become_the_paper(drawing: Path) -> None:
    """A bird stands on the paper of the page, without a box round it."""
    picture = drawn(Preview("", (Column(drawing),)))
    assert picture.size == (1200, 630)
    edges = far_from_paper(picture)
    assert edges is not None
    left, _, right, _ = edges
    assert abs((left + right) / 2 - 600) < 4
    assert far_from_paper(picture.crop((620, 50, 640, 70))) is None


def test_two_birds_stand_beside_each_other(drawing: Path) -> None:
    """Each in its half, with its name under it."""
    picture = drawn(Preview("Guide", (Column(drawing, "Grey Tit", "Parus griseus"), Column(drawing, "Brown Tit"))))
    for left in (0, 600):
        half = picture.crop((left, 0, left + 600, 400))
        edges = far_from_paper(half)
        assert edges is not None
        assert abs((edges[0] + edges[2]) / 2 - 300) < 40
        assert far_from_paper(picture.crop((left, 430, left + 600, 480))) is not None


@pytest.mark.parametrize("name", ["Žluna zelená", "Tit", "“Grey”-backed Tit’s–tail"])
def test_letters_of_the_pages_are_written(name: str) -> None:
    """Names with accents and signs are written with the fonts of the pages."""
    assert far_from_paper(drawn(Preview(name))) is not None


@pytest.mark.parametrize("name", ["", "山雀", "Синица"])
def test_what_has_no_letters_is_left_out(name: str) -> None:
    """No empty boxes stand for what the fonts have not."""
    assert far_from_paper(drawn(Preview(name))) is None


def test_a_long_name_is_written_smaller_and_stays_in_its_column(drawing: Path) -> None:
    """Between two long names there is room."""
    long = "Unusually Long-billed Streamside Hopper"
    picture = drawn(Preview("T" * 60, (Column(drawing, long), Column(drawing, long))))
    assert far_from_paper(picture.crop((0, 430, 60, 630))) is None
    assert far_from_paper(picture.crop((580, 430, 620, 500))) is None
    assert far_from_paper(picture.crop((60, 430, 580, 490))) is not None


def test_each_is_drawn_once(drawing: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time it is found again; another name, drawing or title makes another."""
    store = tmp_path / "store"
    previews = [Preview("T", (Column(drawing, "A"),)), Preview("T", (Column(drawing, "B"),)), Preview("U")]
    made = [*kept_previews(store, LETTERS, previews)]
    assert len(set(made)) == 3
    assert [file.read_bytes()[:2] for file in made] == [b"\xff\xd8"] * 3
    monkeypatch.setattr(showcard, "draw", lambda *_: pytest.fail("it was drawn again"))
    assert [*kept_previews(store, LETTERS, previews)] == made
    assert sorted(file.name for file in made[0].parent.iterdir()) == sorted(file.name for file in made)


def test_the_same_drawing_gives_the_same_bytes(drawing: Path) -> None:
    """Nothing but what is drawn has a say."""
    preview = Preview("Guide", (Column(drawing, "Grey Tit"),))
    assert showcard.draw(preview, LETTERS) == showcard.draw(preview, LETTERS)
