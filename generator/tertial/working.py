"""The pieces of work of a build: entries to read, accounts to judge, pages to render.

Each piece has a name, and what it asked of the entries is noted. It is done again only if an entry or a
fact that it asked for has changed. Where heads have changed, or the list of pictures, everything is done.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, Final

from tertial.checks import judge_account, judge_together
from tertial.entries.sheet import Head, Reads
from tertial.groups import groups
from tertial.ledger import KeptEntry, KeptWork
from tertial.linking import account_of, link
from tertial.loading import read_sheet, unread_sheet
from tertial.pages.browse import DATA
from tertial.pages.cards import card_sheets
from tertial.pages.facts import FACTS, named_pictures
from tertial.pages.render import Renderer
from tertial.pages.site import COLOURS, COMPARE, SORTING, account_path, card_path, group_path, pair_path
from tertial.showing import Shown, develop, from_plain, said_anew
from tertial.text.problem import Problem
from tertial.text.quoting import packed, unpacked

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from pathlib import Path

    from tertial.entries.load import Entry
    from tertial.entries.sheet import Sheet
    from tertial.guide import Guide
    from tertial.ledger import Ledger
    from tertial.linking import Ground
    from tertial.pages.site import Page, Site
    from tertial.pages.templates import Templates
    from tertial.parallel import Halves
    from tertial.text.quoting import Packed

TOGETHER: Final = "together"
"""Name of the judgement that is on all accounts; that on one account has the path of its file."""


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
        self._changed = frozenset(fresh)
        self._changed_facts = frozenset(
            name
            for path in fresh
            for name, fact in self.entries[path].facts.items()
            if path not in ledger.entries or ledger.entries[path].facts.get(name) != fact
        )
        self.is_linked_as_before = (
            bool(ledger.works)
            and named_pictures.__name__ not in self._changed_facts
            and self.entries.keys() == ledger.entries.keys()
            and all(self.entries[path].head == ledger.entries[path].head for path in fresh)
        )
        """Whether entries, heads and pictures are those of the last build: only then may its work be kept."""

    def problems(self) -> Iterator[Problem]:
        """Give what was found while reading."""
        yield from self._ground.problems
        for entry in self.entries.values():
            yield from map(unpacked, entry.problems)

    def judged(self) -> dict[str, KeptWork]:
        """Judge what has to be judged, and give all judgements."""
        works: dict[str, Callable[[], Iterable[Problem]]] = {TOGETHER: partial(judge_together, self.guide)}
        for account in self.guide.accounts():
            works[account.path] = partial(judge_account, self.guide, account)

        def judge(name: str) -> tuple[Any, ...]:
            self._reads.begin()
            problems = tuple(packed(problem) for problem in works[name]())
            return (*self._reads.taken(), problems)

        due = [name for name in works if self._is_due(name)]
        done = {name: judge(name) for name in self._half(due)}
        done = self._halves.both(done)
        for name in due:
            if name not in done:
                done[name] = judge(name)
        return {name: KeptWork(*done[name]) if name in done else self._ledger.works[name] for name in works}

    def rendered(
        self, site: Site, kept: Templates, list_pages: Callable[[], Iterable[Page]]
    ) -> tuple[dict[str, bytes | Packed], dict[str, KeptWork]]:
        """Render what has to be rendered.

        :param kept: the templates.
        :param list_pages: lists all pages of the guide.
        :returns: the rendered pages by path, each as bytes or as the problem that kept it from being rendered,
            and the work of all pages by path.
        """
        self._reads.begin()
        renderer, pages = Renderer(site, kept=kept), {page.path: page for page in list_pages()}
        common_texts, common_facts = self._reads.taken()

        def render(path: str) -> tuple[Any, ...]:
            self._reads.begin()
            result = renderer.render(pages[path])
            texts, facts = self._reads.taken()
            # What the list of pages has asked, it has asked for every page.
            return (
                tuple(sorted({*texts, *common_texts})),
                tuple(sorted({*facts, *common_facts})),
                packed(result) if isinstance(result, Problem) else result,
            )

        due = [path for path in pages if self._is_due(path)]
        done = {path: render(path) for path in self._halves.from_both_ends(_in_order(self.guide, due))}
        done = self._halves.gather(done)
        for path in due:
            if path not in done:
                done[path] = render(path)
        works = {}
        for path in pages:
            texts, facts, _ = done.get(path) or self._ledger.works[path]
            works[path] = KeptWork(texts, facts, ())
        return {path: done[path][2] for path in due}, works

    def pictures(self, store: Path) -> Shown:
        """Give the published pictures; they are developed, unless they are those of the last build.

        :param store: folder of the picture store.
        """
        folder = self._ground.folder
        if self.is_linked_as_before:
            return said_anew(self.guide, from_plain(folder, store, self._ledger.pictures), self._changed)
        shown = Shown({}, {}) if self._halves.is_twin else develop(self.guide, store)
        values = self._halves.both({} if self._halves.is_twin else shown.plain(folder, store))
        return from_plain(folder, store, values) if self._halves.is_twin else shown

    def _read(self, path: str) -> tuple[Any, ...]:
        """Read an entry, and give what is to be kept of it."""
        sheet = self._sheets[path] = read_sheet(self._ground, self._reads, path, self._kept_head(path))
        problems = self._reads.silently(lambda: sheet.found()[1])
        if sheet.head is not None:
            account = account_of(self._ground, sheet, sheet.head)
            for fact in FACTS:
                account.fact(fact)
        return (tuple(sheet.head) if sheet.head else None, sheet.facts, tuple(map(packed, problems)))

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
            or not self._changed.isdisjoint(kept.texts)
            or not self._changed_facts.isdisjoint(kept.facts)
        )

    def _half(self, names: Sequence[str]) -> Iterator[str]:
        """Give this process's half: what it has read, and every second one of the rest."""
        for at, name in enumerate(names):
            is_ours = name in self._mine if name in self._changed else at % 2 == self._halves.is_twin
            if is_ours or self._halves.is_alone:
                yield name


def _in_order(guide: Guide, pages: Iterable[str]) -> list[str]:
    """Order pages so that of two processes which begin at either end each asks mostly for entries that it has read.

    In front stands what looks up in the marks of all accounts, so that one process alone gathers them; then what
    is made of one entry or a few, in the order of entries; then all that is made of heads and facts.
    """
    owners = {account_path(account): account.path for account in guide.accounts()}
    for pair in guide.pairs:
        owners |= dict.fromkeys((pair_path(pair), card_path(pair)), pair.first.path)
    owners |= {path: guide.pairs[at].first.path for path, at in card_sheets(guide).items()}
    owners |= {group_path(group.slug): group.members[0].path for group in groups(guide)}

    def place(page: str) -> tuple[int, str]:
        if page.startswith(f"{DATA}/") or page in (COLOURS, COMPARE, SORTING):
            return (0, "")
        return (1, owners[page]) if page in owners else (2, "")

    return sorted(pages, key=place)
