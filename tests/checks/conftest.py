"""What the tests of words and of cases share: one way from a guide's folder to its report."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tertial.build import build_guide
from tertial.checks import check_guide
from tertial.loading import load_guide
from tertial.report import Report

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

# What is in a picture or a template shows only when pages are made.
ONLY_BUILT = frozenset({"layout-fault", "picture-unreadable"})


@pytest.fixture
def report_on() -> Callable[[Path, str], Report]:
    """Check the guide in a folder, or build it where the word in question asks for that."""

    def report(folder: Path, word: str) -> Report:
        if word in ONLY_BUILT:
            return build_guide(folder).report
        guide = load_guide(folder)
        return Report.of((*guide.problems, *check_guide(guide)), guide.files)

    return report
