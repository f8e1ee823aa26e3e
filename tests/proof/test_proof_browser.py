"""An open page in Chromium: it follows what is saved, keeps its place, and complains of nothing."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import sync_playwright
from tests.proof.reader import DOWNY, HAIRY, PATIENCE, Reader

if TYPE_CHECKING:
    import threading
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, Page

CHROMIUM = "/usr/bin/chromium"
QUIET = ["--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-quic"]
LONG = HAIRY + "".join(f"\nThe {number}. visit to the river wood, and again the same branch.\n" for number in range(90))


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The browser, for this module only: while it is open no other test could start an event loop."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield found
        found.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page that must not complain, whatever happens to it."""
    context = browser.new_context(viewport={"width": 1000, "height": 700})
    context.set_default_timeout(PATIENCE * 1000)
    wrong: list[str] = []
    page = context.new_page()
    page.on("console", lambda said: wrong.append(said.text) if said.type in ("error", "warning") else None)
    page.on("pageerror", lambda fault: wrong.append(str(fault)))
    yield page
    context.close()
    assert wrong == []


def saved(proof: Reader, path: str, text: str) -> None:
    (proof.folder / path).write_text(text, encoding="utf-8")


def test_an_open_page_follows_what_is_saved(proof: Reader, page: Page) -> None:
    """The page comes anew by itself, with the text and with the problems as they are now."""
    page.goto(f"{proof.address}species/hairy-woodpecker.html")
    page.get_by_text("tertial why unknown-part").wait_for()
    saved(proof, "entries/hairy.md", HAIRY.replace("nap:", "nape:").replace("mill", "weir"))
    page.get_by_text("Met at the weir").wait_for()
    page.locator("#proof:not([data-pending])").get_by_text("nothing to mend").wait_for()
    assert page.get_by_text("tertial why unknown-part").count() == 0


def test_a_page_that_comes_anew_keeps_its_place(open_proof: Callable[..., Reader], page: Page) -> None:
    """The lines under the reader's eyes stay there, although the slip above the page has grown."""
    proof = open_proof({"entries/hairy.md": LONG.replace("nap:", "nape:"), "entries/downy.md": DOWNY})
    page.goto(f"{proof.address}species/hairy-woodpecker.html")
    page.locator("#proof:not([data-pending])").wait_for()
    line = page.get_by_text("The 40. visit")
    line.scroll_into_view_if_needed()
    before = line.bounding_box()
    saved(proof, "entries/hairy.md", LONG + "\nAnd one more.\n")
    page.get_by_text("And one more.").wait_for(state="attached")
    page.locator("#proof:not([data-pending])").get_by_text("tertial why unknown-part").wait_for(state="attached")
    after = line.bounding_box()
    assert before is not None
    assert after is not None
    assert page.evaluate("scrollY") > 0
    assert abs(after["y"] - before["y"]) <= 2


def test_a_pointed_sketch_and_a_line_that_changes_in_sight_move_nothing(
    open_proof: Callable[..., Reader], page: Page
) -> None:
    """Marks that come above what is read, and another word in the first line in sight, leave the place as it was."""
    sheet = io.BytesIO()
    Image.new("RGB", (640, 480), "white").save(sheet, "PNG")
    listed = (
        "sketches:\n  - file: page.png\n    develop: none\n    alt: Nothing yet\n    pointers:\n      - 300,200 bill\n"
    )
    entry = LONG.replace("marks:", f"{listed}marks:").replace("nap:", "nape:")
    proof = open_proof({"entries/hairy.md": entry, "entries/page.png": sheet.getvalue()})
    page.goto(f"{proof.address}species/hairy-woodpecker.html")
    page.locator("#proof:not([data-pending])").wait_for()
    assert not page.locator(".point-list").is_visible()
    page.evaluate("document.fonts.ready")
    first = page.get_by_text("The 40. visit")
    first.evaluate("line => window.scrollTo(0, line.getBoundingClientRect().top + scrollY - 20)")
    line = page.get_by_text("The 41. visit")
    before = line.bounding_box()
    more = "".join(f"    {part}: white\n" for part in ("bill", "crown", "throat", "breast"))
    saved(proof, "entries/hairy.md", entry.replace("---\nMet", f"{more}---\nMet").replace("The 40.", "The fortieth"))
    page.get_by_text("The fortieth visit").wait_for(state="attached")
    page.locator("#proof:not([data-pending])").wait_for(state="attached")
    after = line.bounding_box()
    assert before is not None
    assert after is not None
    assert abs(after["y"] - before["y"]) <= 2


