"""Text set to a width: nothing is lost, and nothing sticks out."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tertial.answers.columns import beside, shares, wrapped
from tertial.report import cells, shown


@given(st.text(), st.integers(2, 60))
def test_breaking_a_text_keeps_its_letters_and_its_width(text: str, width: int) -> None:
    """Every letter is still there in its order, and no line is wider than asked for."""
    lines = wrapped(text, width)
    assert "".join("".join(lines).split()) == "".join(shown(text).split())
    assert all(cells(line) <= width for line in lines)


def test_words_stay_whole_where_they_fit() -> None:
    """A line is broken at a blank; only a word wider than the line is cut."""
    assert wrapped("white, usually barred", 10) == ["white,", "usually", "barred"]
    assert wrapped("woodpecker", 4) == ["wood", "peck", "er"]
    assert wrapped("", 4) == [""]


def test_wide_letters_take_two_columns() -> None:
    """Cells beside each other stay in line whatever the script."""
    assert list(beside(("鳥", "a"), (4, 2))) == ["鳥    a"]
    assert list(beside(("bird", "a b"), (4, 1))) == ["bird  a", "      b"]


def test_equal_cells_share_what_fixed_ones_leave() -> None:
    """Two blanks part the cells of a line."""
    assert shares(60, (10, 14), 2) == (10, 14, 15, 15)
