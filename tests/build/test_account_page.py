"""The page of a species: its order, marks by plumage, the line that tells look-alikes apart, what is missing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

HAIRY = """---
species: Hairy Woodpecker
when: all year
where: [river wood]
size:
  class: starling-sized
marks:
  all: |
    tail: black
    bill: always as long as head
    crown: black
  males: |
    nape: red patch
    crown: unknown
  female: |
    nape: no red
voice: |
  call: sharp
behaviour:
  foraging: chisel
similar: [DOWO]
sources: [my own notes]
---
Met at the mill.
"""
DOWNY = """---
species: Downy Woodpecker
similar:
  HAWO: the bill decides it
marks:
  all: |
    bill: always half as long as head
    flanks: white
---
"""


@pytest.fixture
def pages(make_guide: Callable[[Mapping[str, str]], Path]) -> dict[str, LexborHTMLParser]:
    """The two accounts, built."""
    folder = make_guide({"entries/hairy.md": HAIRY, "entries/downy.md": DOWNY})
    assert build_guide(folder).pages
    names = ("hairy-woodpecker", "downy-woodpecker")
    return {name: LexborHTMLParser((folder / f"build/species/{name}.html").read_bytes()) for name in names}


def _words(page: LexborHTMLParser, css: str) -> list[str]:
    return [" ".join(node.text().split()) for node in page.css(css)]


def test_sections_stand_in_the_order_of_a_handbook(pages: dict[str, LexborHTMLParser]) -> None:
    """Marks, behaviour, voice, look-alikes, the author's text, what is missing, and sources last."""
    found = _words(pages["hairy-woodpecker"], "main h2")
    assert found == [
        "Marks",
        "Behaviour",
        "Voice",
        "Taken for it",
        "From the journal",
        "Not yet recorded",
        "Sources",
    ]


def test_what_is_not_written_has_no_heading(pages: dict[str, LexborHTMLParser]) -> None:
    """An account without a word of its author's text has no empty section for it."""
    assert _words(pages["downy-woodpecker"], "main h2") == ["Marks", "Taken for it", "Not yet recorded"]


def test_marks_stand_in_one_table_of_parts_by_plumages(pages: dict[str, LexborHTMLParser]) -> None:
    """Rows follow the order of evidence; what is said of all runs across under words for ears, and what is not
    written is so called.

    A plumage is headed by its usual word, whatever the account has for it.
    """
    page = pages["hairy-woodpecker"]
    assert _words(page, ".sheet-of-marks thead th") == ["Part", "Male", "Female"]
    rows = [
        [" ".join(cell.text().split()) for cell in row.css("th, td")] for row in page.css(".sheet-of-marks tbody tr")
    ]
    assert rows == [
        ["crown", "all plumages: black"],
        ["crown", "Male unknown", "not written"],
        ["bill", "all plumages: always as long as head"],
        ["nape", "Male red patch", "Female no red"],
        ["tail", "all plumages: black"],
    ]
    assert [node.attributes["colspan"] for node in page.css("td[colspan]")] == ["2", "2", "2"]


def test_a_look_alike_has_one_line_that_tells_it_apart(pages: dict[str, LexborHTMLParser]) -> None:
    """The author's words come first; where there are none, it is what the two accounts come to."""
    assert _words(pages["downy-woodpecker"], ".similar li > p:nth-child(2)") == ["the bill decides it"]
    assert _words(pages["hairy-woodpecker"], ".similar .reckoned") == [
        "All plumages: the length of the bill settles it."
    ]


def test_what_is_not_yet_recorded_is_said(pages: dict[str, LexborHTMLParser]) -> None:
    """Matters without a word, parts that only the look-alike has, and what was looked for in vain."""
    assert _words(pages["hairy-woodpecker"], ".missing li") == [
        "Nothing is written yet of how it looks, in a sketch.",
        "Written of look-alikes, and not of this bird: flanks (DOWO).",
        "Looked for, and not settled: crown (male).",
    ]
    assert _words(pages["downy-woodpecker"], ".missing li") == [
        "Nothing is written yet of how it looks, in a sketch, the size, the months, the habitat, behaviour, the voice.",
        "Written of look-alikes, and not of this bird: crown (HAWO), nape (HAWO), tail (HAWO).",
    ]
