"""What pages of pairs and groups put aside on a phone: how much it is said to be, and that it is never out of reach."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Browser, Page

PATHS = ("pairs/dowo-hawo.html", "pairs/nrws-unst.html", "groups/reservoir-waders.html")
COLOURS = "colours.html"
PHONE, TABLE = 375, 1280

# Each thing put aside: its words, whether they and what they stand for are seen, and how many things those are.
ASIDE = """() => [...document.querySelectorAll('.set-aside')].map(aside => ({
    words: aside.querySelector('summary').innerText,
    told: aside.querySelector('summary').checkVisibility(),
    shown: aside.querySelector('summary + *').checkVisibility({contentVisibilityAuto: true}),
    held: aside.querySelectorAll('.paired tbody tr:not(.view-head), .folded tbody tr, .size, .by-colour li').length,
}))"""


@pytest.mark.parametrize("path", [*PATHS, COLOURS])
def test_a_phone_is_told_how_much_is_put_aside(path: str, open_page: Callable[..., Page]) -> None:
    """On a phone what helps little is behind words, whose numbers come to the rows or measures behind them."""
    found = open_page(path, width=PHONE).evaluate(ASIDE)
    assert found
    for each in found:
        assert each["told"]
        assert not each["shown"]
        assert sum(map(int, re.findall(r"\d+", each["words"]))) == each["held"]


@pytest.mark.parametrize("path", [*PATHS, COLOURS])
def test_a_screen_with_room_has_all_of_it(path: str, open_page: Callable[..., Page]) -> None:
    """From 48 rem on it is there for eyes and for ears, and nothing is left to open."""
    page = open_page(path, width=TABLE)
    found = page.evaluate(ASIDE)
    assert [each for each in found if each["told"]] == []
    # A group has each table twice; on a wide screen the one with a column for each bird is shown.
    assert page.locator(".set-aside > :not(summary)").filter(visible=True).count() >= len(found)
    spoken = page.locator("main").aria_snapshot()
    for part in page.locator(".set-aside :is(.paired, .many) th[scope=row] a:first-child").all():
        assert f'link "{part.text_content()}"' in spoken


def test_a_browser_that_cannot_open_it_by_style_leaves_it_to_be_opened(base_url: str, browser: Browser) -> None:
    """Where the style sheet cannot show the content, the words stay, and open it, at any width."""
    page = browser.new_page(viewport={"width": TABLE, "height": 800})
    style = page.request.get(f"{base_url}assets/guide.css").text().replace("::details-content", "::not-known-here")
    page.route("**/guide.css", lambda route: route.fulfill(body=style, content_type="text/css"))
    page.goto(base_url + PATHS[0])
    first = page.locator(".set-aside").first
    assert all(each["told"] and not each["shown"] for each in page.evaluate(ASIDE))
    first.locator("summary").click()
    assert first.locator("table").is_visible()
    page.close()


def test_a_number_behind_a_verdict_is_led_to_and_opened(open_page: Callable[..., Page]) -> None:
    """The way from a verdict to its number opens what the number is put aside in, and nothing else."""
    page = open_page(PATHS[0], width=PHONE)
    page.locator(".behind").first.click()
    assert page.locator("tr:target").is_visible()
    assert page.locator("tr:target").evaluate("each => each.getBoundingClientRect().top < innerHeight")
    assert page.locator(".set-aside[open]").count() == 1


def test_words_that_are_looked_for_are_opened(open_page: Callable[..., Page]) -> None:
    """The browser's own search within a page, as it is asked for by an address (W3C, URL Fragment Text Directives)."""
    open_page("index.html")
    page = open_page("pairs/dowo-hawo.html#:~:text=undulating", width=PHONE)
    page.wait_for_function("document.querySelector('.set-aside[open]') && scrollY > 0")
    assert "undulating" in page.locator(".set-aside[open]").inner_text()


@pytest.mark.parametrize("width", [PHONE, TABLE])
@pytest.mark.parametrize("path", PATHS)
def test_paper_has_all_of_it(path: str, width: int, open_page: Callable[..., Page]) -> None:
    """Printed from any screen, every row that is put aside is there, without the words to open it."""
    page = open_page(path, width=width)
    rows = page.locator(".set-aside :is(.paired, .folded) th[scope=row] a:first-child").evaluate_all(
        "all => all.map(each => each.textContent)"
    )
    words = page.locator(".set-aside summary").evaluate_all("all => all.map(each => each.textContent)")
    printed = PdfReader(io.BytesIO(page.pdf(format="A4", prefer_css_page_size=True))).pages
    text = "".join("".join(sheet.extract_text().split()) for sheet in printed)
    assert len(rows) > len(words) > 0
    assert [row for row in rows if text.count("".join(row.split())) < rows.count(row)] == []
    assert [each for each in words if "".join(each.split()) in text] == []


def test_a_part_leads_to_its_colours(open_page: Callable[..., Page]) -> None:
    """On a phone the list of parts is one touch away from the birds of each colour, under the name of the part."""
    page = open_page(COLOURS, width=PHONE)
    link = page.locator(".part-names a").last
    part = link.inner_text()
    link.click()
    assert page.locator(".by-colour:target a").first.is_visible()
    assert page.locator(".set-aside[open]").count() == 1
    heading = page.get_by_role("heading", name=part, level=2, exact=True)
    assert heading.evaluate("each => each.getBoundingClientRect().bottom > 0")


def test_paper_has_every_bird_of_a_colour(open_page: Callable[..., Page]) -> None:
    """Printed from a phone, the birds of each colour are there, and the words to open them are not."""
    page = open_page(COLOURS, width=PHONE)
    names = page.locator(".by-colour li a").evaluate_all("all => all.map(each => each.textContent)")
    printed = PdfReader(io.BytesIO(page.pdf(format="A4", prefer_css_page_size=True))).pages
    text = "".join("".join(sheet.extract_text().split()) for sheet in printed)
    assert {name for name in names if text.count("".join(name.split())) < names.count(name)} == set()
    page.emulate_media(media="print")
    assert [each for each in page.evaluate(ASIDE) if each["told"]] == []
