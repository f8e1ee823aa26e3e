"""A bird that was seen, held against what accounts say: fits, contradicts, or not recorded.

One bird is one bird: how often a state occurs does not matter once an account allows it at all. There
is no score and no percentage, only the mark that says so.
"""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.separation import agreement_of_sets, by_facet, separate
from tertial.marks.statements import Claim, Statement
from tertial.marks.verdicts import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from tertial.marks.describe import Described, Told
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Key, Reading
    from tertial.marks.words import Words

_ALIKE: Final = 0.5
"""A state that agrees this far with one that the account allows is allowed."""

_HARDLY: Final = 0.9
"""A separation of a bird seen from which hardly any bird looks like that: what is said plainly, or rarely not so."""


class Fit(StrEnum):
    """What an account says of something that was seen."""

    FITS = "fits"
    CONTRADICTS = "contradicts"
    NOT_RECORDED = "not recorded"


class FitRow(NamedTuple):
    """One thing that was seen, against one account."""

    word: str
    """The part."""

    key: Key
    """The aspect and place."""

    seen: Reading
    """What was seen of it."""

    told: Told | None
    """What the account says, if anything."""

    fit: Fit
    """Whether the two go together."""


class Fitting(NamedTuple):
    """Everything that was seen, against one plumage of one account."""

    plumage: Plumage
    """The plumage."""

    rows: tuple[FitRow, ...]
    """One for each thing seen that was understood."""

    def count(self, fit: Fit) -> int:
        """Give the number of rows with a fit."""
        return sum(row.fit is fit for row in self.rows)

    @property
    def rank(self) -> tuple[int, int, tuple[int, ...]]:
        """A sort key: fewest contradictions first, then most fits."""
        return (self.count(Fit.CONTRADICTS), -self.count(Fit.FITS), self.plumage.order)


def fit(seen: Mapping[str, Reading], account: Iterable[Described], words: Words) -> tuple[Fitting, ...]:
    """Hold what was seen of a bird against every plumage of an account, the best fitting first.

    :param seen: phrases as read, by the preferred word of their part.
    :param account: the plumages of one species.
    """
    return tuple(sorted((_against(seen, described, words) for described in account), key=lambda each: each.rank))


def _against(seen: Mapping[str, Reading], described: Described, words: Words) -> Fitting:
    rows = []
    for word, reading in seen.items():
        told = described.told.get(word, {})
        for statement in (each for whole in reading.statements for each in by_facet(whole, words)):
            there = told.get(statement.key)
            if statement.implied and (there is None or there.statement.implied):
                continue
            found = fit_of(statement, there.statement, words) if there else Fit.NOT_RECORDED
            rows.append(FitRow(word, statement.key, reading, there, found))
    return Fitting(described.plumage, tuple(rows))


@lru_cache(maxsize=65536)
def fit_of(seen: Statement, told: Statement, words: Words) -> Fit:
    """Say whether one thing seen goes with what an account says of it.

    It fits if any state seen is one that the account allows, however rarely. It contradicts if hardly any
    bird, as the account has it, looks like that. In between, the account does not say enough.
    """
    aspect = seen.key.aspect
    allowed = [
        agreement_of_sets(aspect, a.qualities, b.qualities, words) >= _ALIKE
        for a in seen.claims
        for b in told.claims
        if a.negative == b.negative
    ]
    if any(allowed):
        return Fit.FITS
    found = separate(_as_seen(seen), told, words)
    if found.value >= _HARDLY:
        return Fit.CONTRADICTS
    return Fit.FITS if found.verdict is Verdict.SHARED else Fit.NOT_RECORDED


def _as_seen(seen: Statement) -> Statement:
    """Take the weights for what they are of a single bird: one of its states is so, and that is all there is."""
    total = sum(claim.weight for claim in seen.claims) or 1.0
    claims = tuple(Claim(claim.qualities, claim.weight / total, claim.negative) for claim in seen.claims)
    return Statement(seen.key, claims, stated=True)
