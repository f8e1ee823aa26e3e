"""Whether a screen reader, a keyboard and an eye find what they need."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image, ImageStat

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Page

PICTURES = """async () => {
    const pictures = [...document.images];
    for (const picture of pictures) picture.loading = 'eager';
    await Promise.all(pictures.map(picture => picture.decode()));
    return Promise.all(pictures.map(async picture => {
        // A picture of its own, because that in the page is measured by its place there.
        const file = new Image();
        file.src = picture.currentSrc;
        await file.decode();
        const box = picture.getBoundingClientRect();
        return {source: picture.currentSrc.split('/').pop(), shown: [box.width, box.height],
                given: ['width', 'height'].map(name => Number(picture.getAttribute(name))),
                file: [file.naturalWidth, file.naturalHeight]};
    }));
}"""

FOCUSED = """() => {
    const at = document.activeElement, style = getComputedStyle(at), box = at.getBoundingClientRect();
    return {href: at.getAttribute('href'), text: at.textContent.trim(),
            seen: at.matches(':focus-visible') && style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
            inside: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth};
}"""


# Of boxes that exclude each other only the ticked one is a stop. A table that may be wider than the screen is one too.
CAN_STOP = 'a[href], select, button, summary, input:checked, input[type="text"], input[type="checkbox"], [tabindex="0"]'
STOPS = """stops => [...document.querySelectorAll(stops)]
    .filter(each => each.checkVisibility()).map(each => each.getAttribute('href'))"""


@pytest.fixture(scope="module")
def axe(tool: Callable[[str], Path]) -> str:
    """The accessibility checker's own program."""
    return tool("axe-core/axe.min.js").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "page_of_the_demo",
    ["pairs/dowo-hawo.html", "pairs/mall-abdu.html", "species/downy-woodpecker.html", "groups/winter-wood-flock.html"],
)
def test_the_accessibility_checker_finds_nothing_in_the_demo(
    page_of_the_demo: str, axe: str, ask_axe: Callable[[Page], list[str]], open_page: Callable[..., Page]
) -> None:
    """What is full of marks, as no page made for tests is, keeps the same rules on the narrowest phone."""
    page = open_page(page_of_the_demo, width=320)
    assert page.locator(".name-block, article").count()
    page.evaluate(axe)
    assert ask_axe(page) == []


