"""Which birds are worth comparing together."""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide, Species

_SIZES: Final = {"chosen": (2, 1000), "flock": (3, 12), "genus": (3, 8)}
"""Fewest and most accounts of a group, by where it comes from. A flock or a genus of fewer is a pair or a single
bird, and has its pages already; of more, no page could show them beside each other. What is chosen is made."""


class Group(NamedTuple):
    """Birds that are worth comparing together."""

    name: str
    """What it is called: by the author, or as the flock or the genus."""

    slug: str
    """File name of its page, without ending; unique among groups."""

    reason: str
    """Where it comes from: ``chosen``, ``flock`` or ``genus``."""

    members: tuple[Species, ...]
    """Its birds, in list order."""


@lru_cache(maxsize=2)
def groups(guide: Guide) -> tuple[Group, ...]:
    """Give the groups of a guide: those that the author chose, then flocks, then genera. No two have the same birds.

    Kept, because the menu of every page asks for them, and lists ask again.
    """
    found: list[Group] = []
    taken: set[str] = {"index"}
    seen: set[frozenset[str]] = set()
    by_code: dict[str, list[tuple[int, Species]]] = {}
    for place, each in enumerate(guide.species):
        by_code.setdefault(each.code, []).append((place, each))
    for name, reason, codes in _proposed(guide):
        birds = codes.intersection(by_code)
        fewest, most = _SIZES[reason]
        if fewest <= len(birds) <= most and birds not in seen:
            seen.add(birds)
            slug, number = slug_of(name), 1
            while slug in taken:
                number += 1
                slug = f"{slug_of(name)}-{number}"
            taken.add(slug)
            members = sorted((each for code in birds for each in by_code[code]), key=lambda each: each[0])
            found.append(Group(name, slug, reason, tuple(species for _, species in members)))
    return tuple(found)


def _proposed(guide: Guide) -> Iterator[tuple[str, str, frozenset[str]]]:
    for name, codes in guide.settings.groups:
        yield name.value, "chosen", frozenset(code.value for code in codes)
    for flock in guide.flocks:
        yield flock.name, "flock", frozenset(flock.head.members)
    by_genus = sorted((each for each in guide.species if each.scientific), key=lambda each: each.scientific.split()[0])
    for genus, birds in groupby(by_genus, key=lambda each: each.scientific.split()[0]):
        yield f"The genus {genus}", "genus", frozenset(each.code for each in birds)
