"""Two look-alikes side by side: what holds for a plumage, where it comes from, and what nobody wrote down."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide
from tertial.marks.verdicts import Verdict

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Tables = dict[str, dict[str, tuple[str, str, str]]]

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
def page(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> LexborHTMLParser:
    """The pair's page."""
    folder = make_guide({"entries/hairy.md": HAIRY, "entries/downy.md": DOWNY})
    assert build_guide(folder).pages
    page = LexborHTMLParser((folder / "build/pairs/dowo-hawo.html").read_text(encoding="utf-8"))
    for swatch in page.css(".swatch"):
        swatch.decompose()
    return page


@pytest.fixture
def tables(page: LexborHTMLParser) -> Tables:
    """The tables of marks by heading: each part's verdict and its two cells, as they are read."""
    found: Tables = {}
    for section in page.css("section:has(.weighed)"):
        (heading,) = section.css("h2")
        for row in section.css("tbody tr:not(.view-head)"):
            verdict = "".join(each.text() for each in row.css(".verdict"))
            part = row.css("th > :not(.weight)")[0].text()
            first, second = (" ".join(cell.text().split()) for cell in row.css("td"))
            found.setdefault(heading.text(), {})[part] = (verdict, first, second)
    return found


@pytest.mark.parametrize(
    ("table", "part", "verdict", "downy", "hairy"),
    [
        ("Male", "nape", "strong", "red patch, unlike HAWO", "black from all"),
        ("Female", "nape", "helpful", "black and white", "black from all"),
        ("Male", "bill", "", NOTHING, "black"),
        ("Male", "crown", "", NOTHING, "unknown"),
        ("All plumages", "wing bar", "", NOTHING, "does not apply"),
        ("All plumages", "back", "shared", "black", "black with white stripe"),
        ("All plumages", "tail", "", "barred", NOTHING),
        ("Juvenile", "bill", "", "grey", NOTHING),
        ("Juvenile male", "crown", "", NOTHING, "red"),
        ("All plumages", "call", "", NOTHING, "a sharp peek"),
        ("All plumages", "drum", "", "slow", NOTHING),
    ],
)
def test_each_row_says_what_holds_and_what_it_is_worth(
    tables: Tables, table: str, part: str, verdict: str, downy: str, hairy: str
) -> None:
    """A plumage takes over from wider ones of its age and from all, marked so; the rest is not recorded."""
    assert tables[table][part] == (verdict, downy, hairy)


def test_a_young_bird_takes_over_nothing_from_adults(tables: Tables) -> None:
    """What is written for the male stands in no table of the young, and the female's is her own."""
    assert set(tables["Juvenile"]) == {"bill"}
    assert set(tables["Female"]) == {"nape"}


def test_nothing_is_said_twice(tables: Tables) -> None:
    """A part that either bird has by plumage does not stand under all plumages too."""
    assert set(tables["All plumages"]) == {"wing bar", "back", "tail", "call", "drum"}
    assert list(tables) == ["All plumages", "Male", "Female", "Juvenile", "Juvenile male"]


def test_the_page_says_in_short_what_separates_them(page: LexborHTMLParser) -> None:
    """One sentence for what holds in every plumage, one for what each adds, each with its own best mark."""
    said = [" ".join(each.text().split()) for each in page.css(".shorts li")]
    assert said == [
        "Males: the colour of the nape tells nearly all apart.",
        "Females: only the colour of the nape helps.",
        "Juveniles and juvenile males: all that is recorded of both is alike.",
    ]


def test_what_is_said_in_short_leads_to_a_table_of_the_page(page: LexborHTMLParser) -> None:
    """A sentence leads to the first table it speaks of that is there, or to that of all plumages."""
    links = page.css(".shorts li > a:first-child")
    assert [each.attributes["href"] for each in links] == ["#male", "#female", "#juvenile"]
    assert all(page.css(str(each.attributes["href"])) for each in links)


def test_every_verdict_leads_to_what_it_means(page: LexborHTMLParser) -> None:
    """Wherever a verdict stands on the page, it is a link to its definition on the page of method."""
    verdicts = {verdict.value: f"../method.html#verdict-{verdict.replace(' ', '-')}" for verdict in Verdict}
    found = [(link.text(), link.attributes["href"]) for link in page.css("main a") if link.text() in verdicts]
    assert {word for word, _ in found} == verdicts.keys()
    assert [(word, address) for word, address in found if address != verdicts[word]] == []
    for link in page.css("main a, main .nothing"):
        link.decompose()
    left = page.css("main")[0].text().casefold()
    assert [word for word in verdicts if word in left] == []


