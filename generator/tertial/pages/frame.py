"""What stands round every page of a guide: its title, its menu, and who keeps it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from tertial.grouping import groups
from tertial.pages.site import (
    BY_CODE,
    COMPARE,
    FEED,
    FIND,
    FLOCKS,
    GROUPS,
    LADDER,
    LIST_ORDER,
    METHOD,
    OUTINGS,
    PAIRS,
    PARTS,
    PLACES,
    SORTING,
    UNSOLVED,
    WORDS,
    Frame,
    Link,
    said,
)

if TYPE_CHECKING:
    from tertial.guide import Guide
    from tertial.pages.site import Site

MENU: Final = (
    (("Find", FIND), ("Species", LIST_ORDER), ("Codes", BY_CODE), ("Size", LADDER)),
    (("Look-alikes", PAIRS), ("Groups and keys", GROUPS), ("Any birds", COMPARE), ("Sorting out", SORTING)),
    (
        ("Flocks", FLOCKS),
        ("Unsolved", UNSOLVED),
        ("Outings", OUTINGS),
        ("Places", PLACES),
        ("Parts of a bird", PARTS),
        ("Words for marks", WORDS),
        ("Method", METHOD),
    ),
)
"""The main pages: to birds, to what tells them apart, to the journal and what explains it."""


def frame_of(site: Site) -> Frame:
    """Give the frame of every page; the menu leaves out what the guide does not have."""
    guide, settings = site.guide, site.guide.settings
    has = {
        FIND: any(guide.accounts()),
        LADDER: bool(guide.species),
        PAIRS: bool(guide.pairs),
        GROUPS: bool(groups(guide)),
        COMPARE: bool(guide.species),
        SORTING: bool(guide.species),
        FLOCKS: bool(guide.flocks),
        UNSOLVED: bool(guide.unsolved),
        OUTINGS: bool(guide.outings),
        PLACES: bool(guide.places),
    }
    menu = (tuple(Link(site.say(text), address) for text, address in ways if has.get(address, True)) for ways in MENU)
    return Frame(
        said(settings.title) or site.say("A field guide"),
        said(settings.author),
        said(settings.licence),
        site.wording.tag,
        tuple(ways for ways in menu if ways),
        said(settings.base_address),
        FEED if settings.base_address and _has_dates(guide) else "",
        FIND if has[FIND] else "",
    )


def _has_dates(guide: Guide) -> bool:
    dated = (account.head.written or account.head.changed for account in guide.accounts())
    return bool(guide.outings) or any(dated)
