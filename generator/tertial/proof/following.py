"""Following the files of a guide, and telling which of them changed. The only module that imports watchfiles.

Two watches run side by side: one on all that lies below ``entries`` and ``layouts``, and one on the
guide's folder alone, for ``guide.yaml`` and for the coming and going of those two. What tertial itself
writes, and what other programs hide there, lies outside both.
"""

from __future__ import annotations

import threading
from pathlib import Path
from typing import TYPE_CHECKING, Final

import watchfiles

from tertial.layouts import LAYOUTS
from tertial.loading import ENTRIES_FOLDER, SETTINGS_FILE

if TYPE_CHECKING:
    from collections.abc import Callable

_DEEP: Final = (ENTRIES_FOLDER, LAYOUTS)
_STEP: Final = 5
_SLOW_STEP: Final = 40
"""Milliseconds without a further change after which changes are told: short in the folders where people
write, longer where a change is rare."""
_LONGEST: Final = 200
"""Milliseconds after which changes are told although more are coming."""


class Follower:
    """Follows the files of a guide until it is closed.

    :param folder: the guide's folder.
    :param tell: is told the paths that changed, from that folder; one call at a time.
    :param say: is told why files cannot be followed.
    """

    def __init__(
        self, folder: Path, tell: Callable[[frozenset[str]], object], say: Callable[[str], None] = lambda _: None
    ) -> None:
        self._folder = folder.resolve()
        self._tell = tell
        self._say = say
        self._stop = threading.Event()
        self._renew = threading.Event()
        self._telling = threading.Lock()
        self._top, self._deep = _Watch(self._stop), _Watch(self._stop, self._renew)
        self._threads = [
            threading.Thread(target=self._follow_top, name="guide"),
            threading.Thread(target=self._follow_deep, name="entries"),
        ]
        for thread in self._threads:
            thread.start()

    def wait_ready(self, seconds: float = 10) -> bool:
        """Wait until no change can be missed any more; False if that took too long."""
        return all(watch.stands.wait(seconds) for watch in (self._top, self._deep))

    def close(self) -> None:
        """End both watches."""
        self._stop.set()
        self._renew.set()
        for thread in self._threads:
            thread.join()

    def _follow_top(self) -> None:
        try:
            self._pass_on(self._top, (self._folder,), recursive=False)
        except OSError as fault:
            self._top.stands.set()
            self._say(f"changes of {SETTINGS_FILE} cannot be followed: {fault}")

    def _follow_deep(self) -> None:
        while not self._stop.is_set():
            if self._renew.is_set():
                # Something may have been written before this watch stands, so then all is looked at again.
                self._deep = _Watch(self._stop, self._renew, then=self._tell_all)
            self._renew.clear()
            folders = tuple(folder for name in _DEEP if (folder := self._folder / name).is_dir())
            try:
                if folders:
                    self._pass_on(self._deep, folders, recursive=True)
                    continue
            except OSError as fault:
                if all(folder.is_dir() for folder in folders):
                    self._say(f"changes of entries cannot be followed: {fault}")
            self._deep.is_set()
            self._renew.wait()

    def _pass_on(self, watch: _Watch, folders: tuple[Path, ...], *, recursive: bool) -> None:
        changes = watchfiles.watch(
            *folders,
            watch_filter=self._is_ours,
            step=_STEP if recursive else _SLOW_STEP,
            debounce=_LONGEST,
            stop_event=watch,
            raise_interrupt=False,
            recursive=recursive,
        )
        for found in changes:
            paths = frozenset(self._inside(path) for _, path in found)
            if not recursive and not paths.isdisjoint(_DEEP):
                self._renew.set()
                paths -= frozenset(_DEEP)
            if paths:
                with self._telling:
                    self._tell(paths)

    def _tell_all(self) -> None:
        with self._telling:
            self._tell(frozenset(_DEEP))

    def _is_ours(self, _: watchfiles.Change, path: str) -> bool:
        inside = self._inside(path)
        if any(part.startswith(".") for part in inside.split("/")) or inside.endswith("~"):
            return False
        return inside == SETTINGS_FILE or inside.partition("/")[0] in _DEEP

    def _inside(self, path: str) -> str:
        return Path(path).relative_to(self._folder).as_posix()


class _Watch:
    """What a watch asks again and again: whether to end. The first question means that it stands."""

    def __init__(self, *ends: threading.Event, then: Callable[[], None] = lambda: None) -> None:
        self._ends = ends
        self._then = then
        self.stands = threading.Event()

    def is_set(self) -> bool:
        if not self.stands.is_set():
            self.stands.set()
            self._then()
        return any(end.is_set() for end in self._ends)
