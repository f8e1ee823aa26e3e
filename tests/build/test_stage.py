"""Putting files into the finished guide: what is written, what is left alone, what stops everything."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tertial import stage
from tertial.stage import OWN_LIST, InTheWay, Outcome, Stored, heal, is_unfinished, put

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Tree = Callable[[Path], dict[str, bytes]]
    Stamps = Callable[[Path], dict[str, tuple[int, int]]]

FILES: dict[str, bytes | Path] = {
    "index.html": b"front",
    "codes.html": b"codes",
    "species/hawo.html": b"the bigger one",
    "species/dowo.html": b"the smaller one",
    "assets/fonts/a.woff2": b"letters",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A finished guide with ``FILES`` in it."""
    outcome = put(tmp_path / "build", tmp_path / "work", FILES)
    assert isinstance(outcome, Outcome)
    return tmp_path / "build"


def put_again(folder: Path, files: dict[str, bytes | Path]) -> Outcome | InTheWay:
    return put(folder, folder.parent / "work", files)


def pages(folder: Path, tree: Tree) -> dict[str, bytes]:
    """Give the files of a folder without the list of our own."""
    return {path: data for path, data in tree(folder).items() if path != OWN_LIST}


def list_by_hand(folder: Path, files: dict[str, bytes]) -> None:
    """Write a list of our own as a stranger might; lines as ``sha256sum`` of GNU coreutils prints them."""
    lines = [f"{hashlib.sha256(data).hexdigest()}  {path}\n" for path, data in files.items()]
    (folder / OWN_LIST).write_text("".join(lines), encoding="utf-8")


def test_the_first_writing_makes_every_file(tmp_path: Path, tree: Tree) -> None:
    """A folder that is not there is made, with each file in it and a list of them."""
    outcome = put(tmp_path / "new/build", tmp_path / "new/work", FILES)
    assert outcome == Outcome(tuple(sorted(FILES)), 0, (), ())
    assert pages(tmp_path / "new/build", tree) == FILES
    assert pages(tmp_path / "new/work", tree) == {"lock": b""}


def test_the_list_of_our_own_is_one_that_checksum_tools_read(folder: Path) -> None:
    """A line is the digest, two blanks and the path, as ``sha256sum`` of GNU coreutils prints them."""
    assert (folder / OWN_LIST).read_text(encoding="utf-8").splitlines()[0] == (
        f"{hashlib.sha256(b'letters').hexdigest()}  assets/fonts/a.woff2"
    )


def test_what_has_not_changed_is_not_touched(folder: Path, stamps: Stamps) -> None:
    """A second writing of the same leaves every file as it is on the disk, the list included."""
    before = stamps(folder)
    assert put_again(folder, FILES) == Outcome((), len(FILES), (), ())
    assert stamps(folder) == before


def test_only_what_changed_is_written(folder: Path, tree: Tree, stamps: Stamps) -> None:
    """One page that is new and one that is changed are written, and no other is touched."""
    before = stamps(folder)
    outcome = put_again(folder, {**FILES, "codes.html": b"more codes", "notes.html": b"new"})
    assert outcome == Outcome(("codes.html", "notes.html"), len(FILES) - 1, (), ())
    assert tree(folder)["codes.html"] == b"more codes"
    assert {path for path, stamp in stamps(folder).items() if before.get(path) != stamp} == {
        "codes.html",
        "notes.html",
        OWN_LIST,
    }


def test_what_the_guide_no_longer_has_is_removed(folder: Path) -> None:
    """A page without its entry goes, and so does the folder that it leaves empty."""
    outcome = put_again(folder, {path: data for path, data in FILES.items() if not path.startswith("assets/")})
    assert outcome == Outcome((), 4, ("assets/fonts/a.woff2",), ())
    assert not (folder / "assets").exists()
    assert (folder / "species").is_dir()


