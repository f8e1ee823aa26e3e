"""Folders as the tests of building compare them, and the demo built once for all of them."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable

REPOSITORY = Path(__file__).resolve().parent.parent.parent


def tree_of(folder: Path) -> dict[str, bytes]:
    """Give the content of every file below a folder by its path."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def stamps_of(folder: Path) -> dict[str, tuple[int, int]]:
    """Give for every file below a folder which file it is on the disk, and when it was last written."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): (path.stat().st_ino, path.stat().st_mtime_ns) for path in files}


@pytest.fixture(scope="session")
def tree() -> Callable[[Path], dict[str, bytes]]:
    """Read every file below a folder."""
    return tree_of


@pytest.fixture(scope="session")
def stamps() -> Callable[[Path], dict[str, tuple[int, int]]]:
    """Tell whether files were touched: by their place on the disk and their last change."""
    return stamps_of


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, built; the folder of the guide. For reading only."""
    folder = tmp_path_factory.mktemp("demo") / "guide"
    copy_demo(folder)
    build = build_guide(folder)
    assert build.pages > 15, f"the demo was not built: {build.report.problems}"
    return folder


@pytest.fixture(scope="session")
def demo_pages(demo: Path) -> dict[str, bytes]:
    """Every file of the finished demo by its path."""
    return tree_of(demo / "build")


@pytest.fixture(scope="session")
def hard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The guide of ``hard``, built; the folder of the guide. For reading only."""
    folder = tmp_path_factory.mktemp("hard") / "guide"
    shutil.copytree(Path(__file__).resolve().parent / "hard", folder)
    for name in ("dot.png", "dôt 1.png"):
        Image.new("L", (1, 1), 80).save(folder / "entries/species" / name)
    build = build_guide(folder)
    assert build.pages > 10, f"the guide was not built: {build.report.problems}"
    return folder


def copy_demo(folder: Path) -> None:
    """Copy the demo of the checkout, without what was made of it."""
    shutil.copytree(REPOSITORY / "entries", folder / "entries")
    shutil.copy(REPOSITORY / "guide.yaml", folder)
