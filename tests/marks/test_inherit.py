"""What one plumage takes over from another, on worked birds."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tertial.marks.inherit import Inherited, inherit, union_plumages
from tertial.marks.plumages import ALL, Plumage, chain

ADULT = Plumage("adult")
MALE = Plumage("adult", "male")
FEMALE = Plumage("adult", "female")
JUVENILE = Plumage("juvenile")
JUVENILE_MALE = Plumage("juvenile", "male")
BREEDING_MALE = Plumage("adult", "male", "breeding")

some = st.sampled_from([ALL, ADULT, MALE, FEMALE, JUVENILE, JUVENILE_MALE, BREEDING_MALE, Plumage(morph="dark")])
records = st.dictionaries(some, st.dictionaries(st.sampled_from(["bill", "nape", "crown"]), st.integers()))


def test_a_nape_from_all_says_so() -> None:
    """What was written for all holds for the male, with its origin."""
    written = {ALL: {"nape": "black"}, MALE: {"crown": "red"}}
    assert inherit(written, MALE) == (Inherited("crown", "red", MALE), Inherited("nape", "black", ALL))
    assert [statement.from_all for statement in inherit(written, MALE)] == [False, True]


def test_a_juvenile_takes_nothing_from_the_male() -> None:
    """With only the male written, nothing is known of the juvenile's bill."""
    written = {MALE: {"bill": "black"}, ADULT: {"bill": "dark"}}
    assert inherit(written, JUVENILE) == ()
    assert inherit(written, JUVENILE_MALE) == ()


def test_a_juvenile_male_follows_the_juvenile() -> None:
    """The same age without sex speaks before all."""
    written = {ALL: {"bill": "black", "nape": "white"}, JUVENILE: {"bill": "grey"}, JUVENILE_MALE: {"crown": "red"}}
    assert inherit(written, JUVENILE_MALE) == (
        Inherited("crown", "red", JUVENILE_MALE),
        Inherited("bill", "grey", JUVENILE),
        Inherited("nape", "white", ALL),
    )


def test_the_more_particular_word_wins_part_by_part() -> None:
    """A breeding male takes each part from the nearest plumage that has it."""
    written = {
        ALL: {"bill": 1, "nape": 1, "crown": 1},
        ADULT: {"bill": 2, "nape": 2},
        MALE: {"bill": 3},
    }
    found = {statement.part: (statement.value, statement.origin) for statement in inherit(written, BREEDING_MALE)}
    assert found == {"bill": (3, MALE), "nape": (2, ADULT), "crown": (1, ALL)}


def test_a_key_may_hold_an_aspect() -> None:
    """A caller that inherits aspect by aspect gets the shape from all and the colour from the female."""
    written = {
        ALL: {("bill", "shape"): "stout", ("bill", "colour"): "black"},
        FEMALE: {("bill", "colour"): "yellow"},
    }
    found = {statement.part: statement.value for statement in inherit(written, FEMALE)}
    assert found == {("bill", "colour"): "yellow", ("bill", "shape"): "stout"}


@given(records, some)
def test_each_statement_is_the_first_of_the_chain(written: dict[Plumage, dict[str, int]], plumage: Plumage) -> None:
    """Nothing written along the chain is lost, and nothing nearer was passed over."""
    steps = chain(plumage)
    found = {statement.part: statement for statement in inherit(written, plumage)}
    assert set(found) == {part for step in steps for part in written.get(step, {})}
    for part, statement in found.items():
        bearers = [step for step in steps if part in written.get(step, {})]
        assert statement.origin == bearers[0]
        assert statement.value == written[bearers[0]][part]


def test_two_birds_side_by_side() -> None:
    """Whatever is written for either is set out in display order, without all."""
    assert union_plumages([ALL, FEMALE, MALE], [JUVENILE, ALL, MALE]) == (MALE, FEMALE, JUVENILE)


def test_all_stands_only_where_it_stands_alone() -> None:
    """If nothing else is written for either bird, all is compared; if nothing at all, nothing is."""
    assert union_plumages([ALL], []) == (ALL,)
    assert union_plumages([], [ALL]) == (ALL,)
    assert union_plumages([], []) == ()


@given(st.lists(some), st.lists(some))
def test_sides_do_not_matter(a: list[Plumage], b: list[Plumage]) -> None:
    """The plumages to compare are the same from either side."""
    assert union_plumages(a, b) == union_plumages(b, a)
