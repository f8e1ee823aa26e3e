"""A picture as the author keeps it to the files that the guide publishes.

Orientation is applied, colours are brought to sRGB, and every bit of metadata is left behind,
above all the position of the camera. The original is only ever read. Results are kept by content
and settings, so that Pillow is imported for new pictures alone.
"""

from __future__ import annotations

import hashlib
import json
import os
import threading
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TypeAlias

from tertial.sketches.affine import Affine
from tertial.sketches.developing import AS_IT_IS, Choice, Developing
from tertial.sketches.header import looks_like_svg
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

WIDTHS: Final = (480, 960, 1600)
"""Widths in pixels for narrow, middling and wide screens; a picture is never enlarged."""

MOST_PIXELS: Final = 120_000_000
"""Largest picture that is decoded; a phone's largest is some 108 million pixels."""

# Part of the key under which results are kept: change it with anything that changes the bytes.
_SETTINGS: Final = "webp-4"
_SETTINGS_OF_SVG: Final = "svg-1"
_QUALITY: Final = 84
_EFFORT: Final = 2

_WORKERS: Final = 2
_INDEX: Final = "sizes.json"


class Original(NamedTuple):
    """A file of the author's, and how it is wanted."""

    path: Path
    """The file."""

    choice: Choice = Choice.NONE
    """How it is developed."""


class Rendition(NamedTuple):
    """One published size of a picture."""

    name: str
    """File name in the guide's folder of pictures."""

    width: int
    """Width in pixels."""

    height: int
    """Height in pixels."""


class PublishedPicture(NamedTuple):
    """A picture ready for pages."""

    renditions: tuple[Rendition, ...]
    """Its sizes, smallest first; at least one."""

    fallback: Rendition
    """The size for readers without WebP; of a drawing in SVG, the drawing."""

    thumb: Rendition
    """The size beside a name in a list, less wide than those; the narrowest of them where it is no wider itself."""

    width: float
    """Width of the original in pixels, held upright as viewers show it."""

    height: float
    """Height of the original."""

    to_published: Affine
    """From pixels of the original, held upright, to pixels of the largest size."""

    developing: Developing
    """What was done to it."""

    @property
    def largest(self) -> Rendition:
        """The size that a reader gets who wants to see everything."""
        return self.renditions[-1]

    @property
    def smallest(self) -> Rendition:
        """The size for lists."""
        return self.renditions[0]

    def spot(self, x: float, y: float, *, percent: bool = False) -> tuple[float, float]:
        """Give where a spot of the original lies in the largest size, in pixels; it may lie outside.

        :param percent: the spot is given in per cent of the original's width and height.
        """
        across, down = (self.width / 100, self.height / 100) if percent else (1.0, 1.0)
        return self.to_published.at(x * across, y * down)


Published: TypeAlias = "tuple[PublishedPicture, dict[str, Path]]"
"""A picture with the file of each of its sizes by name."""


