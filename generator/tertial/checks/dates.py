"""Dates of the author: against each other, and against today, which is why a build runs only some."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.entries.flock import FlockEntry
from tertial.entries.outing import OutingEntry
from tertial.entries.species import SpeciesEntry
from tertial.entries.unknown import UnknownEntry
from tertial.text.problem import Also, Problem, Severity

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator

    from tertial.entries.values import Written
    from tertial.guide import Guide
    from tertial.text.source import SourceText


def date_ahead(guide: Guide, today: dt.date) -> Iterator[Problem]:
    """A date that has not come yet."""
    for source, written in _dates(guide):
        if written.value > today:
            message = f"{written.value.isoformat()} lies ahead of today, {today.isoformat()}; a past day was expected"
            yield Problem("date-ahead", Severity.WARNING, source, written.span, message, "check the year and the month")


def changed_before_written(guide: Guide) -> Iterator[Problem]:
    """An account that was changed before it was written."""
    for entry in guide.entries():
        if not isinstance(entry, SpeciesEntry | FlockEntry) or not (entry.written and entry.changed):
            continue
        if entry.changed.value < entry.written.value:
            also = Also(entry.source, entry.written.span, "written here")
            message = f"changed on {entry.changed.value.isoformat()}, which is before it was written"
            mend = "exchange the two dates, or mend one of them"
            yield Problem(
                "changed-before-written", Severity.WARNING, entry.source, entry.changed.span, message, mend, (also,)
            )


def _dates(guide: Guide) -> Iterator[tuple[SourceText, Written[dt.date]]]:
    for entry in guide.entries():
        found: list[Written[dt.date] | None] = []
        if isinstance(entry, SpeciesEntry | FlockEntry):
            found += [entry.written, entry.changed]
        elif isinstance(entry, OutingEntry):
            found.append(entry.date)
        elif isinstance(entry, UnknownEntry):
            found.append(entry.seen)
        found += [picture.taken for picture in entry.photos]
        yield from ((entry.source, written) for written in found if written is not None)