def test_a_file_may_be_given_by_its_path(tmp_path: Path) -> None:
    """A picture or a font is copied from where it lies."""
    original = tmp_path / "original.css"
    original.write_bytes(b"a { color: red }")
    put(tmp_path / "build", tmp_path / "work", {"assets/guide.css": original})
    assert (tmp_path / "build/assets/guide.css").read_bytes() == original.read_bytes()
    assert put(tmp_path / "build", tmp_path / "work", {"assets/guide.css": original}) == Outcome((), 1, (), ())


def test_files_of_others_are_left_and_named(folder: Path, tree: Tree) -> None:
    """What someone else put into the folder stays there, whatever becomes of our files around it."""
    (folder / "CNAME").write_bytes(b"birds.example.org")
    (folder / "species/mine.html").write_bytes(b"mine")
    outcome = put_again(folder, {"index.html": b"front"})
    assert isinstance(outcome, Outcome)
    assert outcome.foreign == ("CNAME", "species/mine.html")
    assert pages(folder, tree) == {"index.html": b"front", "CNAME": b"birds.example.org", "species/mine.html": b"mine"}


def test_an_ignore_file_is_nobody_s(folder: Path) -> None:
    """A ``.gitignore`` in the folder is neither ours nor worth naming."""
    (folder / ".gitignore").write_bytes(b"*\n")
    assert put_again(folder, FILES) == Outcome((), len(FILES), (), ())
    assert (folder / ".gitignore").read_bytes() == b"*\n"


def test_a_file_of_another_s_in_the_way_stops_everything(folder: Path, tree: Tree, stamps: Stamps) -> None:
    """Where a stranger's file stands in the place of a new page, nothing at all is written or removed."""
    (folder / "notes.html").write_bytes(b"mine")
    before, touched = tree(folder), stamps(folder)
    assert put_again(folder, {"index.html": b"new", "notes.html": b"ours"}) == InTheWay(("notes.html",))
    assert (tree(folder), stamps(folder)) == (before, touched)


def test_a_file_of_ours_changed_by_hand_stops_everything(folder: Path, tree: Tree, stamps: Stamps) -> None:
    """A page that someone edited in the finished guide is not written over."""
    (folder / "codes.html").write_bytes(b"edited")
    before, touched = tree(folder), stamps(folder)
    assert put_again(folder, {**FILES, "index.html": b"new"}) == InTheWay(("codes.html",))
    assert (tree(folder), stamps(folder)) == (before, touched)


def test_a_page_changed_by_hand_outlives_its_entry(folder: Path) -> None:
    """A page that someone edited is no longer ours to remove: it is named among the files of others."""
    (folder / "codes.html").write_bytes(b"edited")
    outcome = put_again(folder, {path: data for path, data in FILES.items() if path != "codes.html"})
    assert outcome == Outcome((), 4, (), ("codes.html",))
    assert (folder / "codes.html").read_bytes() == b"edited"


def test_a_stranger_s_file_that_says_the_same_is_taken_over(folder: Path) -> None:
    """What already is as it should be is no quarrel, and is ours from then on."""
    (folder / "notes.html").write_bytes(b"the same")
    assert put_again(folder, {**FILES, "notes.html": b"the same"}) == Outcome((), len(FILES) + 1, (), ())
    assert put_again(folder, FILES) == Outcome((), len(FILES), ("notes.html",), ())


def test_a_page_cut_to_nothing_is_mended(folder: Path) -> None:
    """A file of ours that a failing disk left empty is written anew, though it is not as we left it."""
    (folder / "codes.html").write_bytes(b"")
    assert put_again(folder, FILES) == Outcome(("codes.html",), len(FILES) - 1, (), ())


