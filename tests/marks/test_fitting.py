"""One bird that was seen, held against what accounts say of its kind."""

from __future__ import annotations

import pytest

from tertial.marks.describe import describe
from tertial.marks.fitting import Fit, fit
from tertial.marks.plumages import ALL, Plumage
from tertial.marks.reading import read_phrase
from tertial.marks.words import load_words

MALE = Plumage("adult", "male")
JUVENILE = Plumage("juvenile")
WORDS = load_words()


def fits(seen: str, told: str, part: str = "bill") -> list[Fit]:
    account = describe({ALL: {part: read_phrase(told, WORDS, part)}}, {}, ALL, WORDS)
    (found,) = fit({part: read_phrase(seen, WORDS, part)}, [account], WORDS)
    return [row.fit for row in found.rows]


@pytest.mark.parametrize(
    ("seen", "told", "expected"),
    [
        ("black", "black", [Fit.FITS]),
        ("black", "yellow", [Fit.CONTRADICTS]),
        # However rarely an account allows a state, one bird may be that one.
        ("black", "rarely black", [Fit.FITS]),
        ("black or brown", "brown", [Fit.FITS]),
        # Usually yellow leaves a fifth of the birds open; hardly any is what leaves a tenth at most.
        ("black", "usually yellow", [Fit.NOT_RECORDED]),
        ("black", "always yellow", [Fit.CONTRADICTS]),
        ("black", "never black", [Fit.CONTRADICTS]),
        ("black", "sometimes yellow", [Fit.NOT_RECORDED]),
        ("whitish", "white", [Fit.FITS]),
        # Girth and curve are two respects of one shape.
        ("stout", "stout, straight", [Fit.FITS]),
        ("stout", "thin", [Fit.CONTRADICTS]),
        ("stout", "straight", [Fit.NOT_RECORDED]),
        ("black", "straight", [Fit.NOT_RECORDED]),
        ("not seen", "black", []),
    ],
)
def test_a_state_that_an_account_allows_at_all_fits(seen: str, told: str, expected: list[Fit]) -> None:
    """Fits, contradicts and not recorded follow from what the account leaves to any of its birds."""
    assert fits(seen, told) == expected


def test_an_absence_contradicts_what_was_seen() -> None:
    """A bird with two wing bars is none of those that have none."""
    assert Fit.CONTRADICTS in fits("two, white", "none", "wing bar")


def test_the_plumage_with_the_fewest_contradictions_comes_first() -> None:
    """A bird is held against every plumage; one that contradicts less is the better guess."""
    readings = {
        MALE: {"nape": read_phrase("red", WORDS, "nape")},
        JUVENILE: {"nape": read_phrase("black", WORDS, "nape")},
    }
    account = [describe(readings, {}, plumage, WORDS) for plumage in readings]
    found = fit({"nape": read_phrase("black", WORDS, "nape")}, account, WORDS)
    assert [(each.plumage, each.count(Fit.CONTRADICTS)) for each in found] == [(JUVENILE, 0), (MALE, 1)]
