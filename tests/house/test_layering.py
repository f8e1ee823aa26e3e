"""The rooms of the house: who may import whom, read from the syntax tree of every module."""

from __future__ import annotations

import ast
import sys
from collections import defaultdict
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from tests.house.conftest import Module

READING = {"text", "entries", "names", "marks"}
"""What can be said of one file, and the tables that it is held against."""

GUIDE = {*READING, "guide", "loading", "links"}
PAGES = {*READING, "guide", "links", "sketches", "scales", "layouts", "languages", "wording"}

KEEPING = {"ledger", "locking", "parallel", "unchanged", "working"}
"""What makes a build of what the last one left."""

MAY_IMPORT: dict[str, set[str]] = {
    "": set(),
    "__main__": {"entrypoint"},
    "entrypoint": {"building", "cli", "unchanged"},
    "unchanged": set(),
    "outings": set(),
    "layouts": set(),
    "wording": set(),
    "text": set(),
    "names": set(),
    "marks": {"wording"},
    "sketches": set(),
    "locking": set(),
    "stage": {"locking"},
    "entries": {"text", "marks"},
    "recording": READING,
    "guide": {*READING, "recording", "own_words"},
    "linking": {*READING, "guide"},
    "links": {*READING, "guide"},
    "account_values": {*READING, "guide"},
    "grouping": {"guide", "text"},
    "side_by_side": {*READING, "account_values", "guide"},
    "groups": {*READING, "guide", "side_by_side"},
    "resembling": {*READING, "account_values", "guide", "side_by_side", "groups"},
    "own_words": READING,
    "languages": {"text", "entries", "layouts", "wording"},
    "scales": {*READING, "guide", "sketches"},
    "keeping": {"entries", "linking"},
    "loading": {*READING, "guide", "linking", "keeping", "own_words", "languages"},
    "checks": {*READING, "account_values", "guide", "links", "sketches", "side_by_side", "resembling"},
    "pages": {*PAGES, "account_values", "grouping", "outings", "side_by_side", "groups", "scales", ""},
    "parallel": set(),
    "ledger": {"text", "unchanged"},
    "showing": PAGES | {"loading", "pages"},
    "ordering": {"guide", "grouping", "pages"},
    "working": {*GUIDE, "linking", "checks", "pages", "showing", "ledger", "parallel", "ordering"},
    "schema": {"entries", "marks"},
    "report": {"text"},
    "starting": {"loading", "schema"},
    "entering": {*READING, "guide", "loading", "schema"},
    "naming": {"names"},
    "answers": {*READING, "account_values", "grouping", "guide", "side_by_side", "groups", "resembling", "report"},
    "options": {"loading", "report", "text"},
    "asking": {"options", *GUIDE, "answers"},
    "build": {*GUIDE, *PAGES, "pages", "report", "showing", "stage", *KEEPING},
    "building": {"build", "report", "stage", "text", "unchanged"},
    "typesetting": set(),
    "pocket": {*GUIDE, *PAGES, "build", "checks", "locking", "pages", "report", "showing", "stage", "typesetting"},
    "proof": {*GUIDE, *PAGES, "keeping", "build", "checks", "pages", "report", "showing"},
    "cli": {
        "",
        "options",
        "asking",
        "proof",
        *GUIDE,
        "text",
        "checks",
        "report",
        "stage",
        "starting",
        "entering",
        "naming",
        "build",
        "building",
        "pocket",
    },
}
"""For each room the others that it may import; '' is ``tertial/__init__.py`` with the version."""

ONLY_IN = {
    "PIL": {
        f"tertial.sketches.{name}"
        for name in ("decode", "develop", "header", "kinds", "outline", "paper", "resize", "showcard", "tracing")
    },
    "numpy": {
        "tertial.marks.blocks",
        *(f"tertial.sketches.{name}" for name in ("develop", "outline", "paper", "straight")),
    },
    "pillow_heif": {"tertial.sketches.kinds"},
    "jinja2": {"tertial.pages.templates", "tertial.pages.programs"},
    "markupsafe": {"tertial.pages.render", "tertial.pages.programs"},
    "markdown_it": {"tertial.text.blocks", "tertial.text.commonmark", "tertial.text.prose"},
    "click": {"tertial.cli", "tertial.options", "tertial.asking"},
    "watchfiles": {"tertial.proof.following"},
    "typst": {"tertial.typesetting"},
    "fontTools": {"tertial.typesetting"},
    "brotli": {"tertial.typesetting"},
}
"""Packages of others, each with the modules that import it."""

