"""``tertial read``: what is understood of every phrase, what is taken over, and what is left."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from tertial.report import cells

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

    Ask = Callable[..., Result]


def test_each_phrase_stands_with_its_line_and_what_it_says(ask: Ask) -> None:
    """Below a phrase stand its aspects with their states and weights."""
    done = ask("read", "DOWO")
    assert (done.exit_code, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines[0] == "DOWO  Downy Woodpecker, entries/downy.md"
    at = lines.index("    8  bill: black")
    assert lines[at + 1].split() == ["colour:", "black", "0.9"]


def test_a_word_that_is_not_understood_is_named(ask: Ask) -> None:
    """The words beside it count all the same."""
    lines = [line.strip() for line in ask("read", "DOWO").stdout.splitlines()]
    at = lines.index("10  flanks: white, blotchlike")
    assert lines[at + 1] == "colour: white 0.9"
    assert lines[at + 2].startswith("not understood: blotchlike")


def test_what_a_plumage_takes_over_is_told_with_its_source(ask: Ask) -> None:
    """A male has the bill of all birds; its own nape is not among what it takes over."""
    text = ask("read", "DOWO").stdout
    male = text[text.index("\nmale\n") : text.index("\nfemale\n")]
    assert "from all: bill (colour)" in " ".join(male.split())
    assert "nape (" not in male


def test_without_a_bird_every_account_is_read(ask: Ask) -> None:
    """The accounts come in list order."""
    heads = [line[:4] for line in ask("read").stdout.splitlines() if line.endswith(".md")]
    assert heads == ["DOWO", "HAWO"]


def test_programs_get_statements_and_leftovers(ask: Ask) -> None:
    """What is understood, taken over and not understood stands in fields of its own."""
    done = ask("read", "DOWO", "--json")
    assert (done.exit_code, done.stderr) == (0, "")
    (account,) = json.loads(done.stdout)["accounts"]
    assert account["code"] == "DOWO"
    first = account["plumages"][0]
    flanks = next(phrase for phrase in first["phrases"] if phrase["part"] == "flanks")
    assert (first["plumage"], flanks["file"], flanks["line"]) == ("all", "entries/downy.md", 10)
    assert [left["words"] for left in flanks["not understood"]] == ["blotchlike"]
    (colour,) = [each for each in flanks["statements"] if not each["implied"]]
    assert colour["states"] == [{"terms": [{"word": "white", "shades": []}], "weight": 0.9, "denied": False}]
    male = next(each for each in account["plumages"] if each["plumage"] == "male")
    assert {"part": "bill", "from": "all", "respects": ["colour"]} in male["taken over"]


@pytest.mark.parametrize("columns", [40, 60, 120])
def test_lines_fit_the_terminal(ask: Ask, columns: int) -> None:
    """However narrow it is, words are broken only where none would fit."""
    assert max(map(cells, ask("read", columns=columns).stdout.splitlines())) <= columns


def test_a_bird_without_account_is_wrong_use(ask: Ask) -> None:
    """All that have none are named at once."""
    done = ask("read", "XXXX", "DOWO", "YYYY")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "'XXXX' has no account" in done.stderr
    assert "'YYYY' has no account" in done.stderr
