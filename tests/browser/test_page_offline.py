"""A guide on a web host is kept on the reader's device: it opens without a signal, and is renewed as a whole."""

from __future__ import annotations

import contextlib
import io
import shutil
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from typing import TYPE_CHECKING
from urllib.parse import urljoin, urlsplit

import pytest
from PIL import Image
from playwright.sync_api import TimeoutError

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, BrowserContext, Page

MOUNT = "/millrace/"
"""Where the guide's own address says that it is: its page for none leads there."""

KEPT = "Kept on this device for days"
SAVING = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"
REGISTERED = "navigator.serviceWorker.getRegistrations().then(found => found.map(each => each.scope))"
RENEWED = """navigator.serviceWorker.getRegistration().then(found => new Promise(done => {
    const look = () => found.waiting ? done() : setTimeout(look, 50);
    look();
}))"""
"""Waits until a new edition is there, beside the one in use."""
CACHED = "caches.keys().then(names => Promise.all(names.map(name => caches.open(name).then(each => each.keys()))))"
"""Requests that answers are kept for, by the browser's stores; only their number can be told outside of it."""
KEYS = f"{CACHED}.then(stores => stores.flat().map(request => new URL(request.url).pathname))"


class Host(ThreadingHTTPServer):
    """A web host of a folder, which notes what is asked for, and can be out of reach."""

    def __init__(self, folder: Path) -> None:
        self.asked: list[str] = []
        self.is_near = True
        self.spoilt = ""
        host = self

        class Answer(SimpleHTTPRequestHandler):
            extensions_map = SimpleHTTPRequestHandler.extensions_map | {".webp": "image/webp"}

            def translate_path(self, path: str) -> str:
                return super().translate_path("/" + urlsplit(path).path.removeprefix(MOUNT))

            def do_GET(self) -> None:
                path = urlsplit(self.path).path.removeprefix(MOUNT)
                if not host.is_near:
                    self.close_connection = True
                elif host.spoilt and path == host.spoilt:
                    self.send_response(200)
                    self.end_headers()
                    self.wfile.write(b"something else")
                else:
                    host.asked.append(path)
                    super().do_GET()

            def log_message(self, format: str, *args: object) -> None:
                pass

        super().__init__(("127.0.0.1", 0), partial(Answer, directory=str(folder)))
        self.address = f"http://127.0.0.1:{self.server_port}{MOUNT}"
        self._thread = threading.Thread(target=self.serve_forever)
        self._thread.start()

    def stop(self) -> None:
        """Close the host for good."""
        self.shutdown()
        self._thread.join()
        self.server_close()


@pytest.fixture(scope="module")
def hosted(site: Path) -> Iterator[Host]:
    """A host of the guide with every kind of page."""
    host = Host(site)
    yield host
    host.stop()


@pytest.fixture(scope="module")
def carried(hosted: Host, browser: Browser) -> Iterator[Page]:
    """A device of high resolution that has been at the guide once, and has no signal now."""
    context = browser.new_context(device_scale_factor=2)
    page = context.new_page()
    page.goto(hosted.address)
    note(page, KEPT)
    hosted.is_near = False
    context.set_offline(True)
    yield page
    hosted.is_near = True
    context.close()


def note(page: Page, words: str) -> str:
    """Wait for the note at the foot of the page to say something, and give all of it."""
    found = page.locator(".keeping")
    found.filter(has_text=words).wait_for(timeout=120_000)
    return found.inner_text()


def test_every_kind_of_page_opens_without_a_signal(path: str, carried: Page, hosted: Host) -> None:
    """With its style, its scripts, and every picture in some width."""
    wrong: list[str] = []
    carried.on("pageerror", lambda fault: wrong.append(str(fault)))
    answer = carried.goto(hosted.address + path)
    assert answer is not None
    assert answer.status == 200
    assert carried.locator("h1").count() == 1
    assert carried.evaluate("getComputedStyle(document.body).maxWidth") != "none"
    images = (
        "Array.from(document.images, each => (each.loading = 'eager', each.decode().then(() => each.naturalWidth)))"
    )
    assert 0 not in carried.evaluate(f"Promise.all({images})")
    assert wrong == []