def test_pictures_come_to_an_open_page_without_moving_it(
    open_proof: Callable[..., Reader], page: Page, gate: threading.Event
) -> None:
    """A page is read before its pictures are developed; when they stand above, what is read stays in its place."""
    sheet = io.BytesIO()
    Image.new("RGB", (640, 480), "grey").save(sheet, "PNG")
    listed = "sketches:\n  - file: page.png\n    alt: Grey\n"
    proof = open_proof(
        {"entries/hairy.md": LONG.replace("marks:", f"{listed}marks:"), "entries/page.png": sheet.getvalue()}
    )
    page.goto(f"{proof.address}species/hairy-woodpecker.html")
    page.get_by_text("Pictures are being developed").wait_for()
    assert page.locator(".plate").count() == 0
    page.evaluate("document.fonts.ready")
    line = page.get_by_text("The 40. visit")
    line.scroll_into_view_if_needed()
    before = line.bounding_box()
    gate.set()
    page.locator(".plate img").wait_for(state="attached")
    page.locator("#proof:not([data-pending]):not([data-developing])").wait_for(state="attached")
    page.wait_for_load_state()
    after = line.bounding_box()
    assert before is not None
    assert after is not None
    assert abs(after["y"] - before["y"]) <= 2


def test_gaps_that_were_unfolded_stay_so(open_proof: Callable[..., Reader], page: Page) -> None:
    """Who reads the gaps while writing need not unfold them at every save."""
    entry = DOWNY.replace("marks:", "similar:\n  HAWO: twice the size\nmarks:")
    proof = open_proof({"entries/downy.md": entry})
    page.goto(f"{proof.address}species/downy-woodpecker.html")
    page.get_by_text("1 gap here").click()
    page.get_by_text("tertial why no-account").wait_for()
    saved(proof, "entries/downy.md", entry.replace("weir", "mill"))
    page.get_by_text("thin twigs by the mill").wait_for()
    page.get_by_text("tertial why no-account").wait_for()


def test_a_page_found_again_is_up_to_date(proof: Reader, page: Page) -> None:
    """A page that was left and is come back to shows what was saved meanwhile."""
    page.goto(f"{proof.address}species/hairy-woodpecker.html")
    page.goto("about:blank")
    proof.save("entries/hairy.md", HAIRY.replace("mill", "weir"))
    page.evaluate("setTimeout(() => history.back())")
    page.get_by_text("Met at the weir").wait_for()


def test_problems_are_read_without_a_script(proof: Reader, browser: Browser) -> None:
    """Only coming anew needs the script."""
    proof.checked()
    context = browser.new_context(java_script_enabled=False)
    bare = context.new_page()
    bare.goto(f"{proof.address}species/hairy-woodpecker.html")
    assert bare.locator("#proof .proof-warning").is_visible()
    bare.locator(".proof-line a").last.click()
    assert bare.locator("h1").inner_text() == "To do"
    context.close()


@pytest.mark.parametrize("width", [320, 1280])
def test_the_slip_covers_nothing_and_fits(proof: Reader, page: Page, width: int) -> None:
    """It stands above the content, and at the width of a small phone nothing runs out of the page."""
    proof.checked()
    page.set_viewport_size({"width": width, "height": 700})
    for address in ("species/hairy-woodpecker.html", "proof/to-do.html", "proof/text/entries/broken.md.html"):
        page.goto(f"{proof.address}{address}")
        assert page.evaluate(
            "document.getElementById('proof').getBoundingClientRect().bottom"
            " <= document.getElementById('content').getBoundingClientRect().top"
        )
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_a_click_on_a_sketch_offers_the_line_of_a_pointer(open_proof: Callable[..., Reader], page: Page) -> None:
    """The spot is told in pixels of the author's own file, although the sketch was developed and cropped."""
    chance = np.random.default_rng(1)
    light = np.linspace(130, 235, 640) * np.ones((480, 1)) + chance.normal(0, 2, (480, 640))
    light[225:255, 400:440] = 30
    sheet = io.BytesIO()
    Image.fromarray(light.astype(np.uint8)).convert("RGB").save(sheet, "PNG")
    listed = "sketches:\n  - file: page.png\n    alt: A dark square\nmarks:"
    proof = open_proof({"entries/hairy.md": HAIRY.replace("marks:", listed), "entries/page.png": sheet.getvalue()})
    page.goto(f"{proof.address}species/hairy-woodpecker.html")
    picture = page.locator(".plate img")
    picture.click()
    line = page.locator(".proof-spot code").text_content() or ""
    spot, _, name = line.removeprefix("- ").partition(" ")
    x, y = map(int, spot.split(","))
    assert abs(x - 420) <= 2
    assert abs(y - 240) <= 2
    assert name == "nap"
    assert page.url.endswith("hairy-woodpecker.html")
