"""Groups of look-alikes: which there are, their key from couplet to bird, and the figure of likeness."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide
from tertial.grouping import groups
from tertial.groups import key_to, likenesses, plumages_of
from tertial.loading import load_guide
from tertial.side_by_side import described

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

SETTINGS = """title: A guide
groups:
  three of them: [HAWO, DOWO, BTBW, XXXX]
  the same again: [BTBW, DOWO, HAWO]
  one alone: [DOWO]
"""


def account(name: str, bill: str, male: str, female: str) -> str:
    """An account with a bill and the napes of both sexes."""
    marks = f"marks:\n  all:\n    bill: {bill}\n  male:\n    nape: {male}\n  female:\n    nape: {female}"
    return f"---\nspecies: {name}\n{marks}\n---\n"


@pytest.fixture
def folder(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Path:
    """A guide of three birds; the first two differ in the bill, and the third has no record of it."""
    return make_guide(
        {
            "guide.yaml": SETTINGS,
            "entries/hairy.md": account("Hairy Woodpecker", "always longer than head", "red", "black"),
            "entries/downy.md": account("Downy Woodpecker", "half as long as head", "red", "black"),
            "entries/third.md": account("Black-throated Blue Warbler", "not seen", "red", "unknown"),
        }
    )


def test_what_is_written_alike_is_said_once_for_small_screens(folder: Path) -> None:
    """Beside the table of a column for each bird stands one that names the birds before each phrase, or all."""
    assert build_guide(folder).pages
    page = LexborHTMLParser((folder / "build/groups/three-of-them.html").read_bytes())
    for swatch in page.css("svg"):
        swatch.decompose()
    told = {
        row.css("th")[0].text().split()[0]: [" ".join(each.text().split()) for each in row.css("li")]
        for row in page.css("table.folded tbody tr")
    }
    assert told["bill"] == ["DOWO half as long as head", "HAWO always longer than head", "BTBW not seen"]
    assert ["all red"] in [
        [" ".join(each.text().split()) for each in row.css("li")] for row in page.css("table.folded tbody tr")
    ]


def test_groups_are_those_with_birds_enough_and_none_twice(folder: Path) -> None:
    """Chosen groups, then flocks and genera of three accounts; codes without an account are passed over."""
    assert [(group.name, [bird.code for bird in group.members]) for group in groups(load_guide(folder))] == [
        ("three of them", ["DOWO", "HAWO", "BTBW"])
    ]


def test_the_key_leads_every_plumage_to_its_name(folder: Path) -> None:
    """From couplet 1 on, each plumage is reached; one without a record is reached down both lines."""
    guide = load_guide(folder)
    key = key_to(guide, guide.species)
    reached = [item.label for end in key.ends for item in end.items]
    assert set(reached) == {
        "Downy Woodpecker, male",
        "Downy Woodpecker, female",
        "Hairy Woodpecker, male",
        "Hairy Woodpecker, female",
        "Black-throated Blue Warbler, male",
        "Black-throated Blue Warbler, female",
    }
    assert reached.count("Downy Woodpecker, male") == 1
    assert reached.count("Black-throated Blue Warbler, female") > 1


def test_what_is_written_of_a_part_stands_in_one_lead(repository: Path) -> None:
    """In the keys of the demo nobody is sent down both lines of which anything is understood for the part asked."""
    guide = load_guide(repository)
    understood = {
        f"{species.code} {plumage.order} {plumage.text}": described(guide, species, plumage).told
        for species in guide.species
        for plumage in plumages_of(species)
    }
    couplets = [couplet for group in groups(guide) for couplet in key_to(guide, group.members).couplets]
    assert len(couplets) > 40
    for couplet in couplets:
        first, second = ({item.name for item in lead.items} for lead in couplet.leads)
        assert first & second == {item.name for item in couplet.unrecorded}
        assert [item.label for item in couplet.unrecorded if understood[item.name].get(couplet.mark)] == []


def test_the_page_links_couplets_both_ways(folder: Path) -> None:
    """Each lead goes on to a couplet that names the one it came from, or ends at accounts."""
    build_guide(folder)
    page = LexborHTMLParser((folder / "build/groups/three-of-them.html").read_text(encoding="utf-8"))
    couplets = {str(each.attributes["id"]): each for each in page.css(".couplet")}
    assert len(couplets) > 1
    for name, couplet in couplets.items():
        leads = couplet.css(".leads > li")
        assert len(leads) == 2
        for lead in leads:
            (first, *_) = lead.css(".goes a")
            target = str(first.attributes["href"])
            if target.startswith("#"):
                (origin,) = couplets[target[1:]].css(".origin-of")
                assert origin.attributes["href"] == f"#{name}"
            else:
                assert target.startswith("../species/")


def test_what_cannot_be_parted_names_the_record_to_make(folder: Path) -> None:
    """An end with several plumages says so first, then of which parts a record would help."""
    build_guide(folder)
    page = LexborHTMLParser((folder / "build/groups/three-of-them.html").read_text(encoding="utf-8"))
    ends = [lead for lead in page.css(".leads > li") if len(lead.css(".goes a[href*=species]")) > 1]
    assert ends
    told = [" ".join(end.css(".unparted")[0].text().split()) for end in ends]
    assert all(each.startswith("This guide cannot part these. A record of these would help most: ") for each in told)


def test_likeness_is_shown_with_the_marks_it_rests_on(folder: Path) -> None:
    """Two marks are too few for a rank: no square, and the page says so."""
    guide = load_guide(folder)
    found = likenesses(guide, guide.species)
    assert {pair: alike.ranked for pair, (alike, _) in found.items()} == dict.fromkeys(found, False)
    build_guide(folder)
    page = LexborHTMLParser((folder / "build/groups/three-of-them.html").read_text(encoding="utf-8"))
    cells = [cell for cell in page.css(".likeness tbody td") if cell.css(".figure")]
    assert len(cells) == 6
    assert all("too few" in cell.text() and not cell.css("svg") for cell in cells)


def test_the_page_tells_which_records_would_help_most(folder: Path) -> None:
    """What is missing of one and written of others comes with those that it could be parted from."""
    assert build_guide(folder).pages
    page = LexborHTMLParser((folder / "build/groups/three-of-them.html").read_bytes())
    told = [" ".join(each.text().split()) for each in page.css("section[aria-labelledby=next] li")]
    assert "BTBW in any plumage: bill (against DOWO, HAWO)" in told
    assert "BTBW female: nape (against DOWO, HAWO)" in told
    assert not [each for each in told if each.startswith(("DOWO", "HAWO"))]
