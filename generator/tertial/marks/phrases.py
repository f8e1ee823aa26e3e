"""The terms of a stretch of words, each with what it describes: the part, a place on it, or a marking.

What describes stands before its noun ("black tip"), behind a participle ("tipped with black") or beside
a place ("black above"). A ``with`` opens a new group, and what it introduces is never the whole part.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.lexicon import COLOUR, Kind
from tertial.marks.statements import PRESENT, Aspect, Key, Quality, Role
from tertial.marks.units import Gap

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.marks.atoms import Atom
    from tertial.marks.words import Words

_LOOKS: Final = frozenset({COLOUR, Aspect.PATTERN, Aspect.SHAPE, Aspect.LENGTH, Aspect.NUMBER})
_BESIDE: Final = frozenset({Aspect.PATTERN, Aspect.SHAPE, Aspect.LENGTH})
_JOINTS: Final = frozenset({Kind.OR, Kind.TO, Kind.AND})
_OPENING: Final = frozenset({Kind.MARKED, Kind.TINT, Kind.GLOSS})


class Item(NamedTuple):
    """One term with what it describes."""

    key: Key
    """The aspect, and where on the part."""

    quality: Quality
    """The term."""

    at: int
    """Twice its place among the words, so that there is room between two of them."""


class Bit(NamedTuple):
    """A word, or a colour with all that shades it."""

    at: int
    """Its place among the words."""

    atom: Atom
    """The word."""

    quality: Quality
    """What it says, if it says anything."""


@dataclass(slots=True)
class _Group:
    """What is known while a group of words is read."""

    words: Words
    atoms: Sequence[Atom]
    introduced: bool
    """A ``with`` stands before it."""
    opened: bool
    """A ``with`` stands behind it."""
    marking: str
    """The participle that governs what follows, from the group before at first."""
    tint: str
    """What tinges the colours that follow, likewise."""
    found: list[Item] = field(default_factory=list)
    shades: list[str] = field(default_factory=list)
    loose: int = 0
    """From where on the items found would belong to an unknown word that follows."""

    def where(self, marking: str) -> str:
        """Say which place bears the colour of a marking; a patch that is all that is told is the part's."""
        owns = self.introduced or marking in self.words.lists.keeps
        return self.words.lists.where[marking] if owns else ""

    def add(self, aspect: Aspect, where: str, quality: Quality, at: int) -> None:
        """Note a term."""
        self.found.append(Item(Key(aspect, where), quality, 2 * at))


def items(atoms: Sequence[Atom], words: Words) -> list[Item]:
    """Give the terms of a stretch of words, from left to right within each group."""
    starts = [at for at, atom in enumerate(atoms) if atom.kind is Kind.WITH]
    found: list[Item] = []
    last: Atom | None = None
    for start, end in zip([0, *starts], [*starts, len(atoms)], strict=True):
        bits = tuple(_bits(atoms, start, end))
        carried = last.sense if last and last.sense and last.kind in _OPENING else None
        group = _Group(
            words,
            atoms,
            introduced=start < end and atoms[start].kind is Kind.WITH,
            opened=end < len(atoms),
            marking=carried.word if carried and carried.kind is Kind.MARKED else "",
            tint=carried.word if carried and carried.kind is not Kind.MARKED else "",
        )
        for section in _sections(bits):
            _read(group, section)
        found += group.found
        last = bits[-1].atom if bits else last
    return found


def _bits(atoms: Sequence[Atom], start: int, end: int) -> Iterator[Bit]:
    """Join each colour with the shades before it; of two colours the first shades the second."""
    told = [at for at in range(start, end) if atoms[at].kind not in {Kind.SILENT, Kind.WITH}]
    told = [at for at in told if atoms[at].role is not Role.SILENT]
    shades: list[str] = []
    for place, at in enumerate(told):
        atom = atoms[at]
        word = atom.sense.word if atom.sense else ""
        following = atoms[told[place + 1]] if place + 1 < len(told) else None
        if following and following.unit.gap is Gap.SLASH:
            following = None
        shaded = following is not None and (following.is_colour or following.kind is Kind.SHADE)
        if shaded and (atom.kind is Kind.SHADE or (atom.is_colour and following and following.is_colour)):
            shades.append(word)
            continue
        yield Bit(at, atom, Quality(word, tuple(sorted({*shades} - {word}))))
        shades = []


def _sections(bits: Sequence[Bit]) -> Iterator[tuple[Bit, ...]]:
    """Divide a group so that each section has one place or noun, before or behind what describes it."""
    ahead = bool(bits) and _is_place(bits[0])
    section: list[Bit] = []
    for bit in bits:
        if ahead and section and _is_place(bit):
            yield tuple(section)
            section = []
        section.append(bit)
        if not ahead and (_is_place(bit) or bit.atom.kind in {Kind.MARKING, Kind.COUNTED}):
            yield tuple(section)
            section = []
    if section:
        yield tuple(section)


