"""The pattern by which editors know plumages: never narrower than the reader, and as sharp on slips."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.marks.families import load_habits
from tertial.marks.folding import fold
from tertial.marks.plumage_words import load_plumage_words
from tertial.marks.plumages import plumage_pattern, read_plumage

WORDS = load_plumage_words()
LISTED = [text for word in WORDS.words for text in (word.word, *word.synonyms)]
PATTERN = re.compile(plumage_pattern())
JOINTS = [" ", ", ", "_", "-", "\t", "\u00a0", "\u00ad", "\u2013", "\u2212", "\u0085", "\u2028"]
# Letters that stand for others when case is dropped (Unicode, CaseFolding.txt).
STRANGE = {"s": "\u017f", "k": "\u212a", "fi": "\ufb01", "st": "\ufb06", "ff": "\ufb00", "ss": "\u00df"}


def fits(text: str) -> bool:
    return PATTERN.search(text) is not None


def slips(text: str) -> set[str]:
    """Give a text with each letter left out, and with each two neighbours exchanged."""
    places = range(len(text))
    left_out = {text[:at] + text[at + 1 :] for at in places}
    return left_out | {text[:at] + text[at : at + 2][::-1] + text[at + 2 :] for at in places}


@st.composite
def spellings(draw: st.DrawFn) -> str:
    """Plumage words in letters of either case or none of the usual, with joints between and within them."""
    text = draw(st.lists(st.sampled_from([*LISTED, "plumage", "birds", "in"]), min_size=1, max_size=4).map(" ".join))
    for letters in draw(st.lists(st.sampled_from(sorted(STRANGE)), max_size=2)):
        text = text.replace(letters, STRANGE[letters], 1)
    for at in draw(st.lists(st.integers(0, len(text)), max_size=3)):
        text = text[:at] + draw(st.sampled_from(JOINTS)) + text[at:]
    return "".join(draw(st.sampled_from([letter, letter.upper()])) for letter in text)


@pytest.mark.parametrize("text", [*LISTED, *(each for habit in load_habits().values() for each in habit.plumages)])
def test_listed_words_fit_as_they_are_read(text: str) -> None:
    """Every word fits that is a plumage by itself; a season without an age is none."""
    for spelling in (text, text.upper(), text.title(), fold(text), f" {text} plumage", *slips(text)):
        assert fits(spelling) == (read_plumage(spelling) is not None), spelling


@pytest.mark.parametrize("text", sorted({hint for word in WORDS.words for hint in word.hints}))
def test_what_is_only_hinted_at_fits_no_better_than_it_is_read(text: str) -> None:
    """Short and loose words that the reader answers with an offer are refused, unless they are words as well."""
    assert fits(text) == (read_plumage(text) is not None)


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", "mael", "malejuvenile", "male and female", "male/female", "juv. male", "male?", "3"),
        *("plumage", "basic", "birds in alternate plumage", "mâle", "juvénile", "♂", "nape", "bill"),
    ],
)
def test_what_is_no_plumage_fits_not(text: str) -> None:
    """Slips, parts, several plumages and another language are told in the editor already."""
    assert read_plumage(text) is None
    assert not fits(text)


def test_a_long_text_is_refused_at_once() -> None:
    """Words that are also read as one do not double the ways to try at each of their places."""
    assert not fits("all plumages, definitive basic, definitive alternate, " * 40 + "mael")


@given(spellings())
def test_whatever_is_read_fits(text: str) -> None:
    """An editor complains of no plumage that the reader takes."""
    assert fits(text) or read_plumage(text) is None


@given(st.text(alphabet=st.sampled_from(sorted({*"".join(LISTED), *"".join(JOINTS), *STRANGE.values()}))))
def test_any_text_that_is_read_fits(text: str) -> None:
    """The same of letters in no order."""
    assert fits(text) or read_plumage(text) is None
