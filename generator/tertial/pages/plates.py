"""Plates on which birds stand at one scale, and their heads at one length: for pairs, groups and flocks."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.plumages import ALL, Plumage, chain
from tertial.pages.card_room import PLATE, PLATE_OF_FOUR
from tertial.pages.card_room import WIDTH as CARD_WIDTH
from tertial.pages.facts import drawn
from tertial.pages.heads import HeadsView, heads_of
from tertial.pages.naming import named, plumage_as_written
from tertial.pages.pictures import FINE, FOLDER, fine_address, original_of
from tertial.pages.plate_notes import OTHER_POSTURE, Chosen, measured, notes, words
from tertial.pages.site import Link, Site, account_path, said
from tertial.scales import DrawnScale, plumage_of, scale_of
from tertial.sketches.plate import BAR_ROOM, TALLEST, WIDTH, Sketch, lay_out
from tertial.sketches.tracing import kept_edges

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.guide import Species
    from tertial.sketches.plate import Placed, ScalePlate
    from tertial.sketches.sizes import Rendition

_FRIEZE: Final = 9
"""Birds of the frontispiece."""
_CARD_UNITS: Final = 1200
"""Width of the frame on a card, with which letters are small enough to leave the room to the birds."""
_CARD_FINE: Final = 1.0
"""Pixels of a picture to a unit of that frame: 290 to the inch of paper."""
_SEXES: Final = (Plumage("adult", "male"), Plumage("adult", "female"))


class PlateBird(NamedTuple):
    """A bird on the plate."""

    picture: str
    """Address of a size of its sketch that is large enough."""

    placed: Placed
    code: Link
    name: str
    shows: str
    """The plumage, or ''."""

    size: str
    """The measure that its scale rests on, in words."""


class BesideBird(NamedTuple):
    """A bird whose sketch has no scale."""

    picture: str
    width: int
    height: int
    code: Link
    name: str
    shows: str


class PlateView(NamedTuple):
    """Birds at one scale, and those that could not be brought to it."""

    plate: ScalePlate | None
    """None where no sketch has a scale."""

    birds: tuple[PlateBird, ...]
    beside: tuple[BesideBird, ...]
    notes: tuple[str, ...]
    """What is to be known of the scale, a sentence each."""

    words: str
    """The same as the plate, in words."""

    bar: str = ""
    """How long the bar of the scale is in life; '' without a plate, and for one that shows no bar."""


class PlatesView(NamedTuple):
    """What a page shows of several birds together."""

    scale: PlateView | None = None
    """The birds at one scale."""

    heads: HeadsView | None = None
    """Their heads at one length."""


def pair_plates(site: Site, first: Species, second: Species) -> PlatesView:
    """Gather what a page of two look-alikes shows: same plumage beside same plumage."""
    groups = _same_plumage([*shown_sketches(site, first)], [*shown_sketches(site, second)])
    both = [group for group in groups if len(group) > 1]
    heads = [(each.species, each.picture, each.published) for group in both for each in group]
    shown = [each for group in groups for each in group]
    return _fetched_once(_plate(site, groups), heads_of(site, heads), shown)


def card_plate(site: Site, first: Species, second: Species) -> PlateView | None:
    """Give drawings of two look-alikes for a card: at one scale where two of a plumage have one, of both sexes if
    both are drawn, else of as many as fill its width; without a scale one of each; None where either has no drawing.
    """
    groups = _same_plumage([*shown_sketches(site, first)], [*shown_sketches(site, second)])
    scaled = [group for group in groups if len(group) > 1 and all(scale_of(*each) for each in group)]
    sexes = [next((group for group in scaled if plumage_of(group[0].picture) == each), []) for each in _SEXES]
    two = sexes if all(sexes) else scaled[:2]
    row = [each for group in two for each in group]
    alone = _plate(site, scaled[:1], _card_frame(PLATE), _CARD_FINE) if scaled and not all(sexes) else None
    if alone and alone.plate and (len(two) < 2 or PLATE * alone.plate.width > CARD_WIDTH * alone.plate.height):
        return alone
    if row:
        return _plate(site, [row], _card_frame(PLATE_OF_FOUR), _CARD_FINE)
    one_of_each = tuple(_beside(site, each, each.published.smallest) for group in groups[:1] for each in group)
    return PlateView(None, (), one_of_each, (), "") if groups else None


def _card_frame(height: float) -> tuple[float, float]:
    """Give the frame in which sketches fill the width of a card and are so many millimetres high with the bar."""
    return _CARD_UNITS, _CARD_UNITS * height / CARD_WIDTH - 2 * BAR_ROOM


def birds_plates(site: Site, birds: Sequence[Species]) -> PlatesView:
    """Gather what a page of a group or flock shows: the first sketch of each bird."""
    drawn_birds = [bird for bird in birds if bird.fact(drawn)]
    if len(drawn_birds) < 2:
        return PlatesView()
    return drawn_birds[0].sheet.silently(partial(_birds_plates, site, drawn_birds))


def _birds_plates(site: Site, birds: Sequence[Species]) -> PlatesView:
    chosen = [each for bird in birds for each in list(shown_sketches(site, bird))[:1]]
    if len(chosen) < 2:
        return PlatesView()
    # Birds of like posture are compared best, so they stand together.
    leans = {each.species.code: _lean(each) for each in chosen}
    chosen.sort(key=lambda each: -round(leans[each.species.code] / OTHER_POSTURE))
    heads = [(each.species, each.picture, each.published) for each in chosen]
    return _fetched_once(_plate(site, [[each] for each in chosen]), heads_of(site, heads, overlaid=False), chosen)


def frontispiece(site: Site) -> PlateView | None:
    """Gather birds from the whole of the list on one ground, by size; None where fewer than two have a scale."""
    birds = [bird for bird in site.guide.species if bird.fact(drawn)]
    count = min(len(birds), _FRIEZE)
    chosen = [birds[at * len(birds) // count] for at in range(count)]
    return chosen[0].sheet.silently(partial(_frieze, site, chosen)) if len(chosen) > 1 else None


def _frieze(site: Site, birds: Sequence[Species]) -> PlateView | None:
    chosen = [each for bird in birds for each in list(shown_sketches(site, bird))[:1]]
    scaled = sorted(
        ((each, scale) for each in chosen if (scale := scale_of(*each)) is not None), key=lambda pair: pair[1].cm
    )
    if len(scaled) < 2:
        return None
    plate = lay_out([[placeable(site, each, scale)._replace(words=()) for each, scale in scaled]])
    placed_birds = tuple(
        _bird(site, each, scale, placed) for (each, scale), placed in zip(scaled, plate.placed, strict=True)
    )
    return PlateView(plate, placed_birds, (), (), words(site, scaled))


def _lean(each: Chosen) -> float:
    scale = scale_of(*each)
    return (scale.lean or 0.0) if scale else 0.0


def shown_sketches(site: Site, species: Species) -> Iterator[Chosen]:
    """Give the sketches of an account that can be published, in its order."""
    for picture in species.entry.sketches:
        original = original_of(site.guide, species.entry.source, picture)
        published = site.pictures.get(original) if original else None
        if published is not None:
            yield Chosen(species, picture, published)


def _same_plumage(first: Sequence[Chosen], second: Sequence[Chosen]) -> list[list[Chosen]]:
    """Set sketches of one plumage beside each other; where none is of both, the first of each."""
    groups = []
    for each in first:
        plumage = plumage_of(each.picture)
        other = next((other for other in second if plumage_of(other.picture) == plumage), None)
        if other is not None:
            groups.append([each, other])
    if groups or not (first and second):
        return groups
    near = ((one, two) for one in first for two in second if _speaks_for(one, two))
    one, two = next(near, (first[0], second[0]))
    return [[one, two]]


def _speaks_for(one: Chosen, two: Chosen) -> bool:
    sides: tuple[Plumage, Plumage] = plumage_of(one.picture), plumage_of(two.picture)
    return ALL not in sides and (sides[0] in chain(sides[1]) or sides[1] in chain(sides[0]))


def _plate(
    site: Site, groups: Sequence[Sequence[Chosen]], frame: tuple[float, float] = (WIDTH, TALLEST), fine: float = FINE
) -> PlateView | None:
    scaled: list[list[tuple[Chosen, DrawnScale]]] = []
    beside: list[BesideBird] = []
    for group in groups:
        found = [(each, scale_of(*each)) for each in group]
        scaled.append([(each, scale) for each, scale in found if scale is not None])
        beside.extend(_beside(site, each, each.published.thumb) for each, scale in found if scale is None)
    scaled = [group for group in scaled if group]
    every = [pair for group in scaled for pair in group]
    if not every:
        return None
    plate = lay_out([[placeable(site, *pair) for pair in group] for group in scaled], frame)
    birds = tuple(
        _bird(site, each, scale, placed, fine) for (each, scale), placed in zip(every, plate.placed, strict=True)
    )
    bar = site.wording.amount(f"{plate.bar.cm:g}", "cm")
    return PlateView(plate, birds, tuple(beside), tuple(notes(site, every, plate)), words(site, every), bar)


def placeable(site: Site, each: Chosen, scale: DrawnScale) -> Sketch:
    """Give a sketch in the form in which it is laid out."""
    published = each.published
    size = float(published.largest.width), float(published.largest.height)
    file = site.file(f"{FOLDER}/{published.smallest.name}")
    left, upper, right, lower = (kept_edges(file) if file else None) or (0.0, 0.0, 1.0, 1.0)
    foot = next((spot for name, spot in _spots(each) if name in _FEET), None)
    return Sketch(
        size,
        (left * size[0], upper * size[1], right * size[0], lower * size[1]),
        scale.per_cm,
        foot,
        (each.species.code, *([shows] if (shows := _shows(site, each)) else [])),
    )


_FEET: Final = frozenset({"foot", "feet", "toes", "ground"})
"""Spots of a scale that say where the ground is."""


def _spots(each: Chosen) -> Iterator[tuple[str, float]]:
    scale = each.picture.scale
    if scale is not None:
        for name, spot in ((scale.value.start_name, scale.value.start), (scale.value.end_name, scale.value.end)):
            yield name.casefold(), each.published.spot(float(spot.x), float(spot.y), percent=spot.percent)[1]


def _shows(site: Site, each: Chosen) -> str:
    shows = said(each.picture.shows)
    return "" if shows == ALL.text else plumage_as_written(site, shows)


def _bird(site: Site, each: Chosen, scale: DrawnScale, placed: Placed, fine: float = FINE) -> PlateBird:
    return PlateBird(
        fine_address(each.published, fine * placed.width),
        placed,
        Link(each.species.code, account_path(each.species)),
        named(site, each.species),
        _shows(site, each),
        measured(site, scale),
    )


def _fetched_once(plate: PlateView | None, heads: HeadsView | None, shown: Sequence[Chosen]) -> PlatesView:
    """Show a bird and its head from one file, the larger of the two: a page in the field is fetched bit by bit."""
    birds, parts = plate.birds if plate else (), heads.heads if heads else ()
    used = {each.picture for each in birds} | {each.picture for each in parts}
    best: dict[str, str] = {}
    for each in shown:
        sizes = [f"{FOLDER}/{size.name}" for size in (each.published.thumb, *each.published.renditions)]
        best.update((size, found) for found in sizes if found in used for size in sizes)
    return PlatesView(
        plate._replace(birds=tuple(each._replace(picture=best[each.picture]) for each in birds)) if plate else None,
        heads._replace(heads=tuple(each._replace(picture=best[each.picture]) for each in parts)) if heads else None,
    )


def _beside(site: Site, each: Chosen, size: Rendition) -> BesideBird:
    code = Link(each.species.code, account_path(each.species))
    return BesideBird(
        f"{FOLDER}/{size.name}",
        size.width,
        size.height,
        code,
        named(site, each.species),
        _shows(site, each),
    )
