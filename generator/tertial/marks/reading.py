"""Reading a phrase: what an author's words say of a part, as statements that can be compared."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from tertial.marks.lexicon import TOKEN, Kind
from tertial.marks.statements import Aspect, Claim, Key, Piece, Quality, Reading, Role, Statement

if TYPE_CHECKING:
    from tertial.marks.words import Words


@lru_cache(maxsize=65536)
def read_phrase(text: str, words: Words, part: str = "") -> Reading:
    """Read a phrase; for now single terms between commas, each a plain statement."""
    pieces: list[Piece] = []
    found: dict[Aspect, set[Quality]] = {}
    for match in TOKEN.finditer(text):
        senses = words.find(match.group())
        term = next((sense for sense in senses if sense.kind is Kind.TERM and sense.aspect), None)
        if term and term.aspect:
            found.setdefault(term.aspect, set()).add(Quality(term.word))
        role = Role.TERM if term else Role.SILENT if senses else Role.LEFT
        pieces.append(Piece(*match.span(), role, term.word if term else ""))
    plain = words.lists.weights["plain statement"]
    statements = tuple(
        Statement(Key(aspect), (Claim(tuple(sorted(found[aspect])), plain),)) for aspect in Aspect if aspect in found
    )
    return Reading(text, statements, tuple(pieces))
