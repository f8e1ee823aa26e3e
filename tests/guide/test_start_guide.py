"""A new guide: what is made, and that nothing which is already there is ever lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tertial.build import build_guide
from tertial.checks.every import check_guide
from tertial.loading import load_guide
from tertial.starting import Occupied, start_guide

if TYPE_CHECKING:
    from pathlib import Path


def tree(folder: Path) -> dict[str, bytes]:
    """Give the content of every file below a folder by its path."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_new_guide_has_settings_and_a_place_for_entries(tmp_path: Path) -> None:
    """It is made with the folders above it, and says what it made."""
    folder = tmp_path / "far/my-guide"
    made = [".gitignore", "guide.yaml", ".schema/entry.json", ".schema/guide.json"]
    assert start_guide(folder, demo=False) == tuple(folder / path for path in made)
    assert {path.name for path in folder.iterdir()} == {".gitignore", ".schema", "guide.yaml", "entries"}
    assert list((folder / "entries").iterdir()) == []


def test_there_is_nothing_to_mend_in_a_new_guide(tmp_path: Path) -> None:
    """No problem of any weight greets a newcomer, and the guide can be built at once."""
    start_guide(tmp_path / "new", demo=False)
    guide = load_guide(tmp_path / "new")
    assert (guide.problems, check_guide(guide)) == ((), ())
    assert build_guide(tmp_path / "new").pages > 0


def test_what_is_made_is_not_for_version_control(tmp_path: Path) -> None:
    """The ignore file names the two folders that only tertial writes to."""
    start_guide(tmp_path, demo=False)
    assert {"/build/", "/.tertial/"} <= set((tmp_path / ".gitignore").read_text(encoding="utf-8").splitlines())


def test_the_demo_is_the_checkout_s_own(tmp_path: Path, repository: Path) -> None:
    """Settings, entries and pictures come along byte for byte but for the comments that lead editors to schemas."""
    assert not isinstance(start_guide(tmp_path / "demo", demo=True), Occupied)
    made = tree(tmp_path / "demo")
    assert made.pop(".gitignore")
    modeline, _, settings = made.pop("guide.yaml").partition(b"\n")
    assert modeline.startswith(b"# yaml-language-server: ")
    assert settings == (repository / "guide.yaml").read_bytes()
    assert made.pop(".schema/entry.json")
    assert made.pop(".schema/guide.json")
    assert len([path for path in made if path.endswith(".md")]) > 5
    assert len([path for path in made if path.endswith(".jpg")]) > 5
    assert {path.partition("/")[0] for path in made} == {"entries"}
    for path, written in made.items():
        data = written
        if path.endswith(".md"):
            fence, comment, *rest = written.splitlines(keepends=True)
            schema = comment.decode().strip().removeprefix("# yaml-language-server: $schema=")
            assert (tmp_path / "demo" / path).parent.joinpath(schema).resolve() == tmp_path / "demo/.schema/entry.json"
            data = b"".join([fence, *rest])
        assert (repository / path).read_bytes() == data


def test_the_demo_has_no_fault(tmp_path: Path) -> None:
    """It shows how a guide should be: no error and no warning is said of it."""
    start_guide(tmp_path / "demo", demo=True)
    guide = load_guide(tmp_path / "demo")
    assert guide.files > 5
    labels = {problem.severity.label for problem in (*guide.problems, *check_guide(guide))}
    assert labels <= {"gap", "remark"}


@pytest.mark.parametrize("demo", [False, True])
def test_a_guide_is_never_written_over(tmp_path: Path, demo: bool) -> None:
    """Where there is a ``guide.yaml``, nothing is made at all."""
    (tmp_path / "guide.yaml").write_bytes(b"title: Mine\n")
    made = start_guide(tmp_path, demo=demo)
    assert isinstance(made, Occupied)
    assert "guide.yaml" in made.reason
    assert tree(tmp_path) == {"guide.yaml": b"title: Mine\n"}
    assert not (tmp_path / "entries").exists()


def test_an_entry_in_the_demo_s_place_stops_it(tmp_path: Path) -> None:
    """One file of the author's with the name of one of the demo's, and nothing is made."""
    mine = tmp_path / "entries/species/hairy-woodpecker.md"
    mine.parent.mkdir(parents=True)
    mine.write_bytes(b"mine")
    made = start_guide(tmp_path, demo=True)
    assert isinstance(made, Occupied)
    assert "hairy-woodpecker.md" in made.reason
    assert tree(tmp_path) == {"entries/species/hairy-woodpecker.md": b"mine"}


def test_what_does_not_stand_in_the_way_stays(tmp_path: Path) -> None:
    """Files of other names, entries and an ignore file of one's own are kept as they are."""
    (tmp_path / "entries").mkdir()
    mine = {".gitignore": b"*.bak\n", "notes.txt": b"notes", "entries/a.md": b"---\nspecies: House Finch\n---\n"}
    for path, data in mine.items():
        (tmp_path / path).write_bytes(data)
    assert start_guide(tmp_path, demo=False) == tuple(
        tmp_path / path for path in ("guide.yaml", ".schema/entry.json", ".schema/guide.json")
    )
    made = tree(tmp_path)
    assert {path: made[path] for path in mine} == mine


def test_a_file_is_no_place_for_a_guide(tmp_path: Path) -> None:
    """The name of a file is answered with what was expected, and the file stays."""
    (tmp_path / "mine").write_bytes(b"mine")
    made = start_guide(tmp_path / "mine", demo=False)
    assert isinstance(made, Occupied)
    assert made.reason.endswith("the name of a folder was expected")
    assert (tmp_path / "mine").read_bytes() == b"mine"
