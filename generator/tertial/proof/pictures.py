"""Pictures of a guide that is being written: developed when a page first shows them, then kept."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from typing import TYPE_CHECKING

from tertial.keeping import stamp_of
from tertial.pages.pictures import FOLDER
from tertial.sketches.sizes import PictureStore, PublishedPicture, Unreadable

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tertial.keeping import Stamp

    Found = PublishedPicture | Unreadable


class Pictures(Mapping["Path", PublishedPicture]):
    """Published pictures by the author's file, as pages look them up.

    :param folder: folder of the picture store.
    """

    def __init__(self, folder: Path) -> None:
        self.files: dict[str, Path] = {}
        """Published files by address."""
        self._store = PictureStore(folder)
        self._known: dict[Path, tuple[Stamp | None, Found]] = {}
        self._one_at_a_time = threading.Lock()

    def __getitem__(self, path: Path) -> PublishedPicture:
        found = self.look(path)
        if isinstance(found, Unreadable):
            raise KeyError(path)
        return found

    def __iter__(self) -> Iterator[Path]:
        return iter(self._known)

    def __len__(self) -> int:
        return len(self._known)

    def look(self, path: Path) -> Found:
        """Give a picture, developed if its file is new or changed; or why there is none."""
        with self._one_at_a_time:
            stamp = stamp_of(path)
            known = self._known.get(path)
            if known is None or stamp is None or known[0] != stamp:
                known = self._known[path] = (stamp, self._published(path))
            return known[1]

    def _published(self, path: Path) -> Found:
        found = self._store.publish(path)
        if isinstance(found, Unreadable):
            return found
        picture, sizes = found
        self.files.update((f"{FOLDER}/{name}", file) for name, file in sizes.items())
        return picture
