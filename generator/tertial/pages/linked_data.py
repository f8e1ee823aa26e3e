"""A page as data for other programs: JSON-LD (W3C) in the words of schema.org, and of Darwin Core where those lack one.

Plain values; the template writes them down. Positions of places are not among them.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, Final

from tertial.grouping import Group
from tertial.guide import Flock, Outing, Pair, Place, Species
from tertial.names.birds import SPECIES
from tertial.pages.facts import first_sketch
from tertial.pages.naming import named, other_name
from tertial.pages.pictures import picture_view, plain_picture
from tertial.pages.site import FRONT, account_path
from tertial.pages.tongues import language_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Account
    from tertial.pages.pictures import PlainPicture
    from tertial.pages.site import Frame, Page, Site, Subject

    Node = dict[str, Any]

_CONTEXT: Final = ["https://schema.org", {"scientificName": "http://rs.tdwg.org/dwc/terms/scientificName"}]
"""schema.org has no word of its own for a scientific name; Darwin Core (TDWG) has."""


def linked_data(site: Site, frame: Frame, page: Page, description: str) -> Node:
    """Give what a page is, what it is about, and what it shows.

    :param description: the sentence that the page tells of itself.
    """
    root = frame.base_address or page.root
    languages = _languages(site, frame, page.about)
    own = {"url": root + page.path, "inLanguage": languages, "description": description, **_rights(frame)}
    guide = {"@type": "WebSite", "name": frame.title, "url": root + FRONT}
    if page.path == FRONT:
        return _with_context({**guide, **own})
    return _with_context(
        {
            "@type": "CreativeWork" if page.about else "WebPage",
            "name": page.title,
            **own,
            **_dates(page.about),
            "isPartOf": guide,
            "about": [_taxon(site, root, bird) for bird in _birds(site, page.about)],
            "image": list(_images(site, frame, root, page.about)),
        }
    )


def _languages(site: Site, frame: Frame, subject: Subject | None) -> str | list[str]:
    """The language of a page; both where it shows what its author wrote in another."""
    is_apart = subject is not None and site.written_in != frame.language
    return [frame.language, site.written_in] if is_apart else frame.language


def _theirs(site: Site, frame: Frame, words: str) -> str | Node:
    """The author's words, with their language where it is not that of the page."""
    return _in_tongue(words, "" if site.written_in == frame.language else site.written_in)


def _in_tongue(words: str, language: str) -> str | Node:
    return {"@value": words, "@language": language} if words and language else words


def _with_context(node: Node) -> Node:
    return {"@context": _CONTEXT, **{key: value for key, value in node.items() if value not in ("", [])}}


def _rights(frame: Frame) -> Node:
    rights: Node = {}
    if frame.author:
        rights["author"] = _person(frame.author)
    if frame.licence:
        rights["license"] = _licence(frame.licence)
    return rights


def _person(name: str) -> Node:
    return {"@type": "Person", "name": name}


def _licence(name: str) -> Node:
    """A licence by its name, with its address where that is known."""
    address = _licences().get(name.casefold())
    return {"@type": "CreativeWork", "name": name, **({"url": address} if address else {})}


@cache
def _licences() -> dict[str, str]:
    text = files("tertial.pages").joinpath("data", "licences.csv").read_text(encoding="utf-8")
    return {row["licence"].casefold(): row["address"] for row in csv.DictReader(text.splitlines(), strict=True)}


def _dates(subject: Subject | None) -> Node:
    if isinstance(subject, Outing):
        return {"dateCreated": subject.head.name}
    if not isinstance(subject, Species | Flock):
        return {}
    written, changed = subject.head.written, subject.head.changed
    dates = {"datePublished": written or changed, "dateModified": changed or written}
    return {key: date for key, date in dates.items() if date}


def _birds(site: Site, subject: Subject | None) -> tuple[Species, ...]:
    """The birds of the guide that a page is about."""
    if isinstance(subject, Species):
        return (subject,)
    if isinstance(subject, Pair):
        return subject.first, subject.second
    if isinstance(subject, Flock):
        return tuple(site.guide.by_code[code] for code in subject.head.members if code in site.guide.by_code)
    return subject.members if isinstance(subject, Group) else ()


def _taxon(site: Site, root: str, species: Species) -> Node:
    bird = species.bird
    own = named(site, species)
    taxon: Node = {"@type": "Taxon", "name": _in_tongue(own, language_of(own)), "alternateName": [species.code]}
    other = _in_tongue(*other_name(site, species))
    if other:
        taxon["alternateName"].append(other)
    if species.scientific:
        taxon["scientificName"] = species.scientific
    if bird and bird.is_species:
        taxon["taxonRank"] = SPECIES
    if bird and bird.family:
        taxon["parentTaxon"] = {"@type": "Taxon", "name": bird.family, "taxonRank": "family"}
    return {**taxon, "url": root + account_path(species)}


def _images(site: Site, frame: Frame, root: str, subject: Subject | None) -> Iterator[Node]:
    if subject is None or isinstance(subject, Place):
        return
    if isinstance(subject, Pair | Group):
        for bird in _birds(site, subject):
            # The page of a pair has read both entries; that of a group asks for facts alone.
            sketch = first_sketch(bird) if isinstance(subject, Pair) else bird.fact(first_sketch)
            if sketch:
                yield from _image(site, frame, root, bird, sketch)
        return
    for picture in (*subject.entry.sketches, *getattr(subject.entry, "photos", ())):
        yield from _image(site, frame, root, subject, plain_picture(picture))


def _image(site: Site, frame: Frame, root: str, account: Account, picture: PlainPicture) -> Iterator[Node]:
    view = picture_view(site, account, picture)
    if view is None:
        return
    _, _, _, by, licence, alt, _, caption = picture
    image: Node = {
        "@type": "ImageObject",
        "contentUrl": root + view.largest,
        "thumbnailUrl": root + view.smallest,
        "width": view.width,
        "height": view.height,
    }
    # Alternative words describe; where there are none, the author's line does.
    if alt or caption:
        image["description"] = _theirs(site, frame, alt or caption)
    if by or frame.author:
        image["creator"] = _person(by or frame.author)
        image["creditText"] = by or frame.author
    # The guide's licence is its author's to give, so it does not cover what others made.
    if licence or (frame.licence and not by):
        image["license"] = _licence(licence or frame.licence)
    yield image
