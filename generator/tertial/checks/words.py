"""What a problem's word means: a short text a word, in the folder ``words``, with examples.

The texts are files, not docstrings, because authors read them (``tertial why WORD``) and a test
runs their examples: the bad one must give the problem, the good one must not.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

_EXAMPLE = re.compile(r"^```(bad|good) (\S+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


class WordText(NamedTuple):
    """The explanation of one word."""

    word: str
    """The word."""

    text: str
    """The whole explanation, in CommonMark."""

    @property
    def title(self) -> str:
        """Its first line: the fault in one sentence."""
        return self.text.partition("\n")[0].lstrip("# ")

    def example(self, kind: str) -> Mapping[str, str]:
        """Give the files of the ``bad`` or the ``good`` example, text by path from the guide's folder."""
        return {path: text for which, path, text in _EXAMPLE.findall(self.text) if which == kind}


@cache
def all_words() -> tuple[WordText, ...]:
    """Read every explanation, in the order of the words."""
    folder = files("tertial.checks") / "words"
    found = [
        WordText(item.name.removesuffix(".md"), item.read_text(encoding="utf-8"))
        for item in folder.iterdir()
        if item.name.endswith(".md")
    ]
    return tuple(sorted(found, key=lambda each: each.word))


def explain(word: str) -> WordText | None:
    """Give the explanation of a word, or None for a word that no problem has."""
    return next((each for each in all_words() if each.word == word), None)
