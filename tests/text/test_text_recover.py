"""Reading on after a syntax fault: the line that is at fault, the line as it was meant, and all the rest.

Everything here holds for both parsers, libyaml and the slow one for machines without it.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from tertial.text.nodes import Listing, Mapping, Node, Scalar
from tertial.text.problem import Severity
from tertial.text.source import Position, SourceText, Span
from tertial.text.yamlread import read_front

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.text.problem import Problem

pytestmark = pytest.mark.usefixtures("either_parser")

Leaves = dict[tuple[str | int, ...], tuple[str, str]]
"""Every value under the way to it: its text, and what stands at its place in the file."""


def read(text: str) -> tuple[SourceText, Leaves, tuple[Problem, ...]]:
    """Read a text as front matter: every value with its place, and every problem."""
    source = SourceText("entry.md", text)
    top, problems = read_front(source, Span(0, len(text)))
    return source, dict(leaves(source, top)), problems


def leaves(
    source: SourceText, node: Node, way: tuple[str | int, ...] = ()
) -> Iterator[tuple[tuple[str | int, ...], tuple[str, str]]]:
    """Walk down to the single values."""
    if isinstance(node, Scalar):
        yield way, (node.text, source.slice(node.span))
    elif isinstance(node, Listing):
        for number, item in enumerate(node.items):
            yield from leaves(source, item, (*way, number))
    else:
        assert isinstance(node, Mapping)
        for pair in node.pairs:
            assert pair.key.text in source.slice(pair.key.span)
            yield from leaves(source, pair.value, (*way, pair.key.text))


REWRITE = "write the line as key: value, or put the value in quotes"
FAULTS = {
    "second colon": ("where: river: wood", "a second ': ' stands", "write: where: 'river: wood'", "river: wood"),
    "second colon before a note": ("where: a: b  # note", "a second ': '", "write: where: 'a: b'  # note", "a: b"),
    "address and colon": ("where: http://a: x", "a second ': '", "write: where: 'http://a: x'", "http://a: x"),
    "open double quote": ('where: "river wood', "quote that opens here", 'write: where: "river wood"', "river wood"),
    "open single quote": ("where: 'river wood", "quote that opens here", "write: where: 'river wood'", "river wood"),
    "open quote before a note": ('where: "a b  # c', "quote that opens here", 'write: where: "a b"  # c', "a b"),
    "words behind a quote": ('where: "river" wood', "does not fit", "write: where: '\"river\" wood'", '"river" wood'),
    "apostrophe inside quotes": ("where: 'it's'", "does not fit", "write: where: 'it''s'", "it's"),
    "unknown backslash": (r'where: "a\q"', "a backslash", r"write: where: 'a\q'", r"a\q"),
    "open list": ("where: [river, wood", "list that opens here is never closed", "write: where: [river, wood]", None),
    "open braces": ("where: {a: b", "braces that open here are never closed", "write: where: {a: b}", None),
    "open brace before words": ("where: {river", "braces that open here", "write: where: '{river'", "{river"),
    "list closed by a brace": ("where: [a, b}", "list that opens here", "write: where: '[a, b}'", "[a, b}"),
    "words behind a list": ("where: [a] b", "does not fit", "write: where: '[a] b'", "[a] b"),
    "stray bracket": ("where: ]home", "cannot begin with this character", "write: where: ']home'", "]home"),
    "stray brace": ("where: }home", "cannot begin with this character", "write: where: '}home'", "}home"),
    "stray comma": ("where: ,home", "cannot begin with this character", "write: where: ',home'", ",home"),
    "at sign": ("where: @home", "cannot begin with this character", "write: where: '@home'", "@home"),
    "backtick": ("where: `home`", "cannot begin with this character", "write: where: '`home`'", "`home`"),
    "per cent": ("where: %home", "cannot begin with this character", "write: where: '%home'", "%home"),
    "star": ("where: *home*", "name of an anchor", "write: where: '*home*'", "*home*"),
    "ampersand": ("where: & home", "name of an anchor", "write: where: '& home'", "& home"),
    "question mark": ("where: ? home", "cannot begin with this character", "write: where: '? home'", "? home"),
    "item behind a key": ("where: - home", "a list begins behind its key", "write: where: '- home'", "- home"),
    "words behind a bar": ("where: |home", "behind the sign for a literal", "write: where: '|home'", "|home"),
    "words behind an angle": ("where: >home", "behind the sign for a literal", "write: where: '>home'", ">home"),
    "no blank": ("where:home", "not followed by a blank", "write: where: home", "home"),
    "no blank before a bar": ("where:| # x", "not followed by a blank", "write: where: | # x", ""),
    "no colon before a list": ("where [a, b]", "has no ': '", "write: where: [a, b]", None),
    "no colon": ("where home", "has no ': '", REWRITE, None),
    "tab before the key": ("\twhere: home", "a tab stands", "begin the line in column 1: where: home", "home"),
    "blanks before the key": ("  where: home", "stands deeper", "begin the line in column 1: where: home", "home"),
    "at sign before the key": ("@where: home", "cannot begin", REWRITE, None),
    "no key": (": home", "does not fit", REWRITE, None),
    "item among keys": ("- home", "does not fit", REWRITE, None),
    "three dots": ("...", "three dots end the front matter", REWRITE, None),
}  # fmt: skip


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
@pytest.mark.parametrize(("line", "message", "mend", "value"), FAULTS.values(), ids=FAULTS)
def test_one_faulty_line_costs_no_other(line: str, message: str, mend: str, value: str | None, end: str) -> None:
    """The line is pointed at, shown as it was meant, read so, and the keys before and after keep their places."""
    text = end.join(["species: Sora", line, "notes: a #1", 'code: "SORA"', "size:", "  length: 20 cm", ""])
    source, found, problems = read(text)
    fault, cut = problems
    assert (fault.word, fault.severity) == ("yaml-syntax", Severity.ERROR)
    assert source.slice(fault.span) == line.strip()
    assert source.position(fault.span.start) == Position(2, len(line) - len(line.lstrip()) + 1)
    assert message in fault.message
    assert fault.message.endswith("expected") or "; quotes, or " in fault.message or "or quotes" in fault.message
    assert fault.mend == mend
    assert (cut.word, source.position(cut.span.start)) == ("cut-by-hash", Position(3, 10))
    assert found[("species",)] == ("Sora", "Sora")
    assert found[("code",)] == ("SORA", '"SORA"')
    assert found[("size", "length")] == ("20 cm", "20 cm")
    if value is not None:
        assert found[("where",)][0] == value
        assert value.strip("'\"") in found[("where",)][1].replace("''", "'")


def test_all_faults_of_a_file_are_told_in_one_run() -> None:
    """Every line at fault is named once, in the order of the file, and every value that can be read is read."""
    repairable = {
        name: fault for name, fault in FAULTS.items() if fault[3] is not None and not fault[0].startswith(("\t", " "))
    }
    lines = [fault[0].replace("where", f"key {number}", 1) for number, fault in enumerate(repairable.values())]
    source, found, problems = read("\n".join(lines) + "\nlast: one\n")
    assert [problem.word for problem in problems] == ["yaml-syntax"] * len(lines)
    assert [source.slice(problem.span) for problem in problems] == lines
    assert [text for text, _ in found.values()] == [*(fault[3] for fault in repairable.values()), "one"]


def test_places_after_a_repair_are_the_authors() -> None:
    """Quotes that the repair adds do not move what stands behind them on the line or below it."""
    text = "where: it's: 'a' #1\nalt: x: y\nseen: {a: b, c d\nlast: 'z'\n"
    source, found, problems = read(text)
    assert [(problem.word, source.slice(problem.span)) for problem in problems] == [
        ("yaml-syntax", "where: it's: 'a' #1"),
        ("yaml-syntax", "alt: x: y"),
        ("yaml-syntax", "seen: {a: b, c d"),
        ("cut-by-comma", "c d"),
    ]
    assert found == {
        ("where",): ("it's: 'a' #1", "it's: 'a' #1"),
        ("alt",): ("x: y", "x: y"),
        ("seen", "a"): ("b", "b"),
        ("last",): ("z", "'z'"),
    }


def test_an_open_quote_is_found_where_it_opens() -> None:
    """A quote runs on to the next one of its kind, but the line that forgot to close it is the one at fault."""
    text = 'alt: "Male at a birch\nwhen: January\nby: "R. Friend"\nvoice: |\n  call: sharp "peek", lower\n'
    source, found, (problem,) = read(text)
    assert source.slice(problem.span) == 'alt: "Male at a birch'
    assert problem.mend == 'write: alt: "Male at a birch"'
    assert found[("when",)] == ("January", "January")
    assert found[("by",)] == ("R. Friend", '"R. Friend"')
    assert found[("voice",)][0] == 'call: sharp "peek", lower\n'


def test_a_long_quotation_is_not_taken_for_an_open_quote() -> None:
    """A quotation over two lines is sound; the fault is in the line that follows it."""
    text = 'notes: "first half\n  second half"\nwhere: a: b\nlast: "z"\n'
    source, found, (problem,) = read(text)
    assert source.slice(problem.span) == "where: a: b"
    assert found[("notes",)][0] == "first half second half"
    assert found[("last",)][0] == "z"


@pytest.mark.parametrize(
    ("text", "at_fault", "mend"),
    [
        ("size:\n  class: a\n   length: b\n  mass: c\n", "length: b", "begin the line in column 3: length: b"),
        ("size:\n  class: a\n length: b\n  mass: c\n", "length: b", "begin the line in column 3: length: b"),
        ("size:\n    class: a\n  length: b\n  mass: c\n", "class: a", "begin the line in column 3: class: a"),
        ("size:\n class: a\n  length: b\n  mass: c\n", "class: a", "begin the line in column 3: class: a"),
        ("size:\n\tclass: a\n  length: b\n  mass: c\n", "class: a", "replace the tab by 2 blanks"),
        ("size:\n  class: a\n\tlength: b\n  mass: c\n", "length: b", "replace the tab by 2 blanks"),
        ("size:\n  class a\n  length: b\n  mass: c\n", "class a", REWRITE),
        ("size:\n  class:a\n  length: b\n  mass: c\n", "class:a", "write: class: a"),
    ],
)  # fmt: skip
def test_a_line_out_of_step_is_put_back(text: str, at_fault: str, mend: str) -> None:
    """The one line that stands too deep or not deep enough is named, and its block stays whole."""
    source, found, (problem,) = read(text)
    assert source.slice(problem.span) == at_fault
    assert problem.mend == mend
    whole = {("size", "class"): "a", ("size", "length"): "b", ("size", "mass"): "c"}
    assert {way: value for way, (value, _) in found.items()}.items() <= whole.items()
    assert len(found) == (2 if at_fault == "class a" else 3)


def test_tabs_instead_of_blanks_are_told_line_by_line() -> None:
    """A block indented with tabs is read as if they were blanks."""
    source, found, problems = read("size:\n\tclass: a\n\tlength: b\nlast: c\n")
    assert [source.position(problem.span.start) for problem in problems] == [Position(2, 2), Position(3, 2)]
    assert all("a tab stands in the indentation" in problem.message for problem in problems)
    assert {way: value for way, (value, _) in found.items()} == {
        ("size", "class"): "a",
        ("size", "length"): "b",
        ("last",): "c",
    }


def test_a_plumage_out_of_step_keeps_its_phrases() -> None:
    """A key before a literal goes back to its neighbours; it does not become a phrase of the literal above."""
    text = "marks:\n  all: |\n    bill: a\n   male: |\n    nape: b\nvoice: |\n  call: c\n"
    source, found, (problem,) = read(text)
    assert source.slice(problem.span) == "male: |"
    assert problem.mend == "begin the line in column 3: male: |"
    assert {way: value for way, (value, _) in found.items()} == {
        ("marks", "all"): "bill: a\n",
        ("marks", "male"): "nape: b\n",
        ("voice",): "call: c\n",
    }


PLUMAGES = "marks:\n  all: |\n    bill: a\n"
TOPS = frozenset({"marks", "voice"})


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        (PLUMAGES + " female: |\n    bill: b\n", "begin the line in column 3: female: |"),
        (PLUMAGES + " voice: |\n  call: b\n", "begin the line in column 1: voice: |"),
        (PLUMAGES + "   nape: red\n  male: |\n    nape: b\n", "begin the line in column 5: nape: red"),
        (PLUMAGES + "   nape: red\n    rump: b\n", "begin the line in column 5: nape: red"),
        (PLUMAGES + "   nape: red\nvoice: |\n  call: b\n", "begin the line in column 5: nape: red"),
    ],
    ids=["a plumage", "a key of the margin", "a phrase before a plumage", "a phrase before one", "a last phrase"],
)
def test_a_line_between_two_levels_goes_to_those_that_are_like_it(text: str, mend: str) -> None:
    """A key of the margin goes there, what begins a block to others that do, and a phrase to the phrases."""
    source = SourceText("entry.md", text)
    top, (problem,) = read_front(source, Span(0, len(text)), TOPS)
    assert problem.mend == mend
    assert {pair.key.text for pair in top.pairs} <= TOPS


def test_a_faulty_plumage_is_not_taken_into_the_literal_above() -> None:
    """A line that can be mended where it stands stays there, though a literal above would swallow it and all below."""
    text = "marks:\n  all: |\n    bill: a\n  male: b: |\n    nape: c\nvoice: d\n"
    _, found, (first, second) = read(text)
    assert first.mend == "write: male: 'b: |'"
    assert second.mend == "begin the line in column 3: nape: c"
    assert {way: value for way, (value, _) in found.items()} == {
        ("marks", "all"): "bill: a\n",
        ("marks", "male"): "b: |",
        ("marks", "nape"): "c",
        ("voice",): "d",
    }


@pytest.mark.parametrize(
    ("text", "mend", "whole"),
    [
        (
            "voice: |\n  call: a\n\tsize:\n  mass: b\n",
            "begin the line in column 1: size:",
            {("voice",): "call: a\n", ("size", "mass"): "b"},
        ),
        (
            "where:\n      - a\n\t      - b\n      - c\n",
            "begin the line in column 7: - b",
            {("where", 0): "a", ("where", 1): "b", ("where", 2): "c"},
        ),
    ],
)
def test_a_tab_is_not_read_as_deeper_than_the_line_can_stand(
    text: str, mend: str, whole: dict[tuple[str | int, ...], str]
) -> None:
    """A key stands above what is under it, and an item beside the others, however wide a tab may look."""
    _, found, (problem,) = read(text)
    assert problem.mend == mend
    assert {way: value for way, (value, _) in found.items()} == whole


def test_too_many_faults_end_the_reading() -> None:
    """Forty faults are told one by one; what comes then is left for the next run."""
    _, found, problems = read("where: a: b\n" * 60)
    assert len(problems) == 41
    assert "the rest is left unread" in problems[-1].message
    assert found == {}


ENTRY = """\
species: Hairy Woodpecker
scientific: Dryobates villosus      # optional
when: all year
how common: a pair in most of the wood
size:
  class: starling-sized
  length: 18-26 cm
  source: handbook ranges, from memory
