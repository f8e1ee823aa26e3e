"""From what the clauses of a phrase say to one statement for each aspect and place.

Constancy becomes weight here. Descriptors that are equally constant make one state; those that are not
are states of their own, and where their weights come to more than all birds, all shrink alike.
"""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import product
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from tertial.marks.statements import ABSENT, PRESENT, Aspect, Claim, Key, Quality, Statement

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from tertial.marks.words import Words

_MOST_STATES: Final = 16
_DIGITS: Final = 9
"""Decimals of a weight; what is beyond them is cut off, so that no sum comes to more than 1."""
_EXACT: Final = 12
"""Decimals within which sums do not depend on their order."""
_PRESENCE: Final = Key(Aspect.PRESENCE)

State: TypeAlias = tuple[Quality, ...]


class Said(NamedTuple):
    """What one clause says of one key."""

    key: Key
    """What it is about."""

    options: tuple[State, ...]
    """The states of which one holds."""

    weight: float
    """How often any of them holds, from 0 to 1."""

    stated: bool
    """The weight comes from a word of constancy."""

    negative: bool = False
    """None of them holds."""

    share: float = 1.0
    """The part of the weight that is its own, where an ``or`` divides it from another key."""


def statements(said: Iterable[Said], words: Words) -> tuple[Statement, ...]:
    """Give one statement for each key, sorted by aspect and place; presence is added where it is implied."""
    by_key: dict[Key, list[Said]] = defaultdict(list)
    for each in map(_plainly, said):
        by_key[each.key].append(each)
    found = [_statement(key, each, words) for key, each in by_key.items() if key != _PRESENCE]
    if presence := _presence(by_key, words):
        found.append(presence)
    order = {aspect: place for place, aspect in enumerate(Aspect)}
    return tuple(sorted(found, key=lambda statement: (order[statement.key.aspect], statement.key.where)))


def _plainly(said: Said) -> Said:
    """Turn "never absent" into "present", and what is denied of presence into its opposite."""
    if said.key != _PRESENCE or not said.negative:
        return said
    opposite = {PRESENT: ABSENT, ABSENT: PRESENT}
    options = tuple(tuple(Quality(opposite[term.word]) for term in option) for option in said.options)
    return said._replace(options=options, negative=False)


def _presence(by_key: Mapping[Key, Sequence[Said]], words: Words) -> Statement | None:
    """State presence as written; failing that, what is described is present as often as it is so."""
    written = list(by_key.get(_PRESENCE, ()))
    described = [
        each for key, saids in by_key.items() if key != _PRESENCE for each in saids if each.weight and not each.negative
    ]
    present = (Quality(PRESENT),)
    if described and not any(present in each.options for each in written):
        most = max(each.weight * each.share for each in described)
        stated = all(each.stated for each in described if each.weight * each.share == most)
        implied = Said(_PRESENCE, (present,), most, stated)
        statement = _statement(_PRESENCE, [*written, implied], words)
        return Statement(_PRESENCE, statement.claims, statement.stated, implied=not written)
    return _statement(_PRESENCE, written, words) if written else None


def _statement(key: Key, said: Sequence[Said], words: Words) -> Statement:
    if len(said) == 1 and len(said[0].options) == 1 and not said[0].negative and said[0].weight:
        # Most phrases are of this kind, and nothing of what follows changes them.
        (only,) = said
        claim = Claim(tuple(sorted(set(only.options[0]))), _cut_off(only.weight * only.share))
        return Statement(key, (claim,), only.stated)
    positive = [each for each in said if each.weight and not each.negative]
    by_facet: dict[str, dict[tuple[float, bool, State], list[Said]]] = defaultdict(lambda: defaultdict(list))
    homes = _homes(positive, words)
    for each in positive:
        for facet, part in _by_facet(each, homes, words):
            # What is there and what is not there make no state together, however constant both are.
            apart = part.options[0] if key == _PRESENCE else ()
            by_facet[facet][each.weight, each.stated, apart].append(part)
    states = _coupled([_states(groups.values()) for _, groups in sorted(by_facet.items())])
    claims = [Claim(state, _cut_off(weight)) for state, weight in states.items()]
    claims += _denials([each for each in said if each.negative], claims)
    stated = bool(claims) and all(each.stated for each in said)
    return Statement(key, tuple(sorted(claims, key=lambda claim: (claim.negative, claim.qualities))), stated)


def _homes(said: Sequence[Said], words: Words) -> dict[str, str]:
    """Put facets together that an ``or`` makes exclude each other ("fast or direct"), each under one of them."""
    homes: dict[str, str] = {}
    for each in said:
        facets = [{words.facet(each.key.aspect, term) for term in option} for option in each.options]
        named = {homes.get(facet, facet) for several in facets for facet in several}
        if any(several != facets[0] for several in facets):
            homes |= dict.fromkeys({*named, *(old for old, home in homes.items() if home in named)}, min(named))
    return homes


