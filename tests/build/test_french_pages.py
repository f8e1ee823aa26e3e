"""A guide whose pages are in French and whose entries are in English."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

DOWNY = """---
species: Downy Woodpecker
when: Apr-Aug
size:
  length: 14.5-18 cm
marks:
  male: |
    nape: red patch
similar:
  HAWO: bill against head
written: 2026-03-01
---
At the mill.
"""
HAIRY = "---\nspecies: Hairy Woodpecker\nmarks:\n  male: |\n    nape: always black\n---\nIn the wood.\n"


@pytest.fixture
def page(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Callable[[str], LexborHTMLParser]:
    """Build the guide and give one of its pages."""
    settings = "title: Birds of the Millrace\nlanguage: fr\nwritten in: en\n"
    folder = make_guide({"guide.yaml": settings, "entries/a.md": DOWNY, "entries/b.md": HAIRY})
    assert build_guide(folder).pages
    return lambda path: LexborHTMLParser((folder / "build" / path).read_bytes())


def text_of(page: LexborHTMLParser, selector: str) -> str:
    node = page.css_first(selector)
    assert node is not None, selector
    return " ".join(node.text().split())


def test_an_account_is_headed_by_the_french_name_at_the_same_address(
    page: Callable[[str], LexborHTMLParser],
) -> None:
    """The English name stands beside it, marked as English; part, plumage, measure, months and day are French."""
    account = page("species/downy-woodpecker.html")
    assert text_of(account, "html[lang=fr] h1:not([lang])") == "Pic mineur"
    assert text_of(account, ".other-name[lang=en]") == "Downy Woodpecker"
    assert text_of(account, ".year .unseen") == "Saison : avril à août."
    assert "14,5–18 cm" in text_of(account, "aside")
    assert "nuque" in text_of(account, "main")
    assert "Mâle" in text_of(account, "main")
    assert text_of(account, ".dates") == "Écrit le 1er mars 2026."


def test_words_of_the_author_carry_their_language(page: Callable[[str], LexborHTMLParser]) -> None:
    """Phrases, remarks and the text of the journal are English within a French page, its headings are not."""
    account = page("species/downy-woodpecker.html")
    english = " ".join(node.text() for node in account.css("[lang=en]"))
    assert "red patch" in english
    assert "bill against head" in english
    assert text_of(account, "section[lang=en] h2[lang=fr]") == "Extrait du carnet"


def test_a_comparison_is_summed_up_in_french(page: Callable[[str], LexborHTMLParser]) -> None:
    """Sentences agree with the article of a part."""
    pair = page("pairs/dowo-hawo.html")
    assert text_of(pair, "h1") == "Pic mineur ou Pic chevelu"
    assert text_of(pair, ".shorts li") == "Mâles : la couleur de la nuque sépare presque tous les oiseaux."
