"""Where the state of the guide in force lies: taken up when files change, checked behind it, told to pages.

Three kinds of thread meet here: one that follows the files, one that checks, and one for each request.
A state never changes its guide; a new one takes its place.
"""

from __future__ import annotations

import gc
import secrets
import threading
import time
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.build import WORK
from tertial.keeping import KeptEntries
from tertial.layouts import LAYOUTS, built_in_layouts
from tertial.loading import ENTRIES_FOLDER, ENTRY_SUFFIXES, load_guide
from tertial.pages.templates import templates
from tertial.proof.edition import Edition
from tertial.proof.judging import judged
from tertial.proof.pictures import Pictures
from tertial.report import Report

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from tertial.guide import Guide
    from tertial.pages.mentioning import Mentions


_MOMENTS, _MOMENT = 5, 0.01
"""How often, and for how many seconds, a file that is empty or gone is waited for."""

_SELDOM = (50_000, 20, 50)
"""How seldom the collector goes through its three ages by itself."""

_PAUSE = 0.2
"""Seconds between the notice of a change and its checks."""


class Notice(NamedTuple):
    """What an open page is told."""

    state: str
    """Mark of the state in force."""

    checked: bool
    """Whether its checks are done."""

    pictures: int
    """How many times pictures have come that pages had to do without."""


class Desk:
    """The state of a guide in force.

    :param folder: the guide's folder.
    :param say: is told in a line what changed and what is wrong.
    """

    def __init__(self, folder: Path, say: Callable[[str], None]) -> None:
        self._folder = folder
        self._say = say
        self._kept = KeptEntries()
        self._pictures = Pictures(folder / WORK / "pictures", self._take_pictures)
        self._own = templates(folder / LAYOUTS, built_in_layouts())
        self._built_in = templates(built_in_layouts())
        self._shown: dict[str, tuple[str, ...]] = {}
        self._words: object = None
        self._mentions: list[Mentions] = []
        self._begun = secrets.token_hex(4)
        self._number = 0
        self._news = threading.Condition()
        self._taking_up = threading.Lock()
        self._stopped = False
        self._edition = self._load()
        # What was read stays: the collector need not go through it at every save, and goes through the rest
        # when the checks are done, not while a page is waited for.
        gc.collect()
        gc.freeze()
        gc.set_threshold(*_SELDOM)
        self._changed: set[str] = set()
        self._checker = threading.Thread(target=self._check, name="checks")
        self._checker.start()
        self._pictures.begin()

    @property
    def edition(self) -> Edition:
        """The state in force."""
        return self._edition

    def take_up(self, paths: frozenset[str] = frozenset()) -> bool:
        """Load the guide again, and tell open pages if anything is new.

        :param paths: what changed on the disk, from the guide's folder.
        :returns: whether anything was new. A folder that cannot be read at the moment is said, and
            the former state stays in force.
        """
        with self._taking_up:
            self._wait_written(paths)
            if any(path == LAYOUTS or path.startswith(f"{LAYOUTS}/") for path in paths):
                # A new template may stand before one that is kept.
                self._own = templates(self._folder / LAYOUTS, built_in_layouts())
            try:
                edition = self._load()
            except OSError as fault:
                self._say(f"the guide cannot be read just now: {fault}")
                return False
            new = _different(self._edition, edition) | {path for path in paths if _counts(path)}
            if not new:
                return False
            with self._news:
                self._edition = edition
                self._changed |= new
                self._news.notify_all()
            return True

    def notices(self, pause: float = 15) -> Iterator[Notice | None]:
        """Give the notice of what is in force, then each new one; None when a pause went by without.

        Ends when the desk is closed.
        """
        told: Notice | None = None
        while True:
            with self._news:
                if self._notice() == told and not self._stopped:
                    self._news.wait(pause)
                if self._stopped:
                    return
                notice = self._notice()
            yield notice if notice != told else None
            told = notice

    def close(self) -> None:
        """End the checks and every run of notices."""
        with self._news:
            self._stopped = True
            self._news.notify_all()
        self._checker.join()
        self._pictures.close()

    def _notice(self) -> Notice:
        return Notice(self._edition.state, self._edition.checked, self._edition.pictures)

    def _take_pictures(self) -> None:
        """Show the same guide with more of its pictures."""
        with self._taking_up:
            before = self._edition
            edition = self._edition_of(before.guide, before.state)
            with self._news:
                if before.checked:
                    edition.judge(before.problems)
                self._edition = edition
                self._news.notify_all()

    def _wait_written(self, paths: frozenset[str]) -> None:
        """Give a moment to an editor that empties a file, or moves it away, before it writes it."""
        for path in paths:
            for _ in range(_MOMENTS if path.endswith(ENTRY_SUFFIXES) else 0):
                try:
                    if (self._folder / path).stat().st_size:
                        break
                except OSError:
                    pass
                time.sleep(_MOMENT)

    def _load(self) -> Edition:
        self._number += 1
        guide = load_guide(self._folder, self._kept)
        return self._edition_of(guide, f"{self._begun}-{self._number}")

    def _edition_of(self, guide: Guide, state: str) -> Edition:
        # The words for parts hang on these alone; templates are others when a layout has changed.
        words = guide.codes, guide.settings.source.text, self._own
        if words != self._words:
            self._words, self._mentions = words, []
        return Edition(guide, state, self._pictures, self._own, self._built_in, self._shown, self._mentions)

    def _check(self) -> None:
        while True:
            with self._news:
                self._news.wait_for(lambda: self._stopped or not self._edition.checked)
                if self._stopped:
                    return
                edition = self._edition
                # Open pages are loaded anew first: the checks of a large guide would hold them up.
                self._news.wait_for(partial(self._is_over, edition), _PAUSE)
            problems = judged(edition.guide, self._pictures, partial(self._is_over, edition))
            if problems is None:
                continue
            with self._news:
                if self._is_over(edition):
                    continue
                # It may have got more of its pictures meanwhile.
                edition = self._edition
                edition.judge(problems)
                changed, self._changed = self._changed, set()
                self._news.notify_all()
            self._tell(edition, changed)
            gc.collect()

    def _is_over(self, edition: Edition) -> bool:
        return self._stopped or self._edition.state != edition.state

    def _tell(self, edition: Edition, changed: set[str]) -> None:
        sentence = Report.of(edition.problems, edition.guide.files).sentence()
        names = sorted(changed)
        more = f" and {len(names) - 3} more" if len(names) > 3 else ""
        what = f"{', '.join(names[:3])}{more} changed; " if names else ""
        self._say(f"{what}{sentence}")


def _different(before: Edition, after: Edition) -> set[str]:
    """Give the paths of the files that read differently."""
    old, new = before.sources, after.sources
    return {
        path
        for path in old.keys() | new.keys()
        if path not in old or path not in new or old[path].text != new[path].text
    }


def _counts(path: str) -> bool:
    """Whether a change is news by itself: of a template, an asset or a picture.

    What is read as text is compared instead, and names without an ending are what editors leave in passing.
    """
    has_ending = "." in path.rpartition("/")[2]
    if path == LAYOUTS or path.startswith(f"{LAYOUTS}/"):
        return has_ending or path == LAYOUTS
    return path.startswith(f"{ENTRIES_FOLDER}/") and has_ending and not path.endswith(ENTRY_SUFFIXES)
