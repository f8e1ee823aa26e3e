"""From what an account says of a bird's size to how large its sketch is drawn: pixels to a centimetre."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.entries.convert import UNITS
from tertial.marks.plumages import ALL, chain, read_plumage
from tertial.marks.spans import span_between
from tertial.sketches.plate import lean_of, pixels_per_cm

if TYPE_CHECKING:
    from tertial.entries.pictures import Picture
    from tertial.entries.values import Quantity, Spot
    from tertial.guide import Species
    from tertial.marks.plumages import Plumage
    from tertial.sketches.sizes import PublishedPicture

_MILLIMETRES_TO_CM = 10


class DrawnScale(NamedTuple):
    """How large a sketch is drawn."""

    per_cm: float
    """Pixels of the largest published size to a centimetre."""

    measure: str
    """The measure that tells."""

    text: str
    """It, as the author wrote it."""

    cm: float
    """The value that is taken for it, in centimetres: the mean, or the middle of the range."""

    spread: float
    """The largest value over the smallest; 1 for a single one."""

    by_posture: bool
    """The measure is that of a bird laid flat, so that the scale is only near."""

    lean: float | None
    """By how many degrees the bird slopes from bill to tail, when the spots tell."""


def plumage_of(picture: Picture) -> Plumage:
    """Give the plumage that a sketch shows; all where nothing readable is written."""
    return (read_plumage(picture.shows.value) if picture.shows else None) or ALL


def scale_of(species: Species, picture: Picture, published: PublishedPicture) -> DrawnScale | None:
    """Tell how large a sketch is drawn.

    :returns: the scale; None where two spots are not given, no measure lies between them, or it is not written.
    """
    scale = picture.scale.value if picture.scale else None
    between = span_between(scale.start_name, scale.end_name) if scale else None
    quantity = _measure(species, between.measure, plumage_of(picture)) if between else None
    limits = centimetres(quantity) if quantity else None
    if scale is None or between is None or quantity is None or limits is None:
        return None
    start, end = _at(published, scale.start), _at(published, scale.end)
    cm = sum(limits) / 2
    if start == end:
        return None
    lean = lean_of(start, end) if between.measure == "length" else None
    spread = limits[1] / limits[0]
    return DrawnScale(
        pixels_per_cm(start, end, cm), between.measure, quantity.text, cm, spread, between.by_posture, lean
    )


def centimetres(quantity: Quantity) -> tuple[float, float] | None:
    """Give the smallest and the largest value of a length in centimetres, or its mean twice; None for a mass."""
    return _ends(quantity, "length", _MILLIMETRES_TO_CM)


def grams(quantity: Quantity) -> tuple[float, float] | None:
    """Give the smallest and the largest value of a mass in grams, or its mean twice; None for a length."""
    return _ends(quantity, "mass", 1)


def _ends(quantity: Quantity, dimension: str, per: int) -> tuple[float, float] | None:
    unit = UNITS[quantity.unit]
    values = (quantity.mean, quantity.mean) if quantity.mean is not None else (quantity.low, quantity.high)
    found = [float(value * unit.factor) / per for value in values if value is not None]
    return (found[0], found[1]) if unit.dimension == dimension and len(found) == 2 and found[0] > 0 else None


def _measure(species: Species, word: str, plumage: Plumage) -> Quantity | None:
    """Find a measure of a plumage, or of one that may speak for it."""
    for each in chain(plumage):
        named = species.measures.get(each, {}).get(word)
        if named is not None:
            return named.quantity.value
    written = getattr(species.entry.size, word, None) if word in ("length", "wingspan") else None
    return written.value if written is not None else None


def _at(published: PublishedPicture, spot: Spot) -> tuple[float, float]:
    return published.spot(float(spot.x), float(spot.y), percent=spot.percent)