@pytest.mark.parametrize("name", ["species", "species/hawo.html", "index.html"])
@pytest.mark.parametrize("kind", ["link", "dangling link", "folder or file", "pipe"])
def test_what_is_no_plain_file_stops_everything(tmp_path: Path, tree: Tree, name: str, kind: str) -> None:
    """Links, folders, files in a folder's place and pipes are neither followed nor replaced."""
    folder, elsewhere = tmp_path / "build", tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "hawo.html").write_bytes(b"not ours")
    target = folder / name
    target.parent.mkdir(parents=True)
    if kind == "link":
        target.symlink_to(elsewhere if name == "species" else elsewhere / "hawo.html")
    elif kind == "dangling link":
        target.symlink_to(tmp_path / "nowhere")
    elif kind == "pipe":
        os.mkfifo(target)
    elif name == "species":
        target.write_bytes(b"a file")
    else:
        target.mkdir()
    outcome = put(folder, tmp_path / "work", FILES)
    assert isinstance(outcome, InTheWay)
    assert name in outcome.paths
    assert tree(elsewhere) == {"hawo.html": b"not ours"}
    assert not (folder / "codes.html").exists()
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.parametrize(
    "hostile", ["../private.md", "species/../../private.md", "ABSOLUTE", "door/private.md", "door"]
)
def test_a_list_that_leads_out_of_the_folder_deletes_nothing(folder: Path, hostile: str) -> None:
    """Whoever writes to the list of our own, no file outside the folder is removed, nor a link that is not ours."""
    private = folder.parent / "private.md"
    private.write_bytes(b"private")
    (folder / "door").symlink_to(folder.parent if hostile == "door/private.md" else private)
    name = str(private) if hostile == "ABSOLUTE" else hostile
    list_by_hand(folder, {**{path: data for path, data in FILES.items() if isinstance(data, bytes)}, name: b"private"})
    outcome = put_again(folder, FILES)
    assert isinstance(outcome, Outcome)
    assert outcome.removed == ()
    assert private.read_bytes() == b"private"
    assert (folder / "door").is_symlink()


@pytest.mark.parametrize("field", ["moves", "removes"])
def test_a_journal_that_leads_out_of_the_folder_changes_nothing(folder: Path, field: str) -> None:
    """A journal that someone else wrote neither moves nor removes files outside the folder."""
    private, staged = folder.parent / "private.md", folder.parent / "work/stage/x"
    private.write_bytes(b"private")
    staged.parent.mkdir()
    plan = {"moves": "[]", "removes": "[]", "own list": '""', field: '["../private.md"]'}
    (folder.parent / "work/private.md").write_bytes(b"planted")
    text = ", ".join(f'"{key}": {value}' for key, value in plan.items())
    (folder.parent / "work/journal.json").write_text(f"{{{text}}}", encoding="utf-8")
    put_again(folder, FILES)
    assert private.read_bytes() == b"private"


def test_a_journal_is_finished_although_the_folder_was_deleted(folder: Path) -> None:
    """Who deletes the finished guide after a killed run, to begin anew, gets one that begins anew."""
    plan = {"moves": ["index.html"], "removes": [], "own list": ""}
    (folder.parent / "work/journal.json").write_text(json.dumps(plan), encoding="utf-8")
    shutil.rmtree(folder)
    heal(folder, folder.parent / "work")
    assert not is_unfinished(folder.parent / "work")
    assert put_again(folder, FILES) == Outcome(tuple(sorted(FILES)), 0, (), ())


def test_a_list_of_garbage_is_no_hindrance(folder: Path) -> None:
    """A list that cannot be read is replaced; files that are as they should be are taken over."""
    (folder / OWN_LIST).write_bytes(b"\xff\xfe\x00 no list\n\n  \n")
    assert put_again(folder, FILES) == Outcome((), len(FILES), (), ())
    assert put_again(folder, {"index.html": b"front"}) == Outcome((), 1, tuple(sorted(set(FILES) - {"index.html"})), ())


def test_names_that_are_no_utf_8_go_through(tmp_path: Path) -> None:
    """A font whose name has a stray byte is published, kept and removed like any other file."""
    name = os.fsdecode(b"assets/\xe9.woff2")
    assert put(tmp_path / "build", tmp_path / "work", {name: b"x"}) == Outcome((name,), 0, (), ())
    assert put(tmp_path / "build", tmp_path / "work", {name: b"x"}) == Outcome((), 1, (), ())
    assert put(tmp_path / "build", tmp_path / "work", {}) == Outcome((), 0, (name,), ())


