"""How far two statements on one aspect of a part keep two birds apart.

Separation is 1 less the largest agreement that both statements allow. What neither states may agree with
anything, so that a record which is missing, or vague, never tells two birds apart. For single terms it
is a lower bound of the total variation distance; for sets of terms, near terms and ordered scales it is
an index, and says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations
from typing import TYPE_CHECKING, Final, Protocol

from tertial.marks.statements import Claim
from tertial.marks.transport import best_worth
from tertial.marks.verdicts import Verdict, rounded, verdict_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tertial.marks.statements import Aspect, Quality, Statement

_MOST_MATCHED: Final = 5
"""Sets of more terms than this are matched term by term as they come; nobody writes such phrases."""


class Agreement(Protocol):
    """What is known of single terms; the word lists know it."""

    def agreement(self, aspect: Aspect, a: Quality, b: Quality) -> float:
        """From 0, they exclude each other, to 1, they are one; symmetric."""
        ...

    def is_index(self, aspect: Aspect, a: Quality, b: Quality) -> bool:
        """Whether the agreement rests on nearness or steps, not on the same word."""
        ...

    def facet(self, aspect: Aspect, quality: Quality) -> str:
        """What a term is about within its aspect."""
        ...


@dataclass(frozen=True, slots=True)
class Separated:
    """What the comparison of two statements came to."""

    value: float
    """Separation from 0 to 1."""

    verdict: Verdict
    """The same in a word."""

    index: bool
    """Near terms, steps of a scale or sets of terms had a say, so that it is an index and not a bound."""

    stated: bool
    """Both statements say how constant they are."""


@lru_cache(maxsize=65536)
def by_facet(statement: Statement, words: Agreement) -> tuple[Statement, ...]:
    """Part a statement by what its terms are about: a stout bill and a curved one may be the same bill.

    Each part keeps the weights of the claims that its terms stand in.
    """
    aspect = statement.key.aspect
    found: dict[str, list[Claim]] = {}
    for claim in statement.claims:
        facets: dict[str, list[Quality]] = {}
        for quality in claim.qualities:
            facets.setdefault(words.facet(aspect, quality), []).append(quality)
        for facet, qualities in facets.items():
            found.setdefault(facet, []).append(claim._replace(qualities=tuple(qualities)))
    if not found:
        return (statement,)
    return tuple(
        statement._replace(key=statement.key._replace(facet=facet), claims=_joined(found[facet]))
        for facet in sorted(found)
    )


def _joined(claims: Sequence[Claim]) -> tuple[Claim, ...]:
    """Add up the weights of claims that are left with the same terms."""
    weights: dict[tuple[tuple[Quality, ...], bool], float] = {}
    for claim in claims:
        state = (claim.qualities, claim.negative)
        weights[state] = weights.get(state, 0.0) + claim.weight
    return tuple(Claim(qualities, weight, negative) for (qualities, negative), weight in weights.items())


@lru_cache(maxsize=65536)
def separate(first: Statement, second: Statement, words: Agreement) -> Separated:
    """Compare two statements of one key. Symmetric; 0 for a statement against itself.

    Kept, because birds share most of what is said of them, and many pages ask of the same two.
    """
    aspect = first.key.aspect
    worth = [[_agree(aspect, a, b, words) for b in second.claims] for a in first.claims]
    if len(first.claims) == len(second.claims) == 1:
        forced = first.claims[0].weight + second.claims[0].weight - 1
        value = rounded(max(0.0, forced) * (1 - worth[0][0]))
    else:
        value = rounded(1 - _most_agreement(first, second, worth))
    index = any(_is_index(aspect, a, b, words) for a in first.claims for b in second.claims)
    stated = first.stated and second.stated
    return Separated(value, verdict_of(value, may_settle=stated), index, stated)


def _most_agreement(first: Statement, second: Statement, worth: list[list[float]]) -> float:
    supply = [*(claim.weight for claim in first.claims), first.unstated]
    demand = [*(claim.weight for claim in second.claims), second.unstated]
    return best_worth(supply, demand, [*([*row, 1.0] for row in worth), [1.0] * len(demand)])


def _agree(aspect: Aspect, a: Claim, b: Claim, words: Agreement) -> float:
    """How far two claims may be true of one bird, from 0 to 1."""
    if a.negative and b.negative:
        return 1.0
    if a.negative or b.negative:
        return 1 - max(words.agreement(aspect, x, y) for x in a.qualities for y in b.qualities)
    return agreement_of_sets(aspect, a.qualities, b.qualities, words)


def agreement_of_sets(aspect: Aspect, a: Sequence[Quality], b: Sequence[Quality], words: Agreement) -> float:
    """Jaccard similarity of two sets of terms (Jaccard 1912), near terms counting for what they agree.

    Terms are matched one to one so that the matches agree most; with m the agreement of the matches it
    is m / (size of a + size of b - m).
    """
    few, many = sorted((tuple(a), tuple(b)), key=len)
    ways = permutations(many, len(few)) if len(many) <= _MOST_MATCHED else [many]
    matched = max(sum(words.agreement(aspect, x, y) for x, y in zip(few, way, strict=False)) for way in ways)
    return matched / (len(few) + len(many) - matched)


def _is_index(aspect: Aspect, a: Claim, b: Claim, words: Agreement) -> bool:
    if len(a.qualities) > 1 or len(b.qualities) > 1:
        return True
    return words.is_index(aspect, a.qualities[0], b.qualities[0])
