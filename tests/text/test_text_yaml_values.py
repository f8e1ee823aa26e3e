"""Front matter to nodes: what is read, and where it stands.

Everything here holds for both parsers, libyaml and the slow one for machines without it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
import yaml

from tertial.text import events
from tertial.text.nodes import Listing, Mapping, Node, Scalar
from tertial.text.source import SourceText, Span
from tertial.text.yamlread import read_front

if TYPE_CHECKING:
    from tertial.text.problem import Problem

pytestmark = pytest.mark.usefixtures("either_parser")

SPECIES = """\
species: Hairy Woodpecker
scientific: Dryobates villosus      # optional: the name list knows it
written: 2026-01-04
when: all year
where: [river wood, old orchard]
how common: a pair in most of the wood
size:
  class: starling-sized
  length: 18-26 cm
measures:
  all: |
    bill: mean 31.6 n 11 mm
marks:
  all: |
    bill: nearly as long as head, chisel-shaped, black
    outer tail feathers: always white, unspotted
  juvenile female: |
    crown: unknown
behaviour:
  foraging: [hammer, flake]
  notes: Works the trunk and large limbs; comes to the feeder after the chickadees.
similar:
  DOWO: bill against head decides it; the outer tail feathers confirm
sketches:
  - file: hairy-male.png
    alt: Male Hairy Woodpecker clinging to a birch, bill raised
    pointers:
      - 430,228 bill
      - 31% 24% nape
photos:
  - file: hairy-feeder.png
    taken: 2026-01-03
sources:
  - "facts 11: lengths from memory, bill from a table"
"""
FLOCK = """\
flock: Winter wood flock
members: [BCCH, TUTI, WBNU, DOWO, GCKI, BRCR]
usual leader: BCCH
when: November to March
marks: |
  voice: constant thin contact calls, scolding at an owl
behaviour:
  notes: >-
    Drifts along the river, chickadees first,
    woodpeckers last.
"""
OUTING = """\
outing: 2026-01-17
start: 08:10
minutes: 140
weather: -6 C, no wind, river half frozen
counts: |
  BCCH: 14
  DOWO: 2 male, 1 female
flocks:
  - members: BCCH 9, TUTI 4, WBNU 2
    doing: foraging
"""
GUIDE = """\
title: Birds of the Millrace
codes: IBP                      # or BBL
base address: https://example.org/millrace/
yardsticks: [GCKI, BCCH, EUST]
groups:
  small woodpeckers: [DOWO, HAWO]
words:                          # own terms, each beside a known one
  colour: {biscuit: buff, 'brick': "red"}
"""


def read(text: str) -> tuple[SourceText, Mapping, tuple[Problem, ...]]:
    """Read a text as front matter."""
    source = SourceText("entry.md", text)
    return source, *read_front(source, Span(0, len(text)))


def plain(node: Node) -> Any:
    """The same as texts, lists and dictionaries."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return {pair.key.text: plain(pair.value) for pair in node.pairs}


def said(text: str) -> list[tuple[str, int, int, str]]:
    """Each problem as word, line, column and the text it stands at."""
    source, _, problems = read(text)
    places = [(problem, source.position(problem.span.start)) for problem in problems]
    return [(problem.word, at.line, at.column, source.slice(problem.span)) for problem, at in places]


@pytest.mark.parametrize("text", [SPECIES, FLOCK, OUTING, GUIDE], ids=["species", "flock", "outing", "guide"])
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
def test_a_sound_file_reads_as_another_reader_reads_it(text: str, end: str) -> None:
    """Outside check: structure and texts are those of PyYAML's BaseLoader, which keeps scalars as text (YAML 1.1)."""
    _, top, problems = read(text.replace("\n", end))
    assert plain(top) == yaml.load(text, Loader=yaml.BaseLoader)
    assert problems == ()


@pytest.mark.parametrize(
    "value",
    ["no", "NO", "yes", "on", "ON", "1:30", "0123", "0x1f", "1e3", "1_000", ".inf", "2026-01-02", "True", "14", "="],
)
def test_a_scalar_stays_text(value: str) -> None:
    """What YAML 1.1 or 1.2 would make a number, a date or a truth (core schema, 10.3) is what the author wrote."""
    _, top, problems = read(f"when: {value}\n")
    assert plain(top) == {"when": value}
    assert problems == ()


def test_every_node_knows_where_it_stands() -> None:
    """Keys, values, lists and blocks slice back to what was written, comments after a block left out."""
    source, top, _ = read('where: [a, "b c"]  # note\nsize:\n  class: x\n  length: 18 cm  # note\n# end\n\nnext: y\n')
    where, size, _ = top.pairs
    assert isinstance(where.value, Listing)
    assert isinstance(size.value, Mapping)
    assert source.slice(where.key.span) == "where"
    assert source.slice(where.value.span) == '[a, "b c"]'
    assert [source.slice(item.span) for item in where.value.items] == ["a", '"b c"']
    assert source.slice(size.value.span) == "class: x\n  length: 18 cm"
    assert source.slice(top.span).endswith("next: y")


def test_places_count_from_the_beginning_of_the_file() -> None:
    """Front matter that does not begin the file has its offsets moved to the file's."""
    source = SourceText("entry.md", "---\nbill: black\nbill: grey\n---\n")
    _, (problem,) = read_front(source, Span(4, 27))
    assert source.position(problem.span.start).line == 3
    assert source.slice(problem.also[0].span) == "bill"
    assert problem.also[0].span.start == 4


