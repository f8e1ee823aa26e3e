"""The record of a place, and what of its position may be told."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.entries import shared
from tertial.entries.fields import NAME, TEXT, TEXTS, Field, converted, read_fields
from tertial.entries.values import Fault, Written
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from tertial.entries.fields import Reading
    from tertial.entries.pictures import Picture
    from tertial.text.nodes import Mapping
    from tertial.text.source import SourceText, Span

_NUMBER: Final = r"[-+]?\d{1,3}(?:\.\d+)?"
_POSITION: Final = re.compile(rf"({_NUMBER})(?:, ?| )({_NUMBER})")
# One half of a position as maps and receivers print it; only its decimal form is read, so this is for repairs.
_HALF: Final = re.compile(
    r"(?P<before>[NSEW])?\s*(?P<sign>[-+\u2212])?(?P<degrees>\d{1,3}(?P<part>\.\d{1,9})?)(?!\d)\s*"
    r"(?:(?P<mark>[°º])\s*(?:(?(part)(?!))(?P<minutes>[0-5]?\d(?:\.\d{1,9})?)(?!\d)\s*(?:['′’]\s*)?"
    r"(?:(?P<seconds>[0-5]?\d(?:\.\d{1,9})?)\s*(?:[\"″”]|''|’’|′′)\s*)?)?)?(?(before)|(?P<after>[NSEW])?)",
    re.IGNORECASE,
)
_FINE: Final = Decimal("0.0001")
"""To what part of a degree minutes and seconds are turned: some ten metres, finer than a second."""
_DEGREES: Final = re.compile(r"(exact|withheld)|(1|0\.1|0\.01|0\.001)(?: degrees?)?")
# An editor takes a number alone for one; blanks alone are nothing, which is no fault.
_SHOWN: Final = {
    "anyOf": [
        {"type": "string", "pattern": rf"^\s*(?:{_DEGREES.pattern})?\s*$".replace(" ", r"\s+")},
        {"enum": [1, 0.1, 0.01, 0.001]},
    ]
}


class Position(NamedTuple):
    """A position on the earth, as held by the author; never published as it is."""

    latitude: Decimal
    """Degrees north, from -90 to 90."""

    longitude: Decimal
    """Degrees east, from -180 to 180."""


class ShownAs(NamedTuple):
    """How closely a position may be told."""

    text: str
    """As written."""

    degrees: Decimal | None
    """Side of the grid cell that is told, in degrees; 0 for the position itself, None for nothing."""


class PlaceEntry(NamedTuple):
    """A place that outings go to."""

    source: SourceText
    """The file."""

    body: Span
    """The author's text after the front matter."""

    name: Written[str]
    """Its name."""

    id: Written[str] | None = None
    """The short name by which outings refer to it."""

    position: Written[Position] | None = None
    """Where it is, as the author knows it."""

    shown_as: Written[ShownAs] | None = None
    """How closely that may be told; without it, not at all."""

    because: Written[str] | None = None
    """Why it is told no closer. Never published: the reason is itself a clue."""

    habitat: tuple[Written[str], ...] = ()
    """What grows and flows there."""

    sketches: tuple[Picture, ...] = ()
    """Drawings."""

    photos: tuple[Picture, ...] = ()
    """Photos."""


def to_position(text: str) -> Position | Fault:
    """Read latitude and longitude in decimal degrees."""
    found = _POSITION.fullmatch(text)
    position = Position(Decimal(found[1]), Decimal(found[2])) if found else None
    if position is not None and _is_on_earth(position):
        return position
    reason = f"{text!r} is not a position; two numbers of degrees were expected"
    meant = _meant(text)
    mend = f"write {meant.latitude}, {meant.longitude}" if meant else "write decimal degrees, as in 44.9, -93.2"
    if position is not None:
        reason = f"{text!r} lies on no map; latitude from -90 to 90 and longitude from -180 to 180 were expected"
        # One digit too many looks the same, and would lead to the other end of the earth.
        mend = f"mend the figure; or, if longitude came first, {mend}" if meant else mend
    return Fault("not-a-position", f"{reason}, and nothing of it is published until it can be read", mend)


def _is_on_earth(position: Position) -> bool:
    return abs(position.latitude) <= 90 and abs(position.longitude) <= 180


def _meant(text: str) -> Position | None:
    """Give the position that was most likely meant: from degrees and minutes, points of the compass, exchanged."""
    halves = tuple(_HALF.finditer(text))
    if len(halves) != 2 or _HALF.sub("", text).strip(" ,;/"):
        return None
    (first, at), (second, to) = map(_half, halves)
    # A letter or a degree sign that only one half has may as well belong to the other.
    if bool(at) != bool(to) or bool(halves[0]["mark"]) != bool(halves[1]["mark"]):
        return None
    # Points of the compass say which half is which; without them the order does, or what is possible at all.
    if at and at in "EW" and to in "NS":
        first, second = second, first
    straight, exchanged = Position(first, second), Position(second, first)
    if at and (at in "NS") == (to in "NS"):
        return None
    if _is_on_earth(straight):
        return straight
    return exchanged if not at and _is_on_earth(exchanged) else None


def _half(found: re.Match[str]) -> tuple[Decimal, str]:
    """Give one half of a position in decimal degrees, and its point of the compass or ''."""
    degrees, minutes, seconds = (Decimal(found[part] or 0) for part in ("degrees", "minutes", "seconds"))
    point = (found["before"] or found["after"] or "").upper()
    if minutes or seconds:
        degrees = (degrees + minutes / 60 + seconds / 3600).quantize(_FINE)
    is_below = (found["sign"] or "+") in "-\u2212" or (point and point in "SW")
    return (-degrees if is_below else degrees), point


def to_shown_as(text: str) -> ShownAs | Fault:
    """Read how closely a position may be told."""
    found = _DEGREES.fullmatch(text)
    if found is None:
        reason = f"{text!r} is no way to show a position; exact, 0.001, 0.01, 0.1 or 1 degree, or withheld was expected"
        return Fault("not-a-choice", reason, "write 0.1 degree, or withheld when in doubt")
    if found[1]:
        return ShownAs(text, Decimal(0) if found[1] == "exact" else None)
    return ShownAs(text, Decimal(found[2]))


def to_id(text: str) -> str | Fault:
    """Read a short name: small letters, digits and hyphens."""
    plain = slug_of(text)
    if plain == text:
        return text
    reason = f"{text!r} is no short name; small letters, digits and hyphens were expected"
    return Fault("not-an-id", reason, f"write {plain}" if plain != slug_of("") else "write it as in upper-weir")


FIELDS = (
    Field("place", "name", NAME, "Name; makes the file a place.", "Upper Weir", may_be_empty=True),
    Field("id", "id", converted(to_id), "Short name that outings use.", "upper-weir"),
    Field("position", "position", converted(to_position), "Latitude and longitude.", "44.9, -93.2"),
    Field("shown as", "shown_as", converted(to_shown_as, _SHOWN), "How closely to tell it.", "0.1 degree"),
    Field("because", "because", TEXT, "Why no closer; never published.", "an owl roosts near the path"),
    Field("habitat", "habitat", TEXTS, "What grows and flows there.", "[river wood, open water]"),
    shared.SKETCHES,
    shared.PHOTOS,
)


def read_place(reading: Reading, front: Mapping, body: Span) -> PlaceEntry | None:
    """Read a place; None when it has no name."""
    values = read_fields(reading, front, FIELDS, "a place")
    return PlaceEntry(reading.source, body, **values) if "name" in values else None
