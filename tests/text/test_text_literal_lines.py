"""The place of each phrase inside a literal, which YAML's own value has lost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.text.nodes import Scalar, literal_lines
from tertial.text.source import SourceText, Span
from tertial.text.yamlread import read_front


def lines(text: str) -> list[tuple[str, int, int, str]]:
    """The lines of the first value: text, line, column, and what stands at its place in the file."""
    source = SourceText("entry.md", text)
    top, _ = read_front(source, Span(0, len(text)))
    value = top.pairs[0].value
    assert isinstance(value, Scalar)
    found = []
    for line in literal_lines(source, value):
        place = source.position(line.span.start)
        found.append((line.text, place.line, place.column, source.slice(line.span)))
    return found


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["lf", "crlf", "cr"])
@pytest.mark.parametrize("head", ["|", "|-", "|+", "|2", "|2-", ">", ">-", "| # a note", "|  "])
def test_every_line_of_a_literal_is_found_where_it_stands(head: str, end: str) -> None:
    """Whatever sign begins the literal, its phrases are given line by line with their places."""
    text = end.join([f"male: {head}", "  nape: red patch", "  crown: black  ", "voice: x", ""])
    assert lines(text) == [
        ("nape: red patch", 2, 3, "nape: red patch"),
        ("crown: black", 3, 3, "crown: black"),
    ]


def test_blank_lines_are_left_out_and_counted() -> None:
    """A blank line parts phrases for the eye; the places after it are right all the same."""
    assert lines("male: |\n\n  nape: red\n   \n\n  crown: black\n\n") == [
        ("nape: red", 3, 3, "nape: red"),
        ("crown: black", 6, 3, "crown: black"),
    ]


def test_deeper_lines_begin_at_their_words() -> None:
    """Blanks that a literal would keep are no part of a phrase."""
    assert lines("male: |2\n    nape: red\n  crown: black\n") == [
        ("nape: red", 2, 5, "nape: red"),
        ("crown: black", 3, 3, "crown: black"),
    ]


def test_signs_that_mean_something_to_yaml_are_plain_in_a_literal() -> None:
    """Quotes, brackets, colons and # stand as they were written."""
    phrase = """call: "peek" [x] {y, z}: a #2 ? ' @"""
    assert lines(f"voice: |\n  {phrase}\n") == [(phrase, 2, 3, phrase)]


def test_a_comment_after_a_literal_is_no_phrase() -> None:
    """What is not indented any more has left the literal."""
    assert lines("male: |\n  nape: red\n# a note\n\nvoice: x\n") == [("nape: red", 2, 3, "nape: red")]


def test_an_empty_literal_has_no_lines() -> None:
    """Only the sign for a literal was written."""
    assert lines("male: |\nvoice: x\n") == []


@pytest.mark.parametrize(
    ("value", "line", "column", "found"),
    [
        ("red patch", "red patch", 4, "red patch"),
        ('"nape: red"', "nape: red", 5, "nape: red"),
        ("'  nape: red '", "nape: red", 7, "nape: red"),
        ("'it''s: red'", "it's: red", 4, "'it''s: red'"),
    ],
)
def test_a_value_that_is_no_literal_is_one_line(value: str, line: str, column: int, found: str) -> None:
    """A single phrase is found inside its quotes; where the quotes changed it, the whole value stands for it."""
    assert lines(f"a: {value}\n") == [(line, 1, column, found)]


def test_a_blank_value_has_no_lines() -> None:
    """Nothing was written."""
    assert lines("male: '  '\n") == []
    assert lines("male:\n") == []


def test_an_unseen_character_is_a_blank_in_a_phrase_too() -> None:
    """A sign for the printer does not get into a phrase by way of a literal."""
    assert lines("male: |\n  nape:\x0cred\x85patch\u2028\n") == [
        ("nape: red patch", 2, 3, "nape:\x0cred\x85patch"),
    ]


words = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1)


@given(st.lists(st.tuples(words, st.integers(0, 3), st.sampled_from(["\n", "\r\n", "\r"])), min_size=1))
def test_the_phrases_of_a_literal_are_what_was_written(phrases: list[tuple[str, int, str]]) -> None:
    """Whatever words, depths and line ends: every phrase comes back, and its place slices back to it."""
    text = "male: |2\n" + "".join(f"  {' ' * deeper}{phrase}{end}" for phrase, deeper, end in phrases)
    found = lines(text)
    assert [line for line, _, _, _ in found] == [phrase for phrase, _, _ in phrases]
    assert all(line == sliced for line, _, _, sliced in found)
    assert [number for _, number, _, _ in found] == list(range(2, len(phrases) + 2))
    assert [column for _, _, column, _ in found] == [3 + deeper for _, deeper, _ in phrases]
