"""The arithmetic of likeness for millions of pairs at once; ``alike`` is its only door.

Plumages are taken in blocks of rows and held against all as columns. What is said of a mark is numbered,
so that terms, then states, then statements are each compared once in tables, and the tables are looked
up. The formulas are those of ``likeness``, which stays the place to read them; a test holds the two
together. Whoever imports this module pays for NumPy.
"""

from __future__ import annotations

import math
from itertools import chain
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

from tertial.marks.likeness import LEAST_SHARED, SPAN, Likeness, said
from tertial.marks.statements import Statement

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence

    from tertial.marks.likeness import Agreement, Mark, Profile, Said, State
    from tertial.marks.statements import Aspect, Quality

Floats: TypeAlias = NDArray[np.float64]
Places: TypeAlias = NDArray[np.intp]

M = TypeVar("M", bound="Hashable")

_BLOCK: Final = 256
"""Rows that are compared at a time: a few megabytes a table, whatever the size of the guide."""


class _Mixed(NamedTuple):
    """Things made of several members, a row each, filled up with members that have no share."""

    members: Places
    """The numbers of the members; 0 fills up and agrees with nothing."""

    shares: Floats
    """The share of each member."""

    def take(self, rows: Places) -> _Mixed:
        """Give some of the rows."""
        return _Mixed(self.members[rows], self.shares[rows])


class _Statements(NamedTuple):
    """Statements of one mark, a row each."""

    affirmed: _Mixed
    """The states that they affirm."""

    denied: _Mixed
    """The states that they deny."""

    share: Floats
    """What they affirm together."""

    implied: NDArray[np.bool_]
    """Nobody wrote them."""

    def take(self, rows: Places) -> _Statements:
        """Give some of the rows."""
        return _Statements(self.affirmed.take(rows), self.denied.take(rows), self.share[rows], self.implied[rows])


class _Marked(NamedTuple):
    """One mark of all plumages."""

    codes: Places
    """For each plumage the row of its statement among the distinct ones."""

    known: Places
    """The plumages of which anything is recorded: most marks are recorded of few."""

    statements: _Statements
    """The distinct statements; the first says nothing, and stands for a record that is missing."""

    states: Floats
    """How each state of the aspect agrees with each."""


def likest_pairs(
    described: Sequence[Profile],
    birds: Sequence[str],
    rungs: Sequence[int | None],
    occasions: Sequence[frozenset[int | str]],
    agreement: Agreement,
    limit: int,
) -> dict[tuple[int, int], Likeness]:
    """Find for each plumage those of other birds that are likest, by their places, the lower first.

    The parallel sequences hold a plumage each. Two may meet if the birds differ, the rungs differ by at
    most one, and an occasion is common; of those that may, only likenesses with a rank are given.
    """
    marked = tuple(_marked(described, agreement))
    measured = tuple(_measured(described))
    numbers = {name: number for number, name in enumerate(dict.fromkeys(birds))}
    bird = np.array([numbers[each] for each in birds])
    rung = np.array([math.nan if each is None else each for each in rungs])
    there = _membership(occasions)
    found: dict[tuple[int, int], Likeness] = {}
    for start in range(0, len(described), _BLOCK):
        rows = np.arange(start, min(start + _BLOCK, len(described)))
        weight, worth, shared = _scores(rows, len(described), marked, measured)
        ranked = (bird[rows, None] != bird) & (abs(rung[rows, None] - rung) <= 1)
        ranked &= (there[rows] @ there.T > 0) & (shared >= LEAST_SHARED)
        value = np.divide(worth, weight, out=np.full(ranked.shape, -1.0), where=ranked)
        best = np.lexsort((-shared, -value))[:, :limit]
        for at, row in enumerate(rows.tolist()):
            for column in best[at][ranked[at, best[at]]].tolist():
                pair = (min(row, column), max(row, column))
                found[pair] = Likeness(float(value[at, column]), int(shared[at, column]))
    return found


def _membership(sets: Sequence[frozenset[int | str]]) -> NDArray[np.float32]:
    """Give a row for each set and a column for each member of any."""
    columns: dict[Hashable, int] = {}
    for member in chain.from_iterable(sets):
        columns.setdefault(member, len(columns))
    table = np.zeros((len(sets), len(columns)), np.float32)
    for row, members in enumerate(sets):
        table[row, [columns[member] for member in members]] = 1
    return table


def _marked(described: Sequence[Profile], agreement: Agreement) -> Iterator[_Marked]:
    """Number what is said of every mark; marks of one aspect share their states."""
    written: dict[Mark, dict[int, Statement]] = {}
    for place, each in enumerate(described):
        for mark, statement in each.statements.items():
            written.setdefault(mark, {})[place] = statement
    aspects: dict[Aspect, list[Mark]] = {}
    for mark in sorted(written):
        aspects.setdefault(mark.key.aspect, []).append(mark)
    for aspect, marks in aspects.items():
        numbers: dict[State, int] = {}
        numbered = []
        for mark in marks:
            distinct = {Statement(mark.key, ()): 0}
            known = np.array(list(written[mark]))
            codes = np.zeros(len(described), np.intp)
            codes[known] = [distinct.setdefault(statement, len(distinct)) for statement in written[mark].values()]
            numbered.append((codes, known, _statements([said(statement) for statement in distinct], numbers)))
        states = _states(aspect, numbers, agreement)
        yield from (_Marked(*each, states) for each in numbered)


