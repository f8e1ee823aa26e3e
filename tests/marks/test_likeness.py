"""Likeness of plumages against Gower's definition, a second implementation, and words of constancy."""

from __future__ import annotations

import math

import gower
import numpy as np
import pytest

from tertial.marks.likeness import SPAN, Mark, Profile, compare, likeness, states_agree
from tertial.marks.statements import ABSENT, PRESENT, Aspect, Claim, Key, Quality, Statement

NEAR = {frozenset({"rufous", "rusty"}): 0.9, frozenset({"white", "whitish"}): 0.9, frozenset({"grey", "black"}): 0.25}
WORDS = ("black", "grey", "white", "whitish", "rufous", "rusty", "yellow")
COLOUR = Key(Aspect.COLOUR)


def agreement(_: Aspect, first: Quality, second: Quality) -> float:
    """Agree as a small word list would; differing shades take a quarter away."""
    words = 1.0 if first.word == second.word else NEAR.get(frozenset({first.word, second.word}), 0.0)
    return words * (1.0 if first.shades == second.shades else 0.75)


def says(*claims: tuple[str, float], key: Key = COLOUR, implied: bool = False) -> Statement:
    """Make a statement of claims written as ``black+white`` or ``-red``, each with its weight."""
    return Statement(
        key,
        tuple(
            Claim(
                tuple(sorted(Quality(word) for word in text.removeprefix("-").split("+"))), weight, text.startswith("-")
            )
            for text, weight in claims
        ),
        implied=implied,
    )


def present(word: str, *, implied: bool = False) -> Statement:
    """Say for certain that a part is there, or that it is not."""
    return says((word, 1.0), key=Key(Aspect.PRESENCE), implied=implied)


def gowers_bird(
    length: float, bill: float, crest: Statement, bars: str, colour: str, tail: str, *, symmetric: bool = False
) -> Profile:
    """Describe a bird of the worked example, its lengths on a scale on which one range is one span."""
    said = {
        Mark("crest", crest.key): crest,
        Mark("wing bars", Key(Aspect.NUMBER)): says((bars, 1.0), key=Key(Aspect.NUMBER)),
        Mark("back", COLOUR): says((colour, 1.0)),
        Mark("tail", Key(Aspect.SHAPE)): says((tail, 1.0), key=Key(Aspect.SHAPE)),
    }
    if symmetric:
        said[Mark("crown", Key(Aspect.SHAPE))] = crest._replace(key=Key(Aspect.SHAPE))
        del said[Mark("crest", crest.key)]
    if not tail:
        del said[Mark("tail", Key(Aspect.SHAPE))]
    return Profile(said, {"length": math.exp(length / 10 * SPAN), "bill": math.exp(bill / 20 * SPAN)})


GOWER_A = (15.0, 16.0, present(ABSENT), "1", "black", "notched")
GOWER_B = (24.0, 30.0, present(ABSENT), "1", "black", "wedge")
GOWER_C = (16.0, 12.0, present(PRESENT), "0", "grey", "")


@pytest.mark.parametrize(
    ("first", "second", "value", "shared"),
    [(GOWER_A, GOWER_B, 2.4 / 5, 5), (GOWER_A, GOWER_C, 1.7 / 5, 5), (GOWER_B, GOWER_C, 0.3 / 5, 5)],
)
def test_a_worked_example_of_gowers_similarity_comes_out(
    first: tuple[float, float, Statement, str, str, str],
    second: tuple[float, float, Statement, str, str, str],
    value: float,
    shared: int,
) -> None:
    """Gower 1971, Biometrics 27:857-871: 0.48, 0.34 and 0.06, a crest absent in both left out."""
    found = likeness(gowers_bird(*first), gowers_bird(*second), lambda *_: 0.0)
    assert found.value == pytest.approx(value, abs=1e-12)
    assert (found.shared, found.ranked) == (shared, False)


