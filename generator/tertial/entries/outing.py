"""The record of an outing: when, where, with what effort, and what was counted."""

from __future__ import annotations

import datetime as dt
import re
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from tertial.entries import shared
from tertial.entries.convert import DATE, to_date
from tertial.entries.counting import COUNTS, Count, Member, members
from tertial.entries.fields import NAME, TEXT, Field, Form, converted, read_fields, schema_of
from tertial.entries.values import Fault, Written
from tertial.text.nodes import Listing, Mapping

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.fields import Reading
    from tertial.entries.pictures import Picture
    from tertial.text.nodes import Pair
    from tertial.text.source import SourceText, Span

_DISTANCES = {"m": Decimal("0.001"), "km": Decimal(1), "mi": Decimal("1.609344")}
# Our own choices: an outing ends within a day, and whoever goes farther in it looks at no birds.
_MOST_MINUTES = 24 * 60
_MOST_KM = 1000
_MILES = {"mile": "mi", "miles": "mi"}
# Other ways to write a time and a duration; none is read, but each says plainly what was meant.
_CLOCK = re.compile(
    r"(?P<hours>\d{1,2}?)(?:[:.h ]?(?P<minutes>\d{2}))?(?: ?(?P<half>[ap])\.?m\.?)?(?: ?h)?", re.IGNORECASE
)
_DURATION = re.compile(
    r"(?:(?P<hours>\d{1,2}) ?(?:h|hr|hrs|hours?|:) ?)?(?:(?P<minutes>\d{1,4}) ?(?:m|min|mins|minutes?)?\.?)?",
    re.IGNORECASE,
)


class Distance(NamedTuple):
    """How far one walked."""

    text: str
    """As written."""

    km: Decimal
    """In kilometres; a mile is 1.609344 km (international yard and pound agreement of 1959)."""


class FlockSeen(NamedTuple):
    """A flock met on the outing."""

    span: Span
    """Where its block stands."""

    members: tuple[Member, ...] = ()
    """Who was in it."""

    doing: Written[str] | None = None
    """What it was doing."""

    scan: tuple[Written[str], ...] = ()
    """Codes of neighbours in the order in which they sat or swam."""


class OutingEntry(NamedTuple):
    """One outing."""

    source: SourceText
    """The file."""

    body: Span
    """The author's text after the front matter."""

    date: Written[dt.date]
    """The day."""

    start: Written[dt.time] | None = None
    """When it began, by the local clock."""

    minutes: Written[int] | None = None
    """How long it took."""

    distance: Written[Distance] | None = None
    """How far it went."""

    place: Written[str] | None = None
    """Id of the place."""

    observers: Written[int] | None = None
    """How many watched."""

    weather: Written[str] | None = None
    """In words."""

    counts: tuple[Count, ...] = ()
    """What was counted."""

    flocks: tuple[FlockSeen, ...] = ()
    """Flocks met."""

    sketches: tuple[Picture, ...] = ()
    """Drawings."""

    photos: tuple[Picture, ...] = ()
    """Photos."""

    @property
    def begins(self) -> dt.datetime | None:
        """Day and time of its beginning, if both are written."""
        return dt.datetime.combine(self.date.value, self.start.value) if self.start else None


def to_time(text: str) -> dt.time | Fault:
    """Read a time of the day with 24 hours, as ISO 8601 writes it."""
    found = re.fullmatch(r"(\d{1,2}):(\d{2})", text)
    if found and int(found[1]) < 24 and int(found[2]) < 60:
        return dt.time(int(found[1]), int(found[2]))
    meant = _time_meant(text)
    mend = f"write {meant:%H:%M}" if meant else "write hours and minutes of the 24-hour clock, as in 08:10"
    return Fault("not-a-time", f"{text!r} is not a time of the day; hours and minutes were expected", mend)


def _time_meant(text: str) -> dt.time | None:
    """Give the time that is meant by a point, an h or nothing in place of the colon, or by a clock of 12 hours."""
    found = _CLOCK.fullmatch(text)
    if found is None or not (found["minutes"] or found["half"]):
        return None
    hours, minutes = int(found["hours"]), int(found["minutes"] or 0)
    if found["half"] and not 1 <= hours <= 12:
        return None
    if found["half"]:
        hours = hours % 12 + (12 if found["half"].casefold() == "p" else 0)
    return dt.time(hours, minutes) if hours < 24 and minutes < 60 else None


def to_whole(text: str) -> int | Fault:
    """Read a number of people: a whole number above nought."""
    return _whole(text, "write digits alone, as in 2")


