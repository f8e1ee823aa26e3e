"""What stops a build: errors leave the finished guide as it was, warnings do not hold it up."""

from __future__ import annotations

import resource
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from tertial.build import build_guide
from tertial.stage import InTheWay, Outcome

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]
    Tree = Callable[[Path], dict[str, bytes]]
    Stamps = Callable[[Path], dict[str, tuple[int, int]]]

ENTRY = "---\nspecies: Hairy Woodpecker\n---\nAt the mill.\n"


@pytest.mark.parametrize(
    ("word", "path", "content"),
    [
        ("yaml-syntax", "entries/b.md", "---\nspecies: Downy Woodpecker\nmarks: [\n---\n"),
        ("no-front-matter", "entries/b.md", "Nothing but text.\n"),
        ("not-text", "entries/b.md", b"---\nspecies: Downy Woodpecker\n---\n\xff\n"),
        ("same-species", "entries/b.md", "---\nspecies: Hairy Woodpecker\n---\n"),
        ("same-code", "entries/b.md", "---\nspecies: Downy Woodpecker\ncode: HAWO\n---\n"),
        ("picture-missing", "entries/b.md", "---\nspecies: Downy Woodpecker\n---\n![a bird](nowhere.png)\n"),
        ("picture-unreadable", "entries/b.md", "---\nspecies: Downy Woodpecker\n---\n![a bird](a.md)\n"),
        ("layout-fault", "layouts/species.html", "{{ nothing }}\n"),
        ("not-text", "guide.yaml", b"title: \xff\n"),
    ],
)
def test_an_error_leaves_the_finished_guide_untouched(
    make_guide: MakeGuide, tree: Tree, stamps: Stamps, word: str, path: str, content: str | bytes
) -> None:
    """Whatever the error, no file of the finished guide is written, changed or removed."""
    folder = make_guide({"entries/a.md": ENTRY})
    assert build_guide(folder).pages
    before, touched = tree(folder / "build"), stamps(folder / "build")
    make_guide({"entries/a.md": ENTRY.replace("mill", "weir"), path: content})
    build = build_guide(folder)
    assert word in {problem.word for problem in build.report.problems}
    assert build.report.exit_code == 1
    assert (build.pages, build.outcome) == (0, None)
    assert (tree(folder / "build"), stamps(folder / "build")) == (before, touched)


def test_an_error_makes_no_finished_guide(make_guide: MakeGuide) -> None:
    """A first build that fails leaves no folder that could be taken for a guide."""
    folder = make_guide({"entries/a.md": "no front matter"})
    assert build_guide(folder).outcome is None
    assert not (folder / "build").exists()


def test_warnings_and_gaps_do_not_stop_a_build(make_guide: MakeGuide) -> None:
    """An unknown key and a look-alike without account are said, and the pages are written all the same."""
    folder = make_guide({"entries/a.md": "---\nspecies: Hairy Woodpecker\ncolour: black\nsimilar: [DOWO]\n---\n"})
    build = build_guide(folder)
    assert {problem.word for problem in build.report.problems} == {"unknown-key", "no-account"}
    assert isinstance(build.outcome, Outcome)
    assert (folder / "build/species/hairy-woodpecker.html").is_file()


def test_an_entry_that_is_gone_takes_its_page_along(make_guide: MakeGuide) -> None:
    """Pages of an account that was deleted are removed, those of the others stay."""
    folder = make_guide({"entries/a.md": ENTRY, "entries/b.md": "---\nspecies: Downy Woodpecker\n---\n"})
    build_guide(folder)
    (folder / "entries/b.md").unlink()
    outcome = build_guide(folder).outcome
    assert isinstance(outcome, Outcome)
    assert outcome.removed == ("data/species/downy-woodpecker.js", "species/downy-woodpecker.html")
    assert (folder / "build/species/hairy-woodpecker.html").is_file()


def test_a_page_edited_by_hand_stops_a_build(make_guide: MakeGuide, tree: Tree) -> None:
    """What someone changed in the finished guide is not written over, and no other page is either."""
    folder = make_guide({"entries/a.md": ENTRY})
    build_guide(folder)
    (folder / "build/index.html").write_text("mine", encoding="utf-8")
    before = tree(folder / "build")
    make_guide({"guide.yaml": "title: Another\n"})
    assert build_guide(folder).outcome == InTheWay(("index.html",))
    assert tree(folder / "build") == before


def test_a_disk_that_is_full_leaves_the_former_guide(make_guide: MakeGuide, tree: Tree) -> None:
    """The command ends with one line and exit code 2, and the finished guide is as it was; later it is built."""
    folder = make_guide({"entries/a.md": ENTRY})
    build_guide(folder)
    before = tree(folder / "build")
    make_guide({"guide.yaml": "title: Another\n"})
    done = subprocess.run(
        [sys.executable, "-m", "tertial", "build", "--guide", str(folder)],
        # As setrlimit(2) of POSIX has it, writing past this size fails; the page of parts is longer.
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000)),
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 2
    assert done.stderr.splitlines()[-1].startswith("tertial could not go on: ")
    assert "Traceback" not in done.stderr
    assert tree(folder / "build") == before
    assert isinstance(build_guide(folder).outcome, Outcome)
    assert "Another" in (folder / "build/index.html").read_text(encoding="utf-8")


def test_progress_is_told_in_order(make_guide: MakeGuide) -> None:
    """Whoever watches is told what comes next, and nothing of what an error made needless."""
    told: list[str] = []
    folder = make_guide({"entries/a.md": ENTRY})
    build_guide(folder, told.append)
    assert told == ["reading the entries", "looking at the pictures", "writing the pages"]
    told.clear()
    make_guide({"entries/a.md": "broken"})
    build_guide(folder, told.append)
    assert told == ["reading the entries"]