def test_the_front_page_comes_last(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pictures and fonts are in place before the pages that need them, and the front page after all."""
    order: list[str] = []
    replace = os.replace

    def watched(origin: str, target: str) -> None:
        order.append(Path(target).name)
        replace(origin, target)

    monkeypatch.setattr(os, "replace", watched)
    put(tmp_path / "build", tmp_path / "work", FILES)
    assert order == ["journal.json", "a.woff2", "codes.html", "dowo.html", "hawo.html", "index.html", OWN_LIST]


@pytest.mark.parametrize("failing", range(7))
def test_a_failing_disk_leaves_whole_pages_and_the_next_run_finishes(
    folder: Path, tree: Tree, monkeypatch: pytest.MonkeyPatch, failing: int
) -> None:
    """A rename that fails is reported; no page is half one and half the other, and a retry completes the work."""
    new: dict[str, bytes | Path] = {path: b"new " + path.encode() for path in FILES}
    replace, calls = os.replace, iter(range(100))

    def failing_replace(origin: str, target: str) -> None:
        if next(calls) == failing:
            raise PermissionError(13, "Permission denied", str(target))
        replace(origin, target)

    monkeypatch.setattr(os, "replace", failing_replace)
    with pytest.raises(PermissionError):
        put_again(folder, new)
    monkeypatch.undo()
    found = pages(folder, tree)
    assert all(found[path] in (FILES[path], new[path]) for path in FILES)
    assert failing > 0 or found == FILES
    assert isinstance(put_again(folder, new), Outcome)
    assert pages(folder, tree) == new


@pytest.mark.parametrize("many", [1, 1000])
def test_a_full_disk_leaves_the_former_guide(
    folder: Path, tree: Tree, stamps: Stamps, monkeypatch: pytest.MonkeyPatch, many: int
) -> None:
    """When there is no room for the new files, not one of the former is touched, and a retry finds no remains.

    It makes no difference whether two threads write or one does.
    """
    before, touched = tree(folder), stamps(folder)
    write, calls = stage._write, count()

    def full(path: str, data: bytes) -> None:
        if next(calls) < 2:
            return write(path, data)
        write(path, data[: len(data) // 2])
        raise OSError(28, "No space left on device", path)

    monkeypatch.setattr(stage, "_MANY", many)
    monkeypatch.setattr(stage, "_write", full)
    with pytest.raises(OSError, match="No space left"):
        put_again(folder, dict.fromkeys(FILES, b"new"))
    monkeypatch.undo()
    assert (tree(folder), stamps(folder)) == (before, touched)
    assert put_again(folder, {**FILES, "index.html": b"new"}) == Outcome(("index.html",), len(FILES) - 1, (), ())
    assert pages(folder.parent / "work", tree) == {"lock": b""}


def test_the_last_files_are_made_of_all_others(folder: Path, tree: Tree) -> None:
    """Written or settled, each is known by digest and length; what is made of them is ours as they are."""

    def last(known: Mapping[str, Stored]) -> dict[str, bytes]:
        lines = (f"{path} {known[path].digest} {known[path].length}\n" for path in sorted(known) if path != "sum")
        return {"sum": "".join(lines).encode()}

    for content in (b"new codes", b"newer"):
        put(folder, folder.parent / "work", {"codes.html": content}, tree(folder).keys() - {"codes.html"}, last)
        changed = {path: data for path, data in pages(folder, tree).items() if path != "sum"}
        assert changed == {**FILES, "codes.html": content}
        lines = (
            f"{path} {hashlib.sha256(changed[path]).hexdigest()} {len(changed[path])}\n" for path in sorted(changed)
        )
        assert (folder / "sum").read_text("utf-8") == "".join(lines)
    again = put(folder, folder.parent / "work", {**FILES, "codes.html": b"newer"}, (), last)
    assert again == Outcome((), len(FILES) + 1, (), ())


def test_the_last_files_never_take_a_stranger_s_place(folder: Path) -> None:
    """They are held to the same rule as all."""
    (folder / "sum").write_bytes(b"mine")
    outcome = put(folder, folder.parent / "work", FILES, (), lambda _: {"sum": b"ours"})
    assert outcome == InTheWay(("sum",))
    assert (folder / "sum").read_bytes() == b"mine"
