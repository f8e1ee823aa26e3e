"""The shipped words of phrases: found by any wording, and compared by what they mean."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.marks.lexicon import Kind, tokens
from tertial.marks.statements import Aspect, Quality
from tertial.marks.words import load_words

WORDS = load_words()
COLOUR, SHAPE, LENGTH, PATTERN = Aspect.COLOUR, Aspect.SHAPE, Aspect.LENGTH, Aspect.PATTERN


@pytest.mark.parametrize(
    ("written", "word"),
    [
        ("gray", "grey"),
        ("Grey", "grey"),
        ("chisel shaped", "chisel-shaped"),
        ("square-tipped", "square"),
        ("half the head", "half as long as head"),
        ("about-face", None),
        ("buffy", "buff"),
        ("olive-green", "olive"),
        ("just short of the tail tip", "nearly as long as tail"),
        ("upcurved", "recurved"),
        ("almost always", "nearly always"),
        ("", None),
    ],
)
def test_wordings_lead_to_the_preferred_word(written: str, word: str | None) -> None:
    """Case, hyphens, articles and American spelling do not matter."""
    assert next((sense.word for sense in WORDS.find(written)), None) == word


@pytest.mark.parametrize(
    ("aspect", "a", "b", "agreed", "index"),
    [
        (COLOUR, Quality("white"), Quality("white"), 1, False),
        (COLOUR, Quality("white"), Quality("whitish"), 1, True),
        (COLOUR, Quality("rufous"), Quality("rusty"), 1, True),
        (COLOUR, Quality("black"), Quality("yellow"), 0, False),
        (COLOUR, Quality("brown", ("dark",)), Quality("brown"), 1, False),
        (COLOUR, Quality("brown", ("dark",)), Quality("brown", ("pale",)), 0, False),
        (COLOUR, Quality("brown", ("dark",)), Quality("brown", ("medium",)), 0.5, True),
        (COLOUR, Quality("brown", ("grey",)), Quality("brown", ("greyish",)), 1, False),
        (COLOUR, Quality("brown", ("grey",)), Quality("brown", ("olive",)), 0.5, True),
        (COLOUR, Quality("brown", ("dark",)), Quality("brown", ("grey",)), 1, False),
        (SHAPE, Quality("square"), Quality("notched"), 0.5, True),
        (SHAPE, Quality("thin"), Quality("stout"), 0, False),
        (SHAPE, Quality("thin"), Quality("decurved"), 0, False),
        (LENGTH, Quality("half as long as head"), Quality("shorter than head"), 0.5, True),
        (LENGTH, Quality("half as long as head"), Quality("nearly as long as head"), 0, False),
        (LENGTH, Quality("longer than head"), Quality("longer than tail"), 0, False),
        (PATTERN, Quality("streaked", ("bold",)), Quality("streaked", ("faint",)), 0, False),
        (PATTERN, Quality("streaked", ("narrow",)), Quality("streaked", ("bold",)), 1, False),
        (PATTERN, Quality("plain"), Quality("streaked"), 0, False),
        (Aspect.NUMBER, Quality("2"), Quality("3"), 0, False),
        (Aspect.PRESENCE, Quality("present"), Quality("absent"), 0, False),
    ],
)
def test_terms_agree_by_equality_nearness_and_steps(
    aspect: Aspect, a: Quality, b: Quality, agreed: float, index: bool
) -> None:
    """Equal and near terms agree, a step on a scale halves it, and an open shade agrees with any."""
    assert WORDS.agreement(aspect, a, b) == WORDS.agreement(aspect, b, a) == agreed
    assert WORDS.is_index(aspect, a, b) == WORDS.is_index(aspect, b, a) == index


qualities = st.sampled_from(sorted(WORDS.lists.terms)).flatmap(
    lambda term: st.tuples(
        st.just(term[0]),
        st.sampled_from(sorted(word for aspect, word in WORDS.lists.terms if aspect is term[0])),
        st.just(term[1]),
    )
)


@given(qualities)
def test_agreement_is_a_share_and_even_handed(drawn: tuple[Aspect, str, str]) -> None:
    """Any two terms agree by 0 to 1, the same either way round, and a term agrees with itself."""
    aspect, first, second = drawn
    a, b = Quality(first), Quality(second)
    assert WORDS.agreement(aspect, a, b) == WORDS.agreement(aspect, b, a)
    assert WORDS.agreement(aspect, a, b) in {0, 0.5, 1}
    assert WORDS.agreement(aspect, a, a) == 1
    if WORDS.facet(aspect, a) != WORDS.facet(aspect, b):
        assert WORDS.agreement(aspect, a, b) == 0


def test_terms_on_different_facets_can_be_told_apart() -> None:
    """A caller can see that girth says nothing of curve, and that a wash lies over a colour."""
    assert WORDS.facet(SHAPE, Quality("thin")) == WORDS.facet(SHAPE, Quality("stout")) == "girth"
    assert WORDS.facet(SHAPE, Quality("decurved")) != "girth"
    assert WORDS.facet(COLOUR, Quality("buff", ("washed",))) != WORDS.facet(COLOUR, Quality("buff"))


def test_own_words_widen_a_table_and_leave_the_shipped_one() -> None:
    """Each kind takes its own words; what has no known word beside it, or means something else, is given back."""
    own = {
        "colour": {"biscuit": "buff", "frob": "zork", "white": "black", "buff": "buff"},
        "shape": {"splinter-thin": "thin", "biscuit": "stout", "square": "red"},
        "smell": {"sour": "red"},
    }
    widened = WORDS.with_words(own)
    assert widened.unknown == (("colour", "frob"), ("shape", "square"), ("smell", "sour"))
    assert widened.taken == (("colour", "white"),)
    assert widened.words.colour("biscuit") == WORDS.colour("buff")
    assert {sense.word for sense in widened.words.find("Biscuit")} == {"buff", "stout"}
    assert WORDS.find("biscuit") == ()


@pytest.mark.parametrize(("written", "word"), [("yelow", "yellow"), ("strekaed", "streaked"), ("chesnut", "chestnut")])
def test_a_slip_is_answered_with_the_word_meant(written: str, word: str) -> None:
    """A misspelling is answered with the word that it is nearest to, within the limit asked for."""
    assert WORDS.near(written)[0] == word
    assert len(WORDS.near(written, 1)) == 1


@pytest.mark.parametrize("written", ["", "q", "qqqqqq", "12"])
def test_no_word_is_offered_without_likeness(written: str) -> None:
    """Where nothing is near, nothing is offered."""
    assert WORDS.near(written) == ()


def test_every_colour_has_a_reference_of_its_own() -> None:
    """Each colour term has a hexadecimal sRGB reference that no other has, and other words have none."""
    colours = {word: WORDS.colour(word) for aspect, word in WORDS.lists.terms if aspect is COLOUR}
    references = [reference for reference in colours.values() if reference]
    assert len(references) == len(set(references)) > 45
    assert all(re.fullmatch("#[0-9a-f]{6}", reference) for reference in references)
    assert colours["washed"] is None
    assert WORDS.colour("streaked") is WORDS.colour("no such") is None


def test_no_wording_means_two_things_of_one_kind() -> None:
    """Within one kind and aspect a wording leads to one word, so that the order of the lists does not matter."""
    found: dict[tuple[str, Kind, Aspect | None], str] = {}
    for wording, sense in WORDS.lists.wordings:
        if sense.kind is not Kind.COMPARATIVE:
            key = ("".join(tokens(wording)), sense.kind, sense.aspect)
            assert key[0], wording
            assert found.setdefault(key, sense.word) == sense.word, wording
    assert len(found) > 4000


def test_weights_are_those_of_the_method() -> None:
    """The weights of constancy are our own choice; this is the table that the method page prints."""
    weights = WORDS.lists.weights
    fixed = {"always": 1, "never": 1, "only": 1, "plain statement": 0.9, "usually": 0.8, "often": 0.6}
    assert {word: weights[word] for word in fixed} == fixed
    assert (weights["sometimes"], weights["rarely"], weights["variable"]) == (0.3, 0.1, 0)
    assert WORDS.lists.never == {"never"}


def test_no_two_terms_stand_on_one_rung() -> None:
    """Each ordered facet begins at 0, with a term to a rung and at most the middle between opposites left out."""
    scales: dict[tuple[Aspect, str], list[int]] = {}
    for (aspect, _), term in WORDS.lists.terms.items():
        if term.rung is not None:
            scales.setdefault((aspect, term.facet), []).append(term.rung)
    assert len(scales) > 25
    for scale, rungs in scales.items():
        assert len(rungs) == len(set(rungs)), scale
        assert min(rungs) == 0 or len(rungs) == 1, scale
        assert sorted(rungs) in ([0, 2], list(range(len(rungs)))) or len(rungs) == 1, scale