def _by_facet(said: Said, homes: Mapping[str, str], words: Words) -> Iterable[tuple[str, Said]]:
    """Part a clause by what its terms are about: girth and curve do not exclude each other."""
    parts: dict[str, list[State]] = defaultdict(list)
    for option in said.options:
        facets: dict[str, list[Quality]] = defaultdict(list)
        for quality in option:
            facet = words.facet(said.key.aspect, quality)
            facets[homes.get(facet, facet)].append(quality)
        for facet, qualities in facets.items():
            parts[facet].append(tuple(qualities))
    for facet, options in parts.items():
        yield facet, said._replace(options=tuple(options), share=said.share * len(options) / len(said.options))


def _states(groups: Iterable[Sequence[Said]]) -> dict[State, float]:
    """Weigh the states of one facet; clauses of like constancy are joined into one state each.

    What is said twice of most birds ("often quick, usually too fast to count") is said of the same birds, and
    holds as often as the stronger clause has it; what is said of some adds to it ("usually ..., sometimes ...").
    """
    found: dict[State, list[float]] = defaultdict(list)
    for group in groups:
        own: dict[State, float] = defaultdict(float)
        count = 1
        for each in group:
            count *= len(each.options)
        share = min(each.share for each in group)
        if count <= _MOST_STATES:
            options = [sum(chosen, ()) for chosen in product(*(each.options for each in group))]
        else:
            options = [option for each in group for option in each.options]
        for option in options:
            own[tuple(sorted(set(option)))] += group[0].weight * share / len(options)
        for state, weight in own.items():
            found[state].append(weight)
    weights = {state: _together(several) for state, several in found.items()}
    total = max(1.0, sum(weights.values()))
    return {state: round(weight / total, _EXACT) for state, weight in weights.items()}


def _together(weights: Sequence[float]) -> float:
    most = [weight for weight in weights if weight > 0.5]
    return max(most, default=0.0) + sum(weight for weight in weights if weight <= 0.5)


def _coupled(facets: Sequence[Mapping[State, float]]) -> dict[State, float]:
    """Join the states of all facets, each laid from 0 on with the weightiest first.

    What is equally constant then holds together; of the rest each keeps its own weight.
    """
    joined: dict[State, float] = {}
    for states in facets:
        ranked = sorted(states.items(), key=lambda item: (-item[1], item[0]))
        joined = _laid_over(sorted(joined.items(), key=lambda item: (-item[1], item[0])), ranked)
    return joined


def _laid_over(first: list[tuple[State, float]], second: list[tuple[State, float]]) -> dict[State, float]:
    if not first or not second:
        return dict(first or second)
    found: dict[State, float] = defaultdict(float)
    at = [0, 0]
    left = [first[0][1], second[0][1]]
    rows = (first, second)
    while any(at[side] < len(rows[side]) for side in (0, 1)):
        open_sides = [side for side in (0, 1) if at[side] < len(rows[side])]
        step = min(left[side] for side in open_sides)
        state = tuple(sorted({quality for side in open_sides for quality in rows[side][at[side]][0]}))
        if step > 10**-_DIGITS:
            found[state] += step
        for side in open_sides:
            left[side] -= step
            if left[side] <= 10**-_DIGITS:
                at[side] += 1
                left[side] = rows[side][at[side]][1] if at[side] < len(rows[side]) else 0.0
    return dict(found)


def _denials(said: Sequence[Said], claims: Sequence[Claim]) -> list[Claim]:
    """Claim what is denied of the birds of which nothing else is said: black ones are not red anyhow."""
    wanted: dict[State, float] = {}
    for each in said:
        for option in each.options:
            for quality in option:
                wanted[quality,] = max(each.weight, wanted.get((quality,), 0.0))
    over = max(0.0, 1.0 - sum(claim.weight for claim in claims))
    same: dict[str, float] = defaultdict(float)
    for claim in claims:
        for word in {term.word for term in claim.qualities}:
            same[word] += claim.weight
    weights: dict[State, float] = {}
    for state, weight in wanted.items():
        weights[state] = min(over, weight - (1.0 - over - same[state[0].word]))
    weights = {state: weight for state, weight in weights.items() if weight > 10**-_DIGITS}
    scale = min(1.0, over / sum(weights.values())) if weights else 1.0
    return [Claim(state, _cut_off(weight * scale), negative=True) for state, weight in weights.items()]


def _cut_off(weight: float) -> float:
    scale = 10.0**_DIGITS
    return math.floor(weight * scale + 10.0 ** (_DIGITS - _EXACT)) / scale
