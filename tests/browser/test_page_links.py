"""Whether every link leads somewhere, and every page can be come to."""

from __future__ import annotations

import posixpath
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import unquote, urlsplit

import pytest
from selectolax.lexbor import LexborHTMLParser

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import Page

BASE = "https://example.org/millrace/"
ELSEWHERE = {"https://doi.org/10.2173/avilist.v2025", "https://example.org/bank?page=1&part=2"}
"""The base address of the demo, and every address outside the guide that its pages lead to."""

NOT_FOUND = "404.html"


@dataclass(frozen=True, slots=True)
class Way:
    """An address on a page."""

    page: str
    written: str

    @property
    def elsewhere(self) -> bool:
        """Whether it leads out of the guide."""
        return bool(urlsplit(self.written).scheme) and not self.written.startswith(BASE)

    @property
    def path(self) -> str:
        """The file it leads to, from the guide's root."""
        inside = self.written.removeprefix(BASE)
        path = unquote(urlsplit(inside).path)
        if inside != self.written:
            return path
        if self.page == NOT_FOUND and path.startswith(urlsplit(BASE).path):
            return path.removeprefix(urlsplit(BASE).path)
        return posixpath.normpath(posixpath.join(posixpath.dirname(self.page), path)) if path else self.page

    @property
    def fragment(self) -> str:
        """The id it leads to on that page, or ''."""
        return unquote(urlsplit(self.written).fragment)


@pytest.fixture(scope="module")
def documents(site: Path, pages: tuple[str, ...]) -> dict[str, LexborHTMLParser]:
    """Every page, read."""
    return {page: LexborHTMLParser((site / page).read_text(encoding="utf-8")) for page in pages}


@pytest.fixture(scope="module")
def ways(documents: dict[str, LexborHTMLParser]) -> tuple[Way, ...]:
    """Every address on every page."""
    return tuple(way for page, document in documents.items() for way in _ways(page, document))


def _ways(page: str, document: LexborHTMLParser) -> Iterator[Way]:
    for node in document.css("[href], [src], [srcset]"):
        for name in ("href", "src"):
            if name in node.attributes:
                yield Way(page, node.attributes[name] or "")
        for offer in (node.attributes.get("srcset") or "").split(","):
            if offer.strip():
                yield Way(page, offer.split()[0])


def test_every_link_leads_to_a_file_of_the_guide(ways: tuple[Way, ...], site: Path) -> None:
    """Links, pictures, style sheets and icons are there under exactly the name written."""
    files = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    assert [way for way in ways if not way.elsewhere and way.path not in files] == []


def test_every_link_within_a_page_leads_to_an_id(ways: tuple[Way, ...], documents: dict[str, LexborHTMLParser]) -> None:
    """A link to a part of a page leads to a part that the page has."""
    ids = {page: {node.attributes["id"] for node in document.css("[id]")} for page, document in documents.items()}
    with_fragment = [way for way in ways if way.fragment and not way.elsewhere]
    assert {way.path for way in with_fragment} > {"parts.html", "method.html"}
    assert [way for way in with_fragment if way.fragment not in ids[way.path]] == []


def test_every_label_that_is_named_is_there(documents: dict[str, LexborHTMLParser]) -> None:
    """What an element says of its label by id is an element of the page."""
    labels = [
        (page, name, document)
        for page, document in documents.items()
        for node in document.css("[aria-labelledby]")
        for name in (node.attributes["aria-labelledby"] or "").split()
    ]
    assert labels
    assert [(page, name) for page, name, document in labels if len(document.css(f"[id='{name}']")) != 1] == []


def test_ways_out_of_the_guide_are_known_and_safe(ways: tuple[Way, ...]) -> None:
    """Only the addresses that the test lists lead elsewhere, and all of them by https."""
    # What a question carries along in itself leads nowhere.
    assert {way.written for way in ways if way.elsewhere and not way.written.startswith("data:")} == ELSEWHERE


def test_pages_use_no_address_that_needs_a_web_host(ways: tuple[Way, ...]) -> None:
    """Addresses are relative, so that a guide opens by double click and below any folder of a web host."""
    rooted = [way for way in ways if way.written.startswith("/") and way.page != NOT_FOUND]
    assert rooted == []


def test_every_page_can_be_come_to_from_the_front_page(ways: tuple[Way, ...], pages: tuple[str, ...]) -> None:
    """From link to link all pages are reached, but for the one that only a web host shows."""
    reached = {"index.html"}
    waiting = ["index.html"]
    while waiting:
        page = waiting.pop()
        found = {way.path for way in ways if way.page == page and way.path in pages and way.path != NOT_FOUND}
        waiting.extend(found - reached)
        reached |= found
    assert set(pages) - reached == {NOT_FOUND}


def test_no_picture_is_published_for_nothing(ways: tuple[Way, ...], site: Path) -> None:
    """Every picture in the finished guide is shown by some page, or shows one where only its address is given."""
    pictures = {path.relative_to(site).as_posix() for path in (site / "pictures").iterdir()}
    heads = "".join(page.read_text("utf-8").partition("<body>")[0] for page in site.rglob("*.html"))
    named = {f"pictures/{name}" for name in re.findall(r'og:image" content="[^"]*/pictures/([^"]+)"', heads)}
    assert named
    assert pictures - {way.path for way in ways} - named == set()


def test_files_that_the_style_sheet_names_are_there(site: Path) -> None:
    """Every typeface that the style sheet asks for lies beside it, with its licence."""
    style = site / "assets" / "guide.css"
    named = re.findall(r'url\("([^"]+)"\)', style.read_text(encoding="utf-8"))
    assert named
    assert [name for name in named if not (style.parent / name).is_file()] == []
    assert len(list((site / "assets" / "fonts").glob("*-licence.txt"))) == 3


@pytest.mark.parametrize("address", ["no-such-page.html", "species/no-such-bird.html", "pairs/far/down/here.html"])
def test_an_address_that_leads_nowhere_shows_the_way_back(
    address: str, base_url: str, open_page: Callable[..., Page]
) -> None:
    """At any depth the not-found page has its style, and its links lead into the guide."""
    page = open_page(address)
    assert page.locator("h1").inner_text() == "There is no page here"
    assert page.evaluate("document.styleSheets.length") == 1
    links: list[str] = page.evaluate("[...document.querySelectorAll('a')].map(each => each.href)")
    inside = {link.replace(BASE, base_url) for link in links}
    assert [link for link in inside if page.request.get(link).status != 200 and not link.endswith("#content")] == []
