"""Reading a plumage, writing it in its normal form, whom it inherits from, and which stand side by side."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.marks.plumage_words import load_plumage_words
from tertial.marks.plumages import ALL, Plumage, chain, near_plumages, read_plumage, union_plumages

WORDS = load_plumage_words()


def _every_plumage() -> list[Plumage]:
    found = []
    for values in product(*WORDS.ranks):
        try:
            found.append(Plumage(*values))
        except ValueError:
            continue
    return found


EVERY = _every_plumage()
plumages = st.sampled_from(EVERY)
listed = st.sampled_from([text for word in WORDS.words for text in (word.word, *word.synonyms)])


def known(text: str) -> Plumage:
    """Read a plumage that has to be readable."""
    plumage = read_plumage(text)
    assert plumage is not None, text
    return plumage


@pytest.mark.parametrize(
    ("written", "normal"),
    [
        ("all", "all"),
        ("All plumages", "all"),
        ("male", "male"),
        ("adult male", "male"),
        ("male adult", "male"),
        ("males", "male"),
        ("all males", "male"),
        ("adult", "adult"),
        ("juvenile female", "juvenile female"),
        ("female, juvenile", "juvenile female"),
        ("juvenal plumage", "juvenile"),
        ("sub-adult", "subadult"),
        ("natal down", "downy"),
        ("fledgling", "fledgling"),
        ("1st-winter", "first-winter"),
        ("First Winter male", "first-winter male"),
        ("male 2nd summer", "second-summer male"),
        ("winter", "nonbreeding adult"),
        ("non-breeding male", "nonbreeding male"),
        ("nuptial", "breeding adult"),
        ("male in eclipse", "eclipse male"),
        ("first-summer, breeding", "breeding first-summer"),
        ("first basic", "first basic"),
        ("1st basic male", "first basic male"),
        ("formative", "formative"),
        ("first formative female", "formative female"),
        ("adult basic", "definitive basic"),
        ("definitive male alternate", "definitive alternate male"),
        ("definitive", "adult"),
        ("first-cycle", "first-cycle"),
        ("dark phase", "dark morph"),
        ("grey-morph", "gray morph"),
        ("juvenile pale morph", "light morph juvenile"),
        ("male breeding light morph", "light morph breeding male"),
        ("white-striped morph", "white-striped morph"),
    ],
)
def test_words_in_any_order(written: str, normal: str) -> None:
    """Synonyms fold into one normal form, whatever the order and the joints."""
    assert known(written).text == normal
    assert str(known(written)) == normal


@pytest.mark.parametrize(
    ("written", "offers"),
    [
        ("juv", ("juvenile",)),
        ("imm", ("immature",)),
        ("ad", ("adult",)),
        ("f", ("female",)),
        ("m", ("male",)),
        ("juv. m", ("juvenile male",)),
        ("ad f br", ("breeding female",)),
        ("1w male", ("first-winter male",)),
        ("young", ("immature", "juvenile")),
        ("young male", ("immature male", "juvenile male")),
        ("juvenille", ("juvenile",)),
        ("frist winter", ("first-winter",)),
        ("scruffy juvenile", ("juvenile",)),
        ("male/female", ("male", "female")),
        ("male and female", ("male", "female")),
        ("basic", ("first basic", "second basic", "third basic")),
        ("light", ("light morph",)),
        ("nonbreading", ("nonbreeding adult",)),
        ("", ()),
        ("plumage 7", ("all",)),
        ("zzzz", ()),
    ],
)
def test_what_cannot_be_read_is_answered(written: str, offers: tuple[str, ...]) -> None:
    """Short, loose, misspelt or contradictory words are not read; likely normal forms are offered."""
    assert read_plumage(written) is None
    assert near_plumages(written) == offers


@pytest.mark.parametrize("written", ["male juvenile adult", "first basic adult", "breeding winter", "light dark morph"])
def test_contradictions_are_not_read(written: str) -> None:
    """Two values for one facet are no plumage."""
    assert read_plumage(written) is None


def test_male_means_adult() -> None:
    """A sex or a season stands for an adult as long as no age is named."""
    assert known("male") == Plumage("adult", "male")
    assert known("eclipse") == Plumage("adult", season="eclipse")
    assert known("juvenile male") == Plumage("juvenile", "male")
    assert known("dark morph") == Plumage(morph="dark")


@pytest.mark.parametrize(
    ("facets", "reason"),
    [
        ({"sex": "male"}, "needs an age"),
        ({"season": "breeding"}, "needs an age"),
        ({"age": "ancient"}, "no plumage word names"),
        ({"age": "juvenile", "season": "formative"}, "no plumage word names"),
    ],
)
def test_a_plumage_is_made_of_listed_words(facets: dict[str, str], reason: str) -> None:
    """A plumage that no words could name cannot be made."""
    with pytest.raises(ValueError, match=reason):
        Plumage(**facets)


@pytest.mark.parametrize("plumage", ["male", "nestling", "first basic female", "light morph breeding male"])
def test_all_comes_first_in_display_order(plumage: str) -> None:
    """All birds are shown before any that are singled out."""
    assert ALL.order < known(plumage).order


def test_display_order() -> None:
    """Adults come before the young, older before younger, male before female."""
    texts = ["all", "dark morph", "adult", "breeding adult", "male", "breeding male", "eclipse male", "female"]
    texts += ["subadult", "immature", "second-winter", "first-winter", "juvenile", "juvenile male", "downy"]
    assert [plumage.text for plumage in sorted(map(known, reversed(texts)), key=lambda p: p.order)] == texts


@pytest.mark.parametrize(
    ("plumage", "expected"),
    [
        ("all", ["all"]),
        ("male", ["male", "adult", "all"]),
        ("juvenile male", ["juvenile male", "juvenile", "all"]),
        ("first-winter", ["first-winter", "all"]),
        ("breeding male", ["breeding male", "male", "breeding adult", "adult", "all"]),
        ("dark morph juvenile", ["dark morph juvenile", "juvenile", "dark morph", "all"]),
        (
            "light morph breeding female",
            [
                "light morph breeding female",
                "breeding female",
                "light morph female",
                "light morph breeding adult",
                "female",
                "breeding adult",
                "light morph adult",
                "adult",
                "light morph",
                "all",
            ],
        ),
    ],
)
def test_chains(plumage: str, expected: list[str]) -> None:
    """The exact plumage speaks first, then the same age with less named, then all."""
    assert [step.text for step in chain(known(plumage))] == expected


def test_many_plumages_are_tried() -> None:
    """The properties below range over every plumage that the words can name."""
    assert len(EVERY) > 1000


@given(plumages)
def test_the_normal_form_reads_back(plumage: Plumage) -> None:
    """What is written out is read as the same, and writing it again changes nothing."""
    assert known(plumage.text) == plumage
    assert known(plumage.text).text == plumage.text


@given(st.lists(listed, min_size=1, max_size=5))
def test_order_of_words_does_not_matter(words: list[str]) -> None:
    """Commas keep the words apart, and then any order reads as the same."""
    assert read_plumage(", ".join(words)) == read_plumage(", ".join(reversed(words)))


@given(st.lists(listed | st.text(max_size=8), max_size=6).map(" ".join))
def test_any_text_is_answered(text: str) -> None:
    """Reading never fails, and every offer can be read and is in its normal form."""
    read_plumage(text)
    for offer in near_plumages(text):
        assert known(offer).text == offer


@given(plumages, plumages)
def test_display_order_tells_all_apart(a: Plumage, b: Plumage) -> None:
    """Two plumages share a place only if they are the same."""
    assert (a.order == b.order) == (a == b)


@given(plumages)
def test_a_chain_starts_with_itself_and_ends_in_all(plumage: Plumage) -> None:
    """The first word is the plumage's own, the last one is for all, and none is said twice."""
    steps = chain(plumage)
    assert steps[0] == plumage
    assert steps[-1] == ALL
    assert len(set(steps)) == len(steps)


