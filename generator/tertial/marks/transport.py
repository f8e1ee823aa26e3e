"""The best way to lay one distribution upon another, when every pair of states has a worth.

The transportation problem in its smallest form (Hitchcock 1941, J. Math. Phys. 20:224-230): a handful of
states on either side, solved exactly by augmenting along the dearest path until nothing is left to send.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

_NOTHING: Final = 1e-12
"""Amounts below it are leftovers of binary fractions."""


def best_worth(supply: Sequence[float], demand: Sequence[float], worth: Sequence[Sequence[float]]) -> float:
    """Give the greatest total worth of sending all of the supply to the demand.

    :param supply: amounts, none negative.
    :param demand: amounts, none negative, with the same sum.
    :param worth: for each supply (row) and demand (column) the worth of one unit sent there.
    """
    left, wanted = list(supply), list(demand)
    sent = [[0.0] * len(wanted) for _ in left]
    while True:
        path = _dearest_path(left, wanted, sent, worth)
        if path is None:
            return sum(sent[i][j] * worth[i][j] for i in range(len(left)) for j in range(len(wanted)))
        amount = min(left[path[0]], wanted[path[-1]], *(sent[path[k + 1]][path[k]] for k in range(1, len(path) - 1, 2)))
        left[path[0]] -= amount
        wanted[path[-1]] -= amount
        for k in range(0, len(path) - 1, 2):
            sent[path[k]][path[k + 1]] += amount
        for k in range(1, len(path) - 1, 2):
            sent[path[k + 1]][path[k]] -= amount


def _dearest_path(
    left: Sequence[float], wanted: Sequence[float], sent: Sequence[Sequence[float]], worth: Sequence[Sequence[float]]
) -> list[int] | None:
    """Find where one more unit gains most: row, column, row ... column, going back where it takes something away.

    Bellman and Ford's way: no path is longer than there are rows and columns, and none gains in a circle.
    """
    rows, columns = range(len(left)), range(len(wanted))
    at_row = [0.0 if left[i] > _NOTHING else -math.inf for i in rows]
    at_column = [-math.inf] * len(wanted)
    from_row: list[int] = [-1] * len(wanted)
    from_column: list[int] = [-1] * len(left)
    for _ in range(len(left) + len(wanted)):
        changed = False
        for i in rows:
            for j in columns:
                if at_row[i] + worth[i][j] > at_column[j] + _NOTHING:
                    at_column[j], from_row[j], changed = at_row[i] + worth[i][j], i, True
                if sent[i][j] > _NOTHING and at_column[j] - worth[i][j] > at_row[i] + _NOTHING:
                    at_row[i], from_column[i], changed = at_column[j] - worth[i][j], j, True
        if not changed:
            break
    open_columns = [j for j in columns if wanted[j] > _NOTHING and at_column[j] > -math.inf]
    if not open_columns:
        return None
    column = max(open_columns, key=lambda j: at_column[j])
    path = [column]
    while True:
        row = from_row[column]
        path.append(row)
        if from_column[row] < 0:
            return path[::-1]
        column = from_column[row]
        path.append(column)
