"""The answer for a file from which no picture can be made."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Unreadable:
    """Why nothing can be published of a file."""

    reason: str
    """What was found and what was expected."""
