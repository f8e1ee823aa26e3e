"""One state of the guide, with an answer for every address that it has.

All addresses are known beforehand, from the guide and from the folders of assets. An address that is
asked for is looked up among them and never made into a path, so that nothing else can be fetched.
"""

from __future__ import annotations

import threading
from functools import cached_property, partial
from http import HTTPStatus
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.layouts import built_in_layouts
from tertial.loading import ENTRIES_FOLDER, SETTINGS_FILE
from tertial.pages.assets import all_assets
from tertial.pages.frame import frame_of
from tertial.pages.render import Renderer
from tertial.pages.rooms import all_pages
from tertial.pages.site import FRONT, READING_POLICY, Link, Page, Site, account_path, pair_path
from tertial.proof import views
from tertial.proof.understanding import MarkRead, understood
from tertial.report import counted
from tertial.text.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from tertial.guide import Account, Guide
    from tertial.pages.mentioning import Mentions
    from tertial.pages.templates import Templates
    from tertial.proof.pictures import Pictures
    from tertial.text.source import SourceText

PROOF_POLICY: Final = f"{READING_POLICY}; connect-src 'self'"
"""What a page of the proof may load: it also asks for news, which no page of the finished guide does."""

# A question is sent whole and carries its style in itself; its own policy narrows this to that style.
_QUESTION: Final = "question.html"
_QUESTION_POLICY: Final = (
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
)

_KINDS: Final = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".jpeg": "image/jpeg",
    ".jpg": "image/jpeg",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".webmanifest": "application/manifest+json",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
    ".xml": "application/atom+xml; charset=utf-8",
}


class Answer(NamedTuple):
    """What an address leads to."""

    status: HTTPStatus
    kind: str
    """Media type."""
    body: bytes | Path
    """The content, or a known file that holds it."""
    policy: str = PROOF_POLICY
    keeps: bool = False
    """Whether a reader may keep it and ask whether it has changed: files, not pages."""
    moved_to: str = ""
    """Address of the page that is in its place now, as it stands in a link; '' for none."""


class Beside(NamedTuple):
    """What proof adds to every page, as the templates of ``layouts/proof`` ask for it."""

    edition: Edition

    @property
    def state(self) -> str:
        """The mark by which a page knows whether it is still up to date."""
        return self.edition.state

    @property
    def to_do(self) -> Link:
        """The way to all problems, with their numbers."""
        return Link(self.edition.counts or "nothing to mend", views.TO_DO)

    def panel(self, page: Page) -> views.PanelView:
        """Gather the problems of the files that a page is made of."""
        return self.edition.panel(page)

    def understood(self, page: Page, block: int) -> tuple[MarkRead, ...]:
        """Give what was understood of each mark in a block of a page, in the order of its rows."""
        return understood(self.edition.guide, self.edition.account(page), block)


