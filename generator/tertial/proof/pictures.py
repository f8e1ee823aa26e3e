"""Pictures of a guide that is being written: developed behind the pages, those first that a page wants."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from tertial.keeping import stamp_of
from tertial.pages.pictures import FOLDER
from tertial.sketches.sizes import Original, PictureStore, PublishedPicture
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from tertial.keeping import Stamp
    from tertial.sketches.sizes import Published

    Found = Published | Unreadable

_SOME: Final = 2.0
"""Seconds after which pictures are told of although a page wants more: a page that comes anew at every picture
could not be read."""


class Pictures(Mapping[Original, PublishedPicture]):
    """Published pictures by the author's file, as pages look them up: those that are there, without waiting.

    :param folder: folder of the picture store.
    :param tell: is told that pictures are there which a page had to do without.
    """

    def __init__(self, folder: Path, tell: Callable[[], None]) -> None:
        self.files: dict[str, Path] = {}
        """Published files by address."""
        self.told = 0
        """How many times pictures have come that a page had to do without."""
        self.missed = 0
        """How many times a page had to do without one."""
        self._store = PictureStore(folder)
        self._known: dict[Original, tuple[Stamp | None, Found]] = {}
        self._tell = tell
        self._wanted: dict[Original, None] = {}
        self._wants = threading.Condition()
        self._stopped = False
        self._developer = threading.Thread(target=self._develop, name="pictures")

    def __getitem__(self, original: Original) -> PublishedPicture:
        found = self._at_hand(original)
        if found is None:
            with self._wants:
                # Whoever asked last is waiting now, and comes first.
                self._wanted.pop(original, None)
                self._wanted[original] = None
                self.missed += 1
                self._wants.notify()
        if found is None or isinstance(found, Unreadable):
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
        stamp = stamp_of(original.path)
        known = self._known.get(original)
        return known[1] if known and stamp and known[0] == stamp else self._take(original, stamp)

    def begin(self) -> None:
        """Begin to develop what pages want."""
        self._developer.start()

    def close(self) -> None:
        """End the developing, after the picture in hand."""
        with self._wants:
            self._stopped = True
            self._wants.notify()
        self._developer.join()

    def _at_hand(self, original: Original) -> Found | None:
        stamp = stamp_of(original.path)
        known = self._known.get(original)
        if known and stamp and known[0] == stamp:
            return known[1]
        found = self._store.find(original)
        return self._keep(original, stamp, found) if found is not None else None

    def _take(self, original: Original, stamp: Stamp | None) -> Found:
        return self._keep(original, stamp, self._store.publish(original))

    def _keep(self, original: Original, stamp: Stamp | None, found: Found) -> Found:
        self._known[original] = (stamp, found)
        if not isinstance(found, Unreadable):
            self.files.update((f"{FOLDER}/{name}", file) for name, file in found[1].items())
        return found

    def _develop(self) -> None:
        told = time.monotonic()
        while True:
            with self._wants:
                self._wants.wait_for(lambda: self._stopped or self._wanted)
                if self._stopped:
                    return
                original = next(reversed(self._wanted))
            try:
                self.look(original)
            except OSError as fault:
                # A page that comes anew must not want it again and again.
                self._keep(original, stamp_of(original.path), Unreadable(f"it cannot be kept ({fault.strerror})"))
            with self._wants:
                self._wanted.pop(original, None)
                rests = not self._wanted
            if rests or time.monotonic() - told >= _SOME:
                self.told += 1
                self._tell()
                told = time.monotonic()