@given(plumages)
def test_an_age_is_kept_or_dropped_but_never_changed(plumage: Plumage) -> None:
    """A juvenile's chain holds no adult: no step has another age, and an ageless one has no sex."""
    for step in chain(plumage):
        assert step.age in (plumage.age, "")
        if not step.age and plumage.age:
            assert (step.sex, step.season) == ("", "")


@given(plumages)
def test_steps_only_lose_what_they_name(plumage: Plumage) -> None:
    """Nothing is added on the way, and no step names more than the one before it."""
    counts = []
    for step in chain(plumage):
        for name in ("age", "sex", "season", "morph"):
            assert getattr(step, name) in (getattr(plumage, name), "")
        counts.append(sum(map(bool, (step.sex, step.season, step.morph))) + 4 * bool(step.age))
    assert counts == sorted(counts, reverse=True)


@given(plumages)
def test_chains_agree_with_each_other(plumage: Plumage) -> None:
    """The chain of any step is part of what follows it, in the same order."""
    steps = chain(plumage)
    for place, step in enumerate(steps):
        own = chain(step)
        assert own == tuple(later for later in steps[place:] if later in own)


def test_two_birds_side_by_side() -> None:
    """Whatever is written for either is set out in display order, without all."""
    male, female, juvenile = map(known, ("male", "female", "juvenile"))
    assert union_plumages([ALL, female, male], [juvenile, ALL, male]) == (male, female, juvenile)


def test_all_stands_only_where_it_stands_alone() -> None:
    """If nothing else is written for either bird, all is compared; if nothing at all, nothing is."""
    assert union_plumages([ALL], []) == (ALL,)
    assert union_plumages([], [ALL]) == (ALL,)
    assert union_plumages([], []) == ()


@given(st.lists(plumages), st.lists(plumages))
def test_sides_do_not_matter(a: list[Plumage], b: list[Plumage]) -> None:
    """The plumages to compare are the same from either side."""
    assert union_plumages(a, b) == union_plumages(b, a)
