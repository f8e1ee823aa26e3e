"""The report: its order and counts, its closing sentence and exit code, and its three forms."""

from __future__ import annotations

import json
import re

import pytest

from tertial.report import Report, as_json, brief, full, in_form
from tertial.text.problem import Also, Problem, Severity
from tertial.text.source import SourceText, Span

ERROR, WARNING, GAP, REMARK = Severity
HEADLINE = re.compile(r"(?P<file>[^:\n]+):(?P<line>\d+):(?P<column>\d+): (?P<severity>\w+): .+ \[(?P<word>[a-z-]+)\]")

SOURCE = SourceText("entries/hairy.md", "---\nspecies: Hairy Woodpecker\ncode: Hawo\n---\n")


def problem(word: str, severity: Severity, marked: str = "Hawo", source: SourceText = SOURCE) -> Problem:
    start = source.text.index(marked)
    return Problem(word, severity, source, Span(start, start + len(marked)), f"{marked!r} is odd", "look again")


def report_with(*severities: Severity, entries: int = 7) -> Report:
    found = (problem(f"word-{'abcdef'[at]}", severity) for at, severity in enumerate(severities))
    return Report.of(found, entries)


@pytest.mark.parametrize(
    ("severities", "sentence", "code"),
    [
        ((), "7 entries read; nothing to mend.", 0),
        ((REMARK,), "7 entries read; 1 remark.", 0),
        ((REMARK, REMARK), "7 entries read; 2 remarks.", 0),
        ((GAP,), "7 entries read; 1 gap.", 0),
        ((GAP, GAP, REMARK), "7 entries read; 2 gaps, 1 remark.", 0),
        ((WARNING,), "7 entries read; 1 warning.", 1),
        ((WARNING, WARNING, GAP), "7 entries read; 2 warnings, 1 gap.", 1),
        ((ERROR,), "7 entries read; 1 error.", 1),
        ((REMARK, GAP, WARNING, ERROR), "7 entries read; 1 error, 1 warning, 1 gap, 1 remark.", 1),
        ((ERROR, ERROR, WARNING, WARNING), "7 entries read; 2 errors, 2 warnings.", 1),
    ],
)
def test_sentence_and_exit_code_follow_what_was_found(
    severities: tuple[Severity, ...], sentence: str, code: int
) -> None:
    """Gaps and remarks leave a guide clean, warnings and errors do not; the sentence counts each kind."""
    report = report_with(*severities)
    assert report.sentence() == sentence
    assert report.exit_code == code
    assert report.has_errors is (ERROR in severities)


@pytest.mark.parametrize(
    ("entries", "read"), [(0, "0 entries read"), (1, "1 entry read"), (2, "2 entries read"), (200, "200 entries read")]
)
def test_one_entry_is_not_called_entries(entries: int, read: str) -> None:
    """The number of entries governs its noun."""
    assert report_with(entries=entries).sentence() == f"{read}; nothing to mend."


@pytest.mark.parametrize("severity", list(Severity), ids=lambda severity: severity.label)
def test_each_kind_is_counted_by_itself(severity: Severity) -> None:
    """A problem counts under its own weight only."""
    report = report_with(severity, severity, severity)
    assert {each: report.count(each) for each in Severity} == {each: 3 * (each is severity) for each in Severity}


def test_problems_are_sorted_by_file_place_and_weight() -> None:
    """Whatever the order of the checks, the reader goes through each file once, from top to bottom."""
    other = SourceText("entries/downy.md", SOURCE.text)
    found = [
        problem("b-remark", REMARK),
        problem("a-name", WARNING, "Hairy"),
        problem("c-error", ERROR),
        problem("b-warning", WARNING),
        problem("a-warning", WARNING),
        problem("z-other", REMARK, "Hawo", other),
    ]
    wanted = ["z-other", "a-name", "c-error", "a-warning", "b-warning", "b-remark"]
    for order in (found, found[::-1]):
        assert [each.word for each in Report.of(order, 2).problems] == wanted


def test_the_same_thing_is_said_once_of_one_place() -> None:
    """Two checks that come upon the same fault do not make two lines of it."""
    assert len(Report.of([problem("a-word", GAP), problem("a-word", GAP)], 1).problems) == 1


def test_the_brief_form_is_one_line_a_problem() -> None:
    """Each line has file, line, column, severity, message and word, as editors expect."""
    report = report_with(ERROR, WARNING, GAP, REMARK)
    lines = brief(report).splitlines()
    found = [match for line in lines if (match := HEADLINE.fullmatch(line))]
    assert len(found) == len(lines) == 4
    assert [match["severity"] for match in found] == ["error", "warning", "gap", "remark"]
    assert {(match["file"], match["line"], match["column"]) for match in found} == {("entries/hairy.md", "3", "7")}
    assert [match["word"] for match in found] == ["word-a", "word-b", "word-c", "word-d"]


def test_the_full_form_begins_each_problem_with_its_brief_line() -> None:
    """Who knows one form knows the other; an empty line parts the problems."""
    report = report_with(ERROR, GAP)
    blocks = full(report).split("\n\n")
    assert [block.splitlines()[0] for block in blocks] == brief(report).splitlines()
    assert blocks[0].splitlines()[1:] == ["    code: Hawo", "          ~~~~", "    mend: look again"]


def test_nothing_found_is_nothing_written() -> None:
    """A clean guide has an empty report in both forms for people."""
    assert (brief(report_with()), full(report_with())) == ("", "")


