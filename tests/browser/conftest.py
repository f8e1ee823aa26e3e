"""A finished guide, a web host for it on this machine, and a browser that complains of everything.

The guide is the demo with the entries of ``hard`` added: between them every kind of page is there,
and each has names, words and pictures that are hard to set. The browser is closed after each
module, because while it is open no other test could start an event loop.
"""

from __future__ import annotations

import shutil
import threading
from contextlib import suppress
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import TYPE_CHECKING, Literal
from urllib.parse import urlsplit

import pytest
from PIL import Image
from playwright.sync_api import sync_playwright

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, ConsoleMessage, Error, Page, Request

HERE = Path(__file__).resolve().parent
REPOSITORY = HERE.parent.parent
CHROMIUM = "/usr/bin/chromium"
QUIET = [
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
]

# Where a web host would show the guide: below a folder, as the demo's base address says.
MOUNT = "/millrace/"

PICTURES = {"broad": (2000, 140), "tall": (140, 2000), "small": (60, 40), "sharp": (1700, 1000), "square": (700, 700)}

KINDS = {
    "front": "index.html",
    "list": "species/index.html",
    "codes": "codes.html",
    "find": "find.html",
    "colours": "colours.html",
    "where": "where.html",
    "news": "news.html",
    "ladder": "ladder.html",
    "species": "species/unbelievablydisproportionatelylongbilled-streamsidestonehopper.html",
    "pair": "pairs/nrws-unst.html",
    "pairs": "pairs/index.html",
    "card": "cards/nrws-unst.html",
    "cards": "cards/index.html",
    "group": "groups/reservoir-waders.html",
    "groups": "groups/index.html",
    "compare": "compare.html",
    "sorting": "sorting.html",
    "flock": "flocks/nachmittagsgewitterregenpausenversammlung-of-the-overflow-channel.html",
    "flocks": "flocks/index.html",
    "parts": "parts.html",
    "words": "words.html",
    "method": "method.html",
    "outing": "outings/2026-05-02.html",
    "outings": "outings/index.html",
    "place": "places/overflow.html",
    "places": "places/index.html",
    "unsolved": "unsolved/index.html",
    "unsolved-bird": "unsolved/grey-bird-high-up-over-the-hochwasserentlastungsuberlaufgerinneboschungsoberkante.html",
    "question": "questions/grey-bird-high-up-over-the-hochwasserentlastungsuberlaufgerinneboschungsoberkante.html",
    "not-found": "404.html",
}
"""Of every kind of page, named by its template, the one that is hardest to set."""


FRAMELESS = {"question"}
"""Kinds of page that are files for themselves: without menu, without way to the content, in plain letters."""


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test that takes a kind for every template, so that a new one cannot be forgotten."""
    if "kind" in metafunc.fixturenames:
        names = {path.stem for path in (REPOSITORY / "layouts").glob("*.html")} - {"base"}
        if "framed" in metafunc.fixturenames:
            names -= FRAMELESS
        metafunc.parametrize("kind", sorted(names))


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the finished guide."""
    folder = tmp_path_factory.mktemp("guide")
    shutil.copy(REPOSITORY / "guide.yaml", folder)
    shutil.copytree(REPOSITORY / "entries", folder / "entries")
    shutil.copytree(HERE / "hard", folder / "entries", dirs_exist_ok=True)
    for name, size in PICTURES.items():
        Image.linear_gradient("L").resize(size).convert("RGB").save(folder / f"entries/species/{name}.png")
    return _built(folder)


@pytest.fixture(scope="session")
def empty_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a guide in which nothing is written yet."""
    return _built(tmp_path_factory.mktemp("empty"))


def _built(folder: Path) -> Path:
    build = build_guide(folder)
    assert build.pages, f"the guide was not built: {build.report.problems}"
    return folder / "build"


@pytest.fixture(scope="session")
def pages(site: Path) -> tuple[str, ...]:
    """The paths of all pages, from the guide's root."""
    return tuple(sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html")))


@pytest.fixture
def path(kind: str, pages: tuple[str, ...]) -> str:
    """The path of the page that stands for a kind."""
    if KINDS.get(kind) not in pages:
        pytest.fail(f"no page stands for {kind}.html: name one in KINDS, and write an entry that makes it")
    return KINDS[kind]


@pytest.fixture
def framed(path: str) -> str:
    """The path of the page that stands for a kind, of those with the frame that most have."""
    return path


@pytest.fixture(scope="session")
def base_url(site: Path) -> Iterator[str]:
    """The address at which a small web host shows the guide."""

    class Host(SimpleHTTPRequestHandler):
        """Shows the files below ``MOUNT``, and the guide's own page for what is not there."""

        extensions_map = SimpleHTTPRequestHandler.extensions_map | {".webp": "image/webp", ".woff2": "font/woff2"}

        def do_GET(self) -> None:
            # A page that is closed while it loads hangs up.
            with suppress(ConnectionError):
                super().do_GET()

        def translate_path(self, path: str) -> str:
            inside = urlsplit(path).path
            within = inside.removeprefix(MOUNT) if inside.startswith(MOUNT) else "outside"
            return super().translate_path(f"/{within}")

        def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
            if code != HTTPStatus.NOT_FOUND:
                super().send_error(code, message, explain)
                return
            body = (site / "404.html").read_bytes()
            self.send_response(code)
            self.send_header("Content-Type", "text/html")
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, format: str, *args: object) -> None:
            pass

    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Host, directory=str(site))) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}{MOUNT}"
        server.shutdown()
        thread.join()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The browser, for one module."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield found
        found.close()


