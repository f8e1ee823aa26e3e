"""What a command loads: nobody waits for a package that the command does not need."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

CHILD = """
import json, sys
from tertial.cli import main
try:
    main(sys.argv[1:])
finally:
    print(json.dumps(sorted(sys.modules)))
"""
ENTRY = "---\nspecies: Hairy Woodpecker\nmarks: |\n  bill: black\n---\nMet at the mill, with a [link][HAWO].\n"


def loaded(*words: str, folder: Path) -> set[str]:
    """Run a command in an interpreter of its own, and give the packages that it loaded."""
    command = [sys.executable, "-c", CHILD, *words]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    return {name.partition(".")[0] for name in json.loads(done.stdout.splitlines()[-1])}


def test_check_needs_neither_pictures_nor_templates(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """Checking reads YAML and CommonMark, but loads neither Pillow nor Jinja."""
    packages = loaded("check", folder=make_guide({"entries/a.md": ENTRY}))
    assert {"tertial", "yaml", "markdown_it"} <= packages
    assert not {"PIL", "jinja2"} & packages


def test_a_build_without_pictures_needs_no_pillow(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """Pillow is loaded for new pictures alone."""
    packages = loaded("build", folder=make_guide({"entries/a.md": ENTRY}))
    assert {"tertial", "yaml", "markdown_it", "jinja2"} <= packages
    assert "PIL" not in packages


@pytest.mark.parametrize("words", [["--help"], ["build", "--help"], ["code", "Hairy Woodpecker"]], ids=" ".join)
def test_words_about_words_need_no_other_package(words: list[str], tmp_path: Path) -> None:
    """Help and codes come from click and ourselves alone."""
    packages = loaded(*words, folder=tmp_path)
    assert {"tertial", "click"} <= packages
    assert not {"yaml", "markdown_it", "jinja2", "PIL"} & packages
