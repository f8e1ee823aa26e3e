"""The answer to ``tertial compare``, gathered: two accounts side by side in every plumage asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.account_values import phrases
from tertial.marks.sentences import PlumageSentence, pair_sentences
from tertial.side_by_side import compare_plumages, compare_species, missing_records

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tertial.entries.values import Written
    from tertial.guide import Guide, Species
    from tertial.marks.compare import Comparison
    from tertial.marks.plumages import Plumage
    from tertial.marks.wanted import Wanted


class PairAnswer(NamedTuple):
    """What there is to say of two accounts."""

    first: Species
    """The bird asked for first."""

    second: Species
    """The other."""

    comparisons: tuple[Comparison, ...]
    """Both side by side, a plumage each."""

    sentences: tuple[PlumageSentence, ...]
    """What each plumage comes to, the easiest first."""

    wanted: tuple[Wanted, ...]
    """The records that are missing and would help most."""

    written: tuple[Mapping[Plumage, Mapping[str, Written[str]]], Mapping[Plumage, Mapping[str, Written[str]]]]
    """The phrases of both accounts with their places."""


def compare_pair(guide: Guide, first: Species, second: Species, plumage: Plumage | None = None) -> PairAnswer:
    """Set two accounts side by side.

    :param plumage: the only plumage to compare; without it, every one that either account describes.
    """
    if plumage is None:
        comparisons = compare_plumages(guide, first, second)
    else:
        comparisons = (compare_species(guide, first, second, plumage),)
    return PairAnswer(
        first,
        second,
        comparisons,
        pair_sentences(comparisons),
        missing_records(guide, first, second, *([plumage] if plumage else [])),
        (phrases(first), phrases(second)),
    )
