"""The pieces of work of a build: entries to read, accounts to judge, pages to render.

Each piece has a name, and what it asked of the entries is noted. It is done again only if an entry or a
fact that it asked for has changed. Where heads have changed, or the list of pictures, everything is done.
"""

from __future__ import annotations

import hashlib
import marshal
from itertools import chain
from typing import TYPE_CHECKING, Any, Final

from tertial.entries.sheet import Head, Reads
from tertial.ledger import KeptEntry, KeptWork
from tertial.linking import account_of, link
from tertial.loading import read_sheet, unread_sheet
from tertial.pages.facts import FACTS, FACTS_OF_TEXT, is_held_back, named_pictures
from tertial.pages.mentioning import Mentions
from tertial.pages.render import Renderer
from tertial.pages.rooms import ROOMS, pages_of
from tertial.showing import Shown, develop, from_plain, said_anew
from tertial.text.problem import Problem
from tertial.text.quoting import packed, unpacked

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from pathlib import Path

    from tertial.entries.load import Entry
    from tertial.entries.sheet import Asked, Sheet
    from tertial.guide import Guide
    from tertial.ledger import Ledger
    from tertial.linking import Ground
    from tertial.pages.site import Page, Site
    from tertial.pages.templates import Templates
    from tertial.parallel import Halves
    from tertial.text.quoting import Packed

# Rooms that most small changes do without are imported where they are used.
# ruff: noqa: PLC0415

TOGETHER: Final = "together"
"""Name of the judgement that is on all accounts."""

_OF_TEXT: Final = ": text"
"""What the name of the judgement on a text has after the path of its file; that on the rest has the path alone."""

LISTING: Final = "list of pages"
"""Name of the work of listing all pages."""


