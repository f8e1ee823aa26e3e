"""Two look-alikes side by side: what holds for a plumage, where it comes from, and what nobody wrote down."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Tables = dict[str, dict[str, tuple[str, str]]]

# The two of design.md 4: a nape that is written for all of one bird and for the male of the other,
# and a bill that is written for the male of one and the juvenile of the other.
HAIRY = """---
species: Hairy Woodpecker
when: all year
how common: seldom
size: {length: 18-26 cm}
marks:
  all: |
    nape: black
    back: black with white stripe
    wing bar: does not apply
  male: |
    bill: black
    crown: unknown
  juvenile male: |
    crown: red
voice: |
  call: a sharp peek
similar:
  DOWO: the bill decides
---
"""
DOWNY = """---
species: Downy Woodpecker
size: {mass: 20-33 g}
marks:
  all: |
    back: black
    tail: barred
  male: |
    nape: red patch, unlike HAWO
  female: |
    nape: black and white
  juvenile: |
    bill: grey
voice: |
  drum: slow
similar: [HAWO]
---
"""
NOTHING = "not recorded"


@pytest.fixture
def tables(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Tables:
    """The tables of the pair's page by heading: each row's two cells, as they are read."""
    folder = make_guide({"entries/hairy.md": HAIRY, "entries/downy.md": DOWNY})
    assert build_guide(folder).pages
    page = LexborHTMLParser((folder / "build/pairs/dowo-hawo.html").read_text(encoding="utf-8"))
    found: Tables = {}
    for section in page.css("section:has(> table)"):
        rows = (tuple(cell.text().strip() for cell in row.css("th, td")) for row in section.css("tbody tr"))
        (heading,) = section.css("h2")
        found[heading.text()] = {part: (first, second) for part, first, second in rows}
    return found


@pytest.mark.parametrize(
    ("table", "part", "downy", "hairy"),
    [
        ("Male", "nape", "red patch, unlike HAWO", "black from all"),
        ("Female", "nape", "black and white", "black from all"),
        ("Male", "bill", NOTHING, "black"),
        ("Male", "crown", NOTHING, "unknown"),
        ("All plumages", "wing bar", NOTHING, "does not apply"),
        ("All plumages", "back", "black", "black with white stripe"),
        ("All plumages", "tail", "barred", NOTHING),
        ("Juvenile", "bill", "grey", NOTHING),
        ("Juvenile", "nape", NOTHING, "black from all"),
        ("Juvenile male", "bill", "grey from juvenile", NOTHING),
        ("Juvenile male", "nape", NOTHING, "black from all"),
        ("Juvenile male", "crown", NOTHING, "red"),
        ("Season, place and size", "length", NOTHING, "18-26 cm"),
        ("Season, place and size", "mass", "20-33 g", NOTHING),
        ("Season, place and size", "met in", NOTHING, "all year"),
        ("Voice", "call", NOTHING, "a sharp peek"),
        ("Voice", "drum", "slow", NOTHING),
    ],
)
def test_each_cell_says_what_holds_and_whence(tables: Tables, table: str, part: str, downy: str, hairy: str) -> None:
    """A plumage takes over from wider ones of its age and from all, marked so; the rest is not recorded."""
    assert tables[table][part] == (downy, hairy)


def test_a_young_bird_takes_over_nothing_from_adults(tables: Tables) -> None:
    """What is written for the male stands in no table of the young, and the female's is her own."""
    assert set(tables["Juvenile"]) == {"bill", "nape"}
    assert set(tables["Female"]) == {"nape"}


def test_nothing_is_said_twice(tables: Tables) -> None:
    """A part that either bird has by plumage does not stand under all plumages too."""
    assert set(tables["All plumages"]) == {"wing bar", "back", "tail"}
    assert list(tables) == [
        "Season, place and size",
        "All plumages",
        "Male",
        "Female",
        "Juvenile",
        "Juvenile male",
        "Voice",
    ]


def test_one_sided_look_alikes_have_a_page_too(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """It is enough that one account names the other; neither itself nor a bird without account makes a pair."""
    similar = HAIRY.replace("  DOWO: the bill decides\n", "  DOWO: it\n  HAWO: itself\n  RBWO: not written yet\n")
    folder = make_guide({"entries/a.md": similar, "entries/b.md": DOWNY.replace("similar: [HAWO]\n", "")})
    build_guide(folder)
    assert {path.name for path in (folder / "build/pairs").iterdir()} == {"dowo-hawo.html", "index.html"}
