"""The answer to ``tertial alike``: which birds look alike over all that is recorded, and who says so already."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.answers.columns import indented, usable
from tertial.answers.comparing_json import DIGITS, as_json
from tertial.marks.likeness import LEAST_SHARED
from tertial.resembling import look_alikes

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tertial.guide import Guide, Species
    from tertial.marks.alike import Proposal

MOST = 20
"""Pairs that are shown unless one bird is asked for."""


class Alike(NamedTuple):
    """Two birds that look alike."""

    first: Species
    """The one whose code comes first."""

    second: Species
    """The other."""

    proposal: Proposal
    """In which plumages, and how much."""

    compared: bool
    """One of the accounts names the other, so that the guide compares them."""


def alike_birds(guide: Guide, species: Species | None = None) -> tuple[Alike, ...]:
    """Gather the likest pairs of the guide, or all that one bird is in."""
    compared = {frozenset((pair.first.code, pair.second.code)) for pair in guide.pairs}
    found = [
        Alike(
            guide.by_code[each.first.bird],
            guide.by_code[each.second.bird],
            each,
            frozenset((each.first.bird, each.second.bird)) in compared,
        )
        for each in look_alikes(guide)
        if species is None or species.code in (each.first.bird, each.second.bird)
    ]
    return tuple(found if species else found[:MOST])


def alike_as_text(pairs: Iterable[Alike], columns: int) -> str:
    """Write the pairs for a terminal of so many columns."""
    return "".join(f"{line}\n" for line in _lines(tuple(pairs), usable(columns)))


def _lines(pairs: tuple[Alike, ...], width: int) -> Iterator[str]:
    if not pairs:
        nobody = (
            f"No two birds of about one size, with a month or habitat in common, have {LEAST_SHARED} marks recorded "
            "of both, so none can be called alike yet."
        )
        yield from indented(nobody, width)
        return
    for each in pairs:
        likeness = each.proposal.likeness
        known = "compared" if each.compared else "neither account names the other"
        names = (
            f"{each.first.code} {each.first.name} ({each.proposal.first.plumage}) and "
            f"{each.second.code} {each.second.name} ({each.proposal.second.plumage}): {likeness.shared} marks; {known}"
        )
        yield from indented(names, width, f"{likeness.value or 0:.2f}  ", "      ")


def alike_as_json(pairs: Iterable[Alike]) -> str:
    """Write the pairs as a JSON text."""
    return as_json(
        {
            "pairs": [
                {
                    "first": {"code": each.first.code, "plumage": each.proposal.first.plumage},
                    "second": {"code": each.second.code, "plumage": each.proposal.second.plumage},
                    "likeness": round(each.proposal.likeness.value or 0, DIGITS),
                    "shared marks": each.proposal.likeness.shared,
                    "compared": each.compared,
                }
                for each in pairs
            ],
            "least shared marks": LEAST_SHARED,
        }
    )
