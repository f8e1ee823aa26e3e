"""Going on after a syntax fault: say which line, show it repaired, and read the rest.

The repaired text is for reading on only. The author's file is never changed; the repair is what
the problem's ``mend`` line shows.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

_LINES = re.compile(r"[^\r\n]*(?:\r\n|\n|\r|\Z)")
_KEY_VALUE = re.compile(r"(\s*(?:-[ ]+)?)([^\s\"'#\[{|>-][^:]*?|\"[^\"]*\"):[ \t]+(\S.*?)(?:(?<=\S)[ \t]{2,}#.*)?$")
_GLUED = re.compile(r"(\s*(?:-[ ]+)?)([A-Za-z][\w -]*):(?!\s)(\S.*)$")
_ITEM = re.compile(r"(\s*-[ ]+)(\S.*?)(?:(?<=\S)[ \t]{2,}#.*)?$")
_UNPARTED = re.compile(r"(\s*(?:-[ ]+)?[A-Za-z][\w -]*?)(?<=\S)[ ]+[|\[].*$")
_NO_COLON = re.compile(r"[ \t]*[;=]?[ \t]+(?=[^ \t:])")
_OPENS = re.compile(r":(?:[ \t]+[|>][-+0-9]*)?(?:[ \t]+#.*)?[ \t]*$")
_FORMED = re.compile(r"[ \t]*+(?:-(?:[ \t]|$)|[^\r\n]*?:(?:[ \t]|$))")
_INDENT = re.compile(r"[ \t]*")
_DASH = re.compile(r"[ \t]*-[ ]+")
_QUOTED = re.compile(r"'(?:[^']|'')*'|\"(?:[^\"\\]|\\.)*\"")
_CURLY = "\u201c\u201d\u201e\u2018\u2019"
# Blanks that a tab is taken for, and by which a block is indented.
_STEP = 2
# How many levels are tried for a line whose indentation fits none.
_MOST_LEVELS = 4


class Repair(NamedTuple):
    """A line made readable, with the way back to the author's columns."""

    text: str
    """The line as it would be read."""

    columns: tuple[int, ...]
    """For each column of ``text`` and its end, the column in the author's line."""

    fault: str = ""
    """What was wrong, where the repair tells it better than YAML does."""


class Draft(NamedTuple):
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

    tops: frozenset[str] = frozenset()
    """Keys that stand at the margin; without any, all may."""

    @classmethod
    def of(cls, text: str, tops: frozenset[str] = frozenset()) -> Draft:
        """Begin with the text as the author wrote it."""
        lines = tuple(found.group() for found in _LINES.finditer(text) if found.group()) or ("",)
        starts = _starts(lines)
        return cls(lines, lines, {}, starts, starts, tops)

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
        return self._replace(lines=lines, columns={**self.columns, number: columns}, starts=_starts(lines))

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

    def neighbour(self, number: int, step: int) -> int | None:
        """Find the next line that is neither blank nor a comment, above (step -1) or below (step 1)."""
        number += step
        while 0 <= number < len(self.lines) and self.line(number).lstrip()[:1] in ("", "#"):
            number += step
        return number if 0 <= number < len(self.lines) else None

    def is_formed(self, number: int) -> bool:
        """Tell whether line ``number`` (from 0) looks like an item or like a key with or without its value."""
        return _FORMED.match(self.line(number)) is not None

    def parent(self, number: int) -> int | None:
        """Give the level of the key that line ``number`` (from 0) is the first under; None if it is not a first."""
        above = self.neighbour(number, -1)
        if above is None:
            return -_STEP
        return _indent(self.line(above)) if _OPENS.search(self.line(above)) else None

    def levels(self, number: int) -> list[int]:
        """Give the indentations that line ``number`` (from 0) might have meant, the likeliest first."""
        line, below, parent = self.line(number), self.neighbour(number, 1), self.parent(number)
        own, deepest = _indent(line.expandtabs(_STEP)), len(self.text)
        levels, limit = set() if parent is None else {parent + _STEP}, deepest
        if below is not None:
            next_line = self.line(below).expandtabs(_STEP)
            levels.add(_indent(next_line) - _depth(line, next_line))
            limit = _indent(next_line) if _OPENS.search(line) else limit
        for above in map(self.line, range(number - 1, -1, -1)):
            if above.strip() and _indent(above) < deepest:
                deepest = _indent(above)
                levels.add(deepest)
                if (item := _DASH.match(above)) and not _DASH.match(line):
                    levels.add(item.end())
        fitting = [level for level in {*levels, own} if 0 <= level < limit and line[: _indent(line)] != " " * level]

        def distance(level: int) -> tuple[bool, bool, int, int]:
            return (level not in levels, not self.is_alike(number, level), abs(level - own), level)

        return sorted(fitting, key=distance)[:_MOST_LEVELS]

    def is_alike(self, number: int, level: int) -> bool:
        """Tell whether line ``number`` (from 0) is like those of a level: a key of the margin, or one with a value."""
        line = self.line(number)
        if self.tops and (level == 0) != (line.partition(":")[0].strip() in self.tops):
            return False
        beside = next((above for above in map(self.line, range(number - 1, -1, -1)) if _indent(above) <= level), "")
        return level == 0 or _indent(beside) < level or bool(_OPENS.search(line)) == bool(_OPENS.search(beside))

    def own_line(self, number: int) -> tuple[int, str]:
        """Offset and text of the author's line ``number`` (from 0), without its line end."""
        return self.own_starts[number], self.own[number].rstrip("\r\n")


