"""Outlines kept beside the published sizes that they were traced from, so that each is traced once.

The folder of a kept picture is named after its content and how it was developed; the name of a kept outline adds
where the head is and the settings of tracing. Pillow and numpy are imported for new outlines alone.
"""

from __future__ import annotations

import hashlib
import json
import os
import threading
from typing import TYPE_CHECKING, Any, Final

from tertial.sketches.heads import Traced

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Edges = tuple[float, float, float, float]

# Part of the name under which results are kept: change it with anything that changes them.
_SETTINGS: Final = "outline-5"
_NOT_PIXELS: Final = ".svg"


def kept_edges(file: Path) -> Edges | None:
    """Give what is drawn in a published picture, as shares of its width and height; None for one without pixels.

    :param file: one of its sizes in the picture store; a small one will do.
    :returns: left, upper, right and lower edge from 0 to 1. ``OSError`` of the store's own files is raised.
    """

    def make() -> list[float]:
        from PIL import Image  # noqa: PLC0415 - for new pictures alone

        from tertial.sketches.outline import drawn_edges  # noqa: PLC0415

        with Image.open(file) as picture:
            left, upper, right, lower = drawn_edges(picture)
            return [left / picture.width, upper / picture.height, right / picture.width, lower / picture.height]

    found = _kept(file, "drawn", make)
    return (found[0], found[1], found[2], found[3]) if found else None


def kept_outline(file: Path, box: Edges, *, faces_left: bool) -> Traced | None:
    """Give the outline of a head; None where there is none to be told.

    :param file: the largest size of the picture in the picture store.
    :param box: left, upper, right and lower edge of the head in its pixels.
    :param faces_left: which way the head looks.
    """

    def make() -> dict[str, Any]:
        from PIL import Image  # noqa: PLC0415

        from tertial.sketches.outline import trace_head  # noqa: PLC0415

        with Image.open(file) as picture:
            traced = trace_head(picture, box, faces_left=faces_left)
        return {"line": traced.line, "base": traced.base} if traced else {}

    where = " ".join(f"{edge:.1f}" for edge in box) + f" {faces_left}"
    found = _kept(file, where, make)
    if not found:
        return None
    base = found["base"]
    return Traced(tuple((x, y) for x, y in found["line"]), (base[0], base[1]) if base else None)


def _kept(file: Path, what: str, make: Callable[[], Any]) -> Any:
    """Find what was made before of a picture, or make it and keep it."""
    if file.suffix == _NOT_PIXELS:
        return None
    name = hashlib.sha256(f"{_SETTINGS} {file.name} {what}".encode()).hexdigest()[:16]
    kept = file.parent / f"{name}.json"
    try:
        return json.loads(kept.read_bytes())
    except (OSError, ValueError):
        made = make()
    # Another process or thread, at work on the same picture, must never see half of it.
    part = kept.with_suffix(f".{os.getpid()}-{threading.get_ident()}")
    part.write_text(json.dumps(made), encoding="utf-8")
    part.replace(kept)
    return json.loads(json.dumps(made))
