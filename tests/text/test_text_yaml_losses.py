"""What plain YAML would lose in silence, and what is refused, each named at its place.

Everything here holds for both parsers, libyaml and the slow one for machines without it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tertial.text.nodes import Listing, Mapping, Node, Scalar
from tertial.text.problem import Severity
from tertial.text.source import SourceText, Span
from tertial.text.yamlread import read_front

if TYPE_CHECKING:
    from tertial.text.problem import Problem

pytestmark = pytest.mark.usefixtures("either_parser")


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


@pytest.mark.parametrize(
    ("text", "column", "lost", "kept"),
    [
        ("where: pond #2 below the mill\n", 13, "#2 below the mill", "pond"),
        ("where: pond # the upper one\n", 13, "# the upper one", "pond"),
        ("where: pond #2  \n", 13, "#2", "pond"),
        ("code: #HAWO\n", 7, "#HAWO", ""),
        ("where:\n  - #2\n", 5, "#2", [""]),
        ("where:\n  - pond #2\n", 10, "#2", ["pond"]),
    ],
)
def test_a_phrase_cut_by_a_number_sign_is_told(text: str, column: int, lost: str, kept: object) -> None:
    """One blank and # hide the rest of the line; the lost words are pointed at (YAML 1.2, 6.6)."""
    (word, _, found_column, found), *more = said(text)
    assert (word, found_column, found, more) == ("cut-by-hash", column, lost, [])
    assert list(plain(read(text)[1]).values()) == [kept]


@pytest.mark.parametrize(
    "text",
    [
        "where: pond  # a note to myself\n",
        "where:  # a note to myself\n  - pond\n",
        "where: # a note to myself\n  - pond\n",
        "where: # a note to myself\n",
        "# a note\nwhere: pond\n  # another\n",
        "where: '#2'\n",
        'where: "pond #2"\n',
        "where: pond#2\n",
        "where: |\n  pond #2\n",
        "where: [pond]  # note\n",
    ],
)
def test_a_number_sign_that_hides_nothing_is_left_alone(text: str) -> None:
    """A comment set off by two blanks, a quoted sign and one inside a word are as they were meant."""
    assert said(text) == []


@pytest.mark.parametrize("word", ["~", "null", "Null", "NULL"])
def test_a_word_that_means_nothing_is_told(word: str) -> None:
    """The words YAML reads as nothing (YAML 1.2, 10.2.1) are named where they stand."""
    assert said(f"marks:\n  crown: {word}\n") == [("null-word", 2, 10, word)]
    assert said(f"where: [a, {word}]\n") == [("null-word", 1, 12, word)]


@pytest.mark.parametrize("word", ["'~'", '"null"', "nULL", "nothing", "none", "~ white"])
def test_a_word_that_only_looks_like_nothing_is_left_alone(word: str) -> None:
    """Quoted, in other letters or in company it is a word of the author's."""
    assert said(f"crown: {word}\n") == []


def test_nothing_at_all_is_not_null() -> None:
    """An empty value, a quoted one and a null word are empty; only the last is a word for it."""
    _, top, _ = read("a:\nb: ''\nc: ~\nd: '~'\n")
    values = [pair.value for pair in top.pairs]
    assert [isinstance(each, Scalar) and (each.is_empty, each.is_null_word) for each in values] == [
        (True, False),
        (True, False),
        (True, True),
        (False, False),
    ]


def test_a_phrase_split_in_braces_is_told() -> None:
    """Each half that the comma cut off is named where it stands, and the rest is kept."""
    text = "male: {nape: red patch, often divided by black, crown: black, white spot}\n"
    assert said(text) == [
        ("cut-by-comma", 1, 25, "often divided by black"),
        ("cut-by-comma", 1, 63, "white spot"),
    ]
    assert plain(read(text)[1]) == {"male": {"nape": "red patch", "crown": "black"}}


@pytest.mark.parametrize(
    "text",
    [
        "male: {nape: red, crown: black}\n",
        'male: {"nape": red, crown : black}\n',
        "male: {? nape\n  : red}\n",
        "male: {nape: , crown: black}\n",
        "male: {? nape : red}\n",
        "where: [a, b]\n",
        "male: {}\n",
    ],
)
def test_sound_braces_are_left_alone(text: str) -> None:
    """A key with its colon is a key, even on the next line."""
    assert said(text) == []


def test_a_key_written_twice_keeps_the_first() -> None:
    """The second is named, with the place of the first beside it."""
    text = "bill: black\nnape: red\nbill: grey\n"
    source, top, (problem,) = read(text)
    assert plain(top) == {"bill": "black", "nape": "red"}
    assert (problem.word, problem.severity) == ("key-twice", Severity.WARNING)
    assert problem.span == Span(22, 26)
    assert [(source.slice(also.span), also.span.start) for also in problem.also] == [("bill", 0)]


def test_a_key_written_twice_is_seen_at_every_depth_and_in_any_dress() -> None:
    """Quotes do not make another key, and a third is told as well."""
    text = 'marks:\n  male: a\n  "male": b\n  male: c\n'
    assert said(text) == [("key-twice", 3, 3, '"male"'), ("key-twice", 4, 3, "male")]