def _statements(sides: Sequence[Said], numbers: dict[State, int]) -> _Statements:
    """Put statements into arrays; new states get the next numbers, from 1."""
    return _Statements(
        _mixed([each.affirmed for each in sides], numbers),
        _mixed([each.denied for each in sides], numbers),
        np.array([each.share for each in sides]),
        np.array([each.implied for each in sides]),
    )


def _states(aspect: Aspect, numbers: Mapping[State, int], agreement: Agreement) -> Floats:
    """Compare all states of an aspect, as ``states_agree`` does; row and column 0 are of the filling."""
    terms: dict[Quality, int] = {}
    states = _mixed([dict.fromkeys(state, 1.0) for state in numbers], terms)
    table = np.zeros((len(terms) + 1, len(terms) + 1))
    for one, row in terms.items():
        for other, column in terms.items():
            table[row, column] = 1.0 if one == other else agreement(aspect, one, other)
    met = _met(states, states, table)
    common, sizes = (met + met.T) / 2, states.shares.sum(axis=1)
    return np.pad(common / (sizes[:, None] + sizes - common), ((1, 0), (1, 0)))


def _mixed(things: Sequence[Mapping[M, float]], numbers: dict[M, int]) -> _Mixed:
    """Put things of several members into arrays; new members get the next numbers, from 1."""
    width = max(map(len, things), default=0)
    mixed = _Mixed(np.zeros((len(things), width), np.intp), np.zeros((len(things), width)))
    for row, thing in enumerate(things):
        for column, (member, share) in enumerate(thing.items()):
            mixed.members[row, column] = numbers.setdefault(member, len(numbers) + 1)
            mixed.shares[row, column] = share
    return mixed


def _measured(described: Sequence[Profile]) -> Iterator[Floats]:
    """Give for every measure the natural logarithms of the values of all plumages, nan where there is none."""
    for name in sorted({name for each in described for name in each.measures}):
        yield np.array([math.log(each.measures.get(name, math.nan)) for each in described])


def _scores(
    rows: Places, count: int, marked: Iterable[_Marked], measured: Iterable[Floats]
) -> tuple[Floats, Floats, Places]:
    """Add up, for a block against all: the weights, the weights times the values, the shared marks.

    The block stands in columns until the end, because looking up whole rows is the fastest.
    """
    shape = (count, len(rows))
    weight, worth, shared = np.zeros(shape), np.zeros(shape), np.zeros(shape, np.intp)
    for codes, known, statements, states in marked:
        weights, worths = _compared(statements, statements.take(codes[rows]), states)
        found = codes[known]
        weight[known] += weights[found]
        worth[known] += worths[found]
        shared[known] += (weights > 0)[found]
    for logs in measured:
        nearness = np.maximum(0.0, 1.0 - abs(logs[:, None] - logs[rows]) / SPAN)
        known = ~np.isnan(nearness)
        weight += known
        worth += np.where(known, nearness, 0.0)
        shared += known
    return weight.T, worth.T, shared.T


def _compared(one: _Statements, other: _Statements, states: Floats) -> tuple[Floats, Floats]:
    """Compare statements as ``compare`` does: the weights, and the weights times the values."""
    both = (one.share[:, None] > 0) & (other.share > 0)
    counted = both & ~(one.implied[:, None] | other.implied)
    weight = np.where(counted, one.share[:, None] * other.share, 0.0)
    met = _met(one.affirmed, other.affirmed, states) / np.where(one.share > 0, one.share, 1.0)[:, None]
    met += (_met(other.affirmed, one.affirmed, states) / np.where(other.share > 0, other.share, 1.0)[:, None]).T
    clash = np.maximum(_clash(one.affirmed, other.denied, states), _clash(other.affirmed, one.denied, states).T)
    return np.where(both, weight, clash), weight * met / 2


def _met(one: _Mixed, other: _Mixed, table: Floats) -> Floats:
    """Add up, for each of one side, how well its members are met by the best of each of the other side."""
    total = np.zeros((len(one.members), len(other.members)))
    for members, shares in zip(one.members.T, one.shares.T, strict=True):
        total += shares[:, None] * _best(table[members], other.members)
    return total


def _best(table: Floats, columns: Places) -> Floats:
    """Give, for each row of a table, the greatest of each set of its columns."""
    best = np.zeros((len(table), len(columns)))
    for column in columns.T:
        np.maximum(best, table[:, column], out=best)
    return best


def _clash(affirmed: _Mixed, denied: _Mixed, table: Floats) -> Floats:
    """Give the greatest share at which what one side affirms is denied by the other."""
    clash = np.zeros((len(affirmed.members), len(denied.members)))
    for members, shares in zip(affirmed.members.T, affirmed.shares.T, strict=True):
        for others, other_shares in zip(denied.members.T, denied.shares.T, strict=True):
            np.maximum(clash, shares[:, None] * other_shares * table[np.ix_(members, others)], out=clash)
    return clash
