"""Whether pages fit: every screen, larger letters, wider spacing, other colours."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Page

WIDTHS = (320, 375, 768, 1280)

TOO_WIDE = """() => document.documentElement.scrollWidth <= innerWidth ? [] : [
    `${document.documentElement.scrollWidth} pixels on ${innerWidth}`,
    ...[...document.querySelectorAll('body *')]
        .filter(each => each.getBoundingClientRect().right > innerWidth + 1)
        .map(each => `${each.localName}.${each.className} ${each.textContent.trim().slice(0, 40)}`)]"""

# Line height 1.5, letters 0.12, words 0.16 and paragraphs 2 times the font size apart
# (WCAG 2.2, success criterion 1.4.12). Written so that the page's own policy on styles allows it.
# Cells, outside what scrolls by itself, that have no room for four letters beside each other.
SLENDER = """() => [...document.querySelectorAll('td, dd')].filter(cell => {
    const style = getComputedStyle(cell);
    const room = cell.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    return cell.textContent.trim().length > 4 && cell.getClientRects().length && !cell.closest('.wide')
        && room < 2.5 * parseFloat(style.fontSize);
}).map(cell => cell.textContent.slice(0, 60))"""

SPACED = """() => {
    const spacing = new CSSStyleSheet();
    spacing.replaceSync(`* { line-height: 1.5 !important; letter-spacing: .12em !important;
        word-spacing: .16em !important } p { margin-bottom: 2em !important }`);
    document.adoptedStyleSheets = [spacing];
}"""

BROKEN_WORDS = """longest => [...document.querySelectorAll('th[scope=row]')].flatMap(head => {
    const found = [], walker = document.createTreeWalker(head, NodeFilter.SHOW_TEXT);
    for (let text; (text = walker.nextNode());)
        for (const word of text.data.matchAll(/[\\p{L}\\d]+/gu)) {
            const range = document.createRange();
            range.setStart(text, word.index);
            range.setEnd(text, word.index + word[0].length);
            const lines = new Set([...range.getClientRects()].map(rect => Math.round(rect.top)));
            if (lines.size > 1 && word[0].length <= longest) found.push(word[0]);
        }
    return found;
})"""

NOT_AT_REST = """() => [...document.querySelectorAll('*')].filter(each => {
    const style = getComputedStyle(each);
    return ['fixed', 'sticky'].includes(style.position) || style.transitionDuration !== '0s'
        || style.animationName !== 'none';
}).map(each => each.outerHTML.slice(0, 80))"""


def test_no_kind_of_page_is_wider_than_the_screen(
    kind: str, path: str, site: Path, open_page: Callable[..., Page]
) -> None:
    """At every width, light or dark, from a web host or as a file, nothing has to be scrolled sideways."""
    # Only a web host ever shows the not-found page.
    addresses = [path] if kind == "not-found" else [path, (site / path).as_uri()]
    for address in addresses:
        page = open_page(address)
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 800})
            for scheme in ("light", "dark"):
                page.emulate_media(color_scheme=scheme)
                assert page.evaluate(TOO_WIDE) == [], f"{address} at {width}, {scheme}"


def test_every_page_fits_the_narrowest_screen(pages: tuple[str, ...], open_page: Callable[..., Page]) -> None:
    """At 320 pixels, a wide screen enlarged four times (WCAG 2.2, 1.4.10), no page scrolls sideways."""
    too_wide = {path: found for path in pages if (found := open_page(path, width=320).evaluate(TOO_WIDE))}
    assert too_wide == {}


def test_letters_of_twice_the_size_fit(path: str, open_page: Callable[..., Page]) -> None:
    """With letters set to 200 % (WCAG 2.2, 1.4.4) a page grows downward only."""
    page = open_page(path)
    before = page.evaluate("document.body.scrollHeight")
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.body.scrollHeight") > before
    for width in (320, 375, 640, 768, 1024, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate(TOO_WIDE) == [], f"at {width}"


def test_letters_of_twice_the_size_leave_room_for_words_on_a_phone(path: str, open_page: Callable[..., Page]) -> None:
    """Where a table has no room for its columns beside each other they go below each other; no word is set upright."""
    page = open_page(path, width=375)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate(SLENDER) == []


def test_wider_spacing_of_text_fits(path: str, open_page: Callable[..., Page]) -> None:
    """With the reader's own spacing of lines, words and letters a page grows downward only."""
    page = open_page(path, width=320)
    before = page.evaluate("document.body.scrollHeight")
    page.evaluate(SPACED)
    assert page.evaluate("document.body.scrollHeight") > before
    assert page.evaluate(TOO_WIDE) == []


def test_heads_of_rows_are_not_broken_inside_a_word(pages: tuple[str, ...], open_page: Callable[..., Page]) -> None:
    """On the narrowest screen the first column holds every word of up to fifteen letters whole."""
    broken = {path: found for path in pages if (found := open_page(path, width=320).evaluate(BROKEN_WORDS, 15))}
    assert broken == {}


def test_a_low_window_in_forced_colours_is_left_to_the_text(path: str, open_page: Callable[..., Page]) -> None:
    """On 320 by 256 pixels, with the colours of the reader's system, a page fits and nothing sticks or moves."""
    page = open_page(path, width=320, height=256, scheme="dark", forced_colors="active")
    assert page.evaluate(TOO_WIDE) == []
    assert page.evaluate(NOT_AT_REST) == []


def test_two_codes_of_one_count_stand_in_one_line(open_page: Callable[..., Page]) -> None:
    """Where the window has room, either of two birds is read at a glance."""
    page = open_page("outings/2026-05-02.html", width=768)
    lines = page.locator("th", has_text="NRWS/UNST").evaluate(
        "head => new Set([...head.querySelectorAll('.code')].map(each => each.getBoundingClientRect().top)).size"
    )
    assert lines == 1


def test_every_tick_stands_at_the_end_of_its_card(open_page: Callable[..., Page]) -> None:
    """Behind the name, or below one that takes the whole line."""
    page = open_page("cards/index.html", width=1280)
    ends = page.locator(".card-ways").evaluate_all(
        "all => all.map(each => Math.abs(each.getBoundingClientRect().right"
        " - each.querySelector('label').getBoundingClientRect().right))"
    )
    assert len(ends) > 10
    assert max(ends) < 1