@pytest.mark.parametrize(
    ("text", "column", "found"),
    [
        ("how common: !!str rare\n", 13, "!!str rare"),
        ("how common: !important\n", 13, "!important"),
        ("where: !list [a]\n", 8, "!list ["),
        ("how common: &scarce at the mill\n", 13, "&scarce"),
        ("how common: *scarce\n", 13, "*scarce"),
        ("<<: {code: HAWO}\n", 1, "<<"),
        ("[a, b]: c\n", 1, "[a, b]"),
        ("? {a: b}\n: c\n", 3, "{a: b}"),
    ],
)
def test_signs_that_give_a_value_another_meaning_are_told(text: str, column: int, found: str) -> None:
    """Tags, anchors, aliases, merge keys and collections as keys take words away and are named (YAML 1.2, 6.9)."""
    assert said(text) == [("yaml-extra", 1, column, found)]


def test_a_repeated_value_is_read() -> None:
    """An anchor that is used, and its alias, lose nothing."""
    _, top, problems = read("a: &x [HAWO, DOWO]\nb: *x\nc: *x\n")
    assert plain(top) == {"a": ["HAWO", "DOWO"], "b": ["HAWO", "DOWO"], "c": ["HAWO", "DOWO"]}
    assert problems == ()


def test_an_anchor_inside_itself_is_refused() -> None:
    """A list cannot hold itself; the alias has nothing to repeat, and the anchor nothing that repeats it."""
    assert said("a: &x [b, *x]\n") == [("yaml-extra", 1, 11, "*x"), ("yaml-extra", 1, 4, "&x")]


def unfolded(node: Node, known: dict[int, int]) -> int:
    """How many nodes a later reader would walk over, each repeated one counted once and remembered."""
    if id(node) not in known:
        below: list[Node] = []
        if isinstance(node, Listing):
            below = list(node.items)
        elif isinstance(node, Mapping):
            below = [each for pair in node.pairs for each in (pair.key, pair.value)]
        known[id(node)] = 1 + sum(unfolded(each, known) for each in below)
    return known[id(node)]


def test_aliases_cannot_multiply_without_bounds() -> None:
    """Ten aliases of ten aliases, thirty levels long, unfold to no more than the limit."""
    levels = ["a0: &a0 [" + ", ".join(["lol"] * 10) + "]"]
    levels += [f"a{n}: &a{n} [" + ", ".join([f"*a{n - 1}"] * 10) + "]" for n in range(1, 30)]
    text = "\n".join(levels) + "\n"
    source, top, problems = read(text)
    count = unfolded(top, {})
    assert count < 20_000 + len(text)
    refused = [problem for problem in problems if problem.severity is Severity.ERROR]
    assert refused
    assert all(problem.word == "yaml-extra" for problem in refused)
    assert all(source.slice(problem.span).startswith("*a") for problem in refused)


def test_many_aliases_of_one_long_list_share_the_limit() -> None:
    """Not only nesting multiplies: a thousand aliases of a thousand values are a million."""
    _, top, problems = read(f"a: &a [{'x, ' * 1000}]\nb: [{'*a, ' * 1000}]\n")
    count = unfolded(top, {})
    assert count < 25_000
    assert {problem.severity for problem in problems} == {Severity.ERROR}


@pytest.mark.parametrize("depth", [13, 14, 500])
@pytest.mark.parametrize(("opening", "closing"), [("[", "]"), ("{x: ", "}")])
def test_values_many_levels_deep_are_refused(opening: str, closing: str, depth: int) -> None:
    """What stands too deep is named once and left out; the next key is read."""
    source, top, (problem,) = read(f"a: {opening * depth}{closing * depth}\nb: c\n")
    assert (problem.word, problem.severity) == ("yaml-extra", Severity.ERROR)
    assert source.position(problem.span.start).line == 1
    assert problem.span.start == 3 + 12 * len(opening)
    assert top.pairs[1].key.text == "b"


@pytest.mark.parametrize("depth", [1, 12])
def test_twelve_levels_are_read_in_full(depth: int) -> None:
    """Values at the limit are as good as any."""
    assert said("a: " + "[" * depth + "x" + "]" * depth + "\n") == []


@pytest.mark.parametrize(
    ("text", "line", "column", "found"),
    [
        ("where:\n  - pond\n    - weir\n", 3, 5, "- weir"),
        ("where:\r\n  - pond\r\n     - weir\r\n", 3, 6, "- weir"),
        ("where:\n  - pond\n    and\n    - weir and more\n  - mill\n", 4, 5, "- weir and more"),
        ("where: pond\n  - weir\n", 2, 3, "- weir"),
    ],
)
def test_an_item_that_goes_on_with_the_one_above_is_told(text: str, line: int, column: int, found: str) -> None:
    """A plain value goes on over deeper lines, and takes their "-" for a sign of its own (YAML 1.2, 7.3.3)."""
    assert said(text) == [("item-swallowed", line, column, found)]


@pytest.mark.parametrize(
    "text",
    [
        "where:\n  - pond\n  - weir\n",
        "where:\n  -\n    - pond\n    - weir\n",
        "where: |\n  pond\n  - weir\n",
        "where:\n  - 'pond\n    - weir'\n",
        "where:\n  - pond\n    -weir\n",
        "where: pond -\n  weir - mill\n",
    ],
)
def test_no_item_is_told_where_none_was_swallowed(text: str) -> None:
    """Items in their place, text in quotes and literals, and hyphens within a line are left alone."""
    assert said(text) == []
