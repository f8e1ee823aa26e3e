"""Whether pages can be taken along on paper."""

from __future__ import annotations

import io
import re
from itertools import takewhile
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page
    from pypdf import PageObject

# ISO 216: A4 is 210 by 297 millimetres; 72 points to the inch of 25.4 millimetres.
A4 = (210 / 25.4 * 72, 297 / 25.4 * 72)
A6 = (105 / 25.4 * 72, 148 / 25.4 * 72)
SIZES = {"card": A6}
"""Kinds of page that are printed on other paper than A4."""

MARGIN = 18 / 25.4 * 72
"""Height of the margins over and below the text, in points."""

# What the sheet leaves between margins of 16 millimetres, or without margins, at 96 pixels to the inch. A window that
# is not as high as A4 is taken for Letter by the sheets of cards.
BETWEEN_MARGINS = int((210 - 2 * 16) / 25.4 * 96)
WITHOUT_MARGINS = {"card": int(105 / 25.4 * 96) + 1, "cards": int(215.9 / 25.4 * 96) + 1}

# A window of a plate shows a part of its picture: that the rest is cut off is what it is for.
TOO_WIDE = """() => [...document.querySelectorAll('body *:not(.pointers, svg *)')]
    .filter(each => each.getBoundingClientRect().right > innerWidth + 1)
    .map(each => `${each.localName}.${each.className} ${each.textContent.trim().slice(0, 40)}`)"""

# A picture has no words for the reader of a sheet: one out of the flow says that a heading has something below it.
TOLD_OF_PICTURES = """() => document.querySelectorAll('main img').forEach(each => {
    const told = each.insertAdjacentElement('afterend', document.createElement('span'));
    told.textContent = 'picture';
    told.style.position = 'absolute';
})"""

FOR_SCREENS_ONLY = "a.skip, header.running nav, nav.neighbours, footer a"


def test_a_page_becomes_sheets_of_a4(kind: str, path: str, open_page: Callable[..., Page]) -> None:
    """Printing gives at least one sheet, and all sheets have the size of A4, or A6 for a card."""
    data = open_page(path, media="print").pdf(format="A4", prefer_css_page_size=True, tagged=True)
    sheets = re.findall(rb"/Type\s*/Page\b", data)
    sizes = {tuple(float(part) for part in box.split()) for box in re.findall(rb"/MediaBox\s*\[([^\]]*)\]", data)}
    assert len(sheets) >= 1
    assert sizes
    for left, bottom, right, top in sizes:
        assert (right - left, top - bottom) == pytest.approx(SIZES.get(kind, A4), abs=1.5)


def test_paper_shows_the_text_and_no_ways_to_click(kind: str, framed: str, open_page: Callable[..., Page]) -> None:
    """On paper the menu and other ways are gone, the heading is there, and nothing is cut off at the edge."""
    page = open_page(framed, width=WITHOUT_MARGINS.get(kind, BETWEEN_MARGINS), media="print")
    ways = page.locator(FOR_SCREENS_ONLY)
    assert ways.count() > 0
    assert [each.inner_text() for each in ways.all() if each.is_visible()] == []
    assert page.locator(".field-card" if kind in WITHOUT_MARGINS else "h1").first.is_visible()
    assert page.evaluate(TOO_WIDE) == []


def test_paper_is_white_for_those_who_read_on_dark_screens(path: str, open_page: Callable[..., Page]) -> None:
    """Black ink on white paper, whatever the screen shows."""
    page = open_page(path, scheme="dark", media="print")
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"


def test_the_colophon_on_paper_leaves_no_full_stop_alone(open_page: Callable[..., Page]) -> None:
    """Where a link is left out on paper, the sentence round it goes with it."""
    page = open_page("index.html", media="print")
    assert re.findall(r"\s[.,;]", page.locator("footer").inner_text()) == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_heading_is_parted_from_what_it_heads(path: str, paper: str, open_page: Callable[..., Page]) -> None:
    """No sheet ends with a heading, or with the words over a table."""
    page = open_page(path, media="print")
    page.evaluate(TOLD_OF_PICTURES)
    headings = page.locator("main :is(h2, h3, h4, h5, h6, caption)").all_inner_texts()
    names = tuple(name for each in headings if (name := _squeezed(each)))
    sheets = PdfReader(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=True, tagged=True))).pages
    texts = [_squeezed(sheet.extract_text()) for sheet in sheets]
    if not path.startswith(("cards/", "questions/")):
        texts = [text.partition(f"{number}/{len(texts)}")[2] for number, text in enumerate(texts, 1)]
    assert [text[-60:] for text in texts[:-1] if text.endswith(names)] == []
    assert all(texts), "a sheet is empty"


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_margins_say_whose_sheet_it_is(paper: str, kind: str, framed: str, open_page: Callable[..., Page]) -> None:
    """From the second sheet on the title of the guide and of the page stand over the text, on all the number below.

    What the browser itself would print there, as it does when it is asked for, is left out for it on every sheet.
    """
    page = open_page(framed, media="print")
    guide, title = (page.locator("html").get_attribute(f"data-{name}") for name in ("guide", "page"))
    data = page.pdf(format=paper, prefer_css_page_size=True, tagged=True, display_header_footer=True)
    sheets = PdfReader(io.BytesIO(data)).pages
    if kind in WITHOUT_MARGINS:
        assert [sheet for sheet in sheets if f"/ {len(sheets)}" in sheet.extract_text()] == []
        return
    for number, sheet in enumerate(sheets, 1):
        over, below = _in_margins(sheet)
        assert over == _squeezed(f"{guide}{title or ''}" if number > 1 else "")
        assert below.startswith(f"{number}/{len(sheets)}")
        assert page.url not in sheet.extract_text()


def _in_margins(sheet: PageObject) -> tuple[str, str]:
    """Give what is written over and below the text of a sheet: margins come first, of the rest no height is told."""
    runs: list[tuple[float, str]] = []

    def note(text: str, within: list[float], at: list[float], *_: object) -> None:
        if text.strip():
            runs.append((within[5] + within[3] * at[5], text))

    sheet.extract_text(visitor_text=note)
    height = float(sheet.mediabox.height)
    over = [*takewhile(lambda run: not 0 < run[0] < MARGIN, runs)]
    below = [*takewhile(lambda run: 0 < run[0] < MARGIN, runs[len(over) :])]
    assert [run for run in over if not height - MARGIN < run[0] < height] == []
    return _squeezed("".join(text for _, text in over)), _squeezed("".join(text for _, text in below))


def _squeezed(text: str) -> str:
    """Leave out blanks: letters that are set apart are read with some between them."""
    return "".join(text.split())
