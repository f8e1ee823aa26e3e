"""The search: what it finds first, by keyboard alone, from a disk, and what is there without it."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import HERE

from tertial.guide import Flock, Outing
from tertial.loading import load_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Page

ASK = """async queries => {
    const field = document.getElementById('sought'), found = document.getElementById('found');
    return queries.map(query => {
        field.value = query;
        field.dispatchEvent(new Event('input'));
        const group = found.querySelector('section');
        return group && [group.querySelector('h2').firstChild.textContent.trim(), group.querySelector('a').textContent];
    });
}"""


@pytest.fixture(scope="module")
def queries() -> list[dict[str, str]]:
    """Queries with the kind and the title that are to come first."""
    with (HERE / "queries.csv").open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


@pytest.fixture
def window(browser: Browser) -> Iterator[Page]:
    """A window of its own, for going from page to page."""
    context = browser.new_context()
    page = context.new_page()
    wrong: list[str] = []
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda fault: wrong.append(str(fault)))
    yield page
    context.close()
    assert wrong == []


@pytest.mark.parametrize("as_file", [False, True])
def test_what_is_looked_for_comes_first(
    as_file: bool, queries: list[dict[str, str]], site: Path, base_url: str, window: Page
) -> None:
    """For every query of the table the first group and its first result are those that a reader means."""
    window.goto(f"{site.as_uri() if as_file else base_url.rstrip('/')}/find.html")
    found = window.evaluate(ASK, [row["query"] for row in queries])
    wrong = [
        (row["query"], first, row["why"])
        for row, first in zip(queries, found, strict=True)
        if first != [row["kind"], row["first"]]
    ]
    assert wrong == []
    assert window.evaluate(ASK, ["xyzzyxyzzy", ""]) == [None, None]


def test_every_name_of_the_guide_is_found(site: Path, open_page: Callable[..., Page]) -> None:
    """Each account comes first for its own name, and each species for its code, its scientific and its French name."""
    guide = load_guide(site.parent)
    asked = [(each.name, each.name) for each in guide.accounts() if not isinstance(each, Outing | Flock)]
    asked += [(each.code, each.name) for each in guide.by_code.values()]
    asked += [(each.bird.scientific, each.name) for each in guide.species if each.bird]
    asked += [(each.bird.french, each.name) for each in guide.species if each.bird and each.bird.french]
    found = open_page("find.html").evaluate(ASK, [query for query, _ in asked])
    titles = [first and first[1] for first in found]
    assert [(query, title) for (query, name), title in zip(asked, titles, strict=True) if title != name] == []
    assert len(asked) > 90


def test_every_result_leads_to_a_page(site: Path, open_page: Callable[..., Page]) -> None:
    """Addresses that the script makes of names are those of the files."""
    page = open_page("find.html")
    page.evaluate(ASK, ["a"])
    while page.locator("#found button").count():
        page.locator("#found button").first.click()
    addresses = {
        each.split("#")[0] for each in page.locator("#found a").evaluate_all("all => all.map(a => a.pathname)")
    }
    assert [each for each in addresses if not (site / each.removeprefix("/millrace/")).is_file()] == []
    assert len(addresses) > 40


@pytest.mark.parametrize("as_file", [False, True])
def test_one_key_and_a_few_letters_lead_to_an_account(as_file: bool, site: Path, base_url: str, window: Page) -> None:
    """From any page the key leads to the field, letters to results, and arrows or Enter to the page that is meant."""
    root = f"{site.as_uri()}/" if as_file else base_url
    window.goto(f"{root}species/downy-woodpecker.html")
    window.keyboard.press("/")
    expect(window.locator("#sought")).to_be_focused()
    window.keyboard.type("hary woodpeker")
    status = window.get_by_role("status")
    expect(status).to_have_text("Found: species 1, look-alikes 2.")
    window.keyboard.press("ArrowDown")
    expect(window.get_by_role("link", name="Hairy Woodpecker", exact=True)).to_be_focused()
    window.keyboard.press("ArrowUp")
    expect(window.locator("#sought")).to_be_focused()
    window.keyboard.press("Enter")
    expect(window.locator("h1")).to_have_text("Hairy Woodpecker")
    window.go_back()
    expect(window.locator("#sought")).to_have_value("hary woodpeker")
    expect(window.locator("#found a").first).to_have_text("Hairy Woodpecker")


def test_a_word_that_nothing_has_is_left_out_and_told(open_page: Callable[..., Page]) -> None:
    """The rest is looked for; words of a plumage are passed over in silence."""
    page = open_page("find.html#find=xyzzyx mallard nestl")
    expect(page.get_by_role("status")).to_contain_text(
        'Nothing is found for "xyzzyx"; shown without it. Found: species'
    )
    expect(page.locator("#found a").first).to_have_text("Mallard")


def test_words_found_apart_are_folded_where_a_mark_has_them_together(open_page: Callable[..., Page]) -> None:
    """They come last and closed, and arrows pass them by until they are opened."""
    page = open_page("find.html#find=red nape")
    shown = page.locator("#found section a").all_inner_texts()
    folded = page.locator("#found > details:last-child")
    assert folded.get_attribute("open") is None
    assert "Words found apart" in folded.locator("summary").inner_text()
    apart = folded.locator("a").all_text_contents()
    assert shown == ["Downy Woodpecker", "Hairy Woodpecker"]
    assert apart
    assert not set(shown) & set(apart)
    page.evaluate(ASK, ["red mallard"])
    assert page.locator("#found details").count() == 0


def test_the_key_can_be_switched_off(base_url: str, window: Page) -> None:
    """Once it is off, it leads nowhere from any page, until it is switched on again (WCAG 2.1.4)."""
    switch = window.get_by_label("On every page")
    window.goto(f"{base_url}find.html")
    switch.uncheck()
    window.goto(f"{base_url}codes.html")
    window.keyboard.press("/")
    window.goto(f"{base_url}find.html")
    window.keyboard.press("/")
    expect(window.locator("body")).to_be_focused()
    expect(switch).not_to_be_checked()
    switch.check()
    window.goto(f"{base_url}codes.html")
    window.keyboard.press("/")
    expect(window.locator("#sought")).to_be_focused()


def test_the_key_is_a_letter_where_something_is_typed(open_page: Callable[..., Page]) -> None:
    """In the field itself the sign is typed, and with another key held down it is left to the browser."""
    page = open_page("find.html")
    page.locator("#sought").focus()
    page.keyboard.type("1/2")
    assert page.locator("#sought").input_value() == "1/2"
    page.locator("main").focus()
    page.keyboard.press("Alt+/")
    assert page.evaluate("document.activeElement.localName") == "main"


def test_results_are_accessible_and_fit(
    tool: Callable[[str], Path], ask_axe: Callable[[Page], list[str]], open_page: Callable[..., Page]
) -> None:
    """A page full of results keeps the rules of access and a narrow screen's width; what is left out can be had."""
    page = open_page("find.html#find=white", width=320)
    assert page.locator("#by-hand").is_hidden()
    page.evaluate(tool("axe-core/axe.min.js").read_text(encoding="utf-8"))
    assert ask_axe(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    more = page.locator("#found button").first
    count = int(more.inner_text().split()[1])
    group = page.locator("#found section").filter(has=page.locator("button")).first
    assert group.locator("li").count() < count
    more.click()
    assert page.locator("#found section").first.locator("li").count() == count


def test_without_a_script_there_is_a_whole_index(browser: Browser, site: Path) -> None:
    """The index has every name in every language, code, place, flock, day and unsolved bird, each with its page."""
    guide = load_guide(site.parent)
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "find.html").as_uri())
    assert "index below" in page.locator("noscript p").inner_text()
    assert page.locator("#sought").is_hidden()
    names = page.locator(".index a").all_inner_texts()
    links = set(page.locator(".index a").evaluate_all("all => all.map(a => a.getAttribute('href'))"))
    context.close()
    for species in guide.species:
        assert {species.name, species.code, species.scientific} - {""} <= set(names)
        assert not species.bird or not species.bird.french or species.bird.french in names
    assert {each.name for each in guide.accounts() if not isinstance(each, Outing)} <= set(names)
    pages = {
        path.relative_to(site).as_posix()
        for folder in ("species", "flocks", "places", "outings", "unsolved")
        for path in (site / folder).glob("*.html")
    }
    assert {page for page in pages if not page.endswith("index.html")} <= links
