"""The words of phrases as one table: found by any wording, compared by what they mean.

A table is a value. A guide with words of its own gets a second table and leaves the shipped one alone.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.folding import likeness, slips
from tertial.marks.lexicon import COLOUR, Kind, Lists, Sense, Term, load_lists, tokens
from tertial.marks.statements import Aspect, Quality

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

_SHORTEST_SLIP: Final = 4
_LONGEST_SLIP: Final = 30
_STEPS: Final = (1.0, 0.5)
"""Agreement of terms on one scale by the steps between them; more steps, none."""

_KINDS: Final = {
    **{aspect.value: aspect for aspect in Aspect},
    "color": Aspect.COLOUR,
    "length": Aspect.LENGTH,
    "behaviour": Aspect.MOVEMENT,
    "behavior": Aspect.MOVEMENT,
    "voice": Aspect.SOUND,
}
"""Names under which an author may list words of an aspect."""

_CONTENT: Final = frozenset(
    {Kind.TERM, Kind.SHADE, Kind.TINT, Kind.GLOSS, Kind.MARKED, Kind.MARKING, Kind.CONSTANCY, Kind.PLACE, Kind.NUMBER}
)


class WidenedWords(NamedTuple):
    """What came of adding an author's words to a table."""

    words: Words
    """The table with every word that could be added."""

    unknown: tuple[tuple[str, str], ...]
    """Kind and own word where the kind, or the known word beside it, is none of the table's."""

    taken: tuple[tuple[str, str], ...]
    """Kind and own word where that already means something else in the same respect."""


