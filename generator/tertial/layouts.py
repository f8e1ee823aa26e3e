"""Where layouts are found: those of the program, and a guide's own, which stand before them by name."""

from __future__ import annotations

from pathlib import Path
from typing import Final

LAYOUTS: Final = "layouts"
"""Folder of templates, assets and words: of the program, and of a guide that replaces some of them by name."""


def built_in_layouts() -> Path:
    """Find the program's own layouts: beside the package in a wheel, else in the checkout."""
    package = Path(__file__).resolve().parent
    shipped = package / LAYOUTS
    return shipped if shipped.is_dir() else package.parent.parent / LAYOUTS


def layout_folders(guide: Path) -> tuple[Path, Path]:
    """Give the folders in which a layout is looked for, a guide's own first."""
    return guide / LAYOUTS, built_in_layouts()


def layout_text(guide: Path, name: str) -> str:
    """Give the text of a layout that is no template; a guide's own replaces the built-in.

    What is no UTF-8 in it is read as the sign for that (U+FFFD), as in tables of words.
    """
    own = guide / LAYOUTS / name
    file = own if own.is_file() else built_in_layouts() / name
    return file.read_text(encoding="utf-8-sig", errors="replace")
