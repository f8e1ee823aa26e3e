"""What is said about an entry: one type for every fault, whoever finds it.

Problems are values. The rooms that read and check collect them and go on; nothing here prints,
counts or decides an exit code (that is ``report``).
"""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from tertial.text.source import SourceText, Span


class Severity(IntEnum):
    """How much a problem weighs; smaller is graver, so that sorting puts it first."""

    ERROR = 0
    """The guide cannot be built as it stands."""

    WARNING = 1
    """Something written is lost, unknown or in contradiction."""

    GAP = 2
    """Something not yet written that would be worth recording."""

    REMARK = 3
    """Worth knowing; nothing needs doing."""

    @property
    def label(self) -> str:
        """The word that reports use."""
        return self.name.lower()


class Also(NamedTuple):
    """A second place that belongs to a problem, for two places that disagree."""

    source: SourceText
    """The file of the second place."""

    span: Span
    """Where in it."""

    label: str
    """What stands there, in a few words."""


class Problem(NamedTuple):
    """One thing to say about one place."""

    word: str
    """The problem's word, hyphenated; ``tertial why WORD`` explains it."""

    severity: Severity
    """How much it weighs."""

    source: SourceText
    """The file it stands in."""

    span: Span
    """The narrowest stretch that is at fault."""

    message: str
    """What is wrong with the thing named, what was found, what was expected; stands alone."""

    mend: str = ""
    """One line with the repair; empty only where none can be given."""

    also: tuple[Also, ...] = ()
    """Further places that belong to it."""

    def sort_key(self) -> tuple[str, int, int, str, str]:
        """Order by file, place, weight, word: the order of every report."""
        return (self.source.path, self.span.start, self.severity, self.word, self.message)
