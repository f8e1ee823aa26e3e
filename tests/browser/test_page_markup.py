"""Whether the files that are built are what the standards of the web ask for."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections import Counter
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image
from selectolax.lexbor import LexborHTMLParser

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

# The checker reads the pages as loose files, where "self" in their policy names no place. It also takes blocks of
# data for scripts, which policies are about; that pages have no others is held by a test of its own, and what
# browsers say of pages by those that open them.
EXPECTED = ("Resource violates Content Security Policy", "Inline script violates Content Security Policy")


@pytest.fixture(scope="module")
def messages(site: Path, empty_site: Path, tool: Callable[[str], Path]) -> list[dict[str, Any]]:
    """What the conformance checker says of all pages, style sheets and drawings."""
    java = shutil.which("java")
    if java is None:
        pytest.fail("no Java is found for the conformance checker: `make test` installs it")
    jar = tool("vnu-jar/build/dist/vnu.jar")
    options = ["--stdout", "--exit-zero-always", "--format", "json", "--skip-non-html"]
    ran = subprocess.run(
        [java, "-jar", jar, *options, "--also-check-css", "--also-check-svg", site, empty_site],
        capture_output=True,
        check=True,
    )
    found: list[dict[str, Any]] = json.loads(ran.stdout)["messages"]
    return found


@pytest.fixture(scope="module")
def documents(site: Path, pages: tuple[str, ...]) -> dict[str, LexborHTMLParser]:
    """Every page, read."""
    return {page: LexborHTMLParser((site / page).read_text(encoding="utf-8")) for page in pages}


def _lines(messages: list[dict[str, Any]]) -> list[str]:
    return [f"{each['url'].split('/build/')[-1]}:{each.get('lastLine', 0)}: {each['message']}" for each in messages]


def test_the_conformance_checker_finds_no_error(messages: list[dict[str, Any]]) -> None:
    """All HTML, CSS and SVG keeps to the standards."""
    assert _lines([each for each in messages if each["type"] != "info"]) == []


def test_the_conformance_checker_warns_of_nothing_else(messages: list[dict[str, Any]]) -> None:
    """Of its remarks two are expected, on what the policy has to say of files and of data."""
    remarks = [each for each in messages if each["type"] == "info"]
    assert any(each["message"].startswith(EXPECTED) for each in remarks)
    assert _lines([each for each in remarks if not each["message"].startswith(EXPECTED)]) == []


def test_pages_run_no_programs_but_a_few(documents: dict[str, LexborHTMLParser]) -> None:
    """Only pages for the reader's own choice, and that to find things on, have scripts of their own, as files.

    Not counted are those that add nothing to a page, and blocks of data, which no browser runs.
    """
    small = (*(f"[src$='assets/{name}.js']" for name in ("pointers", "key", "keeping")), "[type='application/ld+json']")
    counted = "script" + "".join(f":not({each})" for each in small)
    programs = {
        page: [node.html for node in document.css(f"{counted}, iframe, object, embed, [style]")]
        + [node.html for node in document.css("*") for name in node.attributes if name.startswith("on")]
        for page, document in documents.items()
    }
    with_scripts = {page: programs.pop(page) for page in ("compare.html", "find.html", "sorting.html")}
    assert {page: found for page, found in programs.items() if found} == {}
    assert all(with_scripts.values())
    own = re.compile(r'<script src="(assets|data)/\w+\.js"></script>')
    assert [each for found in with_scripts.values() for each in found if not own.fullmatch(str(each))] == []


def test_headings_form_an_outline(documents: dict[str, LexborHTMLParser]) -> None:
    """A page has one heading of the first level, it comes first, and no level is left out."""
    for page, document in documents.items():
        levels = [int((node.tag or "")[1:]) for node in document.css("h1, h2, h3, h4, h5, h6")]
        assert levels[:1] == [1], page
        assert levels.count(1) == 1, page
        assert [low for high, low in pairwise(levels) if low > high + 1] == [], page


def test_tables_say_what_they_hold(documents: dict[str, LexborHTMLParser]) -> None:
    """A table has a caption, every row has a head, and each head says whether it is of a row or a column."""
    tables = [(page, table) for page, document in documents.items() for table in document.css("table")]
    assert tables
    for page, table in tables:
        caption = table.css_first("caption")
        assert caption is not None, page
        assert caption.text(strip=True), page
        assert {head.attributes.get("scope") for head in table.css("th")} <= {"row", "col"}, page
        assert [
            row.html for row in table.css("tbody tr:not(.view-head)") if row.css_first("th[scope=row]") is None
        ] == []


def test_pictures_have_words_and_measures(documents: dict[str, LexborHTMLParser]) -> None:
    """A picture has words in place of it, or none where a name beside it says the same, and its size."""
    pictures = [(page, each) for page, document in documents.items() for each in document.css("img")]
    assert pictures
    for page, each in pictures:
        has_words = bool(each.attributes.get("alt"))
        assert has_words != ("thumb" in (each.attributes.get("class") or "")), f"{page}: {each.html}"
        assert (each.attributes.get("width") or "").isdigit(), page
        assert (each.attributes.get("height") or "").isdigit(), page


def test_offered_sizes_of_pictures_are_true(documents: dict[str, LexborHTMLParser], site: Path) -> None:
    """Each width that a page promises the browser is the width of the file."""
    offers = {
        (page, *offer.split())
        for page, document in documents.items()
        for picture in document.css("source[srcset]")
        for offer in (picture.attributes["srcset"] or "").split(",")
    }
    assert offers
    for page, address, width in offers:
        with Image.open((site / page).parent / address) as picture:
            assert f"{picture.width}w" == width, address


def test_pages_introduce_themselves(documents: dict[str, LexborHTMLParser]) -> None:
    """A page has a title and a description that no other page has, its language, and one main part."""
    titles: Counter[str] = Counter()
    descriptions: Counter[str] = Counter()
    for page, document in documents.items():
        title, description = document.css_first("title"), document.css_first("meta[name=description]")
        assert title is not None, page
        assert description is not None, page
        titles[title.text()] += 1
        descriptions[description.attributes["content"] or ""] += 1
        html = document.css_first("html")
        assert html is not None
        assert html.attributes["lang"] == "en", page
        assert len(document.css("main")) == 1, page
    assert [text for text, count in titles.items() if count > 1 or not text.strip()] == []
    assert [text for text, count in descriptions.items() if count > 1 or not text.strip()] == []
