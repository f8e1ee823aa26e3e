"""What can be asked of developing, and what it tells of its work. No pixels here: pages and checks read it too."""

from __future__ import annotations

from enum import StrEnum
from typing import Final, NamedTuple


class Choice(StrEnum):
    """How a picture is developed."""

    JUDGED = "judged"
    """As a photographed drawing, if it looks like one."""

    DRAWING = "drawing"
    """As a photographed drawing."""

    NONE = "none"
    """Not at all: as it is, but for size and colour profile."""


class Developing(NamedTuple):
    """What was done to a picture, and why."""

    done: bool
    """It was developed: light evened out, paper made white."""

    why: str
    """What decided it, in words for its author."""

    turned: float = 0.0
    """By how many degrees it was turned clockwise to stand straight."""

    kept: float = 1.0
    """Which share of its area was kept; the rest was empty, or no paper."""

    @property
    def words(self) -> str:
        """What was done, in words for its author."""
        if not self.done:
            return "left as it is"
        turned = f", turned by {abs(self.turned):.1f} degrees" if self.turned else ""
        cropped = f", cropped to {self.kept:.0%} of its area" if self.kept < 0.995 else ""
        return f"light evened out, paper made white{turned}{cropped}"


AS_IT_IS: Final = Developing(done=False, why="no developing was asked for")
