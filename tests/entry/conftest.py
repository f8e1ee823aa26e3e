"""An empty guide, and the way to ask for entries in it."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest

from tertial.checks.every import check_guide
from tertial.entering import Refused, write_entry
from tertial.loading import load_guide
from tertial.starting import Occupied, start_guide
from tertial.text.problem import Severity

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tertial.text.problem import Problem

TODAY = dt.date(2026, 3, 14)


@pytest.fixture
def guide(tmp_path: Path) -> Path:
    """A new guide, as ``tertial start`` makes it."""
    made = start_guide(tmp_path / "guide", demo=False)
    assert not isinstance(made, Occupied)
    return tmp_path / "guide"


@pytest.fixture
def entered(guide: Path) -> Callable[..., str]:
    """Write an entry into the guide and give its path from the guide's folder."""

    def enter(name: str, kind: str = "species") -> str:
        made = write_entry(guide, kind, name, TODAY)
        assert not isinstance(made, Refused), made
        return made.relative_to(guide).as_posix()

    return enter


@pytest.fixture
def refused(guide: Path) -> Callable[..., Refused]:
    """Ask for an entry that is refused; nothing may be written or changed."""

    def ask(name: str, kind: str = "species") -> Refused:
        before = {path: path.read_bytes() for path in guide.rglob("*") if path.is_file()}
        answer = write_entry(guide, kind, name, TODAY)
        assert isinstance(answer, Refused), answer
        assert before == {path: path.read_bytes() for path in guide.rglob("*") if path.is_file()}
        return answer

    return ask


@pytest.fixture
def worse_than_gaps(guide: Path) -> Callable[[], list[Problem]]:
    """Check the guide on the day of its entries, and give its errors and warnings."""

    def check() -> list[Problem]:
        loaded = load_guide(guide)
        problems = (*loaded.problems, *check_guide(loaded, TODAY))
        return [problem for problem in problems if problem.severity < Severity.GAP]

    return check
