"""The page of words and the page of method say how phrases are read and what a difference is worth."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide
from tertial.marks.measures import Basis
from tertial.marks.verdicts import Verdict, load_thresholds
from tertial.marks.words import load_words

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

SETTINGS = "title: Test\nwords:\n  colour:\n    foxy: rufous\n"


@pytest.fixture
def build(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Path:
    folder = make_guide({"guide.yaml": SETTINGS, "entries/downy.md": "---\nspecies: Downy Woodpecker\n---\n"})
    assert not build_guide(folder).report.has_errors
    return folder / "build"


def tree(build: Path, page: str) -> LexborHTMLParser:
    return LexborHTMLParser((build / page).read_text(encoding="utf-8"))


def text(page: LexborHTMLParser, selector: str) -> str:
    found = page.css_first(selector)
    assert found is not None, selector
    return " ".join(found.text().split())


def test_every_term_that_is_compared_is_on_the_page(build: Path) -> None:
    """Each has a place of its own, and no two have the same."""
    page = tree(build, "words.html")
    terms = [" ".join(node.text().split()) for node in page.css(".glossary dt")]
    known = {word for _, word in load_words().lists.terms}
    assert len(known) > 200
    assert known <= set(terms)
    ids = [node.attributes["id"] for node in page.css("[id]")]
    assert len(ids) == len(set(ids))


def test_a_colour_has_a_swatch_of_its_own_colour(build: Path) -> None:
    """The swatch is a filled rectangle, hidden from those who cannot see it; the word says the same."""
    page = tree(build, "words.html")
    swatch = page.css_first("#word-colour-rufous svg.swatch rect")
    assert swatch is not None
    assert swatch.attributes["fill"] == load_words().colour("rufous")
    assert len(page.css("svg.swatch")) == len(page.css("svg.swatch[aria-hidden=true]")) > 40


def test_scales_stand_in_order_and_near_words_name_each_other(build: Path) -> None:
    """Neighbours on a scale agree by half, near terms wholly; the page shows which is which."""
    page = tree(build, "words.html")
    scales = {" ".join(node.text().split()) for node in page.css("h3") if node.text().strip().endswith("a scale")}
    assert {"Lightness, a scale", "Against head, a scale"} <= scales
    ids = [node.attributes["id"] for node in page.css(".glossary > div")]
    places = [ids.index(f"word-colour-{word}") for word in ("dark", "medium", "pale")]
    assert places == sorted(places)
    assert "taken for the same as" in text(page, "#word-colour-blackish")
    assert "black" in text(page, "#word-colour-blackish .view")


def test_words_of_the_author_stand_beside_the_known_one(build: Path) -> None:
    """A reader finds the author's own word where it means something."""
    assert "foxy" in text(tree(build, "words.html"), "#word-colour-rufous dd")


@pytest.mark.parametrize("page", ["words.html", "method.html"])
def test_the_weights_are_those_that_count_and_called_our_choice(build: Path, page: str) -> None:
    """Both pages show the table by which phrases are weighed."""
    found = tree(build, page)
    rows = {}
    for row in found.css("tbody tr"):
        head, cell = row.css_first("th"), row.css_first("td")
        assert head is not None
        assert cell is not None
        rows[head.text().strip()] = cell.text().split()[:1]
    weights = load_words().lists.weights
    assert len(weights) >= 8
    assert {word: rows[word] for word in weights} == {word: [f"{weight:g}"] for word, weight in weights.items()}
    assert "our own choice" in text(found, "main")


@pytest.mark.parametrize("verdict", list(Verdict))
def test_each_verdict_can_be_linked_to(build: Path, verdict: Verdict) -> None:
    """The page of method has a row for it, with its limit and its meaning."""
    row = text(tree(build, "method.html"), f"tr#verdict-{verdict.replace(' ', '-')}")
    found = next(each for each in load_thresholds() if each.verdict is verdict)
    assert row.startswith(verdict)
    assert row.endswith(found.meaning)
    assert (f"{found.least:g}" in row) if found.least else True


def test_the_assumptions_of_measures_are_told(build: Path) -> None:
    """Overlap, normal distributions and each origin of a spread are named."""
    method = text(tree(build, "method.html"), "section[aria-labelledby=sizes]")
    assert [basis for basis in Basis if basis not in method] == []
    assert "overlap coefficient" in method
    assert "1.25" in method


def test_words_and_method_lead_to_each_other(build: Path) -> None:
    """One is a link away from the other, and the menu leads to both."""
    assert tree(build, "method.html").css_first("main a[href='words.html']") is not None
    words = tree(build, "words.html")
    assert words.css_first("main a[href='method.html#phrases']") is not None
    assert words.css_first("nav a[href='words.html'][aria-current=page]") is not None
