"""Whether the pages that the other tests look at are all the kinds there are."""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Page

LONG_WORD = "Unbelievablydisproportionatelylongbilled"


def test_every_template_has_a_page_that_stands_for_it(path: str, site: Path) -> None:
    """A template of the layouts is rendered at least once in the guide that the tests build."""
    assert (site / path).is_file()


def test_every_page_lies_where_a_kind_of_page_does(pages: tuple[str, ...]) -> None:
    """A page is one of those that stand alone, or lies in the folder of its kind."""
    alone = {
        "index.html",
        "codes.html",
        "find.html",
        "colours.html",
        "where.html",
        "news.html",
        "parts.html",
        "words.html",
        "method.html",
        "404.html",
        "compare.html",
        "sorting.html",
        "ladder.html",
    }
    folders = {PurePosixPath(page).parent.as_posix() for page in pages if page not in alone}
    assert folders == {"species", "pairs", "cards", "flocks", "outings", "places", "unsolved", "questions", "groups"}


def test_the_hard_words_are_on_the_pages_that_stand_for_accounts(site: Path, pages: tuple[str, ...]) -> None:
    """The longest name is on every page that names species, so that narrow screens are put to the test."""
    with_name = {page for page in pages if LONG_WORD in (site / page).read_text(encoding="utf-8")}
    assert {"index.html", "species/index.html", "codes.html", "pairs/index.html", "pairs/nrws-unst.html"} <= with_name


def test_an_empty_guide_says_how_to_begin(empty_site: Path, open_page: Callable[..., Page]) -> None:
    """The front page of a guide without entries shows a first entry to copy, and fits a narrow screen."""
    page = open_page((empty_site / "index.html").as_uri(), width=320)
    assert "species:" in page.locator("pre").inner_text()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
