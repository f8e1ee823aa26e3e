"""Folding: which spellings count as one, and what must hold for any text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.names.fold import fold, fold_all, latin


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Grey Plover", "gray plover"),
        ("Slate-coloured Junco", "SLATE COLORED JUNCO"),
        ("Wilson's Warbler", "Wilson’s Warbler"),
        ("Wilson's Warbler", "Wilsons  Warbler "),
        ("Western Wood-Pewee", "Western Woodpewee"),
        ("Western Wood-Pewee", "Western Wood‑Pewee"),
        ("Rüppell's Vulture", "Ruppells Vulture"),
        ("Œdicnème", "oedicneme"),
        ("Pic\nchevelu", "Pic chevelu"),
    ],
)
def test_spellings_of_one_name_fold_alike(one: str, other: str) -> None:
    """Case, accents, breaks, apostrophes, ligatures and gray or grey make no other name."""
    assert fold(one) == fold(other)


def test_different_names_stay_apart() -> None:
    """Folding removes no letter that tells two names apart."""
    assert fold("Hairy Woodpecker") != fold("Hoary Woodpecker")


def test_latin_keeps_the_breaks() -> None:
    """Codes need spaces and hyphens, so `latin` leaves them in."""
    assert latin("Güldenstädt’s Saw–whet") == "guldenstadts saw-whet"


@given(st.text())
def test_folding_twice_changes_nothing(text: str) -> None:
    """Folding is idempotent for any text."""
    assert fold(fold(text)) == fold(text)


@given(st.text(alphabet="greycoluα -'\n\u0345İ"))
def test_respelling_is_idempotent_too(text: str) -> None:
    """The same on texts that are dense in grey, colour and letters that fold into several."""
    assert fold(fold(text)) == fold(text)


@given(st.text())
def test_folded_text_is_plain(text: str) -> None:
    """Only small ASCII letters and digits come out."""
    assert all(sign.isascii() and (sign.islower() or sign.isdigit()) for sign in fold(text))


@given(st.lists(st.text(st.characters(exclude_categories=["Cc", "Zl", "Zp"]))))
def test_folding_together_is_folding_one_by_one(texts: list[str]) -> None:
    """`fold_all` is nothing but the quick way."""
    assert fold_all(texts) == [fold(text) for text in texts]
