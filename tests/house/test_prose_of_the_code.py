"""Habits of the code that a reader relies on: what each file is for, how long it is, who raises."""

from __future__ import annotations

import ast
from collections import Counter
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.house.conftest import Module

VALUES_ONLY = ("text", "entries", "checks")
"""Rooms in which an author's mistake is a value, so that one run tells of all of them."""

MAY_RAISE = {"tertial.entries.sheet.entry"}
"""Functions of those rooms that raise all the same, as ``module.function``, and say so in their docstring."""


@pytest.fixture(scope="session")
def all_modules(modules: tuple[Module, ...], test_modules: tuple[Module, ...]) -> tuple[Module, ...]:
    """Every module of the program and of its tests."""
    assert len(modules) > 50
    assert len(test_modules) > 10
    return (*modules, *test_modules)


def test_every_module_says_what_it_is_for(all_modules: tuple[Module, ...]) -> None:
    """No file is without a docstring."""
    assert [module.name for module in all_modules if not ast.get_docstring(module.tree)] == []


def test_no_two_modules_say_the_same(all_modules: tuple[Module, ...]) -> None:
    """A docstring that stands twice was copied with a file and never rewritten."""
    said = Counter(ast.get_docstring(module.tree) for module in all_modules)
    assert [text for text, times in said.items() if times > 1] == []


def test_no_file_is_too_long_to_read_at_a_sitting(
    modules: tuple[Module, ...], test_modules: tuple[Module, ...]
) -> None:
    """A file of the program has at most 300 lines, one of the tests at most 400."""
    longest = [(modules, 300), (test_modules, 400)]
    lines = {
        (module.name, most): len(module.path.read_text(encoding="utf-8").splitlines())
        for group, most in longest
        for module in group
    }
    assert {name: count for (name, most), count in lines.items() if count > most} == {}


def test_no_author_is_answered_with_an_exception(modules: tuple[Module, ...]) -> None:
    """The rooms that read and check raise nothing of their own, but for what is documented."""
    functions, raising = set(), set()
    for module in (module for module in modules if module.room in VALUES_ONLY):
        for function in ast.walk(module.tree):
            if isinstance(function, ast.FunctionDef):
                functions.add(f"{module.name}.{function.name}")
                if any(isinstance(node, ast.Raise) for node in ast.walk(function)):
                    raising.add(f"{module.name}.{function.name}")
    assert len(functions) > 100
    assert raising == MAY_RAISE
