"""Problems as plain values that can be kept or sent, and back again.

A problem points into the text of its file. Of that text only what a report shows comes along: the
places of the problem and the line that it begins on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

from tertial.text.problem import Also, Problem, Severity
from tertial.text.source import Position, SourceText, Span

Packed: TypeAlias = tuple[Any, ...]
"""A problem, made of texts, numbers and tuples alone."""

_Spot: TypeAlias = tuple[str, int, int, int, int, int, int, str]


@dataclass(frozen=True, slots=True, eq=False)
class Quotation(SourceText):
    """A file of which no more is known than two places and a line; its ``text`` is empty."""

    places: tuple[tuple[int, Position], ...] = ()
    """Offsets with their places."""

    shown: str = ""
    """The line on which the first of them stands."""

    def position(self, offset: int) -> Position:
        """Give one of the two places."""
        return dict(self.places)[offset]

    def line(self, number: int) -> str:
        """Give the line of the first place; '' for any other."""
        return self.shown if number == self.places[0][1].line else ""


def packed(problem: Problem) -> Packed:
    """Turn a problem into plain values."""
    also = tuple((_spot(each.source, each.span), each.label) for each in problem.also)
    spot = _spot(problem.source, problem.span)
    return (problem.word, int(problem.severity), spot, problem.message, problem.mend, also)


def unpacked(values: Packed) -> Problem:
    """Turn plain values back into the problem; its sources are quotations."""
    word, severity, spot, message, mend, others = values
    source, span = _quotation(spot)
    also = tuple(Also(*_quotation(each), label) for each, label in others)
    return Problem(word, _SEVERITIES[severity], source, span, message, mend, also)


_SEVERITIES = tuple(Severity)


def _spot(source: SourceText, span: Span) -> _Spot:
    start, end = source.position(span.start), source.position(span.end)
    line = source.line(start.line)
    return (source.path, span.start, span.end, start.line, start.column, end.line, end.column, line)


def _quotation(spot: _Spot) -> tuple[Quotation, Span]:
    path, start, end, line, column, end_line, end_column, shown = spot
    places = ((start, Position(line, column)), (end, Position(end_line, end_column)))
    return Quotation(path, "", places=places, shown=shown), Span(start, end)