def test_a_second_place_is_shown_below_the_first() -> None:
    """Where two places disagree, both lines are shown, the second with what stands there."""
    first = problem("a-word", WARNING)
    also = Also(SOURCE, Span(13, 18), "the name stands here")
    lines = full(Report.of([Problem(*_fields(first), also=(also,))], 1)).splitlines()
    assert lines[3:] == [
        "    entries/hairy.md:2:10: the name stands here",
        "    species: Hairy Woodpecker",
        "             ~~~~~",
        "    mend: look again",
    ]


def _fields(each: Problem) -> tuple[str, Severity, SourceText, Span, str, str]:
    return (each.word, each.severity, each.source, each.span, each.message, each.mend)


@pytest.mark.parametrize(
    ("text", "marked", "shown"),
    [
        ("where: pond #2", "#2", ["where: pond #2", "            ~~"]),
        ("    where: pond #2", "pond", ["where: pond #2", "       ~~~~"]),
        ("where: 河原 #2", "#2", ["where: 河原 #2", "            ~~"]),
        ("where: 河原 #2", "河原", ["where: 河原 #2", "       ~~~~"]),
        ("where: ｗｅｉｒ #2", "#2", ["where: ｗｅｉｒ #2", "                ~~"]),
        ("where: e\u0301tang #2", "#2", ["where: e\u0301tang #2", "             ~~"]),
        ("where: e\u0301tang #2", "e\u0301tang", ["where: e\u0301tang #2", "       ~~~~~"]),
        ("where: étang #2", "#2", ["where: étang #2", "             ~~"]),
        ("\twhere:\tpond #2", "pond", ["where: pond #2", "       ~~~~"]),
        ("where: pond\t#2", "pond\t#2", ["where: pond #2", "       ~~~~~~~"]),
        ("where: pond #2   ", "#2   ", ["where: pond #2   ", "            ~~"]),
        ("where: pond #2\nwhen: May", "#2\nwhen", ["where: pond #2", "            ~~"]),
        ("where: pond #2\r\nwhen: May", "#2\r\nwhen", ["where: pond #2", "            ~~"]),
        ("where: pond\rwhen: May", "May", ["when: May", "      ~~~"]),
    ],
    ids=[
        "plain",
        "indented",
        "after wide letters",
        "under wide letters",
        "after full-width letters",
        "after a combining accent",
        "under a combining accent",
        "after an accent",
        "after tabs",
        "across a tab",
        "blanks at the end",
        "over two lines",
        "over two lines of another system",
        "after a lone carriage return",
    ],
)
def test_the_mark_stands_under_the_thing(text: str, marked: str, shown: list[str]) -> None:
    """Wide letters, combining marks and tabs keep the mark in place as a terminal shows them."""
    report = Report.of([problem("a-word", WARNING, marked, SourceText("entries/pond.md", text))], 1)
    assert full(report).splitlines()[1:-1] == [f"    {line}" for line in shown]


def test_an_empty_file_shows_no_line() -> None:
    """Where there is nothing to show, only the message and the repair are given."""
    empty = Problem("a-word", ERROR, SourceText("entries/empty.md", ""), Span(0, 0), "it is empty", "write it")
    assert full(Report.of([empty], 1)).splitlines() == [
        "entries/empty.md:1:1: error: it is empty [a-word]",
        "    mend: write it",
    ]


def test_a_problem_without_a_repair_has_no_such_line() -> None:
    """An empty repair is not announced."""
    bare = Problem("a-word", REMARK, SOURCE, Span(0, 3), "three hyphens")
    assert "mend:" not in full(Report.of([bare], 1))


def test_the_form_for_programs_holds_every_field() -> None:
    """The JSON text has each problem with both ends of its place, all counts and the exit code."""
    first = problem("a-word", WARNING)
    also = Also(SOURCE, Span(13, 18), "the name stands here")
    text = as_json(Report.of([Problem(*_fields(first), also=(also,)), problem("b-word", GAP, "Hairy")], 2))
    found = json.loads(text)
    place = {"file": "entries/hairy.md", "line": 3, "column": 7, "end line": 3, "end column": 11}
    other = {"file": "entries/hairy.md", "line": 2, "column": 10, "end line": 2, "end column": 15}
    assert text.endswith("}\n")
    assert found["problems"][1] == {
        "word": "a-word",
        "severity": "warning",
        **place,
        "message": "'Hawo' is odd",
        "mend": "look again",
        "also": [{**other, "label": "the name stands here"}],
    }
    assert found["problems"][0]["also"] == []
    assert found["entries"] == 2
    assert found["counts"] == {"error": 0, "warning": 1, "gap": 1, "remark": 0}
    assert found["exit"] == 1


def test_the_form_for_programs_keeps_letters_as_they_are() -> None:
    """Accents stay readable in the JSON text instead of becoming escapes."""
    source = SourceText("entries/chickadee.md", "species: Mésange à tête noire\n")
    assert "Mésange à tête noire" in as_json(Report.of([problem("a-word", REMARK, "Mésange à tête noire", source)], 1))


@pytest.mark.parametrize("gaps", [3, 8, 40])
def test_errors_are_said_again_at_the_end_of_a_long_report(gaps: int) -> None:
    """Whoever looks at the last lines sees what keeps the guide from being made; a short report says it once."""
    found = [problem(f"gap-{number}", GAP) for number in range(gaps)]
    out, _ = in_form(Report.of([problem("word-a", ERROR), *found], 1), "full")
    *_, headline, sentence = out.splitlines()
    assert sentence == f"1 entry read; 1 error, {gaps} gaps."
    assert out.count("[word-a]") == (1 if gaps == 3 else 2)
    assert ("[word-a]" in headline) is (gaps > 3)
    assert in_form(Report.of(found, 1), "full")[0].count("To mend") == 0
