"""What proof adds to the pages of a guide: its problems beside them, the to-do page, files as text."""

from __future__ import annotations

from itertools import groupby, pairwise
from typing import TYPE_CHECKING, Final, NamedTuple
from urllib.parse import quote

from tertial.pages.site import Link
from tertial.report import counted
from tertial.text.problem import Severity

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tertial.text.problem import Problem
    from tertial.text.source import SourceText

FOLDER: Final = "proof"
"""Folder of proof's own pages; the guide has none of that name."""

TO_DO: Final = f"{FOLDER}/to-do.html"
"""Address of the page with all problems."""

PICTURES: Final = f"{FOLDER}/pictures.json"
"""Address of what leads from published pictures back to the author's files."""

# Signs that no page may hold are shown by the pictures that Unicode has of them.
_SIGNS: Final = {number: 0x2400 + number for number in range(32) if chr(number) not in "\t\n\r"} | {0x7F: 0x2421}

_ROUND_A_FAULT: Final = 3
"""Lines shown before and after a fault in a template."""


class ProblemView(NamedTuple):
    """A problem as pages tell it."""

    severity: str
    """Its weight in a word."""

    place: Link
    """File, line and column; the way to the line in the file as text."""

    message: str
    mend: str

    word: str
    """The word that ``tertial why`` explains."""


class PanelView(NamedTuple):
    """What stands above a page."""

    files: tuple[Link, ...]
    """The files that the page is made of, with the way to each as text."""

    counts: str
    """How many problems of each weight they have."""

    grave: tuple[ProblemView, ...]
    """Errors and warnings."""

    light: tuple[ProblemView, ...]
    """Gaps and remarks."""

    light_counts: str

    pending: bool
    """The checks are not done yet; only what was found while reading is there."""

    developing: bool
    """Pictures are still to come."""


class ToDoView(NamedTuple):
    """All problems of the guide."""

    counts: str
    files: tuple[tuple[Link, str, tuple[ProblemView, ...]], ...]
    """Each file with its counts and problems; files with the gravest come first."""
    unread: tuple[Link, ...]
    """Files of which no page could be made."""
    pending: bool


class Line(NamedTuple):
    """A line of a file."""

    number: int
    pieces: tuple[tuple[str, bool], ...]
    """Its text, parted by whether a problem marks it."""
    problems: tuple[ProblemView, ...]
    """What is said of it."""


class TextView(NamedTuple):
    """A file as its author wrote it."""

    path: str
    counts: str
    lines: tuple[Line, ...]
    page: Link | None
    """The page that is made of it; None for a file of which none could be made."""
    is_entry: bool
    pending: bool


class FaultView(NamedTuple):
    """A page that could not be made."""

    problem: ProblemView
    lines: tuple[Line, ...]
    """The place in the template."""


def text_address(path: str) -> str:
    """Address of a file as text, as it stands in a link."""
    return f"{FOLDER}/text/{quote(path, errors='surrogateescape')}.html"


def text_key(path: str) -> str:
    """The same address as the server knows it, with nothing escaped."""
    return f"{FOLDER}/text/{path}.html"


def panel(files: Iterable[str], problems: Iterable[Problem], *, pending: bool, developing: bool) -> PanelView:
    """Gather what stands above a page made of these files."""
    found = sorted(problems, key=_graver_first)
    light = [problem for problem in found if problem.severity >= Severity.GAP]
    return PanelView(
        tuple(Link(_showable(path), text_address(path)) for path in files),
        counted(found),
        tuple(_views(problem for problem in found if problem.severity < Severity.GAP)),
        tuple(_views(light)),
        counted(light),
        pending,
        developing,
    )


def to_do(problems: Iterable[Problem], unread: Iterable[str], *, pending: bool) -> ToDoView:
    """Gather all problems by file, the graver first."""
    found = tuple(problems)
    by_file = groupby(sorted(found, key=lambda problem: problem.sort_key()), key=lambda problem: problem.source.path)
    files = [(path, sorted(here, key=_graver_first)) for path, here in by_file]
    files.sort(key=lambda file: (file[1][0].severity, file[0]))
    return ToDoView(
        counted(found),
        tuple((Link(_showable(path), text_address(path)), counted(here), tuple(_views(here))) for path, here in files),
        tuple(Link(_showable(path), text_address(path)) for path in unread),
        pending,
    )


def text(source: SourceText, problems: Iterable[Problem], page: Link | None, *, entry: bool, pending: bool) -> TextView:
    """Gather a file as text with its problems marked in place."""
    found = tuple(problems)
    return TextView(_showable(source.path), counted(found), tuple(_lines(source, found)), page, entry, pending)


def fault(problem: Problem) -> FaultView:
    """Gather what is to say about a page that could not be made."""
    at = problem.source.position(problem.span.start).line
    near = [line for line in _lines(problem.source, (problem,)) if abs(line.number - at) <= _ROUND_A_FAULT]
    return FaultView(_view(problem), tuple(near) if problem.source.text else ())


def _graver_first(problem: Problem) -> tuple[int, str, int]:
    return (problem.severity, problem.source.path, problem.span.start)


def _views(problems: Iterable[Problem]) -> Iterator[ProblemView]:
    return (_view(problem) for problem in problems)


def _view(problem: Problem) -> ProblemView:
    place = problem.source.position(problem.span.start)
    return ProblemView(
        problem.severity.label,
        Link(
            f"{_showable(problem.source.path)}:{place.line}:{place.column}",
            f"{text_address(problem.source.path)}#line-{place.line}",
        ),
        _showable(problem.message),
        _showable(problem.mend),
        problem.word,
    )


def _lines(source: SourceText, problems: tuple[Problem, ...]) -> Iterator[Line]:
    by_line: dict[int, list[Problem]] = {}
    for problem in sorted(problems, key=_graver_first):
        by_line.setdefault(source.position(problem.span.start).line, []).append(problem)
    last = source.position(len(source.text)).line
    if last > 1 and not source.line(last) and last not in by_line:
        # What follows the last line end is no line to the reader.
        last -= 1
    for number in range(1, last + 1):
        here = by_line.get(number, [])
        yield Line(number, tuple(_pieces(source, number, here)), tuple(_views(here)))


def _pieces(source: SourceText, number: int, problems: list[Problem]) -> Iterator[tuple[str, bool]]:
    """Part a line where marks begin and end; a mark that runs on is shown on its first line."""
    whole = source.line_span(number)
    marked = [
        (problem.span.start, min(max(problem.span.end, problem.span.start + 1), whole.end)) for problem in problems
    ]
    edges = sorted({whole.start, whole.end, *(edge for span in marked for edge in span)})
    for start, end in pairwise(edges):
        if start < end:
            yield _showable(source.text[start:end]), any(low <= start < high for low, high in marked)


def _showable(text: str) -> str:
    return text.translate(_SIGNS).encode("utf-8", errors="replace").decode("utf-8")
