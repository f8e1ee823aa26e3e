"""What a build takes over from the last one without looking again, and when it must look."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from typing import TYPE_CHECKING
from unittest.mock import Mock

import pytest
from PIL import Image

from tertial import entrypoint, stage
from tertial.build import build_guide
from tertial.locking import alone
from tertial.names.birds import load_names

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Tree = Callable[[Path], dict[str, bytes]]
    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]
    Build = Callable[..., tuple[str, str, int]]

ACCOUNT = "---\nspecies: Hairy Woodpecker\nsketches:\n  - file: {}\n    alt: a bird\n---\nOn the trunk.\n"
LONG_AGO = (1_700_000_000, 1_700_000_000)


class _Ended(Exception):  # noqa: N818 - no fault
    """Stands for the end of the process."""


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Build:
    """Run the program with some words, as its first line does; give what it says, and its exit code."""

    def end(code: int) -> None:
        raise _Ended(code)

    def words(*words: str) -> tuple[str, str, int]:
        monkeypatch.setattr(sys, "argv", ["tertial", *words])
        with pytest.raises(_Ended) as ended:
            entrypoint.main()
        out, err = capsys.readouterr()
        return out, err, ended.value.args[0]

    load_names()
    monkeypatch.setattr(entrypoint, "_end", end)
    return words


def aged(folder: Path) -> Path:
    """Make the files of a guide old enough to be trusted."""
    for path in folder.rglob("*"):
        if path.is_file():
            os.utime(path, LONG_AGO)
    return folder


def no_build(*_: object) -> None:
    """Stand in for a build that must not be run."""
    pytest.fail("nothing has changed, and a build is run")


@pytest.mark.parametrize("picture", ["bird.png", "../pictures/bird.png", "sub/../bird.png", "linked/bird.png"])
def test_a_picture_that_changes_is_noticed_wherever_it_lies(
    make_guide: MakeGuide, run: Build, tree: Tree, monkeypatch: pytest.MonkeyPatch, picture: str
) -> None:
    """Until then the last answer is given again, and no build is run."""
    folder = make_guide({"entries/a.md": ACCOUNT.format(picture), "entries/sub/b.txt": ""})
    (folder / "pictures").mkdir()
    if picture.startswith("linked"):
        # Of the link there is a warning, because no entry is read there.
        (folder / "entries/linked").symlink_to("../pictures")
    file = (folder / "entries" / picture).resolve()
    grey = Image.linear_gradient("L")
    grey.save(file)
    command = ("build", "--guide", str(aged(folder)))
    out, err, code = run(*command)
    assert "0 unchanged" in err
    assert code == picture.startswith("linked")
    before = tree(folder / "build")
    with monkeypatch.context() as patched:
        patched.setattr(entrypoint, "_build", no_build)
        again = run(*command)
    assert again[0] == out
    assert "0 files written" in again[1]

    grey.rotate(90).save(file)
    assert "0 files written" not in run(*command)[1]
    after = tree(folder / "build")
    assert {path for path in after if path.endswith(".jpg")}.isdisjoint(before)
    assert "0 files written" in run(*command)[1]


def test_a_library_that_was_renewed_is_noticed(
    make_guide: MakeGuide, run: Build, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What another release of a library makes of the same files may be other pages."""
    libraries = tmp_path / "site-packages"
    libraries.mkdir()
    os.utime(libraries, LONG_AGO)
    monkeypatch.setattr(sys, "path", [str(libraries), *sys.path])
    command = ("build", "--guide", str(aged(make_guide({"entries/a.md": "---\nspecies: Hairy Woodpecker\n---\n"}))))
    run(*command)
    built = Mock(return_value=0)
    monkeypatch.setattr(entrypoint, "_build", built)
    run(*command)
    built.assert_not_called()
    (libraries / "jinja2-99.dist-info").mkdir()
    run(*command)
    built.assert_called_once()


def test_the_answer_names_the_folder_as_it_is_asked_for(
    make_guide: MakeGuide, run: Build, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A guide that is built from within and from without is named by a way that leads there."""
    folder = aged(make_guide({"entries/a.md": "---\nspecies: Hairy Woodpecker\n---\nOn the trunk.\n"}))
    monkeypatch.chdir(folder.parent)
    assert f"Open {folder.name}/build/index.html" in run("build", "--guide", folder.name)[1]
    monkeypatch.chdir(folder)
    assert f"Open {folder}/build/index.html" in run("build")[1]
    assert f"Open {folder}/build/index.html" in run("build")[1]


@pytest.mark.parametrize("times", [1, 2])
def test_a_reader_who_has_seen_enough_is_no_fault(make_guide: MakeGuide, times: int) -> None:
    """A report that nobody reads to its end leaves no trace of the program, the first time or said again."""
    gaps = {f"entries/{number}.md": f"---\nspecies: Bird {number}\nmarks: |\n  tail: ?\n---\n" for number in range(400)}
    command = [sys.executable, "-m", "tertial", "build", "--guide", str(aged(make_guide(gaps)))]
    # Without a buffer Python does not notice that the rest of a long text was not taken.
    env = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    if times == 2:
        subprocess.run(command, capture_output=True, check=False, env=env)
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=env) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        assert run.stdout.readline()
        run.stdout.close()
        assert b"Traceback" not in run.stderr.read()
    assert run.returncode == 1


def test_an_edit_taken_back_after_a_killed_build_leaves_no_page_of_it(
    make_guide: MakeGuide, tree: Tree, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a journal still has to put into place is put there before it is asked which pages are good."""
    entry = "entries/a.md"
    folder = aged(make_guide({entry: "---\nspecies: Hairy Woodpecker\n---\nOn the trunk.\n"}))
    build_guide(folder)
    before, text = tree(folder / "build"), (folder / entry).read_text(encoding="utf-8")
    (folder / entry).write_text(text.replace("trunk", "twigs"), encoding="utf-8")

    def broken(*_: object) -> None:
        raise OSError(5, "the disk is gone")

    with monkeypatch.context() as patched:
        patched.setattr(stage, "heal", _once(stage.heal, broken))
        with pytest.raises(OSError, match="the disk is gone"):
            build_guide(folder)
    assert (folder / ".tertial/journal.json").exists()
    assert tree(folder / "build") == before

    (folder / entry).write_text(text, encoding="utf-8")
    build_guide(folder)
    assert tree(folder / "build") == before


def _once(first: Callable[..., None], then: Callable[..., None]) -> Callable[..., None]:
    """Make a function that does one thing the first time, and another after that."""
    left = [first]

    def do(*words: object) -> None:
        (left.pop() if left else then)(*words)

    return do


def test_a_second_run_waits_and_knows_that_it_had_to(tmp_path: Path) -> None:
    """What it saw of the guide before may no longer be so."""
    waited: list[bool] = []

    def second() -> None:
        with alone(tmp_path, "building") as had_to:
            waited.append(had_to)

    other = threading.Thread(target=second)
    with alone(tmp_path, "building") as had_to:
        assert not had_to
        other.start()
        other.join(0.1)
        assert waited == []
    other.join()
    assert waited == [True]
