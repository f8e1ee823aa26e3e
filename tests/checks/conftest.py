"""What the tests of words and of cases share: one way from a guide's folder to its report."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest

from tertial.build import build_guide
from tertial.checks.every import check_guide
from tertial.loading import load_guide
from tertial.report import Report

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

TODAY = dt.date(2026, 6, 1)
"""The day on which dates are judged: after every true date of an example or a case."""

# What is deep in a picture, or in a template, shows only when pages are made.
ONLY_BUILT = frozenset({"layout-fault", "picture-developed", "picture-unreadable"})


@pytest.fixture
def report_on() -> Callable[[Path, str], Report]:
    """Check the guide in a folder, or build it where the word in question asks for that."""

    def report(folder: Path, word: str) -> Report:
        if word in ONLY_BUILT:
            return build_guide(folder).report
        guide = load_guide(folder)
        return Report.of((*guide.problems, *check_guide(guide, TODAY)), guide.files)

    return report
