"""What is drawn of a page to show it where only its address is given. No pixels here: pages read it too."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    from pathlib import Path

SIZE: Final = (1200, 630)
"""Width and height in pixels: common practice for pictures of links, no source."""

# Part of the name under which results are kept: change it with anything that changes the bytes.
_SETTINGS: Final = "preview-2"


class Column(NamedTuple):
    """One drawing with what stands under it."""

    file: Path
    """One of its sizes in the picture store; it has pixels."""

    name: str = ""
    """Name of the bird, or ''."""

    line: str = ""
    """A line under the name, or ''."""


class Preview(NamedTuple):
    """What is drawn."""

    title: str
    """Title of the guide."""

    columns: tuple[Column, ...] = ()
    """Drawings from left to right."""

    @property
    def key(self) -> str:
        """A name that no other picture has; a folder of the store, named by content, stands for the drawing in it."""
        drawn = [(each.file.parent.name, each.file.name, each.name, each.line) for each in self.columns]
        return hashlib.sha256(repr((_SETTINGS, self.title, drawn)).encode("utf-8", "surrogatepass")).hexdigest()[:16]
