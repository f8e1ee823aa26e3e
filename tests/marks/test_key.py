"""Keys: information gain against the published table, true answers reach their plumage, and nothing is in vain."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise, product
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.marks.key import Couplet, End, Item, Key, Question, Record, Wanted, make_key
from tertial.marks.splits import entropy, information_gain

if TYPE_CHECKING:
    import random

Plumage = Item[str, int]
MARKS = ("bill", "crown", "tail", "wing bars")
QUESTIONS = tuple(Question(mark, view, ease) for mark, view, ease in zip(MARKS, "abab", (0, 1, 0, 1), strict=True))

# Quinlan 1986, Machine Learning 1:81-106, table 1: outlook, temperature, humidity, windy; class.
MORNINGS = [
    line.split()
    for line in """
    sunny hot high weak N
    sunny hot high strong N
    overcast hot high weak P
    rain mild high weak P
    rain cool normal weak P
    rain cool normal strong N
    overcast cool normal strong P
    sunny mild high weak N
    sunny cool normal weak P
    rain mild normal weak P
    sunny mild normal strong P
    overcast mild high strong P
    overcast hot normal weak P
    rain mild high strong N
    """.strip().splitlines()
]


@pytest.mark.parametrize(
    ("outlook", "column", "gain"),
    [
        ("", 0, 0.246750),
        ("", 1, 0.029223),
        ("", 2, 0.151836),
        ("", 3, 0.048127),
        ("sunny", 1, 0.570951),
        ("sunny", 2, 0.970951),
        ("sunny", 3, 0.019973),
        ("rain", 1, 0.019973),
        ("rain", 2, 0.019973),
        ("rain", 3, 0.970951),
    ],
)
def test_gain_is_that_of_the_published_table(outlook: str, column: int, gain: float) -> None:
    """Quinlan 1986 prints 0.246, 0.029, 0.151 and 0.048; humidity and wind are then the next splits."""
    rows = [row for row in MORNINGS if outlook in ("", row[0])]
    counts = Counter((row[column], row[-1]) for row in rows)
    branches = [[counts[value, label] for label in "PN"] for value in sorted({row[column] for row in rows})]
    assert information_gain(branches) == pytest.approx(gain, abs=1e-6)


def test_entropy_is_that_of_the_published_table() -> None:
    """Quinlan 1986: nine mornings of one class and five of the other leave 0.940286 bits, of one class alone none."""
    assert entropy([9, 5]) == pytest.approx(0.940286, abs=1e-6)
    assert entropy([9, 0]) == entropy([0, 0]) == information_gain([[0.0, 0.0]]) == 0


def decides(_: str, first: int, second: int) -> bool:
    """Judge that states tell birds apart if they lie at least two steps from each other."""
    return abs(first - second) >= 2


def plumage(name: str, **states: int) -> Plumage:
    """Make a plumage; an author's words are the state with a word before it."""
    records = {mark.replace("_", " "): Record(f"about {state}", state) for mark, state in states.items()}
    return Item(name, name.title(), records)


def plumages(most: int) -> st.SearchStrategy[list[Plumage]]:
    """Draw plumages with distinct names, of which any mark may be unrecorded."""
    states = st.dictionaries(
        st.sampled_from(MARKS), st.integers(0, 6).map(lambda state: Record(f"about {state}", state))
    )
    return st.lists(states, max_size=most).map(
        lambda drawn: [Item(f"{at:02}", f"Bird {at}", records) for at, records in enumerate(drawn)]
    )


def truthful(key: Key[str, int], item: Plumage) -> list[End[str, int]]:
    """Follow every way through the key that true answers about a plumage allow."""
    ends: list[End[str, int]] = []
    waiting: list[int | End[str, int]] = [1] if key.couplets else list(key.ends)
    while waiting:
        here = waiting.pop()
        if isinstance(here, End):
            ends.append(here)
            continue
        couplet = key.couplets[here - 1]
        record = item.records.get(couplet.mark)
        waiting += [lead.to for lead in couplet.leads if record is None or record.words in lead.words]
    return ends


@given(plumages(12))
def test_true_answers_reach_the_plumage(items: list[Plumage]) -> None:
    """Whoever answers by the records, either way where there is none, ends with the plumage among those left."""
    key = make_key(items, QUESTIONS, decides)
    for item in items:
        ends = truthful(key, item)
        assert ends
        assert all(item in end.items for end in ends)


@given(plumages(12))
def test_only_what_is_not_recorded_goes_down_both_leads(items: list[Plumage]) -> None:
    """A plumage with a record of the mark goes down one lead, and its words stand there."""
    for couplet in make_key(items, QUESTIONS, decides).couplets:
        for item in {each.name: each for lead in couplet.leads for each in lead.items}.values():
            sides = [lead for lead in couplet.leads if item in lead.items]
            record = item.records.get(couplet.mark)
            assert (len(sides) == 2) == (record is None) == (item in couplet.unrecorded)
            assert record is None or record.words in sides[0].words


@given(plumages(12))
def test_every_couplet_parts_and_every_side_is_decided(items: list[Plumage]) -> None:
    """Each lead loses a plumage, and between what is recorded on both sides the mark decides."""
    for couplet in make_key(items, QUESTIONS, decides).couplets:
        here = {item.name for lead in couplet.leads for item in lead.items}
        unrecorded = {item.name for item in couplet.unrecorded}
        assert all({item.name for item in lead.items} < here for lead in couplet.leads)
        assert all(unrecorded <= {item.name for item in lead.items} for lead in couplet.leads)
        sides = [[item for item in lead.items if item.name not in unrecorded] for lead in couplet.leads]
        for first, second in product(*sides):
            mark = couplet.mark
            assert decides(mark, first.records[mark].state, second.records[mark].state)
        for side, lead in zip(sides, couplet.leads, strict=True):
            assert lead.words == tuple(dict.fromkeys(item.records[couplet.mark].words for item in side))


