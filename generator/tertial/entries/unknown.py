"""The record of a bird that could not be named, and of what others think of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.entries import misplaced, shared
from tertial.entries.convert import DATE, to_date
from tertial.entries.fields import NAME, TEXT, TEXTS, Field, converted, read_fields
from tertial.entries.phrases import PHRASES, lines_of

if TYPE_CHECKING:
    import datetime as dt

    from tertial.entries.fields import Reading
    from tertial.entries.pictures import Picture
    from tertial.entries.values import Months, Phrase, Written
    from tertial.text.nodes import Mapping
    from tertial.text.source import SourceText, Span


class UnknownEntry(NamedTuple):
    """A bird that was seen and not named, or not at once."""

    source: SourceText
    """The file."""

    body: Span
    """The author's text after the front matter."""

    name: Written[str]
    """What the author calls it meanwhile."""

    seen: Written[dt.date] | None = None
    """The day."""

    place: Written[str] | None = None
    """Id of the place."""

    light: Written[str] | None = None
    """The light, in words."""

    view: Written[str] | None = None
    """Distance, instrument, duration, in words."""

    when: Written[Months] | None = None
    """Months, where the day is not known."""

    marks: tuple[Phrase, ...] = ()
    """What was seen of it."""

    could_be: tuple[Written[str], ...] = ()
    """Codes of the birds it could be."""

    ruled_out: tuple[Phrase, ...] = ()
    """Codes of birds it is not, each with the reason."""

    asked: tuple[Written[str], ...] = ()
    """Who was asked."""

    opinions: tuple[Phrase, ...] = ()
    """Who thinks what."""

    settled: Written[str] | None = None
    """Code of the bird it proved to be."""

    sketches: tuple[Picture, ...] = ()
    """Drawings."""

    photos: tuple[Picture, ...] = ()
    """Photos."""


_NOT: Final = lines_of("code", "reason", "SOSA: no bold eye-ring")
_OPINIONS: Final = lines_of("person", "judgement", "R. Friend: LEYE, from the call")
FIELDS = (
    Field(
        "unknown",
        "name",
        NAME,
        "What to call it meanwhile.",
        "Brown duck, far out",
        may_be_empty=True,
    ),
    Field("seen", "seen", converted(to_date, DATE), "The day.", "2026-01-17"),
    Field("place", "place", NAME, "Id of the place.", "upper-weir"),
    Field("light", "light", TEXT, "The light.", "low sun behind it"),
    Field("view", "view", TEXT, "Distance, instrument, duration.", "300 m, telescope, two minutes"),
    shared.WHEN,
    Field("marks", "marks", PHRASES, "What was seen of it.", "| then bill: grey"),
    Field("could be", "could_be", shared.CODES, "Birds it could be.", "[GRYE, LEYE]"),
    Field("not", "ruled_out", _NOT, "Birds it is not, and why.", "| then SOSA: no bold eye-ring"),
    Field("asked", "asked", TEXTS, "Who was asked.", "[R. Friend]"),
    Field("opinions", "opinions", _OPINIONS, "Who thinks what.", "| then R. Friend: LEYE, from the call"),
    Field("settled", "settled", NAME, "Its code, once that is known.", "LEYE", may_be_empty=True),
    shared.SKETCHES,
    shared.PHOTOS,
)


def read_unknown(reading: Reading, front: Mapping, body: Span) -> UnknownEntry | None:
    """Read an unknown bird; None when it has not even a working name."""
    values = read_fields(reading, front, FIELDS, "an unknown bird", misplaced.beside_marks)
    return UnknownEntry(reading.source, body, **values) if "name" in values else None
