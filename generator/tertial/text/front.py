"""Part a file into front matter and body. Runs first on every entry; reads no YAML itself."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from tertial.text.problem import Problem, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from tertial.text.source import SourceText

# The fence is three hyphens alone on a line; blanks after it are invisible and forgiven.
_OPENING = re.compile(r"---[ \t]*(?:\r\n|\n|\r|\Z)")
# It looks back, because what begins with three hyphens is searched for in no time.
_CLOSING = re.compile(r"---(?<![^\r\n]---)[ \t]*(?:\r\n|\n|\r|\Z)")
_BLANK_LINE = re.compile(r"(?>\r\n|\n|\r)[ \t]*[\r\n]")
_NEARLY_CLOSING = re.compile(r"(?<=[\r\n])(?:-{2}|-{4,}|[\u2013\u2014]+-*)[ \t]*(?:\r\n|\n|\r|\Z)")
_OF_FRONT = re.compile(
    r"(?<=[\r\n])(?:[ \t]+\S|-[ \t]|[#\]}]|[A-Za-z][\w -]{0,24}:(?=[ \t\r\n]|\Z))[^\r\n]*(?:\r\n|\n|\r|\Z)"
)
_FIRST = re.compile(r"\S[^\r\n]*")
_KEY_LINE = re.compile(r"[A-Za-z][^:\r\n]*:(?:[ \t\r\n]|\Z)")


class Parts(NamedTuple):
    """Where the two parts of an entry stand in its text."""

    front: Span
    """The front matter without its two fences."""

    body: Span
    """Everything after the closing fence."""


def split_front(source: SourceText) -> tuple[Parts, tuple[Problem, ...]]:
    """Find front matter and body.

    :returns: the two spans and what is wrong with the fences. A missing closing fence gives the lines up to a
        fence with other strokes, to the last key or to the first blank line as front matter, so that the rest
        is still read.
    """
    text = source.text
    opening = _OPENING.match(text)
    if opening is None:
        first = _FIRST.search(text)
        spot = Span(*first.span()) if first else Span(0, 0)
        if not text.strip():
            message, mend = "the file is empty; an entry was expected", "write the entry, or delete the file"
        elif _OPENING.match(text, spot.start):
            message = "something blank stands above the opening fence; a line --- was expected as the first"
            mend = "delete what stands above ---"
        elif _KEY_LINE.match(text, spot.start):
            message = "the front matter has no opening fence; a line --- was expected before the first key"
            mend = "write --- on a line of its own above this one"
        else:
            found = source.slice(spot)[:40]
            message = f"the file begins with {found!r}; front matter between two lines --- was expected"
            mend = "begin with ---, then the kind and name (species: Hairy Woodpecker), then --- again"
        problem = Problem("no-front-matter", Severity.ERROR, source, spot, message, mend)
        return Parts(Span(0, 0), Span(0, len(text))), (problem,)

    closing = _CLOSING.search(text, opening.end())
    if closing is not None:
        return Parts(Span(opening.end(), closing.start()), Span(closing.end(), len(text))), ()

    blank = _BLANK_LINE.search(text, opening.end())
    end = blank.start() if blank else len(text)
    slip = _NEARLY_CLOSING.search(text, opening.end(), end)
    if slip is not None:
        found, spot = slip.group().strip(), Span(slip.start(), slip.start() + len(slip.group().rstrip()))
        message = f"{found!r} does not close the front matter; a line --- was expected"
        mend = "write three hyphens, and nothing else, on this line"
        problem = Problem("open-front-matter", Severity.ERROR, source, spot, message, mend)
        return Parts(Span(opening.end(), slip.start()), Span(slip.end(), len(text))), (problem,)
    # Lines of the text that follow without an empty one between are no keys, and need not be said one by one.
    kept = [line.end() for line in _OF_FRONT.finditer(text, opening.end(), end)]
    end = kept[-1] if kept else end
    problem = Problem(
        "open-front-matter",
        Severity.ERROR,
        source,
        Span(0, 3),
        "the front matter that opens here is never closed; a second line --- was expected",
        "write --- on a line of its own after the last key",
    )
    return Parts(Span(opening.end(), end), Span(end, len(text))), (problem,)