def _starts(lines: tuple[str, ...]) -> tuple[int, ...]:
    return tuple(accumulate((len(line) for line in lines[:-1]), initial=0))


def repairs(line: str, tops: frozenset[str] = frozenset()) -> Iterator[Repair]:
    """Give ways in which a faulty line may be read where it stands, the likeliest first.

    :param tops: keys that stand at the margin, by which such a line is known where it has no colon.
    """
    whole = range(len(line) + 1)
    for key in sorted(tops, key=len, reverse=True):
        if line.startswith(key) and (found := _NO_COLON.match(line, len(key))):
            start, columns = found.end(), (*whole[: len(key)], len(key), len(key))
            fault = "the line has no ': '; a key and a value were expected"
            yield Repair(f"{key}: {line[start:]}", (*columns, *whole[start:]), fault)
            break
    if found := _GLUED.match(line):
        cut = found.start(3)
        fault = "the colon is not followed by a blank; 'key: value' was expected"
        yield Repair(f"{line[:cut]} {line[cut:]}", (*whole[:cut], cut, *whole[cut:]), fault)
    if found := _UNPARTED.match(line):
        cut = found.end(1)
        fault = "the line has no ': '; a key and a value were expected"
        yield Repair(f"{line[:cut]}:{line[cut:]}", (*whole[:cut], cut, *whole[cut:]), fault)
    for pattern, group in ((_KEY_VALUE, 3), (_ITEM, 2)):
        if found := pattern.match(line):
            value, start = found.group(group).rstrip(), found.start(group)
            end = start + len(value)
            if value[0] in "\"'" and not _QUOTED.match(value):
                fault = "the quote that opens here is never closed; a closing quote was expected"
                if value[-1] in _CURLY:
                    fault = "a curly quote does not close a straight one; the same quote twice was expected"
                    yield Repair(line[: end - 1] + value[0] + line[end:], tuple(whole), fault)
                yield _closed(line, end, value[0], fault)
            if value[0] == "[" and value[-1] != "]":
                yield _closed(line, end, "]")
            if value[0] == "{" and value[-1] != "}" and ":" in value:
                yield _closed(line, end, "}")
            yield _quoted(line, start, end)


def indentations(draft: Draft, number: int) -> Iterator[tuple[int, Repair]]:
    """Give other indentations of a line that fits nowhere, or of the first of its block, which misled it."""
    line, first = draft.line(number), draft.neighbour(number, -1)
    if not draft.is_formed(number) and "\t" not in line[: _indent(line)]:
        return
    if first is not None and first not in draft.columns:
        level = _indent(line) - _depth(draft.line(first), line)
        if draft.parent(first) == level - _STEP:
            yield first, _indented(draft.line(first), level)
    for level in draft.levels(number):
        yield number, _indented(line, level)


def _depth(line: str, below: str) -> int:
    """How much deeper than a line the one below it belongs."""
    if _OPENS.search(line):
        return _STEP
    item = _DASH.match(line)
    return item.end() - _indent(line) if item and not _DASH.match(below) else 0


def _indented(line: str, level: int) -> Repair:
    indent = _indent(line)
    if "\t" in line[:indent]:
        fault = "a tab stands in the indentation"
    else:
        fault = f"the line stands {'deeper' if level < indent else 'less deep'} than the keys beside it"
    columns = (*(min(column, indent) for column in range(level)), *range(indent, len(line) + 1))
    return Repair(" " * level + line[indent:], columns, f"{fault}; column {level + 1} was expected")


def _closed(line: str, end: int, closing: str, fault: str = "") -> Repair:
    columns = range(len(line) + 1)
    return Repair(line[:end] + closing + line[end:], (*columns[:end], end, *columns[end:]), fault)


def _quoted(line: str, start: int, end: int) -> Repair:
    # Single quotes: in double ones a backslash of the author would change its meaning.
    text, columns = [line[:start], "'"], [*range(start), start]
    quoted = end - start > 1 and line[start] == line[end - 1] and line[start] in "\"'"
    inner = range(start + 1, end - 1) if quoted else range(start, end)
    for column in inner:
        char = line[column]
        text.append("''" if char == "'" else char)
        columns.extend([column] * (2 if char == "'" else 1))
    text.append("'" + line[end:])
    return Repair("".join(text), (*columns, end, *range(end, len(line) + 1)))


def _indent(line: str) -> int:
    return _INDENT.match(line).end()  # type: ignore[union-attr]  # the pattern also matches nothing


def is_due_above(draft: Draft, number: int) -> bool:
    """Tell whether a line fails only because the one above runs on into it.

    The one above then lacks the blank after its colon, or, where it begins a block, the colon.
    """
    above = draft.neighbour(number, -1)
    if above is None:
        return False
    line = draft.line(above)
    if _GLUED.match(line) and ": " not in line:
        return True
    return not draft.is_formed(above) and draft.parent(above) is not None


def blank(line: str) -> Repair:
    """Read the line as if nothing stood there."""
    return Repair(" " * len(line), tuple(range(len(line) + 1)))
