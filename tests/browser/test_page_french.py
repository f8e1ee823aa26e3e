"""What scripts put together in a French guide: no word of it is English that is ours."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest
from tests.browser.conftest import REPOSITORY
from tests.build.test_nothing_english import PHRASES
from tests.build.tongues import ENTRIES, is_english_name, is_theirs, told_on
from tests.build.words_left import Known, known_words, texts_of_page

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Page

QUERIES = {
    "sittelles": "Sittelle à poitrine rousse RBNU sittelle",
    "red nuque": "Pic mineur DOWO nuque : red",
    "mâle nuque red": "Pic mineur DOWO nuque : red",
    "red à la nuque du mâle": "Pic mineur DOWO nuque : red",
    "the red of a nuque": "Pic mineur DOWO nuque : red",
    "oie de Ross": "Oie de Ross ROGO",
    "de": "Oie de Ross ROGO",
    "lazqo": "Pic mineur DOWO habitat : lazqo",
    "muzqo": "Pic mineur DOWO compté à : Tazq muzqo",
    "nizqo": "Pic mineur DOWO texte : nizqo",
    "xyzzy nuque": "nuque",
    "xyzzy": "",
    "DOWO": "Pic mineur DOWO",
    "snow goose": "Snow Goose SNGO",
    "anser": "Snow Goose SNGO Anser caerulescens",
    "zqip black": "Snow Goose SNGO zqip : black",
    "wezqo": "1er février 2026, Tazq wezqo",
}
"""What is looked for, and a line of what is found."""


FOUND = """line => {
  const told = [...document.querySelectorAll("#found li")].map((each) => each.innerText.replace(/\\s+/g, " ").trim());
  return told.includes(line) || (!line && !told.length);
}"""
"""Whether the search shows a line; with '' whether it shows none."""


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A guide whose pages are French and whose author writes in no language; without pictures."""
    folder = tmp_path_factory.mktemp("french") / "guide"
    shutil.copytree(REPOSITORY / "tests/build/foreign", folder)
    for name, text in ENTRIES.items():
        (folder / "entries" / name).write_text(text, "utf-8")
    for entry in folder.glob("entries/*.md"):
        lines = entry.read_text("utf-8").splitlines(keepends=True)
        kept = [
            line for line in lines if "bird.png" not in line and not line.startswith(("     ", "sketches", "photos"))
        ]
        entry.write_text("".join(kept), "utf-8")
    build = build_guide(folder)
    assert build.pages, build.report.problems
    return folder


@pytest.fixture(scope="module")
def known(guide: Path) -> Known:
    """Words that may stand in it."""
    known = known_words(guide, PHRASES)
    known.french |= {"indicus", "meda"}
    return known


@pytest.fixture
def window(browser: Browser) -> Iterator[Page]:
    """A window that complains of faults."""
    page = browser.new_page()
    wrong: list[str] = []
    page.on("pageerror", lambda fault: wrong.append(str(fault)))
    yield page
    page.close()
    assert wrong == []


def left(known: Known, page: Page) -> list[str]:
    """Give the words on a page, as it is now, that are nobody's, and texts in another language than is told."""
    content = page.content()
    told = texts_of_page(content.encode())
    mistold = [text for text, language in told_on(content) if language_of(text) not in ("", language)]
    return mistold + [word for text, marked in told for word in known.left(text, marked=marked)]


def language_of(text: str) -> str:
    """Give the language of a text that tells it by its words."""
    return "en" if is_theirs(text) or is_english_name(text) else "la" if "Anser" in text else ""


def test_the_search_tells_what_it_finds_in_french(guide: Path, known: Known, window: Page) -> None:
    """Sorts of birds, plumages and parts are looked for in French; reasons are French round the author's words."""
    window.goto((guide / "build/find.html").as_uri())
    for query, line in QUERIES.items():
        window.fill("#sought", query)
        window.wait_for_function(FOUND, arg=line)
        assert (query, [word for word in left(known, window) if word not in query.split()]) == (query, [])
    window.fill("#sought", "red nuque")
    window.locator("#found .why [lang=en]").first.wait_for()
    assert window.locator("#found .why [lang=en]").first.inner_text() == "red"


@pytest.mark.parametrize("birds", ["DOWO.male+HAWO.male", "DOWO+HAWO+RBNU", "XXXX+DOWO", "DOWO", "SNGO+ROGO"])
def test_any_birds_are_set_side_by_side_in_french(birds: str, guide: Path, known: Known, window: Page) -> None:
    """Verdicts, plumages and sentences are French; the author's phrases are marked."""
    window.goto(f"{(guide / 'build/compare.html').as_uri()}#{birds}")
    window.locator("#compared table, #told:not(:empty)").first.wait_for()
    assert [word for word in left(known, window) if word != "XXXX"] == []


def test_a_bird_is_sorted_out_in_french(guide: Path, known: Known, window: Page) -> None:
    """What every tick comes to is told in French."""
    window.goto((guide / "build/sorting.html").as_uri())
    window.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    told = set()
    for tick in window.locator(".states label:not(.not-sure) input").all():
        tick.check()
        assert left(known, window) == []
        told.add(window.inner_text("#told"))
    assert len(told) > 5
