"""Many numbers in few signs, for scripts: each as so many digits of sixty-four."""

from __future__ import annotations

import string
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

DIGITS: Final = string.ascii_uppercase + string.ascii_lowercase + string.digits + "-_"
"""The 64 digits in which numbers are packed, from 0."""


def packed(numbers: Sequence[int], width: int) -> str:
    """Write numbers as ``width`` digits each, the highest first."""
    written = {
        number: "".join(DIGITS[number // len(DIGITS) ** place % len(DIGITS)] for place in reversed(range(width)))
        for number in set(numbers)
    }
    return "".join(map(written.__getitem__, numbers))


def width_of(most: int) -> int:
    """Give how many digits the largest of some numbers takes."""
    width = 1
    while most >= len(DIGITS) ** width:
        width += 1
    return width
