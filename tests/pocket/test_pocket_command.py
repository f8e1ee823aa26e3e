"""The command that makes the pocket guide: the same bytes each time, and a clear word where it cannot."""

from __future__ import annotations

import datetime as dt
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner
from pypdf import PdfReader
from tests.pocket.conftest import set_demo

from tertial import pocket
from tertial.cli import main
from tertial.pocket import FILE, OUTPUT
from tertial.typesetting import Unset

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from pathlib import Path

BIRD = """---
species: Hairy Woodpecker
{more}
marks:
  all: |
    bill: black
---
*Shy*, and **loud**; see [the weir](https://example.org/).

# Łódź and the ♂

> 1. not DOWO

![a bird](bird.png)
"""


def told(folder: Path) -> tuple[int, str, str]:
    """Run the command, and give its exit code and what it says."""
    ran = CliRunner().invoke(main, ["pocket", "--guide", str(folder)])
    return ran.exit_code, ran.stdout, ran.stderr


@pytest.fixture
def guide(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Path:
    """A guide of one bird, with letters of many kinds."""
    return make_guide({"entries/hairy.md": BIRD.format(more="").replace("![a bird](bird.png)\n", "")})


def test_the_same_guide_gives_the_same_bytes_anywhere(demo: Path, tmp_path: Path) -> None:
    """Made anew in another folder, the book is the same to the byte."""
    assert set_demo(tmp_path) == (demo / OUTPUT / FILE).read_bytes()


def test_the_command_names_its_file(guide: Path) -> None:
    """It prints where the book is; made again, nothing is said to have changed and nothing has."""
    code, out, err = told(guide)
    assert (code, out, err) == (0, f"{guide / OUTPUT / FILE}\n", "")
    before = (guide / OUTPUT / FILE).read_bytes()
    assert before.startswith(b"%PDF-")
    assert told(guide) == (code, out, err)
    assert (guide / OUTPUT / FILE).read_bytes() == before


@pytest.mark.parametrize("package", ["typst", "fontTools", "brotli"])
def test_without_the_typesetter_it_says_what_to_install(
    package: str, guide: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One line on what is missing, one on how to mend it, and no file."""
    for name in [name for name in sys.modules if name.partition(".")[0] == package]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, package, None)
    code, out, err = told(guide)
    assert (code, out) == (2, "")
    first, second = err.splitlines()
    assert first.startswith("no pocket guide written: the typesetter is not installed")
    assert second == "    mend: pip install 'tertial[pdf]'"
    assert not (guide / OUTPUT).exists()


def test_a_fault_in_a_template_of_the_guides_own_is_named(guide: Path) -> None:
    """A template in the guide's own layouts is used, and what is wrong in it is told with its line."""
    (guide / "layouts").mkdir()
    (guide / "layouts/pocket.typ").write_text("#set document(title: [x])\n#nothing\n", encoding="utf-8")
    code, out, err = told(guide)
    assert (code, out) == (2, "")
    assert "unknown variable: nothing" in err
    assert "pocket.typ:2" in err
    assert err.endswith("mend: mend layouts/pocket.typ of the guide, or remove it to use the built-in one\n")


def test_a_sign_that_no_font_has_is_named_with_its_place(
    make_guide: Callable[[Mapping[str, str | bytes]], Path],
) -> None:
    """Who has to write it in words is told what and where; nobody is told to wait for another template."""
    entry = "---\nspecies: Hairy Woodpecker\n---\n\nOn the trunk \U0001f426.\n"
    code, _, err = told(make_guide({"entries/a.md": entry}))
    assert code == 2
    assert "no font of the book has '\U0001f426' (entries/a.md:5)" in err
    assert "mend: write it in other words, wherever it stands" in err


def test_errors_stop_the_book(guide: Path) -> None:
    """A guide with an error gets no book, but the error; the book of before stays."""
    assert told(guide)[0] == 0
    before = (guide / OUTPUT / FILE).read_bytes()
    (guide / "entries/hairy.md").write_text(BIRD.format(more="sketches: [{file: none.png}]"), encoding="utf-8")
    code, out, err = told(guide)
    assert code == 1
    assert "[picture-missing]" in out
    assert err.endswith("pocket/ is left as it was.\n")
    assert (guide / OUTPUT / FILE).read_bytes() == before


def test_a_file_that_is_not_ours_is_left_alone(guide: Path) -> None:
    """A book that was changed by hand is not written over."""
    (guide / OUTPUT).mkdir()
    (guide / OUTPUT / FILE).write_text("mine", encoding="utf-8")
    code, _, err = told(guide)
    assert code == 2
    assert f"pocket/{FILE} is not tertial's" in err
    assert (guide / OUTPUT / FILE).read_text(encoding="utf-8") == "mine"


def test_a_guide_without_entries_has_a_book(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """What is not there is left out; cover and cautions remain."""
    assert told(make_guide({}))[0] == 0


def test_words_between_backticks_are_as_large_as_codes(
    make_guide: Callable[[Mapping[str, str | bytes]], Path],
) -> None:
    """A code that is no link stands in a text as large as one that is."""
    entry = "---\nspecies: Downy Woodpecker\nmarks:\n  all: |\n    bill: short\n---\nOne [DOWO], two `HAWO`, three.\n"
    folder = make_guide({"entries/downy.md": entry})
    assert told(folder)[0] == 0
    sizes: dict[str, set[float]] = {}

    def note(text: str, _: object, matrix: Sequence[float], __: object, size: float) -> None:
        for code in ("DOWO", "HAWO"):
            if code in text:
                sizes.setdefault(code, set()).add(round(size * abs(matrix[3]), 2))

    for page in PdfReader(folder / OUTPUT / FILE).pages:
        page.extract_text(visitor_text=note)
    assert sizes["HAWO"] <= sizes["DOWO"]


def test_two_runs_set_their_books_one_after_the_other(guide: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the typesetter reads lies in one folder, which the second run may empty when the first is done."""
    at_once: list[int] = []
    setting: list[None] = []

    def set_slowly(*_: object) -> Unset:
        setting.append(None)
        at_once.append(len(setting))
        time.sleep(0.3)
        setting.pop()
        return Unset("not set", "")

    monkeypatch.setattr(pocket, "typeset", set_slowly)
    with ThreadPoolExecutor(2) as runs:
        for made in [runs.submit(pocket.make_pocket_guide, guide, dt.date(2026, 1, 1)) for _ in range(2)]:
            assert made.result().outcome == Unset("not set", "")
    assert at_once == [1, 1]