def test_a_crest_that_is_a_state_like_any_other_counts_where_both_lack_it() -> None:
    """Gower 1971, the same example with a symmetric crest: 0.566667."""
    one = (*GOWER_A[:2], says(("bare", 1.0)), *GOWER_A[3:])
    two = (*GOWER_B[:2], says(("bare", 1.0)), *GOWER_B[3:])
    found = likeness(gowers_bird(*one, symmetric=True), gowers_bird(*two, symmetric=True), lambda *_: 0.0)
    assert found.value == pytest.approx(3.4 / 6, abs=1e-12)
    assert found.shared == 6


@pytest.mark.parametrize("seed", range(5))
def test_complete_records_compare_as_the_package_gower_has_it(seed: int) -> None:
    """The PyPI package gower 0.1.2, which knows neither missing values nor absences, agrees to its precision."""
    random = np.random.default_rng(seed)
    words = random.choice(WORDS, size=(30, 5))
    lengths = random.uniform(0, 1, size=(30, 3))
    lengths[0], lengths[1] = 0.0, 1.0
    table = np.concatenate([words.astype(object), lengths.astype(object)], axis=1)
    theirs = 1 - gower.gower_matrix(table, cat_features=[True] * 5 + [False] * 3)
    ours = [
        Profile(
            {Mark(f"part {at}", COLOUR): says((str(word), 1.0)) for at, word in enumerate(said)},
            {f"measure {at}": math.exp(value * SPAN) for at, value in enumerate(measured)},
        )
        for said, measured in zip(words, lengths, strict=True)
    ]
    values = [[likeness(one, other, lambda *_: 0.0).value for other in ours] for one in ours]
    assert np.allclose(np.array(values, float), theirs, atol=1e-5)


@pytest.mark.parametrize(
    ("first", "second", "weight", "value"),
    [
        (says(("black", 0.9)), says(("black", 0.9)), 0.81, 1),
        (says(("black", 0.9)), says(("yellow", 1.0)), 0.9, 0),
        (says(("white", 1.0)), says(("whitish", 1.0)), 1, 0.9 / 1.1),
        (says(("rufous", 0.5), ("yellow", 0.5)), says(("yellow", 1.0)), 1, 0.75),
        (says(("rufous", 0.5), ("yellow", 0.5)), says(("yellow", 0.5), ("rufous", 0.5)), 1, 1),
        (says(("yellow", 0.3)), says(("yellow", 1.0)), 0.3, 1),
        (says(), says(("yellow", 1.0)), 0, 0),
        (says(("black+white", 1.0)), says(("white", 1.0)), 1, 0.5),
        (says(("-rufous", 1.0)), says(("-rufous", 1.0)), 0, 0),
        (says(("-rufous", 1.0)), says(("rufous", 0.3)), 0.3, 0),
        (says(("-rufous", 1.0)), says(("rusty", 1.0)), 0.9 / 1.1, 0),
        (says(("-rufous", 1.0)), says(("black", 1.0)), 0, 0),
        (present(ABSENT), present(ABSENT), 0, 0),
        (present(ABSENT), present(PRESENT), 1, 0),
        (present(PRESENT), present(PRESENT), 1, 1),
        (present(PRESENT, implied=True), present(PRESENT), 0, 0),
        (present(PRESENT, implied=True), present(PRESENT, implied=True), 0, 0),
        (present(PRESENT, implied=True), present(ABSENT), 1, 0),
    ],
)
def test_statements_weigh_what_both_state_and_agree_by_their_best_counterparts(
    first: Statement, second: Statement, weight: float, value: float
) -> None:
    """What is unstated, denied by both or only implied is left out; the rest agrees by claims, either way round."""
    assert compare(first, second, agreement) == pytest.approx((weight, value))
    assert compare(second, first, agreement) == compare(first, second, agreement)


@pytest.mark.parametrize(
    ("first", "second", "value"),
    [("black", "black white", 1 / 2), ("black white", "white yellow", 1 / 3), ("white", "whitish", 0.9 / 1.1)],
)
def test_terms_that_hold_together_agree_by_jaccards_index(first: str, second: str, value: float) -> None:
    """Jaccard's index, with near terms as parts of a term."""
    one, two = (tuple(Quality(word) for word in text.split()) for text in (first, second))
    assert states_agree(Aspect.COLOUR, one, two, agreement) == pytest.approx(value)