class Working:
    """The guide as far as it has to be read, and the work that is to be done on it.

    :param ledger: what the last build left.
    :param paths: paths of all entry files, in order.
    :param fresh: those of them that have changed or are new; they are read at once.
    """

    def __init__(
        self,
        ground: Ground,
        ledger: Ledger,
        paths: Sequence[str],
        fresh: Sequence[str],
        halves: Halves,
    ) -> None:
        self._ground, self._ledger, self._halves = ground, ledger, halves
        self._reads = Reads()
        self._sheets: dict[str, Sheet[Entry]] = {}
        self._mine = frozenset(halves.half(fresh))
        own = {path: self._read(path) for path in fresh if path in self._mine}
        read = {path: KeptEntry(*each) for path, each in halves.both(own).items()}
        for path in fresh:
            if path not in read:
                read[path] = KeptEntry(*self._read(path))
        self.entries = {path: read.get(path) or ledger.entries[path] for path in paths}
        """Every entry as it is to be kept."""
        self.guide: Guide = link(ground, [self._sheet(path) for path in paths], ground.problems, len(paths))
        """The guide, of entries that are read only when somebody asks."""
        self._fresh = frozenset(fresh)
        known = {path: ledger.entries[path] for path in fresh if path in ledger.entries}
        both = [(path, known.get(path), self.entries[path]) for path in fresh]
        self._changed_fronts = {path for path, old, new in both if old is None or old.front != new.front}
        self._changed_texts = {path for path, old, new in both if old is None or old.text != new.text}
        before = {path: old.facts() if old else {} for path, old, _ in both}
        self._changed_facts = frozenset(
            name
            for path in fresh
            for name, fact in self.entries[path].facts().items()
            if name not in before[path] or before[path][name] != fact
        )
        self.is_linked_as_before = (
            bool(ledger.works)
            and self._changed_facts.isdisjoint({named_pictures.__name__, is_held_back.__name__})
            and self.entries.keys() == ledger.entries.keys()
            and all(self.entries[path].head == ledger.entries[path].head for path in fresh)
        )
        """Whether entries, heads, pictures and the places held back are those of the last build: only then may its
        work be kept."""

    @property
    def mentions(self) -> list[Mentions]:
        """How texts name the parts of a bird, as an earlier build has worked it out; empty where that may not hold."""
        kept = self._ledger.mentions if self.is_linked_as_before else ()
        return [Mentions.from_plain(kept)] if kept else []

    def problems(self) -> Iterator[Problem]:
        """Give what was found while reading."""
        yield from self._ground.problems
        for entry in self.entries.values():
            yield from map(unpacked, entry.problems)

    def judged(self) -> dict[str, KeptWork]:
        """Judge what has to be judged, and give all judgements."""

        def judge(name: str) -> tuple[Any, ...]:
            self._reads.begin()
            problems = tuple(packed(problem) for problem in self._judgement(name))
            return (*_plain(self._reads.taken()), problems)

        paths = [account.path for account in self.guide.accounts()]
        names = [TOGETHER, *chain.from_iterable((path, path + _OF_TEXT) for path in paths)]
        due = [name for name in names if self._is_due(name)]
        self._halves.divide(len(due))
        done = {name: judge(name) for name in self._half(due)}
        done = self._halves.both(done)
        for name in due:
            if name not in done:
                done[name] = judge(name)
        return {name: KeptWork(*done[name]) if name in done else self._ledger.works[name] for name in names}

    def _judgement(self, name: str) -> Iterable[Problem]:
        path = name.removesuffix(_OF_TEXT)
        if path != name:
            from tertial.checks import in_text

            return in_text.judge_text(self.guide, self.guide.by_path[path])
        from tertial.checks import every

        if name == TOGETHER:
            return every.judge_together(self.guide)
        return every.judge_front(self.guide, self.guide.by_path[path])

    def rendered(self, site: Site, kept: Templates) -> tuple[dict[str, bytes | Packed], dict[str, KeptWork]]:
        """Render what has to be rendered.

        :param kept: the templates.
        :returns: the rendered pages by path, each as bytes or as the problem that kept it from being rendered,
            and the work of all pages by path.
        """
        works, due = self._listed(site)
        # One mark may make the data of all accounts due.
        self._halves.divide(len(due))
        renderer, pages = Renderer(site, kept=kept), {page.path: page for _, page in due}
        rooms = {page.path: room for room, page in due}

        def render(path: str) -> tuple[Any, ...]:
            self._reads.begin()
            result = renderer.render(pages[path])
            return (*_plain(self._reads.taken()), packed(result) if isinstance(result, Problem) else result)

        ordered = [*pages] if self._halves.is_alone else self._in_order(pages)
        done = {path: render(path) for path in self._halves.from_both_ends(ordered)}
        done = self._halves.gather(done)
        for path in pages:
            if path not in done:
                done[path] = render(path)
            fronts, texts, facts, _ = done[path]
            works[path] = KeptWork(fronts, texts, facts, room=rooms[path])
        return {path: done[path][-1] for path in pages}, works

    def _listed(self, site: Site) -> tuple[dict[str, KeptWork], list[tuple[str, Page]]]:
        """List pages: the work that is done on them already, and those that are due, each with its room."""
        if not self._is_due(LISTING):
            works = {name: work for name, work in self._ledger.works.items() if work.room or name == LISTING}
            due = {path for path, work in works.items() if work.room and self._is_due(path)}
            rooms = {works[path].room for path in due}
            return works, [(room, page) for room, page in pages_of(site, rooms) if page.path in due]
        # What stands on the list may have been asked of entries: then the list and all that is on it are due together.
        self._reads.begin()
        pages = list(pages_of(site, ROOMS))
        fronts, texts, facts = _plain(self._reads.taken())
        return {LISTING: KeptWork(fronts, texts, facts)}, pages

    def _in_order(self, pages: Iterable[str]) -> list[str]:
        from tertial.ordering import in_order

        return in_order(self.guide, pages)

    def pictures(self, store: Path) -> Shown:
        """Give the published pictures; they are developed, unless they are those of the last build.

        :param store: folder of the picture store.
        """
        folder = self._ground.folder
        if self.is_linked_as_before:
            return said_anew(self.guide, from_plain(folder, store, self._ledger.pictures), self._fresh)
        shown = Shown({}, {}) if self._halves.is_twin else develop(self.guide, store)
        values = self._halves.both({} if self._halves.is_twin else shown.plain(folder, store))
        return from_plain(folder, store, values) if self._halves.is_twin else shown

    def _read(self, path: str) -> tuple[Any, ...]:
        """Read an entry, and give what is to be kept of it."""
        kept = self._ledger.entries.get(path)
        sheet = self._sheets[path] = read_sheet(self._ground, self._reads, path, self._kept_head(path))
        entry, problems = self._reads.silently(sheet.found)
        front = text = b""
        if entry is not None and sheet.head is not None:
            whole = entry.source.text
            front, text = _digest(whole[: entry.body.start]), _digest(whole)
            account, wanted = account_of(self._ground, sheet, sheet.head), FACTS
            if kept is not None and kept.front == front and kept.head == tuple(sheet.head):
                sheet.facts.update(kept.facts())
                wanted = FACTS_OF_TEXT
                for fact in wanted:
                    del sheet.facts[fact.__name__]
            for fact in wanted:
                account.fact(fact)
        head, facts = tuple(sheet.head) if sheet.head else None, marshal.dumps(sheet.facts)
        return (front, text, head, facts, tuple(map(packed, problems)))

    def _kept_head(self, path: str) -> Head | None:
        kept = self._ledger.entries.get(path)
        return Head(*kept.head) if kept and kept.head else None

    def _sheet(self, path: str) -> Sheet[Entry]:
        if path in self._sheets:
            return self._sheets[path]
        kept = self.entries[path]
        return unread_sheet(self._ground, self._reads, path, Head(*kept.head) if kept.head else None, kept.facts)

    def _is_due(self, name: str) -> bool:
        kept = self._ledger.works.get(name)
        return (
            kept is None
            or not self.is_linked_as_before
            or not self._changed_fronts.isdisjoint(kept.fronts)
            or not self._changed_texts.isdisjoint(kept.texts)
            or not self._changed_facts.isdisjoint(kept.facts)
        )

    def _half(self, names: Sequence[str]) -> Iterator[str]:
        """Give this process's half: what it has read, and every second one of the rest."""
        for at, name in enumerate(names):
            path = name.removesuffix(_OF_TEXT)
            is_ours = path in self._mine if path in self._fresh else at % 2 == self._halves.is_twin
            if is_ours or self._halves.is_alone:
                yield name


def _plain(asked: Asked) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Turn what was asked into plain values, in an order that does not change."""
    fronts, texts, facts = (tuple(sorted(each)) for each in asked)
    return fronts, texts, facts


def _digest(text: str) -> bytes:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).digest()
