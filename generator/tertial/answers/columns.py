"""Text in a terminal of any width: lines broken at words, and cells beside each other."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from tertial.report import cells, shown

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

LEAST: Final = 40
"""Columns below which nothing is set narrower: half a line a word helps nobody."""

MOST: Final = 120
"""Columns beyond which nothing is set wider: the eye would lose the line."""

_GAP: Final = 2
"""Blank columns between two cells."""


def usable(columns: int) -> int:
    """Give the width to set a text in, for a terminal of so many columns."""
    return max(LEAST, min(columns, MOST))


def wrapped(text: str, width: int) -> list[str]:
    """Break a text at its blanks into lines of at most so many columns; a longer word is cut.

    What a terminal would obey is taken out. An empty text is one empty line.
    """
    lines = [""]
    for word in shown(text).split():
        if lines[-1] and cells(lines[-1]) + 1 + cells(word) <= width:
            lines[-1] += f" {word}"
            continue
        *whole, rest = _cut(word, width)
        lines += [*whole, rest]
    return lines[1:] or lines


def indented(text: str, width: int, first: str = "", others: str = "") -> Iterator[str]:
    """Break a text into lines that begin with ``first``, then with ``others``."""
    for at, line in enumerate(wrapped(text, width - max(cells(first), cells(others)))):
        yield ((others if at else first) + line).rstrip()


def beside(texts: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    """Set texts beside each other, each in a cell of its width."""
    for row in zip_longest(*(wrapped(text, width) for text, width in zip(texts, widths, strict=True)), fillvalue=""):
        padded = (line + " " * (width + _GAP - cells(line)) for line, width in zip(row, widths, strict=True))
        yield "".join(padded).rstrip()


def shares(width: int, fixed: Sequence[int], count: int) -> tuple[int, ...]:
    """Give the widths of some fixed cells and of ``count`` equal ones that share the rest of a line."""
    rest = width - sum(fixed) - _GAP * (len(fixed) + count - 1)
    return (*fixed, *[rest // count] * count)


def _cut(word: str, width: int) -> list[str]:
    pieces = [""]
    for char in word:
        if pieces[-1] and cells(pieces[-1] + char) > width:
            pieces.append("")
        pieces[-1] += char
    return pieces
