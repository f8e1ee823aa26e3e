"""What a phrase says of one part, as values that can be compared.

A phrase falls into statements, one for each aspect of the part and, where it names one, each place on
it. A statement is a set of claims with weights; what the weights leave over is unstated and may turn
out to be anything. The words shown to a reader are never these values but the author's own.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final, NamedTuple


class Aspect(StrEnum):
    """One respect in which a part can be described; the order is that of rows and reports."""

    PRESENCE = "presence"
    NUMBER = "number"
    SHAPE = "shape"
    LENGTH = "relative length"
    PATTERN = "pattern"
    COLOUR = "colour"
    MOVEMENT = "movement"
    SOUND = "sound"


_ORDER: Final = {aspect: at for at, aspect in enumerate(Aspect)}

PRESENT = "present"
ABSENT = "absent"
"""The two terms of the aspect presence."""


class Key(NamedTuple):
    """What a statement is about, within one part."""

    aspect: Aspect
    """The respect."""

    where: str = ""
    """The place on the part (``above``, ``tip``), or '' for all of it."""

    facet: str = ""
    """Within the aspect, what its terms are about (``girth``, ``curve``): terms of one facet exclude each other,
    terms of two have nothing to do with each other. A phrase as read leaves it open; comparison sets it."""

    @property
    def order(self) -> tuple[int, str, str]:
        """A sort key, in the order of aspects."""
        return (_ORDER[self.aspect], self.where, self.facet)


class Quality(NamedTuple):
    """One term, as it is found in the word lists."""

    word: str
    """The preferred word; of a number, its digits."""

    shades: tuple[str, ...] = ()
    """Preferred words of what modifies it (``pale``), sorted."""


class Claim(NamedTuple):
    """One state that a part may be in, and how often."""

    qualities: tuple[Quality, ...]
    """The terms that hold together, sorted; never empty."""

    weight: float
    """The least share of birds that it holds for, above 0 to 1."""

    negative: bool = False
    """It is the opposite that is claimed: whatever the part is like, it is not this."""


class Statement(NamedTuple):
    """All that a phrase says of one part in one respect; a tuple, because statements are looked up by the million."""

    key: Key
    """What it is about."""

    claims: tuple[Claim, ...]
    """Its claims, sorted; their weights add up to at most 1. Without any, the part is variable."""

    stated: bool = False
    """Every claim carries a word of constancy (``always``, ``usually``)."""

    implied: bool = False
    """Nobody wrote it: what is described is present. It counts only against an absence."""

    @property
    def unstated(self) -> float:
        """The share of birds of which nothing is said, from 0 to 1."""
        return max(0.0, 1.0 - sum(claim.weight for claim in self.claims))


class Role(StrEnum):
    """What a stretch of a phrase was understood as."""

    TERM = "term"
    SHADE = "shade"
    CONSTANCY = "constancy"
    NEGATION = "negation"
    JOINT = "joint"
    PLACE = "place"
    COMPARISON = "comparison"
    LINK = "link"
    REMARK = "remark"
    SILENT = "silent"
    LEFT = "left over"


class Piece(NamedTuple):
    """A stretch of a phrase."""

    start: int
    """Where it begins in the phrase, in characters from 0."""

    end: int
    """Where it ends, exclusive."""

    role: Role
    """What it was understood as."""

    meaning: str
    """The preferred word it stands for, or ''."""

    near: tuple[str, ...] = ()
    """Of what is left over: known words that it may have meant, the likeliest first."""


class Reading(NamedTuple):
    """A phrase and what was understood of it."""

    text: str
    """The phrase as written."""

    statements: tuple[Statement, ...]
    """What it says, in the order of aspects; at most one of each key."""

    pieces: tuple[Piece, ...]
    """Every word of the phrase, from left to right, without gaps other than blanks and signs."""

    @property
    def left(self) -> tuple[Piece, ...]:
        """The content words that were not understood; they are shown and never compared."""
        return tuple(piece for piece in self.pieces if piece.role is Role.LEFT)
