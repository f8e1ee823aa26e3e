"""Kinds that are recognised but not yet taken apart: outings, places and unknown birds.

Only the name and the author's text are kept. Front matter is left unread on purpose: it may hold
a position that must not be published before the rules for sensitive places are applied to it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tertial.entries.fields import text

if TYPE_CHECKING:
    from tertial.entries.fields import Reading
    from tertial.entries.values import Written
    from tertial.text.nodes import Pair
    from tertial.text.source import SourceText, Span

KINDS = ("outing", "place", "unknown")
"""Keys that name such a kind."""


@dataclass(frozen=True, slots=True)
class NotedEntry:
    """An entry that is listed as text."""

    source: SourceText
    """The file."""

    body: Span
    """The author's text after the front matter."""

    kind: str
    """One of ``KINDS``."""

    name: Written[str]
    """What stands after the kind: a date, or a name."""


def read_noted(reading: Reading, pair: Pair, body: Span) -> NotedEntry | None:
    """Read the name of such an entry; None when it has none."""
    name = text(reading, pair)
    return NotedEntry(reading.source, body, pair.key.text, name) if name else None
