"""The page that sets any birds side by side: what its script finds is what the program finds."""

from __future__ import annotations

import json
import math
from itertools import combinations
from statistics import NormalDist
from typing import TYPE_CHECKING, Any

import pytest

from tertial.loading import load_guide
from tertial.marks.compare import compare
from tertial.pages.browse_shelf import Shelf
from tertial.pages.site import Site
from tertial.side_by_side import described

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Page

    from tertial.guide import Guide, Species
    from tertial.marks.compare import Comparison
    from tertial.marks.plumages import Plumage

    Asked = tuple[Species, Plumage]

LOAD_ALL = """() => Promise.all([...document.querySelectorAll('#bird-1 optgroup')].map(group => new Promise(done => {
    const script = document.createElement('script');
    script.src = group.dataset.data;
    script.onload = done;
    document.head.append(script);
})))"""

COMPARE = """asked => asked.map(birds => {
    const bird = ([code, plumage]) =>
        guide.bird(code, guide.kept.get(code).plumages.findIndex(each => each.name === plumage));
    const {parts, measures} = guide.compare(birds.map(bird));
    const verdict = each => guide.kept.get('marks').verdicts[each];
    return {
        parts: parts.map(row => [row.word, verdict(row.verdict), row.value, row.said]),
        measures: measures.map(row => [row.word, verdict(row.verdict), verdict(row.pairs[0].hand), row.value]),
    };
})"""


@pytest.fixture(scope="module")
def guide(site: Path) -> Guide:
    """The guide of which the pages were made."""
    return load_guide(site.parent)


def _asked(guide: Guide) -> Iterator[tuple[Asked, Asked]]:
    """Every two birds of which a page exists in all plumages, and every other two as far as plumage is no matter."""
    birds = {bird.species.code: bird for bird in Shelf(Site(guide, {})).birds}
    ready = {(pair.first.code, pair.second.code) for pair in guide.pairs}
    for first, second in combinations(birds.values(), 2):
        whole = (first.species.code, second.species.code) in ready
        for one in first.plumages if whole else first.plumages[:1]:
            for other in second.plumages if whole else second.plumages[:1]:
                yield (first.species, one.plumage), (second.species, other.plumage)


def _said(comparison: Comparison) -> list[list[object]]:
    return [
        [
            row.word,
            row.verdict.value,
            row.value,
            [[[reading.text, origin.text] for reading, origin in side] for side in (row.first, row.second)],
        ]
        for row in comparison.parts
    ]


def test_any_two_birds_are_told_apart_as_the_program_tells_them(guide: Guide, open_page: Callable[..., Page]) -> None:
    """Rows, their order, phrases, values and verdicts are those of the pages of pairs; measures to 1e-4."""
    asked = list(_asked(guide))
    assert len(asked) > 300
    page = open_page("compare.html")
    page.evaluate(LOAD_ALL)
    named = [[[species.code, plumage.text] for species, plumage in birds] for birds in asked]
    verdicts = set()
    for birds, found in zip(asked, page.evaluate(COMPARE, named), strict=True):
        first, second = (described(guide, species, plumage) for species, plumage in birds)
        comparison = compare(first, second, guide.parts, guide.words)
        assert found["parts"] == _said(comparison), birds
        assert [row[:3] for row in found["measures"]] == [
            [row.word, row.verdict.value, row.separated.hand.value if row.separated else "not recorded"]
            for row in comparison.measures
        ], birds
        for row, (*_, value) in zip(comparison.measures, found["measures"], strict=True):
            assert value == pytest.approx(row.separated.value if row.separated else 0, abs=1e-4)
        verdicts |= {row.verdict.value for row in comparison.parts}
    assert {"strong", "shared", "not recorded"} <= verdicts


def test_the_overlap_of_measures_is_that_of_the_program(open_page: Callable[..., Page]) -> None:
    """Over means and spreads near and far apart, the closed form agrees with Python's own to 1e-9."""
    figures = [(mean, sd) for mean in (10.0, 10.2, 14.0, 90.0) for sd in (0.5, 1.0, 3.0, 20.0)]
    pairs = [(first, second) for first in figures for second in figures]
    found = open_page("compare.html").evaluate("pairs => pairs.map(([a, b]) => guide.overlap(a, b))", pairs)
    expected = [NormalDist(*first).overlap(NormalDist(*second)) for first, second in pairs]
    assert found == pytest.approx(expected, abs=1e-9)


def test_spreads_that_are_all_but_one_overlap_like_equal_ones(open_page: Callable[..., Page]) -> None:
    """Two spreads whose last digits differ: a third of each bird, as of two normal distributions two spreads apart."""
    found = open_page("compare.html").evaluate("guide.overlap([6, 0.5000000000000001], [5, 0.5])")
    assert found == pytest.approx(math.erfc(1 / math.sqrt(2)), abs=1e-9)


def _rows(page: Page) -> list[list[str]]:
    page.wait_for_selector(".any-birds")
    rows = page.locator(".any-birds").first.locator("tbody tr")
    return [row.locator("th, td").all_inner_texts() for row in rows.all()]


