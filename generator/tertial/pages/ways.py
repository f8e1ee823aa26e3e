"""Ways to a bird that no list of names is: the colour of a part, where it lives and was seen, and what is new."""

from __future__ import annotations

from collections import defaultdict
from functools import cache, partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.plumages import ALL
from tertial.marks.statements import Aspect
from tertial.pages.browse import of_all
from tertial.pages.browse_shelf import shelf_of
from tertial.pages.facts import counted, habitats, sketch_view
from tertial.pages.marks import Swatch
from tertial.pages.naming import account_named, plumage_as_written
from tertial.pages.news import news
from tertial.pages.site import COLOURS, NEWS, WHERE, Link, Page, Site, account_path
from tertial.pages.tongues import woven

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from tertial.guide import Account, Flock, Species
    from tertial.marks.statements import Statement
    from tertial.pages.browse_shelf import Shelf
    from tertial.pages.pictures import PictureView


class Shown(NamedTuple):
    """A bird, flock or other account with its sketch beside its name."""

    name: Link
    sketch: PictureView | None
    note: str
    """What is to be added: the plumages it is true of, or a number; '' for nothing."""


class OfColour(NamedTuple):
    """A colour of a part."""

    swatch: Swatch
    birds: tuple[Shown, ...]
    """Birds that have it, in list order, each with the plumages."""


class OfPart(NamedTuple):
    """A part and its colours."""

    part: Link
    id: str
    colours: tuple[OfColour, ...]
    """From that of most birds to that of fewest."""


class ColoursView(NamedTuple):
    """Birds by the colour of a part."""

    parts: tuple[OfPart, ...]
    """In the order of evidence, head to tail."""


class WhereView(NamedTuple):
    """Birds by habitat, and by place."""

    habitats: tuple[tuple[str, tuple[Shown, ...]], ...]
    """Habitats, that of most birds first."""
    places: tuple[tuple[Link, tuple[Shown, ...]], ...]
    """Places by name with the birds counted there, each with the number of outings."""


class NewsView(NamedTuple):
    """What is new."""

    news: tuple[tuple[str, str, Shown], ...]
    """Day, what happened, and where; newest first."""


def way_pages(site: Site) -> Iterator[Page]:
    """Give the pages by colour, by habitat and place, and by date, as far as there is anything to show."""
    if site.guide.species:
        shelf = shelf_of(site)
        view = of_all(shelf, partial(_colours, site, shelf))
        yield Page(
            COLOURS,
            "colours.html",
            site.say("By colour"),
            site.say("Birds by the colour of a part, head to tail."),
            view,
        )
        description = site.say("Birds by habitat, and by the place they were counted at.")
        yield Page(WHERE, "where.html", site.say("Habitats and places"), description, partial(_where, site))
    if news(site):
        description = site.say("Accounts and outings, the latest first.")
        yield Page(NEWS, "news.html", site.say("What is new"), description, partial(_news, site))


def _shown(site: Site) -> Callable[[Account], Shown]:
    """Give what finds name and sketch of an account; each once, since it is shown many times."""

    @cache
    def of(path: str) -> Shown:
        account = site.guide.by_path[path]
        name = Link(account_named(site, account), account_path(account))
        return Shown(name, sketch_view(site, account), "")

    return lambda account: of(account.path)


def _colours(site: Site, shelf: Shelf) -> ColoursView:
    shown = _shown(site)
    found: defaultdict[str, defaultdict[str, dict[str, dict[str, None]]]] = defaultdict(lambda: defaultdict(dict))
    by_code = {bird.species.code: bird.species for bird in shelf.birds}
    for bird in shelf.birds:
        for described in bird.plumages:
            for part, keys in described.told.items():
                for key, told in keys.items():
                    for colour in _claimed(told.statement) if key.aspect is Aspect.COLOUR else ():
                        found[part][colour].setdefault(bird.species.code, {})[told.origin.text] = None
    parts = []
    for part in site.guide.parts_in_order(found):
        colours = tuple(_of_colour(site, word, birds, by_code, shown) for word, birds in found[part].items())
        known = tuple(each for each in colours if each is not None)
        if known:
            ordered = tuple(sorted(known, key=lambda each: (-len(each.birds), each.swatch.name)))
            parts.append(OfPart(site.part(part), shelf.id_of(part), ordered))
    return ColoursView(tuple(parts))


def _claimed(statement: Statement) -> Iterator[str]:
    claims = (claim for claim in statement.claims if not claim.negative)
    return (quality.word for claim in claims for quality in claim.qualities)


def _of_colour(
    site: Site,
    word: str,
    birds: Mapping[str, Iterable[str]],
    by_code: Mapping[str, Species],
    shown: Callable[[Account], Shown],
) -> OfColour | None:
    """Give a colour with its birds; None for a word of colour that has no reference, such as dark."""
    colour = site.guide.words.colour(word)
    if colour is None:
        return None
    return OfColour(
        Swatch(word, colour),
        tuple(
            shown(by_code[code])._replace(
                note="" if ALL.text in plumages else _listed(plumage_as_written(site, each) for each in plumages)
            )
            for code, plumages in birds.items()
        ),
    )


def _listed(names: Iterable[str]) -> str:
    told = tuple(names)
    return woven(", ".join(told), *told)


def _where(site: Site) -> WhereView:
    guide, shown = site.guide, _shown(site)
    by_habitat: defaultdict[str, dict[str, Shown]] = defaultdict(dict)
    accounts: tuple[Species | Flock, ...] = (*guide.species, *guide.flocks)
    for account in accounts:
        for habitat in account.fact(habitats):
            by_habitat[habitat][account.path] = shown(account)
    places = []
    for place in guide.places:
        outings = [set(outing.fact(counted)) for outing in guide.outings if outing.place is place]
        times = {species.path: sum(species.code in codes for codes in outings) for species in guide.species}
        birds = tuple(
            shown(species)._replace(
                note=site.say("%(times)s of %(all)s outings", times=times[species.path], all=len(outings))
            )
            for species in guide.species
            if times[species.path]
        )
        places.append((Link(place.name, account_path(place)), birds))
    ordered = sorted(by_habitat.items(), key=lambda each: (-len(each[1]), each[0]))
    return WhereView(tuple((habitat, tuple(birds.values())) for habitat, birds in ordered), tuple(places))


def _news(site: Site) -> NewsView:
    accounts = {account_path(account): account for account in site.guide.accounts()}
    shown = _shown(site)
    return NewsView(
        tuple(
            (
                site.wording.day(each.date),
                each.what,
                shown(accounts[each.address])._replace(name=Link(each.title, each.address)),
            )
            for each in news(site)
        )
    )
