"""Which birds of the guide look alike, whether or not their accounts say so: from accounts to proposals."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.account_values import measures
from tertial.groups import plumages_of, profile
from tertial.marks.alike import Candidate, Proposal, alike
from tertial.marks.plumages import ALL
from tertial.marks.size import is_loose, ladder, nearest, rung_named
from tertial.side_by_side import described

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide, Species
    from tertial.marks.size import Yardstick


def look_alikes(guide: Guide) -> tuple[Proposal, ...]:
    """Propose look-alikes, the likest first; of a code that two accounts have, the first account counts."""
    return alike(tuple(_candidates(guide)), guide.words.agreement)


def _candidates(guide: Guide) -> Iterator[Candidate]:
    rungs = ladder(code.value for code in guide.settings.yardsticks)
    for species in guide.by_code.values():
        entry = species.entry
        months = frozenset(entry.when.value.numbers if entry.when else ())
        habitats = frozenset(" ".join(each.value.casefold().split()) for each in entry.where)
        rung = _rung(rungs, species)
        for plumage in plumages_of(species):
            known = profile(described(guide, species, plumage))
            yield Candidate(species.code, plumage.text, known, rung, months, habitats)


def _rung(rungs: tuple[Yardstick, ...], species: Species) -> int | None:
    """Place a bird on the ladder of well-known birds: by its figures, else by the bird that its size names."""
    general = measures(species)[ALL]
    mass, length = (general[word].centre if word in general else None for word in ("mass", "length"))
    found = nearest(rungs, mass, length)
    size = species.entry.size
    if found is None and size and size.size_class and not is_loose(size.size_class.value):
        return rung_named(rungs, size.size_class.value)
    return found