def test_the_accessibility_checker_finds_nothing(
    path: str, axe: str, ask_axe: Callable[[Page], list[str]], open_page: Callable[..., Page]
) -> None:
    """Rules of WCAG 2.0 to 2.2, levels A and AA, and good practice hold, narrow and wide, light and dark."""
    page = open_page(path)
    page.evaluate(axe)
    found: dict[str, list[str]] = {}
    for width in (375, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            for each in ask_axe(page):
                found.setdefault(each, []).append(f"{width} {scheme}")
    assert found == {}


def test_the_accessibility_checker_finds_nothing_in_an_empty_guide(
    empty_site: Path, axe: str, ask_axe: Callable[[Page], list[str]], open_page: Callable[..., Page]
) -> None:
    """The front page that says how to begin keeps the same rules."""
    page = open_page((empty_site / "index.html").as_uri(), width=375)
    page.evaluate(axe)
    assert ask_axe(page) == []


def test_pictures_keep_their_place_before_they_are_loaded(path: str, open_page: Callable[..., Page]) -> None:
    """Width and height are given and have the ratio of the file, so that no text jumps."""
    pictures = open_page(path).evaluate(PICTURES)
    crooked = [
        each for each in pictures if abs(each["given"][1] / each["given"][0] * each["file"][0] - each["file"][1]) > 1
    ]
    assert crooked == []


@pytest.mark.parametrize("width", [375, 1280])
@pytest.mark.parametrize("address", ["species/unbelievablydisproportionatelylongbilled-streamsidestonehopper.html"])
def test_pictures_are_neither_enlarged_nor_taller_than_the_screen(
    address: str, width: int, open_page: Callable[..., Page]
) -> None:
    """A picture is shown with no more pixels than it has, and can be seen whole at once."""
    pictures = open_page(address, width=width).evaluate(PICTURES)
    assert [each for each in pictures if each["shown"][0] > each["given"][0]] == []
    assert [each for each in pictures if each["shown"][1] > 800] == []
    assert len(pictures) > 4


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("forced_colors", ["none", "active"])
def test_sketches_can_be_made_out_in_all_colours(
    scheme: str, forced_colors: str, open_page: Callable[..., Page]
) -> None:
    """A sketch on its plate has light and dark in it, whatever colours the reader's system forces."""
    page = open_page("species/downy-woodpecker.html", scheme=scheme, forced_colors=forced_colors)
    shot = page.locator(".plate img").first.screenshot()
    spread = ImageStat.Stat(Image.open(io.BytesIO(shot)).convert("L")).stddev[0]
    assert spread > 30


def test_the_first_stop_of_the_keyboard_leads_to_the_content(framed: str, open_page: Callable[..., Page]) -> None:
    """Tab shows the way past the running head, Enter takes it, and Tab goes on inside the content."""
    page = open_page(framed)
    page.keyboard.press("Tab")
    first = page.evaluate(FOCUSED)
    assert first == {"href": "#content", "text": "To the content", "seen": True, "inside": True}
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.localName") == "main"
    page.keyboard.press("Tab")
    assert not page.evaluate("document.activeElement.matches('header.running *')")


def test_the_keyboard_reaches_every_link_in_reading_order(path: str, open_page: Callable[..., Page]) -> None:
    """Tab stops at each link and choice once, in the order of the page, to be seen, with a line around it."""
    page = open_page(path)
    expected = page.evaluate(STOPS, CAN_STOP)
    stops: list[dict[str, Any]] = []
    for _ in expected:
        page.keyboard.press("Tab")
        stops.append(page.evaluate(FOCUSED))
    assert [stop["href"] for stop in stops] == expected
    assert [stop for stop in stops if not (stop["seen"] and stop["inside"])] == []


def test_the_menu_marks_the_page_that_is_open(site: Path, open_page: Callable[..., Page]) -> None:
    """Each link of the menu leads to a page on which it is the one marked as current."""
    page = open_page("index.html")
    links = page.locator("header.running nav a")
    names = links.all_inner_texts()
    assert len(names) == 15
    for name in names:
        page.get_by_label("Main pages").get_by_role("link", name=name, exact=True).click()
        assert page.locator("[aria-current=page]").all_inner_texts() == [name]


@pytest.mark.parametrize("as_file", [False, True])
def test_letters_are_the_guide_s_own(as_file: bool, framed: str, site: Path, open_page: Callable[..., Page]) -> None:
    """Upright and italic text is set in the typeface that lies in the guide, also without a web host."""
    page = open_page((site / framed).as_uri() if as_file and framed != "404.html" else framed)
    page.evaluate("document.fonts.ready.then(() => true)")
    faces = page.evaluate("[...document.fonts].map(face => [face.family, face.style, face.status])")
    # A serif that stands in until then is the reader's own, and need not be there.
    assert [face for face in faces if face[2] == "error" and not face[0].endswith("for now")] == []
    assert {("Literata", "normal"), ("Literata", "italic")} <= {
        (family.strip('"'), style) for family, style, status in faces if status == "loaded"
    }


def test_the_signs_of_the_sexes_have_letters(open_page: Callable[..., Page]) -> None:
    """The signs that an author may write, and that no typeface for text has, come along in a file of their own."""
    page = open_page("index.html")
    load = "document.fonts.load('16px \"Noto Sans Symbols\"', '\u2640\u2642')"
    found = page.evaluate(f"{load}.then(faces => faces.map(face => face.family + face.status))")
    assert [each.replace('"', "") for each in found] == ["Noto Sans Symbolsloaded"]