BEHIND_ONE_DOOR = {"yaml": "text"}
"""Packages of others that a whole room may import."""


def imported(tree: ast.AST, known: Collection[str]) -> Iterator[str]:
    """Give the dotted name of all that a module imports, wherever in it; of ours, the very module."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "an import from '.' names no room"
            for alias in node.names:
                module = f"{node.module}.{alias.name}"
                yield module if module in known else str(node.module)


def ours(modules: Sequence[Module]) -> dict[str, set[str]]:
    """Give for each module of the program the modules of the program that it imports."""
    known = {module.name for module in modules}
    return {module.name: {name for name in imported(module.tree, known) if name in known} for module in modules}


@pytest.mark.parametrize(
    "text",
    [
        "from tertial.cli import main",
        "from tertial import cli",
        "import tertial.cli",
        "import tertial.cli as words",
        "if TYPE_CHECKING:\n    from tertial.cli import main",
        "def late():\n    from tertial import cli",
        "class Late:\n    def late(self):\n        import os, tertial.cli",
        "try:\n    import tertial.cli\nexcept ImportError:\n    pass",
    ],
)
def test_an_import_is_seen_wherever_and_however_it_is_written(text: str) -> None:
    """The reader of imports misses none: at the top, for types only, or in a function."""
    assert "tertial.cli" in set(imported(ast.parse(text), {"tertial", "tertial.cli"}))


def test_every_room_has_a_row_and_every_row_a_room(modules: tuple[Module, ...]) -> None:
    """A new room must say what it may import, and a row for a room that is gone must go."""
    assert {module.room for module in modules} == set(MAY_IMPORT)


def test_rooms_import_only_the_rooms_before_them(modules: tuple[Module, ...]) -> None:
    """Every import leads where the table of the design allows, imports for types included."""
    rooms = {module.name: module.room for module in modules}
    edges = {
        (module, target)
        for module, targets in ours(modules).items()
        for target in targets
        if rooms[module] != rooms[target]
    }
    assert len(edges) > 100
    assert {(module, target) for module, target in edges if rooms[target] not in MAY_IMPORT[rooms[module]]} == set()


def test_imports_for_types_are_among_those_read(modules: tuple[Module, ...]) -> None:
    """The table would hold for half the imports only if those under TYPE_CHECKING were overlooked."""
    known = {module.name for module in modules}
    for_types = [
        name
        for module in modules
        for node in ast.walk(module.tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        for name in imported(node, known)
        if name in known
    ]
    assert len(for_types) > 50


def test_no_module_imports_itself_through_others(modules: tuple[Module, ...]) -> None:
    """The imports of the program form no circle."""
    try:
        order = tuple(TopologicalSorter(ours(modules)).static_order())
    except CycleError as circle:
        pytest.fail(f"these modules import each other in a circle: {circle.args[1]}")
    assert len(order) == len(modules) > 50


def test_packages_of_others_have_one_door_each(modules: tuple[Module, ...]) -> None:
    """Pillow, Jinja, the CommonMark parser and click are imported where the table says, YAML by one room."""
    found: dict[str, set[str]] = defaultdict(set)
    for module in modules:
        for name in imported(module.tree, ()):
            package = name.partition(".")[0]
            if package not in sys.stdlib_module_names and package != "tertial":
                found[package].add(module.name)
    assert set(found) == {*ONLY_IN, *BEHIND_ONE_DOOR}
    assert {package: found[package] for package in ONLY_IN} == ONLY_IN
    rooms = {module.name: module.room for module in modules}
    assert {package: {rooms[name] for name in found[package]} for package in BEHIND_ONE_DOOR} == {"yaml": {"text"}}


def test_nothing_is_imported_under_a_computed_name(modules: tuple[Module, ...]) -> None:
    """No module imports in a way that the tests above could not read."""
    names = [
        node.id if isinstance(node, ast.Name) else node.attr
        for module in modules
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Name | ast.Attribute)
    ]
    assert len(names) > 5000
    assert not {"__import__", "import_module", "exec", "eval"} & set(names)