class Edition:
    """One state of the guide.

    :param state: a mark that no other state has.
    :param pictures: pictures as far as they are developed.
    :param own: templates of the guide with those of the program behind them.
    :param built_in: templates of the program alone: what proof says must not depend on the author's.
    :param shown: the files of every page that was shown, by its address; filled further.
    :param mentions: as of ``Site``.
    """

    def __init__(
        self,
        guide: Guide,
        state: str,
        pictures: Pictures,
        own: Templates,
        built_in: Templates,
        shown: dict[str, tuple[str, ...]],
        mentions: list[Mentions],
    ) -> None:
        self.guide = guide
        self.state = state
        self.checked = False
        """Whether the checks are done."""
        # So many times pictures had come, and pages had done without one.
        self.pictures, self._missed = pictures.told, pictures.missed
        self._site = Site(guide, pictures, pictures.files, known_mentions=mentions)
        self._pictures = pictures
        self._shown = shown
        frame = frame_of(self._site)._replace(policy=PROOF_POLICY, proof=Beside(self))
        self._renderer = Renderer(self._site, frame, own)
        self._proof_renderer = Renderer(self._site, frame, built_in)
        self._problems: Mapping[str, tuple[Problem, ...]] = _by_file(guide.problems)
        self._listing = threading.Lock()
        self._listed: dict[str, Page] = {}
        self._unlisted = all_pages(self._site)

    @cached_property
    def sources(self) -> Mapping[str, SourceText]:
        """Every file of the guide that was read, or could not be, by its path."""
        found = {problem.source.path: problem.source for problem in self.guide.problems}
        found |= {entry.source.path: entry.source for entry in self.guide.entries()}
        return found | {SETTINGS_FILE: self.guide.settings.source}

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Everything found so far, by file."""
        return tuple(problem for found in self._problems.values() for problem in found)

    @property
    def counts(self) -> str:
        """How many problems of each weight are known."""
        return counted(self.problems)

    def judge(self, problems: tuple[Problem, ...]) -> None:
        """Take in what the checks found."""
        self._problems = _by_file(problems)
        self.checked = True

    def unread(self) -> tuple[str, ...]:
        """Give the entry files of which no page could be made."""
        return tuple(path for path in sorted(self.sources) if self._is_unread(path))

    def _is_unread(self, path: str) -> bool:
        return _is_entry(path) and path in self.sources and path not in self.guide.by_path

    def answer(self, address: str) -> Answer:
        """Give what stands at an address, seen from the root and with nothing escaped in it."""
        # Either is long to list, and a page is waited for.
        ways = (self._made, self._kept) if address.endswith(".html") else (self._kept, self._made)
        return ways[0](address) or ways[1](address) or self._former(address) or self._nowhere(address)

    def _made(self, address: str) -> Answer | None:
        if address == views.PICTURES:
            return Answer(HTTPStatus.OK, _KINDS[".json"], self._pictures.ways_back())
        page = self._own_page(address) or self._page(address)
        if page is None:
            return None
        if address in self._made_of:
            self._shown[address] = self._made_of[address]
        return self._rendered(page)

    def _kept(self, address: str) -> Answer | None:
        file = self._files.get(address) or self._pictures.files.get(address)
        return Answer(HTTPStatus.OK, _kind(address), file, keeps=True) if file is not None else None

    def panel(self, page: Page) -> views.PanelView:
        """Gather the problems of the files that a page is made of."""
        files = self._made_of.get(page.path, ())
        problems = (problem for file in files for problem in self._problems.get(file, ()))
        return views.panel(files, problems, pending=not self.checked, developing=self._lacks_pictures)

    @property
    def _lacks_pictures(self) -> bool:
        """Whether any page had to do without a picture: what was made for one page may stand on others."""
        return self._pictures.missed > self._missed

    def account(self, page: Page) -> Account | None:
        """Give the account that a page is made of, if it is made of one."""
        files = self._made_of.get(page.path, ())
        return self.guide.by_path.get(files[0]) if len(files) == 1 else None

    def _page(self, address: str) -> Page | None:
        """List pages until one has the address: a reader waits for it, and a guide of thousands is long to list."""
        with self._listing:
            while address not in self._listed:
                page = next(self._unlisted, None)
                if page is None:
                    return None
                self._listed[page.path] = page
            return self._listed[address]

    @cached_property
    def _made_of(self) -> Mapping[str, tuple[str, ...]]:
        guide = self.guide
        made: dict[str, tuple[str, ...]] = {
            account_path(account): (account.entry.source.path,) for account in guide.accounts()
        }
        for pair in guide.pairs:
            made[pair_path(pair)] = (pair.first.entry.source.path, pair.second.entry.source.path)
        return made | {FRONT: (SETTINGS_FILE,)}

    @cached_property
    def _files(self) -> Mapping[str, bytes | Path]:
        proof = built_in_layouts() / views.FOLDER
        own = ((f"{views.FOLDER}/{name}", proof / name) for name in ("proof.js", "proof.css"))
        return dict([*_inside(self.guide.folder), *own])

    def _own_page(self, address: str) -> Page | None:
        """Give a page that only proof has."""
        pending = not self.checked
        if address == views.TO_DO:
            view = partial(views.to_do, self.problems, self.unread(), pending=pending)
            return Page(address, "proof/to-do.html", "To do", "Everything that is wrong or missing.", view)
        path = address.removeprefix(views.text_key("").removesuffix(".html")).removesuffix(".html")
        return self._text(path, address) if path in self.sources and address == views.text_key(path) else None

    def _text(self, path: str, address: str) -> Page:
        account = self.guide.by_path.get(path)
        page = Link("the page made of it", account_path(account)) if account else None
        found = self._problems.get(path, ())
        show = partial(views.text, self.sources[path], found, page, entry=_is_entry(path), pending=not self.checked)
        return Page(address, "proof/text.html", PurePosixPath(path).name, "A file as it was written.", show)

    def _former(self, address: str) -> Answer | None:
        """Give what is now made of the files of a page that was shown: an open page must not be lost to a slip."""
        files = self._shown.get(address, ())
        for path in files:
            if self._is_unread(path):
                return self._rendered(self._text(path, address))
        account = self.guide.by_path.get(files[0]) if len(files) == 1 else None
        return Answer(HTTPStatus.FOUND, _KINDS[".txt"], b"", moved_to=f"/{account_path(account)}") if account else None

    def _rendered(self, page: Page) -> Answer:
        renderer = self._proof_renderer if page.template.startswith(f"{views.FOLDER}/") else self._renderer
        all_there = not self._lacks_pictures
        result = renderer.render(page)
        if all_there and self._lacks_pictures:
            # The slip stands above the text, which may be the first to want a picture.
            result = renderer.render(page)
        if isinstance(result, Problem):
            return self._fault(page, result)
        policy = _QUESTION_POLICY if page.template == _QUESTION else PROOF_POLICY
        return Answer(HTTPStatus.OK, _kind(page.path), result, policy)

    def _fault(self, page: Page, problem: Problem) -> Answer:
        instead = page._replace(template="proof/fault.html", view=partial(views.fault, problem))
        body = self._proof_renderer.render(instead)
        # The program's own template cannot be mended by the author: without it the words alone must do.
        text = problem.message.encode("utf-8", errors="replace") if isinstance(body, Problem) else body
        return Answer(HTTPStatus.INTERNAL_SERVER_ERROR, _KINDS[".txt" if isinstance(body, Problem) else ".html"], text)

    def _nowhere(self, address: str) -> Answer:
        # Only the depth of the address goes into the page, for its links.
        depth = "x/" * address.count("/")
        page = Page(f"{depth}none.html", "proof/none.html", "No such page", "There is no page here.", tuple)
        return self._rendered(page)._replace(status=HTTPStatus.NOT_FOUND)


def _by_file(problems: tuple[Problem, ...]) -> Mapping[str, tuple[Problem, ...]]:
    found: dict[str, dict[object, Problem]] = {}
    for problem in problems:
        found.setdefault(problem.source.path, {})[problem.sort_key()] = problem
    return {path: tuple(found[path].values()) for path in sorted(found)}


def _is_entry(path: str) -> bool:
    return path.startswith(f"{ENTRIES_FOLDER}/")


def _kind(address: str) -> str:
    return _KINDS.get(PurePosixPath(address).suffix.lower(), "application/octet-stream")


def _inside(folder: Path) -> Iterator[tuple[str, bytes | Path]]:
    """Give the assets; a link that leads out of the guide and of the program is left out."""
    allowed = (folder.resolve(), built_in_layouts().resolve())
    return all_assets(folder, lambda path: any(path.resolve().is_relative_to(each) for each in allowed))
