"""What the checks found, put into an order, counted, and written in one of three forms.

| found                 | exit code |
|-----------------------|-----------|
| nothing, gaps, remarks| 0         |
| warnings or errors    | 1         |
"""

from __future__ import annotations

import json
import unicodedata
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from tertial.text.problem import Severity

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from tertial.text.problem import Problem
    from tertial.text.source import SourceText, Span

_PLURALS = {
    Severity.ERROR: ("error", "errors"),
    Severity.WARNING: ("warning", "warnings"),
    Severity.GAP: ("gap", "gaps"),
    Severity.REMARK: ("remark", "remarks"),
}


_SCREEN: Final = 8
"""So many problems fit a screen of 40 lines; our own choice."""

# Control characters of an entry must not reach the terminal, which would obey them.
_SHOWN = dict.fromkeys((*range(32), *range(127, 160)), "�") | {9: " "}


class Report(NamedTuple):
    """All that was found in one run."""

    problems: tuple[Problem, ...]
    """Sorted by file, place and weight; the same thing said twice of one place stands once."""

    entries: int
    """Number of entry files that were read."""

    @classmethod
    def of(cls, problems: Iterable[Problem], entries: int) -> Report:
        """Sort problems and drop repetitions."""
        unique = {problem.sort_key(): problem for problem in problems}
        return cls(tuple(unique[key] for key in sorted(unique)), entries)

    def count(self, severity: Severity) -> int:
        """Number of problems of one weight."""
        return sum(problem.severity is severity for problem in self.problems)

    @property
    def has_errors(self) -> bool:
        """Whether the guide cannot be built."""
        return self.count(Severity.ERROR) > 0

    @property
    def exit_code(self) -> int:
        """0 when nothing needs mending, else 1."""
        return int(self.has_errors or self.count(Severity.WARNING) > 0)

    def sentence(self) -> str:
        """The closing sentence."""
        read = f"{self.entries} {'entry' if self.entries == 1 else 'entries'} read"
        return f"{read}; {counted(self.problems) or 'nothing to mend'}."


def counted(problems: Collection[Problem]) -> str:
    """Say how many problems of each weight there are; '' for none."""
    numbers = ((severity, sum(problem.severity is severity for problem in problems)) for severity in Severity)
    return ", ".join(f"{number} {_PLURALS[severity][number != 1]}" for severity, number in numbers if number)


def in_form(report: Report, form: str) -> tuple[str, str]:
    """Write a report in one of its forms: for standard output, and for standard error.

    :param form: ``full``, ``brief`` or ``json``.
    """
    if form == "json":
        return as_json(report), ""
    if form == "brief":
        return brief(report), f"{report.sentence()}\n"
    gap = "\n" if report.problems else ""
    return f"{full(report)}{gap}{recalled(report)}{report.sentence()}\n", ""


def failure(fault: OSError) -> str:
    """Say in one line that the disk or the system has failed."""
    what = f"{fault.filename}: {fault.strerror}" if fault.filename else str(fault)
    return f"tertial could not go on: {what}\n"


def brief(report: Report) -> str:
    """One line a problem, as editors and scripts read it."""
    return "".join(f"{_headline(problem)}\n" for problem in report.problems)


def full(report: Report) -> str:
    """Every problem with its line of source, the place marked, and the repair."""
    return "\n".join("".join(f"{line}\n" for line in _full_lines(problem)) for problem in report.problems)


def recalled(report: Report) -> str:
    """Say the errors once more where so much else was said that they have left the screen; '' otherwise."""
    errors = [problem for problem in report.problems if problem.severity is Severity.ERROR]
    if not errors or len(report.problems) <= _SCREEN:
        return ""
    return "".join(["To mend before a guide can be made:\n", *(f"    {_headline(each)}\n" for each in errors)])


def as_json(report: Report) -> str:
    """The whole report as a JSON text, for programs."""
    value = {
        "problems": [_json_problem(problem) for problem in report.problems],
        "entries": report.entries,
        "counts": {severity.label: report.count(severity) for severity in Severity},
        "exit": report.exit_code,
    }
    return json.dumps(value, ensure_ascii=False, indent=2) + "\n"


def _headline(problem: Problem) -> str:
    place = problem.source.position(problem.span.start)
    where = f"{problem.source.path}:{place.line}:{place.column}"
    return f"{where}: {problem.severity.label}: {problem.message} [{problem.word}]"


def _full_lines(problem: Problem) -> Iterator[str]:
    yield _headline(problem)
    yield from _marked(problem.source, problem.span)
    for also in problem.also:
        place = also.source.position(also.span.start)
        yield f"    {also.source.path}:{place.line}:{place.column}: {also.label}"
        yield from _marked(also.source, also.span)
    if problem.mend:
        yield f"    mend: {problem.mend}"


def _marked(source: SourceText, span: Span) -> Iterator[str]:
    place = source.position(span.start)
    line = source.line(place.line)
    if not line.strip():
        return
    marked = line[place.column - 1 :][: span.end - span.start].rstrip()
    before = line[: place.column - 1]
    indent = len(before) - len(before.lstrip())
    yield "    " + shown(line[indent:])
    yield "    " + " " * cells(before[indent:]) + "~" * max(1, cells(marked))


def shown(text: str) -> str:
    """Take out of an author's text what a terminal would obey instead of showing it."""
    return text.translate(_SHOWN)


def cells(text: str) -> int:
    """Width of a text in a terminal: wide characters count two, combining ones none."""
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(char) else 2 if unicodedata.east_asian_width(char) in "WF" else 1 for char in text
    )


def _json_problem(problem: Problem) -> dict[str, Any]:
    return {
        "word": problem.word,
        "severity": problem.severity.label,
        **json_place(problem.source, problem.span),
        "message": problem.message,
        "mend": problem.mend,
        "also": [{**json_place(also.source, also.span), "label": also.label} for also in problem.also],
    }


def json_place(source: SourceText, span: Span) -> dict[str, Any]:
    """Say in JSON where something stands: file, lines and columns from 1."""
    start, end = source.position(span.start), source.position(span.end)
    return {
        "file": source.path,
        "line": start.line,
        "column": start.column,
        "end line": end.line,
        "end column": end.column,
    }
