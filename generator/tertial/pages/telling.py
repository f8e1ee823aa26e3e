"""What the head of a page tells to other programs: a sentence of its own, its address, its picture, its data.

A page of one account or a pair has read its entries, so they are asked here and not facts: a fact that changes
in any entry is reason to render every page that asked for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.guide import Flock, Outing, Pair, Place, Species, Unsolved
from tertial.pages.counts import number_met
from tertial.pages.facts import counted, is_held_back, length, remarks
from tertial.pages.linked_data import linked_data
from tertial.pages.naming import group_named, measure_words, named, pair_named
from tertial.pages.outings import outing_length
from tertial.pages.site import NOT_FOUND, said
from tertial.sketches.preview import SIZE
from tertial.text.prose import first_sentence

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tertial.grouping import Group
    from tertial.guide import Account
    from tertial.pages.site import Frame, Page, Site, Subject

_MOST: Final = 200
"""Signs of a description; what goes further is cut at a word. Our own choice."""


class Telling(NamedTuple):
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

    locale: str = ""
    """The language of the page with a territory; '' where no territory is told."""


def telling(site: Site, frame: Frame, page: Page) -> Telling:
    """Gather what the head of a page tells."""
    description = page.description or _described(site, page.about)
    if page.path == NOT_FOUND or not page.path.endswith(".html"):
        return Telling(description)
    base, is_quiet = frame.base_address, is_kept_quiet(page.about)
    preview = site.previews.get("" if is_quiet else page.path) or site.previews.get("", "")
    return Telling(
        description,
        base + page.path if base else "",
        base + preview if base and preview else "",
        None if is_quiet else linked_data(site, frame, page, description),
        locale=site.wording.locale,
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
            words = _pair(site, subject)
        case Flock() | Outing() | Place() | Unsolved():
            words = _account(site, subject)
        case None:
            words = ""
        case _:
            words = _group(site, subject)
    return _cut(words)


def _species(site: Site, species: Species) -> str:
    size = species.entry.size
    name = f"{named(site, species)} ({species.code})"
    if species.bird and species.bird.family:
        name += f", {species.bird.family}"
    # The class is in the author's words, so that it has no place among those of another language.
    is_ours = site.written_in.partition("-")[0] == site.wording.tag.partition("-")[0]
    size_class = size.size_class if size and is_ours else None
    length_of_it = measure_words(site, size.length.value.text) if size and size.length else ""
    told = ", ".join(filter(None, (said(size_class), length_of_it)))
    sentence = _sentence(site, species)
    if not told and not sentence:
        return site.say("%(bird)s: marks by plumage, voice, behaviour and look-alikes.", bird=name)
    return f"{name}{f', {told}' if told else ''}. {sentence}".rstrip()


def _pair(site: Site, pair: Pair) -> str:
    title = pair_named(site, pair)
    for one, other in ((pair.first, pair.second), (pair.second, pair.first)):
        remark = dict(remarks(one)).get(other.code)
        if remark:
            return f"{title}{site.say(':')} {remark}."
    return site.say("%(birds)s: what tells them apart, plumage by plumage.", birds=title)


def _group(site: Site, group: Group) -> str:
    birds = ", ".join(named(site, each) for each in group.members)
    return site.say(
        "%(group)s: %(birds)s, their marks in one table and a key.", group=group_named(site, group), birds=birds
    )


def _account(site: Site, account: Flock | Outing | Place | Unsolved) -> str:
    is_quiet = is_kept_quiet(account)
    sentence = "" if is_quiet else _sentence(site, account)
    match account:
        case Outing():
            told = _outing(site, account)
        case Place():
            habitats = "" if is_quiet else ", ".join(each.value for each in account.entry.habitat)
            told = f"{account.name}{site.say(':')} {habitats or site.say('what is met there')}."
        case Flock():
            told = site.say("%(flock)s: who keeps it, when, and how.", flock=account.name)
        case Unsolved():
            told = site.say("%(bird)s: what was seen, and what it could be.", bird=account.name)
    return f"{told} {sentence}".rstrip()


def _outing(site: Site, outing: Outing) -> str:
    told = (
        site.wording.day(outing.date),
        outing.head.start[:5] if outing.head.start else "",
        outing_length(site, *length(outing)),
    )
    return site.wording.count(
        "Outing of %(told)s: %(num)s species counted.",
        "Outing of %(told)s: %(num)s species counted.",
        number_met(site.guide, counted(outing)),
        told=", ".join(filter(None, told)),
    )


def _sentence(site: Site, account: Account) -> str:
    return first_sentence(account.passage.words, site.guide.codes)


def _cut(words: str) -> str:
    if len(words) <= _MOST:
        return words
    return words[:_MOST].rsplit(" ", 1)[0].rstrip(" ,;:.") + "\N{HORIZONTAL ELLIPSIS}"
