"""What is new, by the author's own dates: for the front page, and as a feed (Atom, RFC 4287).

Without dates there is no news, and without the guide's address there is no feed: its entries need
ids that hold for good. The clock has no part in it.
"""

from __future__ import annotations

import datetime as dt
from functools import partial
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import quote

from tertial.guide import Outing, Place, Unsolved
from tertial.pages.frame import frame_of
from tertial.pages.naming import account_named, capitalised
from tertial.pages.site import FEED, FRONT, Page, Site, account_path
from tertial.pages.tongues import language_of, woven

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Account

_MOST = 40


class News(NamedTuple):
    """One thing that is new."""

    date: dt.date
    """The author's date for it."""

    first: dt.date
    """The date of its first appearance."""

    what: str
    """In a word, what happened: something is new, was changed, settled, or an outing was made."""

    title: str
    """What it is about."""

    address: str
    """Address of its page."""

    id: str
    """What a feed knows it by, below the guide's address: its file, because names and days may be mended (RFC 4287,
    section 4.2.6: an id never changes). It leads nowhere."""

    @property
    def language(self) -> str:
        """Tag of the language of the title; '' for that of the feed, or for more than one."""
        return language_of(self.title)


class FeedView(NamedTuple):
    """The feed."""

    updated: str
    """Date of the latest news, as RFC 3339 writes it."""
    front: str
    items: tuple[tuple[News, str, str, str], ...]
    """News with what happened when, in words, and both dates as RFC 3339 writes them: latest and first."""


def news(site: Site) -> tuple[News, ...]:
    """Give what is new, the latest first; of equal dates by title."""
    found = [each for account in site.guide.accounts() if (each := _of(site, account)) is not None]
    return tuple(sorted(found, key=lambda each: (-each.date.toordinal(), site.wording.order(each.title), each.address)))


def _of(site: Site, account: Account) -> News | None:
    address, file = account_path(account), quote(account.path, errors="surrogateescape")
    if isinstance(account, Outing):
        place = site.theirs(account.place.name) if account.place else ""
        title = woven(", ".join(filter(None, (site.wording.day(account.date), place))), place)
        return News(account.date, account.date, site.say("outing"), title, address, file)
    if isinstance(account, Place):
        return None
    written, changed = account.head.written, account.head.changed
    if not written and not changed:
        return None
    latest, first = dt.date.fromisoformat(changed or written), dt.date.fromisoformat(written or changed)
    if isinstance(account, Unsolved):
        what = site.say("settled") if account.head.settled else site.say("unsolved")
    else:
        what = site.say("changed") if changed else site.say("new")
    return News(latest, first, what, account_named(site, account), address, file)


def feed_pages(site: Site) -> Iterator[Page]:
    """Give the feed, where there are dates and an address."""
    frame = frame_of(site)
    if frame.feed:
        yield Page(
            FEED,
            "feed.xml",
            frame.title,
            site.say("What is new in %(title)s.", title=frame.title),
            partial(_feed, site),
        )


def _feed(site: Site) -> FeedView:
    items = news(site)[:_MOST]
    return FeedView(
        _moment(items[0].date),
        FRONT,
        tuple((each, _summary(site, each), _moment(each.date), _moment(each.first)) for each in items),
    )


def _summary(site: Site, each: News) -> str:
    return site.say("%(what)s, %(day)s.", what=capitalised(each.what), day=site.wording.day(each.date))


def _moment(date: dt.date) -> str:
    """A day as a moment of RFC 3339: its beginning in UTC, so that no time zone can move it."""
    return f"{date.isoformat()}T00:00:00Z"
