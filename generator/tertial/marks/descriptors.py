"""What one clause says: its terms gathered by aspect and place, with constancy, negation and alternatives.

The words of a clause come in three orders: what describes stands before its noun ("black tip"), or
behind a participle ("tipped with black"), or beside a place ("black above"). Each is read alone.
"""

from __future__ import annotations

from bisect import bisect
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.atoms import Atom
from tertial.marks.claims import Said
from tertial.marks.lexicon import COLOUR, Kind
from tertial.marks.phrases import Item, items
from tertial.marks.statements import ABSENT, Aspect, Key, Quality

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.marks.words import Words

_DESCRIBING: Final = frozenset(
    {Kind.TERM, Kind.SHADE, Kind.TINT, Kind.GLOSS, Kind.MARKED, Kind.MARKING, Kind.NUMBER, Kind.ABSENCE, Kind.PRESENCE}
)
_PRESENCE: Final = Key(Aspect.PRESENCE)
_MOST_STEPS: Final = 12


class Descriptor(NamedTuple):
    """A stretch of a clause under one word of constancy."""

    constancy: str
    """That word, or '' without any."""

    atoms: tuple[Atom, ...]
    """Its words, without the word of constancy."""


def said(atoms: Sequence[Atom], words: Words) -> Iterator[Said]:
    """Give all that a clause says, key by key."""
    plain = words.lists.weights["plain statement"]
    for constancy, stretch in _descriptors(atoms):
        weight = words.lists.weights[constancy] if constancy else plain
        denied = constancy in words.lists.never
        at = next((at for at, atom in enumerate(stretch) if atom.kind is Kind.NEGATION), len(stretch))
        for negative, some in ((denied, stretch[:at]), (not denied, stretch[at + 1 :])):
            found = items(some, words)
            if negative and any(item.key.aspect is COLOUR for item in found):
                # "No white edges" denies the white alone: the edges may be there in another colour.
                found = [item for item in found if item.key.aspect is not Aspect.PATTERN]
            for key, options, share in _options(found, some, words):
                if options:
                    yield Said(key, options, weight, bool(constancy), negative, share)
        if at < len(stretch) and _is_bare(stretch[at:]):
            yield Said(_PRESENCE, ((Quality(ABSENT),),), weight, bool(constancy), denied)


def _descriptors(atoms: Sequence[Atom]) -> Iterator[Descriptor]:
    """Divide a clause at its words of constancy; one at the very end speaks for what stands before it."""
    constancy, stretch = "", list[Atom]()
    last = max((at for at, atom in enumerate(atoms) if atom.kind in _DESCRIBING), default=-1)
    told = False
    for at, atom in enumerate(atoms):
        if atom.kind is not Kind.CONSTANCY or atom.sense is None:
            stretch.append(atom)
            told = told or atom.kind in _DESCRIBING or atom.kind is Kind.NEGATION
            continue
        if told and (constancy or at < last):
            yield Descriptor(constancy, tuple(stretch))
            stretch, told = [], False
        constancy = atom.sense.word
    yield Descriptor(constancy, tuple(stretch))


def _is_bare(atoms: Sequence[Atom]) -> bool:
    """Whether a negation denies nothing but the part itself ("no crest")."""
    return all(
        atom.kind in {Kind.NEGATION, Kind.SILENT} or (atom.sense is None and atom.role.value == "silent")
        for atom in atoms
    )


def _options(
    found: Sequence[Item], atoms: Sequence[Atom], words: Words
) -> Iterator[tuple[Key, tuple[tuple[Quality, ...], ...], float]]:
    """Divide the terms of each key at every ``or`` that stands between two of them."""
    found = sorted(found, key=lambda item: item.at)
    by_key: dict[Key, list[Item]] = {}
    for item in found:
        by_key.setdefault(item.key, []).append(item)
    cuts: dict[Key, list[tuple[int, bool]]] = {}
    shares: dict[Key, float] = {}
    for at, is_range in _alternatives(atoms):
        place = bisect(found, at, key=lambda item: item.at)
        if not 0 < place < len(found):
            continue
        left, right = found[place - 1], found[place]
        if left.key == right.key:
            cuts.setdefault(left.key, []).append((at, is_range))
            continue
        for key, terms in by_key.items():
            if terms[0].at < at < terms[-1].at:
                cuts.setdefault(key, []).append((at, is_range))
            elif key in (left.key, right.key):
                shares[key] = shares.get(key, 1.0) / 2
    for key, terms in by_key.items():
        yield key, tuple(_split(key, terms, cuts.get(key, []), words)), shares.get(key, 1.0)


def _alternatives(atoms: Sequence[Atom]) -> Iterator[tuple[int, bool]]:
    """Give the places of all signs and words for "or" and "to", the latter marked so."""
    for at, atom in enumerate(atoms):
        if atom.kind in {Kind.OR, Kind.TO}:
            yield 2 * at, atom.kind is Kind.TO
        elif at and atom.unit.gap.value == "slash":
            yield 2 * at - 1, False
        elif at and atom.kind is Kind.NUMBER and atoms[at - 1].kind is Kind.NUMBER and atom.unit.gap.value == "hyphen":
            yield 2 * at - 1, True


def _split(
    key: Key, terms: Sequence[Item], cuts: Sequence[tuple[int, bool]], words: Words
) -> Iterator[tuple[Quality, ...]]:
    """Give the alternatives of one key; a range that nobody would count out gives none."""
    parts: list[tuple[Quality, ...]] = []
    start, ranged = 0, False
    for cut, is_range in (*cuts, (terms[-1].at + 1, False)):
        end = bisect(terms, cut, key=lambda item: item.at)
        part = tuple(sorted({item.quality for item in terms[start:end]}))
        if part and ranged and len(parts) == len(part) == len(parts[-1]) == 1:
            between = _between(key.aspect, parts[-1][0], part[0], words)
            if between is None:
                return
            parts += between
        parts += [part] if part else []
        start, ranged = end, is_range
    yield from dict.fromkeys(parts)


def _between(aspect: Aspect, first: Quality, last: Quality, words: Words) -> list[tuple[Quality, ...]] | None:
    """Give the steps between the two ends of a range of numbers, or on an ordered scale; None if too many."""
    if aspect is Aspect.NUMBER and first.word.isdecimal() and last.word.isdecimal():
        low, high = sorted((int(first.word), int(last.word)))
        return [(Quality(str(number)),) for number in range(low + 1, high)] if high - low <= _MOST_STEPS else None
    return [(Quality(word),) for word in words.between(aspect, first.word, last.word)]
