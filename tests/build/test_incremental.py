"""A build after another does only what has changed, and nobody can tell it from a build of everything."""

from __future__ import annotations

import marshal
import os
import shutil
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tertial import loading, working
from tertial.build import build_guide
from tertial.pages.facts import FACTS
from tertial.pages.render import Renderer
from tertial.report import full

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tertial.entries.load import Entry
    from tertial.entries.sheet import Head, Reads, Sheet
    from tertial.linking import Ground
    from tertial.pages.site import Page
    from tertial.text.problem import Problem

    Tree = Callable[[Path], dict[str, bytes]]
    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

LONG_AGO = (1_700_000_000, 1_700_000_000)
GREY = ("unsolved/grey-bird.html", "questions/grey-bird.html")
"""Where an unsolved bird is held against the accounts that it could belong to."""

ACCOUNTS = ("species/hairy-woodpecker.html", "species/downy-woodpecker.html")
BOTH = ("pairs/dowo-hawo.html", "cards/dowo-hawo.html", "cards/index.html")
LAWN = ("pairs/amro-howr.html", "cards/amro-howr.html", "cards/index.html")
"""Where two look-alikes are held against each other."""

FINDING, WORDS = "data/finding.js", "data/words.js"
"""What names and marks, and what texts, are found by."""

SHARED = (
    "compare.html",
    "sorting.html",
    "data/marks.js",
    "data/sorting.js",
    FINDING,
    "colours.html",
    WORDS,
    *(f"data/species/{name}.js" for name in ("american-robin", "downy-woodpecker", "hairy-woodpecker", "house-wren")),
)
"""What numbers the statements of all accounts through, so that one more or less of them concerns all of it."""

HAIRY, DOWNY = "entries/species/hairy-woodpecker.md", "entries/species/downy-woodpecker.md"

SPECIES = """\
---
species: {name}
written: 2026-01-04
size:
  length: 18-26 cm
marks:
  all: |
    bill: long
    back: white stripe
  male: |
    nape: red patch
similar:
  {other}: the bill
sketches:
  - file: bird.png
    alt: a bird
---
At the weir. See [the place](../weir.md#the-path) and {other}.
"""

OUTING = "---\nouting: {day}\nplace: weir\nstart: 08:10\nminutes: 60\ncounts: |\n  {count}\n---\n"

FILES = {
    "guide.yaml": "title: The river\nbase address: https://example.org/\nauthor: A. Watcher\n",
    HAIRY: SPECIES.format(name="Hairy Woodpecker", other="DOWO"),
    DOWNY: SPECIES.format(name="Downy Woodpecker", other="HAWO"),
    "entries/species/robin.md": "---\nspecies: American Robin\nmarks: |\n  breast: brick red\n---\nOn the lawn.\n",
    "entries/species/wren.md": "---\nspecies: House Wren\nsimilar: [AMRO]\ncolour: brown\n---\nIn the hedge; AMRO.\n",
    "entries/flocks/roving.md": "---\nflock: Roving band\nmembers: [DOWO, AMRO]\n---\nIn oaks, [there](nowhere.md).\n",
    "entries/weir.md": "---\nplace: The weir\nid: weir\nhabitat: [river]\n---\n## The path\n\nNarrow.\n",
    "entries/2026-05-02.md": OUTING.format(day="2026-05-02", count="DOWO: 2"),
    "entries/2026-05-03.md": OUTING.format(day="2026-05-03", count="AMRO: 4"),
    "entries/grey.md": "---\nunknown: Grey bird\nseen: 2026-05-03\nplace: weir\ncould be: [HAWO, AMRO]\n---\nGrey.\n",
}


def replaced(path: str, old: str, new: str) -> Callable[[Path], None]:
    """Make an edit that puts one text for another."""

    def edit(folder: Path) -> None:
        text = (folder / path).read_text(encoding="utf-8")
        assert old in text
        (folder / path).write_text(text.replace(old, new), encoding="utf-8")

    return edit


def written(path: str, text: str) -> Callable[[Path], None]:
    """Make an edit that writes a file."""

    def edit(folder: Path) -> None:
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")

    return edit


def drawn(folder: Path) -> None:
    """Draw the picture anew."""
    Image.linear_gradient("L").rotate(90).save(folder / "entries/species/bird.png")


