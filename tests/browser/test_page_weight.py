"""A first visit: how much is fetched, from where, and whether words stay where they are while it comes."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Browser, Page, Response, Route

SPECIES = (
    "species/downy-woodpecker.html",
    "species/house-finch.html",
    "species/unbelievablydisproportionatelylongbilled-streamsidestonehopper.html",
)
COMPARED = (
    "pairs/dowo-hawo.html",
    "pairs/rcki-gcki.html",
    "pairs/index.html",
    "groups/reservoir-waders.html",
    "groups/brown-ducks.html",
)
"""Pages of several birds: one with upright and slanted letters in a line of its title, one with the longest title."""

ORDINARY = {"species": SPECIES[0], "pair": COMPARED[0], "place": "places/mill.html"}
"""Pages in place of those that are hardest to set: a word of forty letters breaks elsewhere in other letters."""

LIMIT = 150_000
"""Bytes of a first visit of a species page without its pictures, as they are served and not compressed."""

SLOW = 0.4
"""Seconds that letters, pictures or scripts are late: longer than a browser waits for letters before it sets a page."""

THUMB = 240
"""Pixels across of a picture beside a name: two for each that the style sheet gives it."""

LETTERS_AND_PICTURES = ("**/*.woff2", "**/pictures/*")

STILL = 0.01
"""Shift of a layout that no eye follows: a tenth of what the browser's makers call good."""

WATCH_SHIFTS = """
window.shifted = 0;
new PerformanceObserver(list => list.getEntries().forEach(entry => { window.shifted += entry.value; }))
    .observe({type: 'layout-shift', buffered: true});
"""


# Of each picture its class, how wide it is shown, and how wide it says it is: one of several widths says what `sizes`
# makes of the screen (HTML, "density-corrected natural width"), one alone what its file holds. A picture that is as
# high as a screen allows, or as wide as it was drawn, is not free to be as wide as its place.
WIDTHS_OF_PICTURES = """async () => {
    const all = [...document.querySelectorAll('main img')];
    all.forEach(each => { each.loading = 'eager'; });
    await Promise.all(all.map(each => each.decode()));
    return all.filter(each => each.clientWidth).map(each => ({
        thumb: each.classList.contains('thumb'),
        chosen: Boolean(each.closest('picture')),
        free: each.clientHeight < .9 * innerHeight - 1 && each.clientWidth < each.getAttribute('width'),
        shown: each.getBoundingClientRect().width,
        said: each.naturalWidth,
        file: each.currentSrc,
    }));
}"""


@pytest.mark.parametrize("width", [375, 768, 1280])
def test_no_picture_is_fetched_wider_than_it_is_shown(path: str, width: int, open_page: Callable[..., Page]) -> None:
    """What stands beside a name is small, and large pictures tell the browser the width at which they will stand."""
    for each in open_page(path, width=width).evaluate(WIDTHS_OF_PICTURES):
        if each["thumb"]:
            assert each["said"] <= THUMB or each["file"].endswith(".svg"), each
        elif each["chosen"]:
            assert each["said"] > 0.92 * each["shown"], each
            assert each["said"] < 1.08 * each["shown"] or not each["free"], each


@pytest.mark.parametrize("path", SPECIES)
def test_a_first_visit_of_an_account_is_light(path: str, base_url: str, browser: Browser) -> None:
    """Page, style sheet, letters and scripts of an account come to 150 kB at most, and all from the guide's host."""
    page = browser.new_context().new_page()
    answers: list[Response] = []

    def hear(answer: Response) -> None:
        answers.append(answer)

    page.on("response", hear)
    page.goto(base_url + path, wait_until="networkidle")
    page.evaluate("document.fonts.ready.then(() => true)")
    assert {urlsplit(each.url).netloc for each in answers} == {urlsplit(base_url).netloc}
    weights = {each.url: len(each.body()) for each in answers if each.request.resource_type != "image"}
    assert {each.rpartition(".")[2] for each in weights} >= {"html", "css", "woff2"}
    assert sum(weights.values()) <= LIMIT, weights
    page.context.close()


@pytest.mark.parametrize("width", [375, 1280])
@pytest.mark.parametrize("late", [(), LETTERS_AND_PICTURES])
@pytest.mark.parametrize("path", [*SPECIES[:2], "index.html", *COMPARED])
def test_nothing_moves_while_a_page_comes(
    path: str, late: tuple[str, ...], width: int, base_url: str, browser: Browser
) -> None:
    """Words that stand on a page stay in their places when letters and pictures come in, early or late."""
    assert moved(browser, base_url + path, width, late) < STILL


@pytest.mark.parametrize("width", [375, 768, 1280])
def test_no_kind_of_page_moves_when_letters_come_late(
    kind: str, path: str, width: int, base_url: str, browser: Browser
) -> None:
    """Every kind of page is set in the letters of the reader's machine as it is in ours."""
    assert moved(browser, base_url + ORDINARY.get(kind, path), width, LETTERS_AND_PICTURES) < STILL


@pytest.mark.parametrize("width", [375, 1280])
@pytest.mark.parametrize("path", ["find.html", "compare.html", "sorting.html"])
def test_nothing_moves_when_a_script_comes_late(path: str, width: int, base_url: str, browser: Browser) -> None:
    """What a script fills has its place before."""
    assert moved(browser, base_url + path, width, ("**/*.js",)) < STILL


def moved(browser: Browser, address: str, width: int, late: tuple[str, ...]) -> float:
    """Open a page with some of its files late, and give how much of it moved (W3C, Layout Instability)."""
    page = browser.new_context(viewport={"width": width, "height": 800}).new_page()

    def wait(route: Route) -> None:
        # The page's own clock, not ours: so files are late beside each other, not one after the other.
        page.wait_for_timeout(1000 * SLOW)
        route.continue_()

    for pattern in late:
        page.route(pattern, wait)
    page.add_init_script(WATCH_SHIFTS)
    page.goto(address, wait_until="networkidle")
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    found: float = page.evaluate("window.shifted")
    page.context.close()
    return found
