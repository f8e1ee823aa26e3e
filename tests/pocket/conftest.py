"""The pocket guide of the demo, set once for all tests of it."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from tertial.pocket import FILE, OUTPUT, make_pocket_guide
from tertial.stage import Outcome

REPOSITORY = Path(__file__).resolve().parent.parent.parent
TODAY = dt.date(2026, 11, 1)


def set_demo(folder: Path) -> bytes:
    """Make the pocket guide of the demo in a folder, and give its bytes."""
    shutil.copytree(REPOSITORY / "entries", folder / "entries")
    shutil.copy(REPOSITORY / "guide.yaml", folder)
    made = make_pocket_guide(folder, TODAY)
    assert isinstance(made.outcome, Outcome), made
    return (folder / OUTPUT / FILE).read_bytes()


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the demo with its pocket guide. For reading only."""
    folder = tmp_path_factory.mktemp("pocket") / "demo"
    folder.mkdir()
    set_demo(folder)
    return folder


@pytest.fixture(scope="session")
def book(demo: Path) -> PdfReader:
    """The pocket guide."""
    return PdfReader(demo / OUTPUT / FILE)