EDITS: dict[str, Callable[[Path], object]] = {
    "nothing": lambda _: None,
    "a phrase": replaced(HAIRY, "bill: long", "bill: very long"),
    "a phrase of a fault": replaced(HAIRY, "bill: long", "bill: long, never long"),
    "a part more": replaced(HAIRY, "bill: long", "bill: long\n    crown: black"),
    "a part unknown": replaced(HAIRY, "bill: long", "bil: long"),
    "a part gone": replaced(DOWNY, "    back: white stripe\n", ""),
    "the remark on the other": replaced(DOWNY, "the bill", "the voice"),
    "a size": replaced(HAIRY, "length: 18-26 cm", "length: 58-66 cm"),
    "a size class": replaced(HAIRY, "size:\n", "size:\n  class: smaller than a robin\n"),
    "the name": replaced(HAIRY, "Hairy Woodpecker", "Acorn Woodpecker"),
    "a code": replaced(HAIRY, "written:", "code: HAWP\nwritten:"),
    "a code malformed": replaced(HAIRY, "written:", "code: HAW0\nwritten:"),
    "a look-alike more": replaced("entries/species/robin.md", "marks:", "similar: [HOWR]\nmarks:"),
    "a look-alike gone": replaced(DOWNY, "similar:\n  HAWO: the bill\n", ""),
    "a look-alike unknown": replaced("entries/species/wren.md", "[AMRO]", "[AMRO, XXXX]"),
    "a sketch more": replaced("entries/species/robin.md", "marks:", "photos: [bird.png]\nmarks:"),
    "the words of a sketch": replaced(HAIRY, "alt: a bird", "alt: a black bird\n    caption: with DOWO"),
    "a picture in the text": replaced("entries/species/robin.md", "On the lawn.", "![A bird](bird.png)"),
    "a picture that is missing": replaced(HAIRY, "bird.png", "brid.png"),
    "a date": replaced(DOWNY, "2026-01-04", "2026-01-05"),
    "dates the wrong way round": replaced(DOWNY, "2026-01-04", "2026-01-04\nchanged: 2026-01-03"),
    "counts": replaced("entries/2026-05-02.md", "DOWO: 2", "DOWO: 3\n  HAWO: 1"),
    "an hour": replaced("entries/2026-05-02.md", "minutes: 60", "minutes: 9000"),
    "a day": replaced("entries/2026-05-02.md", "2026-05-02", "2026-05-01"),
    "a place named": replaced("entries/2026-05-02.md", "weir", "mill"),
    "a place's own name": replaced("entries/weir.md", "The weir", "The old weir"),
    "a heading linked to": replaced("entries/weir.md", "## The path", "## The bank"),
    "a habitat": replaced("entries/weir.md", "[river]", "[river, alders]"),
    "a flock's members": replaced("entries/flocks/roving.md", "AMRO", "HAWO"),
    "a flock's text": replaced("entries/flocks/roving.md", "In oaks", "In old oaks"),
    "an unknown bird settled": replaced("entries/grey.md", "could be:", "settled: HAWO\ncould be:"),
    "a link in the text": replaced("entries/species/robin.md", "On the lawn.", "On the lawn, [there](../weir.md)."),
    "a link that is dead": replaced("entries/species/robin.md", "On the lawn.", "[there](nowhere.md)"),
    "an outing's text": replaced("entries/2026-05-02.md", "\n---\n", "\n---\nQuiet. "),
    "a place's text": replaced("entries/weir.md", "Narrow.", "Narrow and wet."),
    "an unknown bird's text": replaced("entries/grey.md", "\nGrey.", "\nPale grey, AMRO beside it."),
    "a position in the text": replaced("entries/grey.md", "\nGrey.", "\nAt 45.123, -75.456."),
    "a picture in the text that is missing": replaced("entries/grey.md", "\nGrey.", "\n![Grey](grey.png)"),
    "a line above a fault in the text": replaced("entries/flocks/roving.md", "members:", "where: [oaks]\nmembers:"),
    "a text that is gone": replaced("entries/weir.md", "## The path\n\nNarrow.\n", ""),
    "a fence that is gone": replaced("entries/species/robin.md", "\n---\nOn", "\nOn"),
    "a blank line on top of the text": replaced("entries/species/robin.md", "\n---\nOn", "\n---\n\nOn"),
    "a code in the text": replaced("entries/species/robin.md", "On the lawn.", "With HAWO."),
    "an entry broken": replaced(HAIRY, "marks:\n", "marks: [\n"),
    "an entry that loses its name": replaced("entries/species/wren.md", "species: House Wren", "species:"),
    "an entry deleted": lambda folder: (folder / "entries/species/wren.md").unlink(),
    "an entry more": written(
        "entries/new.md", "---\nspecies: Downy Tit\ncode: DOTI\nsimilar: [DOWO]\n---\nAMRO too.\n"
    ),
    "an entry twice": written("entries/new.md", "---\nspecies: House Wren\n---\n"),
    "an entry moved": lambda folder: (folder / HAIRY).rename(folder / "entries/h.md"),
    "the title": replaced("guide.yaml", "The river", "The pond"),
    "own words": written("guide.yaml", "title: The river\nwords:\n  part:\n    bil: bill\n"),
    "a layout": written("layouts/not-found.html", "gone\n"),
    "a layout at fault": written("layouts/not-found.html", "{{ nothing }}\n"),
    "a style sheet": written("layouts/assets/guide.css", "p { margin: 0 }\n"),
    "a part of the style sheet": written("layouts/style/own.css", "p { margin: 0 }\n"),
    "a picture": drawn,
    "a page gone": lambda folder: (folder / "build/species/house-wren.html").unlink(),
}