@pytest.mark.parametrize("as_file", [False, True])
def test_an_address_names_the_birds(as_file: bool, site: Path, open_page: Callable[..., Page]) -> None:
    """A link with two codes and plumages opens with their table, also without a web host."""
    address = "compare.html#DOWO.male+HAWO.juvenile-male"
    page = open_page((site / "compare.html").as_uri() + "#DOWO.male+HAWO.juvenile-male" if as_file else address)
    rows = _rows(page)
    heads = page.locator(".any-birds").first.locator("thead th").all_inner_texts()
    assert heads == ["Part", "DOWO male", "HAWO juvenile male", "Verdict"]
    nape = next(row for row in rows if row[0] == "nape")
    assert nape[1:3] == ["red patch, usually undivided", "black and white, no red"]
    assert page.locator("#bird-2").input_value() == "HAWO.juvenile-male"


def test_a_row_of_several_birds_says_which_it_separates(open_page: Callable[..., Page]) -> None:
    """Of three birds each row names the pairs that it keeps apart, and none that it does not."""
    page = open_page("compare.html#DOWO+HAWO+BRCR")
    rows = {row[0]: row for row in _rows(page)}
    assert rows["back"][1] == rows["back"][2] == "black with white stripe"
    assert rows["back"][-1].endswith(" BRCR from DOWO, HAWO")
    assert rows["malar stripe"][-1] == "shared"


def test_two_plumages_of_one_bird_are_told_apart_by_their_plumages(open_page: Callable[..., Page]) -> None:
    """Where a code stands for two birds, the pairs are named with the plumage."""
    rows = {row[0]: row for row in _rows(open_page("compare.html#DOWO.male+DOWO.female+HAWO.male"))}
    assert "DOWO female from DOWO male" in rows["nape"][-1] or "DOWO male from DOWO female" in rows["nape"][-1]


def test_a_bird_that_the_guide_lacks_is_named(open_page: Callable[..., Page]) -> None:
    """A link with a code that no account has says so and shows the rest."""
    page = open_page("compare.html#XXXX+DOWO")
    assert page.locator("#told").inner_text() == "The guide has no XXXX. Choose two birds or more."
    assert page.locator(".any-birds").count() == 0


def test_birds_are_chosen_by_keyboard_and_the_way_back_is_open(open_page: Callable[..., Page]) -> None:
    """Typing a name in each list makes a table and an address; going back takes the last choice away."""
    page = open_page("compare.html")
    page.locator("#bird-1").focus()
    page.keyboard.type("Downy")
    page.keyboard.press("Tab")
    page.keyboard.type("Hairy")
    assert _rows(page)
    assert page.url.endswith("#DOWO.all+HAWO.all")
    assert page.evaluate("document.activeElement.id") == "bird-2"
    page.go_back()
    page.wait_for_function("document.querySelectorAll('.any-birds').length === 0")
    assert page.locator("#bird-1").input_value() == "DOWO.all"


def test_a_comparison_keeps_the_rules_of_accessibility(
    tool: Callable[[str], Path], ask_axe: Callable[[Page], list[str]], open_page: Callable[..., Page]
) -> None:
    """With four birds on it the page has no fault, narrow and wide, light and dark."""
    page = open_page("compare.html#DOWO.male+HAWO+UNST+RBNU")
    _rows(page)
    page.evaluate(tool("axe-core/axe.min.js").read_text(encoding="utf-8"))
    found: dict[str, list[str]] = {}
    for width in (320, 375, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), width
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            for each in ask_axe(page):
                found.setdefault(each, []).append(f"{width} {scheme}")
    assert found == {}


def test_without_scripts_the_ready_made_comparisons_are_there(site: Path, browser: Browser) -> None:
    """Where scripts are off, no empty list is shown, and every pair and group can be come to."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "compare.html").as_uri())
    assert page.locator("select").count() == 1
    assert not page.locator("select").is_visible()
    assert "ready to read" in page.locator("noscript p").inner_text()
    links = page.locator("main a").evaluate_all("found => found.map(each => each.getAttribute('href'))")
    assert {"pairs/dowo-hawo.html", "groups/small-woodpeckers.html"} <= set(links)
    context.close()


def test_every_file_of_data_is_asked_for_by_a_page(site: Path, open_page: Callable[..., Page]) -> None:
    """No species is without its file, and no file is left over."""
    page = open_page("compare.html")
    asked = page.evaluate("[...document.querySelectorAll('#bird-1 optgroup')].map(each => each.dataset.data)")
    files = {path.relative_to(site).as_posix() for path in (site / "data").rglob("*") if path.is_file()}
    found = (
        open_page("find.html").locator("script[src*=data]").evaluate_all("all => all.map(a => a.getAttribute('src'))")
    )
    assert files == {*asked, *found, "data/marks.js", "data/sorting.js", "data/phrases.js"}
    assert all(json.loads(_value(site / file)) for file in files)


def _value(file: Path) -> Any:
    """The value that a file of data keeps, without the words of the script round it."""
    text = file.read_text(encoding="utf-8")
    return text[text.index(", {") + 2 : text.rindex(");")]
