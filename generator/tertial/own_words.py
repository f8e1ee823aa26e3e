"""The words that an author lists in ``guide.yaml`` beside known ones: what was added, and what could not be."""

from __future__ import annotations

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


def own_words(settings: Settings, problems: list[Problem]) -> Words:
    """Give the words of phrases with the author's own; what cannot be added is a problem."""
    own = {kind.value: settings.own_words(kind.value) for kind, _ in settings.words if kind.value != "part"}
    if not own:
        return load_words()
    widened = load_words().with_words(own)
    for kind, pairs in settings.words:
        for word, known in pairs:
            if (kind.value, word.value) in widened.unknown:
                message = (
                    f"{known.value!r} is no word of {kind.value} that tertial knows, so {word.value!r} means nothing"
                )
                near = widened.words.near(known.value)
                mend = (
                    f"write {' or '.join(near)} after the colon"
                    if near
                    else "write a word from the page of words after the colon"
                )
                problems.append(Problem("unknown-word", Severity.WARNING, settings.source, known.span, message, mend))
            elif (kind.value, word.value) in widened.taken:
                message = f"{word.value!r} already means something else as {kind.value}"
                problems.append(
                    Problem(
                        "unknown-word", Severity.WARNING, settings.source, word.span, message, "choose another word"
                    )
                )
    return widened.words
