"""Reading a phrase: what an author's words say of a part, as statements that can be compared.

The steps, each in a module of its own: the phrase is cut at known wordings (``units``), every wording of a
clause gets one meaning (``atoms``), terms find what they describe (``phrases``) and their constancy
(``descriptors``), and all clauses together give the statements (``claims``). The author's words are
never changed; what is not understood is shown and never compared.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Final

from tertial.marks.atoms import Atom, understand
from tertial.marks.claims import statements
from tertial.marks.descriptors import said
from tertial.marks.lexicon import Kind
from tertial.marks.statements import Aspect, Piece, Reading, Role
from tertial.marks.units import Gap, cut, subject

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.marks.claims import Said
    from tertial.marks.units import Unit
    from tertial.marks.words import Words

_DENYING: Final = frozenset({Kind.ABSENCE, Kind.PRESENCE, Kind.NEGATION})


@lru_cache(maxsize=65536)
def read_phrase(text: str, words: Words, part: str = "") -> Reading:
    """Read a phrase.

    :param text: what the author wrote of one part.
    :param words: the word lists, with the author's own words if there are any.
    :param part: the word of the part; without it, or with an unknown one, looks are what is expected.
    :returns: the statements, and every word of the phrase with what it was understood as.
    """
    about = subject(part)
    clauses = [understand(clause, about) for clause in _clauses(cut(text, words))]
    found: list[Said] = []
    marked = False
    for clause in clauses:
        told = list(said(clause, words))
        if marked and any(each.key.aspect is Aspect.PRESENCE for each in told):
            # After "a red patch", what is sometimes lacking is the patch or the part: nobody can tell.
            told = [each for each in told if each.key.aspect is not Aspect.PRESENCE]
            for atom in clause:
                if atom.kind in _DENYING:
                    atom.set_aside()
        found += told
        marked = marked or any(atom.kind is Kind.MARKING for atom in clause)
    return Reading(
        text, statements(found, words), tuple(_piece(text, atom, words) for clause in clauses for atom in clause)
    )


def _clauses(units: Sequence[Unit]) -> Iterator[tuple[Unit, ...]]:
    """Divide a phrase at its commas and before every ``but``."""
    start = 0
    for at, unit in enumerate(units):
        if at > start and (unit.gap is Gap.BREAK or unit.kind(Kind.BUT)):
            yield tuple(units[start:at])
            start = at
    if units:
        yield tuple(units[start:])


def _piece(text: str, atom: Atom, words: Words) -> Piece:
    start, end = atom.unit.start, atom.unit.end
    near = words.near(text[start:end]) if atom.role is Role.LEFT else ()
    return Piece(start, end, atom.role, atom.sense.word if atom.sense else "", near)