def _is_place(bit: Bit) -> bool:
    return bit.atom.kind is Kind.PLACE or bit.atom.unit.kind(Kind.PLACE) is not None


def _place(section: Sequence[Bit]) -> str:
    """Give the place that a section speaks of; a noun for both place and marking is a place if it stands alone."""
    for at, bit in enumerate(section):
        sense = bit.atom.unit.kind(Kind.PLACE)
        if sense and (bit.atom.kind is Kind.PLACE or (at == 0 and len(section) > 1)):
            return sense.word
    return ""


def _read(group: _Group, section: Sequence[Bit]) -> None:
    place = _place(section)
    noun = section[-1] if section[-1].atom.kind is Kind.MARKING and not (place and len(section) > 1) else None
    counted = section[-1].quality.word if section[-1].atom.kind is Kind.COUNTED else ""
    group.shades, group.loose = [], len(group.found)
    leads = _lead_to_marking(section, noun)
    for at, bit in enumerate(section):
        after = section[at + 1] if at + 1 < len(section) else None
        kind, sense = bit.atom.kind, bit.atom.sense
        if sense is None:
            if bit.atom.unknown:
                _drop_loose(group)
        elif kind in _JOINTS:
            group.loose = len(group.found)
        elif kind in {Kind.ABSENCE, Kind.PRESENCE}:
            word = PRESENT if kind is Kind.PRESENCE else "absent"
            group.add(Aspect.PRESENCE, "", Quality(word), bit.at)
        elif kind is Kind.NUMBER:
            group.add(
                Aspect.NUMBER, counted or (group.where(noun.quality.word) if noun else place), bit.quality, bit.at
            )
        elif bit.atom.is_colour or kind is Kind.SHADE:
            _colour(group, bit, after, noun, place)
        elif kind is Kind.TINT or (kind is Kind.GLOSS and after is None and group.opened):
            _tint(group, bit, after)
        elif kind in {Kind.MARKED, Kind.MARKING}:
            if kind is Kind.MARKED or not (place and len(section) > 1):
                group.add(Aspect.PATTERN, place, _with_shades(bit.quality, group.shades), bit.at)
            group.shades = []
            group.marking = bit.quality.word if kind is Kind.MARKED or at == 0 else ""
        elif sense.aspect in _BESIDE and leads[at]:
            group.shades.append(bit.quality.word)
        elif sense.aspect is not None:
            group.add(sense.aspect, place, bit.quality, bit.at)


def _colour(group: _Group, bit: Bit, after: Bit | None, noun: Bit | None, place: str) -> None:
    where = place
    if noun:
        where = group.where(noun.quality.word)
    elif after and after.atom.kind is Kind.MARKED and after.atom.unit.gap is Gap.HYPHEN:
        where = group.words.lists.where[after.quality.word]
    elif group.marking:
        where = group.words.lists.where[group.marking]
    tinged = [group.tint] if group.tint else []
    group.add(COLOUR, where, _with_shades(bit.quality, tinged), bit.at)


def _tint(group: _Group, bit: Bit, after: Bit | None) -> None:
    """Let a tint speak of the colours behind it, or, as a noun ("buff wash"), of the one before it."""
    if after is None and not group.opened and group.found and group.found[-1].key.aspect is COLOUR:
        last = group.found[-1]
        group.found[-1] = last._replace(quality=_with_shades(last.quality, [bit.quality.word]))
    else:
        group.tint = bit.quality.word


def _lead_to_marking(section: Sequence[Bit], noun: Bit | None) -> list[bool]:
    """Say of each word whether it describes a marking: its noun ends the section, or its participle comes next."""
    found: list[bool] = []
    marked = False
    for bit in reversed(section):
        found.append(noun is not None or marked)
        if bit.atom.kind is not Kind.TERM or bit.atom.is_colour:
            marked = bit.atom.kind is Kind.MARKED
    return found[::-1]


def _drop_loose(group: _Group) -> None:
    """Give up what would describe an unknown word: whose white it is, nobody can tell."""
    loose = group.found[group.loose :]
    gone = {item.at // 2 for item in loose if item.key.aspect in _LOOKS}
    group.found[group.loose :] = [item for item in loose if item.at // 2 not in gone]
    group.loose = len(group.found)
    for at in gone:
        group.atoms[at].set_aside()


def _with_shades(quality: Quality, shades: Sequence[str]) -> Quality:
    return Quality(quality.word, tuple(sorted({*quality.shades, *shades} - {quality.word})))
