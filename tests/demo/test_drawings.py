"""The demo's drawings and its entries agree: what is pointed at was drawn there."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from tests.demo.paper import MOST_BYTES, framing
from tests.demo.photograph import DRAWINGS, ENTRIES
from tests.demo.spots import HEAD, SCALE, lines_of, read_drawing, told

if TYPE_CHECKING:
    from pathlib import Path

MOST_OF_A_DRAWING = 300_000
"""Bytes of a drawing with spots: one that a person can still open and change."""

SPOTTED = [path for path in sorted(DRAWINGS.glob("*.svg")) if 'class="spot"' in path.read_text(encoding="utf-8")]


@pytest.mark.parametrize("path", SPOTTED, ids=lambda path: path.stem)
def test_a_drawing_can_be_read_and_its_spots_lie_on_it(path: Path) -> None:
    """A drawing is no larger than it needs to be, names no other file, and no spot is off its sheet."""
    text = path.read_text(encoding="utf-8")
    drawing = read_drawing(text)
    assert len(text.encode()) <= MOST_OF_A_DRAWING
    assert re.findall(r"""href=["'](?!#)""", text) == [], "a drawing refers to nothing but its own parts"
    assert "<script" not in text
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in drawing.spots.values())


@pytest.mark.parametrize(
    "path",
    [path for path in SPOTTED if 'data-name="bill tip"' in path.read_text(encoding="utf-8")],
    ids=lambda p: p.stem,
)
def test_one_bird_has_all_that_a_plate_needs(path: Path) -> None:
    """A bird with a bill tip has a tail tip, a head round its eye and its bill, and something to point at."""
    spots = read_drawing(path.read_text(encoding="utf-8")).spots
    assert {*SCALE, *HEAD, "bill base", "eye"} < set(spots)
    (left, top), (right, bottom) = (spots[name] for name in HEAD)
    for name in ("bill tip", "bill base", "eye"):
        assert left < spots[name][0] < right, name
        assert top < spots[name][1] < bottom, name


def test_every_entry_tells_its_photographs_as_the_drawings_do() -> None:
    """No coordinate was typed: making the lines of all photographs anew changes no entry."""
    stale, examined = [], 0
    for entry in sorted(ENTRIES.glob("*/*.md")):
        text = entry.read_text(encoding="utf-8")
        for line in text.split("\n"):
            name = line.removeprefix("  - file: ").removesuffix(".jpg")
            if line == f"  - file: {name}.jpg" and DRAWINGS / f"{name}.svg" in SPOTTED:
                examined += 1
                drawing = read_drawing((DRAWINGS / f"{name}.svg").read_text(encoding="utf-8"))
                to_pixels, _ = framing(name, drawing.width, drawing.height)
                if told(text, f"{name}.jpg", lines_of(drawing, to_pixels)) != text:
                    stale.append(name)
    assert stale == []
    assert examined >= 23


def test_no_photograph_is_too_heavy() -> None:
    """What a demo weighs is downloaded with the program."""
    photographs = sorted(ENTRIES.glob("*/*.jpg"))
    assert photographs
    assert {path.name for path in photographs if path.stat().st_size > MOST_BYTES} == set()
