"""``tertial compare``: two birds side by side, for a person and for a program."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

from tertial.cli import main
from tertial.report import cells

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from click.testing import Result

    Ask = Callable[..., Result]
    Make = Callable[[Mapping[str, str | bytes]], Path]

_MASSES = {"Redhead": "500-900 g", "Gadwall": "0.8-1.3 kg"}


def blocks(text: str) -> dict[str, list[str]]:
    """Part an answer at its empty lines, each block under its first line."""
    found = [block.splitlines() for block in text.split("\n\n")]
    return {lines[0]: [line.strip() for line in lines[1:]] for lines in found}


def row_of(answer: Any, plumage: str, part: str) -> Any:
    table = next(each for each in answer["plumages"] if each["first"] == plumage)
    return next(each for each in table["parts"] if each["part"] == part)


@pytest.mark.parametrize(
    "birds",
    [
        ("DOWO", "HAWO"),
        ("dowo", "hairy woodpecker"),
        ("Downy Woodpecker", "Leuconotopicus villosus"),
        ("Pic mineur", "Pic chevelu"),
    ],
)
def test_codes_and_names_in_any_spelling_lead_to_the_accounts(ask: Ask, birds: tuple[str, str]) -> None:
    """The answer begins with both birds, whichever way they were named."""
    done = ask("compare", *birds)
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout.splitlines()[:2] == ["DOWO  Downy Woodpecker", "HAWO  Hairy Woodpecker"]


def test_the_sentences_stand_on_top_and_what_is_missing_at_the_end(ask: Ask) -> None:
    """Between them stands a table for each plumage, then the measures."""
    done = blocks(ask("compare", "DOWO", "HAWO").stdout)
    heads = list(done)
    assert "tell" in heads[1]
    assert heads[2:] == ["Males", "Females", "Juveniles", "Measures", "What to look at next"]
    assert done["What to look at next"][0].startswith("HAWO, flanks")


def test_marks_stand_by_their_worth_with_verdict_and_both_phrases(ask: Ask) -> None:
    """What separates comes first, in a row each; what is alike or one-sided is only named."""
    lines = blocks(ask("compare", "DOWO", "HAWO").stdout)["Males"]
    assert lines[0].split() == ["DOWO", "HAWO"]
    assert lines[1].split() == ["strong", "bill", "black", "(from", "all)", "yellow", "(from", "all)"]
    assert lines[2].split() == ["strong", "nape", "red", "black"]
    assert lines[3:6] == ["shared: breast", "not recorded of DOWO: rump", "not recorded of HAWO: flanks"]
    assert " ".join(lines[6:]).startswith("By the best mark alone at most 90 of 100 birds")


def test_a_juvenile_takes_nothing_over_from_adults(ask: Ask) -> None:
    """Of the young bird without an account only what holds for all is compared."""
    lines = blocks(ask("compare", "DOWO", "HAWO").stdout)["Juveniles"]
    assert "not recorded of HAWO: flanks, crown" in lines
    assert not any("nape" in line for line in lines)


def test_one_plumage_can_be_asked_for(ask: Ask) -> None:
    """With a plumage, in any of its wordings, only that one is compared."""
    done = blocks(ask("compare", "DOWO", "HAWO", "--plumage", "adult female").stdout)
    assert [head for head in done if head.endswith("ales")] == ["Females"]
    assert "shared: breast, nape" in done["Females"]


@pytest.mark.parametrize("columns", [20, 40, 60, 80, 200])
def test_no_line_is_wider_than_the_terminal(ask: Ask, columns: int) -> None:
    """Lines are broken at words; below 40 columns nothing is set narrower, above 120 nothing wider."""
    done = ask("compare", "DOWO", "HAWO", columns=columns)
    widest = max(cells(line) for line in done.stdout.splitlines())
    assert widest <= max(40, min(columns, 120))
    assert "strong" in done.stdout


def test_in_a_narrow_terminal_both_birds_stand_below_each_other(ask: Ask) -> None:
    """With no room for two phrases in a line, each stands behind the code of its bird."""
    lines = blocks(ask("compare", "DOWO", "HAWO", columns=50).stdout)["Males"]
    assert lines[:3] == ["strong: bill", "DOWO  black (from all)", "HAWO  yellow (from all)"]


def test_nothing_in_the_answer_is_told_by_colour(ask: Ask) -> None:
    """The answer holds no sign that a terminal would obey."""
    assert "\x1b" not in ask("compare", "DOWO", "HAWO").stdout


def test_a_size_shows_its_figures_and_what_they_rest_on(ask: Ask) -> None:
    """In the hand and in the field it is worth different things; the assumption stands beside."""
    lines = blocks(ask("compare", "DOWO", "HAWO").stdout)["Measures"]
    # 16 and 22 cm with SD 1 and 2: separation 0.957, means 1.375 to 1 (design, section 4).
    assert lines[0] == "length: in the field helpful, in the hand diagnostic (0.96)"
    text = " ".join(lines)
    for words in ("mean 16 cm, SD about 1", "mean 22 cm, SD about 2", "approximate", "overlap 0.04", "1.38 to 1"):
        assert words in text


def test_large_figures_have_no_powers_of_ten(make_guide: Make) -> None:
    """A duck weighs a thousand grams, and reads so."""
    account = "---\nspecies: %s\nsize:\n  mass: %s\n  source: from memory\nmarks:\n  all: |\n    bill: grey\n---\n"
    pages = {f"entries/{name}.md": account % (name, mass) for name, mass in _MASSES.items()}
    done = CliRunner().invoke(main, ["compare", *_MASSES, "--guide", str(make_guide(pages))], env={"COLUMNS": "120"})
    assert "mean 700 g, SD about 100;" in done.stdout
    assert "mean 1050 g, SD about 120;" in done.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("DOWO", "HAWX"), "near it are HAWO Hairy Woodpecker"),
        (("DOWO", "Hairy Woodpeker"), "near it are HAWO Hairy Woodpecker"),
        (("PIWO", "HAWO"), "'PIWO' (Pileated Woodpecker) has no account in this guide"),
        (("DOWO", "downy woodpecker"), "are one bird; two were expected"),
        (("DOWO", "HAWO", "--plumage", "femal"), "near it are female"),
        (("DOWO", "HAWO", "--plumage", "zzz"), "is not a plumage"),
    ],
)
def test_what_cannot_be_compared_is_wrong_use(ask: Ask, words: tuple[str, ...], said: str) -> None:
    """The reason and what may have been meant go to standard error, and the exit code is 2."""
    done = ask("compare", *words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in " ".join(done.stderr.split())


def test_programs_get_every_phrase_with_its_place(ask: Ask) -> None:
    """Each phrase has file, line and the plumage it was written for, each state its weight."""
    done = ask("compare", "DOWO", "HAWO", "--json")
    assert (done.exit_code, done.stderr) == (0, "")
    answer = json.loads(done.stdout)
    assert [answer[side]["code"] for side in ("first", "second")] == ["DOWO", "HAWO"]
    row = row_of(answer, "male", "bill")
    assert row["first"] == [{"phrase": "black", "from": "all", "file": "entries/downy.md", "line": 8}]
    assert (row["verdict"], row["separation"], row["rank"], row["view"]) == ("strong", 0.8, 1, "side")
    colour = row["aspects"][0]
    assert (colour["aspect"], colour["verdict"], colour["index"], colour["separation"]) == (
        "colour",
        "strong",
        False,
        0.8,
    )
    assert colour["second"]["states"] == [{"terms": [{"word": "yellow", "shades": []}], "weight": 0.9, "denied": False}]
    assert (colour["second"]["unstated"], colour["second"]["line"]) == (0.1, 8)


def test_programs_get_measures_with_their_assumption(ask: Ask) -> None:
    """Mean, SD, n, overlap and both verdicts stand in fields of their own."""
    answer = json.loads(ask("compare", "DOWO", "HAWO", "--json", "--plumage", "male").stdout)
    (length,) = answer["plumages"][0]["measures"]
    assert length["first"] == {
        "low": 14,
        "high": 18,
        "mean": 16,
        "sd": 1,
        "n": None,
        "basis": "range, divided by four: approximate",
        "from": "all",
    }
    assert (length["unit"], length["in the hand"], length["in the field"]) == ("cm", "diagnostic", "helpful")
    assert length["overlap"] == pytest.approx(1 - length["separation"])
    assert length["assumption"] == "two normal distributions"


def test_programs_are_told_what_is_missing(ask: Ask) -> None:
    """A missing record names bird, plumage, part, and the phrase beside which it would stand."""
    answer = json.loads(ask("compare", "DOWO", "HAWO", "--json").stdout)
    first = answer["wanted"][0]
    assert (first["of"], first["part"], first["aspect"]) == ("HAWO", "flanks", "colour")
    assert first["beside"] == {"phrase": "white, blotchlike", "from": "all", "file": "entries/downy.md", "line": 10}
