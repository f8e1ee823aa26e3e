"""The laws that separation obeys, whatever the statements."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tertial.marks.separation import agreement_of_sets, separate
from tertial.marks.statements import Aspect, Claim, Key, Quality, Statement
from tertial.marks.verdicts import Verdict, load_thresholds, verdict_of

KEY = Key(Aspect.COLOUR)
BLACK, BLACKISH, WHITE, RED = (Quality(word) for word in ("black", "blackish", "white", "red"))
NEAR = {frozenset({BLACK, BLACKISH})}


class FewWords:
    """Four colours, two of them near one another."""

    def agreement(self, aspect: Aspect, a: Quality, b: Quality) -> float:
        """1 for the same or near, else 0."""
        return float(a == b or frozenset({a, b}) in NEAR)

    def is_index(self, aspect: Aspect, a: Quality, b: Quality) -> bool:
        """Near colours make an index."""
        return frozenset({a, b}) in NEAR

    def facet(self, aspect: Aspect, quality: Quality) -> str:
        """All colours are about the same."""
        return ""


WORDS = FewWords()
COLOURS = st.sampled_from([BLACK, BLACKISH, WHITE, RED])
WEIGHTS = st.sampled_from([0.1, 0.3, 0.6, 0.8, 0.9, 1.0])
CLAIMS = st.builds(
    Claim,
    st.frozensets(COLOURS, min_size=1, max_size=3).map(lambda found: tuple(sorted(found))),
    WEIGHTS,
    st.booleans(),
)


@st.composite
def statements(draw: st.DrawFn) -> Statement:
    """Statements of up to three claims whose weights add up to at most 1."""
    claims = draw(st.lists(CLAIMS, max_size=3, unique_by=lambda claim: (claim.qualities, claim.negative)))
    total = sum(claim.weight for claim in claims)
    scaled = [claim._replace(weight=claim.weight / max(1, total)) for claim in claims]
    return Statement(KEY, tuple(scaled), stated=draw(st.booleans()))


def said(*claims: tuple[Quality, float], stated: bool = False) -> Statement:
    """A statement of single terms."""
    return Statement(KEY, tuple(Claim((quality,), weight) for quality, weight in claims), stated)


@given(statements(), statements())
def test_separation_is_symmetric(first: Statement, second: Statement) -> None:
    """It does not matter which bird is named first."""
    assert separate(first, second, WORDS) == separate(second, first, WORDS)


@given(statements())
def test_nothing_is_separate_from_itself(statement: Statement) -> None:
    """Two birds described in the same words are not told apart by them."""
    found = separate(statement, statement, WORDS)
    assert (found.value, found.verdict) == (0, Verdict.SHARED)


@given(statements(), statements(), st.data())
def test_separation_never_rises_when_constancy_falls(first: Statement, second: Statement, data: st.DataObject) -> None:
    """A claim that holds for fewer birds separates no better."""
    assume(first.claims)
    at = data.draw(st.integers(0, len(first.claims) - 1))
    fallen = first.claims[at]._replace(weight=first.claims[at].weight * data.draw(st.sampled_from([0.2, 0.5, 0.9])))
    weaker = first._replace(claims=(*first.claims[:at], fallen, *first.claims[at + 1 :]))
    assert separate(weaker, second, WORDS).value <= separate(first, second, WORDS).value + 1e-9


@given(statements(), statements(), st.data())
def test_separation_never_rises_when_a_claim_is_removed(
    first: Statement, second: Statement, data: st.DataObject
) -> None:
    """Saying less never tells two birds further apart."""
    assume(first.claims)
    at = data.draw(st.integers(0, len(first.claims) - 1))
    less = first._replace(claims=(*first.claims[:at], *first.claims[at + 1 :]))
    assert separate(less, second, WORDS).value <= separate(first, second, WORDS).value + 1e-9


@given(WEIGHTS, WEIGHTS)
def test_single_terms_separate_by_what_cannot_agree(p: float, q: float) -> None:
    """Of disjoint terms it is max(0, p + q - 1), a lower bound of the total variation distance; of equal ones 0."""
    assert separate(said((BLACK, p)), said((WHITE, q)), WORDS).value == pytest.approx(max(0, p + q - 1), abs=1e-8)
    assert separate(said((BLACK, p)), said((BLACK, q)), WORDS).value == 0


@given(statements(), statements())
def test_diagnostic_needs_stated_constancy_of_both(first: Statement, second: Statement) -> None:
    """Plain statements are never diagnostic, however disjoint."""
    found = separate(first, second, WORDS)
    assert found.verdict is not Verdict.DIAGNOSTIC or (first.stated and second.stated)
    assert 0 <= found.value <= 1


@given(statements(), statements())
def test_the_general_way_agrees_with_the_short_one(first: Statement, second: Statement) -> None:
    """A claim split into two halves is the same claim."""
    assume(len(first.claims) == 1)
    half = first.claims[0]._replace(weight=first.claims[0].weight / 2)
    split = first._replace(claims=(half, half))
    assert separate(split, second, WORDS).value == pytest.approx(separate(first, second, WORDS).value, abs=1e-8)


def test_near_terms_are_shared_and_called_an_index() -> None:
    """Black and blackish do not tell two birds apart."""
    found = separate(said((BLACK, 0.9)), said((BLACKISH, 0.9)), WORDS)
    assert (found.value, found.verdict, found.index) == (0, Verdict.SHARED, True)
    assert not separate(said((BLACK, 0.9)), said((WHITE, 0.9)), WORDS).index


def test_sets_of_terms_agree_by_jaccard() -> None:
    """One of three terms in common is a third; near terms count as common."""
    assert agreement_of_sets(Aspect.COLOUR, (BLACK, WHITE), (RED, WHITE), WORDS) == pytest.approx(1 / 3)
    assert agreement_of_sets(Aspect.COLOUR, (BLACK, WHITE), (BLACKISH, WHITE), WORDS) == 1
    assert agreement_of_sets(Aspect.COLOUR, (BLACK,), (WHITE, RED, BLACK), WORDS) == pytest.approx(1 / 3)


def test_what_is_never_so_excludes_only_that() -> None:
    """Sometimes red against never red: a weak mark; black against never red: none."""
    never = Statement(KEY, (Claim((RED,), 1.0, negative=True),), stated=True)
    assert separate(said((RED, 0.3), stated=True), never, WORDS).value == pytest.approx(0.3)
    assert separate(said((BLACK, 1.0), stated=True), never, WORDS).value == 0
    assert separate(said((RED, 1.0), stated=True), never, WORDS).verdict is Verdict.DIAGNOSTIC


@pytest.mark.parametrize(
    ("value", "may_settle", "verdict"),
    [
        (1.0, True, Verdict.DIAGNOSTIC),
        (0.95, True, Verdict.DIAGNOSTIC),
        (0.95, False, Verdict.STRONG),
        (0.949, True, Verdict.STRONG),
        (0.75, False, Verdict.STRONG),
        (0.749, True, Verdict.HELPFUL),
        (0.4, False, Verdict.HELPFUL),
        (0.399, True, Verdict.WEAK),
        (0.001, True, Verdict.WEAK),
        (0.0, True, Verdict.SHARED),
    ],
)
def test_the_thresholds_are_those_of_the_table(value: float, may_settle: bool, verdict: Verdict) -> None:
    """Each verdict begins at its own least separation."""
    assert verdict_of(value, may_settle) is verdict


def test_every_verdict_has_its_row() -> None:
    """The method page prints the table; no verdict is without a meaning."""
    assert tuple(row.verdict for row in load_thresholds()) == tuple(Verdict)
    assert all(row.meaning.endswith(".") for row in load_thresholds())
