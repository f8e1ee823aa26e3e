"""How an author's spelling meets a listed word.

One birder writes "wing bar", the next "wingbar" or "Wing-bar". Every look-up of this room compares
folded forms, so that no list has to spell such variants out, and one word has one meaning in all
of them.
"""

from __future__ import annotations

import re
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_JOINTS = re.compile("[\\s_\\-\u00ad\u2010-\u2015\u2212]+")
_HISSING = ("s", "x", "z", "ch", "sh")


def fold(text: str) -> str:
    """Drop case, spaces, hyphens and underscores; other signs stay and make a word unknown."""
    return _JOINTS.sub("", text.casefold())


def tokens(text: str) -> tuple[str, ...]:
    """Split a text into the lower-case words that spaces, hyphens and underscores part."""
    return tuple(token for token in _JOINTS.split(text.casefold()) if token)


def other_numbers(word: str) -> tuple[str, ...]:
    """Give the regular plural of a word, or the singulars that its final s allows.

    The forms are only ever looked up, never shown, so a form that no English speaker would use
    does no harm.
    """
    if word.endswith("ies"):
        return (word[:-3] + "y", word[:-1])
    if word.endswith("y"):
        return (word[:-1] + "ies", word + "s")
    if not word.endswith("s"):
        return (word + ("es" if word.endswith(_HISSING) else "s"),)
    if word.endswith("ss"):
        return (word + "es",)
    if word.endswith("es") and word[:-2].endswith(_HISSING):
        return (word[:-1], word[:-2])
    return (word[:-1],)


def slips(first: str, second: str) -> int:
    """Count the slips of a pen that make one word of another: a letter wrong, missing, too many, or two exchanged."""
    above, rows = list(range(len(second) + 1)), [list(range(len(second) + 1))]
    for at, letter in enumerate(first, 1):
        row = [at]
        for to, other in enumerate(second, 1):
            least = min(above[to] + 1, row[-1] + 1, above[to - 1] + (letter != other))
            if at > 1 and to > 1 and letter == second[to - 2] and first[at - 2] == other:
                least = min(least, rows[at - 2][to - 2] + 1)
            row.append(least)
        rows.append(row)
        above = row
    return above[-1]


def likeness(folded: str, known: Iterable[str], cutoff: float = 0.75) -> dict[str, float]:
    """Score the known folded forms that are spelled much like ``folded``, from the cutoff to 1."""
    matcher = SequenceMatcher(autojunk=False)
    matcher.set_seq2(folded)
    scores: dict[str, float] = {}
    for word in known:
        matcher.set_seq1(word)
        if matcher.real_quick_ratio() >= cutoff and matcher.quick_ratio() >= cutoff:
            score = matcher.ratio()
            if score >= cutoff:
                scores[word] = score
    return scores