def to_minutes(text: str) -> int | Fault:
    """Read how long it took: a whole number of minutes above nought."""
    found = _DURATION.fullmatch(text)
    minutes = int(found["hours"] or 0) * 60 + int(found["minutes"] or 0) if found else 0
    read = _whole(text, f"write {minutes}" if minutes else "write the minutes in digits, as in 140")
    if isinstance(read, int) and read > _MOST_MINUTES:
        reason = f"{text!r} minutes are more than a day has; {_MOST_MINUTES} at the most was expected"
        return Fault("not-a-number", reason, "write the minutes of this outing alone, or make one of each day")
    return read


def _whole(text: str, mend: str) -> int | Fault:
    if re.fullmatch(r"\d{1,6}", text) and int(text) > 0:
        return int(text)
    if re.fullmatch(r"-?\d{1,6}", text):
        mend = "write a number above 0"
    return Fault("not-a-number", f"{text!r} is not a whole number above 0; one was expected", mend)


def to_distance(text: str) -> Distance | Fault:
    """Read a distance with its unit."""
    found = re.fullmatch(r"(\d{1,9}(?:\.\d{1,9})?) ?([a-z]*)", text)
    unit = _MILES.get(found[2], found[2]) if found else ""
    if found and unit in _DISTANCES:
        distance = Distance(text, Decimal(found[1]) * _DISTANCES[unit])
        if distance.km <= _MOST_KM:
            return distance
        reason = f"{text!r} is farther than one outing goes; {_MOST_KM} km at the most was expected"
        return Fault("not-a-measure", reason, "check the unit and the decimal point")
    reason = f"{text!r} is not a distance; a number with one of {', '.join(_DISTANCES)} was expected"
    mend = "write a number and its unit, as in 3.2 km"
    if found and not unit:
        mend = f"write {text} km, or {text} mi for miles"
    elif comma := re.fullmatch(r"(\d{1,9}),(\d{1,9}) ?(k?m|mi)", text):
        mend = f"write a point for the comma: {comma[1]}.{comma[2]} {comma[3]}"
    return Fault("not-a-measure", reason, mend)


def _members(reading: Reading, pair: Pair) -> tuple[Member, ...] | None:
    line = TEXT.read(reading, pair)
    return members(reading, line) if line else None


_FLOCK_FIELDS = (
    Field("members", "members", Form(_members, TEXT.schema), "Who was in it.", "BCCH 9, TUTI 4, DOWO 1"),
    Field("doing", "doing", TEXT, "What it was doing.", "foraging"),
    Field("scan", "scan", shared.CODES, "Neighbours in their order.", "BCCH BCCH TUTI BCCH"),
)


def _flocks(reading: Reading, pair: Pair) -> tuple[FlockSeen, ...] | None:
    return tuple(_each_flock(reading, pair)) or None


def _each_flock(reading: Reading, pair: Pair) -> Iterator[FlockSeen]:
    for node in pair.value.items if isinstance(pair.value, Listing) else (pair.value,):
        if isinstance(node, Mapping):
            yield FlockSeen(node.span, **read_fields(reading, node, _FLOCK_FIELDS, "a flock"))
        else:
            reading.wrong_shape(node, "a flock with its members", "write - members: BCCH 9, TUTI 4")


_FLOCK = schema_of(_FLOCK_FIELDS)
_FLOCKS = Form(_flocks, {"anyOf": [{"type": "array", "items": _FLOCK}, _FLOCK]})

FIELDS = (
    Field(
        "outing",
        "date",
        converted(to_date, DATE),
        "The day; makes the file an outing.",
        "2026-01-17",
        may_be_empty=True,
    ),
    Field("start", "start", converted(to_time), "When it began.", "08:10"),
    Field("minutes", "minutes", converted(to_minutes), "How long it took.", "140"),
    Field("distance", "distance", converted(to_distance), "How far it went.", "3.2 km"),
    Field("place", "place", NAME, "Id of the place.", "upper-weir"),
    Field("observers", "observers", converted(to_whole), "How many watched.", "2"),
    Field("weather", "weather", TEXT, "Weather, light and ice, in words.", "-6 C, no wind"),
    Field("counts", "counts", COUNTS, "Birds met, a line each.", "| then DOWO: 2 male, 1 female"),
    Field("flocks", "flocks", _FLOCKS, "Flocks met.", "- members: BCCH 9, TUTI 4"),
    shared.SKETCHES,
    shared.PHOTOS,
)


def read_outing(reading: Reading, front: Mapping, body: Span) -> OutingEntry | None:
    """Read an outing; None when it has no date."""
    values = read_fields(reading, front, FIELDS, "an outing")
    return OutingEntry(reading.source, body, **values) if "date" in values else None
