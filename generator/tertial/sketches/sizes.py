"""A picture as the author keeps it to the files that the guide publishes.

Orientation is applied, colours are brought to sRGB, and every bit of metadata is left behind,
above all the position of the camera. The original is only ever read. Results are kept by content
and settings, so that Pillow is imported for new pictures alone.
"""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from pathlib import Path

WIDTHS: Final = (480, 960, 1600)
"""Widths in pixels for narrow, middling and wide screens; a picture is never enlarged."""

MOST_PIXELS: Final = 120_000_000
"""Largest picture that is decoded; a phone's largest is some 108 million pixels."""

# Part of the key under which results are kept: change it with anything that changes the bytes.
_SETTINGS: Final = "webp-2"
_QUALITY: Final = 84
_EFFORT: Final = 4

_INDEX: Final = "sizes.json"


@dataclass(frozen=True, slots=True)
class Rendition:
    """One published size of a picture."""

    name: str
    """File name in the guide's folder of pictures."""

    width: int
    """Width in pixels."""

    height: int
    """Height in pixels."""


@dataclass(frozen=True, slots=True)
class PublishedPicture:
    """A picture ready for pages."""

    renditions: tuple[Rendition, ...]
    """Its sizes, smallest first; at least one."""

    @property
    def largest(self) -> Rendition:
        """The size that a reader gets who wants to see everything."""
        return self.renditions[-1]

    @property
    def smallest(self) -> Rendition:
        """The size for lists."""
        return self.renditions[0]


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A file from which no picture could be made."""

    reason: str
    """What was found and what was expected."""


class PictureStore:
    """Published pictures of one guide, kept from build to build.

    :param folder: where results are kept; made when the first one is.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def publish(self, original: Path) -> tuple[PublishedPicture, dict[str, Path]] | Unreadable:
        """Make, or find again, the published sizes of a picture.

        :param original: the author's file.
        :returns: the picture with the file of each size by name. ``OSError`` of the store's own
            files is raised: it is no fault of the author's.
        """
        try:
            data = original.read_bytes()
        except OSError as fault:
            return Unreadable(f"the file cannot be read ({fault.strerror})")
        digest = hashlib.sha256(data).hexdigest()
        kept = self._folder / f"{digest}-{_SETTINGS}"
        sizes = _found(kept) or _develop(data, kept)
        if isinstance(sizes, Unreadable):
            return sizes
        # The name is that of this file, whatever the file was called that the kept sizes came from.
        stem = f"{_plain(original.stem)}-{digest[:8]}"
        renditions = tuple(Rendition(f"{stem}-{width}.webp", width, height) for width, height, _ in sizes)
        return PublishedPicture(renditions), {each.name: _file(kept, each.width) for each in renditions}


def _develop(data: bytes, kept: Path) -> list[tuple[int, int, int]] | Unreadable:
    """Make the sizes of a picture; give width, height and length in bytes of each."""
    from tertial.sketches.resize import Failure, resize  # noqa: PLC0415 - Pillow only where needed

    results = resize(data, WIDTHS, MOST_PIXELS, _QUALITY, _EFFORT)
    if isinstance(results, Failure):
        return Unreadable(results.reason)
    kept.mkdir(parents=True, exist_ok=True)
    for result in results:
        _write_whole(_file(kept, result.width), result.data)
    sizes = [(result.width, result.height, len(result.data)) for result in results]
    _write_whole(kept / _INDEX, json.dumps(sizes).encode())
    return sizes


def _found(kept: Path) -> list[tuple[int, int, int]]:
    """Find what was made before; nothing if anything of it is missing or cut short."""
    try:
        sizes = json.loads((kept / _INDEX).read_bytes())
        whole = all(_file(kept, width).stat().st_size == length for width, _, length in sizes)
    except (OSError, ValueError):
        return []
    return [(width, height, length) for width, height, length in sizes] if whole else []


def _file(kept: Path, width: int) -> Path:
    return kept / f"{width}.webp"


def _write_whole(path: Path, data: bytes) -> None:
    """Write a file so that another run, at work on the same picture, never sees half of it."""
    part = path.with_suffix(f".{os.getpid()}")
    part.write_bytes(data)
    part.replace(path)


def _plain(stem: str) -> str:
    kept = "".join(char if char.isascii() and char.isalnum() else "-" for char in stem.casefold())
    return "-".join(part for part in kept.split("-") if part)[:40] or "picture"
