"""How far apart two records are, in a word: the table of verdicts and its thresholds."""

from __future__ import annotations

from enum import StrEnum
from functools import cache
from typing import Final, NamedTuple

from tertial.marks.tables import read_table

_DIGITS: Final = 9
"""Separations are judged rounded to so many digits: 0.9 + 0.9 - 1 is not quite 0.8 in binary."""


class Verdict(StrEnum):
    """What a difference is worth, best first."""

    rank: int
    """Its place from 0, best first."""

    DIAGNOSTIC = "diagnostic"
    STRONG = "strong"
    HELPFUL = "helpful"
    WEAK = "weak"
    SHARED = "shared"
    NOT_RECORDED = "not recorded"

    def __init__(self, _: str) -> None:
        self.rank = len(type(self).__members__)

    @property
    def settles(self) -> bool:
        """Good enough to lead through a key, and to be called decisive."""
        return self in (Verdict.DIAGNOSTIC, Verdict.STRONG)


class Threshold(NamedTuple):
    """One row of the table of verdicts."""

    verdict: Verdict
    """The verdict."""

    least: float | None
    """The least separation for it; None where no number decides."""

    meaning: str
    """One sentence for the reader."""


@cache
def load_thresholds() -> tuple[Threshold, ...]:
    """Read the table of verdicts, best first. The numbers are our own choice; no standard fixes them."""
    return tuple(
        Threshold(Verdict(row["verdict"]), float(row["least"]) if row["least"] else None, row["meaning"])
        for row in read_table("verdicts.csv")
    )


def rounded(value: float) -> float:
    """Take away what only binary fractions put there, and keep a separation within 0 and 1."""
    return min(1.0, max(0.0, round(value, _DIGITS)))


def verdict_of(value: float, may_settle: bool) -> Verdict:
    """Put a separation into a word.

    :param value: from 0 to 1, rounded.
    :param may_settle: both records state their constancy, or rest on measures; without that the best is strong.
    """
    if value == 0:
        return Verdict.SHARED
    for row in load_thresholds():
        if row.least is not None and value >= row.least and (may_settle or row.verdict is not Verdict.DIAGNOSTIC):
            return row.verdict
    raise AssertionError("the table of verdicts begins at 0")
