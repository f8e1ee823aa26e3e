"""What each stretch of a clause does: the step from words that may mean much to words that mean one thing.

A clause is what stands between commas or on one side of a ``but``. Whole stretches are set aside here as
remarks: comparisons, conditions, doubts, what a preposition introduces, and whatever belongs to another
part of the bird than the one described.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from tertial.marks.lexicon import COLOUR, Kind, Sense
from tertial.marks.statements import Aspect, Role
from tertial.marks.units import Unit, is_foreign

if TYPE_CHECKING:
    from collections.abc import Sequence

_DESCRIBING: Final = (Kind.TERM, Kind.SHADE, Kind.TINT, Kind.GLOSS, Kind.MARKED, Kind.MARKING, Kind.NUMBER)
_SMALL: Final = (
    *(Kind.CONSTANCY, Kind.NEGATION, Kind.ABSENCE, Kind.PRESENCE, Kind.OR, Kind.TO, Kind.AND, Kind.WITH, Kind.BUT),
    *(Kind.THAN, Kind.AS, Kind.MORE, Kind.CONDITION, Kind.DOUBT, Kind.NOTHING, Kind.COUNTED, Kind.PREPOSITION),
    *(Kind.SILENT, Kind.DEGREE, Kind.COMPARATIVE),
)
_ASIDE: Final = frozenset({Kind.CONDITION, Kind.DOUBT, Kind.NOTHING})
_COMPARING: Final = frozenset({Kind.THAN, Kind.AS, Kind.MORE, Kind.COMPARATIVE})
_JOINED: Final = frozenset({*_DESCRIBING, Kind.PLACE})
_ENDS_TAIL: Final = frozenset({Kind.WITH, Kind.CONSTANCY, Kind.NEGATION})

ROLES: Final = {
    **dict.fromkeys((Kind.TERM, Kind.MARKED, Kind.MARKING, Kind.NUMBER, Kind.ABSENCE, Kind.PRESENCE), Role.TERM),
    **dict.fromkeys((Kind.SHADE, Kind.TINT, Kind.GLOSS), Role.SHADE),
    **dict.fromkeys((Kind.OR, Kind.TO, Kind.AND, Kind.WITH, Kind.BUT), Role.JOINT),
    Kind.CONSTANCY: Role.CONSTANCY,
    Kind.NEGATION: Role.NEGATION,
    Kind.PLACE: Role.PLACE,
    Kind.COUNTED: Role.PLACE,
}
"""What a word is shown as when it means what its kind says; the others are silent."""


@dataclass(slots=True)
class Atom:
    """A unit with the one meaning that it has in its clause."""

    unit: Unit
    """Where it stands, and what it could mean."""

    sense: Sense | None
    """What it means; None for what is not understood or set aside."""

    role: Role
    """What a reader is told of it."""

    unknown: bool = False
    """It is in no list."""

    @property
    def kind(self) -> Kind | None:
        """What it does, if it does anything."""
        return self.sense.kind if self.sense else None

    @property
    def is_colour(self) -> bool:
        """It names a colour."""
        return self.sense is not None and self.sense.kind is Kind.TERM and self.sense.aspect is COLOUR

    def set_aside(self, role: Role = Role.REMARK) -> None:
        """Let it mean nothing, and show it as a remark or as part of a comparison."""
        self.sense, self.unknown = None, False
        self.role = Role.LINK if self.unit.code else role


def understand(units: Sequence[Unit], aspects: Sequence[Aspect]) -> list[Atom]:
    """Give every unit of a clause its meaning."""
    atoms = [_atom(unit, aspects) for unit in units]
    _choose_by_neighbours(atoms)
    if any(atom.kind in _ASIDE or atom.unit.doubted for atom in atoms):
        for atom in atoms:
            atom.set_aside()
    _set_comparison_aside(atoms)
    _set_tails_aside(atoms)
    _mark_foreign(atoms)
    return atoms


def _atom(unit: Unit, aspects: Sequence[Aspect]) -> Atom:
    if unit.aside:
        return Atom(unit, None, Role.REMARK)
    sense = _sense(unit, aspects)
    if sense:
        return Atom(unit, sense, ROLES.get(sense.kind, Role.SILENT))
    if unit.part or unit.senses or unit.own:
        return Atom(unit, None, Role.SILENT if unit.own else Role.REMARK)
    return Atom(unit, None, Role.LINK if unit.code else Role.LEFT, unknown=True)


def _sense(unit: Unit, aspects: Sequence[Aspect]) -> Sense | None:
    """Choose among senses by what the part can be described in; looks before small words."""
    if unit.own:
        return None
    place = unit.kind(Kind.PLACE) if COLOUR in aspects else None
    for aspect in aspects:
        for kind in _DESCRIBING:
            for sense in unit.senses:
                if sense.kind is kind and sense.aspect is aspect:
                    return sense
    return place or next((sense for kind in _SMALL for sense in unit.senses if sense.kind is kind), None)


def _choose_by_neighbours(atoms: Sequence[Atom]) -> None:
    """Let a word that may be a shade be one before a colour, and a word of pattern be one before a marking."""
    follows: Kind | None = None
    colour = described = False
    for atom in reversed(atoms):
        shade = atom.unit.kind(Kind.SHADE)
        degree = atom.unit.kind(Kind.DEGREE)
        if colour and shade:
            atom.sense, atom.role = shade, Role.SHADE
        elif degree and described and not follows:
            atom.sense, atom.role = degree, Role.SILENT
        elif follows and atom.kind is Kind.TERM and (pattern := atom.unit.of(Aspect.PATTERN)):
            atom.sense = pattern
        if atom.kind in {Kind.MARKED, Kind.MARKING}:
            follows = atom.kind
        elif atom.kind not in {Kind.TERM, Kind.SHADE, Kind.SILENT}:
            follows = None
        described = atom.kind in {Kind.TERM, Kind.SHADE, Kind.TINT, Kind.GLOSS}
        if atom.kind is not Kind.SILENT:
            colour = atom.is_colour or (colour and atom.kind is Kind.SHADE)


def _set_comparison_aside(atoms: Sequence[Atom]) -> None:
    """A comparison reaches to the end of its clause: what is redder than another bird may not be red."""
    than = any(atom.kind is Kind.THAN for atom in atoms)
    for at, atom in enumerate(atoms):
        if atom.kind in _COMPARING or (than and atom.unit.kind(Kind.COMPARATIVE)):
            for compared in atoms[at:]:
                compared.set_aside(Role.COMPARISON)
            return


def _set_tails_aside(atoms: Sequence[Atom]) -> None:
    """What a preposition introduces is where, when or why, but for a place on the part itself."""
    tail = False
    before: Atom | None = None
    following = _following(atoms)
    for atom, after in zip(atoms, following, strict=True):
        if atom.kind in _ENDS_TAIL:
            tail = False
        if tail:
            pass
        elif atom.kind is Kind.PREPOSITION:
            place = after.unit.kind(Kind.PLACE) if after else None
            if after and place:
                after.sense, after.role = place, Role.PLACE
            elif not (before and before.kind is Kind.MARKED and after and after.is_colour):
                tail = True
        elif atom.kind is Kind.TO:
            tail = not (before and after and before.kind in _JOINED and after.kind in _JOINED)
        elif atom.kind is Kind.PLACE:
            tail = after is not None and is_foreign(after.unit)
        if atom.kind is not Kind.SILENT:
            before = atom
        if tail and not is_foreign(atom.unit):
            atom.set_aside()


def _following(atoms: Sequence[Atom]) -> list[Atom | None]:
    """Give for each word the next one that is not silent."""
    found: list[Atom | None] = []
    after: Atom | None = None
    for atom in reversed(atoms):
        found.append(after)
        after = after if atom.kind is Kind.SILENT else atom
    return found[::-1]


def _mark_foreign(atoms: Sequence[Atom]) -> None:
    """Looks beside the name of another part may be that part's; what the bird does with it stays its own."""
    start = 0
    for end in (*(at for at, atom in enumerate(atoms) if atom.kind in _ENDS_TAIL), len(atoms)):
        stretch = atoms[start:end]
        if any(is_foreign(atom.unit) for atom in stretch):
            for atom in stretch:
                looks = atom.sense is not None and atom.sense.aspect not in {None, Aspect.MOVEMENT, Aspect.SOUND}
                if looks or atom.kind is Kind.PLACE:
                    atom.set_aside()
        start = end
