"""Where the links of an entry's text lead, which birds a hybrid comes from, and for which species a bird counts.
One answer for the checks, which judge it, and for the pages, which write it down."""

from __future__ import annotations

import posixpath
import re
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import unquote

from tertial.entries.hybrid import parents_of
from tertial.names.birds import GROUP, HYBRID, SPECIES
from tertial.names.fold import fold
from tertial.text.prose import heading_id, headings

if TYPE_CHECKING:
    from tertial.guide import Account, Guide
    from tertial.names.birds import Bird
    from tertial.text.source import SourceText, Span

_LAST = 1_000_000
_WEB = re.compile("(?:https?|mailto):", re.IGNORECASE)


class Target(NamedTuple):
    """Where a link leads."""

    account: Account | None = None
    """The account, for a link to another entry's file."""

    fragment: str = ""
    """Id of a heading on that page, or on the page itself when ``account`` is None."""

    web: str = ""
    """An address outside the guide."""


class Parent(NamedTuple):
    """A bird that a hybrid comes from."""

    text: str
    """As written."""

    code: str
    """Its code; '' where neither the guide nor the list has one for it."""

    is_known: bool
    """The guide or the list knows it."""

    order: int
    """Its place in the list, or after all."""


def parents(guide: Guide, text: str) -> tuple[Parent, ...]:
    """Give both parents of a hybrid in list order, whatever the order of writing; nothing for another text."""
    return tuple(sorted((_parent(guide, each) for each in parents_of(text)), key=lambda parent: parent.order))


def _parent(guide: Guide, text: str) -> Parent:
    birds = guide.names.find(text)
    own = guide.by_code.get(text) or next(
        (each for each in guide.species if fold(each.name) == fold(text) or each.bird in birds), None
    )
    bird = own.bird if own else next(iter(birds), None)
    code = own.code if own else bird.listed_code(guide.scheme) if bird else ""
    return Parent(text, code, bool(own or bird), bird.sequence if bird and bird.sequence else _LAST)


def rank_of(guide: Guide, code: str) -> str:
    """Give the rank of what a code stands for, as ``names.birds`` has it; a bird outside the list is a species."""
    own = guide.by_code.get(code)
    if own and parents_of(own.name):
        return HYBRID
    bird = _bird(guide, code)
    return bird.rank if bird else SPECIES


def species_of(guide: Guide, code: str) -> str:
    """Name the species that a bird under a code is counted for; '' for hybrids and groups, whatever code they have.

    A form is counted with its species: its name begins with theirs. A bird outside the list is one by itself.
    """
    if rank_of(guide, code) in (HYBRID, GROUP):
        return ""
    bird = _bird(guide, code)
    return " ".join(bird.scientific.split()[:2]) if bird else code


def _bird(guide: Guide, code: str) -> Bird | None:
    own = guide.by_code.get(code)
    return own.bird if own else guide.names.by_code(code, guide.scheme)


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
        return Target(fragment=fragment) if fragment in headings(source.slice(body), guide.codes) else None
    path = posixpath.normpath(posixpath.join(posixpath.dirname(source.path), unquote(name)))
    account = guide.by_path.get(path)
    if account is None:
        return None
    if fragment and fragment not in headings(account.passage.words, guide.codes):
        return None
    return Target(account, fragment)
