"""Hybrids on pages: a row of their own, ways to both parents, and no part in any species' numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide
from tertial.loading import load_guide
from tertial.pages.facts import counted

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

DUCK = "---\nspecies: {}\nsimilar: [{}]\n---\nOn the water.\n"
OUTING = """---
outing: 2026-02-14
counts: |
  MALL: 90
  {}: 1 male
flocks:
  - members: MALL 90
---
Ice.
"""
UNKNOWN = """---
unknown: Dark duck
could be: {}
not: |
  MALL x NOPI: too short a tail
settled: {}
---
Far out.
"""


@pytest.fixture
def page(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Callable[..., LexborHTMLParser]:
    """Build a guide with a hybrid and give one of its pages."""

    def build(path: str, hybrid: str = "MALL x ABDU", could_be: str = "[MALL]", settled: str = "") -> LexborHTMLParser:
        folder = make_guide(
            {
                "entries/a.md": DUCK.format("Mallard", "ABDU"),
                "entries/b.md": DUCK.format("American Black Duck", "MALL"),
                "entries/o.md": OUTING.format(hybrid),
                "entries/u.md": UNKNOWN.format(could_be, settled),
            }
        )
        assert build_guide(folder).pages
        guide = load_guide(folder)
        assert [outing.fact(counted) for outing in guide.outings] == [("MALL",)]
        return LexborHTMLParser((folder / "build" / path).read_bytes())

    return build


def text_of(page: LexborHTMLParser, selector: str) -> list[str]:
    return [" ".join(node.text().split()) for node in page.css(selector)]


@pytest.mark.parametrize(
    "hybrid", ["MALL x ABDU", "ABDU × MALL", "Mallard x American Black Duck", "American Black Duck x MALL"]
)
def test_a_hybrid_has_its_row_and_leads_to_both_parents(hybrid: str, page: Callable[..., LexborHTMLParser]) -> None:
    """Whatever the order and the words, it is named in list order, and leads to the page of the two."""
    outing = page("outings/2026-02-14.html", hybrid)
    row = outing.css(".counts tbody tr")[1]
    assert " ".join(row.text().split()) == (
        "MALL × ABDUMallard × American Black Duck: MALL and ABDU side by side1 (1 male)"
    )
    assert [link.attributes["href"] for link in row.css("a")] == [
        "../species/mallard.html",
        "../species/american-black-duck.html",
        "../pairs/mall-abdu.html",
    ]
    assert text_of(outing, ".remark") == ["A hybrid is counted for neither of its parents."]


COUNTS = """---
outing: 2026-02-14
place: weir
counts: |
  MALL: 90
  NOPI: 0
  {}
