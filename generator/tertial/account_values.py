"""What an account records of a species, in the plain values that ``marks`` works on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from tertial.entries.convert import UNITS
from tertial.entries.values import Written
from tertial.marks.measures import Measured
from tertial.marks.plumages import ALL
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from tertial.entries.values import Quantity
    from tertial.guide import Species
    from tertial.marks.plumages import Plumage

FEEDING: Final = "feeding"
"""The part under which ways of taking food are compared."""

CENTIMETRES: Final = frozenset({"length", "wingspan"})
"""Measures shown in centimetres; other lengths are in millimetres, masses in grams."""


def phrases(species: Species) -> Mapping[Plumage, Mapping[str, Written[str]]]:
    """Give the phrases of an account with their places: marks by plumage, voice and feeding for all birds."""
    found = {
        plumage: {part: phrase.text for part, phrase in by_part.items()} for plumage, by_part in species.records.items()
    }
    general = found.setdefault(ALL, {})
    for phrase in species.entry.voice:
        part = species.parts.find(phrase.part.value)
        if part is not None:
            general.setdefault(part.word, phrase.text)
    ways = species.entry.behaviour.foraging if species.entry.behaviour else ()
    if ways:
        span = Span(ways[0].span.start, ways[-1].span.end)
        general.setdefault(FEEDING, Written(", ".join(way.value for way in ways), span))
    return found


def measures(species: Species) -> Mapping[Plumage, Mapping[str, Measured]]:
    """Give the measures of an account in one unit to each: see ``CENTIMETRES``."""
    return {
        plumage: {word: measured(word, quantity) for word, quantity in found.items()}
        for plumage, found in quantities(species).items()
    }


def quantities(species: Species) -> Mapping[Plumage, Mapping[str, Quantity]]:
    """Give the measures of an account as written, its size among them for all birds."""
    found: dict[Plumage, dict[str, Quantity]] = {
        plumage: {part: named.quantity.value for part, named in named_measures.items()}
        for plumage, named_measures in species.measures.items()
    }
    size = species.entry.size
    general = found.setdefault(ALL, {})
    for word in ("length", "wingspan", "mass"):
        written = getattr(size, word) if size else None
        if written is not None:
            general.setdefault(word, written.value)
    return found


def measured(word: str, quantity: Quantity) -> Measured:
    """Take a quantity to the unit in which its measure is compared."""
    factor = UNITS[quantity.unit].factor / (10 if word in CENTIMETRES else 1)

    def convert(value: Decimal | None) -> float | None:
        return None if value is None else float(value * factor)

    return Measured(
        convert(quantity.low), convert(quantity.high), convert(quantity.mean), convert(quantity.sd), quantity.n
    )


def unit_of(word: str) -> str:
    """Give the unit in which a measure is compared."""
    if word in CENTIMETRES:
        return "cm"
    return "g" if word == "mass" else "mm"