measures:
  all: |
    bill: mean 31.6 n 11 mm
voice: |
  call: sharp "peek", lower than DOWO
behaviour:
  notes: Works the trunk; comes to the feeder last.
similar:
  DOWO: bill against head decides it
  NUWO: not here
sketches:
  - file: hairy-male.png
    shows: male
    alt: Male Hairy Woodpecker at a birch
    pointers:
      - 430,228 bill
photos:
  - file: hairy-feeder.png
    by: R. Friend
sources:
  - "facts 11: lengths"
"""
VALUE = re.compile(r"^(\s*(?:- )?[A-Za-z][A-Za-z ]*: )([A-Za-z0-9][^#|]*?)(\s*#.*)?$")
DAMAGES = {
    "second colon": r"\1a: \2\3",
    "open double quote": r'\1"\2\3',
    "open single quote": r"\1'\2\3",
    "at sign": r"\1@\2\3",
    "per cent": r"\1%\2\3",
    "backtick": r"\1`\2\3",
    "stray bracket": r"\1]\2\3",
    "item sign": r"\1- \2\3",
    "words behind a quote": r'\1"x" \2\3',
    "words behind a bar": r"\1|\2\3",
}
LINES = ENTRY.split("\n")


SINGLE = [number for number, line in enumerate(LINES) if VALUE.match(line) and not LINES[number - 1].endswith("|")]


def damaged(number: int, change: Callable[[str], str]) -> tuple[str, str]:
    """Change one line of the entry: the line as changed, and the whole text."""
    line = change(LINES[number])
    assert line != LINES[number]
    return line, "\n".join([*LINES[:number], line, *LINES[number + 1 :]])


@pytest.mark.parametrize("number", SINGLE)
@pytest.mark.parametrize("replacement", DAMAGES.values(), ids=DAMAGES)
def test_any_value_may_be_damaged_without_harm_to_the_others(number: int, replacement: str) -> None:
    """Whichever value of a whole entry is damaged, that line alone is named and that value alone changes."""
    _, sound, problems = read(ENTRY)
    assert problems == ()
    line, text = damaged(number, lambda line: VALUE.sub(replacement, line))
    source, found, (problem,) = read(text)
    assert source.slice(problem.span) == line.strip()
    assert source.position(problem.span.start).line == number + 1
    assert found.keys() == sound.keys()
    assert len([way for way in sound if found[way][0] != sound[way][0]]) <= 1


@pytest.mark.parametrize("number", [number for number in SINGLE if "- " not in LINES[number]])
@pytest.mark.parametrize("blanks", [" ", "   "])
def test_any_single_value_may_stand_too_deep_without_harm(number: int, blanks: str) -> None:
    """Whichever line with a key and a value stands deeper than its neighbours, every value is still read."""
    _, sound, _ = read(ENTRY)
    _, text = damaged(number, lambda line: blanks + line)
    _, found, problems = read(text)
    # Where a block has one line only, any depth is sound.
    assert [problem.word for problem in problems] in ([], ["yaml-syntax"])
    assert all("column" in problem.mend for problem in problems)
    assert {way: value for way, (value, _) in found.items()} == {way: value for way, (value, _) in sound.items()}


COLONLESS = {
    "kind": ("species Downy", "species: Downy"),
    "kind below a comment": ("# of the mill\nspecies Downy", "species: Downy"),
    "two words": ("species: Downy\nhow common often", "how common: often"),
    "semicolon": ("species: Downy\nhow common; often", "how common: often"),
    "sign of equality": ("species: Downy\nhow common = often", "how common: often"),
}


@pytest.mark.parametrize(("text", "line"), COLONLESS.values(), ids=COLONLESS)
def test_a_known_key_is_known_without_its_colon(text: str, line: str) -> None:
    """One line is named, with what to write there, and all is read."""
    source = SourceText("entry.md", f"{text}\nwhere: mill\nmarks:\n  all: |\n    bill: short\n")
    top, problems = read_front(
        source, Span(0, len(source.text)), frozenset({"species", "how common", "where", "marks"})
    )
    (problem,) = problems
    assert (problem.word, problem.mend) == ("yaml-syntax", f"write: {line}")
    key, _, value = line.partition(": ")
    found = dict(leaves(source, top))
    assert found[key,] == (value, value)
    assert found["where",] == ("mill", "mill")