---
Ice.
"""


@pytest.mark.parametrize(
    ("lines", "species", "remarks"),
    [
        ("ABDU: 1", 2, []),
        ("MALL x ABDU: 1", 1, ["hybrid"]),
        ("MBDH: 1 male", 1, ["hybrid"]),
        ("HYTO: 1", 1, ["hybrid"]),
        ("BCTE: 5", 1, ["unsure"]),
        ("BWTE/CITE: 5", 1, ["unsure"]),
        ("UNDU: about 30", 1, ["unsure"]),
        ("duck sp.: about 30", 1, ["unsure"]),
        ("MBDH: 1\n  UNDU: 30", 1, ["unsure", "hybrid"]),
        # The account of the guide is of a hybrid.
        ("LAWA: 1", 1, ["hybrid"]),
        # Forms of one species, with it or without.
        ("ORJU: 4\n  SCJU: 9", 2, []),
        ("SCJU: 9\n  DEJU: 2", 2, []),
    ],
)
def test_what_has_a_code_and_is_no_species_is_counted_for_none(
    make_guide: Callable[[Mapping[str, str | bytes]], Path], lines: str, species: int, remarks: list[str]
) -> None:
    """Hybrids and groups that the list has a code for are told of as those in words; no page counts them as species."""
    folder = make_guide(
        {
            "entries/a.md": DUCK.format("Mallard", ""),
            "entries/h.md": DUCK.format("Lawrence's Warbler", ""),
            "entries/o.md": COUNTS.format(lines),
            "entries/w.md": "---\nplace: Weir\nid: weir\n---\n",
        }
    )
    assert build_guide(folder).pages
    outing, listed, place = (
        LexborHTMLParser((folder / "build" / path).read_bytes())
        for path in ("outings/2026-02-14.html", "outings/index.html", "places/weir.html")
    )
    assert len(outing.css(".counts tbody tr")) == 3 + lines.count("\n")
    told = {"unsure": "are counted for no species", "hybrid": "A hybrid is counted for neither of its parents"}
    found = " ".join(text_of(outing, ".remark"))
    assert [word for word, sentence in told.items() if sentence in found] == remarks
    description = outing.css_first("meta[name=description]")
    assert description is not None
    assert f"{species} species counted" in str(description.attributes["content"])
    assert text_of(listed, "td")[0] == str(species)
    codes = {line.split(":")[0] for line in lines.split("\n  ")} if species > 1 else set()
    assert set(text_of(place, ".counts tbody th")) == {"MALL", *codes}


def test_a_parent_without_account_or_code_is_named(page: Callable[..., LexborHTMLParser]) -> None:
    """A code of the list has its name; a bird that no list of codes has keeps its words."""
    outing = page("outings/2026-02-14.html", "MALL x Bernier's Teal")
    row = outing.css(".counts tbody tr")[1]
    assert " ".join(row.text().split()) == "MALL × Bernier's TealMallard × Bernier's Teal1 (1 male)"


def test_an_unsolved_bird_may_be_a_hybrid(page: Callable[..., LexborHTMLParser]) -> None:
    """Among what it could be, is not, or proved to be, and on one line of codes too; nothing is held against it."""
    bird = page("unsolved/dark-duck.html", could_be="MALL, MALL x ABDU")
    assert text_of(bird, ".similar-name") == [
        "MALL Mallard",
        "MALL × ABDU Mallard × American Black Duck",
        "not MALL × NOPI Mallard × Northern Pintail",
    ]
    assert text_of(bird, ".similar .way") == ["MALL and ABDU side by side"]
    listed = page("unsolved/index.html", could_be="[MALL, Mallard x American Black Duck]")
    assert "It could be Mallard or Mallard × American Black Duck." in " ".join(text_of(listed, "main"))
    question = page("questions/dark-duck.html", could_be="[MALL x ABDU]")
    assert "Mallard × American Black Duck (MALL × ABDU)" in " ".join(text_of(question, "main"))
    settled = page("unsolved/dark-duck.html", settled="ABDU x MALL")
    assert text_of(settled, ".scientific") == [
        "Settled: MALL × ABDU Mallard × American Black Duck; MALL and ABDU side by side"
    ]
    ended = page("unsolved/index.html", settled="ABDU x MALL")
    assert "It was MALL × ABDU Mallard × American Black Duck." in " ".join(text_of(ended, "main"))


def test_what_has_no_family_stands_under_one_heading(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """Forms that have a code of their own and birds of no list come last, by name, and no heading is empty."""
    names = ("Audubon's Warbler", "Bog Bird", "Myrtle Warbler", "Mallard")
    folder = make_guide({f"entries/{at}.md": f"---\nspecies: {name}\n---\n" for at, name in enumerate(names)})
    build_guide(folder)
    headings = {}
    for path, within in (("species/index.html", "h2"), ("index.html", ".family-of h3")):
        page = LexborHTMLParser((folder / "build" / path).read_text(encoding="utf-8"))
        headings[path] = [" ".join(node.text().split()) for node in page.css(within)]
    assert headings == {
        "species/index.html": ["Anatidae (1)", "Not on the list (3)"],
        "index.html": ["Anatidae", "Not on the list"],
    }
    page = LexborHTMLParser((folder / "build/find.html").read_text(encoding="utf-8"))
    assert "1 family" in (page.root.text() if page.root else "")
