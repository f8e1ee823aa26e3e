"""What was read once and need not be read again, for a program that loads one guide over and over.

Kept in memory only: a guide that is loaded a single time pays one look at each file's stat for it.
"""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tertial.entries.load import Entry
    from tertial.entries.sheet import Sheet
    from tertial.linking import Ground

    Stamp: TypeAlias = tuple[int, int, int]

_TICK: Final = 100_000_000
"""Nanoseconds in which two saves of one length might carry the same time."""


class KeptEntries:
    """The entries of one guide as they were read last."""

    def __init__(self) -> None:
        self._sheets: dict[str, tuple[Stamp | None, Sheet[Entry]]] = {}
        self._settings = ""

    def sheet(self, path: str, ground: Ground, read: Callable[[str], Sheet[Entry]]) -> Sheet[Entry]:
        """Give an entry; it is read again only if its file's stat or the settings changed."""
        if ground.settings.source.text != self._settings:
            self._settings = ground.settings.source.text
            self._sheets.clear()
        stamp = stamp_of(f"{ground.folder}/{path}")
        kept = self._sheets.get(path)
        if kept is None or stamp is None or kept[0] != stamp:
            kept = self._sheets[path] = (stamp, read(path))
        return kept[1]


def stamp_of(path: str | Path) -> Stamp | None:
    """Tell one state of a file from another; None while a further save could still look the same."""
    try:
        found = os.stat(path)  # noqa: PTH116 - thousands are asked for at every save
    except OSError:
        return None
    if abs(time.time_ns() - found.st_mtime_ns) < _TICK:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
