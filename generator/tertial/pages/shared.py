"""What several pages of one pair are made of: made once, and asked for by each of them."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from tertial.side_by_side import compare_plumages, missing_records

if TYPE_CHECKING:
    from tertial.guide import Species
    from tertial.marks.compare import Comparison
    from tertial.marks.wanted import Wanted
    from tertial.pages.site import Site


def comparisons_of(site: Site, first: Species, second: Species) -> tuple[Comparison, ...]:
    """Set two species side by side in every plumage that either account describes."""
    compare = partial(compare_plumages, site.guide, first, second)
    return first.sheet.shared(site.made, f"comparisons of {first.path} and {second.path}", compare)


def wanted_of(site: Site, first: Species, second: Species) -> tuple[Wanted, ...]:
    """Give the records of two species that are missing and would help most."""
    find = partial(missing_records, site.guide, first, second)
    return first.sheet.shared(site.made, f"wanted of {first.path} and {second.path}", find)
