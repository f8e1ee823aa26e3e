"""A bird that was seen against an account: what fits, what contradicts, what nobody wrote down."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.marks.describe import describe
from tertial.marks.fitting import Fit, fit
from tertial.marks.plumages import ALL, Plumage
from tertial.marks.reading import read_phrase
from tertial.marks.words import load_words

WORDS = load_words()
ADULT = Plumage("adult")
JUVENILE = Plumage("juvenile")


def fits(seen: str, told: str, part: str = "crown") -> list[Fit]:
    """Hold one phrase seen against one phrase of an account."""
    account = describe({ALL: {part: read_phrase(told, WORDS, part)}}, {}, ALL, WORDS)
    (found,) = fit({part: read_phrase(seen, WORDS, part)}, [account], WORDS)
    return [row.fit for row in found.rows]


@pytest.mark.parametrize(
    ("seen", "told", "found"),
    [
        ("red", "red", Fit.FITS),
        ("red", "always red", Fit.FITS),
        ("whitish", "white", Fit.FITS),
        ("yellow", "usually red, sometimes yellow", Fit.FITS),
        ("yellow", "red or yellow", Fit.FITS),
        ("black", "always red", Fit.CONTRADICTS),
        ("black", "red", Fit.CONTRADICTS),
        ("red", "never red", Fit.CONTRADICTS),
        ("black", "never red", Fit.FITS),
        ("black", "often red", Fit.NOT_RECORDED),
        ("black", "sometimes red", Fit.NOT_RECORDED),
        ("black", "not seen", Fit.NOT_RECORDED),
        ("black", "streaked", Fit.NOT_RECORDED),
    ],
)
def test_one_bird_is_one_bird(seen: str, told: str, found: Fit) -> None:
    """What an account allows fits, however rare; what it leaves open is not recorded; the rest contradicts."""
    assert fits(seen, told) == [found]


def test_what_was_not_made_out_says_nothing() -> None:
    """A part that was looked at in vain gives no row at all."""
    assert fits("not seen", "red") == []


def test_a_missing_part_contradicts_one_that_was_seen() -> None:
    """Wing bars were seen, and the account has none; a described part seen as absent likewise."""
    assert Fit.CONTRADICTS in fits("two, white", "none", "wing bar")
    assert Fit.CONTRADICTS in fits("none", "two, white", "wing bar")


def test_the_plumage_with_fewest_contradictions_comes_first() -> None:
    """Of an account's plumages the best fitting leads, whatever the order they come in."""
    phrases = {
        ADULT: {"crown": read_phrase("red", WORDS, "crown")},
        JUVENILE: {"crown": read_phrase("grey", WORDS, "crown")},
    }
    account = [describe(phrases, {}, each, WORDS) for each in (ADULT, JUVENILE)]
    seen = {"crown": read_phrase("grey", WORDS, "crown")}
    for order in (account, account[::-1]):
        found = fit(seen, order, WORDS)
        assert [each.plumage for each in found] == [JUVENILE, ADULT]
        assert [each.count(Fit.CONTRADICTS) for each in found] == [0, 1]


@given(st.sampled_from(["red", "black, glossy", "usually white", "two, narrow", "streaked with brown", "none"]))
def test_every_account_fits_itself(phrase: str) -> None:
    """A bird that looks as the account says contradicts nothing of it."""
    assert Fit.CONTRADICTS not in fits(phrase, phrase)
