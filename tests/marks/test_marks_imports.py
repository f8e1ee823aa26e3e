"""The room stands alone."""

from __future__ import annotations

import ast
import sys
from pathlib import Path

import tertial.marks


def test_the_room_imports_nothing_else_of_ours() -> None:
    """Every import is of this room, the words of languages, the standard library or NumPy, and imports were found."""
    found: set[str] = set()
    for path in Path(tertial.marks.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found.update(alias.name for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                assert node.level == 0
                found.add(node.module or "")
    assert "tertial.marks.folding" in found
    for name in found:
        assert name.startswith(("tertial.marks.", "tertial.wording")) or name.split(".")[0] in {
            *sys.stdlib_module_names,
            "numpy",
        }, name
