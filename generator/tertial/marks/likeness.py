"""How alike two plumages are over everything that is written of both.

Separation asks for the one mark that tells two birds apart; likeness asks what the whole impression
has in common, and is what look-alikes are proposed by. It is Gower's general similarity (Gower 1971,
A general coefficient of similarity and some of its properties, Biometrics 27:857-871): the mean of
the similarity in every mark, each counted as far as it is known of both. Which weight a mark has and
how two statements agree are our own choice; no standard fixes them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from tertial.marks.statements import ABSENT, PRESENT, Aspect, Key, Quality

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tertial.marks.statements import Statement

SPAN: Final = math.log(2)
"""The log ratio from which two measures have nothing in common: one is twice the other.

A watcher with a known bird alongside sees a quarter more or less; birds of one shape that differ by half
are rarely mistaken for each other, so a double leaves room on both sides. Common practice, no source.
"""

LEAST_SHARED: Final = 8
"""With fewer shared marks a likeness is shown but gets no rank: one mark would move it by an eighth or more."""

Agreement: TypeAlias = Callable[[Aspect, Quality, Quality], float]
"""How far two terms of an aspect mean the same, from 0 to 1; symmetric, and 1 for equal terms."""

State: TypeAlias = tuple[Quality, ...]
"""Terms that hold together."""

_PRESENT: Final = (Quality(PRESENT),)
_ABSENT: Final = (Quality(ABSENT),)


class Mark(NamedTuple):
    """What can be recorded of a plumage in words."""

    part: str
    """The preferred word of the part."""

    key: Key
    """The respect, and the place on the part."""


class Profile(NamedTuple):
    """What is known of one plumage."""

    statements: Mapping[Mark, Statement]
    """What is said of each mark, inherited statements among them."""

    measures: Mapping[str, float]
    """Means by the name of the measure, above 0; of one name all in one unit."""


class Likeness(NamedTuple):
    """How alike two plumages are."""

    value: float | None
    """From 0, nothing in common, to 1; None if no mark is recorded for both."""

    shared: int
    """How many marks and measures it rests on; it is shown wherever the value is."""

    @property
    def ranked(self) -> bool:
        """It rests on enough marks to be put in order with others."""
        return self.shared >= LEAST_SHARED


class Compared(NamedTuple):
    """Two statements of one mark, or two values of one measure."""

    weight: float
    """How far the mark is known of both, from 0 to 1; at 0 it is not shared."""

    value: float
    """How far they agree, from 0 to 1; it means nothing at weight 0."""


class Said(NamedTuple):
    """The claims of one statement, sorted into what it affirms and what it denies."""

    affirmed: Mapping[State, float]
    """The states that the part may be in, each with its share."""

    denied: Mapping[State, float]
    """The states that it is not in, presence for an absence, each with its share."""

    share: float
    """The affirmed shares together."""

    implied: bool
    """Nobody wrote it."""


def likeness(first: Profile, second: Profile, agreement: Agreement) -> Likeness:
    """Compare two plumages over the marks and measures recorded for both.

    The terms are added in the order of the marks, so that the result does not depend on the order of writing.
    """
    compared = [
        compare(first.statements[mark], second.statements[mark], agreement)
        for mark in sorted(first.statements.keys() & second.statements.keys())
    ]
    compared += [
        Compared(1.0, nearness(math.log(first.measures[name]), math.log(second.measures[name])))
        for name in sorted(first.measures.keys() & second.measures.keys())
    ]
    weight = worth = 0.0
    for each in compared:
        weight += each.weight
        worth += each.weight * each.value
    return Likeness(worth / weight if weight else None, sum(each.weight > 0 for each in compared))


def nearness(first: float, second: float) -> float:
    """Give the similarity of two measures from their natural logarithms, from 0 to 1."""
    return max(0.0, 1.0 - abs(first - second) / SPAN)


def compare(first: Statement, second: Statement, agreement: Agreement) -> Compared:
    """Compare two statements of one mark.

    The unstated share of a statement is missing like a mark that was never recorded, so a mark weighs as
    much as both have stated: the product of the stated shares. What is stated agrees by the best
    counterpart: each claim meets the claim of the other statement that it agrees with most, and the value
    is the mean over the claims of both, each counted by its share. So equal statements agree by 1, and
    "orange or yellow" agrees with "yellow" by 0.75.

    A denial, an absence among them, says what is not there and is otherwise no description. Two denials
    are skipped, as Gower skips what both lack. Against an affirmation a denial counts only as far as that
    very thing is affirmed, with value 0. An implied presence counts against an absence and nowhere else.
    """
    ours, theirs = said(first), said(second)
    aspect = first.key.aspect
    if ours.affirmed and theirs.affirmed:
        if ours.implied or theirs.implied:
            return Compared(0.0, 0.0)
        table = [[states_agree(aspect, one, other, agreement) for other in theirs.affirmed] for one in ours.affirmed]
        met = _met(ours, map(max, table)) + _met(theirs, map(max, zip(*table, strict=True)))
        return Compared(ours.share * theirs.share, met / 2)
    affirmed, denied = (ours.affirmed, theirs.denied) if ours.affirmed else (theirs.affirmed, ours.denied)
    clashes = (
        share * other_share * states_agree(aspect, one, other, agreement)
        for one, share in affirmed.items()
        for other, other_share in denied.items()
    )
    return Compared(max(clashes, default=0.0), 0.0)


def said(statement: Statement) -> Said:
    """Sort the claims of a statement."""
    affirmed: dict[State, float] = {}
    denied: dict[State, float] = {}
    for claim in statement.claims:
        absent = claim.qualities == _ABSENT
        side, state = (denied if claim.negative or absent else affirmed), (_PRESENT if absent else claim.qualities)
        side[state] = side.get(state, 0.0) + claim.weight
    return Said(affirmed, denied, sum(affirmed.values()), statement.implied)


def states_agree(aspect: Aspect, first: State, second: State, agreement: Agreement) -> float:
    """Compare two states of one or several terms by Jaccard's index, with near terms as parts of a term.

    What the sets have in common is the mean, over both, of how well their terms are met by the best of the
    other; for terms that agree by 0 or 1 that is the number of common terms, and the result the index of
    Jaccard 1912 (New Phytologist 11:37-50, cited from memory).
    """
    if first == second:
        return 1.0
    table = [[1.0 if one == other else agreement(aspect, one, other) for other in second] for one in first]
    common: float = (sum(map(max, table)) + sum(map(max, zip(*table, strict=True)))) / 2
    return common / (len(first) + len(second) - common)


def _met(one: Said, best: Iterable[float]) -> float:
    """Give the mean of the best agreements of the affirmed states, each counted by its share."""
    return sum(share * value for share, value in zip(one.affirmed.values(), best, strict=True)) / one.share
