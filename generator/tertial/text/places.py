"""From the content of a CommonMark block back to the file.

The parser knows the lines of blocks only. A block's content is their text without the marks of
quotes and lists and without the blanks at both ends, line by line, which is the way back.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import unquote

from tertial.text.source import Span

if TYPE_CHECKING:
    from tertial.text.source import SourceText


class Place(NamedTuple):
    """Where the target of a link stands in the content of its block."""

    start: int
    """Offset of its first character."""

    end: int
    """Offset after its last."""

    apart: bool = False
    """Only a label stands there; the target is in a definition of its own."""


def in_source(source: SourceText, first_line: int, content: str, place: Place) -> Span:
    """Find a place of a block's content in the file.

    :param first_line: line of the file in which the block begins.
    """
    offsets = []
    for offset in (place.start, place.end):
        start = content.rfind("\n", 0, offset) + 1
        line = content[start:].partition("\n")[0]
        number = first_line + content.count("\n", 0, offset)
        column = source.line(number).rfind(line.strip())
        blanks = len(line) - len(line.lstrip())
        offsets.append(source.line_span(number).start + max(column, 0) + max(offset - start - blanks, 0))
    return Span(*offsets)


def definition(source: SourceText, body: Span, target: str) -> Span | None:
    """Find the target of a link that is defined apart, as in ``[label]: target``."""
    written = "|".join(re.escape(each) for each in (target, unquote(target)))
    found = re.compile(rf"\]:\s*<?({written})").search(source.text, body.start, body.end)
    return Span(*found.span(1)) if found else None
