"""Where the front matter ends and the author's text begins."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tertial.text.front import split_front
from tertial.text.source import SourceText


def split(text: str) -> tuple[str, str, list[tuple[str, str]]]:
    """Front matter, body, and each problem as its word and the text it stands at."""
    source = SourceText("entry.md", text)
    parts, problems = split_front(source)
    said = [(problem.word, source.slice(problem.span)) for problem in problems]
    return source.slice(parts.front), source.slice(parts.body), said


@pytest.mark.parametrize(
    ("text", "front", "body"),
    [
        ("---\nspecies: Sora\n---\nBody.\n", "species: Sora\n", "Body.\n"),
        ("---\r\nspecies: Sora\r\n---\r\nBody.\r\n", "species: Sora\r\n", "Body.\r\n"),
        ("---\rspecies: Sora\r---\rBody.\r", "species: Sora\r", "Body.\r"),
        ("--- \t\nspecies: Sora\n---  \nBody.\n", "species: Sora\n", "Body.\n"),
        ("---\n---\nBody.\n", "", "Body.\n"),
        ("---\nspecies: Sora\n---", "species: Sora\n", ""),
        ("---\nspecies: Sora\n---\n", "species: Sora\n", ""),
        ("---\n\nspecies: Sora\n\n---\n\nBody.\n", "\nspecies: Sora\n\n", "\nBody.\n"),
    ],
)
def test_two_fences_part_the_front_matter_from_the_text(text: str, front: str, body: str) -> None:
    """Three hyphens alone on a line, blanks after them forgiven, with every kind of line end."""
    assert split(text) == (front, body, [])


def test_a_rule_in_the_text_is_left_alone() -> None:
    """Only the first line of three hyphens after the opening one closes the front matter."""
    assert split("---\na: b\n---\nOne.\n\n---\n\nTwo.\n")[1] == "One.\n\n---\n\nTwo.\n"


@pytest.mark.parametrize("line", ["----", "--- #", " ---", "a---", "-- -", "a: ---"])
def test_three_hyphens_in_company_are_no_fence(line: str) -> None:
    """Indented, longer or followed by words, hyphens do not close the front matter."""
    assert split(f"---\na: b\n{line}\n---\nBody.")[:2] == (f"a: b\n{line}\n", "Body.")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_without_a_closing_fence_the_first_blank_line_ends_the_keys(end: str) -> None:
    """The keys are still read, the rest is still the text, and the opening fence is pointed at."""
    text = end.join(["---", "species: Sora", "code: SORA", "", "Body.", ""])
    front, body, said = split(text)
    assert front == f"species: Sora{end}code: SORA"
    assert body == f"{end}{end}Body.{end}"
    assert said == [("open-front-matter", "---")]


def test_without_a_closing_fence_and_blank_line_all_is_front_matter() -> None:
    """Nothing that was written is lost from sight."""
    assert split("---\nspecies: Sora\ncode: SORA") == (
        "species: Sora\ncode: SORA",
        "",
        [("open-front-matter", "---")],
    )


@pytest.mark.parametrize("text", ["", "\n", " \n\t\n"])
def test_an_empty_file_is_called_empty(text: str) -> None:
    """Blanks alone are nothing."""
    source = SourceText("entry.md", text)
    parts, problems = split_front(source)
    assert [problem.word for problem in problems] == ["no-front-matter"]
    assert "the file is empty" in problems[0].message
    assert (source.slice(parts.front), source.slice(parts.body)) == ("", text)


def test_keys_without_an_opening_fence_are_recognised() -> None:
    """The first line is pointed at, and the mend says what to put above it."""
    source = SourceText("entry.md", "species: Sora\ncode: SORA\n---\nBody.\n")
    _, (problem,) = split_front(source)
    assert source.slice(problem.span) == "species: Sora"
    assert "no opening fence" in problem.message
    assert problem.mend == "write --- on a line of its own above this one"


def test_a_text_without_front_matter_shows_how_it_begins() -> None:
    """Forty characters of the first line are enough to find it."""
    source = SourceText("entry.md", "# " + "Sora " * 20 + "\n\nBody.")
    parts, (problem,) = split_front(source)
    assert problem.word == "no-front-matter"
    assert repr(source.line(1)[:40]) in problem.message
    assert source.slice(parts.body) == source.text


@given(st.text(), st.sampled_from(["\n", "\r\n", "\r"]))
def test_the_text_is_never_touched(body: str, end: str) -> None:
    """Whatever follows the closing fence is the body, to the last character."""
    assume(not (end == "\r" and body.startswith("\n")))
    assert split(f"---{end}a: b{end}---{end}{body}") == (f"a: b{end}", body, [])


@given(st.text(st.sampled_from("-a:# \t\n\r")))
def test_the_two_parts_never_overlap(text: str) -> None:
    """Front matter comes before the text, both inside the file, whatever stands there."""
    parts, problems = split_front(SourceText("entry.md", text))
    assert 0 <= parts.front.start <= parts.front.end <= parts.body.start <= parts.body.end == len(text)
    assert all(0 <= problem.span.start <= problem.span.end <= len(text) for problem in problems)
