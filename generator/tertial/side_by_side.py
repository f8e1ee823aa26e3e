"""From accounts to comparisons: two birds set beside each other, and a bird seen beside one that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.account_values import measures, phrases
from tertial.marks.compare import Comparison, compare
from tertial.marks.describe import Described, describe
from tertial.marks.faceted import read_by_facet
from tertial.marks.fitting import Fitting, fit
from tertial.marks.plumages import ALL, union_plumages
from tertial.marks.wanted import wanted

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tertial.entries.values import Phrase
    from tertial.guide import Guide, Species
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Reading
    from tertial.marks.wanted import Wanted


def readings(guide: Guide, species: Species) -> Mapping[Plumage, Mapping[str, Reading]]:
    """Give the phrases of an account as read; made at the first question."""
    return species.sheet.once("readings", lambda: _readings(guide, species))


def _readings(guide: Guide, species: Species) -> Mapping[Plumage, Mapping[str, Reading]]:
    return {
        plumage: {part: read_by_facet(text.value, guide.words, part) for part, text in by_part.items()}
        for plumage, by_part in phrases(species).items()
    }


def described(guide: Guide, species: Species, plumage: Plumage) -> Described:
    """Give a species in one plumage."""

    def make() -> Described:
        return describe(readings(guide, species), measures(species), plumage)

    return species.sheet.once(f"described as {plumage.text}", make)


def plumages(first: Species, second: Species) -> tuple[Plumage, ...]:
    """Give the plumages in which two species are compared, in display order.

    Where only the young are described apart, what is written for all stands for the adults.
    """
    found = union_plumages(first.records, second.records)
    grown = any(plumage == ALL or plumage.age == "adult" for plumage in found)
    return found if grown else (ALL, *found)


def compare_species(guide: Guide, first: Species, second: Species, plumage: Plumage) -> Comparison:
    """Set two species of one plumage side by side."""
    return compare(described(guide, first, plumage), described(guide, second, plumage), guide.parts, guide.words)


def compare_plumages(guide: Guide, first: Species, second: Species) -> tuple[Comparison, ...]:
    """Set two species side by side in every plumage that either account describes."""
    return tuple(compare_species(guide, first, second, plumage) for plumage in plumages(first, second))


def missing_records(guide: Guide, first: Species, second: Species, *only: Plumage) -> tuple[Wanted, ...]:
    """Give the records of two species that are missing and would help most, in every plumage or in some."""
    return wanted(in_plumages(guide, first, second, *only), guide.parts, guide.words)


def in_plumages(guide: Guide, first: Species, second: Species, *only: Plumage) -> Iterator[tuple[Described, Described]]:
    """Give two species in every plumage that either account describes, or in some."""
    for plumage in only or plumages(first, second):
        yield described(guide, first, plumage), described(guide, second, plumage)


def fitting(guide: Guide, seen: Iterable[Phrase], species: Species) -> tuple[Fitting, ...]:
    """Hold what was seen of a bird against every plumage of an account, the best fitting first.

    Phrases of parts that the table does not know are left out; of a part written twice, the first counts.
    """
    read: dict[str, Reading] = {}
    for phrase in seen:
        part = guide.parts.find(phrase.part.value)
        if part is not None:
            read.setdefault(part.word, read_by_facet(phrase.text.value, guide.words, part.word))
    account = [described(guide, species, plumage) for plumage in plumages(species, species) or (ALL,)]
    return fit(read, account, guide.words)
