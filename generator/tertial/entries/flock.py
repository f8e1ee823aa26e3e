"""The account of a flock: who keeps company with whom."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.entries import misplaced, shared
from tertial.entries.fields import NAME, Field, read_fields
from tertial.entries.phrases import PHRASES

if TYPE_CHECKING:
    import datetime as dt

    from tertial.entries.fields import Reading
    from tertial.entries.pictures import Picture
    from tertial.entries.values import Months, Phrase, Written
    from tertial.text.nodes import Mapping
    from tertial.text.source import SourceText, Span


class FlockEntry(NamedTuple):
    """One kind of flock, met again and again."""

    source: SourceText
    """The file."""

    body: Span
    """The author's text after the front matter."""

    name: Written[str]
    """What the author calls it."""

    members: tuple[Written[str], ...] = ()
    """Codes of the species that keep it."""

    leader: Written[str] | None = None
    """Code of the species that the others follow."""

    written: Written[dt.date] | None = None
    """Day on which the account was first written."""

    changed: Written[dt.date] | None = None
    """Day of its last change."""

    when: Written[Months] | None = None
    """Months in which it is met."""

    where: tuple[Written[str], ...] = ()
    """Habitats in which it is met."""

    marks: tuple[Phrase, ...] = ()
    """Signs by which the flock is noticed."""

    behaviour: shared.Behaviour | None = None
    """How it moves and keeps together."""

    sketches: tuple[Picture, ...] = ()
    """Drawings."""

    photos: tuple[Picture, ...] = ()
    """Photos."""

    sources: tuple[Written[str], ...] = ()
    """Where facts and figures come from."""


FIELDS = (
    Field(
        "flock",
        "name",
        NAME,
        "Name of the flock; makes the file a flock account.",
        "Winter wood flock",
        may_be_empty=True,
    ),
    Field("members", "members", shared.CODES, "Codes of the species in it.", "[BCCH, TUTI, WBNU]"),
    Field("usual leader", "leader", NAME, "Code of the species that leads.", "BCCH"),
    shared.WRITTEN,
    shared.CHANGED,
    shared.WHEN,
    shared.WHERE,
    Field("marks", "marks", PHRASES, "Signs by which it is noticed.", "| then voice: thin contact calls"),
    shared.BEHAVIOUR,
    shared.SKETCHES,
    shared.PHOTOS,
    shared.SOURCES,
)


def read_flock(reading: Reading, front: Mapping, body: Span) -> FlockEntry | None:
    """Read a flock account; None when not even a name is there."""
    values = read_fields(reading, front, FIELDS, "a flock account", misplaced.beside_marks)
    return FlockEntry(reading.source, body, **values) if "name" in values else None
