"""Cases: small guides with faults in them, beside the report that their author should get.

``tests/cases/WORD/CASE/`` holds the files of a guide (``guide.yaml`` may be missing) and
``expected.txt``, the full form of its report. Cases are found by listing the disk. To write the
expected files anew, and then to read every one that changed::

    REWRITE_CASES=1 pytest tests/checks/test_cases.py
"""

from __future__ import annotations

import os
import re
from difflib import unified_diff
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tertial.checks.words import all_words
from tertial.report import brief, full

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from tertial.report import Report
    from tertial.text.problem import Also, Problem

    Make = Callable[[Mapping[str, bytes]], Path]
    Check = Callable[[Path, str], Report]
    Place = tuple[str, int, int]

EXPECTED = "expected.txt"
TEXTS = (".md", ".yaml", ".html")
HEADLINE = re.compile(r"[^:]+:\d+:\d+: (error|warning|gap|remark): \S.*\S \[[a-z-]+\]")
BOM = b"\xef\xbb\xbf"
CASES = Path(__file__).resolve().parent.parent / "cases"

each_case = pytest.mark.parametrize(
    "case",
    sorted(path for path in CASES.glob("*/*") if path.is_dir()),
    ids=lambda case: f"{case.parent.name}/{case.name}",
)


def files_of(case: Path) -> dict[str, bytes]:
    found = sorted(path for path in case.rglob("*") if path.is_file())
    return {path.relative_to(case).as_posix(): path.read_bytes() for path in found if path.name != EXPECTED}


def place(at: Problem | Also) -> Place:
    start = at.source.position(at.span.start)
    return (at.source.path, start.line, start.column)


def places(report: Report) -> list[tuple[str, Place, list[Place]]]:
    return [(each.word, place(each), [place(also) for also in each.also]) for each in report.problems]


def changed(files: Mapping[str, bytes], change: Callable[[bytes], bytes]) -> dict[str, bytes]:
    return {path: change(data) if path.endswith(TEXTS) else data for path, data in files.items()}


@each_case
def test_the_report_is_the_expected_one(case: Path, make_guide: Make, report_on: Check) -> None:
    """The author of these files is told exactly this."""
    found = full(report_on(make_guide(files_of(case)), case.parent.name))
    expected = case / EXPECTED
    if os.environ.get("REWRITE_CASES"):
        expected.write_text(found, encoding="utf-8", newline="")
    wanted = expected.read_bytes().decode("utf-8")
    diff = unified_diff(wanted.splitlines(keepends=True), found.splitlines(keepends=True), "expected", "found")
    assert found == wanted, "\n" + "".join(diff)
    assert f"[{case.parent.name}]" in wanted


@each_case
@pytest.mark.parametrize("ending", [b"\r\n", b"\r"], ids=["crlf", "cr"])
def test_line_ends_move_no_place(case: Path, ending: bytes, make_guide: Make, report_on: Check) -> None:
    """The same files from another system give the same words at the same lines and columns."""
    files = files_of(case)
    before = places(report_on(make_guide(files), case.parent.name))
    other = changed(files, lambda data: data.replace(b"\n", ending))
    assert places(report_on(make_guide(other), case.parent.name)) == before


@each_case
def test_a_byte_order_mark_moves_no_place(case: Path, make_guide: Make, report_on: Check) -> None:
    """A mark that some editors put in front of a file is not counted as a character."""
    files = files_of(case)
    before = places(report_on(make_guide(files), case.parent.name))
    marked = changed(files, lambda data: BOM + data)
    assert places(report_on(make_guide(marked), case.parent.name)) == before


@each_case
def test_the_order_of_writing_does_not_matter(case: Path, make_guide: Make, report_on: Check) -> None:
    """The report follows the names of the files, not the order in which the disk lists them."""
    files = files_of(case)
    backwards = dict(reversed(files.items()))
    found = full(report_on(make_guide(backwards), case.parent.name))
    assert found == (case / EXPECTED).read_bytes().decode("utf-8")


@each_case
def test_every_place_has_text(case: Path, make_guide: Make, report_on: Check) -> None:
    """Each place covers something that can be seen, except in an empty file."""
    problems = report_on(make_guide(files_of(case)), case.parent.name).problems
    spots: list[Problem | Also] = [*problems, *(also for problem in problems for also in problem.also)]
    assert spots
    assert [
        spot for spot in spots if spot.source.text.strip() and not spot.source.slice(spot.span).strip(" \t\r\n")
    ] == []


@each_case
def test_every_problem_is_one_line_and_has_a_repair(case: Path, make_guide: Make, report_on: Check) -> None:
    """An editor can read each line of the brief form, and no author is left without advice."""
    report = report_on(make_guide(files_of(case)), case.parent.name)
    lines = brief(report).split("\n")[:-1]
    assert len(lines) == len(report.problems)
    assert [line for line in lines if HEADLINE.fullmatch(line) is None] == []
    assert [
        each.message for each in report.problems if not each.mend or "\n" in each.mend or each.message[-1] == "."
    ] == []


def test_every_word_has_a_case() -> None:
    """No word is without a folder of cases, and no folder is for a word that does not exist."""
    folders = {path.name for path in CASES.iterdir() if path.is_dir()}
    assert folders == {text.word for text in all_words()}
