"""What was read once and need not be read again, for a program that loads one guide over and over.

Kept in memory only: a guide that is loaded a single time pays one look at each file's stat for it.
"""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tertial.entries.load import Entry
    from tertial.entries.settings import Settings
    from tertial.entries.species import SpeciesEntry
    from tertial.guide import Species
    from tertial.text.problem import Problem

    Read: TypeAlias = tuple[Entry | None, tuple[Problem, ...]]
    Stamp: TypeAlias = tuple[int, int, int]

_TICK: Final = 100_000_000
"""Nanoseconds in which two saves of one length might carry the same time."""


class KeptEntries:
    """The entries of one guide as they were read and linked last."""

    def __init__(self) -> None:
        self._read: dict[Path, tuple[Stamp | None, Read]] = {}
        self._species: dict[str, Species] = {}
        self._settings = ""

    def entry(self, path: Path, read: Callable[[], Read]) -> Read:
        """Give what a file holds; it is read again only if its stat changed."""
        stamp = stamp_of(path)
        kept = self._read.get(path)
        if kept is None or stamp is None or kept[0] != stamp:
            kept = self._read[path] = (stamp, read())
        return kept[1]

    def species(self, entry: SpeciesEntry, settings: Settings, link: Callable[[SpeciesEntry], Species]) -> Species:
        """Give the account of an entry; it is linked again only if the entry or the settings changed."""
        if settings.source.text != self._settings:
            self._settings = settings.source.text
            self._species.clear()
        kept = self._species.get(entry.source.path)
        if kept is None or kept.entry is not entry:
            kept = self._species[entry.source.path] = link(entry)
        return kept


def stamp_of(path: Path) -> Stamp | None:
    """Tell one state of a file from another; None while a further save could still look the same."""
    try:
        found = path.stat()
    except OSError:
        return None
    if abs(time.time_ns() - found.st_mtime_ns) < _TICK:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