@pytest.fixture
def guide(make_guide: MakeGuide) -> Path:
    """A small guide that was built, long after its files were written."""
    folder = make_guide(FILES)
    Image.linear_gradient("L").save(folder / "entries/species/bird.png")
    age(folder)
    assert build_guide(folder).pages > 15
    return folder


def age(folder: Path) -> None:
    """Make the files of a guide old enough to be trusted."""
    for path in folder.rglob("*"):
        if path.is_file() and path.relative_to(folder).parts[0] in ("entries", "guide.yaml", "layouts"):
            os.utime(path, LONG_AGO)


def built_anew(folder: Path, target: Path) -> tuple[str, int]:
    """Build a copy of a guide of which nothing is kept."""
    shutil.copytree(folder, target, ignore=lambda _, names: [each for each in names if each in ("build", ".tertial")])
    build = build_guide(target)
    return full(build.report), build.pages


@pytest.mark.parametrize("name", EDITS)
def test_a_build_after_an_edit_is_that_of_the_whole_guide(guide: Path, tmp_path: Path, tree: Tree, name: str) -> None:
    """Pages and report after an edit, and after it is taken back, are those of a build that knows of none before."""
    before = tree(guide / "build")
    saved = tmp_path / "saved"
    shutil.copytree(guide, saved, ignore=shutil.ignore_patterns("build", ".tertial"))
    EDITS[name](guide)
    build = build_guide(guide)
    assert (full(build.report), build.pages) == built_anew(guide, tmp_path / "anew")
    anew = tmp_path / "anew/build"
    assert tree(guide / "build") == (tree(anew) if build.pages else before)

    for folder in ("entries", "layouts"):
        shutil.rmtree(guide / folder, ignore_errors=True)
    shutil.copytree(saved, guide, dirs_exist_ok=True)
    build_guide(guide)
    assert tree(guide / "build") == before


@pytest.mark.parametrize("settings", ["codes: IBP\n", "codes: BBL\n", "language: fr\n"])
def test_a_malformed_code_is_on_no_page(guide: Path, tree: Tree, settings: str) -> None:
    """Whatever the list and the language, pages are what they are without it, and it alone is told of."""
    (guide / "guide.yaml").write_text(FILES["guide.yaml"] + settings, encoding="utf-8")
    told = [(each.word, each.message) for each in build_guide(guide).report.problems]
    before = tree(guide / "build")
    EDITS["a code malformed"](guide)
    more = [each for each in build_guide(guide).report.problems if (each.word, each.message) not in told]
    assert tree(guide / "build") == before
    assert [each.word for each in more] == ["code-malformed"]


@pytest.fixture
def rendered(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The paths of all pages that are rendered from now on."""
    paths: list[str] = []
    render = Renderer.render

    def noted(self: Renderer, page: Page) -> bytes | Problem:
        paths.append(page.path)
        return render(self, page)

    monkeypatch.setattr(Renderer, "render", noted)
    return paths


@pytest.mark.parametrize(
    ("edit", "pages"),
    [
        ("nothing", set()),
        ("a phrase", {*ACCOUNTS, *BOTH, *GREY, *SHARED}),
        ("a part more", {*ACCOUNTS, *BOTH, "parts.html", *GREY, *SHARED}),
        ("the remark on the other", {*ACCOUNTS, *BOTH, "pairs/index.html", WORDS}),
        ("a code malformed", {*ACCOUNTS, *BOTH, *GREY}),
        ("a flock's text", {"flocks/roving-band.html", WORDS}),
        ("a code in the text", {"species/american-robin.html", WORDS}),
        ("an outing's text", {"outings/2026-05-02.html", WORDS}),
        ("a place's text", {"places/weir.html", *ACCOUNTS, WORDS}),
        ("counts", {"outings/2026-05-02.html", "outings/index.html", "places/weir.html", "where.html", FINDING, WORDS}),
    ],
)
def test_only_pages_that_an_edit_touches_are_rendered(
    guide: Path, rendered: list[str], edit: str, pages: set[str]
) -> None:
    """Whatever the size of the guide, an edit costs the pages that show what was edited."""
    EDITS[edit](guide)
    assert build_guide(guide).pages > 15
    assert set(rendered) == pages


def test_every_fact_that_is_asked_for_is_held_against_that_of_the_build_before(guide: Path) -> None:
    """A fact that is made only where it is asked for would not be known to have changed."""
    _, _, _, _, works, *_ = marshal.loads((guide / ".tertial/kept").read_bytes())
    asked = {fact for _, _, facts, *_ in works.values() for fact in facts}
    assert len(asked) > 8
    assert asked <= {fact.__name__ for fact in FACTS}


def test_only_the_entries_that_are_needed_are_read(guide: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A phrase costs the reading of its own entry and of those that are judged or shown together with it."""
    paths: list[str] = []
    read = loading.read_sheet

    def noted(ground: Ground, reads: Reads, path: str, before: Head | None) -> Sheet[Entry]:
        paths.append(path)
        return read(ground, reads, path, before)

    monkeypatch.setattr(working, "read_sheet", noted)
    EDITS["a phrase"](guide)
    build_guide(guide)
    assert paths == [HAIRY]
