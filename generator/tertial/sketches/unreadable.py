"""The answer for a file from which no picture can be made."""

from __future__ import annotations

from typing import NamedTuple


class Unreadable(NamedTuple):
    """Why nothing can be published of a file."""

    reason: str
    """What was found and what was expected."""
