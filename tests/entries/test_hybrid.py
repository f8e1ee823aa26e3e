"""Hybrids as they are written down, in counts and in lists of codes."""

from __future__ import annotations

import pytest

from tertial.entries.counting import Counted, to_counted
from tertial.entries.hybrid import parents_of
from tertial.entries.values import Fault


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("MALL x ABDU", ("MALL", "ABDU")),
        ("MALL X ABDU", ("MALL", "ABDU")),
        ("MALL × ABDU", ("MALL", "ABDU")),
        ("MALL×ABDU", ("MALL", "ABDU")),
        ("Mallard x American Black Duck", ("Mallard", "American Black Duck")),
        ("Mallard X American Black Duck Hybrid", ("Mallard", "American Black Duck")),
        (" mall  x abdu ", ("mall", "abdu")),
        ("MALLxABDU", ()),
        ("MALL x MALL", ()),
        ("MALL x mall", ()),
        ("MALL x ABDU x NOPI", ()),
        ("MALL x", ()),
        ("× ABDU", ()),
        ("Saxon Duck", ()),
        ("MALL/ABDU", ()),
        ("", ()),
    ],
)
def test_a_hybrid_has_two_parents(text: str, expected: tuple[str, ...]) -> None:
    """An x stands between blanks, the sign of a cross anywhere; one parent twice is no hybrid, nor are three."""
    assert parents_of(text) == expected


def test_a_hybrid_counts_for_no_species() -> None:
    """It has parents and no code, so that nothing takes it for either of them, or for one of two."""
    counted = to_counted("MALL x ABDU")
    assert counted == Counted("MALL x ABDU", (), ("MALL", "ABDU"))
    assert isinstance(counted, Counted)
    assert counted.code == ""


def test_what_is_no_hybrid_is_told_how_to_write_one() -> None:
    """The repair names the form."""
    fault = to_counted("MALL x MALL")
    assert isinstance(fault, Fault)
    assert "a hybrid (MALL x ABDU)" in fault.mend
