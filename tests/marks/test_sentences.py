"""What a comparison comes to in sentences, and which record would help most."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest

from tertial.marks.compare import compare, separation_of
from tertial.marks.describe import describe
from tertial.marks.faceted import read_by_facet
from tertial.marks.parts import load_parts
from tertial.marks.plumages import ALL, Plumage
from tertial.marks.sentences import birds_of, pair_sentences, wanted_sentence
from tertial.marks.wanted import wanted, wanted_of_many
from tertial.marks.words import load_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tertial.marks.compare import Comparison
    from tertial.marks.describe import Described

PARTS, WORDS = load_parts(), load_words()
MALE, FEMALE, JUVENILE = Plumage("adult", "male"), Plumage("adult", "female"), Plumage("juvenile")


def described(
    first: Mapping[Plumage, Mapping[str, str]], second: Mapping[Plumage, Mapping[str, str]], *plumages: Plumage
) -> list[tuple[Described, Described]]:
    """Describe the birds of two accounts in some plumages."""
    accounts = [
        {
            plumage: {part: read_by_facet(text, WORDS, part) for part, text in phrases.items()}
            for plumage, phrases in account.items()
        }
        for account in (first, second)
    ]
    one, other = accounts
    return [(describe(one, {}, plumage), describe(other, {}, plumage)) for plumage in plumages]


def comparisons(
    first: Mapping[Plumage, Mapping[str, str]], second: Mapping[Plumage, Mapping[str, str]], *plumages: Plumage
) -> list[Comparison]:
    """Compare two accounts in some plumages."""
    return [compare(*pair, PARTS, WORDS) for pair in described(first, second, *plumages)]


def said(*found: Comparison) -> list[str]:
    """Give the sentences."""
    return [each.text for each in pair_sentences(found)]


def test_each_plumage_names_its_own_marks_after_what_holds_for_all() -> None:
    """The bill tells all; the nape only the males; of the females nothing more is recorded that helps."""
    first = {ALL: {"bill": "always short"}, MALE: {"nape": "always red"}, FEMALE: {"nape": "black"}}
    second = {ALL: {"bill": "long"}, MALE: {"nape": "never red"}, FEMALE: {"nape": "black"}}
    assert said(*comparisons(first, second, MALE, FEMALE)) == [
        "All plumages: the length of the bill tells nearly all apart.",
        "Males: the colour of the nape settles it.",
        "Females: nothing more is recorded that helps.",
    ]


@pytest.mark.parametrize(
    ("first", "second", "sentence"),
    [
        ("always red", "always black", "All birds: the colour of the crown settles it."),
        ("red", "black", "All birds: the colour of the crown tells nearly all apart."),
        ("often red", "often black", "All birds: nothing recorded tells more than a few apart."),
        ("usually red", "often black", "All birds: only the colour of the crown helps."),
        ("red", "red", "All birds: all that is recorded of both is alike."),
        ("red", "not seen", "All birds: no mark is recorded of both."),
    ],
)
def test_a_sentence_says_no_more_than_its_verdict(first: str, second: str, sentence: str) -> None:
    """Each verdict has words of its own."""
    assert said(*comparisons({ALL: {"crown": first}}, {ALL: {"crown": second}}, ALL)) == [sentence]


def test_several_decisive_marks_settle_it_each_alone() -> None:
    """Two diagnostic marks are named in the order of ease, with a verb to fit."""
    account = {ALL: {"crown": "always red", "legs": "always grey"}}, {ALL: {"crown": "never red", "legs": "never grey"}}
    (sentence,) = said(*comparisons(*account, ALL))
    assert sentence == "All birds: the colour of the crown and the colour of the legs settle it, each alone."


@pytest.mark.parametrize(
    ("plumage", "words"),
    [
        (ALL, "all birds"),
        (MALE, "males"),
        (Plumage("juvenile", "female"), "juvenile females"),
        (Plumage("first-winter"), "first-winter birds"),
        (Plumage("adult", season="breeding"), "breeding adults"),
    ],
)
def test_birds_of_a_plumage_are_named_in_the_plural(plumage: Plumage, words: str) -> None:
    """As one speaks of several."""
    assert birds_of(plumage) == words


def test_the_record_that_would_help_most_is_asked_for_first() -> None:
    """A part that only one account has; what is constant promises more than what is rare."""
    first = {ALL: {"iris": "always red", "crown": "sometimes white"}, MALE: {"nape": "red"}}
    second = {ALL: {"tail": "long"}, MALE: {}, FEMALE: {}}
    found = wanted(described(first, second, MALE, FEMALE), PARTS, WORDS)
    assert [(each.of_first, each.word) for each in found] == [
        (False, "iris"),
        (True, "tail"),
        (False, "nape"),
        (False, "crown"),
    ]
    assert [each.promise for each in found] == sorted((each.promise for each in found), reverse=True)
    assert [each.lacking for each in found] == [(MALE, FEMALE), (MALE, FEMALE), (MALE,), (MALE, FEMALE)]
    assert wanted_sentence(found[2], "AAAA", "BBBB") == "BBBB, nape of males: AAAA has 'red'"
    assert wanted_sentence(found[0], "AAAA", "BBBB") == "BBBB, iris: AAAA has 'always red'"


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ({"bill": "always short"}, {"bill": "long"}),
        ({"bill": "always short, often black"}, {"bill": "always long, black"}),
        ({"crest": "absent"}, {"crest": "red"}),
        ({"bill": "always short", "iris": "always red"}, {"bill": "long", "nape": "red"}),
    ],
)
def test_a_record_gains_what_it_promises_beyond_the_comparison(
    first: Mapping[str, str], second: Mapping[str, str]
) -> None:
    """What separates the two already is reckoned without rows; it is the separation of the rows."""
    for one, other in ((first, second), (second, first)):
        (pair,) = described({ALL: one}, {ALL: other}, ALL)
        known = compare(*pair, PARTS, WORDS).value
        assert separation_of(*pair, WORDS) == known
        found = wanted([pair], PARTS, WORDS)
        assert {each.word for each in found} == {*one} ^ {*other}
        gains = {each.word: round(max(0.0, each.promise - known), 6) for each in found}
        assert {each.word: each.gain for each in found} == gains
        several = wanted_of_many([("AAAA", "BBBB", [pair])], WORDS)
        assert {each.word: each.gain for each in several} == gains


def test_of_equal_promises_what_is_written_for_more_birds_counts() -> None:
    """Of the bars of a wing, the juvenile's number and everyone's width promise the same: any bird may be looked at."""
    first = {ALL: {"wing bar": "narrow"}, JUVENILE: {"wing bar": "two"}}
    (found,) = wanted(described(first, {ALL: {"bill": ""}}, JUVENILE), PARTS, WORDS)
    assert (found.word, found.plumage, found.beside.reading.text) == ("wing bar", ALL, "narrow")


def test_among_several_birds_gains_add_up() -> None:
    """A record that could part one bird from two others is worth twice what a plain statement (0.9) can bring."""
    plain, red, white = {ALL: {"bill": "black"}}, {ALL: {"iris": "always red"}}, {ALL: {"crown": "usually white"}}
    white[ALL]["iris"] = "always white"
    accounts = {"AAAA": plain, "BBBB": red, "CCCC": white}
    pairs = [(one, other, described(accounts[one], accounts[other], ALL)) for one, other in combinations(accounts, 2)]
    first, *rest = wanted_of_many(pairs, WORDS)
    assert (first.bird, first.word, first.against, first.gain) == ("AAAA", "iris", ("BBBB", "CCCC"), 1.8)
    assert [each.gain for each in rest] == sorted((each.gain for each in rest), reverse=True)
    assert {(each.bird, each.word) for each in rest} >= {("AAAA", "crown"), ("BBBB", "crown"), ("BBBB", "bill")}