def test_a_drawing_is_seen_in_the_width_that_is_kept(carried: Page, hosted: Host) -> None:
    """A screen that asks for the largest gets the middle one."""
    carried.set_viewport_size({"width": 1600, "height": 900})
    carried.goto(hosted.address + "species/downy-woodpecker.html")
    picture = carried.locator(".plate img").first
    shown = picture.evaluate("each => each.decode().then(() => each.currentSrc)")
    size = carried.evaluate("address => createImageBitmap(document.images[0]).then(it => it.width)", shown)
    assert size > 0
    assert note(carried, KEPT)


def test_what_the_guide_has_not_is_told_by_its_own_page(carried: Page, hosted: Host) -> None:
    """Without a signal too, and with the status of a page that is not there."""
    answer = carried.goto(hosted.address + "species/dodo.html")
    assert answer is not None
    assert answer.status == 404
    assert "There is no page here" in carried.locator("h1").inner_text()


def test_a_folder_opens_by_its_front_page(carried: Page, hosted: Host) -> None:
    """As hosts have it, without a name of a file, and without its ending."""
    for path in ("", "species/", "codes", "species/downy-woodpecker?from=friend"):
        answer = carried.goto(hosted.address + path)
        assert answer is not None
        assert answer.status == 200, path


SPECIES = "---\nspecies: {name}\nsimilar: [{other}]\n{more}---\nOn the {where}.\n"


@pytest.fixture
def guide(tmp_path: Path) -> Path:
    """The folder of a small guide, built."""
    folder = tmp_path / "guide"
    (folder / "entries").mkdir(parents=True)
    sketch = "sketches:\n  - file: a.png\n    alt: a tit\n"
    Image.linear_gradient("L").resize((1000, 700)).save(folder / "entries/a.png")
    write(folder, "Tufted Titmouse", "BCCH", sketch, "lawn")
    write(folder, "Black-capped Chickadee", "TUTI", "", "gate")
    assert build_guide(folder).pages > 8
    return folder


def write(folder: Path, name: str, other: str, more: str, where: str) -> None:
    text = SPECIES.format(name=name, other=other, more=more, where=where)
    (folder / "entries" / f"{name}.md").write_text(text, encoding="utf-8")


@pytest.fixture
def host(guide: Path) -> Iterator[Host]:
    """A host of the small guide."""
    found = Host(guide / "build")
    yield found
    found.stop()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A device that was nowhere yet."""
    found = browser.new_context()
    yield found
    found.close()


@pytest.fixture
def visit(context: BrowserContext, host: Host) -> Page:
    """A page on that device, after the first visit."""
    page = context.new_page()
    page.goto(host.address)
    return page


def test_the_note_tells_how_much_is_kept(visit: Page, guide: Path) -> None:
    """Pages are those of the guide, and the size is not nothing."""
    words = note(visit, KEPT)
    number = len([*(guide / "build").rglob("*.html")])
    assert f"{number} pages, " in words
    assert "0 MB" not in words.split(", ")[-1]
    assert visit.evaluate(REGISTERED) == [visit.url]


def test_only_what_has_changed_is_fetched_for_a_new_edition(visit: Page, guide: Path, host: Host) -> None:
    """The old one is shown until all of the new is there; then nothing of the old is left."""
    note(visit, KEPT)
    before = {path: (guide / "build" / path).read_bytes() for path in files_of(guide)}
    write(guide, "Black-capped Chickadee", "TUTI", "", "roof")
    assert build_guide(guide).pages > 8
    changed = {path for path in files_of(guide) if before.get(path) != (guide / "build" / path).read_bytes()}
    changed |= files_of(guide) - before.keys()
    assert "species/black-capped-chickadee.html" in changed
    assert len(changed) < len(before) / 2
    host.asked.clear()
    visit.goto(host.address + "species/black-capped-chickadee.html")
    assert "On the gate." in visit.locator("main").inner_text()
    visit.evaluate(RENEWED)
    assert set(host.asked) == changed
    # A page that the browser is slow to drop puts it off until the next is opened.
    renewed = visit.locator("main", has_text="On the roof.")
    for _ in range(6):
        visit.reload()
        with contextlib.suppress(TimeoutError):
            renewed.wait_for(timeout=5_000)
            break
    assert renewed.count() == 1
    note(visit, KEPT)
    keys = visit.evaluate(KEYS)
    assert len(keys) == len(set(keys))


def files_of(guide: Path) -> set[str]:
    """Give the files that a reader's device keeps or needs to know what it keeps."""
    found = (path.relative_to(guide / "build").as_posix() for path in (guide / "build").rglob("*") if path.is_file())
    return {path for path in found if path not in (".made-by-tertial", "feed.xml") and not path.startswith("pictures/")}


