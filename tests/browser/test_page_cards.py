"""Whether field cards keep to their side of the paper: one a sheet of A6, four a sheet of A4 or Letter."""

from __future__ import annotations

import io
import math
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Page

SHEETS = "cards/index.html"
A6 = (105, 148)

# How far the lowest of what is printed stays above the end of a card, and how much room the notes have, in millimetres.
ROOM = """() => [...document.querySelectorAll('.field-card')].map(card => {
    const notes = card.querySelector('.card-notes').getBoundingClientRect();
    return [card.getBoundingClientRect().bottom - notes.bottom, notes.height].map(each => each / 96 * 25.4);
})"""

CUT_OFF = """() => [...document.querySelectorAll('.field-card td, .field-card th, .field-card li, .field-card p')]
    .filter(each => each.getBoundingClientRect().right > each.closest('.field-card').getBoundingClientRect().right)
    .map(each => each.textContent)"""

LETTERS = """() => [...document.querySelectorAll('.field-card *')]
    .filter(each => [...each.childNodes].some(node => node.nodeType === 3 && node.data.trim()))
    .filter(each => !each.closest('.unseen'))
    .map(each => {
        const zoom = each.getScreenCTM ? each.getScreenCTM().a : 1;
        return parseFloat(getComputedStyle(each).fontSize) * zoom * .75;
    })"""


@pytest.fixture(scope="session")
def cards(pages: tuple[str, ...]) -> tuple[str, ...]:
    """The pages of all cards, those of the hard pairs among them."""
    found = tuple(page for page in pages if page.startswith("cards/") and page != SHEETS)
    assert len(found) > 10
    return found


def _printed(page: Page, paper: str = "A4") -> PdfReader:
    return PdfReader(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=True, tagged=True)))


def test_every_card_is_one_side_of_a6(cards: tuple[str, ...], open_page: Callable[..., Page]) -> None:
    """A card printed by itself is one page with the measures of A6 (ISO 216), with a line or more for notes."""
    for path in cards:
        page = open_page(path, width=397, media="print")
        sheets = _printed(page).pages
        assert len(sheets) == 1, path
        assert [float(each) * 25.4 / 72 for each in sheets[0].mediabox[2:]] == pytest.approx(A6, abs=0.3), path
        ((below, notes),) = page.evaluate(ROOM)
        assert (below, notes) >= (5.9, 15), path
        assert page.evaluate(CUT_OFF) == [], path
        assert min(page.evaluate(LETTERS)) >= 6.5, path


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_four_cards_fill_a_sheet(paper: str, cards: tuple[str, ...], open_page: Callable[..., Page]) -> None:
    """All cards take a quarter as many sheets, whichever paper the printer holds, and each is on one of them whole."""
    page = open_page(SHEETS, width=794, media="print")
    sheets = _printed(page, paper).pages
    assert len(sheets) == math.ceil(len(cards) / 4)
    # Letters that are set apart are read with blanks between them.
    texts = ["".join(sheet.extract_text().split()) for sheet in sheets]
    names = page.locator(".card-birds").all_inner_texts()
    assert len(names) == len(cards)
    for at, name in enumerate(names):
        code = name.split()[0]
        assert code in texts[at // 4], name
    for below, notes in page.evaluate(ROOM):
        assert below >= 5.9
        assert notes >= 6


def test_ticked_cards_alone_are_printed(open_page: Callable[..., Page]) -> None:
    """Of cards that are ticked five make two sheets; on the screen all stay to be seen."""
    page = open_page(SHEETS)
    boxes = page.get_by_role("checkbox")
    for at in (0, 2, 3, 7, 8):
        boxes.nth(at).check()
    shown = page.locator(".field-card:visible").count()
    assert shown == boxes.count() > 5
    page.emulate_media(media="print")
    assert page.locator(".field-card:visible").count() == 5
    assert len(_printed(page).pages) == 2


def test_cards_are_reached_from_their_pair(cards: tuple[str, ...], site: Path) -> None:
    """The page of each pair leads to its card, the card back to the pair and to all cards."""
    for path in cards:
        pair = path.replace("cards/", "pairs/")
        assert f'href="../{path}"' in (site / pair).read_text(encoding="utf-8")
        card = (site / path).read_text(encoding="utf-8")
        assert f'href="../{pair}"' in card
        assert f'href="../{SHEETS}"' in card
