"""What YAML reading gives: scalars that are still text, and collections that keep every key.

The nodes know where they stand in the author's file. Nothing is converted here: ``no``, ``1:30``
and ``2026-01-02`` stay text until a field's own converter reads them.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.text.source import SourceText

STRAY = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b\u2028\u2029\u2060\ud800-\udfff\ufeff\ufffe\uffff]")
"""What is read as a blank: characters that YAML forbids, those without width, and those that YAML 1.1 takes for line
ends.

They are listed, and not those that are allowed: to compile that set takes ten times as long as any other of ours.
"""

_NULLS = frozenset({"~", "null", "Null", "NULL"})
_BREAK = re.compile(r"\r\n|\n|\r")
_CONTENT = re.compile(r"[^\r\n]+")


class Scalar(NamedTuple):
    """A single value as text."""

    text: str
    """The value as YAML reads it, without quotes."""

    span: Span
    """Where it stands, quotes and the ``|`` of a literal included."""

    style: str = ""
    """'' plain, ``'`` or ``"`` quoted, ``|`` literal, ``>`` folded."""

    @property
    def is_empty(self) -> bool:
        """Nothing was written, or a plain ``~`` or ``null`` that says so."""
        return not self.text.strip() or (not self.style and self.text in _NULLS)

    @property
    def is_null_word(self) -> bool:
        """A plain ``~`` or ``null``: text to the author, nothing to YAML."""
        return not self.style and self.text in _NULLS


class Listing(NamedTuple):
    """A YAML sequence."""

    items: tuple[Node, ...]
    """Its items in order."""

    span: Span
    """From its first to its last character."""


class Pair(NamedTuple):
    """A key with its value."""

    key: Scalar
    """The key; collections as keys are refused before this is made."""

    value: Node
    """What stands under it."""


class Mapping(NamedTuple):
    """A YAML mapping; of keys written twice, the first is kept."""

    pairs: tuple[Pair, ...]
    """Its pairs in the order written."""

    span: Span
    """From its first to its last character."""


Node: TypeAlias = Scalar | Listing | Mapping


class Line(NamedTuple):
    """One line of a literal."""

    text: str
    """The line without indentation and trailing blanks."""

    span: Span
    """Where that text stands in the file."""


def literal_lines(source: SourceText, scalar: Scalar) -> Iterator[Line]:
    """Give the lines of a scalar with their places; blank lines are left out.

    A literal is read from the file itself, because YAML's own value has lost its indentation and
    with it every place. Any other scalar is one line.
    """
    if scalar.style not in ("|", ">"):
        if line := scalar.text.strip():
            at = source.text.find(line, scalar.span.start, scalar.span.end)
            yield Line(line, Span(at, at + len(line)) if at >= 0 else scalar.span)
        return
    text, end = source.text, scalar.span.end
    head = _BREAK.search(text, scalar.span.start, end)
    if head is None:
        return
    has_strays = STRAY.search(text, head.end(), end) is not None
    for found in _CONTENT.finditer(text, head.end(), end):
        content = STRAY.sub(" ", found.group()) if has_strays else found.group()
        line = content.strip()
        if line:
            start = found.start() + len(content) - len(content.lstrip())
            yield Line(line, Span(start, start + len(line)))