def test_a_reader_can_have_it_removed_and_kept_again(visit: Page, host: Host) -> None:
    """What was removed stays away until the reader asks for it."""
    note(visit, KEPT)
    visit.get_by_role("button", name="Remove").click()
    note(visit, "Not kept on this device.")
    visit.reload()
    note(visit, "Not kept on this device.")
    assert visit.evaluate(REGISTERED) == []
    assert visit.evaluate("caches.keys()") == []
    visit.get_by_role("button", name="Keep").click()
    note(visit, KEPT)
    assert visit.evaluate(REGISTERED) == [host.address]
    assert len(visit.evaluate(KEYS)) > 20


def test_a_device_that_saves_data_is_asked_first(context: BrowserContext, host: Host) -> None:
    """Nothing is fetched beyond the page itself until the reader wants it."""
    context.add_init_script(SAVING)
    page = context.new_page()
    page.goto(host.address)
    note(page, "set to save data")
    assert page.evaluate(REGISTERED) == []
    assert "satchel.json" not in host.asked
    page.get_by_role("button", name="Keep").click()
    note(page, KEPT)


def test_a_guide_that_came_otherwise_than_published_is_not_kept(context: BrowserContext, host: Host) -> None:
    """A host in the middle of being renewed gives no mixture of two editions."""
    host.spoilt = "method.html"
    page = context.new_page()
    page.goto(host.address)
    note(page, "not every file could be fetched")
    host.spoilt = ""
    page.reload()
    note(page, KEPT)


def test_two_guides_of_one_host_leave_each_other_alone(visit: Page, guide: Path, host: Host) -> None:
    """The store of each is its own."""
    note(visit, KEPT)
    shutil.copytree(guide / "build", guide / "build/second")
    visit.goto(host.address + "second/index.html")
    note(visit, KEPT)
    assert len(visit.evaluate("caches.keys()")) == 2
    visit.get_by_role("button", name="Remove").click()
    note(visit, "Not kept")
    assert len(visit.evaluate("caches.keys()")) == 1
    visit.goto(host.address)
    note(visit, KEPT)


def test_a_home_screen_is_told_of_the_guide(visit: Page, host: Host) -> None:
    """Its name, its colours and its icons, each as large as it says."""
    address = visit.locator("link[rel=manifest]").evaluate("link => link.href")
    manifest = visit.request.get(address).json()
    assert manifest["name"] == "A field guide"
    assert visit.request.get(urljoin(address, manifest["start_url"])).status == 200
    drawn = [icon for icon in manifest["icons"] if icon["type"] == "image/png"]
    assert {icon["sizes"] for icon in drawn} >= {"192x192", "512x512"}
    for icon in drawn:
        with Image.open(io.BytesIO(visit.request.get(urljoin(address, icon["src"])).body())) as picture:
            assert "{}x{}".format(*picture.size) == icon["sizes"]


def test_nothing_is_attempted_from_a_disk(site: Path, open_page: Callable[..., Page]) -> None:
    """No note, no manifest, no complaint."""
    page = open_page((site / "index.html").as_uri())
    assert not page.locator(".keeping").is_visible()
    assert page.locator("link[rel=manifest]").count() == 0
