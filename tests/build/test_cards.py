"""Field cards: what is chosen for them, and how that is measured."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide
from tertial.pages.card_room import lines, taken

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

LINE = 12.0
"""A line of about twenty letters, in sizes of the letters."""

HAIRY = """---
species: Hairy Woodpecker
marks:
  all: |
    bill: always as long as head
    outer tail feathers: white
{more}
  male: |
    nape: black, no red
similar: [DOWO]
---
"""
DOWNY = """---
species: Downy Woodpecker
marks:
  all: |
    bill: always half as long as head
    outer tail feathers: white, barred with black
    back: white
{more}
  male: |
    nape: red patch
---
"""
LONG = "white with {} bars of the darkest brown, each of them as broad as the white between them"
PARTS = ("crown", "chin", "throat", "breast", "belly", "rump", "flanks", "forehead", "lores", "mantle")


@pytest.mark.parametrize(
    ("text", "count"),
    [("", 1), ("bill", 1), ("black and white bill", 1), ("black and white bill and breast", 2), ("n" * 40, 3)],
)
def test_lines_are_counted_as_they_are_set(text: str, count: int) -> None:
    """Words go on a line as long as there is room; a word longer than a line is broken."""
    assert lines(text, LINE) == count


def test_what_does_not_fit_is_left_out_for_what_does() -> None:
    """The first piece comes first; a high one gives way to a low one after it, never to one before it."""
    pieces = [("names", 10.0), ("plate", 40.0), ("sentence", 55.0), ("mark", 30.0), ("other mark", 30.0)]
    assert list(taken(pieces, 85)) == ["names", "plate", "mark"]
    assert list(taken(pieces, 5)) == []


def _card(make_guide: Callable[[Mapping[str, str | bytes]], Path], first: str, second: str) -> LexborHTMLParser:
    folder = make_guide({"entries/hairy.md": HAIRY.format(more=first), "entries/downy.md": DOWNY.format(more=second)})
    assert build_guide(folder).pages
    return LexborHTMLParser((folder / "build/cards/dowo-hawo.html").read_text(encoding="utf-8"))


def test_a_card_says_what_settles_it_and_what_is_missing(
    make_guide: Callable[[Mapping[str, str | bytes]], Path],
) -> None:
    """Sentences first, the best mark with its verdict in words, each part once, and what to look at next."""
    card = _card(make_guide, "", "")
    sentences = [each.text() for each in card.css(".card-shorts li")]
    assert sentences == ["Males: the length of the bill settles it."]
    rows = [[" ".join(cell.text().split()) for cell in row.css("th, td")] for row in card.css("tbody tr")]
    assert rows[0] == ["bill diagnostic", "always half as long as head", "always as long as head"]
    assert ["nape males, strong", "red patch", "black, no red"] in rows
    assert len({row[0].split()[0] for row in rows}) == len(rows)
    assert [each.text() for each in card.css(".card-wanted li")] == ["To look at: HAWO (all birds), back"]


def test_a_card_has_a_mark_of_every_plumage(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """A plumage with a mark of its own has a row before a second one of another, and no row says where it is from."""
    male = "  male: |\n    crown: {}\n    throat: {}\n  female: |\n    breast: {}\n  juvenile: |\n    rump: {}\n"
    parts = ("all", "male", "female", "juvenile")
    first, second = (male.format(*colours) for colours in (("red", "white", "white", "buff"), ("black",) * 4))
    entries: dict[str, str | bytes] = {
        "entries/hairy.md": "---\nspecies: Hairy Woodpecker\nmarks:\n  all: |\n    bill: long\n"
        f"{first}similar: [DOWO]\n---\n",
        "entries/downy.md": f"---\nspecies: Downy Woodpecker\nmarks:\n  all: |\n    bill: short\n{second}---\n",
    }
    folder = make_guide(entries)
    assert build_guide(folder).pages
    card = LexborHTMLParser((folder / "build/cards/dowo-hawo.html").read_text(encoding="utf-8"))
    heads = [" ".join(row.text().split()) for row in card.css("tbody th")]
    assert {part.split()[0] for part in heads[: len(parts)]} == {"bill", "crown", "breast", "rump"}
    assert heads[len(parts)].split()[0] == "throat"
    assert not any("from all" in cell.text() for cell in card.css("tbody td"))
    for sentence in card.css(".card-shorts li"):
        assert any(row.split()[0] in sentence.text() for row in heads)


def test_what_an_author_says_of_the_pair_comes_first(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """A short remark stands in the place of sentences, and the part that it names before better ones."""
    remark = "similar:\n  DOWO: a black rump decides it"
    black, white = ("\n".join(f"    {part}: {colour}" for part in PARTS) for colour in ("black", "white"))
    folder = make_guide(
        {
            "entries/hairy.md": HAIRY.format(more=black).replace("similar: [DOWO]", remark),
            "entries/downy.md": DOWNY.format(more=white),
        }
    )
    assert build_guide(folder).pages
    card = LexborHTMLParser((folder / "build/cards/dowo-hawo.html").read_text(encoding="utf-8"))
    assert [each.text() for each in card.css(".card-shorts li")] == ["HAWO a black rump decides it"]
    parts = [each.text() for each in card.css("tbody th b")]
    assert parts[:2] == ["bill", "rump"]


def test_a_card_holds_no_more_than_its_side(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """Of many long marks only some are on the card, the best among them."""
    first = "\n".join(f"    {part}: {LONG.format('black')}" for part in PARTS)
    second = "\n".join(f"    {part}: {LONG.format('no')}, no black" for part in PARTS)
    rows = _card(make_guide, first, second).css("tbody tr")
    assert 2 <= len(rows) <= 6
    assert "bill" in rows[0].text()


def test_many_cards_are_on_pages_of_three_sheets(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """The first 12 cards are on one page and the rest on the next, each page leading to the other."""
    codes = [f"BI{first}{second}" for first in "AB" for second in "VWXYZ"]
    bird = "---\nspecies: {code} bird\ncode: {code}\nsimilar: [{codes}]\nmarks: |\n  bill: black\n---\n"
    entries: dict[str, str | bytes] = {
        f"entries/{code}.md": bird.format(code=code, codes=", ".join(codes[at + 1 : at + 3]))
        for at, code in enumerate(codes)
    }
    folder = make_guide(entries)
    assert build_guide(folder).pages
    pairs = 2 * len(codes) - 3
    pages = [folder / "build/cards" / name for name in ("index.html", "part-2.html")]
    first, second = (LexborHTMLParser(page.read_text(encoding="utf-8")) for page in pages)
    assert [len(page.css(".field-card")) for page in (first, second)] == [12, pairs - 12]
    assert [each.attributes["href"] for each in first.css(".other-cards a")] == ["../cards/part-2.html"]
    assert [each.attributes["href"] for each in second.css(".other-cards a")] == ["../cards/index.html"]
