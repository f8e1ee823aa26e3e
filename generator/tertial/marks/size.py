"""How big a bird is, told by birds that everyone knows, and whether it can be so big at all.

Rungs of the ladder lie by the cube root of mass, which goes with length; the nearest is sought on a
log scale, because a gram matters to a kinglet and not to a goose.
"""

from __future__ import annotations

import math
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.fitting import Fit
from tertial.marks.tables import read_table

_LOOSE: Final = frozenset({"than", "between", "half", "twice"})

if TYPE_CHECKING:
    from collections.abc import Iterable


class Yardstick(NamedTuple):
    """A well-known bird."""

    code: str
    """Its IBP code."""

    word: str
    """What people call it."""

    mass: float
    """Grams, an adult."""

    length: float
    """Centimetres, bill tip to tail tip."""


class Beside(StrEnum):
    """How large a bird looked beside a known one."""

    SMALLER = "smaller"
    SAME = "about the same"
    LARGER = "larger"


class Bounds(NamedTuple):
    """What no adult of a family goes beyond."""

    mass: tuple[float, float]
    """Lightest and heaviest, in grams."""

    length: tuple[float, float]
    """Shortest and longest, in centimetres."""


@cache
def load_yardsticks() -> tuple[Yardstick, ...]:
    """Read the shipped yardstick birds, from the smallest to the largest."""
    rows = read_table("yardsticks.csv")
    found = (Yardstick(row["code"], row["word"], float(row["mass"]), float(row["length"])) for row in rows)
    return tuple(sorted(found, key=lambda each: each.mass))


@cache
def load_bounds() -> dict[str, Bounds]:
    """Read what each family's members lie between."""
    return {
        row["family"]: Bounds(
            (float(row["lightest"]), float(row["heaviest"])), (float(row["shortest"]), float(row["longest"]))
        )
        for row in read_table("family-bounds.csv")
    }


@cache
def load_part_bounds() -> dict[str, float]:
    """Read how much of a bird's length a part measures at the most."""
    return {row["part"]: float(row["most"]) for row in read_table("part-bounds.csv")}


def ladder(codes: Iterable[str]) -> tuple[Yardstick, ...]:
    """Choose the rungs that a guide names; without any that are known, all of them."""
    wanted = frozenset(codes)
    return tuple(each for each in load_yardsticks() if each.code in wanted) or load_yardsticks()


def nearest(rungs: tuple[Yardstick, ...], mass: float | None, length: float | None) -> int | None:
    """Find the rung that a bird comes nearest to.

    :param rungs: from the smallest to the largest.
    :param mass: grams, if known; it decides.
    :param length: centimetres, for want of a mass.
    :returns: its place from 0, or None when neither is known.
    """
    if mass:
        return min(range(len(rungs)), key=lambda at: abs(math.log(mass / rungs[at].mass)))
    if length:
        return min(range(len(rungs)), key=lambda at: abs(math.log(length / rungs[at].length)))
    return None


def fit_beside(seen: Beside, rung: int, known: int) -> Fit:
    """Hold what was seen beside a known bird against the size of an account.

    A bird of the known one's rung may be somewhat smaller or larger, and one of the next rung may look the
    same where nothing can be measured: both are left open.

    :param rung: the account's place on the ladder.
    :param known: that of the known bird.
    """
    steps = known - rung if seen is Beside.SMALLER else rung - known
    if seen is Beside.SAME:
        return Fit.FITS if not steps else Fit.NOT_RECORDED if abs(steps) == 1 else Fit.CONTRADICTS
    return Fit.FITS if steps > 0 else Fit.NOT_RECORDED if not steps else Fit.CONTRADICTS


def rung_named(rungs: tuple[Yardstick, ...], text: str) -> int | None:
    """Find the rung that a size in words names (``starling-sized``, ``about a starling``)."""
    words = text.casefold().replace("-", " ").split()
    singular = {word.removesuffix("s") for word in words} | set(words)
    return next((at for at, rung in enumerate(rungs) if rung.word in singular), None)


def is_loose(text: str) -> bool:
    """Whether a size in words only says on which side of a rung it lies, or between which."""
    return not _LOOSE.isdisjoint(text.casefold().split())