@pytest.mark.parametrize(
    ("sign", "name"),
    [
        ("\x07", "U+0007"),
        ("\x0c", "U+000C"),
        ("\x00", "U+0000"),
        ("\x7f", "U+007F"),
        ("\x85", "U+0085"),
        ("\u2028", "U+2028"),
        ("\u2029", "U+2029"),
        ("\ufeff", "U+FEFF"),
        ("\ufffe", "U+FFFE"),
        ("\ud800", "U+D800"),
    ],
)
def test_an_unseen_character_is_named_and_read_as_a_blank(sign: str, name: str) -> None:
    """What YAML 1.2 forbids (5.1), or what YAML 1.1 alone takes for a line end, costs no more than itself."""
    text = f"how common: most{sign}weeks\ncode: BRCR\n"
    source, top, (problem,) = read(text)
    assert (problem.word, source.slice(problem.span)) == ("stray-character", sign)
    assert name in problem.message
    assert plain(top) == {"how common": "most weeks", "code": "BRCR"}


@pytest.mark.parametrize(
    ("text", "expected", "named"),
    [
        ("\xa0\xa0a: b", {"a": "b"}, True),
        ("c:\n\xa0 a: b\n \xa0d: e", {"c": {"a": "b", "d": "e"}}, True),
        ("c:\n\u3000\xa0a: b", {"c": {"a": "b"}}, True),
        ("a:\xa0b", {"a": "b"}, True),
        ("a: b\xa0c", {"a": "b\xa0c"}, False),
        ("a: |\n  b\n  \xa0c", {"a": "b\n\xa0c"}, False),
    ],
)
def test_a_pasted_blank_is_a_blank_where_it_makes_the_form(text: str, expected: object, named: bool) -> None:
    """Before a key and behind its colon; elsewhere it is a letter like any other. Said once, with its place."""
    source, top, problems = read(text)
    assert plain(top) == expected
    assert [problem.word for problem in problems] == ["stray-character"] * named
    assert all(source.slice(problem.span) in "\xa0\u3000" for problem in problems)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a:\tb\n", {"a": "b"}),
        ("a: b\t\nc: d \t \n", {"a": "b", "c": "d"}),
        ("a: b\n\t\nc: d\n \t\n", {"a": "b", "c": "d"}),
        ("\t\na: b", {"a": "b"}),
        ("a:\n  - b\n\t\n  -\tc\n", {"a": ["b", "c"]}),
        ("a: |\n  b: c\n\t\n  d:\te\n", {"a": "b: c\n\nd: e\n"}),
        ("a: b\tc\n", {"a": "b c"}),
        ("a: b  \t# note\n", {"a": "b"}),
        ("a: [b,\tc]\t# note\n", {"a": ["b", "c"]}),
        ("a: b\r\n\t\r\nc: d\r\n", {"a": "b", "c": "d"}),
    ],
)
def test_a_tab_that_does_not_indent_is_a_blank(text: str, expected: object) -> None:
    """Behind a colon, at the end of a line and on an empty one a tab parts words (YAML 1.2, 6.1), and costs nothing."""
    _, top, problems = read(text)
    assert plain(top) == expected
    assert problems == ()


def test_a_tab_before_a_number_sign_cuts_like_a_blank() -> None:
    """What a tab and # hide is told as well."""
    assert said("where: pond\t#2\n") == [("cut-by-hash", 1, 13, "#2")]


def test_signs_of_all_the_world_are_welcome() -> None:
    """Letters beyond the first plane and with marks are read, and columns count characters."""
    text = "é: \U0001f426 ~ü\nnotes: naïve #2\n"
    assert plain(read(text)[1]) == {"é": "\U0001f426 ~ü", "notes": "naïve"}
    assert said(text) == [("cut-by-hash", 2, 14, "#2")]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("just words\n", "just words"),
        ("- HAWO\n- DOWO\n", "- HAWO\n- DOWO"),
        ("'quoted'\n", "'quoted'"),
    ],
)
def test_front_matter_without_keys_is_told(text: str, found: str) -> None:
    """A list or a sentence in the place of keys is named as a whole."""
    source, top, (problem,) = read(text)
    assert (problem.word, source.slice(problem.span)) == ("no-keys", found)
    assert top.pairs == ()


@pytest.mark.parametrize("text", ["", "\n\n", "# a note\n", "~\n"])
def test_front_matter_that_says_nothing_is_empty(text: str) -> None:
    """Nothing, blanks and comments give no keys, and no word that YAML could not read them."""
    _, top, problems = read(text)
    assert top.pairs == ()
    assert {problem.word for problem in problems} <= {"null-word"}


def test_a_second_document_is_told() -> None:
    """Only one set of keys is read; the line that begins another is named."""
    text = "title: A\n--- # more\nregion: B\n"
    assert said(text) == [("yaml-syntax", 2, 1, "---")]
    assert plain(read(text)[1]) == {"title": "A"}


def test_the_two_parsers_give_the_same_nodes_and_problems(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without libyaml nothing changes but the time it takes: nodes, places, messages and mends are equal."""
    text = SPECIES.replace("all year", "all: year") + "nape: pond #2\nnape: {a, b: c}\nx: ~\ny: *z\n"
    source = SourceText("entry.md", text)
    monkeypatch.setattr(events, "parser_class", events.SlowParser)
    slow = read_front(source, Span(0, len(text)))
    monkeypatch.undo()
    fast = read_front(source, Span(0, len(text)))
    assert len(slow[1]) == 6
    assert slow == fast
