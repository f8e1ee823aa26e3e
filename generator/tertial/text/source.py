"""One file as the author wrote it, and the only count of its lines and columns.

YAML, CommonMark and ``str.splitlines`` disagree about what ends a line. Every place that a
person reads comes from here, so that a problem, an editor and a page always mean the same spot.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from pathlib import Path

_BREAK = re.compile(r"\r\n|\n|\r")
_BOM = "\ufeff"


class Span(NamedTuple):
    """A stretch of a text, as character offsets with the end left out; a tuple, because every word has one."""

    start: int
    """Offset of the first character, from 0."""

    end: int
    """Offset after the last character; equal to ``start`` for a spot between characters."""


class Position(NamedTuple):
    """A spot as editors name it."""

    line: int
    """Line number from 1. Only LF, CR and CRLF end a line."""

    column: int
    """Column from 1, counted in characters, never in bytes or cells."""


@dataclass(frozen=True, slots=True, eq=False)
class SourceText:
    """The text of one file with its line table."""

    path: str
    """Path from the guide's folder, with ``/`` between its parts."""

    text: str
    """The whole text without a byte order mark; line ends are as in the file."""

    _starts: list[int] = field(default_factory=list, repr=False)
    """Offsets of the line starts, filled at the first question: most files are never asked."""

    def position(self, offset: int) -> Position:
        """Turn a character offset into line and column; offsets past the end mean the end."""
        offset = max(0, min(offset, len(self.text)))
        starts = self._line_starts()
        line = bisect_right(starts, offset)
        return Position(line, offset - starts[line - 1] + 1)

    def line(self, number: int) -> str:
        """Give the text of line ``number`` (from 1) without its line end; '' outside the file."""
        starts = self._line_starts()
        if not 1 <= number <= len(starts):
            return ""
        end = starts[number] if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end].rstrip("\r\n")

    def line_span(self, number: int) -> Span:
        """Give the span of line ``number`` (from 1) without its line end."""
        start = self._line_starts()[number - 1]
        return Span(start, start + len(self.line(number)))

    def slice(self, span: Span) -> str:
        """Give the text that a span covers."""
        return self.text[span.start : span.end]

    def _line_starts(self) -> list[int]:
        if not self._starts:
            # In one step: another thread must never see half a table.
            self._starts[:] = [0, *(found.end() for found in _BREAK.finditer(self.text))]
        return self._starts


class Passage(NamedTuple):
    """A stretch of text by itself, such as an author's text below the front matter."""

    source: SourceText
    """The file."""

    span: Span
    """Where the text stands in it."""

    @property
    def words(self) -> str:
        """What is written there."""
        return self.source.slice(self.span)


class Undecodable(NamedTuple):
    """A file that is not text in UTF-8."""

    path: str
    """Path from the guide's folder."""

    reason: str
    """What was wrong, and at which byte."""

    source: SourceText
    """The text with the bytes in question replaced, so that a place can still be shown."""

    span: Span
    """The first replaced character."""


def read_source(file: Path, path: str) -> SourceText | Undecodable:
    """Read a file as UTF-8 text.

    :param file: where the file is.
    :param path: what problems call it.
    :returns: the text, or what kept it from being one. ``OSError`` is the caller's to handle.
    """
    return decode_source(file.read_bytes(), path)


def decode_source(data: bytes, path: str) -> SourceText | Undecodable:
    """Decode bytes as UTF-8 text; a byte order mark is dropped, anything else is kept."""
    try:
        return SourceText(path, data.decode("utf-8").removeprefix(_BOM))
    except UnicodeDecodeError as fault:
        text = data.decode("utf-8", errors="replace").removeprefix(_BOM)
        spot = len(data[: fault.start].decode("utf-8").removeprefix(_BOM))
        reason = f"byte {data[fault.start]:#04x} at offset {fault.start} is not UTF-8"
        return Undecodable(path, reason, SourceText(path, text), Span(spot, spot + 1))
