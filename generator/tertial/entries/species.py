"""The account of a species."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.entries import misplaced, shared
from tertial.entries.convert import to_length, to_mass
from tertial.entries.fields import NAME, TEXT, Field, Form, converted, read_fields, schema_of
from tertial.entries.phrases import MEASURES, PLUMAGES, VOICE
from tertial.text.nodes import Mapping

if TYPE_CHECKING:
    import datetime as dt

    from tertial.entries.fields import Reading
    from tertial.entries.pictures import Picture
    from tertial.entries.values import MeasureBlock, Months, Phrase, PlumageBlock, Quantity, Similar, Written
    from tertial.text.nodes import Pair
    from tertial.text.source import SourceText, Span


class Size(NamedTuple):
    """How big the bird is."""

    size_class: Written[str] | None = None
    """Its size beside a well-known bird, in words."""

    length: Written[Quantity] | None = None
    """Bill tip to tail tip of a bird laid flat."""

    wingspan: Written[Quantity] | None = None
    """Wing tip to wing tip."""

    mass: Written[Quantity] | None = None
    """Weight."""

    source: Written[str] | None = None
    """Where the figures come from."""


_SIZE_FIELDS = (
    Field("class", "size_class", NAME, "Size beside a well-known bird.", "starling-sized"),
    Field("length", "length", converted(to_length), "Bill tip to tail tip, laid flat.", "18-26 cm"),
    Field("wingspan", "wingspan", converted(to_length), "Wing tip to wing tip.", "33-41 cm"),
    Field("mass", "mass", converted(to_mass), "Weight.", "40-95 g", ("weight",)),
    Field("source", "source", TEXT, "Where the figures come from.", "handbook range, from memory"),
)


def _size(reading: Reading, pair: Pair) -> Size | None:
    if not isinstance(pair.value, Mapping):
        reading.wrong_shape(
            pair.value, "class, length, wingspan or mass", "write size:, then length: 18-26 cm below it"
        )
        return None
    return Size(**read_fields(reading, pair.value, _SIZE_FIELDS, "a size", misplaced.in_a_size))


def _at_the_margin(reading: Reading, mapping: Mapping, pair: Pair) -> str:
    """Tell where a key belongs that stands at the margin, the keys of a size among them; '' for any other."""
    if pair.key.text not in {each.key for each in _SIZE_FIELDS}:
        return misplaced.at_the_margin(reading, mapping, pair)
    has_size = any(each.key.text == "size" and isinstance(each.value, Mapping) for each in mapping.pairs)
    return "begin the line in column 3, " + ("under size:" if has_size else "and write size: above it")


_SIZE = Form(_size, schema_of(_SIZE_FIELDS))


class SpeciesEntry(NamedTuple):
    """One species, as its author knows it."""

    source: SourceText
    """The file."""

    body: Span
    """The author's text after the front matter."""

    name: Written[str]
    """English name as written."""

    scientific: Written[str] | None = None
    """Scientific name, when the author gives it."""

    code: Written[str] | None = None
    """Alpha code, when the author gives it."""

    written: Written[dt.date] | None = None
    """Day on which the account was first written."""

    changed: Written[dt.date] | None = None
    """Day of its last change."""

    when: Written[Months] | None = None
    """Months in which the bird is met."""

    where: tuple[Written[str], ...] = ()
    """Habitats in which it is met."""

    how_common: Written[str] | None = None
    """How often it is met, in words."""

    size: Size | None = None
    """How big it is."""

    measures: tuple[MeasureBlock, ...] = ()
    """Measures of parts by plumage."""

    marks: tuple[PlumageBlock, ...] = ()
    """Marks by plumage."""

    voice: tuple[Phrase, ...] = ()
    """What it sounds like."""

    behaviour: shared.Behaviour | None = None
    """How it goes about its day."""

    similar: tuple[Similar, ...] = ()
    """Look-alikes."""

    sketches: tuple[Picture, ...] = ()
    """Drawings."""

    photos: tuple[Picture, ...] = ()
    """Photos."""

    sources: tuple[Written[str], ...] = ()
    """Where facts and figures come from."""


FIELDS = (
    Field(
        "species",
        "name",
        NAME,
        "English name; makes it a species account.",
        "Hairy Woodpecker",
        may_be_empty=True,
    ),
    Field("scientific", "scientific", NAME, "Scientific name, if not the list's.", "Dryobates villosus"),
    Field("code", "code", NAME, "Alpha code, if not the list's.", "HAWO"),
    shared.WRITTEN,
    shared.CHANGED,
    shared.WHEN,
    shared.WHERE,
    Field("how common", "how_common", TEXT, "How often it is met.", "a pair in most of the wood"),
    Field("size", "size", _SIZE, "How big it is.", "length: 18-26 cm"),
    Field(
        "measures",
        "measures",
        MEASURES,
        "Measures of parts by plumage.",
        "all: | then bill: mean 31.6 n 11 mm",
    ),
    Field("marks", "marks", PLUMAGES, "Marks by plumage.", "male: | then nape: red patch"),
    Field("voice", "voice", VOICE, "What it sounds like.", "| then call: a sharp peek"),
    shared.BEHAVIOUR,
    Field(
        "similar",
        "similar",
        shared.SIMILAR,
        "Look-alikes and the difference.",
        "DOWO: bill against head",
        ("look-alikes", "look-alike", "lookalikes"),
    ),
    shared.SKETCHES,
    shared.PHOTOS,
    shared.SOURCES,
)


def read_species(reading: Reading, front: Mapping, body: Span) -> SpeciesEntry | None:
    """Read a species account; None when not even a name is there."""
    values = read_fields(reading, front, FIELDS, "a species account", _at_the_margin)
    return SpeciesEntry(reading.source, body, **values) if "name" in values else None
