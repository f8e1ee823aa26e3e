"""The source of the program, as the tests of the house read it: from the syntax tree, never by importing."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).resolve().parent.parent.parent
PACKAGE = REPOSITORY / "generator" / "tertial"


@dataclass(frozen=True, slots=True)
class Module:
    """One file of the program."""

    name: str
    """Its dotted name."""

    path: Path
    """Its file."""

    tree: ast.Module
    """Its syntax tree."""

    @property
    def room(self) -> str:
        """The room that it belongs to: a package or a lone module below ``tertial``; '' for that itself."""
        return self.name.removeprefix("tertial").removeprefix(".").partition(".")[0]


@pytest.fixture(scope="session")
def modules() -> tuple[Module, ...]:
    """Every module of the program."""
    return tuple(read_module(path, PACKAGE.parent) for path in sorted(PACKAGE.rglob("*.py")))


@pytest.fixture(scope="session")
def test_modules() -> tuple[Module, ...]:
    """Every module of the tests; what other tools have brought along is not ours."""
    tests = REPOSITORY / "tests"
    found = sorted(path for path in tests.rglob("*.py") if "node_modules" not in path.parts)
    return tuple(read_module(path, tests.parent) for path in found)


def read_module(path: Path, top: Path) -> Module:
    """Read one file; a package has the name of its folder."""
    name = ".".join(path.relative_to(top).with_suffix("").parts).removesuffix(".__init__")
    return Module(name, path, ast.parse(path.read_text(encoding="utf-8")))
