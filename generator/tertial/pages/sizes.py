"""Two birds on one axis: the ranges of their measures, drawn, with what they are worth in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.account_values import unit_of
from tertial.marks.verdicts import Verdict
from tertial.pages.marks import method_of, verdict_style
from tertial.pages.naming import measure_named

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.marks.compare import Comparison, MeasureRow
    from tertial.marks.measures import Measured, MeasureSeparation
    from tertial.pages.site import Link, Site

WIDTH: Final = 600
"""Width of the drawing in its own units."""

_LEFT: Final = 70
_RIGHT: Final = 20
_STEPS: Final = (1, 2, 5)
_MOST_TICKS: Final = 9
_TWO_SD: Final = 1.959964
"""Standard deviations on either side of the mean within which 95 of 100 values of a normal lie."""


class Bar(NamedTuple):
    """One bird's measure on the axis, in the drawing's units."""

    start: float
    end: float
    middle: float | None
    """The mean, where one is recorded."""
    text: str
    """The measure in figures."""


class Tick(NamedTuple):
    """A mark of the axis."""

    at: float
    text: str


class SizeRow(NamedTuple):
    """One measure of both birds."""

    name: Link
    """The measure, with the way to the part that it is of."""
    unit: str
    first: Bar | None
    second: Bar | None
    ticks: tuple[Tick, ...]
    hand: Link | None
    """Verdict in the hand, and the way to what it means; None where it is not weighed."""
    field: Link | None
    """Verdict in the field likewise."""
    beside: bool
    """Whether it helps in the field, which no size does but beside a bird that is known."""
    style: str
    separation: str
    overlap: str
    """Overlap in hundredths, or ''."""
    ratio: str
    basis: tuple[str, str]
    """Where the spread of each comes from."""


def size_rows(site: Site, comparison: Comparison) -> Iterator[SizeRow]:
    """Give the measures that both birds have, the most telling first."""
    for row in comparison.measures:
        if row.first is not None and row.second is not None:
            drawn = _drawn(site, row)
            if drawn is not None:
                yield drawn


def _drawn(site: Site, row: MeasureRow) -> SizeRow | None:
    sides = [_limits(side[0]) for side in (row.first, row.second) if side is not None]
    known = [side for side in sides if side is not None]
    if not known or row.first is None or row.second is None:
        return None
    low, high = min(side[0] for side in known), max(side[1] for side in known)
    ticks = _ticks(low, high)
    start, end = min(low, ticks[0]), max(high, ticks[-1])

    def at(value: float) -> float:
        return round(_LEFT + (WIDTH - _LEFT - _RIGHT) * (value - start) / ((end - start) or 1), 1)

    def bar(measured: Measured) -> Bar | None:
        limits = _limits(measured)
        if limits is None:
            return None
        mean = at(measured.mean) if measured.mean is not None else None
        return Bar(at(limits[0]), at(limits[1]), mean, _figures(site, measured, unit_of(row.word)))

    found: MeasureSeparation | None = row.separated
    return SizeRow(
        site.part(row.word)._replace(text=measure_named(site, row.word)),
        unit_of(row.word),
        bar(row.first[0]),
        bar(row.second[0]),
        tuple(Tick(at(value), site.wording.numbers(f"{value:g}")) for value in ticks),
        method_of(site, found.hand) if found else None,
        method_of(site, found.field) if found else None,
        found is not None and found.field.rank <= Verdict.HELPFUL.rank,
        verdict_style(row.verdict),
        site.wording.numbers(f"{found.value:.2f}") if found else "",
        f"{100 * found.overlap:.0f}" if found else "",
        site.wording.numbers(f"{found.ratio:.2f}") if found else "",
        (site.say(found.first.basis.value), site.say(found.second.basis.value)) if found else ("", ""),
    )


def _limits(measured: Measured) -> tuple[float, float] | None:
    """The range as recorded, or that in which 95 of 100 birds lie, or the mean alone."""
    if measured.low is not None and measured.high is not None:
        return measured.low, measured.high
    if measured.mean is None:
        return None
    reach = _TWO_SD * (measured.sd or 0)
    return measured.mean - reach, measured.mean + reach


def _figures(site: Site, measured: Measured, unit: str) -> str:
    parts = []
    if measured.low is not None and measured.high is not None:
        both = measured.low != measured.high
        parts.append(f"{measured.low:g}" + (f"\N{EN DASH}{measured.high:g}" if both else ""))
    if measured.mean is not None:
        parts.append(site.say("mean %(amount)s", amount=f"{measured.mean:g}"))
    parts += [site.say("sd %(amount)s", amount=f"{measured.sd:g}")] if measured.sd is not None else []
    told = site.wording.amount(" ".join(parts), unit)
    return told + (f", n\N{NO-BREAK SPACE}=\N{NO-BREAK SPACE}{measured.n}" if measured.n is not None else "")


def _ticks(low: float, high: float) -> tuple[float, ...]:
    """Round values that cover a range, at most so many."""
    width = (high - low) or abs(high) or 1.0
    power = 10.0 ** math.floor(math.log10(width / _MOST_TICKS))
    for step in (factor * power * scale for scale in (1, 10, 100) for factor in _STEPS):
        first, last = math.floor(low / step), math.ceil(high / step)
        if last - first < _MOST_TICKS:
            return tuple(round(step * at, 9) for at in range(first, max(last, first + 1) + 1))
    raise AssertionError("a step of the width itself needs two ticks")
