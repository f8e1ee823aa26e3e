"""Sketches and photos as the author lists them. What is in the files is the room ``sketches``' matter."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.entries.convert import DATE, to_box, to_date, to_pointer, to_scale
from tertial.entries.fields import NAME, TEXT, Field, Form, converted, converted_each, one_of, read_fields, schema_of
from tertial.text.nodes import Listing, Mapping
from tertial.text.problem import Severity

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Iterator

    from tertial.entries.fields import Reading
    from tertial.entries.values import Box, Pointer, Scale, Written
    from tertial.text.nodes import Pair
    from tertial.text.source import Span

DEVELOP = ("drawing", "photo", "none")
"""What ``develop:`` may say: a photographed drawing is made a drawing again, the others stay as they are."""


class Picture(NamedTuple):
    """A sketch or a photo beside the entry."""

    span: Span
    """Where its block stands."""

    file: Written[str]
    """File name from the entry's folder."""

    is_photo: bool = False
    """It is listed under ``photos:``."""

    alt: Written[str] | None = None
    """What it shows, for those who cannot see it."""

    shows: Written[str] | None = None
    """The plumage it shows."""

    caption: Written[str] | None = None
    """A line to stand under it."""

    by: Written[str] | None = None
    """Whose it is, when it is not the guide's author's."""

    licence: Written[str] | None = None
    """Its licence, when it is not the guide's."""

    develop: Written[str] | None = None
    """How it is developed, one of ``DEVELOP``; without it a sketch is judged, and a photo left as it is."""

    taken: Written[dt.date] | None = None
    """Day of a photo."""

    scale: Written[Scale] | None = None
    """Two points whose distance in life is known."""

    head: Written[Box] | None = None
    """The head."""

    pointers: tuple[Written[Pointer], ...] = ()
    """What there is to see, and where."""


_COMMON = (
    Field("file", "file", NAME, "File name from the entry's folder.", "hairy-male.png", may_be_empty=True),
    Field("shows", "shows", NAME, "The plumage it shows.", "male"),
    Field("alt", "alt", TEXT, "What it shows, for those who cannot see it.", "Male at a birch, bill raised"),
    Field("caption", "caption", TEXT, "A line to stand under it.", "At the weir, second week of frost"),
    Field("by", "by", TEXT, "Whose it is, if not the author's.", "R. Friend"),
    Field("develop", "develop", one_of(*DEVELOP), "What is to be made of a photographed page.", "drawing"),
    Field("licence", "licence", TEXT, "Its licence, if not the guide's.", "CC BY 4.0"),
)
SKETCH_FIELDS = (
    *_COMMON,
    Field(
        "scale",
        "scale",
        converted(to_scale),
        "Two spots whose distance in life is known.",
        "bill tip 412,220 to tail tip 1650,910",
    ),
    Field("head", "head", converted(to_box), "Two corners of a box round the head.", "380,180 to 700,470"),
    Field("pointers", "pointers", converted_each(to_pointer), "Spots with what is seen there.", "430,228 bill"),
)
PHOTO_FIELDS = (
    *_COMMON,
    Field("taken", "taken", converted(to_date, DATE), "Day on which it was taken.", "2026-01-03"),
)


def _pictures(
    fields: tuple[Field, ...], what: str, *, photo: bool
) -> Callable[[Reading, Pair], tuple[Picture, ...] | None]:
    def read(reading: Reading, pair: Pair) -> tuple[Picture, ...] | None:
        return tuple(_each(reading, pair, fields, what, photo=photo)) or None

    return read


def _each(reading: Reading, pair: Pair, fields: tuple[Field, ...], what: str, *, photo: bool) -> Iterator[Picture]:
    nodes = pair.value.items if isinstance(pair.value, Listing) else (pair.value,)
    for node in nodes:
        if not isinstance(node, Mapping):
            reading.wrong_shape(node, f"{what} with its file and alt text", "write - file: NAME, then alt: below it")
            continue
        values = read_fields(reading, node, fields, what)
        if "file" in values:
            yield Picture(node.span, is_photo=photo, **values)
        else:
            message = f"{what} names no file"
            reading.say("no-file", node.span, message, "add file: and the name of the picture", Severity.ERROR)


def _form(fields: tuple[Field, ...], what: str, *, photo: bool) -> Form:
    one = schema_of(fields, "file")
    return Form(_pictures(fields, what, photo=photo), {"anyOf": [{"type": "array", "items": one}, one]})


SKETCHES = _form(SKETCH_FIELDS, "a sketch", photo=False)
PHOTOS = _form(PHOTO_FIELDS, "a photo", photo=True)
