"""Going on after a syntax fault: say which line, show it repaired, and read the rest.

The repaired text is for reading on only. The author's file is never changed; the repair is what
the problem's ``mend`` line shows.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

_LINES = re.compile(r"[^\r\n]*(?:\r\n|\n|\r|\Z)")
_KEY_VALUE = re.compile(r"(\s*(?:-[ ]+)?)([^\s\"'#\[{|>-][^:]*?|\"[^\"]*\"):[ \t]+(\S.*)$")
_GLUED = re.compile(r"(\s*(?:-[ ]+)?)([A-Za-z][\w -]*):(?!\s)(\S.*)$")
_ITEM = re.compile(r"(\s*-[ ]+)(\S.*)$")
_TAB_INDENT = re.compile(r"([ \t]*\t[ \t]*)(.*)$")

# What libyaml says, beside what a person needs to hear: (its words, the fault, what was expected).
_FAULTS: tuple[tuple[str, str, str], ...] = (
    ("tab character", "a tab stands in the indentation", "spaces were expected"),
    (
        "mapping values are not allowed",
        "a second ': ' stands where one value was expected",
        "quotes, or a literal",
    ),
    ("could not find expected ':'", "the line has no ': '", "a key and a value were expected"),
    ("unexpected end of stream", "the quote that opens here is never closed", "a closing quote was expected"),
    ("',' or ']'", "the list that opens here is never closed", "a ] was expected"),
    ("',' or '}'", "the braces that open here are never closed", "a } was expected"),
    (
        "cannot start any token",
        "a value cannot begin with this character",
        "the value in quotes was expected",
    ),
    ("did not find expected key", "the line does not fit what stands before it", "a key was expected"),
    ("'-' indicator", "the line does not fit the list before it", "another item, or less indentation"),
    (
        "alphabetic or numeric",
        "a * or & stands where YAML expects the name of an anchor",
        "quotes were expected",
    ),
    ("escape", "the quoted text holds a backslash that YAML does not know", "single quotes were expected"),
)
_OTHER = ("YAML cannot read this line", "a key, a colon, a blank and a value were expected")

# The context whose start, rather than the spot where the reader gave up, is where the fault lies.
_STARTS_AT_CONTEXT = ("simple key", "quoted scalar", "flow", "anchor", "alias", "tag")


class Repair(NamedTuple):
    """A line made readable, with the way back to the author's columns."""

    text: str
    """The line as it would be read."""

    columns: tuple[int, ...]
    """For each column of ``text`` and its end, the column in the author's line."""

    fault: str = ""
    """What was wrong, where the repair tells it better than YAML does."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The front matter as it is being read: the author's lines, some of them repaired."""

    own: tuple[str, ...]
    """The author's lines with their line ends."""

    lines: tuple[str, ...]
    """The same lines as they are read."""

    columns: dict[int, tuple[int, ...]]
    """For each repaired line (from 0) the way back to the author's columns."""

    starts: tuple[int, ...]
    """Offset of every line as read."""

    own_starts: tuple[int, ...]
    """Offset of every line of the author's."""

    @classmethod
    def of(cls, text: str) -> Draft:
        """Begin with the text as the author wrote it."""
        lines = tuple(found.group() for found in _LINES.finditer(text) if found.group()) or ("",)
        starts = _starts(lines)
        return cls(lines, lines, {}, starts, starts)

    @property
    def text(self) -> str:
        """The whole text as it is read."""
        return "".join(self.lines)

    def with_repair(self, number: int, repair: Repair) -> Draft:
        """Give a draft in which line ``number`` (from 0) is read as repaired."""
        ending = self.lines[number][len(self.line(number)) :]
        back = self.columns.get(number)
        columns = tuple(back[min(c, len(back) - 1)] for c in repair.columns) if back else repair.columns
        lines = (*self.lines[:number], repair.text + ending, *self.lines[number + 1 :])
        return Draft(self.own, lines, {**self.columns, number: columns}, _starts(lines), self.own_starts)

    def own_offset(self, offset: int) -> int:
        """Turn an offset in the text as read into one in the author's text."""
        if not self.columns:
            return offset
        number = self.line_of(offset)
        column = offset - self.starts[number]
        columns = self.columns.get(number)
        if columns is not None:
            column = columns[min(column, len(columns) - 1)]
        return self.own_starts[number] + column

    def line_of(self, offset: int) -> int:
        """Number (from 0) of the line that holds an offset of the text as read."""
        return max(0, bisect_right(self.starts, offset) - 1)

    def line(self, number: int) -> str:
        """Line ``number`` (from 0) as read, without its line end."""
        return self.lines[number].rstrip("\r\n")

    def own_line(self, number: int) -> tuple[int, str]:
        """Offset and text of the author's line ``number`` (from 0), without its line end."""
        return self.own_starts[number], self.own[number].rstrip("\r\n")


