"""The words for parts of a bird by which running text and phrases lead to the page of parts.

Only what has a colour is a part here: of size, habits and voice a text speaks all the time. Words of the author's
language come from the table of parts, or from that language's names of them; which of them have to be told by what
stands beside them is in ``layouts/words``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final, NamedTuple

from tertial.marks.folding import other_numbers
from tertial.marks.lexicon import COLOUR, Kind
from tertial.marks.parts import Evidence, load_parts
from tertial.text.terms import NONE, Terms, Wordings, letters
from tertial.wording.mentioned import ANY, NEVER, TELLING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide
    from tertial.marks.parts import Part
    from tertial.wording import Wording

_TOLD_BY: Final = {
    ANY: frozenset({"which", "somebody's", "whose", "colour", "shape"}),
    "shape": frozenset({"whose", "colour", "shape"}),
    "which": frozenset({"which", "whose", "colour"}),
    "colour": frozenset({"whose", "colour"}),
    "whose": frozenset({"whose"}),
}
"""For each sort of wording what has to be told of it in running text, one of these."""


class Mentions(NamedTuple):
    """The parts of a bird as texts name them."""

    running: Terms
    """In running text, where most words may mean something else."""

    phrases: Terms
    """In phrases of marks."""

    def plain(self) -> tuple[Any, ...]:
        """Turn both into plain values that can be kept."""
        both = self.running
        wordings = dict(both.wordings.known), dict(both.wordings.longest)
        return (*wordings, dict(both.behind), dict(self.phrases.behind), dict(both.telling), both.turning)

    @classmethod
    def from_plain(cls, values: tuple[Any, ...]) -> Mentions:
        """Turn plain values back."""
        known, longest, running, phrases, telling, turning = values
        wordings = Wordings(known, longest)
        return cls(Terms(wordings, running, telling, turning), Terms(wordings, phrases, telling, turning))


def mentions(guide: Guide, wording: Wording) -> Mentions:
    """Make the tables for the language that a guide is written in.

    :param wording: the words of that language; where it does not say how parts are told, nothing is a mention.
    """
    if not wording.mentions:
        return Mentions(NONE, NONE)
    sorts = {letters(word): naming.behind for word, naming in wording.mentions.items()}
    names = dict(_english(guide) if wording.is_english else _translated(guide, wording))
    if wording.is_english:
        # An author's own word may be any; what it may mean besides nobody has thought of yet.
        own = (word for part in guide.parts for word in part.synonyms if load_parts().find(word) is None)
        sorts = {**dict.fromkeys(map(letters, own), ANY), **sorts}
    names.update((word, "") for word, naming in wording.mentions.items() if naming.behind == NEVER)
    wordings, turning = Wordings.of(names), frozenset(word for word, each in wording.telling.items() if each.behind)
    telling = dict(_telling(guide, wording))
    running = {word: _TOLD_BY[sort] for word, sort in sorts.items() if sort != NEVER}
    # Phrases speak of a bird throughout, so that anything told is enough there.
    phrases = dict.fromkeys((word for word in running if sorts[word] != ANY), frozenset(TELLING))
    return Mentions(Terms(wordings, running, telling, turning), Terms(wordings, phrases, telling, turning))


def _telling(guide: Guide, wording: Wording) -> Iterator[tuple[str, str]]:
    """Give each word that tells something with what it tells."""
    if wording.is_english:
        # What is coloured or marked is meant to be looked at, and so is what is said to be some bird's.
        for text, sense in (*guide.words.lists.wordings, *guide.words.own):
            if sense.kind is Kind.MARKED or (sense.kind is Kind.TERM and sense.aspect is COLOUR):
                yield text, "colour"
        for code in guide.codes:
            yield code.lower(), "whose"
            yield f"{code.lower()}'s", "whose"
    for word, each in wording.telling.items():
        yield word, each.before


def _english(guide: Guide) -> Iterator[tuple[str, str]]:
    """Give every wording of a part with its preferred word; what is no word, as R1, is none."""
    for part in filter(_has_colour, guide.parts):
        formed = (form for word in part.synonyms for form in other_numbers(word) if guide.parts.find(form) is part)
        for form in (*formed, *part.words):
            first, of, last = form.partition(" of ")
            if not any(sign.isdigit() for sign in form):
                for article in ("", "the ", "its ") if of else ("",):
                    yield f"{first}{of}{article}{last}", part.word


def _translated(guide: Guide, wording: Wording) -> Iterator[tuple[str, str]]:
    for part in filter(_has_colour, guide.parts):
        if said := wording.parts.get(part.word):
            yield said.several, part.word
            yield said.name, part.word


def _has_colour(part: Part) -> bool:
    return part.region.evidence is Evidence.PATTERN_AND_COLOUR
