"""Pictures that show pages elsewhere, kept beside the developed pictures, so that each is drawn once.

A kept one is named by what it is drawn of. Pillow is imported for new ones alone.
"""

from __future__ import annotations

import os
import threading
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from tertial.sketches.preview import Preview

_FOLDER: Final = "previews"
_WORKERS: Final = 2


def kept_previews(store: Path, letters: Path, previews: Sequence[Preview]) -> Iterator[Path]:
    """Give the picture of each, drawn or found again, in order.

    :param store: folder of the picture store.
    :param letters: folder with the fonts of the pages.
    """
    files = [store / _FOLDER / f"{each.key}.jpg" for each in previews]
    new = {file: preview for file, preview in zip(files, previews, strict=True) if not file.exists()}
    if new:
        _draw(new, letters)
    yield from files


def _draw(new: dict[Path, Preview], letters: Path) -> None:
    from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415 - for new pictures alone

    from tertial.sketches.showcard import draw  # noqa: PLC0415 - Pillow only where needed

    def make(file: Path) -> None:
        # Another process, at work on the same guide, must never see half of it.
        part = file.with_suffix(f".{os.getpid()}-{threading.get_ident()}")
        part.write_bytes(draw(new[file], letters))
        part.replace(file)

    next(iter(new)).parent.mkdir(parents=True, exist_ok=True)
    # Scaling and encoding leave the interpreter, so that threads do as well as processes.
    with ThreadPoolExecutor(_WORKERS) as pool:
        for _ in pool.map(make, new):
            pass
