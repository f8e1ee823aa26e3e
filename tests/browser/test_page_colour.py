"""Whether text stands out from its paper, by the formula of WCAG 2.2 for relative luminance."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

# Each colour of text with the nearest colour painted behind it, and where it is met first.
INKS = """() => {
    const found = {};
    for (const each of document.querySelectorAll('body *')) {
        const own = [...each.childNodes].some(child => child.nodeType === Node.TEXT_NODE && child.data.trim());
        if (!own || each.closest('.unseen')) continue;
        let behind = each;
        while (behind.parentElement && getComputedStyle(behind).backgroundColor === 'rgba(0, 0, 0, 0)')
            behind = behind.parentElement;
        const pair = `${getComputedStyle(each).color} on ${getComputedStyle(behind).backgroundColor}`;
        found[pair] ??= each.textContent.trim().slice(0, 40);
    }
    return found;
}"""


def _luminance(colour: str) -> float:
    """Relative luminance of an ``rgb(...)`` colour (WCAG 2.2, definitions)."""
    channels = [int(number) / 255 for number in re.findall(r"\d+", colour)]
    assert len(channels) == 3, f"{colour} is not opaque"
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(first: str, second: str) -> float:
    lighter, darker = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_published_ends_of_the_scale() -> None:
    """Black on white is 21 to 1, a colour on itself 1 to 1 (WCAG 2.2, definition of contrast ratio)."""
    assert _contrast("rgb(0, 0, 0)", "rgb(255, 255, 255)") == pytest.approx(21)
    assert _contrast("rgb(103, 92, 77)", "rgb(103, 92, 77)") == pytest.approx(1)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_its_paper(
    scheme: Literal["light", "dark"], path: str, open_page: Callable[..., Page]
) -> None:
    """Every colour of text has a contrast of 4.5 to 1 (level AA), running text one of 7 to 1 (level AAA)."""
    page = open_page(path, scheme=scheme)
    faint = {
        f"{pair}: {text}": ratio
        for pair, text in page.evaluate(INKS).items()
        if (ratio := _contrast(*pair.split(" on "))) < 4.5
    }
    assert faint == {}
    ink, paper = page.evaluate(
        "[getComputedStyle(document.body).color, getComputedStyle(document.documentElement).backgroundColor]"
    )
    assert _contrast(ink, paper) >= 7
    assert (_luminance(ink) > _luminance(paper)) == (scheme == "dark")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("words", "paper"), [(".scale-plate text", ".plate-sheet"), (".sides .number text", ".sides .number circle")]
)
def test_words_on_a_drawing_stand_out_from_its_paper_in_the_readers_own_colours(
    words: str, paper: str, scheme: Literal["light", "dark"], open_page: Callable[..., Page]
) -> None:
    """Where a system sets the colours of all text, what is written on a drawing can still be read."""
    page = open_page("pairs/dowo-hawo.html", width=375, scheme=scheme, forced_colors="active")
    ink = page.evaluate("css => getComputedStyle(document.querySelector(css)).fill", words)
    painted = "backgroundColor" if paper == ".plate-sheet" else "fill"
    sheet = page.evaluate("([css, how]) => getComputedStyle(document.querySelector(css))[how]", [paper, painted])
    assert _contrast(ink, sheet) >= 4.5
