"""Places: that outings lead to them, and that no position is told more closely than its birds can bear.

The grades follow Chapman 2020 (doi 10.15468/doc-5jp4-5g10): a nest, roost or display ground is told to
a tenth of a degree at the closest, whatever else is sensitive to a hundredth.
"""

from __future__ import annotations

import re
from decimal import Decimal
from difflib import get_close_matches
from typing import TYPE_CHECKING

from tertial.entries.outing import OutingEntry
from tertial.entries.place import PlaceEntry
from tertial.entries.unknown import UnknownEntry
from tertial.text.problem import Also, Problem, Severity
from tertial.text.slugs import slug_of
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.load import Entry
    from tertial.guide import Guide, Place

_SENSITIVE = re.compile(
    r"\b(?:nest(?:s|ing|box|boxes|lings?)?|roost(?:s|ing)?|leks?|display grounds?|breed(?:s|ing|ers?)?"
    r"|burrows?|colon(?:y|ies)|dens?|eyrie|broods?)\b",
    re.IGNORECASE,
)
_CLOSE, _CLOSEST = Decimal("0.1"), Decimal("0.01")
# Two numbers of degrees with three decimals or more, or two of degrees, minutes and their parts: a hundred
# metres or closer.
_DECIMAL = r"[-+\u2212]?\d{1,3}\.\d{3,}(?:\s*°)?"
_MINUTES = r"[-+\u2212]?\d{1,3}\s*°\s*\d{1,2}(?:\.\d+\s*['\u2032\u2019]?|\s*['\u2032\u2019]\s*\d{1,2})[^\s\w,;/]*"
_BETWEEN = r"(?:\s*[NSEW]\b)?(?:\s*[,;/]\s*|\s+|&\w+=)(?:[NSEW]\s*)?"
_POSITION = re.compile(
    rf"(?:\b[NSEW]\s*)?(?<![\d.])(?:{_DECIMAL}{_BETWEEN}{_DECIMAL}|{_MINUTES}{_BETWEEN}{_MINUTES})(?:\s*[NSEW]\b)?",
    re.IGNORECASE,
)
_TRACE = re.compile(r"\d\.\d{3}|\d\s*°")
_POSITION_KEY = re.compile(r"position[ \t]*:")
_COMMENT = re.compile(r"(?:^|\s)#")


def unknown_place(guide: Guide) -> Iterator[Problem]:
    """An outing or an unknown bird at a place that has no entry."""
    for entry in guide.entries():
        if isinstance(entry, OutingEntry | UnknownEntry) and entry.place and entry.place.value not in guide.by_place:
            written, slug = entry.place.value, slug_of(entry.place.value)
            near = get_close_matches(written.casefold(), sorted(guide.by_place), n=1)
            message = f"no place of this guide has the id {written!r}"
            mend = f'make its file with tertial entry --place "{written}"'
            mend = f"write {near[0]}" if near else mend if written == slug else f"{mend}, and write {slug} here"
            yield Problem("unknown-place", Severity.GAP, entry.source, entry.place.span, message, mend)


def same_place(guide: Guide) -> Iterator[Problem]:
    """Two places with one id, so that an outing could not tell which is meant."""
    seen: dict[str, Place] = {}
    for place in sorted(guide.places, key=lambda place: place.path):
        slug = slug_of(place.head.id or place.name)
        first = seen.setdefault(slug, place)
        if first is not place:
            name = place.entry.id or place.entry.name
            also = Also(first.entry.source, (first.entry.id or first.entry.name).span, "first used here")
            message = f"the id {slug!r} belongs to another place too; one of its own was expected"
            mend = "write another id: here, or join the two files"
            yield Problem("same-place", Severity.ERROR, place.entry.source, name.span, message, mend, (also,))


def place_too_exact(guide: Guide) -> Iterator[Problem]:
    """A place that is told more closely than its own reason allows."""
    for place in guide.places:
        entry = place.entry
        if entry.shown_as is None or entry.shown_as.value.degrees is None or entry.because is None:
            continue
        limit = _CLOSE if _SENSITIVE.search(entry.because.value) else _CLOSEST
        if entry.shown_as.value.degrees < limit:
            also = Also(entry.source, entry.because.span, "because of this")
            message = (
                f"{entry.shown_as.value.text!r} tells the place more closely than such a reason bears; "
                f"{limit} degree or coarser was expected"
            )
            mend = f"write shown as: {limit} degree, or withheld"
            yield Problem(
                "place-too-exact", Severity.WARNING, entry.source, entry.shown_as.span, message, mend, (also,)
            )


def position_unsaid(guide: Guide) -> Iterator[Problem]:
    """A position without a word on how closely it may be told: it is withheld."""
    for place in guide.places:
        entry = place.entry
        if entry.position is not None and entry.shown_as is None and not _is_told(place):
            message = f"the position of {entry.name.value} is withheld, because shown as: is not written"
            mend = "write shown as: and exact, 0.001, 0.01, 0.1 or 1 degree, or withheld"
            yield Problem("position-unsaid", Severity.GAP, entry.source, entry.position.span, message, mend)


def _is_told(place: Place) -> bool:
    """Whether it was said already that the choice written there is none."""
    _, problems = place.sheet.found()
    return any(problem.word == "not-a-choice" for problem in problems)


def position_in_text(guide: Guide) -> Iterator[Problem]:
    """A position written into words that are published, where no rule can make it coarser."""
    for account in guide.accounts():
        entry, whole = account.entry, account.passage.source.text
        # The whole pattern is dear, and hardly a text has so much as one of these signs.
        if not _TRACE.search(whole):
            continue
        for found in _POSITION.finditer(whole):
            span = Span(found.start(), found.end())
            if not _is_held(entry, span):
                message = f"{found.group()!r} looks like a position; what stands here is published as it is"
                mend = "take it out, and write position: and shown as: in the entry of the place"
                yield Problem("position-in-text", Severity.WARNING, entry.source, span, message, mend)


def _is_held(entry: Entry, span: Span) -> bool:
    """Whether a stretch of an entry never reaches a page: held values, and comments."""
    if isinstance(entry, PlaceEntry):
        held = [written.span for written in (entry.position, entry.because) if written]
        if any(each.start <= span.start < each.end for each in held):
            return True
    line = entry.source.line_span(entry.source.position(span.start).line)
    before = entry.source.text[line.start : span.start]
    # A position that cannot be read is held as well; what is wrong with it has been said.
    if isinstance(entry, PlaceEntry) and span.start < entry.body.start and _POSITION_KEY.match(before):
        return True
    return span.start < entry.body.start and _COMMENT.search(before) is not None
