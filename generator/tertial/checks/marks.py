"""Words of the trade in entries: parts and plumages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.marks.plumages import near_plumages, read_plumage
from tertial.text.problem import Also, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.values import Written
    from tertial.guide import Guide
    from tertial.text.source import SourceText


def unknown_part(guide: Guide) -> Iterator[Problem]:
    """A part that the table of parts does not have: shown, but never compared."""
    for source, part in _parts(guide):
        if guide.parts.find(part.value) is None:
            near = guide.parts.near(part.value)
            message = f"{part.value!r} is not a part that tertial knows, so it is shown but never compared"
            mend = (
                f"write {' or '.join(near)}"
                if near
                else "see the page of parts, or add the word under words: part: in guide.yaml"
            )
            yield Problem("unknown-part", Severity.WARNING, source, part.span, message, mend)


def unknown_plumage(guide: Guide) -> Iterator[Problem]:
    """A plumage that cannot be read: its phrases are shown, but never compared."""
    for source, plumage in _plumages(guide):
        if read_plumage(plumage.value) is None:
            near = near_plumages(plumage.value)
            message = f"{plumage.value!r} is not a plumage that tertial knows, so it is shown but never compared"
            mend = f"write {' or '.join(near)}" if near else "write all, male, female, juvenile male or the like"
            yield Problem("unknown-plumage", Severity.WARNING, source, plumage.span, message, mend)


def part_twice(guide: Guide) -> Iterator[Problem]:
    """One part under two of its names in one plumage, or one plumage in two blocks."""
    for species in guide.species:
        seen: dict[tuple[object, str], Written[str]] = {}
        for block in species.entry.marks:
            plumage = read_plumage(block.plumage.value)
            for phrase in block.phrases if plumage else ():
                part = guide.parts.find(phrase.part.value)
                if part is None:
                    continue
                again = phrase.part
                first = seen.setdefault((plumage, part.word), again)
                if first is not again:
                    source = species.entry.source
                    also = Also(source, first.span, "first written here; this one is compared")
                    message = f"{again.value!r} is another word for {first.value!r}, which this plumage already has"
                    if again.value == first.value:
                        message = f"{again.value!r} is written in two blocks of one plumage"
                    mend = "join the two phrases with a comma where the first one stands"
                    yield Problem("part-twice", Severity.WARNING, source, again.span, message, mend, (also,))


def _parts(guide: Guide) -> Iterator[tuple[SourceText, Written[str]]]:
    for species in guide.species:
        entry = species.entry
        for marks in entry.marks:
            yield from ((entry.source, phrase.part) for phrase in marks.phrases)
        for measures in entry.measures:
            yield from ((entry.source, measure.part) for measure in measures.measures if not _is_whole(measure.part))
        yield from ((entry.source, phrase.part) for phrase in entry.voice)
    for flock in guide.flocks:
        yield from ((flock.entry.source, phrase.part) for phrase in flock.entry.marks)


def _is_whole(part: Written[str]) -> bool:
    """Measures of the whole bird are no parts of it."""
    return part.value.casefold() in ("length", "wingspan", "mass")


def _plumages(guide: Guide) -> Iterator[tuple[SourceText, Written[str]]]:
    for species in guide.species:
        entry = species.entry
        yield from ((entry.source, block.plumage) for block in entry.marks)
        yield from ((entry.source, block.plumage) for block in entry.measures)
        for picture in (*entry.sketches, *entry.photos):
            if picture.shows:
                yield entry.source, picture.shows
