"""Words of phrases: what was not understood, and so is shown but never compared."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.entries.values import NOT_APPLICABLE, NOT_SEEN
from tertial.marks.folding import slips
from tertial.marks.meaning import left_words
from tertial.marks.reading import read_phrase
from tertial.text.problem import Problem, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.values import Phrase
    from tertial.guide import Guide
    from tertial.marks.statements import Piece
    from tertial.text.source import SourceText


def word_not_understood(guide: Guide) -> Iterator[Problem]:
    """Words of a mark that the lists do not have; all of a phrase are named at its first."""
    for source, phrase in _marks(guide):
        part = guide.parts.find(phrase.part.value)
        if part is None:
            continue
        reading = read_phrase(phrase.text.value, guide.words, part.word)
        left = left_words(reading)
        if left:
            words, near = zip(*left, strict=True)
            named = " and ".join(filter(None, (", ".join(map(repr, words[:-1])), repr(words[-1]))))
            so = "are not understood, so they are" if words[1:] else "is not understood, so it is"
            message = f"{named} of {phrase.part.value!r} {so} shown but never compared"
            mend = (
                f"write {' or '.join(near[0])}"
                if near[0]
                else "see the page of words, put it in brackets, or add it under words: in guide.yaml"
            )
            span = _span(source, phrase, reading.left[0])
            if meant := _nothing_meant(phrase.text.value):
                mend = f"write {meant}"
            yield Problem("word-not-understood", Severity.GAP, source, span, message, mend)


def _nothing_meant(text: str) -> str:
    """Give the phrase for nothing recorded that a whole phrase is one slip of the pen away from, or ''."""
    known = sorted(NOT_SEEN | NOT_APPLICABLE)
    return next((each for each in known if slips(text.casefold(), each) == 1), "")


def _marks(guide: Guide) -> Iterator[tuple[SourceText, Phrase]]:
    for species in guide.species:
        for phrases in species.records.values():
            yield from ((species.entry.source, phrase) for phrase in phrases.values())
    for bird in guide.unsolved:
        yield from ((bird.entry.source, phrase) for phrase in bird.entry.marks)


def _span(source: SourceText, phrase: Phrase, piece: Piece) -> Span:
    """Give the place of a word; that of the phrase where YAML wrote it otherwise than it is read."""
    start = phrase.text.span.start + piece.start
    end = phrase.text.span.start + piece.end
    if source.text[start:end] == phrase.text.value[piece.start : piece.end]:
        return Span(start, end)
    return phrase.text.span
