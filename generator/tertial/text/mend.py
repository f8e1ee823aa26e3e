"""From a parser's fault to a problem with its repair, and to a draft that can be read further.

Runs only on front matter that has a syntax fault. What is tried is listed in ``recover``; here the
attempts are read, and the one that gets furthest is taken.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import yaml

from tertial.text.events import Events
from tertial.text.faults import explain, faulty_offset
from tertial.text.problem import Problem, Severity
from tertial.text.recover import Draft, blank, indentations, is_due_above, repairs
from tertial.text.source import Span

if TYPE_CHECKING:
    from tertial.text.source import SourceText


class Stop(NamedTuple):
    """Where the reading of a draft stops at a fault."""

    message: str
    """What is wrong there, and what was expected."""

    line: int
    """The line at fault, from 0."""

    suspects: tuple[int, ...]
    """The lines that may need mending, the likeliest first."""


def mended(source: SourceText, base: int, draft: Draft, stop: Stop) -> tuple[Problem, Draft]:
    """Name a syntax fault, and give a draft whose next reading gets past it.

    Of the repairs of a line the one wins with which the reading gets furthest.
    """
    number, message, shown = stop.line, stop.message, ""
    further = draft.with_repair(number, blank(draft.line(number)))
    furthest = number
    groups = [[(suspect, repair) for repair in repairs(draft.line(suspect), draft.tops)] for suspect in stop.suspects]
    for group in (*groups, indentations(draft, number)):
        for suspect, repair in group:
            tried = draft.with_repair(suspect, repair)
            after = first_stop(tried)
            reached = after.line if after else len(draft.lines)
            if reached > furthest:
                furthest, number, further, shown = reached, suspect, tried, repair.text
                message = repair.fault or stop.message
        if shown:
            break
    start, own = draft.own_line(number)
    indent = len(own) - len(own.lstrip())
    span = Span(base + start + indent, base + start + max(len(own.rstrip()), indent))
    if not shown:
        mend = "write the line as key: value, or put the value in quotes"
    elif shown.strip() == own.strip():
        level = len(shown) - len(shown.lstrip())
        tabs = own[:indent] if level and not own[:indent].strip("\t") else ""
        by_tab = f"replace the tab{'s' * (len(tabs) > 1)} by {level} blanks" if tabs else ""
        mend = by_tab or f"begin the line in column {level + 1}: {shown.strip()}"
    else:
        mend = f"write: {shown.strip()}"
    return Problem("yaml-syntax", Severity.ERROR, source, span, message, mend), further


def first_stop(draft: Draft) -> Stop | None:
    """Read a draft to its first fault; None when there is none."""
    events = Events(draft.text)
    try:
        while events.ahead is not None:
            events.take()
    except yaml.MarkedYAMLError as fault:
        return stop_at(draft, fault, events.ahead)
    return None


def stop_at(draft: Draft, fault: yaml.MarkedYAMLError, last: Any) -> Stop:
    """Tell where and why a parser stopped; ``last`` is the last event that it gave."""
    number, words = _faulty_line(draft, fault), fault.problem or ""
    above = draft.neighbour(number, -1) or 0
    if "mapping values" in words and is_due_above(draft, number):
        number, words = above, "could not find expected ':'"
    elif "<document start>" in words and draft.line(above).startswith("..."):
        number, words = above, "..."
    what, expected = explain(fault.context or "", words)
    suspects: tuple[int, ...] = (number,)
    # A quote left open runs on to the next quote, and only the words behind that one fail.
    if isinstance(last, yaml.ScalarEvent) and last.style in ("'", '"'):
        opened, closed = (draft.line_of(mark.index) for mark in (last.start_mark, last.end_mark) if mark)
        if opened < closed == number:
            number = opened if draft.is_formed(opened + 1) else number
            suspects = tuple(dict.fromkeys((opened, number)))
    return Stop(f"{what}; {expected}", number, suspects)


def _faulty_line(draft: Draft, fault: yaml.MarkedYAMLError) -> int:
    context_index = fault.context_mark.index if fault.context_mark else None
    problem_index = fault.problem_mark.index if fault.problem_mark else None
    number = draft.line_of(faulty_offset(fault.context or "", context_index, problem_index))
    if not draft.line(number).strip():
        number = draft.neighbour(number, -1) or 0
    return number
