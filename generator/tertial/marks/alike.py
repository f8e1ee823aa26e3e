"""Which birds of a guide look alike, whether or not anybody has said so.

Proposals are for an author to look at: a bird of another size, or of another season and other habitats,
is left out, however alike the words are. The figures are those of ``likeness``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tertial.marks.likeness import Agreement, Likeness, Profile


class Candidate(NamedTuple):
    """A plumage that may be taken for another bird."""

    bird: str
    """The code of the bird; its own plumages are not look-alikes of each other."""

    plumage: str
    """The plumage, in words."""

    described: Profile
    """What is known of it."""

    rung: int | None
    """Its place on the ladder of well-known birds; None if no size is written, and it is not proposed."""

    months: frozenset[int]
    """The months in which it is met with, 1 to 12."""

    habitats: frozenset[str]
    """The habitats in which it is met with."""


class Proposal(NamedTuple):
    """Two birds that look alike, in the plumages in which they do so most."""

    first: Candidate
    """The one whose code comes first."""

    second: Candidate
    """The other."""

    likeness: Likeness
    """How alike the two plumages are, always ranked."""


def alike(candidates: Sequence[Candidate], agreement: Agreement, limit: int = 10) -> tuple[Proposal, ...]:
    """Propose look-alikes: birds within one size step that share a month or a habitat.

    :param candidates: plumages in any order; no two of one bird have the same words.
    :param agreement: see ``Agreement``.
    :param limit: how many other plumages each plumage may propose, the likest first.
    :returns: at most one proposal for a pair of birds: the likest first, of equals the one that rests on
        more shared marks, then by code and plumage.
    """
    # NumPy takes longer to import than a small command as a whole.
    from tertial.marks.blocks import likest_pairs  # noqa: PLC0415

    plumages = sorted(candidates, key=lambda each: (each.bird, each.plumage))
    found = likest_pairs(
        [each.described for each in plumages],
        [each.bird for each in plumages],
        [each.rung for each in plumages],
        [each.months | each.habitats for each in plumages],
        agreement,
        limit,
    )
    proposals: dict[tuple[str, str], Proposal] = {}
    for pair in sorted(found, key=lambda pair: (-(found[pair].value or 0.0), -found[pair].shared, pair)):
        first, second = (plumages[place] for place in pair)
        proposals.setdefault((first.bird, second.bird), Proposal(first, second, found[pair]))
    return tuple(proposals.values())
