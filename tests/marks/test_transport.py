"""The best worth of sending one distribution to another, held against a linear program."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from tertial.marks.transport import best_worth

PARTS = st.lists(st.integers(0, 20), min_size=1, max_size=5)
WORTH = st.sampled_from([0.0, 0.25, 1 / 3, 0.5, 1.0])


@st.composite
def problems(draw: st.DrawFn) -> tuple[list[float], list[float], list[list[float]]]:
    """Two distributions of the same sum, and what each pair is worth."""
    supply, demand = draw(PARTS), draw(PARTS)
    missing = sum(supply) - sum(demand)
    (demand if missing > 0 else supply).append(abs(missing))
    worth = [[draw(WORTH) for _ in demand] for _ in supply]
    return [each / 20 for each in supply], [each / 20 for each in demand], worth


@given(problems())
def test_the_worth_is_that_of_a_linear_program(problem: tuple[list[float], list[float], list[list[float]]]) -> None:
    """SciPy's linear programming (HiGHS), a reference library, finds the same optimum."""
    supply, demand, worth = problem
    cells = [(i, j) for i in range(len(supply)) for j in range(len(demand))]
    rows = [[float(i == row) for i, _ in cells] for row in range(len(supply))]
    columns = [[float(j == column) for _, j in cells] for column in range(len(demand))]
    reference = linprog([-worth[i][j] for i, j in cells], A_eq=rows + columns, b_eq=supply + demand)
    assert best_worth(supply, demand, worth) == pytest.approx(-reference.fun, abs=1e-9)


def test_a_greedy_choice_is_taken_back_where_that_gains() -> None:
    """The dearest cell is not always part of the best plan."""
    assert best_worth([1, 1], [1, 1], [[1.0, 0.9], [0.9, 0.0]]) == pytest.approx(1.8)
