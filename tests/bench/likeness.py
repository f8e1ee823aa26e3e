"""How fast look-alikes are found, and in how much memory: ``python tests/bench/likeness.py [BIRDS]``.

Three plumages a bird, each with some forty of sixty marks and two measures, all in one size step and one
month, so that no pair may be passed over. The yardstick is the plain function of the same figures, run in
between on pairs drawn at random and scaled to all pairs. Seconds are of processor time. Nothing here is
a test: figures are for reading.
"""

from __future__ import annotations

import random
import resource
import statistics
import sys
import time
from collections import defaultdict
from itertools import combinations
from typing import TYPE_CHECKING

from tertial.marks.alike import Candidate, alike
from tertial.marks.likeness import Mark, Profile, likeness
from tertial.marks.statements import Aspect, Claim, Key, Quality, Statement

if TYPE_CHECKING:
    from collections.abc import Callable

ROUNDS = 3
PAIRS = 5_000
MARKS = 60
RECORDED = 2 / 3
WORDS = [str(number) for number in range(24)]
OFTEN = [1 / (rank + 1) for rank in range(len(WORDS))]
SHADES = ((), (), (), ("pale",), ("dark",))
WEIGHTS = (0.9,) * 8 + (1.0, 0.8, 0.6, 0.3)
SEVERAL = (1,) * 9 + (2,)


def agreement(_: Aspect, first: Quality, second: Quality) -> float:
    """Stand in for the word lists: equal words agree, shades part them, neighbours are near."""
    if first.word == second.word:
        return 1.0 if first.shades == second.shades else 0.75
    return 0.5 if abs(int(first.word) - int(second.word)) == 1 else 0.0


def statement(chance: random.Random, key: Key) -> Statement:
    """Make up a statement: mostly one plain term, a tenth each of alternatives and of two terms together.

    Terms are used as words are in any text: a few often, most of them rarely.
    """
    weight, count = chance.choice(WEIGHTS), chance.choice(SEVERAL)
    claims = set()
    for _ in range(count):
        words = chance.choices(WORDS, OFTEN, k=chance.choice(SEVERAL))
        terms = {Quality(word, chance.choice(SHADES)) for word in words}
        claims.add(Claim(tuple(sorted(terms)), weight / count))
    return Statement(key, tuple(sorted(claims, key=lambda claim: claim.qualities)))


def plumages(birds: int) -> list[Candidate]:
    """Make up all plumages, the same every time."""
    chance = random.Random(11)
    aspects = tuple(Aspect)[1:]
    marks = [Mark(f"part {at:02}", Key(aspects[at % len(aspects)])) for at in range(MARKS)]
    found = []
    for bird in range(birds):
        for plumage in ("male", "female", "juvenile"):
            said = {mark: statement(chance, mark.key) for mark in marks if chance.random() < RECORDED}
            measures = {"length": chance.uniform(14, 18), "mass": chance.uniform(20, 33)}
            described = Profile(said, measures)
            found.append(Candidate(f"{bird:05}", plumage, described, 3, frozenset({5}), frozenset()))
    return found


def seconds(task: Callable[[], object]) -> float:
    """Time one run by the processor, so that a busy machine does not matter."""
    begin = time.process_time()
    task()
    return time.process_time() - begin


def main(birds: int) -> None:
    """Measure in turn, and print medians."""
    everyone = plumages(birds)
    chance = random.Random(13)
    pairs = [chance.sample(everyone, 2) for _ in range(PAIRS)]
    count = sum(1 for _ in combinations(everyone, 2))
    blocks, loops = [], []
    for _ in range(ROUNDS):
        loops.append(seconds(lambda: [likeness(a.described, b.described, agreement) for a, b in pairs]))
        blocks.append(seconds(lambda: alike(everyone, agreement)))
    plain = statistics.median(loops) * count / PAIRS
    fast = statistics.median(blocks)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    distinct: dict[Mark, set[Statement]] = defaultdict(set)
    for each in everyone:
        for mark, said in each.described.statements.items():
            distinct[mark].add(said)
    print(f"{birds} birds, {len(everyone)} plumages, {count} pairs, median of {ROUNDS} interleaved runs")
    print(f"  distinct statements of a mark, mean {statistics.mean(len(said) for said in distinct.values()):.0f}")
    print(f"  look-alikes                  {fast:8.2f} s")
    print(f"  plain function, scaled up    {plain:8.2f} s")
    print(f"  look-alikes / plain function {fast / plain:8.4f}")
    print(f"  peak memory                  {peak:8.0f} MiB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
