"""The design system holds: what has a step is written as a step, and every step is used."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

STYLE = Path(__file__).resolve().parent.parent.parent / "layouts/style"
SORTING = STYLE.parent / "assets/sorting.css"
"""What one page alone needs is a sheet of its own: no other page fetches it."""

TOKENS = STYLE / "20-paper-and-ink.css"
PLAIN = {"10-letters.css", TOKENS.name, "90-print.css", "95-on-paper.css"}
"""Parts with values of their own: which letters a file has, the steps themselves, and paper in millimetres."""

PARTS = [*sorted(path for path in STYLE.glob("*.css") if path.name not in PLAIN), SORTING]
FIXED = re.compile(r"(?<![\w.#-])\d*\.?\d+(?:rem|px|pt|mm|cm|in)\b|#[0-9a-f]{3,8}\b|\brgba?\(", re.IGNORECASE)
# Conditions cannot hold custom properties; and what only ears are to have is one pixel large.
FREE = re.compile(r"@media[^{]*|position: absolute; width: 1px; height: 1px;|/\*.*?\*/", re.DOTALL)


@pytest.mark.parametrize("part", PARTS, ids=lambda path: path.stem)
def test_lengths_and_colours_are_steps(part: Path) -> None:
    """No part of the style sheet has a length or a colour of its own."""
    assert FIXED.findall(FREE.sub("", part.read_text(encoding="utf-8"))) == []


def test_steps_are_all_used_and_all_there() -> None:
    """No step is kept that nothing uses, and nothing asks for one that is not there."""
    whole = "".join(path.read_text(encoding="utf-8") for path in (*STYLE.glob("*.css"), SORTING))
    beside = "".join(path.read_text(encoding="utf-8") for path in STYLE.parent.rglob("proof.css"))
    there = set(re.findall(r"(--[\w-]+):", whole))
    used = set(re.findall(r"var\((--[\w-]+)", whole + beside))
    assert used == there


def test_the_screen_changes_at_three_widths_alone() -> None:
    """A phone, a page in the hand, a table: 34, 48 and 64 rem."""
    whole = "".join(path.read_text(encoding="utf-8") for path in (*STYLE.glob("*.css"), SORTING))
    widths = {round(float(each)) for each in re.findall(r"(?:min|max)-width: ([\d.]+)rem\)", whole)}
    assert widths == {34, 48, 64}
