"""Proposals of look-alikes: the figures of the plain function, and who may be proposed at all."""

from __future__ import annotations

import random
import subprocess
import sys
from itertools import combinations

import pytest

from tertial.marks.alike import Candidate, alike
from tertial.marks.likeness import LEAST_SHARED, Likeness, Mark, Profile, likeness
from tertial.marks.statements import ABSENT, PRESENT, Aspect, Claim, Key, Quality, Statement

WORDS = ("black", "grey", "white", "whitish", "rufous", "rusty", "yellow")
MARKS = [Mark(f"part {at}", Key(aspect)) for at, aspect in enumerate([*Aspect, *Aspect])]


def agreement(_: Aspect, first: Quality, second: Quality) -> float:
    """Agree by nearness in the list of words, so that most pairs agree somewhat."""
    return max(0.0, 1 - abs(WORDS.index(first.word) - WORDS.index(second.word)) / 3)


def statement(chance: random.Random, key: Key) -> Statement:
    """Make up any statement: alternatives, terms together, denials, absences, or nothing settled."""
    if key.aspect is Aspect.PRESENCE:
        word = chance.choice((PRESENT, ABSENT))
        return Statement(key, (Claim((Quality(word),), 0.9),), implied=word == PRESENT and chance.random() < 0.5)
    count = chance.choice((0, 1, 1, 1, 2, 3))
    states = {tuple(sorted(map(Quality, chance.sample(WORDS, chance.choice((1, 1, 2)))))) for _ in range(count)}
    weight = chance.choice((1.0, 0.9, 0.3))
    return Statement(key, tuple(Claim(state, weight / count, chance.random() < 0.2) for state in sorted(states)))


def candidate(chance: random.Random, bird: str, plumage: str) -> Candidate:
    """Make up a plumage with most marks, two measures, a size and a place, any of which may be missing."""
    said = {mark: statement(chance, mark.key) for mark in MARKS if chance.random() < 0.8}
    measures = {name: chance.uniform(10, 20) for name in ("length", "wing") if chance.random() < 0.8}
    rung = chance.choice((None, 1, 2, 3))
    months = frozenset(chance.sample(range(1, 13), chance.choice((0, 2))))
    habitats = frozenset(chance.sample(["river wood", "reservoir", "field"], chance.choice((0, 1))))
    return Candidate(bird, plumage, Profile(said, measures), rung, months, habitats)


def candidates(seed: int) -> list[Candidate]:
    """Make up more plumages than one block holds."""
    chance = random.Random(seed)
    return [candidate(chance, f"{bird:03}", plumage) for bird in range(140) for plumage in ("female", "male")]


def may_meet(first: Candidate, second: Candidate) -> bool:
    """Say it again in the words of the design."""
    near = first.rung is not None and second.rung is not None and abs(first.rung - second.rung) <= 1
    return first.bird != second.bird and near and bool(first.months & second.months or first.habitats & second.habitats)


def best_of_all(everyone: list[Candidate]) -> dict[tuple[str, str], Likeness]:
    """Find the greatest likeness of every two birds pair by pair."""
    found: dict[tuple[str, str], Likeness] = {}
    for one, other in combinations(everyone, 2):
        if may_meet(one, other):
            both = likeness(one.described, other.described, agreement)
            known = found.get((one.bird, other.bird), Likeness(-1.0, 0))
            if both.ranked and both.value is not None and known.value is not None and both.value > known.value:
                found[one.bird, other.bird] = both
    return found


def test_blocks_and_the_plain_function_find_the_same() -> None:
    """Every pair of birds that may meet is proposed with the figures that the plain function gives, likest first."""
    everyone = candidates(1)
    found = alike(everyone, agreement, limit=len(everyone))
    expected = best_of_all(everyone)
    assert len(found) == len(expected) > 1000
    for each in found:
        plain = likeness(each.first.described, each.second.described, agreement)
        assert each.likeness.value == pytest.approx(plain.value, abs=1e-12)
        assert each.likeness.shared == plain.shared >= LEAST_SHARED
        assert each.likeness.value == pytest.approx(expected[each.first.bird, each.second.bird].value, abs=1e-12)
    values = [each.likeness.value or 0.0 for each in found]
    assert values == sorted(values, reverse=True)


def test_a_limit_keeps_the_likest_of_each_plumage() -> None:
    """With one proposal a plumage, each bird that may meet another is still proposed with its likest."""
    everyone = candidates(3)
    every, few = alike(everyone, agreement, len(everyone)), alike(everyone, agreement, 1)
    assert len(few) <= len(everyone)
    assert few[0] == every[0]
    assert {bird for each in few for bird in (each.first.bird, each.second.bird)} == {
        bird for each in every for bird in (each.first.bird, each.second.bird)
    }


def test_the_order_of_the_plumages_makes_no_difference() -> None:
    """Shuffled, the same birds come in the same order with the same figures."""
    everyone = candidates(4)
    shuffled = random.Random(5).sample(everyone, len(everyone))
    assert alike(shuffled, agreement) == alike(everyone, agreement)


@pytest.mark.parametrize(
    ("rung", "months", "habitats", "marks", "proposed"),
    [
        (3, {5}, set(), 8, True),
        (4, {5}, set(), 8, True),
        (3, set(), {"reservoir"}, 8, True),
        (3, {5}, set(), 7, False),
        (5, {5}, set(), 8, False),
        (None, {5}, set(), 8, False),
        (3, {6}, {"field"}, 8, False),
        (3, set(), set(), 8, False),
    ],
)
def test_only_birds_that_can_be_confused_are_proposed(
    rung: int | None, months: set[int], habitats: set[str], marks: int, proposed: bool
) -> None:
    """Within one size step, with a month or habitat in common, and on eight shared marks at least."""
    said = {mark: Statement(mark.key, (Claim((Quality("white"),), 0.9),)) for mark in MARKS[1 : marks + 1]}
    first = Candidate("BLPE", "male", Profile(said, {}), 3, frozenset({4, 5}), frozenset({"reservoir"}))
    second = Candidate("WHPE", "male", Profile(said, {}), rung, frozenset(months), frozenset(habitats))
    assert [(each.first.bird, each.likeness) for each in alike([second, first], agreement)] == (
        [("BLPE", Likeness(1.0, marks))] if proposed else []
    )


def test_nothing_comes_of_nothing() -> None:
    """Without any plumage there is no proposal."""
    assert alike([], agreement) == ()


def test_numpy_waits_until_a_likeness_is_asked_for() -> None:
    """The rooms can be imported without NumPy, which takes longer to load than a small command as a whole."""
    words = "import sys, tertial.marks.alike, tertial.marks.key; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", words], check=False).returncode == 0
