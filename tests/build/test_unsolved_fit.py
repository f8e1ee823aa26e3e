"""The page of a bird that could not be named says which mark fits each candidate, and which contradicts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

ENTRIES = {
    "entries/downy.md": """---
species: Downy Woodpecker
marks:
  all: |
    bill: short
    belly: white
  male: |
    nape: red
  female: |
    nape: black
---
""",
    "entries/hairy.md": "---\nspecies: Hairy Woodpecker\nmarks:\n  all: |\n    belly: brown\n---\n",
    "entries/creeper.md": "---\nspecies: Brown Creeper\n---\n",
    "entries/dusk.md": """---
unknown: Bird at dusk
marks: |
  belly: white
  nape: black
  back: striped
could be: [DOWO, HAWO, BRCR, PIWO]
not: |
  HAWO: too small by half
---
""",
}


@pytest.fixture
def build(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Path:
    folder = make_guide(ENTRIES)
    assert not build_guide(folder).report.has_errors
    return folder / "build"


def items(page: Path, section: str) -> list[str]:
    tree = LexborHTMLParser(page.read_text(encoding="utf-8"))
    return [" ".join(node.text().split()) for node in tree.css(f"section[aria-labelledby={section}] > ul > li")]


def test_each_candidate_with_marks_is_held_against_what_was_seen(build: Path) -> None:
    """The best plumage is named, with the marks that fit, contradict or are not recorded."""
    downy, hairy, creeper, pileated, ruled_out = items(build / "unsolved/bird-at-dusk.html", "candidates")
    assert downy == (
        "DOWO Downy Woodpecker Held against females "
        "fits belly colourseen: white; account: white from all "
        "fits nape colourseen: black; account: black "
        "Not recorded, or left open: back pattern. "
        "Other plumages: males (contradicted by nape)."
    )
    assert hairy == (
        "HAWO Hairy Woodpecker Held against all birds "
        "contradicts belly colourseen: white; account: brown "
        "Not recorded, or left open: nape colour; back pattern."
    )
    assert creeper.endswith(
        "nothing fits or contradicts. Not recorded, or left open: belly colour; nape colour; back pattern."
    )
    assert pileated == "PIWO Pileated Woodpecker"
    assert ruled_out.startswith("not HAWO Hairy Woodpecker too small by half Held against all birds contradicts belly")


def test_the_question_says_so_too(build: Path) -> None:
    """A friend sees the same marks, in a list under each candidate."""
    downy, hairy, *_ = items(build / "questions/bird-at-dusk.html", "could")
    assert "fits: belly (colour); females have “white”" in downy
    assert "contradicts: belly (colour); all birds have “brown”" in hairy


@pytest.mark.parametrize("page", ["unsolved/bird-at-dusk.html", "questions/bird-at-dusk.html"])
def test_no_likelihood_is_claimed(build: Path, page: str) -> None:
    """There is no percentage and no score, only marks."""
    main = LexborHTMLParser((build / page).read_text(encoding="utf-8")).css_first("main")
    assert main is not None
    text = main.text()
    assert "%" not in text
    assert "per cent" not in text
