"""Where the links of an entry's text lead. One answer for the checks, which judge it, and for the
pages, which write it down."""

from __future__ import annotations

import posixpath
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import unquote

from tertial.text.prose import heading_id, headings

if TYPE_CHECKING:
    from tertial.guide import Account, Guide
    from tertial.text.source import SourceText, Span

_WEB = re.compile("(?:https?|mailto):", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Target:
    """Where a link leads."""

    account: Account | None = None
    """The account, for a link to another entry's file."""

    fragment: str = ""
    """Id of a heading on that page, or on the page itself when ``account`` is None."""

    web: str = ""
    """An address outside the guide."""


def follow(guide: Guide, source: SourceText, body: Span, target: str) -> Target | None:
    """Follow a link of an entry's text.

    :param target: the link as written: a web or mail address, another entry's file, or ``#`` and
        the words of a heading.
    :returns: where it leads, or None if it leads nowhere.
    """
    if _WEB.match(target):
        return Target(web=target)
    name, _, words = target.partition("#")
    fragment = heading_id(unquote(words)) if words else ""
    if not name:
        return Target(fragment=fragment) if fragment in headings(source.slice(body)) else None
    path = posixpath.normpath(posixpath.join(posixpath.dirname(source.path), unquote(name)))
    account = guide.by_path.get(path)
    if account is None:
        return None
    if fragment and fragment not in headings(account.entry.source.slice(account.entry.body)):
        return None
    return Target(account, fragment)
