"""The worked cases of the method: two phrases in, a separation and its verdict out, and what a plumage takes over."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.marks.compare import compare
from tertial.marks.describe import describe
from tertial.marks.parts import load_parts
from tertial.marks.plumages import ALL, read_plumage
from tertial.marks.reading import read_phrase
from tertial.marks.verdicts import Verdict
from tertial.marks.words import load_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tertial.marks.compare import Comparison, PartRow
    from tertial.marks.plumages import Plumage

PARTS, WORDS = load_parts(), load_words()
MALE, FEMALE, JUVENILE = "male", "female", "juvenile"

PHRASES = [
    "black",
    "always black",
    "usually black",
    "yellow",
    "always yellow",
    "orange or yellow",
    "sometimes red",
    "never red",
    "two, white",
    "none",
    "always none",
    "white",
    "whitish",
    "streaked with brown",
    "usually plain",
    "longer than head",
    "short, stout",
    "not seen",
    "of the usual sort",
]


def plumage(text: str) -> Plumage:
    """Read a plumage that is known to be one."""
    found = read_plumage(text)
    assert found is not None
    return found


def side_by_side(
    first: Mapping[str, Mapping[str, str]], second: Mapping[str, Mapping[str, str]], asked: str
) -> Comparison:
    """Compare two accounts, given as phrases by plumage and part."""
    accounts = [
        {
            plumage(block): {part: read_phrase(text, WORDS, part) for part, text in phrases.items()}
            for block, phrases in account.items()
        }
        for account in (first, second)
    ]
    one, other = (describe(account, {}, plumage(asked), WORDS) for account in accounts)
    return compare(one, other, PARTS, WORDS)


def row(part: str, first: str, second: str) -> PartRow:
    """Compare two phrases on one part of all plumages."""
    (found,) = side_by_side({"all": {part: first}}, {"all": {part: second}}, "all").parts
    return found


@pytest.mark.parametrize(
    ("part", "first", "second", "value", "verdict"),
    [
        ("bill", "always black", "always yellow", 1.0, Verdict.DIAGNOSTIC),
        ("bill", "black", "yellow", 0.8, Verdict.STRONG),
        ("bill", "usually black", "always yellow", 0.8, Verdict.STRONG),
        ("crown", "sometimes red", "never red", 0.3, Verdict.WEAK),
        ("wing bar", "two, white", "none", 0.8, Verdict.STRONG),
        ("breast", "white", "whitish", 0.0, Verdict.SHARED),
        ("supercilium", "white", "not seen", 0.0, Verdict.NOT_RECORDED),
    ],
)
def test_the_worked_cases_come_out(part: str, first: str, second: str, value: float, verdict: Verdict) -> None:
    """Each case of the method has the separation and the verdict that its table names."""
    found = row(part, first, second)
    assert found.value == pytest.approx(value)
    assert found.verdict is verdict


def test_an_alternative_that_may_agree_is_weak_to_helpful() -> None:
    """Orange or yellow against yellow: it may be the same bird."""
    assert row("bill", "orange or yellow", "yellow").verdict in (Verdict.WEAK, Verdict.HELPFUL)


def test_what_comes_from_all_is_told_with_its_origin() -> None:
    """A nape written for all of one bird stands against the male's of the other, and the row knows whence."""
    (found,) = side_by_side({"all": {"nape": "black"}}, {MALE: {"nape": "red patch"}}, MALE).parts
    assert found.verdict is Verdict.STRONG
    assert found.best is not None
    assert found.best.first is not None
    assert found.best.second is not None
    assert (found.best.first.origin, found.best.second.origin) == (ALL, plumage(MALE))


def test_a_juvenile_takes_over_nothing_from_adults() -> None:
    """A bill written for the male alone is not recorded of the juvenile."""
    (found,) = side_by_side({MALE: {"bill": "black"}}, {JUVENILE: {"bill": "grey"}}, JUVENILE).parts
    assert found.verdict is Verdict.NOT_RECORDED


def test_inheritance_goes_aspect_by_aspect() -> None:
    """A juvenile's shorter bill is still black, as all are."""
    first = {"all": {"bill": "long, black"}, JUVENILE: {"bill": "short"}}
    (found,) = side_by_side(first, {"all": {"bill": "short, yellow"}}, JUVENILE).parts
    assert found.best is not None
    assert found.best.key.aspect == "colour"
    assert found.verdict is Verdict.STRONG


@pytest.mark.parametrize("closing", ["none", "not seen", "of a certain something"])
def test_absence_doubt_and_unread_words_take_nothing_over(closing: str) -> None:
    """Where a plumage says that a part is not there, or could not be told, the description for all does not hold."""
    first = {"all": {"crest": "red"}, FEMALE: {"crest": closing}}
    (found,) = side_by_side(first, {"all": {"crest": "yellow"}}, FEMALE).parts
    assert [each.key.aspect for each in found.aspects if each.separated and each.key.aspect == "colour"] == []


def test_words_of_different_facets_do_not_speak_against_each_other() -> None:
    """A stout bill and a curved one may be the same bill."""
    found = row("bill", "stout", "decurved")
    assert found.verdict is Verdict.NOT_RECORDED


@given(st.sampled_from(PHRASES), st.sampled_from(PHRASES))
def test_rows_are_symmetric_and_nothing_differs_from_itself(first: str, second: str) -> None:
    """Whatever the phrases, the order of the birds does not matter, and equal phrases never separate."""
    there, back = row("bill", first, second), row("bill", second, first)
    assert (there.value, there.verdict) == (back.value, back.verdict)
    assert there.striking == pytest.approx(back.striking)
    assert row("bill", first, first).value == 0


@given(st.sampled_from(PHRASES), st.sampled_from(PHRASES))
def test_only_stated_constancy_settles_a_row(first: str, second: str) -> None:
    """A diagnostic row rests on two phrases that say how constant the mark is."""
    found = row("crown", first, second)
    if found.verdict is Verdict.DIAGNOSTIC:
        assert all(any(word in phrase for word in ("always", "never")) for phrase in (first, second))


def test_rows_come_most_telling_first_and_easiest_before_hard() -> None:
    """Of marks alike in worth the one that needs the easier view leads, then the larger, then the more striking."""
    first = {"all": {"iris": "red", "breast": "white", "flanks": "white", "tail": "black", "legs": "grey"}}
    second = {"all": {"iris": "yellow", "breast": "black", "flanks": "cream", "tail": "white", "legs": "greyish"}}
    found = side_by_side(first, second, "all").parts
    assert [each.word for each in found][:2] == ["tail", "flanks"]
    assert found[-1].word == "legs"
    assert [each.verdict.rank for each in found] == sorted(each.verdict.rank for each in found)