@dataclass(frozen=True, slots=True, eq=False)
class Words:
    """All words of phrases, found by any of their wordings; two tables are the same only if they are one."""

    lists: Lists
    """The lists as shipped."""

    own: tuple[tuple[str, Sense], ...] = ()
    """An author's own wordings, after those of the lists."""

    senses: Mapping[str, tuple[Sense, ...]] = field(init=False, repr=False)
    """From the joined tokens of each wording to its senses, at most one of each kind and aspect."""

    longest: Mapping[str, int] = field(init=False, repr=False)
    """From a first token to the most tokens of any wording that begins with it."""

    _offers: dict[str, tuple[str, ...]] = field(default_factory=dict, init=False, repr=False)
    """From the joined tokens of describing words to the preferred words offered for them; made when asked for."""

    _near: dict[str, tuple[str, ...]] = field(default_factory=dict, init=False, repr=False)

    def __post_init__(self) -> None:
        senses, longest = dict(_shipped(self.lists)[0]), dict(_shipped(self.lists)[1])
        _add(self.own, senses, longest)
        object.__setattr__(self, "senses", senses)
        object.__setattr__(self, "longest", longest)

    def find(self, text: str) -> tuple[Sense, ...]:
        """Give what a wording may mean, whatever its case, hyphens, articles or spelling; nothing if unknown."""
        return self.senses.get("".join(tokens(text)), ())

    def near(self, text: str, limit: int = 3) -> tuple[str, ...]:
        """Give preferred words that an unknown word may have meant, the likeliest first."""
        asked = "".join(tokens(text))
        if not self._offers:
            self._offers.update(_offers(self.senses))
        if asked not in self._near:
            fit = _SHORTEST_SLIP <= len(asked) <= _LONGEST_SLIP and asked.isalpha()
            scores = likeness(asked, self._offers, 0.78) if fit else {}
            # Likeness alone takes short words for each other that have half their letters in common.
            scores = {word: score for word, score in scores.items() if slips(asked, word) <= len(asked) // 4}
            ranked = sorted(scores, key=lambda wording: (-scores[wording], wording))
            self._near[asked] = tuple(dict.fromkeys(word for wording in ranked for word in self._offers[wording]))
        return self._near[asked][:limit]

    def colour(self, word: str) -> str | None:
        """Give the reference of a colour in any of its wordings as ``#rrggbb`` in sRGB, None if it is none."""
        for sense in self.find(word):
            if sense.aspect is COLOUR:
                return self.lists.terms[COLOUR, sense.word].hex or None
        return None

    def facet(self, aspect: Aspect, quality: Quality) -> str:
        """Give what a term is about within its aspect (``girth``, ``curve``, ``against head``).

        Terms of one facet exclude each other. Of terms of different facets neither speaks against the
        other, so that an agreement of 0 between them is no difference. A colour that washes over
        another is of a facet of its own.
        """
        if not self.lists.tints.isdisjoint(quality.shades):
            return "wash"
        return self._term(aspect, quality.word).facet

    def agreement(self, aspect: Aspect, a: Quality, b: Quality) -> float:
        """Say how far two terms may stand for the same thing, from 0 to 1.

        1 for the same term or near ones; on an ordered scale 0.5 for one step, 0 for more; 0 for others,
        those of different facets among them. Shades that both bear lower it by their own steps.
        """
        best = self._alike(aspect, a.word, b.word)
        if best and a.shades and b.shades:
            best = min((best, *self._shades(aspect, a.shades, b.shades)))
        return best

    def is_index(self, aspect: Aspect, a: Quality, b: Quality) -> bool:
        """Whether an agreement rests on near terms or on steps, and not on plain equality."""
        agreed = self.agreement(aspect, a, b)
        if not agreed:
            return False
        exact = self._shades(aspect, a.shades, b.shades) if a.shades != b.shades else ()
        return a.word != b.word or any(share < 1 for share in exact)

    def with_words(self, words: Mapping[str, Mapping[str, str]]) -> WidenedWords:
        """Add an author's own words of each kind (``colour``, ``shape`` ...), each beside a known one.

        A known word is looked up in this table alone, so the order of the words does not matter.
        """
        added: dict[tuple[str, Aspect], tuple[str, Sense]] = {}
        unknown: list[tuple[str, str]] = []
        taken: list[tuple[str, str]] = []
        for kind, pairs in words.items():
            aspect = _KINDS.get(kind.strip().casefold())
            for own, known in pairs.items():
                key = "".join(tokens(own))
                meant = next((sense for sense in self.find(known) if aspect and sense.aspect is aspect), None)
                if meant is None or aspect is None or not key:
                    unknown.append((kind, own))
                    continue
                other = next((sense for sense in self.find(own) if sense.aspect is aspect), None)
                other = other or added.setdefault((key, aspect), (own, meant))[1]
                if other != meant:
                    taken.append((kind, own))
        return WidenedWords(replace(self, own=(*self.own, *added.values())), tuple(unknown), tuple(taken))

    def between(self, aspect: Aspect, a: str, b: str) -> tuple[str, ...]:
        """Give the terms that lie between two on one ordered scale, from the lower; none on other scales."""
        ends = [self._term(aspect, word) for word in (a, b)]
        rungs = sorted(term.rung for term in ends if term.rung is not None)
        if len(rungs) < len(ends) or ends[0].facet != ends[1].facet:
            return ()
        scale = sorted(
            (term.rung, word)
            for (home, word), term in self.lists.terms.items()
            if home is aspect and term.facet == ends[0].facet and term.rung is not None
        )
        return tuple(word for rung, word in scale if rungs[0] < rung < rungs[1])

    def _term(self, aspect: Aspect, word: str) -> Term:
        return self.lists.terms.get((aspect, word)) or Term("")

    def _alike(self, aspect: Aspect, a: str, b: str) -> float:
        if a == b:
            return 1.0
        first, second = self._term(aspect, a), self._term(aspect, b)
        if first.facet != second.facet:
            return 0.0
        if first.near & second.near:
            return 1.0
        if first.rung is None or second.rung is None:
            return 0.0
        steps = abs(first.rung - second.rung)
        return _STEPS[steps] if steps < len(_STEPS) else 0.0

    def _shades(self, aspect: Aspect, a: tuple[str, ...], b: tuple[str, ...]) -> Iterator[float]:
        """Give the agreement of shades facet by facet; what one side leaves open is not asked."""
        for facet, ours in self._by_facet(aspect, a).items():
            theirs = self._by_facet(aspect, b).get(facet, ())
            if theirs:
                yield max(self._alike_shades(home, x, other, y) for home, x in ours for other, y in theirs)

    def _alike_shades(self, home: Aspect, a: str, other: Aspect, b: str) -> float:
        if home is not other:
            return 0.0
        agreed = self._alike(home, a, b)
        # A second hue only tinges the first: reddish brown against olive-brown is a step, not another colour.
        return max(agreed, _STEPS[1]) if self._term(home, a).hex else agreed

    def _by_facet(self, aspect: Aspect, shades: tuple[str, ...]) -> dict[str, list[tuple[Aspect, str]]]:
        found: dict[str, list[tuple[Aspect, str]]] = {}
        for shade in shades:
            homes = (aspect, Aspect.PATTERN, Aspect.SHAPE, Aspect.LENGTH, COLOUR)
            home = next((each for each in homes if (each, shade) in self.lists.terms), aspect)
            found.setdefault(self._term(home, shade).facet, []).append((home, shade))
        return found


@cache
def load_words() -> Words:
    """Read the shipped lists into a table, once."""
    return Words(load_lists())


@lru_cache(maxsize=2)
def _shipped(lists: Lists) -> tuple[Mapping[str, tuple[Sense, ...]], Mapping[str, int]]:
    """Index the wordings of the lists, once for all tables made of them."""
    senses: dict[str, tuple[Sense, ...]] = {}
    longest: dict[str, int] = {}
    _add(lists.wordings, senses, longest)
    return senses, longest


def _add(wordings: Iterable[tuple[str, Sense]], senses: dict[str, tuple[Sense, ...]], longest: dict[str, int]) -> None:
    """Add wordings to an index; of each kind and aspect the first sense of a wording stays."""
    for wording, sense in wordings:
        if run := tokens(wording):
            known = senses.get("".join(run), ())
            if not any(each.kind is sense.kind and each.aspect is sense.aspect for each in known):
                senses["".join(run)] = (*known, sense)
            longest[run[0]] = max(len(run), longest.get(run[0], 0))


def _offers(senses: Mapping[str, tuple[Sense, ...]]) -> Iterator[tuple[str, tuple[str, ...]]]:
    for run, known in senses.items():
        words = tuple(each.word for each in known if each.kind in _CONTENT and each.aspect is not Aspect.LENGTH)
        if words:
            yield run, words