class PictureStore:
    """Published pictures of one guide, kept from build to build. Threads may share it.

    :param folder: where results are kept; made when the first one is.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._locks: dict[Path, threading.Lock] = {}

    def publish_all(self, originals: Sequence[Original]) -> Iterator[Published | Unreadable]:
        """Publish several pictures, new ones on two processors, and give the results in order."""
        new = [each for each in originals if not self._is_kept(each)] if (os.cpu_count() or 1) > 1 else []
        if len(new) < 2:
            yield from map(self.publish, originals)
            return
        from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415 - for new pictures alone

        # Decoding and encoding leave the interpreter, so that threads do as well as processes.
        with ThreadPoolExecutor(_WORKERS) as pool:
            yield from pool.map(self.publish, originals)

    def _is_kept(self, original: Original) -> bool:
        try:
            return (self._place(original.path.read_bytes(), original.choice) / _INDEX).exists()
        except OSError:
            return True

    def _place(self, data: bytes, choice: Choice) -> Path:
        settings = _SETTINGS_OF_SVG if looks_like_svg(data[:1024]) else _SETTINGS
        return self._folder / f"{hashlib.sha256(data).hexdigest()}-{choice}-{settings}"

    def publish(self, original: Original) -> Published | Unreadable:
        """Make, or find again, what is published of a picture.

        :param original: the author's file, and how it is wanted.
        :returns: the picture with the file of each size by name. ``OSError`` of the store's own
            files is raised: it is no fault of the author's.
        """
        data = _read(original)
        if isinstance(data, Unreadable):
            return data
        kept = self._place(data, original.choice)
        # One content under two names is made once, even by two threads.
        with self._locks.setdefault(kept, threading.Lock()):
            index = _found(kept) or _make(data, original.choice, kept)
        return index if isinstance(index, Unreadable) else _published(original, kept, index)

    def find(self, original: Original) -> Published | Unreadable | None:
        """Find again what was published of a picture before; None where it is still to be made."""
        data = _read(original)
        if isinstance(data, Unreadable):
            return data
        kept = self._place(data, original.choice)
        index = _found(kept)
        return _published(original, kept, index) if index else None


def _read(original: Original) -> bytes | Unreadable:
    try:
        return original.path.read_bytes()
    except OSError as fault:
        return Unreadable(f"the file cannot be read ({fault.strerror})")


def _published(original: Original, kept: Path, index: dict[str, Any]) -> Published:
    # The name is that of this file, whatever the file was called that the kept sizes came from.
    developing = Developing(**index["developing"])
    drawn = "-developed" if developing.done else ""
    stem = f"{_plain(original.path.stem)}-{kept.name[:8]}{drawn}"
    renditions = tuple(Rendition(f"{stem}-{name}", width, height) for name, width, height, _ in index["files"])
    files = {each.name: kept / name for each, (name, *_) in zip(renditions, index["files"], strict=True)}
    # The thumb stands first and the fallback last; where one stands alone, it is the picture.
    thumb, *sizes = renditions[:-1] or renditions
    width, height = index["original"]
    published = PublishedPicture(
        tuple(sizes) or (thumb,), renditions[-1], thumb, width, height, Affine(*index["map"]), developing
    )
    return published, files


def _make(data: bytes, choice: Choice, kept: Path) -> dict[str, Any] | Unreadable:
    """Make what is published of a picture, and keep it; give its index as a later run will find it.

    A number of numpy's is another than the one it is kept as: it rounds a half in its own way, and a label lands
    a tenth of a pixel off.
    """
    made = _drawn(data) if looks_like_svg(data[:1024]) else _painted(data, choice)
    if isinstance(made, Unreadable):
        return made
    index, contents = made
    kept.mkdir(parents=True, exist_ok=True)
    for name, content in contents.items():
        _write_whole(kept / name, content)
    text = json.dumps(index)
    _write_whole(kept / _INDEX, text.encode())
    again: dict[str, Any] = json.loads(text)
    return again


def _painted(data: bytes, choice: Choice) -> tuple[dict[str, Any], dict[str, bytes]] | Unreadable:
    from tertial.sketches.resize import Encoding, resize  # noqa: PLC0415 - Pillow only where needed

    made = resize(data, WIDTHS, MOST_PIXELS, Encoding(_QUALITY, _EFFORT), choice)
    if isinstance(made, Unreadable):
        return made
    of_lists = () if made.thumb == made.sizes[0] else (made.thumb,)
    files = [(f"{each.width}{each.suffix}", each) for each in (*of_lists, *made.sizes, made.fallback)]
    index = {
        "files": [(name, each.width, each.height, len(each.data)) for name, each in files],
        "original": (made.width, made.height),
        "map": made.to_published.numbers,
        "developing": made.developing._asdict(),
    }
    return index, {name: each.data for name, each in files}


def _drawn(data: bytes) -> tuple[dict[str, Any], dict[str, bytes]] | Unreadable:
    from tertial.sketches.vector import read_svg  # noqa: PLC0415 - the parser only where needed

    drawing = read_svg(data)
    if isinstance(drawing, Unreadable):
        return drawing
    width, height = max(1, round(drawing.width)), max(1, round(drawing.height))
    name = f"{width}.svg"
    index = {
        "files": [(name, width, height, len(drawing.data))],
        "original": (drawing.width, drawing.height),
        "map": Affine(a=width / drawing.width, e=height / drawing.height).numbers,
        "developing": AS_IT_IS._asdict(),
    }
    return index, {name: drawing.data}


def _found(kept: Path) -> dict[str, Any]:
    """Find the index of what was made before; nothing if anything of it is missing or cut short."""
    try:
        index: dict[str, Any] = json.loads((kept / _INDEX).read_bytes())
        whole = all((kept / name).stat().st_size == length for name, _, _, length in index["files"])
    except (OSError, ValueError):
        return {}
    return index if whole else {}


def _write_whole(path: Path, data: bytes) -> None:
    """Write a file so that another run, at work on the same picture, never sees half of it."""
    part = path.with_suffix(f".{os.getpid()}")
    part.write_bytes(data)
    part.replace(path)


def _plain(stem: str) -> str:
    kept = "".join(char if char.isascii() and char.isalnum() else "-" for char in stem.casefold())
    return "-".join(part for part in kept.split("-") if part)[:40] or "picture"
