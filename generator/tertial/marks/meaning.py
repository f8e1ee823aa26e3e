"""What was understood of a phrase, told in words of the lists: beside the author's own, never instead."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from tertial.marks.statements import PRESENT
from tertial.marks.tables import read_table
from tertial.wording import PLAIN

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tertial.marks.statements import Claim, Key, Quality, Reading, Statement
    from tertial.wording import Wording


def told(reading: Reading) -> Iterator[tuple[str, str]]:
    """Give what a phrase says, aspect by aspect: the respect, and its states with their weights.

    That a described part is there goes without saying.
    """
    return ((key_words(each.key), statement_words(each)) for each in reading.statements if not each.implied)


def key_words(key: Key, wording: Wording = PLAIN) -> str:
    """Name what a statement is about: ``colour``, or ``colour, tip`` of a place on the part."""
    return ", ".join(wording.say(word) for word in (key.aspect, key.where) if word)


@cache
def load_questions() -> Mapping[tuple[str, str], str]:
    """Read what a beginner is asked, by aspect and facet; '' for the facet of an aspect taken whole."""
    return {(row["aspect"], row["facet"]): row["question"] for row in read_table("questions.csv")}


def question_of(key: Key, wording: Wording = PLAIN) -> str:
    """Ask what a statement would answer: ``fast or slow?``; of a place on the part ``what colour? (tip)``."""
    questions = load_questions()
    question = wording.say(questions.get((key.aspect, key.facet)) or questions[key.aspect, ""])
    if not key.where:
        return question
    return wording.say("%(question)s (%(where)s)", question=question, where=wording.say(key.where))


def facet_named(wording: Wording, facet: str) -> str:
    """Name what the terms of a facet are about; of a length against a part, the part by its own name."""
    against = facet.removeprefix("against ")
    if against == facet:
        return wording.say(facet)
    return wording.say("against %(part)s", part=wording.say(against))


def statement_words(statement: Statement) -> str:
    """Tell the states of a statement, each with the least share of birds: ``black 0.8, not red 1``."""
    return ", ".join(map(claim_words, _by_weight(statement))) or "variable"


def claim_words(claim: Claim) -> str:
    """Tell one state with its weight."""
    terms = " and ".join(map(quality_words, claim.qualities))
    return f"{'not ' if claim.negative else ''}{terms} {round(claim.weight, 2):g}"


def quality_words(quality: Quality) -> str:
    """Tell one term with its shades: ``pale brown``."""
    return " ".join((*quality.shades, quality.word))


def left_words(reading: Reading) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Give the words of a phrase that were not understood, each with known ones that it may have meant."""
    return tuple((reading.text[piece.start : piece.end], piece.near) for piece in reading.left)


def says_nothing(reading: Reading) -> bool:
    """Whether nothing of a phrase can be compared."""
    return all(each.implied and each.claims[0].qualities[0].word == PRESENT for each in reading.statements)


def _by_weight(statement: Statement) -> list[Claim]:
    return sorted(statement.claims, key=lambda claim: -claim.weight)
