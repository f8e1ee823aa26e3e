"""Reading a phrase: what an author's words say of a part, as statements that can be compared.

The steps, each in a module of its own: the phrase is cut at known wordings (``units``), every wording of a
clause gets one meaning (``atoms``), terms find what they describe (``phrases``) and their constancy
(``descriptors``), and all clauses together give the statements (``claims``). The author's words are
never changed; what is not understood is shown and never compared.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.atoms import Atom, understand
from tertial.marks.claims import statements
from tertial.marks.descriptors import said
from tertial.marks.lexicon import Kind
from tertial.marks.statements import Aspect, Piece, Reading, Role
from tertial.marks.units import clauses, cut, is_own, subject

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.marks.claims import Said
    from tertial.marks.units import Unit
    from tertial.marks.words import Words

_DENYING: Final = frozenset({Kind.ABSENCE, Kind.PRESENCE, Kind.NEGATION})


class _Clause(NamedTuple):
    """A clause, read."""

    said: tuple[Said, ...]
    """What it says."""

    pieces: tuple[Piece, ...]
    """Its words, with places in the clause."""

    denying: frozenset[int]
    """Which of its words speak of presence."""

    marked: bool
    """It names a marking by a noun."""


def read_phrase(text: str, words: Words, part: str = "") -> Reading:
    """Read a phrase.

    :param text: what the author wrote of one part.
    :param words: the word lists, with the author's own words if there are any.
    :param part: the word of the part; without it, or with an unknown one, looks are what is expected.
    :returns: the statements, and every word of the phrase with what it was understood as.
    """
    about = subject(part)
    own = tuple(
        tuple(at for at, unit in enumerate(units) if is_own(unit, about)) for _, _, units in _clauses(text, words)
    )
    return _whole(text, words, about.aspects, own)


@lru_cache(maxsize=65536)
def _clauses(text: str, words: Words) -> tuple[tuple[int, int, tuple[Unit, ...]], ...]:
    """Give where each clause begins and ends, and its units."""
    return tuple((start, end, cut(text[start:end], words)) for start, end in clauses(text))


@lru_cache(maxsize=65536)
def _whole(text: str, words: Words, aspects: tuple[Aspect, ...], own: tuple[tuple[int, ...], ...]) -> Reading:
    """Read a phrase of any part that can be described in these respects.

    :param own: for each clause which of its units name the part described: all that a reading takes from the
        part but its aspects.
    """
    spans = [(start, end) for start, end, _ in _clauses(text, words)]
    read = [_read(text[start:end], words, aspects, each) for (start, end), each in zip(spans, own, strict=True)]
    if any(clause.marked for clause in read):
        read = [_without_presence(clause) for clause in read]
    found = statements([each for clause in read for each in clause.said], words)
    pieces = (
        piece._replace(start=start + piece.start, end=start + piece.end)
        for (start, _), clause in zip(spans, read, strict=True)
        for piece in clause.pieces
    )
    return Reading(text, found, tuple(pieces))


@lru_cache(maxsize=65536)
def _read(text: str, words: Words, aspects: tuple[Aspect, ...], own: tuple[int, ...]) -> _Clause:
    """Read what stands between two commas; phrases of many parts share most of it, so that it is kept."""
    units = list(cut(text, words))
    for at in own:
        units[at] = units[at]._replace(own=True)
    sides = [understand(side, aspects) for side in _sides(units)]
    atoms = [atom for side in sides for atom in side]
    return _Clause(
        tuple(each for side in sides for each in said(side, words)),
        tuple(_piece(text, atom, words) for atom in atoms),
        frozenset(at for at, atom in enumerate(atoms) if atom.kind in _DENYING),
        any(atom.kind is Kind.MARKING for atom in atoms),
    )


def _without_presence(clause: _Clause) -> _Clause:
    """Set aside what is said of presence: beside "a red patch", nobody can tell whether patch or part is lacking."""
    kept = tuple(each for each in clause.said if each.key.aspect is not Aspect.PRESENCE)
    if len(kept) == len(clause.said):
        return clause
    pieces = (
        piece._replace(role=Role.REMARK, meaning="") if at in clause.denying else piece
        for at, piece in enumerate(clause.pieces)
    )
    return clause._replace(said=kept, pieces=tuple(pieces))


def _sides(units: Sequence[Unit]) -> Iterator[tuple[Unit, ...]]:
    """Divide a clause before every ``but``."""
    start = 0
    for at, unit in enumerate(units):
        if at > start and unit.kind(Kind.BUT):
            yield tuple(units[start:at])
            start = at
    if units:
        yield tuple(units[start:])


def _piece(text: str, atom: Atom, words: Words) -> Piece:
    start, end = atom.unit.start, atom.unit.end
    near = words.near(text[start:end]) if atom.role is Role.LEFT else ()
    return Piece(start, end, atom.role, atom.sense.word if atom.sense else "", near)
