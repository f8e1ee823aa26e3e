"""A comparison for a program: every statement with its place, its claims and what it came to."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Final

from tertial.account_values import unit_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tertial.answers.comparing import PairAnswer
    from tertial.entries.values import Written
    from tertial.guide import Species
    from tertial.marks.compare import AspectRow, Comparison, MeasureRow, PartRow
    from tertial.marks.describe import Told
    from tertial.marks.measures import Measured, Spread
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Reading, Statement
    from tertial.marks.wanted import Wanted

    Value = dict[str, Any]
    Places = Mapping[Plumage, Mapping[str, Written[str]]]

DIGITS: Final = 6
"""Digits after the point of computed figures: as many as are the same on every machine."""


def pair_as_json(answer: PairAnswer) -> str:
    """Write a comparison as a JSON text."""
    value = {
        "first": bird(answer.first),
        "second": bird(answer.second),
        "sentences": [
            {
                "plumages": [plumage.text for plumage in said.plumages],
                "verdict": said.verdict,
                "marks": said.marks,
                "text": said.text,
            }
            for said in answer.sentences
        ],
        "plumages": [_plumage(answer, comparison) for comparison in answer.comparisons],
        "wanted": [_wanted(answer, each) for each in answer.wanted],
    }
    return as_json(value)


def as_json(value: object) -> str:
    """Write a value as all answers are written."""
    return json.dumps(value, ensure_ascii=False, indent=2) + "\n"


def bird(species: Species) -> Value:
    """Say which account is meant."""
    return {
        "code": species.code,
        "name": species.name,
        "scientific": species.scientific,
        "file": species.entry.source.path,
    }


def statement_value(statement: Statement) -> Value:
    """Give the states of a statement with their weights."""
    return {
        "states": [
            {
                "terms": [{"word": each.word, "shades": each.shades} for each in claim.qualities],
                "weight": round(claim.weight, DIGITS),
                "denied": claim.negative,
            }
            for claim in statement.claims
        ],
        "unstated": round(statement.unstated, DIGITS),
        "constancy stated": statement.stated,
    }


def phrase_value(species: Species, places: Places, part: str, reading: Reading, origin: Plumage) -> Value:
    """Give a phrase, the plumage it was written for, and where it stands."""
    written = places[origin][part]
    line = species.entry.source.position(written.span.start).line
    return {"phrase": reading.text, "from": origin.text, "file": species.entry.source.path, "line": line}


def _plumage(answer: PairAnswer, comparison: Comparison) -> Value:
    return {
        "first": comparison.first.text,
        "second": comparison.second.text,
        "separation": round(comparison.value, DIGITS),
        "chance": {
            "value": round(comparison.chance, DIGITS),
            "assumption": "both birds met equally often, the best part alone, the accounts right",
        },
        "parts": [_part(answer, row, at) for at, row in enumerate(comparison.parts, 1)],
        "measures": [_measure(row) for row in comparison.measures],
    }


def _part(answer: PairAnswer, row: PartRow, rank: int) -> Value:
    birds = (answer.first, answer.second)
    first, second = (
        [phrase_value(species, places, row.word, reading, origin) for reading, origin in said]
        for species, places, said in zip(birds, answer.written, (row.first, row.second), strict=True)
    )
    return {
        "part": row.word,
        "rank": rank,
        "verdict": row.verdict,
        "separation": round(row.value, DIGITS),
        "view": row.part.view.word if row.part else None,
        "ease": {
            "view": row.part.view.order if row.part else None,
            "extent": row.part.region.extent if row.part else None,
            "colour difference": round(row.striking, 1),
        },
        "first": first,
        "second": second,
        "aspects": [_aspect(answer, row.word, aspect) for aspect in row.aspects],
    }


def _aspect(answer: PairAnswer, part: str, row: AspectRow) -> Value:
    separated = row.separated
    return {
        "aspect": row.key.aspect,
        "place": row.key.where,
        "about": row.key.facet,
        "verdict": row.verdict,
        "separation": round(separated.value, DIGITS) if separated else None,
        "index": separated.index if separated else None,
        "first": _told(answer.first, answer.written[0], part, row.first),
        "second": _told(answer.second, answer.written[1], part, row.second),
    }


def _told(species: Species, places: Places, part: str, told: Told | None) -> Value | None:
    if told is None:
        return None
    where = phrase_value(species, places, part, told.reading, told.origin)
    return {**where, "implied": told.statement.implied, **statement_value(told.statement)}


def _measure(row: MeasureRow) -> Value:
    separated = row.separated
    return {
        "measure": row.word,
        "unit": unit_of(row.word),
        "first": _side(row.first, separated.first if separated else None),
        "second": _side(row.second, separated.second if separated else None),
        "separation": round(separated.value, DIGITS) if separated else None,
        "overlap": round(separated.overlap, DIGITS) if separated else None,
        "ratio of means": round(separated.ratio, DIGITS) if separated else None,
        "in the hand": separated.hand if separated else row.verdict,
        "in the field": row.verdict,
        "assumption": "two normal distributions" if separated else None,
    }


def _side(side: tuple[Measured, Plumage] | None, spread: Spread | None) -> Value | None:
    if side is None:
        return None
    measured, origin = side
    figures: Sequence[tuple[str, float | None]] = (
        ("low", measured.low),
        ("high", measured.high),
        ("mean", spread.mean if spread else measured.centre),
        ("sd", spread.sd if spread else measured.sd),
    )
    return {
        **{name: figure if figure is None else round(figure, DIGITS) for name, figure in figures},
        "n": measured.n,
        "basis": spread.basis if spread else None,
        "from": origin.text,
    }


def _wanted(answer: PairAnswer, wanted: Wanted) -> Value:
    missing, other = (answer.first, answer.second) if wanted.of_first else (answer.second, answer.first)
    places = answer.written[1] if wanted.of_first else answer.written[0]
    return {
        "of": missing.code,
        "plumage": wanted.plumage.text,
        "part": wanted.word,
        "aspect": wanted.aspect,
        "beside": phrase_value(other, places, wanted.word, wanted.beside.reading, wanted.beside.origin),
        "promise": round(wanted.promise, DIGITS),
        "gain": round(wanted.gain, DIGITS),
    }
