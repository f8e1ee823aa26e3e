"""Under each mark the proof shows what was understood of it; the finished guide shows nothing of the kind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tests.proof.reader import Reader

HAIRY = """---
species: Hairy Woodpecker
marks:
  all: |
    bill: usually black, blotchlike
    nope: black
  juvenile: |
    crown: not seen
---
"""
DUSK = "---\nunknown: Bird at dusk\nmarks: |\n  belly: pale grey\ncould be: [HAWO]\n---\n"
FILES = {"entries/hairy.md": HAIRY, "entries/dusk.md": DUSK}


def notes(html: str) -> dict[str, list[str]]:
    found = {}
    for row in LexborHTMLParser(html).css("section[aria-labelledby=marks] tr"):
        head = row.css_first("th")
        assert head is not None
        found[head.text().strip()] = [" ".join(item.text().split()) for item in row.css(".proof-read li")]
    return found


def test_each_mark_has_what_was_understood_and_what_was_not(open_proof: Callable[..., Reader]) -> None:
    """Respects with their states, words without meaning, and marks that do not count are told in place."""
    found = notes(open_proof(FILES).ask("/species/hairy-woodpecker.html").text)
    assert found.keys() == {"bill", "nope", "crown"}
    assert found["bill"][0] == "colour: black 0.8"
    assert found["bill"][1].startswith("not understood: blotchlike")
    assert found["nope"] == found["crown"] == ["nothing to compare"]


def test_what_was_seen_of_an_unsolved_bird_is_read_likewise(open_proof: Callable[..., Reader]) -> None:
    """The marks of a bird without a name are held against accounts, so they show their reading too."""
    found = notes(open_proof(FILES).ask("/unsolved/bird-at-dusk.html").text)
    assert found == {"belly": ["colour: pale grey 0.9"]}


def test_nothing_of_it_is_published(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """The pages of the finished guide hold the author's words alone."""
    folder = make_guide(FILES)
    build_guide(folder)
    pages = [
        (folder / "build" / page).read_text()
        for page in ("species/hairy-woodpecker.html", "unsolved/bird-at-dusk.html")
    ]
    assert all("<table" in page for page in pages)
    assert not any("proof" in page or "not understood" in page for page in pages)
