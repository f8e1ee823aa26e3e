"""The words that an author lists in ``guide.yaml`` beside known ones: what was added, and what could not be."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from tertial.marks.words import Words, load_words
from tertial.text.problem import Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.settings import Settings
    from tertial.marks.parts import Widened


def own_part_problems(settings: Settings, widened: Widened) -> Iterator[Problem]:
    """Name the author's words for parts that could not be added."""
    for kind, pairs in settings.words:
        for own, known in pairs if kind.value == "part" else ():
            if own.value in widened.unknown:
                message = f"{known.value!r} is not a part that tertial knows, so {own.value!r} stands for nothing"
                mend = "write a part from the page of parts after the colon"
                yield Problem("unknown-part", Severity.WARNING, settings.source, known.span, message, mend)
            elif own.value in widened.taken:
                message = f"{own.value!r} already stands for another part"
                yield Problem(
                    "unknown-part",
                    Severity.WARNING,
                    settings.source,
                    own.span,
                    message,
                    "choose another word",
                )


def own_word_problems(settings: Settings) -> Iterator[Problem]:
    """Name the author's words for colours, shapes and the like that could not be added."""
    if not _own(settings):
        return
    widened = load_words().with_words(_own(settings))
    for kind, pairs in settings.words:
        for word, known in pairs:
            if (kind.value, word.value) in widened.unknown:
                message = (
                    f"{known.value!r} is no word of {kind.value} that tertial knows, so {word.value!r} means nothing"
                )
                near = widened.words.near(known.value)
                words = " or ".join(near) if near else "a word from the page of words"
                mend = f"write {words} after the colon"
                yield Problem("unknown-word", Severity.WARNING, settings.source, known.span, message, mend)
            elif (kind.value, word.value) in widened.taken:
                message = f"{word.value!r} already means something else as {kind.value}"
                mend = "choose another word"
                yield Problem("unknown-word", Severity.WARNING, settings.source, word.span, message, mend)


def words_of(settings: Settings) -> Words:
    """Give the words of phrases, the author's own included."""
    own = _own(settings)
    return _widened(tuple((kind, tuple(pairs.items())) for kind, pairs in own.items())) if own else load_words()


@lru_cache(maxsize=8)
def _widened(own: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]) -> Words:
    return load_words().with_words({kind: dict(pairs) for kind, pairs in own}).words


def _own(settings: Settings) -> dict[str, dict[str, str]]:
    return {kind.value: settings.own_words(kind.value) for kind, _ in settings.words if kind.value != "part"}