def _starts(lines: tuple[str, ...]) -> tuple[int, ...]:
    return tuple(accumulate((len(line) for line in lines[:-1]), initial=0))


def explain(context: str, problem: str) -> tuple[str, str]:
    """Put libyaml's words into ours: what is wrong, and what was expected."""
    for words, fault, expected in _FAULTS:
        if words in problem or words in context:
            return fault, expected
    return _OTHER


def faulty_offset(context: str, context_index: int | None, problem_index: int | None) -> int:
    """Choose the offset of the line at fault from the two that libyaml gives."""
    if context_index is not None and any(word in context for word in _STARTS_AT_CONTEXT):
        return context_index
    return problem_index if problem_index is not None else context_index or 0


def repairs(line: str) -> Iterator[Repair]:
    """Give ways in which a faulty line may be read, the likeliest first."""
    whole = range(len(line) + 1)
    if found := _TAB_INDENT.match(line):
        indent, rest = found.groups()
        spaces = indent.replace("\t", "  ")
        columns = (*(min(c, len(indent)) for c in range(len(spaces))), *whole[len(indent) :])
        yield Repair(spaces + rest, columns, "a tab stands in the indentation; blanks were expected")
    if found := _GLUED.match(line):
        cut = found.start(3)
        fault = "the colon is not followed by a blank; 'key: value' was expected"
        yield Repair(f"{line[:cut]} {line[cut:]}", (*whole[:cut], cut, *whole[cut:]), fault)
    for pattern, group in ((_KEY_VALUE, 3), (_ITEM, 2)):
        if found := pattern.match(line):
            value, start = found.group(group).rstrip(), found.start(group)
            end = start + len(value)
            for opening, closing in (("[", "]"), ("{", "}")):
                if value.startswith(opening) and not value.endswith(closing):
                    yield Repair(f"{line[:end]}{closing}", (*whole[:end], end, end))
            yield _quoted(line, start, value)
    indent = len(line) - len(line.lstrip())
    if indent:
        yield Repair(line[indent:], tuple(whole[indent:]), "the line stands deeper than the key above it")


def _quoted(line: str, start: int, value: str) -> Repair:
    # Single quotes: in double ones a backslash of the author would change its meaning.
    text, columns = [line[:start], "'"], [*range(start), start]
    end = start + len(value)
    quoted = len(value) > 1 and value[0] == value[-1] and value[0] in "\"'"
    inner = range(start + 1, end - 1) if quoted else range(start, end)
    for column in inner:
        char = line[column]
        text.append("''" if char == "'" else char)
        columns.extend([column] * (2 if char == "'" else 1))
    text.append("'")
    return Repair("".join(text), (*columns, end, end))


def is_glued(line: str) -> bool:
    """Tell whether a line lacks only the blank after its colon."""
    return _GLUED.match(line) is not None and ": " not in line


def blank(line: str) -> Repair:
    """Read the line as if nothing stood there."""
    return Repair(" " * len(line), tuple(range(len(line) + 1)))
