"""The sorting-out sheet: what it says of each bird, and that it never hides one."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from tertial.loading import load_guide
from tertial.marks.fitting import Fit, fit
from tertial.marks.statements import Reading
from tertial.pages.browse_sheet import states_of_sheet
from tertial.pages.browse_shelf import Shelf
from tertial.pages.site import Site

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Browser, Page

    from tertial.guide import Guide

TICK = """names => names.forEach(([name, value]) =>
    document.querySelector(`input[name="${name}"][value="${value}"]`).click())"""
FOUND = """() => [...document.querySelectorAll('.birds li')].map(each =>
    [each.querySelector('.code').textContent, each.querySelector('.fit')?.textContent])"""
BIRDS = ".birds li"


@pytest.fixture(scope="module")
def guide(site: Path) -> Guide:
    """The guide of which the pages were made."""
    return load_guide(site.parent)


@pytest.fixture(scope="module")
def shelf(guide: Guide) -> Shelf:
    """All accounts."""
    return Shelf(Site(guide, {}))


def _tick(page: Page, part: str, state: str) -> None:
    page.evaluate("part => document.getElementById(`of-${part}`).closest('details')?.setAttribute('open', '')", part)
    page.locator(f"#of-{part}").get_by_label(state, exact=True).first.check()


def _said(page: Page, code: str) -> str:
    return page.locator(BIRDS).filter(has_text=code).first.inner_text()


def _verdicts(shelf: Shelf, seen: dict[str, Reading]) -> list[list[str]]:
    """What the program finds: the best of the plumages that a bird can be in."""
    found = []
    for bird in shelf.birds:
        best, *others = fit(seen, [bird.plumages[at] for at in bird.apart], shelf.guide.words)
        open_ones = [each for each in (best, *others) if not each.count(Fit.CONTRADICTS)]
        fits = any(each.count(Fit.FITS) for each in open_ones)
        verdict = Fit.FITS if fits else Fit.NOT_RECORDED if open_ones else Fit.CONTRADICTS
        found.append([bird.species.code, verdict.value])
    return found


def test_every_tick_is_judged_as_the_program_judges_it(shelf: Shelf, open_page: Callable[..., Page]) -> None:
    """For the last state of every line, each bird gets the word that the program finds for it."""
    page = open_page("sorting.html")
    words = set()
    ticks = 0
    for (part, key), states in states_of_sheet(shelf).items():
        for at, state in [*enumerate(states)][-1:]:
            name = f"k{shelf.keys[part, key]}"
            page.evaluate(TICK, [[name, at]])
            found = page.evaluate(FOUND)
            page.evaluate(TICK, [[name, ""]])
            expected = _verdicts(shelf, {part: Reading(state.label, (state.seen,), ())})
            assert found == expected, (part, key, state.label)
            words |= {word for _, word in found}
            ticks += 1
    assert ticks > 100
    assert words == {"fits", "contradicts", "not recorded"}


def test_a_bird_fits_that_has_a_plumage_without_contradiction(open_page: Callable[..., Page]) -> None:
    """What speaks against the male alone leaves the bird on, and the sheet names the plumages that are left."""
    page = open_page("sorting.html")
    _tick(page, "nape", "red")
    said = _said(page, "DOWO")
    assert "fits as male" in said
    assert "nape for it: red patch" in said
    assert "1 of 1 seen marks agree" in said


def test_one_mark_of_many_is_not_enough_to_fit(open_page: Callable[..., Page]) -> None:
    """A bird of which most is not recorded is only not spoken against, and each count is said beside its word."""
    page = open_page("sorting.html")
    for part, state in (("nape", "red"), ("bill", "black"), ("iris", "yellow"), ("crest", "present")):
        _tick(page, part, state)
    counts = r"(\d) of 4 seen marks agree(?:, (\d) against)?(?:, (\d) not recorded)?"
    words = set()
    for each in page.locator(BIRDS).all():
        found = re.search(counts, each.inner_text())
        assert found, each.inner_text()
        agree, against, unknown = (int(number or 0) for number in found.groups())
        assert agree + against + unknown == 4
        word = "contradicts" if against else "fits" if agree > 2 else "not against it" if agree else "not recorded"
        assert each.locator(".fit").inner_text() == word
        words.add(word)
    assert {"contradicts", "not against it"} <= words


def test_reasons_are_of_what_was_ticked_and_one_line_a_part(open_page: Callable[..., Page]) -> None:
    """Only the clause that speaks of a tick is quoted, against before for; of a bird that is out it is folded."""
    page = open_page("sorting.html")
    _tick(page, "bill", "long")
    _tick(page, "bill", "straight")
    bird = page.locator(BIRDS).filter(has_text="SESA").first
    assert not bird.locator(".because").first.is_visible()
    bird.locator("summary").click()
    assert bird.locator(".because").all_inner_texts() == ["bill against it: short; for it: straight"]


def test_the_answer_stands_on_top_in_a_line(open_page: Callable[..., Page]) -> None:
    """Up to three birds with their counts are read out, and stand under the line that was ticked last as well."""
    page = open_page("sorting.html")
    _tick(page, "nape", "red")
    said = page.locator("#told strong").inner_text()
    assert said.startswith("Fits: ")
    assert "Downy Woodpecker, male (1 of 1)" in said
    assert said.count(" of 1)") <= 3
    assert page.locator("#told").get_attribute("role") == "status"
    page.set_viewport_size({"width": 375, "height": 800})
    assert page.locator("#of-nape .effect:visible").inner_text().startswith(said)


def test_every_bird_keeps_its_place(open_page: Callable[..., Page]) -> None:
    """A bird that is contradicted is struck through and named so, with the phrase, where it stood before."""
    page = open_page("sorting.html")
    before = page.locator(".birds .code").all_inner_texts()
    _tick(page, "nape", "red")
    _tick(page, "bill", "black")
    assert page.locator(".birds .code").all_inner_texts() == before
    assert [each for each in page.locator(BIRDS).all() if not each.is_visible()] == []
    struck = page.locator(".birds li.f-contradicts")
    assert struck.count() > 0
    for each in struck.all():
        assert each.locator("s").count() == 1
        assert "contradicts" in each.inner_text()
        each.locator("summary").click()
        assert "against it:" in each.inner_text()
    assert "%" not in page.locator(".held-against").inner_text()


def test_a_size_is_judged_beside_a_known_bird(guide: Guide, open_page: Callable[..., Page]) -> None:
    """A tick beside a starling speaks for and against birds by the rungs of the ladder, with the size that says so."""
    page = open_page("sorting.html")
    page.locator("[aria-labelledby=beside] fieldset", has_text="starling").get_by_label("smaller", exact=True).check()
    assert "size for it: 20–33\xa0g" in _said(page, "DOWO")
    mallard = page.locator(BIRDS).filter(has_text="MALL").first
    mallard.locator("summary").click()
    assert "size against it: 0.7–1.6\xa0kg" in mallard.inner_text()
    assert "not recorded" in _said(page, "EUST")
    assert "Speaks against MALL, ABDU, COHA." in page.locator("[aria-labelledby=beside] .effect:visible").inner_text()
    known = [code.value for code in guide.settings.yardsticks]
    assert page.locator("[aria-labelledby=beside] fieldset").count() == len(known) > 3


def test_not_sure_takes_a_tick_back(open_page: Callable[..., Page]) -> None:
    """At the start nothing is said of any bird, and again when the last tick is taken back."""
    page = open_page("sorting.html")
    at_first = page.locator(".birds").inner_text()
    _tick(page, "nape", "red")
    assert page.locator(".birds").inner_text() != at_first
    _tick(page, "nape", "red")
    page.locator("#of-nape fieldset", has_text="red").get_by_label("not sure").first.check()
    assert page.locator(".birds").inner_text() == at_first
    assert page.locator("#told").inner_text() == "Nothing is ticked yet."


def test_the_keyboard_ticks_and_rubs_out(open_page: Callable[..., Page]) -> None:
    """Arrow keys choose within a line; the button that clears the sheet leads to the birds."""
    page = open_page("sorting.html")
    page.locator("#of-bill input:checked").first.focus()
    page.keyboard.press("ArrowRight")
    assert page.locator("#told").inner_text().startswith("Fits: ")
    assert "1 thing ticked: fits" in page.locator("#told").inner_text()
    page.locator("#clear").focus()
    page.keyboard.press("Enter")
    assert page.locator("#told").inner_text() == "Nothing is ticked yet."
    assert page.evaluate("document.activeElement.id") == "birds"


def test_it_works_without_a_web_host(site: Path, open_page: Callable[..., Page]) -> None:
    """Opened from a disk the sheet sorts as it does from a web host."""
    page = open_page((site / "sorting.html").as_uri())
    _tick(page, "nape", "red")
    assert "fits as male" in _said(page, "DOWO")


def test_a_filled_sheet_keeps_the_rules_of_accessibility(
    tool: Callable[[str], Path], ask_axe: Callable[[Page], list[str]], open_page: Callable[..., Page]
) -> None:
    """With ticks on it the page has no fault, narrow and wide, light and dark."""
    page = open_page("sorting.html")
    _tick(page, "nape", "red")
    page.evaluate(tool("axe-core/axe.min.js").read_text(encoding="utf-8"))
    found: dict[str, list[str]] = {}
    for width in (375, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            for each in ask_axe(page):
                found.setdefault(each, []).append(f"{width} {scheme}")
    assert found == {}


def test_on_paper_it_is_a_blank_sheet(open_page: Callable[..., Page]) -> None:
    """Boxes and lines to write on are printed; what only a screen can do is not."""
    page = open_page("sorting.html", media="print")
    assert page.locator(".field-notes").is_visible()
    assert page.locator(".sheet .states label:not(.not-sure) input").first.is_visible()
    for each in (".not-sure", "#clear", "#told", ".sheet-ways"):
        assert not page.locator(each).first.is_visible(), each
    rule = page.evaluate("getComputedStyle(document.querySelector('.of-part h3'), '::after').borderBottomStyle")
    assert rule == "dotted"


def test_without_scripts_it_can_be_filled_in_by_hand(site: Path, browser: Browser) -> None:
    """Where scripts are off, every part and every bird is there, and the page says what it is good for."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "sorting.html").as_uri())
    assert "blank field sheet" in page.locator("noscript p").inner_text()
    assert page.locator("#of-nape").is_visible()
    assert page.locator(BIRDS).last.is_visible()
    assert not page.locator("#clear").is_visible()
    context.close()
