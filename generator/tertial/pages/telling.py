"""What the head of a page tells to other programs: a sentence of its own, its address, its picture, its data.

A page of one account or a pair has read its entries, so they are asked here and not facts: a fact that changes
in any entry is reason to render every page that asked for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from tertial.guide import Flock, Outing, Pair, Place, Species, Unsolved
from tertial.pages.facts import counted, is_held_back, length, remarks
from tertial.pages.linked_data import linked_data
from tertial.pages.naming import capitalised
from tertial.pages.site import NOT_FOUND
from tertial.sketches.preview import SIZE
from tertial.text.prose import first_sentence
from tertial.wording import PLAIN

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tertial.groups import Group
    from tertial.guide import Account
    from tertial.pages.site import Frame, Page, Site, Subject

_MOST: Final = 200
"""Signs of a description; what goes further is cut at a word. Our own choice."""


@dataclass(frozen=True, slots=True)
class Telling:
    """What the head of a page tells."""

    description: str
    """One sentence or two that no other page has."""

    address: str = ""
    """Where the page is published, in full; '' without a base address, and for the page for none."""

    preview: str = ""
    """Address of a picture of it, in full, or ''."""

    data: Mapping[str, object] | None = None
    """JSON-LD (W3C) in the words of schema.org, as plain values; None for none."""

    preview_size: tuple[int, int] = SIZE
    """Width and height of the picture in pixels."""


def telling(site: Site, frame: Frame, page: Page) -> Telling:
    """Gather what the head of a page tells."""
    description = page.description or _described(site, page.about)
    if page.path == NOT_FOUND or not page.path.endswith(".html"):
        return Telling(description)
    base = frame.base_address
    preview = site.previews.get(page.path) or site.previews.get("", "")
    return Telling(
        description,
        base + page.path if base else "",
        base + preview if base and preview else "",
        None if is_kept_quiet(page.about) else linked_data(site, frame, page, description),
    )


def is_kept_quiet(subject: Subject | None) -> bool:
    """Whether a subject is, or was at, a place that its author holds back: then no program is told of it."""
    place = subject if isinstance(subject, Place) else getattr(subject, "place", None)
    return place is not None and place.fact(is_held_back)


def _described(site: Site, subject: Subject | None) -> str:
    match subject:
        case Species():
            words = _species(site, subject)
        case Pair():
            words = _pair(subject)
        case Flock() | Outing() | Place() | Unsolved():
            words = _account(site, subject)
        case None:
            words = ""
        case _:
            words = _group(subject)
    return _cut(words)


def _species(site: Site, species: Species) -> str:
    size = species.entry.size
    name = f"{species.name} ({species.code})"
    if species.bird and species.bird.family:
        name += f", {species.bird.family}"
    sizes = (size.size_class, size.length) if size else ()
    told = ", ".join(each.value if isinstance(each.value, str) else each.value.text for each in sizes if each)
    sentence = _sentence(site, species)
    if not told and not sentence:
        return f"{name}: marks by plumage, voice, behaviour and look-alikes."
    return f"{name}{f', {told}' if told else ''}. {sentence}".rstrip()


def _pair(pair: Pair) -> str:
    title = f"{pair.first.name} or {pair.second.name}"
    for one, other in ((pair.first, pair.second), (pair.second, pair.first)):
        remark = dict(remarks(one)).get(other.code)
        if remark:
            return f"{title}: {remark}."
    return f"{title}: what tells them apart, plumage by plumage."


def _group(group: Group) -> str:
    names = ", ".join(each.name for each in group.members)
    return f"{capitalised(group.name)}: {names}, their marks in one table and a key."


def _account(site: Site, account: Flock | Outing | Place | Unsolved) -> str:
    sentence = "" if is_kept_quiet(account) else _sentence(site, account)
    match account:
        case Outing():
            start = f", {account.head.start[:5]}" if account.head.start else ""
            minutes, far = length(account)
            long = ", ".join(filter(None, (f"{minutes} minutes" if minutes else "", far)))
            kinds = len(set(counted(account)) - {""})
            told = f"Outing of {PLAIN.day(account.date)}{start}{f', {long}' if long else ''}: {kinds} species counted."
        case Place():
            habitats = ", ".join(each.value for each in account.entry.habitat)
            told = f"{account.name}: {habitats or 'what is met there'}."
        case Flock():
            told = f"{account.name}: who keeps it, when, and how."
        case Unsolved():
            told = f"{account.name}: what was seen, and what it could be."
    return f"{told} {sentence}".rstrip()


def _sentence(site: Site, account: Account) -> str:
    entry = account.entry
    return first_sentence(entry.source.slice(entry.body), site.guide.codes)


def _cut(words: str) -> str:
    if len(words) <= _MOST:
        return words
    return words[:_MOST].rsplit(" ", 1)[0].rstrip(" ,;:.") + "\N{HORIZONTAL ELLIPSIS}"
