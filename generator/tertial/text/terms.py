"""Words that lead somewhere from running text, where what stands round them says that they are meant.

Most such words have other senses as well. A table of them, a value, says of each wording what has to stand
directly before it; what nothing tells is left alone, because a missing link is a smaller fault than a false one.
This module knows neither the words nor what they mean.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, MutableSet

# A word with its hyphens, and what hangs on to it: the sign of a genitive, or an apostrophe that joins it to the next.
_WORD = r"({0}+(?:-{0}+)*)(?:['\u2019](?:s(?!{0}))?)?"
_ANY_WORD = re.compile(_WORD.format(r"[^\W\d_]"))
_PLAIN_WORD = re.compile(_WORD.format("[A-Za-z]"))
_LETTERS = re.compile(r"[^\W\d_]+")
_APOSTROPHES: Final = frozenset({"'", "\u2019"})
_ADDRESS_BEFORE: Final = frozenset("/@#.=&%:_-\\")
_ADDRESS_BEHIND: Final = frozenset("/@=_-\\")


class Mention(NamedTuple):
    """A term in a text."""

    start: int
    """Where it begins, as an offset in the text."""

    end: int
    """Where it ends."""

    name: str
    """What it stands for."""


@dataclass(frozen=True, slots=True, eq=False)
class Wordings:
    """Wordings, found by their letters alone: case, and spaces against hyphens, make no difference."""

    known: Mapping[str, str] = field(default_factory=dict)
    """From the letters of each to what it stands for; '' for what is no term, nor to be taken for a shorter one."""

    longest: Mapping[str, int] = field(default_factory=dict)
    """From how a wording may begin, as one writes it, to the most words that it may have."""

    @classmethod
    def of(cls, names: Mapping[str, str]) -> Wordings:
        """Make a table from wordings, each with what it stands for."""
        known: dict[str, str] = {}
        longest: dict[str, int] = {}
        for wording, name in names.items():
            words = _LETTERS.findall(wording.lower())
            known["".join(words)] = name
            for first in range(1, len(words) + 1):
                most = 1 + len(words) - first
                for begin in {"".join(words[:first]), "-".join(words[:first])}:
                    if longest.get(begin, 0) < most:
                        longest[begin] = longest[begin.capitalize()] = most
        return cls(known, longest)


@dataclass(frozen=True, slots=True, eq=False)
class Terms:
    """How a kind of text names what the guide explains; two tables are the same only if they are one."""

    wordings: Wordings = field(default_factory=Wordings)
    """The wordings."""

    behind: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """By its letters, what the word before a wording has to tell, one of these; nothing has to of others."""

    telling: Mapping[str, str] = field(default_factory=dict)
    """From a word in small letters, an apostrophe in it straight, to what it tells of a term behind it."""

    turning: frozenset[str] = frozenset()
    """Words that, behind a term that has to be told, turn it into another thing's: the crown *of* an oak."""

    def mentions(self, text: str, seen: MutableSet[str]) -> Iterator[Mention]:
        """Find what a text mentions for the first time, the longest wording first.

        :param seen: what was mentioned before; what is found is added.
        """
        longest = self.wordings.longest
        # Bare words are cheap to find, and most phrases hold none that a wording begins with.
        word_in = _PLAIN_WORD if text.isascii() else _ANY_WORD
        begun = [at for at, word in enumerate(word_in.findall(text)) if word in longest]
        words = list(word_in.finditer(text)) if begun else []
        end = 0
        for at in begun:
            if at >= end:
                wording, count = self._longest_at(text, words[at : at + longest[words[at][1]]])
                end = at + count
                name = self.wordings.known.get(wording)
                if name and name not in seen and self._is_meant(text, words, at, end, wording):
                    seen.add(name)
                    yield Mention(words[at].start(), words[end - 1].end(1), name)

    def _longest_at(self, text: str, words: list[re.Match[str]]) -> tuple[str, int]:
        for count in range(_run(text, words), 0, -1):
            wording = "".join(map(_letters, words[:count]))
            if wording in self.wordings.known:
                return wording, count
        return "", 1

    def _is_meant(self, text: str, words: list[re.Match[str]], at: int, end: int, wording: str) -> bool:
        start, stop = words[at].start(), words[end - 1].end(1)
        if not _is_prose(text, start, stop):
            return False
        behind = self.behind.get(wording)
        if behind is None:
            return text[start + 1 : stop].islower()
        # A capital makes a name of it, or begins a sentence, where nothing before it tells anything.
        if at == 0 or not text[start:stop].islower():
            return False
        if end < len(words) and _small(words[end]) in self.turning and text[stop : words[end].start()].isspace():
            return False
        said, gap = _small(words[at - 1]), text[words[at - 1].end() : start]
        # A compound tells what its last word tells: chestnut-brown.
        told = self.telling.get(said) or self.telling.get(said.rpartition("-")[2])
        return told in behind and (gap.isspace() or (not gap and said.endswith("'")))


NONE: Final = Terms()
"""No terms at all."""


def letters(wording: str) -> str:
    """Give the letters of a wording, by which it is known."""
    return "".join(_LETTERS.findall(wording.lower()))


def _letters(word: re.Match[str]) -> str:
    return word[1].lower().replace("-", "")


def _small(word: re.Match[str]) -> str:
    return word.group().lower().replace("\u2019", "'")


def _run(text: str, words: list[re.Match[str]]) -> int:
    """Count the words from the first on that nothing but space, or an apostrophe, parts."""
    count = 1
    for one, other in pairwise(words):
        gap, hanging = text[one.end() : other.start()], text[one.end(1) : one.end()]
        if not (hanging in _APOSTROPHES and not gap if hanging else gap.isspace()):
            break
        count += 1
    return count


def _is_prose(text: str, start: int, end: int) -> bool:
    """Tell words from pieces of an address, of the name of a file or of a compound."""
    before, behind = text[start - 1 : start], text[end : end + 1]
    if before in _ADDRESS_BEFORE or before.isdigit() or behind in _ADDRESS_BEHIND or behind.isdigit():
        return False
    return not (behind == "." and text[end + 1 : end + 2].isalnum())
