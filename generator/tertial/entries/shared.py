"""Fields that several kinds of entry have, and the readers of what stands under them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from tertial.entries import pictures
from tertial.entries.convert import DATE, to_date, to_months
from tertial.entries.fields import LIST, NOTHING, SCALAR, TEXTS, Field, Form, converted, text, texts
from tertial.entries.phrases import block_lines, phrases
from tertial.entries.values import Phrase, Similar, Written
from tertial.text.nodes import Listing, Mapping, Pair, Scalar
from tertial.text.source import Span

if TYPE_CHECKING:
    from tertial.entries.fields import Reading


_BETWEEN = frozenset({"or", "and"})
_ITEM = re.compile(r"[^\s,]+(?:\s+[xX\N{MULTIPLICATION SIGN}]\s+[^\s,]+)?")


class Behaviour(NamedTuple):
    """How the bird goes about its day."""

    foraging: tuple[Written[str], ...] = ()
    """Ways of taking food, by the trade's words."""

    notes: tuple[Phrase, ...] = ()
    """Everything else, by its key."""


def behaviour(reading: Reading, pair: Pair) -> Behaviour | None:
    """Read ``foraging`` as a list and every other key as a phrase; a single text becomes a note."""
    if isinstance(pair.value, Scalar) and not pair.value.style.startswith(("|", ">")):
        note = text(reading, pair)
        return Behaviour((), (Phrase(Written("notes", pair.key.span), note),)) if note else None
    if not isinstance(pair.value, Mapping):
        return Behaviour((), phrases(reading, pair) or ())
    own = [each for each in pair.value.pairs if each.key.text == "foraging"]
    rest = tuple(each for each in pair.value.pairs if each.key.text != "foraging")
    foraging = (texts(reading, own[0]) or ()) if own else ()
    return Behaviour(foraging, phrases(reading, Pair(pair.key, Mapping(rest, pair.value.span))) or ())


def similar(reading: Reading, pair: Pair) -> tuple[Similar, ...] | None:
    """Read look-alikes: codes with remarks, or a list of codes."""
    if isinstance(pair.value, Mapping):
        found = []
        for each in pair.value.pairs:
            remark = None if isinstance(each.value, Scalar) and each.value.is_empty else text(reading, each)
            found.append(Similar(Written(each.key.text, each.key.span), remark))
        return tuple(found) or None
    if isinstance(pair.value, Scalar) and pair.value.style == "|":
        lines = block_lines(reading, pair.value, ("code", "remark", "DOWO: smaller, with a short bill"))
        return tuple(Similar(code, remark if remark.value else None) for code, remark in lines) or None
    return tuple(Similar(code, None) for code in codes(reading, pair) or ()) or None


def codes(reading: Reading, pair: Pair) -> tuple[Written[str], ...] | None:
    """Read a list of codes; one line of codes with blanks, commas, "or" or "and" between is a list too.

    A cross of two codes is one item.
    """
    if isinstance(pair.value, Listing):
        return texts(reading, pair)
    line = text(reading, pair)
    if line is None:
        return None
    found, offset = [], line.span.start
    for code in _ITEM.findall(line.value):
        at = reading.source.text.find(code, offset, line.span.end)
        # Written with escapes it is not to be found as such; then the whole line is its place.
        span = Span(at, at + len(code)) if at >= 0 else line.span
        offset = span.end if at >= 0 else offset
        if code not in _BETWEEN:
            found.append(Written(code, span))
    return tuple(found)


CODES = Form(codes, LIST)
_PERHAPS = {"anyOf": [SCALAR, NOTHING]}
_LISTED = {"anyOf": [*LIST["anyOf"], NOTHING]}
SIMILAR = Form(similar, {"anyOf": [{"type": "object", "additionalProperties": _PERHAPS}, LIST]})
_BEHAVIOUR = Form(
    behaviour,
    {"anyOf": [{"type": "object", "properties": {"foraging": _LISTED}, "additionalProperties": _PERHAPS}, SCALAR]},
)

WRITTEN = Field(
    "written", "written", converted(to_date, DATE), "Day on which the account was first written.", "2026-01-04"
)
CHANGED = Field("changed", "changed", converted(to_date, DATE), "Day of the last change worth telling.", "2026-02-11")
WHEN = Field("when", "when", converted(to_months), "Months in which it is met.", "November to March")
WHERE = Field("where", "where", TEXTS, "Habitats in which it is met.", "[river wood, old orchard]")
SKETCHES = Field("sketches", "sketches", pictures.SKETCHES, "Drawings beside the entry.", "- file: hairy-male.png")
PHOTOS = Field("photos", "photos", pictures.PHOTOS, "Photos beside the entry.", "- file: hairy-feeder.jpg")
SOURCES = Field("sources", "sources", TEXTS, "Where facts and figures come from.", '- "handbook ranges, from memory"')
BEHAVIOUR = Field("behaviour", "behaviour", _BEHAVIOUR, "How it goes about its day.", "foraging: [hammer, flake]")
