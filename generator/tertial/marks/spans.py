"""Which measure of a bird lies between two spots of a drawing."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from tertial.marks.folding import fold
from tertial.marks.tables import read_table, split_cell


class SpanBetween(NamedTuple):
    """The measure between two spots."""

    measure: str
    """The measure as entries name it."""

    by_posture: bool
    """It changes with the posture, so that it is only near the measure of the bird laid flat."""


@cache
def _load() -> dict[frozenset[str], SpanBetween]:
    found: dict[frozenset[str], SpanBetween] = {}
    for row in read_table("spans.csv"):
        for one in split_cell(row["one"]):
            for other in split_cell(row["other"]):
                between = SpanBetween(row["measure"], row["posture"] == "yes")
                found.setdefault(frozenset((fold(one), fold(other))), between)
    return found


def span_between(one: str, other: str) -> SpanBetween | None:
    """Give the measure between two named spots, in either order; None where there is none that is known."""
    return _load().get(frozenset((fold(one), fold(other))))
