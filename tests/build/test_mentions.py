"""Words for parts of a bird in an author's text: they lead to the page of parts, in English and in French."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide
from tertial.layouts import built_in_layouts
from tertial.marks.parts import Evidence, load_parts
from tertial.wording.mentioned import NEVER, SORTS, TELLING
from tertial.wording.tables import read_wording

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

HAIRY = """---
species: Hairy Woodpecker
size:
  class: starling-sized
marks:
  all: |
    bill: nearly as long as head, bill black
    breast: white (from the bend of the wing down), no side
behaviour:
  notes: Came back to the feeder, its back to me, and showed the bill.
similar:
  DOWO: bill against head decides it, not the back door
---
BODY
"""
DOWNY = "---\nspecies: Downy Woodpecker\n---\nNothing yet.\n"


@pytest.fixture
def linked(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Callable[..., list[tuple[str, str]]]:
    """Build a guide with a text, and give the words that lead to parts on the page of its account."""

    def build(body: str, where: str = ".prose", settings: str = "", own: str = "") -> list[tuple[str, str]]:
        files = {
            "guide.yaml": f"title: Birds of the Millrace\n{settings}",
            "entries/a.md": HAIRY.replace("BODY", body),
            "entries/b.md": DOWNY,
        }
        folder = make_guide({**files, **({"layouts/words/en/mentions.csv": own} if own else {})})
        assert build_guide(folder).pages
        page = LexborHTMLParser((folder / "build/species/hairy-woodpecker.html").read_bytes())
        parts = {node.id for node in LexborHTMLParser((folder / "build/parts.html").read_bytes()).css("[id]")}
        links = [(node.text(), str(node.attributes["href"])) for node in page.css(f"{where} a.term")]
        assert all(href.startswith("../parts.html#") and href.partition("#")[2] in parts for _, href in links)
        return [(text, href.partition("#part-")[2]) for text, href in links]

    return build


@pytest.mark.parametrize(
    "text",
    [
        "It came back, went back to back, and gave the land back.",
        "I turned to face it, face to face, at the head of the valley, the side that faces it; from the head: one.",
        "We paid the butcher, and Bill paid the boatman; then he billed me.",
        "A leg of the walk led through the crown of an oak, over the brow of the hill.",
        "The tail of the flock, the tail end of the day, the belly of the cloud, the wing of a house.",
        "On one side the river, on the other side the ridge; side by side, from either side.",
        "My back, my eye, my foot, his face and her hands were cold; a long face.",
        "The crest rose and the mouth was a mile off. The crown was bare. A spur of rock.",
        "At first hand, by hand, on foot, in the eye, chin up, toe to toe, shoulder to shoulder.",
        "The bird sang its song, its call and a rattle in flight; a walk by the perch.",
        "He wore his hood, the cap, a collar and the old mask; the comb was in the bag.",
        "Folk lore, of primary importance, a secondary matter in the covert, quite a spectacle.",
        "A yellow iris, the iris by the water, the pupils of the school, a tuft by the path.",
        "It wagged a tail. A wing flapped. A tail wind, the wing mirror, the tail light.",
        "Orange with its dark saddle, a duck's saddle.",
    ],
)
def test_words_in_another_sense_lead_nowhere(text: str, linked: Callable[..., list[tuple[str, str]]]) -> None:
    """A missing link is a smaller fault than a false one."""
    assert linked(text) == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The bill, pale bill or short bill", [("bill", "bill")]),
        ("Its chestnut-brown crown and its streaked back.", [("crown", "crown"), ("back", "back")]),
        ("HAWO's face, and the male's nape", [("face", "face"), ("nape", "nape")]),
        ("Supercilium white; wing-bars two", [("Supercilium", "supercilium"), ("wing-bars", "wing-bar")]),
        ("at the tips of its primaries", [("tips of its primaries", "primary-tips")]),
        ("white eyebrows and its eyebrow; the beaks", [("eyebrow", "supercilium"), ("beaks", "bill")]),
        ("the back of the head", [("back of the head", "hindcrown")]),
        ("His face was cold, its bill longer than the face.", [("bill", "bill"), ("face", "face")]),
    ],
)
def test_words_that_are_told_lead_to_their_part(
    text: str, expected: list[tuple[str, str]], linked: Callable[..., list[tuple[str, str]]]
) -> None:
    """Preferred words and synonyms, one and several, at their first mention."""
    assert linked(text) == expected


def test_marks_remarks_and_behaviour_lead_to_other_parts(linked: Callable[..., list[tuple[str, str]]]) -> None:
    """In phrases less has to be told; a row's own part is at its head already."""
    assert linked("Nothing.", ".sheet-of-marks") == [("head", "head"), ("bend of the wing", "bend-of-wing")]
    assert linked("Nothing.", ".similar") == [("bill", "bill"), ("head", "head")]
    assert linked("Nothing.", "[aria-labelledby=behaviour]") == [("back", "back"), ("bill", "bill")]


def test_an_own_word_has_to_be_told_and_an_own_row_stands_before_ours(
    linked: Callable[..., list[tuple[str, str]]],
) -> None:
    """What else an author's word may mean is not known; the author may say."""
    own = "words:\n  part: {bumper: vent}\n"
    text = "A bumper year. The bumper is white, and so is a tail."
    assert linked(text, settings=own) == [("bumper", "vent")]
    row = "word,behind,reason\nbumper,never,harvests\n"
    assert linked(text, settings=own, own=row) == []


def test_text_in_french_is_read_by_french_words(linked: Callable[..., list[tuple[str, str]]]) -> None:
    """The language is that of the author, whatever that of the pages; a language without a table has no links."""
    text = "Le bec, la pointe de l'aile et l’aile ; le dos, la queue du chat, les couvertures alaires, the crown."
    expected = [
        ("bec", "bill"),
        ("pointe de l'aile", "wing-point"),
        ("aile", "wing"),
        ("couvertures alaires", "wing-coverts"),
    ]
    assert linked(text, settings="language: fr\n") == expected
    assert linked(text, settings="written in: fr\n") == expected
    assert linked("Le bec; its crown.", settings="language: fr\nwritten in: en\n") == [("crown", "crown")]
    assert linked("Le bec; its crown.", settings="written in: de\n") == []


@pytest.mark.parametrize("language", ["en", "fr"])
def test_the_tables_name_what_they_speak_of(language: str) -> None:
    """Every row is of a part's name, or keeps one from being taken for it, and says why."""
    wording = read_wording((built_in_layouts(),), language)
    parts = load_parts()
    french = {name for part in wording.parts.values() for name in (part.name, part.several)}
    assert wording.faults == ()
    assert len(wording.mentions) > 60
    for word, naming in wording.mentions.items():
        assert naming.behind in SORTS
        assert naming.reason
        if naming.behind != NEVER:
            part = parts.find(word)
            known = word in french if french else part and part.region.evidence is Evidence.PATTERN_AND_COLOUR
            assert known, word
    assert {each.before for each in wording.telling.values()} <= set(TELLING)


def test_a_row_that_says_what_is_unknown_is_reported(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """The own table of a guide is held to the same words."""
    table = "word,behind,reason\nbill,perhaps,it is not certain\n"
    files = {"entries/b.md": DOWNY, "layouts/words/en/mentions.csv": table, "guide.yaml": "title: A guide\n"}
    (problem,) = build_guide(make_guide({**files, "guide.yaml": "title: A guide\nlanguage: en\n"})).report.problems
    assert problem.message == "'perhaps' is none of any, shape, which, colour, whose, never"
    assert problem.source.path == "layouts/words/en/mentions.csv"
    assert problem.span == problem.source.line_span(2)
