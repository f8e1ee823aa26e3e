"""Reading the word lists that ship with this room.

The lists are data and not code, so that a word can be added without reading Python. They are read
through ``importlib.resources``, because an installed program may have no folder of its own.
"""

from __future__ import annotations

import csv
from importlib.resources import files


def read_table(name: str) -> tuple[dict[str, str], ...]:
    """Give the rows of ``data/NAME``, each under the words of its head line, cells trimmed."""
    text = files("tertial.marks").joinpath("data", name).read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines(), strict=True)
    return tuple({key: value.strip() for key, value in row.items()} for row in rows)


def split_cell(cell: str) -> tuple[str, ...]:
    """Split a cell that holds several words at its semicolons."""
    return tuple(word for word in map(str.strip, cell.split(";")) if word)
