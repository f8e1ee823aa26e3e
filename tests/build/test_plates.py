"""Plates, heads and the ladder on the pages of a guide: what is beside what, and in which words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PIL import Image, ImageDraw
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from selectolax.lexbor import LexborNode

ENTRY = """---
species: {name}
code: {code}
size: {{length: {length}}}
similar: [{other}]
sketches:
{sketches}
---
"""
SKETCH = """  - file: {file}
    shows: {shows}
    alt: A bird
    scale: bill tip 40,100 to tail tip {tail},100
    head: 30,40 to 140,130
"""


def draw(path: Path, tail: int) -> None:
    """Draw a bird that lies flat, so many pixels from bill to tail."""
    picture = Image.new("RGB", (tail + 40, 200), "white")
    pen = ImageDraw.Draw(picture)
    pen.polygon([(40, 100), (90, 88), (90, 112)], fill="#333")
    pen.ellipse((75, 45, 160, 155), fill="#554433")
    pen.ellipse((100, 70, tail, 170), fill="#887766")
    picture.save(path)


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A guide of three birds: two that are taken for one another, and one whose sketch has no scale."""
    folder = tmp_path_factory.mktemp("plates")
    entries = folder / "entries"
    entries.mkdir()
    (folder / "guide.yaml").write_text("title: Plates\nyardsticks: [DOWO, MALL]\n", encoding="utf-8")
    draw(entries / "downy.png", 360)
    draw(entries / "hairy.png", 640)
    downy = [("downy.png", "male", 360), ("downy.png", "juvenile", 360)]
    hairy = [("hairy.png", "female", 640), ("hairy.png", "male", 640)]
    for name, code, length, other, sketches in (
        ("Downy Woodpecker", "DOWO", "16 cm", "HAWO", downy),
        ("Hairy Woodpecker", "HAWO", "18-30 cm", "DOWO", hairy),
    ):
        listed = "".join(SKETCH.format(file=file, shows=shows, tail=tail) for file, shows, tail in sketches)
        text = ENTRY.format(name=name, code=code, length=length, other=other, sketches=listed)
        (entries / f"{code}.md").write_text(text, encoding="utf-8")
    bare = "---\nspecies: House Finch\nsketches:\n  - {file: downy.png, alt: A finch}\n---\n"
    (entries / "HOFI.md").write_text(bare, encoding="utf-8")
    flock = "---\nflock: Winter flock\nmembers: [DOWO, HAWO, HOFI]\n---\n"
    (entries / "flock.md").write_text(flock, encoding="utf-8")
    build = build_guide(folder)
    assert build.pages, build.report.problems
    return folder / "build"


@pytest.fixture(scope="module")
def page(built: Path) -> Callable[[str], LexborHTMLParser]:
    """Read a page of the guide."""
    return lambda path: LexborHTMLParser((built / path).read_text(encoding="utf-8"))


def one(tree: LexborHTMLParser, selector: str) -> LexborNode:
    """Give the one node that a selector finds."""
    (node,) = tree.css(selector)
    return node


def number(node: LexborNode, name: str) -> float:
    """Give an attribute as a number."""
    return float(node.attributes[name] or "nan")


def test_a_pair_stands_at_one_scale_in_the_plumage_of_both(page: Callable[[str], LexborHTMLParser]) -> None:
    """Only the males are shown, and the one of 24 cm is 24/16 as long as the one of 16 cm."""
    tree = page("pairs/dowo-hawo.html")
    plate = one(tree, "#at-scale ~ figure svg")
    first, second = plate.css("image")
    pixels = {"downy": 320 / 400, "hairy": 600 / 680}
    lengths = [number(first, "width") * pixels["downy"], number(second, "width") * pixels["hairy"]]
    assert lengths[1] / lengths[0] == pytest.approx(24 / 16, rel=0.01)
    assert [text.text() for text in plate.css("text")][:4] == ["DOWO", "male", "HAWO", "male"]


def test_the_bar_of_the_pair_measures_its_birds(page: Callable[[str], LexborHTMLParser]) -> None:
    """By the bar and its words the bird of 16 cm is 16 cm long, to one in a hundred."""
    plate = one(page("pairs/dowo-hawo.html"), "#at-scale ~ figure svg")
    across = float((one_of(plate, "path.bar").attributes["d"] or "").split("h")[1].split("m")[0]) + 2
    cm = float(one_of(plate, ".bar-words").text().split()[0])
    assert number(plate.css("image")[0], "width") * 320 / 400 / (across / cm) == pytest.approx(16, rel=0.01)


def one_of(node: LexborNode, selector: str) -> LexborNode:
    """Give the one node below another that a selector finds."""
    (found,) = node.css(selector)
    return found


