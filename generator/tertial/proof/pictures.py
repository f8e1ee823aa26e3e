"""Pictures of a guide that is being written: developed when a page first shows them, then kept."""

from __future__ import annotations

import json
import threading
from collections.abc import Mapping
from typing import TYPE_CHECKING

from tertial.keeping import stamp_of
from tertial.pages.pictures import FOLDER
from tertial.sketches.sizes import Original, PictureStore, PublishedPicture
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tertial.keeping import Stamp
    from tertial.sketches.sizes import Published

    Found = Published | Unreadable


class Pictures(Mapping[Original, PublishedPicture]):
    """Published pictures by the author's file, as pages look them up.

    :param folder: folder of the picture store.
    """

    def __init__(self, folder: Path) -> None:
        self.files: dict[str, Path] = {}
        """Published files by address."""
        self._store = PictureStore(folder)
        self._known: dict[Original, tuple[Stamp | None, Found]] = {}
        self._one_at_a_time = threading.Lock()

    def __getitem__(self, original: Original) -> PublishedPicture:
        found = self.look(original)
        if isinstance(found, Unreadable):
            raise KeyError(original)
        return found[0]

    def __iter__(self) -> Iterator[Original]:
        return iter(self._known)

    def __len__(self) -> int:
        return len(self._known)

    def ways_back(self) -> bytes:
        """Give, in JSON, by address of each largest size its width and the map to pixels of the author's file."""
        found = {}
        for original in tuple(self._known):
            published = self.get(original)
            if published is not None:
                way = {"width": published.largest.width, "map": published.to_published.inverse().numbers}
                found[f"{FOLDER}/{published.largest.name}"] = way
        return json.dumps(found).encode()

    def look(self, original: Original) -> Found:
        """Give a picture, developed if its file is new or changed; or why there is none."""
        with self._one_at_a_time:
            stamp = stamp_of(original.path)
            known = self._known.get(original)
            if known is None or stamp is None or known[0] != stamp:
                known = self._known[original] = (stamp, self._published(original))
            return known[1]

    def _published(self, original: Original) -> Found:
        found = self._store.publish(original)
        if not isinstance(found, Unreadable):
            self.files.update((f"{FOLDER}/{name}", file) for name, file in found[1].items())
        return found
