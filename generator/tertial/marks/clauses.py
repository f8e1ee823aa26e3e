"""The clauses of a phrase that say one statement, so that a reader is shown what was compared and no more."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from tertial.marks.statements import Reading, Statement

_CLAUSE: Final = re.compile(r"(?:\([^)]*\)|[^,;])+")
_LEFT_OUT: Final = " … "


@lru_cache(maxsize=65536)
def clauses_of(reading: Reading, statement: Statement) -> str:
    """Quote from a phrase what says a statement; where that names a place, of two clauses the one with the place.

    :returns: clauses as written, or '' where the phrase is silent and the statement was only concluded.
    """
    words = {
        word for claim in statement.claims for quality in claim.qualities for word in (quality.word, *quality.shades)
    }
    clauses = list(_CLAUSE.finditer(reading.text))
    meant = [
        {piece.meaning for piece in reading.pieces if clause.start() <= piece.start < clause.end()}
        for clause in clauses
    ]
    said = [at for at, meanings in enumerate(meant) if meanings & words]
    placed = [at for at in said if statement.key.where in meant[at]] or said
    if not placed:
        return "" if statement.implied else reading.text
    if len(placed) == len(clauses):
        return reading.text
    return _LEFT_OUT.join(clauses[at].group().strip() for at in placed)
