"""Places: that outings lead to them, and that no position is told more closely than its birds can bear.

The grades follow Chapman 2020 (doi 10.15468/doc-5jp4-5g10): a nest, roost or display ground is told to
a tenth of a degree at the closest, whatever else is sensitive to a hundredth.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from tertial.entries.outing import OutingEntry
from tertial.entries.unknown import UnknownEntry
from tertial.text.problem import Also, Problem, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide, Place

_SENSITIVE = re.compile(r"\b(?:nest|roost|leks?\b|display ground|breed|burrow|colon(?:y|ies)\b|dens?\b)", re.IGNORECASE)
_CLOSE, _CLOSEST = Decimal("0.1"), Decimal("0.01")
# Two numbers of degrees with three decimals or more: a hundred metres or closer.
_POSITION = re.compile(r"[-+]?\d{1,3}\.\d{3,}\s*°?\s*[NS]?\s*[,;/ ]\s*[-+]?\d{1,3}\.\d{3,}")


def unknown_place(guide: Guide) -> Iterator[Problem]:
    """An outing or an unknown bird at a place that has no entry."""
    known = {place.slug for place in guide.places}
    for entry in guide.entries():
        if isinstance(entry, OutingEntry | UnknownEntry) and entry.place and entry.place.value not in known:
            message = f"no place has the id {entry.place.value!r}"
            ids = ", ".join(sorted(known))
            mend = f"write one of: {ids}" if ids else "make a file with place: and id: for it"
            yield Problem("unknown-place", Severity.GAP, entry.source, entry.place.span, message, mend)


def same_place(guide: Guide) -> Iterator[Problem]:
    """Two places with one id, so that an outing could not tell which is meant."""
    seen: dict[str, Place] = {}
    for place in sorted(guide.places, key=lambda place: place.entry.source.path):
        name = place.entry.id or place.entry.name
        first = seen.setdefault(name.value, place)
        if first is not place:
            also = Also(first.entry.source, (first.entry.id or first.entry.name).span, "first used here")
            message = f"the id {name.value!r} belongs to another place too"
            mend = "give one of them another id:"
            yield Problem("same-place", Severity.ERROR, place.entry.source, name.span, message, mend, (also,))


def place_too_exact(guide: Guide) -> Iterator[Problem]:
    """A place that is told more closely than its own reason allows."""
    for place in guide.places:
        entry = place.entry
        if entry.shown_as is None or entry.shown_as.value.degrees is None or entry.because is None:
            continue
        limit = _CLOSE if _SENSITIVE.search(entry.because.value) else _CLOSEST
        if entry.shown_as.value.degrees < limit:
            also = Also(entry.source, entry.because.span, "because of this")
            message = f"{entry.shown_as.value.text!r} tells this place more closely than {limit} degree"
            mend = f"write shown as: {limit} degree, or withheld"
            yield Problem(
                "place-too-exact", Severity.WARNING, entry.source, entry.shown_as.span, message, mend, (also,)
            )


def position_unsaid(guide: Guide) -> Iterator[Problem]:
    """A position without a word on how closely it may be told: it is withheld."""
    for place in guide.places:
        entry = place.entry
        if entry.position is not None and entry.shown_as is None:
            message = f"the position of {entry.name.value} is withheld, because shown as: is not written"
            mend = "write shown as: and exact, 0.001, 0.01, 0.1 or 1 degree, or withheld"
            yield Problem("position-unsaid", Severity.GAP, entry.source, entry.position.span, message, mend)


def position_in_text(guide: Guide) -> Iterator[Problem]:
    """A position written into the text, where no rule can make it coarser."""
    for entry in guide.entries():
        found = _POSITION.search(entry.source.text, entry.body.start, entry.body.end)
        if found is not None:
            message = f"{found.group()!r} looks like a position; what stands in the text is published as it is"
            mend = "take it out, and write position: and shown as: in the entry of the place"
            span = Span(found.start(), found.end())
            yield Problem("position-in-text", Severity.WARNING, entry.source, span, message, mend)
