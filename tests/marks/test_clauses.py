"""Quoting from a phrase only what says one statement."""

from __future__ import annotations

import pytest

from tertial.marks.clauses import clauses_of
from tertial.marks.faceted import read_by_facet
from tertial.marks.words import load_words


@pytest.mark.parametrize(
    ("phrase", "about", "clauses"),
    [
        ("short, straight, black", ("relative length", "", "length"), "short"),
        ("white, sometimes barred with black (short bars, far forward); plain", ("colour", "", "colour"), "white"),
        (
            "white, sometimes barred with black (short bars, far forward)",
            ("pattern", "", "marking"),
            "sometimes barred with black (short bars, far forward)",
        ),
        ("brown, tip black", ("colour", "tip", "colour"), "tip black"),
        ("black", ("colour", "", "colour"), "black"),
        ("none", ("presence", "", ""), "none"),
        ("short, black", ("presence", "", ""), ""),
    ],
)
def test_only_the_clause_that_says_it_is_quoted(phrase: str, about: tuple[str, str, str], clauses: str) -> None:
    """Other respects of the part are left out; where it is only concluded that the part is there, all is."""
    reading = read_by_facet(phrase, load_words(), "bill")
    statements = {tuple(each.key): each for each in reading.statements}
    assert clauses_of(reading, statements[about]) == clauses
