"""What can be found by a name, kind by kind: the rows by whose numbers all other data of the search tell."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.grouping import groups
from tertial.marks.verdicts import Verdict
from tertial.pages.naming import group_named, named
from tertial.pages.site import METHOD, PARTS
from tertial.pages.tongues import LATIN, Tongued, woven
from tertial.text.slugs import slug_of
from tertial.wording import ENGLISH

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.guide import Flock, Outing, Place, Species, Unsolved
    from tertial.pages.browse_shelf import Json
    from tertial.pages.site import Site

_PLAIN: Final = re.compile("[a-z0-9]+")


class Kind(NamedTuple):
    """A kind of thing to be found."""

    heading: str
    """What its results stand under."""

    before: str
    """What the addresses of its pages begin with."""

    after: str
    """What they end with."""

    rows: tuple[Json, ...]
    """For each its title; its slug, or '' where that is made of the title; its code or ''; and other names, as
    ``with_tongues`` gives texts. Of a pair the numbers of both birds among all rows instead of all that, and its slug
    if not that of the codes."""


def kinds(site: Site) -> tuple[Kind, ...]:
    """Give everything that can be found by a name, accounts first and in the order of ``Guide.accounts``."""
    guide = site.guide
    species = {account.path: at for at, account in enumerate(guide.species)}
    others = 0 if site.wording.parts else 1
    verdicts = tuple(_row(site.say(each), slug_of(each), "", *_english(site, [each][others:])) for each in Verdict)
    return (
        Kind(
            site.say("Species"),
            "species/",
            ".html",
            tuple(_row(named(site, each), each.slug, *_names(site, each)) for each in guide.species),
        ),
        Kind(site.say("Flocks"), "flocks/", ".html", tuple(_their_row(site, each) for each in guide.flocks)),
        Kind(site.say("Outings"), "outings/", ".html", tuple(_outing(site, each) for each in guide.outings)),
        Kind(site.say("Places"), "places/", ".html", tuple(_their_row(site, each) for each in guide.places)),
        Kind(
            site.say("Unsolved birds"),
            "unsolved/",
            ".html",
            tuple(_their_row(site, each) for each in guide.unsolved),
        ),
        Kind(
            site.say("Look-alikes"),
            "pairs/",
            ".html",
            tuple(
                [species[pair.first.path], species[pair.second.path], *_pair_slug(pair.slug, pair.first, pair.second)]
                for pair in guide.pairs
            ),
        ),
        Kind(
            site.say("Groups and keys"),
            "groups/",
            ".html",
            tuple(_row(group_named(site, each), each.slug) for each in groups(guide)),
        ),
        Kind(
            site.say("Parts of a bird"),
            f"{PARTS}#part-",
            "",
            tuple(
                _row(site.wording.part(each.word), slug_of(each.word), "", *_english(site, each.words[others:]))
                for each in guide.parts
            ),
        ),
        Kind(site.say("What a difference is worth"), f"{METHOD}#verdict-", "", verdicts),
    )


def other_names(site: Site, species: Species) -> tuple[str, ...]:
    """Give the names of a species besides that of its account, scientific first."""
    found = {species.scientific: LATIN}
    if species.bird:
        found |= {species.bird.scientific: LATIN}
        found |= dict.fromkeys((species.bird.english, species.bird.name_ibp, species.bird.name_bbl), ENGLISH)
        found |= {species.bird.french: "fr"}
    own = named(site, species)
    return tuple(site.in_tongue(name, language) for name, language in found.items() if name and name != own)


def _names(site: Site, species: Species) -> Iterator[str]:
    yield species.code
    yield from other_names(site, species)


def _english(site: Site, words: Sequence[str]) -> Iterator[str]:
    return (site.in_tongue(word, ENGLISH) for word in words)


def _outing(site: Site, outing: Outing) -> Json:
    place = site.theirs(outing.place.name) if outing.place else ""
    title = ", ".join(filter(None, (site.wording.day(outing.date), place)))
    return _row(woven(title, place), outing.slug, "", outing.date.isoformat())


def _their_row(site: Site, account: Flock | Place | Unsolved) -> Json:
    return _row(site.theirs(account.name), account.slug)


def _pair_slug(slug: str, first: Species, second: Species) -> tuple[str, ...]:
    return () if slug == f"{first.code}-{second.code}".lower() else (slug,)


def _row(title: str, slug: str, *names: str) -> Json:
    plain = "-".join(_PLAIN.findall(title.replace("'", "").lower())) if title.isascii() else ""
    row = [title, "" if slug == plain else slug, *names]
    while not row[-1]:
        row.pop()
    return [with_tongues(each) for each in row]


def with_tongues(text: str) -> Json:
    """Give a text to the script; one with runs in another language as its runs in turn with their languages."""
    return [each for run in text.runs for each in run] if isinstance(text, Tongued) else text
