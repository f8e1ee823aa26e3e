"""Likely names for a text that is none: the "did you mean" of every message about a name.

Measuring a text against twenty thousand names one by one takes half a second, too long where every
entry may ask. So names that share runs of letters with it are found in the joined list first, and
only the best of them are measured.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from difflib import SequenceMatcher
from itertools import accumulate
from typing import TYPE_CHECKING, Final

from tertial.names.fold import fold_all

if TYPE_CHECKING:
    from collections.abc import Sequence

_SHORT: Final = 6
"""Up to so many letters, runs of two are counted; a single slip leaves a short word no run of three."""

_LONGEST: Final = 60
"""Letters of the question that are looked at. The longest folded name of the list has under 40."""

_MEASURED: Final = 60
"""Names that are measured: far more than are ever shown, few enough for some milliseconds."""

_LEAST: Final = 0.7
"""Least likeness (`difflib` ratio, 0 to 1) of a name worth showing: about three slips in ten letters."""

_BEHIND: Final = 0.12
"""How far behind the likeliest name another may stay; past it, a sure answer would be drowned."""


class NearNames:
    """Two sets of names, English and scientific, to be searched as one."""

    def __init__(self, english: tuple[str, ...], scientific: tuple[str, ...]) -> None:
        self._names = english + scientific
        self._english = len(english)
        self._folded = fold_all(self._names)
        self._joined = "\n" + "\n".join(self._folded) + "\n"
        self._starts = list(accumulate((len(name) + 1 for name in self._folded), initial=1))

    def search(self, folded: str, limit: int) -> tuple[str, ...]:
        """Give up to `limit` names near the folded text, likeliest first, equals in list order.

        All are of one set: that of the likeliest. A form that stands in the list in several
        spellings which fold alike is given once, in the first of them.
        """
        question = folded[:_LONGEST]
        matcher = SequenceMatcher(autojunk=False)
        matcher.set_seq2(question)
        measured: dict[str, tuple[float, int]] = {}
        for place in self._candidates(question):
            matcher.set_seq1(self._folded[place])
            measured.setdefault(self._folded[place], (-matcher.ratio(), place))
        ranked = sorted(measured.values())
        if not ranked:
            return ()
        best, first = ranked[0]
        near = [
            place
            for likeness, place in ranked
            if -likeness >= max(_LEAST, -best - _BEHIND) and (place < self._english) == (first < self._english)
        ]
        return tuple(self._names[place] for place in near[:limit])

    def _candidates(self, question: str) -> list[int]:
        """Give the places of the names that share the largest part of their runs with the question."""
        size = 2 if len(question) <= _SHORT else 3
        framed = f"\n{question}\n"
        runs = {framed[at : at + size] for at in range(len(framed) - size + 1)}
        shared = Counter(place for run in runs for place in self._places(run))
        # Sorensen's coefficient: twice the shared runs over the runs of both.
        weighed = sorted(
            (-2 * count / (len(runs) + len(self._folded[place])), place) for place, count in shared.items()
        )
        return [place for _, place in weighed[:_MEASURED]]

    def _places(self, run: str) -> set[int]:
        """Give the places of all names with this run; a run may take in the break at either end."""
        found = set()
        at = self._joined.find(run)
        while at >= 0:
            # The second letter of a run always lies in the name, or is the break that ends it.
            found.add(bisect_right(self._starts, at + 1) - 1)
            at = self._joined.find(run, at + 1)
        return found


def is_made_of(letters: str, words: Sequence[str]) -> bool:
    """Whether letters are made of the first ones of every word, in order, as codes are."""
    if not words:
        return not letters
    ends = range(1, min(len(letters), len(words[0])) + 1)
    return any(letters[:end] == words[0][:end] and is_made_of(letters[end:], words[1:]) for end in ends)