def test_the_plate_is_told_in_words(page: Callable[[str], LexborHTMLParser]) -> None:
    """Those who do not see it read the same: who, how long, how they compare, and what is uncertain."""
    tree = page("pairs/dowo-hawo.html")
    label = one(tree, "#at-scale ~ figure svg").attributes["aria-label"]
    assert label == (
        "At one scale, from the smallest: Downy Woodpecker, length 16\N{NO-BREAK SPACE}cm; "
        "Hairy Woodpecker, length 18–30\N{NO-BREAK SPACE}cm. "
        "Hairy Woodpecker is drawn 1.5 times as long as Downy Woodpecker."
    )
    notes = [node.text() for node in tree.css("#at-scale ~ figure .remark")]
    assert any(note.startswith("Approximate") for note in notes)
    assert any("HAWO 18–30 cm, drawn at 24 cm" in note.replace("\N{NO-BREAK SPACE}", " ") for note in notes)


def test_no_picture_is_shown_larger_than_it_is(built: Path, page: Callable[[str], LexborHTMLParser]) -> None:
    """On no page does a sketch take up more units than the shown file has pixels."""
    seen = 0
    for path in ("pairs/dowo-hawo.html", "flocks/winter-flock.html"):
        for image in page(path).css(".scale-plate > g > image"):
            file = (built / path).parent / (image.attributes["href"] or "")
            with Image.open(file) as picture:
                assert number(image, "width") <= picture.width + 0.01
            seen += 1
    assert seen == 4


def test_a_sketch_without_a_scale_stands_beside_and_says_so(page: Callable[[str], LexborHTMLParser]) -> None:
    """In a flock the finch is named as not to scale, and is no part of the plate."""
    tree = page("flocks/winter-flock.html")
    assert "HOFI House Finch, not to scale" in one(tree, ".not-to-scale").text()
    assert "HOFI" not in [node.text() for node in tree.css("#at-scale ~ figure svg text")]


def test_heads_of_a_pair_are_told_of_and_laid_over_each_other(page: Callable[[str], LexborHTMLParser]) -> None:
    """The strip has both heads; the overlay two lines, each named."""
    tree = page("pairs/dowo-hawo.html")
    assert len(tree.css("svg.heads image")) == 2
    assert len(tree.css("svg.overlay path")) == 2
    assert one(tree, "svg.overlay").attributes["aria-label"] == (
        "Outlines of two heads over each other: DOWO male drawn out, HAWO male dashed"
    )


def test_a_bird_and_its_head_are_one_file(demo: Path) -> None:
    """A page of several birds fetches each sketch for its plates in one size, though birds and heads need several."""
    several = 0
    for path in (*demo.glob("build/pairs/*-*.html"), *demo.glob("build/groups/*-*.html")):
        tree = LexborHTMLParser(path.read_text(encoding="utf-8"))
        files = [str(each.attributes["href"]) for each in tree.css("svg.scale-plate image")]
        sketches = {file.rpartition("-")[0] for file in files}
        assert len(set(files)) == len(sketches), path.name
        several += len(files) > len(sketches)
    assert several > 5


def test_every_rung_of_the_ladder_is_a_way_to_its_bird(built: Path, page: Callable[[str], LexborHTMLParser]) -> None:
    """Birds stand from the smallest to the largest; each with an account is a link that leads to it."""
    tree = page("ladder.html")
    rungs = tree.css(".ladder > li")
    assert [one_of(rung, ".code").text() for rung in rungs] == ["DOWO", "HAWO", "MALL"]
    ways = [rung.css_first("a") for rung in rungs]
    assert [bool(way) for way in ways] == [True, True, False]
    assert all((built / (way.attributes["href"] or "")).is_file() for way in ways if way)


def test_the_ladder_marks_the_birds_to_measure_by(page: Callable[[str], LexborHTMLParser]) -> None:
    """A yardstick bird is marked whether it has an account or not, and one without a name in the table is not."""
    tree = page("ladder.html")
    assert [one_of(rung, ".code").text() for rung in tree.css(".ladder > .yardstick")] == ["MALL"]
    assert "to measure by: mallard" in one(tree, ".ladder > .yardstick").text()


def test_what_has_no_length_is_listed_below_the_ladder(page: Callable[[str], LexborHTMLParser]) -> None:
    """The finch of which no length is written is named all the same."""
    assert "House Finch" in one(page("ladder.html"), "#unmeasured ~ ul").text()


def test_ladder_drawings_have_their_length_on_its_scale(page: Callable[[str], LexborHTMLParser]) -> None:
    """Measured by the ticks, the sketch of the bird of 16 cm is about 16 cm wide."""
    tree = page("ladder.html")
    ticks = [float((node.attributes["d"] or "").split()[0].lstrip("M")) for node in tree.css(".axis.above .tick")]
    words = [node.text() for node in tree.css(".axis.above text")]
    per_cm = (ticks[1] - ticks[0]) / float(words[1])
    window = tree.css(".ladder > li")[0].css_first("svg svg")
    assert window is not None
    assert number(window, "width") / per_cm == pytest.approx(16, rel=0.02)


def test_plates_are_the_same_when_outlines_are_found_again(built: Path) -> None:
    """A second build, with everything kept, writes the same pages."""
    before = {path: path.read_bytes() for path in built.rglob("*.html")}
    build_guide(built.parent)
    assert {path: path.read_bytes() for path in built.rglob("*.html")} == before
