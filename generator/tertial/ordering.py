"""The order in which two processes render pages, so that each asks mostly for entries that it has read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.grouping import groups
from tertial.pages.browse import DATA
from tertial.pages.cards import card_sheets
from tertial.pages.site import COLOURS, COMPARE, SORTING, account_path, card_path, group_path, pair_path

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tertial.guide import Guide


def in_order(guide: Guide, pages: Iterable[str]) -> list[str]:
    """Order pages so that of two processes which begin at either end each asks mostly for entries that it has read.

    In front stands what looks up in the marks of all accounts, so that one process alone gathers them; then what
    is made of one entry or a few, in the order of entries; then all that is made of heads and facts.
    """
    owners = {account_path(account): account.path for account in guide.accounts()}
    for pair in guide.pairs:
        owners |= dict.fromkeys((pair_path(pair), card_path(pair)), pair.first.path)
    owners |= {path: guide.pairs[at].first.path for path, at in card_sheets(guide).items()}
    owners |= {group_path(group.slug): group.members[0].path for group in groups(guide)}

    def place(page: str) -> tuple[int, str]:
        if page.startswith(f"{DATA}/") or page in (COLOURS, COMPARE, SORTING):
            return (0, "")
        return (1, owners[page]) if page in owners else (2, "")

    return sorted(pages, key=place)
