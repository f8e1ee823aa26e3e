"""Phrases with the reading that a reviewer expects of them, kept in ``phrases.txt``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tertial.loading import load_guide
from tertial.marks.reading import read_phrase
from tertial.marks.statements import Reading, Role
from tertial.marks.words import load_words

if TYPE_CHECKING:
    from tertial.marks.statements import Claim, Statement

OWN = {"colour": {"biscuit": "buff", "brick": "red"}, "shape": {"splinter-thin": "thin"}}
WORDS = load_words().with_words(OWN).words
NOTHING = {"unknown", "not seen", "does not apply"}


def cases() -> dict[str, list[str]]:
    """Read the case file: under each phrase the lines of its reading, sorted."""
    found: dict[str, list[str]] = {}
    lines = (Path(__file__).parent / "phrases.txt").read_text(encoding="utf-8").splitlines()
    phrase = ""
    for line in lines:
        if line.startswith(" "):
            found[phrase].append(line.strip())
        elif line and not line.startswith("#"):
            phrase = line
            assert phrase not in found, f"{phrase} stands there twice"
            found[phrase] = []
    return {phrase: sorted(lines) for phrase, lines in found.items()}


def written(reading: Reading) -> list[str]:
    """Write a reading in the form of the case file."""
    lines = [line_of(statement) for statement in reading.statements if not statement.implied]
    left = " ".join(reading.text[piece.start : piece.end] for piece in reading.left)
    return sorted([*lines, *([f"left: {left}"] if left else [])])


def line_of(statement: Statement) -> str:
    """Write one statement as one line."""
    key = "@".join(filter(None, (statement.key.aspect.value, statement.key.where)))
    claims = " | ".join(map(text_of, statement.claims)) or "variable"
    return f"{key}: {claims}{' !' if statement.stated else ''}"


def text_of(claim: Claim) -> str:
    """Write one claim: its terms, each behind its shades, and its weight."""
    terms = " + ".join(" ".join((*quality.shades, quality.word)) for quality in claim.qualities)
    return f"{'not ' if claim.negative else ''}{terms} {claim.weight:.3g}"


CASES = cases()


def test_there_are_enough_cases_to_rely_on() -> None:
    """The file holds at least 200 phrases, nine in ten of which say something."""
    assert len(CASES) >= 200
    assert sum(bool(lines) for lines in CASES.values()) > 0.85 * len(CASES)


@pytest.mark.parametrize("case", CASES)
def test_a_phrase_says_what_a_reviewer_expects(case: str) -> None:
    """Every statement of a phrase is as written by hand, and there is no other."""
    part, _, phrase = case.partition(": ")
    assert written(read_phrase(phrase, WORDS, part)) == CASES[case]


def test_phrases_of_the_guide_leave_no_word_over(repository: Path) -> None:
    """Every word of the entries is understood or set aside, and most phrases say something."""
    guide = load_guide(repository)
    own = {kind.value: guide.settings.own_words(kind.value) for kind, _ in guide.settings.words}
    words = load_words().with_words(own).words
    read = [
        (part, phrase.text.value, read_phrase(phrase.text.value, words, part))
        for species in guide.species
        for record in species.records.values()
        for part, phrase in record.items()
    ]
    assert len(read) > 500
    assert [(part, text, reading.left) for part, text, reading in read if reading.left] == []
    silent = {(part, text) for part, text, reading in read if not reading.statements and text not in NOTHING}
    assert silent == {("posture", "upright when singing")} | {(part, text) for part, text in silent if '"' in text}


@pytest.mark.parametrize(
    ("phrase", "part", "present", "stated"),
    [
        ("two, white", "wing bar", 0.9, False),
        ("sometimes a red patch", "nape", 0.3, True),
        ("usually red, sometimes orange or yellow", "throat", 0.8, True),
        ("always white, plain", "belly", 1.0, True),
        ("black with white tip", "tail", 0.9, False),
    ],
)
def test_what_is_described_is_present(phrase: str, part: str, present: float, stated: bool) -> None:
    """A description implies presence, as often as its most constant claim."""
    presence = read_phrase(phrase, WORDS, part).statements[0]
    assert presence.implied
    assert [(claim.qualities[0].word, claim.weight) for claim in presence.claims] == [("present", present)]
    assert presence.stated == stated


@pytest.mark.parametrize("phrase", ["no red", "none", "unknown", "usually present", "redder than HOFI"])
def test_presence_is_not_implied_by_what_describes_nothing(phrase: str) -> None:
    """A denial, an absence, a comparison and a written presence imply nothing further."""
    assert not any(statement.implied for statement in read_phrase(phrase, WORDS, "crown").statements)


def test_comparisons_are_kept_and_linked() -> None:
    """A comparison with another bird is shown as one, with its code as a link."""
    pieces = read_phrase("black, longer than in DOWO", WORDS, "bill").pieces
    assert [piece.role for piece in pieces] == [Role.TERM, *[Role.COMPARISON] * 3, Role.LINK]


def test_a_word_that_is_left_comes_with_near_ones() -> None:
    """An unknown word is answered with known ones that are spelled like it."""
    (left,) = read_phrase("yelow", WORDS, "bill").left
    assert left.near[0] == "yellow"
