"""What is new, by the author's own dates: for the front page, and as a feed (Atom, RFC 4287).

Without dates there is no news, and without the guide's address there is no feed: its entries need
addresses that hold for good. The clock has no part in it.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from tertial.guide import Outing, Place, Unsolved
from tertial.pages.accounts import day
from tertial.pages.site import FEED, FRONT, Page, Site, account_path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Account

_MOST = 40


@dataclass(frozen=True, slots=True)
class News:
    """One thing that is new."""

    date: dt.date
    """The author's date for it."""

    first: dt.date
    """The date of its first appearance."""

    what: str
    """``new``, ``changed`` or ``outing``."""

    title: str
    """What it is about."""

    address: str
    """Address of its page."""

    @property
    def day(self) -> str:
        """The date as people read it."""
        return day(self.date)


@dataclass(frozen=True, slots=True)
class FeedView:
    """The feed."""

    updated: str
    """Date of the latest news, as RFC 3339 writes it."""
    front: str
    items: tuple[tuple[News, str, str], ...]
    """News with both dates as RFC 3339 writes them: latest and first."""


def news(site: Site) -> tuple[News, ...]:
    """Give what is new, the latest first; of equal dates by title."""
    found = [each for account in site.guide.accounts() if (each := _of(account)) is not None]
    return tuple(sorted(found, key=lambda each: (-each.date.toordinal(), each.title, each.address)))


def _of(account: Account) -> News | None:
    address = account_path(account)
    if isinstance(account, Outing):
        where = f", {account.place.name}" if account.place else ""
        return News(account.date, account.date, "outing", f"{day(account.date)}{where}", address)
    if isinstance(account, Place):
        return None
    written, changed = account.head.written, account.head.changed
    if not written and not changed:
        return None
    latest, first = dt.date.fromisoformat(changed or written), dt.date.fromisoformat(written or changed)
    if isinstance(account, Unsolved):
        what = "settled" if account.head.settled else "unsolved"
    else:
        what = "changed" if changed else "new"
    return News(latest, first, what, account.name, address)


def feed_pages(site: Site) -> Iterator[Page]:
    """Give the feed, where there are dates and an address."""
    frame = site.frame()
    if frame.feed:
        yield Page(FEED, "feed.xml", frame.title, f"What is new in {frame.title}.", partial(_feed, site))


def _feed(site: Site) -> FeedView:
    items = news(site)[:_MOST]
    return FeedView(
        _moment(items[0].date),
        FRONT,
        tuple((each, _moment(each.date), _moment(each.first)) for each in items),
    )


def _moment(date: dt.date) -> str:
    """A day as a moment of RFC 3339: its beginning in UTC, so that no time zone can move it."""
    return f"{date.isoformat()}T00:00:00Z"
