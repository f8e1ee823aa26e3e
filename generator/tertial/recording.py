"""What an account records, by plumage and part: the author's words for both taken as the tables have them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.marks.measures import MEASURES
from tertial.marks.plumages import Plumage, read_plumage

if TYPE_CHECKING:
    from tertial.entries.species import SpeciesEntry
    from tertial.entries.values import NamedMeasure, Phrase
    from tertial.marks.parts import PartTable


def phrase_records(parts: PartTable, entry: SpeciesEntry) -> dict[Plumage, dict[str, Phrase]]:
    """Give phrases by plumage and part; of a part written twice, the first."""
    records: dict[Plumage, dict[str, Phrase]] = {}
    for block in entry.marks:
        plumage = read_plumage(block.plumage.value)
        if plumage is not None:
            under = records.setdefault(plumage, {})
            for phrase in block.phrases:
                under.setdefault(part_word(phrase.part.value, parts), phrase)
    return records


def measure_records(parts: PartTable, entry: SpeciesEntry) -> dict[Plumage, dict[str, NamedMeasure]]:
    """Give measures by plumage and part, or by what they are of the whole bird; of one written twice, the first."""
    records: dict[Plumage, dict[str, NamedMeasure]] = {}
    for block in entry.measures:
        plumage = read_plumage(block.plumage.value)
        if plumage is not None:
            under = records.setdefault(plumage, {})
            for measure in block.measures:
                under.setdefault(_measure_word(measure.part.value, parts), measure)
    return records


def _measure_word(text: str, parts: PartTable) -> str:
    whole = text.casefold()
    return whole if whole in MEASURES else part_word(text, parts)


def part_word(text: str, parts: PartTable) -> str:
    """Give the preferred word for a part, or the author's own where the table has none."""
    part = parts.find(text)
    return part.word if part else text