def test_every_part_in_a_head_or_sentence_leads_to_its_plate(page: LexborHTMLParser) -> None:
    """Parts in tables, among the numbers, in what is said in short and in what to look at lead to the page of parts."""
    heads = page.css("section:has(.weighed) tbody th, .glance tbody th, .numbers tbody th, .next li, .shorts li")
    address = "../parts.html#part-"
    linked = [any(str(link.attributes["href"]).startswith(address) for link in head.css("a")) for head in heads]
    assert linked.count(False) == 1, "only the sentence that names no part"
    assert len(linked) > 20


def test_every_verdict_has_the_numbers_behind_it(page: LexborHTMLParser) -> None:
    """Each weighed row has its line among the numbers: the claims with their weights, and the separation."""
    targets = [str(each.attributes["href"]) for each in page.css(".weighed a.behind")]
    assert len(targets) == len(set(targets)) == 3
    rows = [page.css_first(f"tr{target}") for target in targets]
    assert all(row is not None for row in rows)
    (nape,) = (row for row in page.css(".numbers tr") if row.attributes.get("id") == "n-male-nape")
    assert [" ".join(cell.text().split()) for cell in nape.css("td")] == ["red 0.90", "black 0.90", "0.80 strong"]


def test_what_to_look_at_next_names_bird_part_and_the_other_phrase(page: LexborHTMLParser) -> None:
    """A record that one account has and the other lacks is asked for, with what it would stand beside."""
    wanted = [" ".join(each.text().split()) for each in page.css(".next li")]
    assert "HAWO in any plumage: the tail. Of DOWO it is written: barred" in wanted


def test_facts_that_are_not_weighed_stand_beside_each_other(page: LexborHTMLParser) -> None:
    """Season and frequency have a row each; a measure of one bird alone is not drawn."""
    (table,) = page.css("section:has(> #facts) table")
    rows = {row.css("th")[0].text(): [cell.text() for cell in row.css("td")] for row in table.css("tbody tr")}
    assert rows == {"met in": [NOTHING, "all year"], "how common": [NOTHING, "seldom"]}
    assert not page.css(".size-axis")


def test_two_lengths_are_drawn_on_one_axis(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """Where both have a range, the page draws both, and says what it is worth in the field and in the hand."""
    downy = DOWNY.replace("size: {mass: 20-33 g}", "size: {length: 14-18 cm, mass: 20-33 g}")
    folder = make_guide({"entries/hairy.md": HAIRY, "entries/downy.md": downy})
    build_guide(folder)
    page = LexborHTMLParser((folder / "build/pairs/dowo-hawo.html").read_text(encoding="utf-8"))
    (axis,) = page.css("svg.size-axis")
    assert axis.attributes["aria-label"] == "length: DOWO 14–18\N{NO-BREAK SPACE}cm; HAWO 18–26\N{NO-BREAK SPACE}cm"
    bars = [(float(str(bar.attributes["x"])), float(str(bar.attributes["width"]))) for bar in axis.css(".bar")]
    assert bars[1][1] == pytest.approx(2 * bars[0][1], rel=0.01)
    assert bars[1][0] == pytest.approx(sum(bars[0]), abs=0.2)
    (words,) = (" ".join(each.text().split()) for each in page.css(".in-words"))
    assert "In the field helpful, and only beside a known bird; in the hand diagnostic" in words
    assert "overlap by 4 in 100, and one mean is 1.38 times the other" in words
    assert "range, divided by four: approximate" in words


def test_one_sided_look_alikes_have_a_page_too(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """It is enough that one account names the other; neither itself nor a bird without account makes a pair."""
    similar = HAIRY.replace("  DOWO: the bill decides\n", "  DOWO: it\n  HAWO: itself\n  RBWO: not written yet\n")
    folder = make_guide({"entries/a.md": similar, "entries/b.md": DOWNY.replace("similar: [HAWO]\n", "")})
    build_guide(folder)
    assert {path.name for path in (folder / "build/pairs").iterdir()} == {"dowo-hawo.html", "index.html"}