@pytest.fixture(scope="module")
def tab(browser: Browser) -> Page:
    """The one window of the browser: going to another page takes a fifth of the time of a new window.

    Its reader does not want the guide kept, so that every page comes from the host: see test_page_offline.py.
    """
    found = browser.new_page()
    found.add_init_script(f"localStorage.setItem('guide not to be kept at {MOUNT}', 'yes')")
    return found


@pytest.fixture
def open_page(tab: Page, base_url: str) -> Iterator[Callable[..., Page]]:
    """Open a page by its path or by a whole ``file:`` address.

    The test fails if a page complains, lacks a file or asks another host for one.
    """
    wrong: list[str] = []
    asked, before = "", tab.url

    def hear(said: ConsoleMessage) -> None:
        # That the page itself is not there is what a test of the not-found page asks for.
        if said.type in ("error", "warning") and said.location["url"] != asked:
            wrong.append(f"{asked}: {said.text}")

    def watch(request: Request) -> None:
        # The icon of the page before may be asked for when the next one, from elsewhere, is open already.
        if urlsplit(request.url)[:2] not in (urlsplit(asked)[:2], urlsplit(before)[:2]):
            wrong.append(f"{asked}: asks {request.url}")

    def miss(request: Request) -> None:
        # A picture still under way is given up when the next page is opened.
        if request.failure != "net::ERR_ABORTED":
            wrong.append(f"{asked}: {request.url} {request.failure}")

    def complain(fault: Error) -> None:
        wrong.append(f"{asked}: {fault}")

    def open_it(
        address: str,
        *,
        width: int = 1280,
        height: int = 800,
        scheme: Literal["light", "dark"] = "light",
        media: Literal["screen", "print"] = "screen",
        forced_colors: Literal["active", "none"] = "none",
    ) -> Page:
        nonlocal asked, before
        before = tab.url
        asked = address if address.startswith("file:") else base_url + address
        tab.set_viewport_size({"width": width, "height": height})
        tab.emulate_media(color_scheme=scheme, media=media, forced_colors=forced_colors)
        tab.goto(asked)
        return tab

    tab.on("console", hear)
    tab.on("request", watch)
    tab.on("requestfailed", miss)
    tab.on("pageerror", complain)
    yield open_it
    tab.remove_listener("console", hear)
    tab.remove_listener("request", watch)
    tab.remove_listener("requestfailed", miss)
    tab.remove_listener("pageerror", complain)
    assert wrong == []


@pytest.fixture(scope="session")
def tool() -> Callable[[str], Path]:
    """Find a file of the tools that the tests of pages need."""

    def find(name: str) -> Path:
        found = HERE.parent / "node_modules" / name
        if not found.is_file():
            pytest.fail(f"tests/node_modules/{name} is missing: `make test` installs it")
        return found

    return find


RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# Preloading style sheets would ask for them by script, which the page's own policy forbids.
ASK_AXE = """async rules => {
    const found = await axe.run(document, {preload: false, runOnly: {type: 'tag', values: rules},
                                           resultTypes: ['violations', 'incomplete']});
    const unseen = node => node.any.length > 0 && node.any.every(
        check => ['bgOverlap', 'bgImage', 'bgGradient', 'elmPartiallyObscured', 'elmPartiallyObscuring', 'imgNode',
                  'shortTextContent', 'outsideViewport'].includes(check.data && check.data.messageKey));
    const doubts = found.incomplete.map(rule => ({id: rule.id, nodes: rule.nodes.filter(node => !unseen(node))}));
    return [...found.violations, ...doubts].flatMap(
        rule => rule.nodes.map(node => `${rule.id}: ${node.html.slice(0, 120)}`));
}"""
# The checker tells no contrast where words lie over a drawing or one picture over another; that is left to the eye.


@pytest.fixture(scope="session")
def ask_axe() -> Callable[[Page], list[str]]:
    """Ask the accessibility checker, once it is on a page, for its faults and doubts."""

    def ask(page: Page) -> list[str]:
        found: list[str] = page.evaluate(ASK_AXE, RULES)
        return found

    return ask
