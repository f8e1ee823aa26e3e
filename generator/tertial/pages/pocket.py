"""The pocket guide: what its pages show, as plain values in the order of the book.

The words are those of the site, because they are taken from the views of its pages. Of a pair it has what tells the
two apart; the numbers behind that stay on the site.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tertial.pages.accounts import SpeciesView, species_pages
from tertial.pages.comparison import PairView, pair_pages
from tertial.pages.frame import frame_of
from tertial.pages.groups import GroupView, group_pages
from tertial.pages.naming import named
from tertial.pages.pictures import FOLDER as PICTURES
from tertial.pages.pictures import PictureView
from tertial.pages.plates import PlateView, card_plate
from tertial.pages.site import Site, account_path, pair_path, said
from tertial.pages.tongues import Tongued
from tertial.sketches.plate import PLATE_GAP
from tertial.text.blocks import blocks
from tertial.text.source import Passage
from tertial.wording import territory_of

if TYPE_CHECKING:
    from collections.abc import Iterator


def pocket_book(site: Site) -> dict[str, Any]:
    """Give all that the pocket guide shows: texts, numbers, lists, and mappings of them by name.

    Addresses are those of the site; those of pictures begin with ``pictures/``. ``tongues`` has by the text what is in
    another language, as runs.
    """
    settings, frame = site.guide.settings, frame_of(site)
    language, region = _told_apart(frame.language)
    written = _told_apart(site.written_in)
    birds = {
        "accounts": _accounts(site),
        "pairs": _pairs(site),
        "keys": _keys(site),
        "names": _index(site),
    }
    return {
        "title": frame.title,
        "author": frame.author,
        "region": said(settings.region),
        "licence": frame.licence,
        "language": language,
        "country": region,
        "written": {"lang": written[0], "region": written[1]} if site.written_in != frame.language else None,
        "words": dict(site.wording.phrases),
        "tongues": {text: [_run(*run) for run in text.runs] for text in _tongued_in(birds)},
        **birds,
    }


def _tongued_in(value: Any) -> Iterator[Tongued]:
    """Give every text among plain values of which some is in another language than the book."""
    if isinstance(value, Tongued):
        yield value
    elif isinstance(value, dict | list):
        for each in value.values() if isinstance(value, dict) else value:
            yield from _tongued_in(each)


def _run(text: str, tag: str) -> dict[str, Any]:
    language, region = _told_apart(tag)
    return {"text": text, "language": {"lang": language, "region": region} if tag else None}


def _told_apart(tag: str) -> tuple[str, str | None]:
    """Part a tag into what the typesetter knows as language and region; of a script or an area it knows nothing."""
    return tag.partition("-")[0], territory_of(tag) or None


def plain(site: Site, value: object) -> Any:
    """Turn a view into plain values: its fields by name, an author's text as a tree of blocks."""
    if isinstance(value, Passage):
        return blocks(value.words, site.guide.codes)
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return {name: plain(site, each) for name, each in zip(value._fields, value, strict=True)}
    if isinstance(value, tuple | list):
        return [plain(site, each) for each in value]
    return value


def _accounts(site: Site) -> list[dict[str, Any]]:
    found = []
    for page in species_pages(site):
        view = page.view()
        assert isinstance(view, SpeciesView)
        sketches = tuple(_worded(each, view.name) for each in view.sketches)
        found.append({"address": page.path, **plain(site, view._replace(sketches=sketches, photos=()))})
    return found


def _worded(picture: PictureView, name: str) -> PictureView:
    """A picture without words in place of it gets the name of its bird: a tagged document may have none without."""
    return picture if picture.alt else picture._replace(alt=", ".join(filter(None, (name, picture.shows))))


def _pairs(site: Site) -> list[dict[str, Any]]:
    pairs = {pair_path(pair): pair for pair in site.guide.pairs}
    found = []
    for page in pair_pages(site):
        view = page.view()
        if isinstance(view, PairView):
            pair = pairs[page.path]
            tables = tuple(table._replace(rest=()) for table in view.tables if table.groups)
            plate = card_plate(site, pair.first, pair.second)
            values = plain(site, view._replace(tables=tables))
            values["plate"] = _scaled(site, plate) if plate and plate.plate else None
            found.append({"address": page.path, "title": page.title, **values})
    return found


def _scaled(site: Site, view: PlateView) -> dict[str, Any]:
    """Give a plate of two birds, and the line between them beyond which neither picture may reach."""
    first = view.birds[0].placed
    # What is not JPEG would be unpacked in the book, and take ten times the room.
    packed = {
        f"{PICTURES}/{size.name}": f"{PICTURES}/{picture.fallback.name}"
        for picture in site.pictures.values()
        for size in (picture.thumb, *picture.renditions)
    }
    birds = tuple(bird._replace(picture=packed[bird.picture]) for bird in view.birds)
    return {"between": 2 * first.middle + PLATE_GAP / 2, **plain(site, view._replace(birds=birds, beside=()))}


def _keys(site: Site) -> list[dict[str, Any]]:
    views = [(page.path, page.view()) for page in group_pages(site)]
    return [
        {"address": address, **plain(site, view._replace(tables=(), likeness=()))}
        for address, view in views
        if isinstance(view, GroupView) and view.couplets
    ]


def _index(site: Site) -> list[dict[str, Any]]:
    """Give each bird with the addresses at which it is treated, its account first."""
    found = []
    for species in site.guide.species:
        pairs = (pair_path(pair) for pair in site.guide.pairs if species in (pair.first, pair.second))
        found.append({"name": named(site, species), "code": species.code, "at": [account_path(species), *pairs]})
    return sorted(found, key=lambda each: (site.wording.order(each["name"]), each["code"]))
