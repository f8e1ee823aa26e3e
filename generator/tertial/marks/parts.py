"""The parts of a bird, and the words that lead to them.

Reading comes first in this room: a phrase is only worth comparing once both authors mean the same
part. A table of parts is a value; a guide with words of its own gets a second table and leaves the
shipped one alone.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from functools import cache
from itertools import combinations
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.folding import fold, likeness, other_numbers, slips, tokens
from tertial.marks.tables import read_table, split_cell

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

_SHORTEST_PIECE: Final = 4
_SHORTEST_SLIP: Final = 4
"""Fewest letters in which a slip of the pen can be told from another word."""

_OFFERS: Final = 8
"""How many parts are looked through for one that is a slip away; those that hold the word come before it."""

_POINTING: Final = frozenset({"the", "a", "an", "its", "his", "her", "their"})


class Evidence(IntEnum):
    """The order in which evidence is weighed, and in which rows, ranks and sheets show it."""

    SEASON_AND_PLACE = 0
    """When and where; no part of a bird belongs here."""

    SIZE_AND_SHAPE = 1
    """What holds even against the light."""

    POSTURE_AND_BEHAVIOUR = 2
    """How the bird holds itself and what it does."""

    VOICE = 3
    """What it sounds like."""

    PATTERN_AND_COLOUR = 4
    """What its parts look like, head to tail."""

    @property
    def label(self) -> str:
        """The words that tables and pages use."""
        return self.name.lower().replace("_", " ")


class Region(NamedTuple):
    """A stretch of the bird that holds several parts."""

    word: str
    """Its word; a part of the same meaning can always be found under it."""

    order: int
    """Its place from 0 in the display order, head to tail."""

    evidence: Evidence
    """Its place in the order of evidence."""

    extent: int
    """How much of the bird its parts take up, from 1, a detail, to 4, all of it."""

    meaning: str
    """One sentence on what belongs to it."""


class View(NamedTuple):
    """What an observer needs in order to judge a part."""

    word: str
    """Its word."""

    order: int
    """Its place from 0, easiest first."""

    heading: str
    """What stands over the rows of marks that need it."""

    meaning: str
    """One sentence on when such a view is had."""


class Part(NamedTuple):
    """One part of a bird, or one thing that its voice or its habits consist of."""

    word: str
    """The preferred word, in the number in which it is mostly used."""

    plural: str
    """The other number of the word, plural or singular; '' where nobody would write one."""

    region: Region
    """Where on the bird it belongs."""

    view: View
    """The easiest view in which it can be judged."""

    synonyms: tuple[str, ...]
    """Further words that lead to it, an author's own ones last."""

    meaning: str
    """One sentence for a beginner on where it is."""

    sources: tuple[str, ...]
    """Keys of the sources of the word; ``M`` is common practice without one."""

    order: int
    """Its place from 0 in the display order of the whole table."""

    @property
    def words(self) -> tuple[str, ...]:
        """Every word written for the part, the preferred one first."""
        return tuple(filter(None, (self.word, self.plural, *self.synonyms)))

    @property
    def evidence_order(self) -> tuple[int, int]:
        """A sort key that follows the order of evidence, then the display order."""
        return (self.region.evidence, self.order)


class Widened(NamedTuple):
    """What came of adding an author's words to a table."""

    table: PartTable
    """The table with every word that could be added."""

    unknown: tuple[str, ...]
    """The author's words whose target no part bears, and any that are empty."""

    taken: tuple[str, ...]
    """The author's words that already lead to another part."""