@given(plumages(10), st.randoms(use_true_random=False))
def test_the_order_of_the_plumages_does_not_matter(items: list[Plumage], chance: random.Random) -> None:
    """Shuffled, the same plumages give the same key."""
    shuffled = chance.sample(items, len(items))
    assert make_key(shuffled, QUESTIONS, decides) == make_key(items, QUESTIONS, decides)


@given(plumages(12))
def test_every_plumage_ends_somewhere_and_numbers_lead_both_ways(items: list[Plumage]) -> None:
    """Couplets are numbered as they are read, and each names the one that names it."""
    key = make_key(items, QUESTIONS, decides)
    assert {item.name for end in key.ends for item in end.items} == {item.name for item in items}
    assert [couplet.number for couplet in key.couplets] == list(range(1, len(key.couplets) + 1))
    targets = [(lead.to, couplet.number) for couplet in key.couplets for lead in couplet.leads]
    numbers = [pair for pair in targets if isinstance(pair[0], int)]
    assert [(couplet.number, couplet.origin) for couplet in key.couplets[1:]] == sorted(numbers)
    assert len(key.ends) == len(targets) - len(numbers) + (not key.couplets and bool(items))
    assert all(couplet.origin < couplet.number for couplet in key.couplets)


@given(plumages(8))
def test_a_small_end_holds_only_what_no_mark_parts(items: list[Plumage]) -> None:
    """No question could part the plumages that end together into two decided sides."""
    for end in make_key(items, QUESTIONS, decides).ends:
        for mark in MARKS:
            states = sorted(item.records[mark].state for item in end.items if mark in item.records)
            assert all(higher - lower < 2 for lower, higher in pairwise(states))
        assert bool(end.missing) <= (len(end.items) > 1)


def test_the_easiest_view_comes_first_and_gain_breaks_ties() -> None:
    """A harder mark that parts all four at once waits for easy ones, of which the more telling is asked first."""
    items = [
        plumage("a", bill=0, tail=0, crown=0),
        plumage("b", bill=3, tail=0, crown=2),
        plumage("c", bill=3, tail=3, crown=4),
        plumage("d", bill=3, tail=3, crown=6),
    ]
    couplets = make_key(items, QUESTIONS, decides).couplets
    assert [(couplet.mark, couplet.view, couplet.origin) for couplet in couplets] == [
        ("tail", "a", 0),
        ("bill", "a", 1),
        ("crown", "b", 1),
    ]


def test_the_order_of_the_questions_settles_what_is_left() -> None:
    """Of marks that are equally easy and equally telling the first in the order of marks is asked."""
    items = [plumage("a", bill=0, tail=0), plumage("b", bill=2, tail=2)]
    assert [c.mark for c in make_key(items, QUESTIONS, decides).couplets] == ["bill"]
    assert [c.mark for c in make_key(items, QUESTIONS[::-1], decides).couplets] == ["tail"]


def test_a_plumage_without_a_record_goes_down_both_leads() -> None:
    """It is told beside the couplet, stands at both ends, and its record is what the ends ask for."""
    items = [plumage("black", bill=0), plumage("yellow", bill=3), plumage("young")]
    key = make_key(items, QUESTIONS, decides)
    (couplet,) = key.couplets
    assert isinstance(couplet, Couplet)
    assert [item.label for item in couplet.unrecorded] == ["Young"]
    assert [[item.name for item in end.items] for end in key.ends] == [["black", "young"], ["yellow", "young"]]
    assert {end.missing for end in key.ends} == {(Wanted("bill", ("young",)),)}
    assert [lead.words for lead in couplet.leads] == [("about 0",), ("about 3",)]


def test_an_end_names_the_mark_that_parts_others_best() -> None:
    """A mark that tells most birds of the key apart is worth recording before one that tells none apart."""
    others = [plumage(f"z{at}", bill=3 * at, tail=3 * at, wing_bars=0) for at in range(1, 5)]
    twins = [plumage("a", tail=0), plumage("b", tail=0)]
    ends = make_key([*others, *twins], QUESTIONS, decides).ends
    (missing,) = [end.missing for end in ends if [item.name for item in end.items] == ["a", "b"]]
    assert [wanted.mark for wanted in missing] == ["bill", "wing bars"]
    assert {wanted.lacking for wanted in missing} == {("a", "b")}


@pytest.mark.parametrize("count", [0, 1])
def test_what_needs_no_key_gets_none(count: int) -> None:
    """Nothing gives no end, one plumage an end that asks for nothing."""
    key = make_key([plumage(f"{at}", bill=at) for at in range(count)], QUESTIONS, decides)
    assert key.couplets == ()
    assert [(len(end.items), end.missing) for end in key.ends] == [(1, ())] * count


def test_sparse_records_do_not_make_a_key_without_end() -> None:
    """Forty plumages, each mark recorded of two of them, end together instead of doubling at every couplet."""
    pairs = list(combinations(range(40), 2))[:300]
    questions = [Question(f"{pair}", "any", 0) for pair in pairs]
    items = [
        Item(f"{at:02}", "", {f"{pair}": Record(f"{at}", 10 * pair.index(at)) for pair in pairs if at in pair})
        for at in range(40)
    ]
    key = make_key(items, questions, decides)
    assert key.couplets == ()
    assert len(key.ends[0].missing) == 3
