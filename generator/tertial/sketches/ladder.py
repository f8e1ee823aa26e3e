"""Birds from the smallest to the largest on one long scale, each drawn from the same line to the right.

Pure geometry: every rung has a frame of its own, all of them of one width and at one scale.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.sketches.plate import WIDTH

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.sketches.plate import Sketch

# Our own choices, in units of the frame.
_LEFT: Final = 8
_RIGHT: Final = 24
_BAR_ROOM: Final = 40
_ABOVE: Final = 10
_BARE: Final = 60
_MOST_TICKS: Final = 10
_STEPS: Final = (1.0, 2.0, 5.0)


class Measured(NamedTuple):
    """A bird that is to have a rung."""

    low: float
    """Its length, or the smallest, in centimetres."""

    high: float
    """The largest."""

    sketch: Sketch | None = None
    """Its sketch, if that has a scale."""

    @property
    def middle(self) -> float:
        """The middle of its length, by which rungs are sorted."""
        return (self.low + self.high) / 2


class Window(NamedTuple):
    """A sketch on its rung, as a window on what is drawn."""

    x: float
    """Left edge."""

    y: float
    """Upper edge."""

    width: float
    """Width."""

    height: float
    """Height."""

    shown: tuple[float, float, float, float]
    """Left and upper edge, width and height of what it shows, in pixels of the picture."""


class Rung(NamedTuple):
    """One bird on the scale."""

    height: int
    """Height of its frame."""

    bar_y: float
    """How far down its bar is."""

    low: float
    """Where the smallest length ends."""

    high: float
    """Where the largest ends."""

    window: Window | None
    """Its sketch at the scale, if there is one."""


class SizeLadder(NamedTuple):
    """The whole scale."""

    rungs: tuple[Rung, ...]
    """One a bird, in the order given."""

    ticks: tuple[tuple[float, str], ...]
    """Round lengths: how far to the right, and the centimetres in words."""

    start: float = float(_LEFT)
    """Where every bird begins."""

    width: int = WIDTH
    """Width of every frame."""


def size_ladder(birds: Sequence[Measured]) -> SizeLadder:
    """Put birds on one scale; at least one, with lengths of more than nothing. No sketch is enlarged."""
    longest = max(max(bird.high, _drawn_width(bird)) for bird in birds)
    per_cm = min((WIDTH - _LEFT - _RIGHT) / longest, *(bird.sketch.per_cm for bird in birds if bird.sketch), math.inf)
    power = 10.0 ** math.floor(math.log10(longest / _MOST_TICKS))
    step = next(
        factor * power * ten for ten in (1, 10) for factor in _STEPS if longest / (factor * power * ten) <= _MOST_TICKS
    )
    ticks = tuple((round(_LEFT + step * at * per_cm, 1), f"{step * at:g}") for at in range(int(longest / step) + 1))
    return SizeLadder(tuple(_rungs(birds, per_cm)), ticks)


def _drawn_width(bird: Measured) -> float:
    return (bird.sketch.drawn[2] - bird.sketch.drawn[0]) / bird.sketch.per_cm if bird.sketch else 0.0


def _rungs(birds: Sequence[Measured], per_cm: float) -> Iterator[Rung]:
    for bird in birds:
        window = None
        tall: float = _BARE
        if bird.sketch:
            zoom = per_cm / bird.sketch.per_cm
            left, upper, right, lower = bird.sketch.drawn
            tall = (lower - upper) * zoom
            shown = (left, upper, right - left, lower - upper)
            window = Window(_LEFT, _ABOVE, round((right - left) * zoom, 2), round(tall, 2), _rounded(shown))
        bar_y = _ABOVE + tall + _BAR_ROOM / 2
        low, high = (round(_LEFT + cm * per_cm, 1) for cm in (bird.low, bird.high))
        yield Rung(math.ceil(_ABOVE + tall + _BAR_ROOM), round(bar_y, 1), low, high, window)


def _rounded(numbers: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    return round(numbers[0], 1), round(numbers[1], 1), round(numbers[2], 1), round(numbers[3], 1)