@dataclass(frozen=True, slots=True)
class PartTable:
    """All parts in display order, found by any of their words."""

    parts: tuple[Part, ...]
    """The parts, whole bird first, voice last."""

    _index: Mapping[str, Part] = field(init=False, repr=False, compare=False)
    """From each folded word to its part."""

    _asked: dict[str, Part | None] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Answers already given: a guide names the same few hundred words tens of thousands of times."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "_index", _index(self.parts))

    def __iter__(self) -> Iterator[Part]:
        return iter(self.parts)

    def __len__(self) -> int:
        return len(self.parts)

    @property
    def regions(self) -> tuple[Region, ...]:
        """The regions in display order."""
        return tuple(dict.fromkeys(part.region for part in self.parts))

    @property
    def views(self) -> tuple[View, ...]:
        """The views, easiest first."""
        return tuple(sorted({part.view for part in self.parts}, key=lambda view: view.order))

    def find(self, text: str) -> Part | None:
        """Give the part that a word leads to, whatever its case, hyphens, spaces or number."""
        if text not in self._asked:
            self._asked[text] = self._index.get(fold(text))
        return self._asked[text]

    def slip_for(self, text: str) -> str:
        """Give the preferred word that an unknown word is one slip of the pen away from, or ''."""
        if len(text) < _SHORTEST_SLIP or self.find(text):
            return ""
        return next((each for each in self.near(text, _OFFERS) if slips(text.casefold(), each) == 1), "")

    def near(self, text: str, limit: int = 3) -> tuple[str, ...]:
        """Give the preferred words that an unknown word may have meant, the likeliest first.

        Three kinds of slip are considered: a misspelling, a word that is only a piece of a known
        one ("tail coverts"), and a known word with another beside it ("nape patch").
        """
        written = tokens(text)
        if written and written[0] in _POINTING:
            bare = " ".join(written[1:])
            return (known.word,) if (known := self.find(bare)) else self.near(bare, limit)
        folded = fold(text)
        scores = likeness(folded, self._index)

        def offer(word: str, score: float) -> None:
            scores[word] = max(score, scores.get(word, 0.0))

        if len(folded) >= _SHORTEST_PIECE:
            for word in self._index:
                if folded in word:
                    offer(word, 0.8 + 0.2 * len(folded) / len(word))
        for start, end in combinations(range(len(written) + 1), 2):
            run = "".join(written[start:end])
            if run in self._index:
                offer(run, 0.7 + 0.3 * len(run) / len(folded))
        ranked = sorted(scores, key=lambda word: (-scores[word], self._index[word].order))
        return tuple(dict.fromkeys(self._index[word].word for word in ranked))[:limit]

    def with_words(self, words: Mapping[str, str]) -> Widened:
        """Add an author's own words, each beside a word that the table knows.

        A target is looked up in this table alone, so the order of the words does not matter.
        """
        added: dict[str, Part] = {}
        extra: dict[Part, list[str]] = {}
        unknown: list[str] = []
        taken: list[str] = []
        for word, target in words.items():
            key, part = fold(word), self.find(target)
            if part is None or not key:
                unknown.append(word)
                continue
            known = self._index.get(key) or added.get(key)
            if known is None:
                added[key] = part
                extra.setdefault(part, []).append(" ".join(word.split()))
            elif known != part:
                taken.append(word)
        parts = (
            part._replace(synonyms=(*part.synonyms, *extra[part])) if part in extra else part for part in self.parts
        )
        return Widened(PartTable(tuple(parts)), tuple(unknown), tuple(taken))


@cache
def load_parts() -> PartTable:
    """Read the shipped table of parts, once."""
    evidence = {item.label: item for item in Evidence}
    regions = {
        row["region"]: Region(row["region"], order, evidence[row["evidence"]], int(row["extent"]), row["meaning"])
        for order, row in enumerate(read_table("regions.csv"))
    }
    views = {
        row["view"]: View(row["view"], order, row["heading"], row["meaning"])
        for order, row in enumerate(read_table("views.csv"))
    }
    return PartTable(
        tuple(
            Part(
                word=row["part"],
                plural=row["plural"],
                region=regions[row["region"]],
                view=views[row["view"]],
                synonyms=split_cell(row["synonyms"]),
                meaning=row["meaning"],
                sources=split_cell(row["source"]),
                order=order,
            )
            for order, row in enumerate(read_table("parts.csv"))
        )
    )


def _index(parts: tuple[Part, ...]) -> dict[str, Part]:
    """Map every folded word to its part; a word of two parts is a fault of the table itself."""
    written: dict[str, Part] = {}
    for part in parts:
        for word in part.words:
            other = written.setdefault(fold(word), part)
            if other is not part:
                raise ValueError(f'the word "{word}" leads to both "{other.word}" and "{part.word}"')
    # A regular number form gives way to any written word, and two claims on one form cancel out.
    formed: dict[str, Part | None] = {}
    for part in parts:
        for word in part.synonyms:
            for form in map(fold, other_numbers(word)):
                formed[form] = part if formed.get(form, part) is part else None
    return {form: part for form, part in formed.items() if part is not None} | written
