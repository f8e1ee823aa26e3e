"""Which account of the guide a word of the command line means: a code, or a name in any spelling."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.names.fold import fold

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tertial.guide import Guide, Species

_NEAR: Final = 0.6
"""Least likeness (``difflib`` ratio) of a name that may have been meant."""


class Missing(NamedTuple):
    """A word that leads to no account."""

    asked: str
    """The word."""

    listed: str
    """The bird of the list that it means all the same, or ''."""

    near: tuple[str, ...]
    """Accounts that it may have meant, each as code and name, the likeliest first."""

    @property
    def reason(self) -> str:
        """What to tell who asked."""
        which = f" ({self.listed})" if self.listed else ""
        near = f"; near it are {', '.join(self.near)}" if self.near else ""
        return f"{self.asked!r}{which} has no account in this guide{near}"


def find_species(guide: Guide, asked: str) -> Species | Missing:
    """Find the account that a code or a name means."""
    word = asked.strip()
    found = guide.by_code.get(word) or guide.by_code.get(word.upper())
    if found is not None:
        return found
    folded = fold(word)
    birds = guide.names.find(word)
    for species in guide.species:
        if folded in (fold(species.name), fold(species.scientific)) or species.bird in birds:
            return species
    return Missing(word, birds[0].listed_name(guide.scheme) if birds else "", _near(guide, folded))


def _near(guide: Guide, folded: str) -> tuple[str, ...]:
    wordings: dict[str, Species] = {}
    for species in guide.species:
        for wording in (species.code, species.name, *species.name.split()[-1:]):
            wordings.setdefault(fold(wording), species)
    matches = get_close_matches(folded, wordings, n=6, cutoff=_NEAR)
    return tuple(_called(dict.fromkeys(wordings[match].code for match in matches), guide))[:3]


def _called(codes: Iterable[str], guide: Guide) -> Iterable[str]:
    return (f"{code} {guide.by_code[code].name}" for code in codes)
