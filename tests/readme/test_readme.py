"""The README does what it says: its five minutes are run, and its outputs are compared with real ones."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tertial.cli import main

README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
ENTRIES = [block for block in BLOCKS if block.startswith("---\nspecies:")]
SESSIONS = [block.removeprefix("$ tertial check\n") for block in BLOCKS if block.startswith("$ tertial check\n")]
ANSWERS = [
    (words.split(), output)
    for block in BLOCKS
    for words, output in re.findall(r"\A\$ tertial ((?:compare|read|alike|key) [^\n]*)\n(.*)\Z", block, re.DOTALL)
]


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words, env={"COLUMNS": "100"})


@pytest.fixture
def guide(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    assert run("start", "my-birds").exit_code == 0
    monkeypatch.chdir(tmp_path / "my-birds")
    return tmp_path / "my-birds"


def test_the_readme_has_two_entries_and_what_check_says_of_each() -> None:
    """The tests below would pass on nothing if the README lost its examples."""
    assert len(ENTRIES) == len(SESSIONS) == len(ANSWERS) == 2


def test_the_five_minutes_come_out_as_printed(guide: Path) -> None:
    """Each entry, written as shown, gives the report that is shown; mended, it gives the pages promised."""
    begun = run("entry", "downy woodpecker").output
    assert f'$ tertial entry "downy woodpecker"\n{begun}' in BLOCKS
    (guide / begun.strip()).write_text(ENTRIES[0], encoding="utf-8")
    assert run("check").output == SESSIONS[0]
    hairy = guide / run("entry", "HAWO").output.strip()
    hairy.write_text(ENTRIES[1], encoding="utf-8")
    assert run("check").output == SESSIONS[1]
    hairy.write_text(ENTRIES[1].replace("26-18", "18-26").replace("nap:", "nape:"), encoding="utf-8")
    assert run("check").exit_code == 0
    assert [(words, run(*words).output) for words, _ in ANSWERS] == ANSWERS
    built = run("build")
    assert built.exit_code == 0, built.output
    pair = (guide / "build/pairs/dowo-hawo.html").read_text(encoding="utf-8")
    assert "red patch, often divided by black" in pair


def test_every_command_of_the_table_exists_and_none_is_left_out() -> None:
    """The table of commands and the program know the same commands."""
    named = set(re.findall(r"^\| `tertial (\w+)", README, re.MULTILINE))
    assert named == set(main.commands)


def test_the_makefile_has_the_two_commands() -> None:
    """The first two commands of the README are targets of the Makefile."""
    makefile = (Path(__file__).resolve().parents[2] / "Makefile").read_text(encoding="utf-8")
    commands = re.findall(r"^make (\w+)", README, re.MULTILINE)
    assert commands == ["guide", "test"]
    assert all(re.search(rf"^{command}:", makefile, re.MULTILINE) for command in commands)
