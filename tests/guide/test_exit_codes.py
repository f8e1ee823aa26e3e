"""Exit codes of the commands: 0 clean, 1 problems in the guide, 2 wrong use or a failure of our own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner, Result

from tertial.cli import main

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

CLEAN = "---\nspecies: Hairy Woodpecker\n---\nAt the mill.\n"
GAP = CLEAN.replace("---\nAt", "similar: [DOWO]\n---\nAt")
WARNING = CLEAN.replace("---\nAt", "colour: black\n---\nAt")
ERROR = "no front matter\n"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.mark.parametrize("command", ["check", "build"])
@pytest.mark.parametrize(
    ("entry", "exit_code", "said"),
    [(CLEAN, 0, "nothing to mend"), (GAP, 0, "1 gap"), (WARNING, 1, "1 warning"), (ERROR, 1, "1 error")],
)
def test_the_exit_code_tells_whether_something_needs_mending(
    make_guide: MakeGuide, command: str, entry: str, exit_code: int, said: str
) -> None:
    """Gaps are no fault; warnings and errors are, for checking and for building alike."""
    done = run(command, "--guide", make_guide({"entries/a.md": entry}))
    assert done.exit_code == exit_code
    assert f"1 entry read; {said}." in done.stdout


@pytest.mark.parametrize("command", ["check", "build"])
def test_json_is_all_that_goes_to_programs(make_guide: MakeGuide, command: str) -> None:
    """Standard output is one JSON text, whose own exit code is that of the command."""
    done = run(command, "--json", "--guide", make_guide({"entries/a.md": WARNING}))
    answer = json.loads(done.stdout)
    assert (done.exit_code, answer["exit"], answer["entries"]) == (1, 1, 1)
    assert [(each["word"], each["file"], each["line"]) for each in answer["problems"]] == [
        ("unknown-key", "entries/a.md", 3)
    ]


@pytest.mark.parametrize("encoding", ["latin-1", "utf-8:strict"])
@pytest.mark.parametrize("command", ["check", "build", "read"])
def test_a_sign_that_the_terminal_does_not_have_is_written_in_figures(
    make_guide: MakeGuide, command: str, encoding: str
) -> None:
    """A dash or a letter outside the terminal's own, or a file name that is no text, ends no command."""
    entry = WARNING.replace("Hairy", "Łaciaty").replace("black", "black\n18–26 cm: x")
    folder = make_guide({os.fsdecode(b"entries/caf\xe9.md"): entry})
    done = subprocess.run(
        [sys.executable, "-m", "tertial", command, "--guide", str(folder)],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": encoding},
    )
    assert done.returncode == (command != "read"), done.stderr
    assert b"caf\\udce9.md" in done.stdout


def test_brief_is_a_line_a_problem(make_guide: MakeGuide) -> None:
    """Editors get file, line and column at the start of each line, and the closing sentence elsewhere."""
    done = run("check", "--brief", "--guide", make_guide({"entries/a.md": WARNING}))
    assert done.stdout.splitlines() == [
        "entries/a.md:3:1: warning: 'colour' is not a key of a species account [unknown-key]"
    ]
    assert done.stderr.splitlines() == ["1 entry read; 1 warning."]


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_folder_that_is_no_guide_is_wrong_use(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    """Without a ``guide.yaml``, given or found, the answer says how to make one and ends with 2."""
    monkeypatch.chdir(tmp_path)
    for words in ((command,), (command, "--guide", tmp_path)):
        done = run(*words)
        assert done.exit_code == 2
        assert "tertial start FOLDER" in done.stderr
    assert run(command, "--guide", tmp_path / "nowhere").exit_code == 2
    assert list(tmp_path.iterdir()) == []


def test_a_guide_is_found_from_a_folder_in_it(make_guide: MakeGuide, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a sub-folder of a guide no folder need be named, and build/ is made at its top."""
    folder = make_guide({"entries/species/a.md": CLEAN})
    monkeypatch.chdir(folder / "entries/species")
    assert run("build").exit_code == 0
    assert (folder / "build/index.html").is_file()


def test_a_file_in_the_way_is_a_failure(make_guide: MakeGuide) -> None:
    """A page that someone edited is named, and the command ends with 2 though the guide is clean."""
    folder = make_guide({"entries/a.md": CLEAN})
    assert run("build", "--guide", folder).exit_code == 0
    (folder / "build/codes.html").write_text("mine", encoding="utf-8")
    done = run("build", "--guide", folder)
    assert done.exit_code == 2
    assert "    codes.html\n" in done.stderr
    assert (folder / "build/codes.html").read_text(encoding="utf-8") == "mine"


def test_files_of_others_are_named_and_no_failure(make_guide: MakeGuide) -> None:
    """A stranger's file in the finished guide is worth a line."""
    folder = make_guide({"entries/a.md": CLEAN, "build/CNAME": "birds.example.org\n"})
    done = run("build", "--guide", folder)
    assert done.exit_code == 0
    assert "left alone, not tertial's: build/CNAME" in done.stderr


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_failing_disk_is_a_failure_of_our_own(
    make_guide: MakeGuide, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    """What the system refuses is told in one line, without a traceback."""
    folder = make_guide({"entries/a.md": CLEAN})

    def refused(*_: object, **__: object) -> object:
        raise OSError(5, "Input/output error", "entries")

    monkeypatch.setattr("os.walk", refused)
    done = run(command, "--guide", folder)
    assert done.exit_code == 2
    assert done.stderr == "tertial could not go on: entries: Input/output error\n"


def test_start_ends_with_2_where_a_guide_is(tmp_path: Path) -> None:
    """A second start in the same folder is wrong use, and says so."""
    assert run("start", tmp_path / "new").exit_code == 0
    done = run("start", tmp_path / "new")
    assert done.exit_code == 2
    assert "already holds a guide.yaml" in done.stderr


@pytest.mark.parametrize("words", [["chek"], ["check", "--colour"], ["code"], ["start"], ["why", "no-such-word"]])
def test_wrong_words_are_wrong_use(words: list[str]) -> None:
    """An unknown command, option or word, or a missing one, ends with 2."""
    assert run(*words).exit_code == 2


def test_the_program_may_be_run_as_a_module(make_guide: MakeGuide) -> None:
    """``python -m tertial`` is the command ``tertial``, exit code included."""
    folder = make_guide({"entries/a.md": WARNING})
    command = [sys.executable, "-m", "tertial", "check", "--guide", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)
    assert (done.returncode, done.stderr) == (1, "")
    assert "[unknown-key]" in done.stdout
    assert run("--version").stdout.startswith("tertial 0.")
