"""What holds of the reading of any phrase, sensible or not."""

from __future__ import annotations

import re
import sys
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.marks.test_phrase_cases import CASES

from tertial.marks.parts import load_parts
from tertial.marks.reading import read_phrase
from tertial.marks.words import load_words

if TYPE_CHECKING:
    from types import FrameType
    from typing import Any

    from tertial.marks.statements import Reading

WORDS = load_words()
KNOWN = sorted({wording for wording, _ in WORDS.lists.wordings if wording.isascii()})
LOOSE = ["HAWO", "frob", "nape", "the", "2-4", "15", "(red)", '"pik"', ",", ";", "/", "?", "but", "crown patch", "un-"]
PARTS = st.sampled_from(["", "bill", "wing bar", "nape", "tail", "call", "flight", "habits", "no such part"])

word = st.one_of(st.sampled_from(KNOWN), st.sampled_from(LOOSE))
phrase = st.lists(word, max_size=14).map(" ".join)
descriptor = st.one_of(
    st.lists(st.sampled_from([each for each in KNOWN if "," not in each]), min_size=1, max_size=5).map(" ".join),
    st.sampled_from(sorted({clause.strip() for case in CASES for clause in case.partition(": ")[2].split(",")})),
)


def is_whole(reading: Reading) -> bool:
    """Whether the pieces lie in order and every word of the text is in one of them."""
    gaps, at = [], 0
    for piece in reading.pieces:
        assert at <= piece.start < piece.end
        gaps.append(reading.text[at : piece.start])
        at = piece.end
    gaps.append(reading.text[at:])
    joined = "".join(
        gap + reading.text[piece.start : piece.end] for gap, piece in zip(gaps, reading.pieces, strict=False)
    )
    return joined + gaps[-1] == reading.text and not any(re.search(r"[^\W_]", gap) for gap in gaps)


@given(st.one_of(phrase, st.text(max_size=60)), PARTS)
@settings(max_examples=400, deadline=None)
def test_any_text_is_read_and_kept(text: str, part: str) -> None:
    """No text fails, every word is in a piece, and pieces and gaps together are the text."""
    reading = read_phrase(text, WORDS, part)
    assert reading.text == text
    assert is_whole(reading)


@given(phrase, PARTS)
@settings(max_examples=400, deadline=None)
def test_statements_are_well_formed(text: str, part: str) -> None:
    """Keys are different, weights are shares and add up to at most 1, terms and claims are sorted."""
    statements = read_phrase(text, WORDS, part).statements
    assert len({statement.key for statement in statements}) == len(statements)
    for statement in statements:
        weights = [claim.weight for claim in statement.claims]
        assert all(0 < weight <= 1 for weight in weights)
        assert sum(weights) <= 1 + 1e-9
        assert not (statement.stated and not statement.claims)
        for claim in statement.claims:
            assert claim.qualities
            assert list(claim.qualities) == sorted(set(claim.qualities))
            assert all(list(quality.shades) == sorted(set(quality.shades)) for quality in claim.qualities)
            assert all(WORDS.agreement(statement.key.aspect, each, each) == 1 for each in claim.qualities)


@given(phrase, PARTS, st.sampled_from([str.upper, str.lower, str.title, str.swapcase]))
@settings(max_examples=300, deadline=None)
def test_case_changes_no_statement(text: str, part: str, change: object) -> None:
    """Capitals say nothing but that a word is a code, and codes state nothing."""
    assert callable(change)
    assert read_phrase(change(text), WORDS, part).statements == read_phrase(text, WORDS, part).statements


@given(phrase, PARTS)
@settings(max_examples=200, deadline=None)
def test_blanks_change_no_statement(text: str, part: str) -> None:
    """However many blanks stand between the words, they say the same."""
    wide = "  " + text.replace(" ", " \t ") + " "
    assert read_phrase(wide, WORDS, part).statements == read_phrase(text, WORDS, part).statements


@given(st.lists(descriptor, min_size=2, max_size=6), PARTS, st.data())
@settings(max_examples=400, deadline=None)
def test_the_order_of_descriptors_changes_no_statement(clauses: list[str], part: str, data: st.DataObject) -> None:
    """What stands between commas can be told in any order."""
    other = data.draw(st.permutations(clauses))
    first = read_phrase(", ".join(clauses), WORDS, part).statements
    assert read_phrase(", ".join(other), WORDS, part).statements == first


@pytest.mark.parametrize(
    "text",
    [
        "usually white or buff with dark brown streaks on the edge, ",
        "always black ",
        "grey or ",
        "red to ",
        "at the tip black ",
        "no white ",
        '" ',
        "( ",
        "finely ",
        "frobs ",
        "white frobs ",
    ],
)
def test_the_work_grows_with_the_length(text: str) -> None:
    """Four times the phrase takes at most about four times the lines of code, whatever it repeats."""
    few, many = lines_run(text * 60), lines_run(text * 240)
    assert few > 60
    assert many < 4.6 * few


def lines_run(text: str) -> int:
    """Count the lines of code that reading a phrase runs through."""
    count = 0

    def trace(frame: FrameType, event: str, argument: object) -> Any:
        nonlocal count
        count += event == "line"
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        read_phrase(text, WORDS, "tail")
    finally:
        sys.settrace(before)
    return count


def test_a_part_denied_is_absent() -> None:
    """ "No" before the name of the very part says that it is not there, and nothing else."""
    for part in load_parts():
        denied = read_phrase(f"no {part.word}", WORDS, part.word).statements
        assert [statement.key.aspect.value for statement in denied] == ["presence"], part.word


@pytest.mark.parametrize("other", ["cap", "nape", "bill", "body", "undertail coverts", "crown patch"])
@pytest.mark.parametrize("text", ["white {}", "{} white", "black and white {}", "black or barred {}", "two white {}s"])
def test_looks_of_another_part_are_not_taken_over(text: str, other: str) -> None:
    """What stands with the name of another part says nothing of the part described."""
    assert read_phrase(text.format(other), WORDS, "tail").statements == ()
