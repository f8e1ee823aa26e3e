"""Outings: counts that cannot add up, hours lived twice, flocks whose members were not counted."""

from __future__ import annotations

import datetime as dt
from itertools import pairwise
from typing import TYPE_CHECKING

from tertial.marks.plumages import near_plumages, read_plumage
from tertial.text.problem import Also, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide, Outing


def counts_exceed(guide: Guide) -> Iterator[Problem]:
    """Numbers by plumage that add up to more than the total."""
    for outing in guide.outings:
        for count in outing.entry.counts:
            parts = sum(number.birds for number in count.by_plumage)
            if parts > count.total:
                message = (
                    f"of {count.counted.value.text} the plumages add up to {parts}, but the total is {count.total}"
                )
                mend = f"write {parts} as the total, or mend the numbers"
                yield Problem("counts-exceed", Severity.WARNING, outing.entry.source, count.numbers.span, message, mend)


def count_plumage_unknown(guide: Guide) -> Iterator[Problem]:
    """A plumage in a count that cannot be read."""
    for outing in guide.outings:
        for count in outing.entry.counts:
            for number in count.by_plumage:
                if read_plumage(number.plumage) is None:
                    near = near_plumages(number.plumage)
                    what = count.counted.value.text
                    message = f"{number.plumage!r} in the count of {what} is not a plumage that tertial knows"
                    mend = f"write {' or '.join(near)}" if near else "write male, female, juvenile or the like"
                    yield Problem(
                        "unknown-plumage", Severity.WARNING, outing.entry.source, count.numbers.span, message, mend
                    )


def outings_overlap(guide: Guide) -> Iterator[Problem]:
    """Two outings at one time: nobody is in two places."""
    timed = [(span, outing) for outing in guide.outings if (span := _hours(outing)) is not None]
    timed.sort(key=lambda each: each[0])
    for ((_, until), before), ((since, _), after) in pairwise(timed):
        if since < until:
            also = Also(before.entry.source, before.entry.date.span, f"this one lasts until {until:%H:%M}")
            message = f"this outing begins at {since:%H:%M}, while another was still under way"
            mend = "mend start: or minutes: of one of them"
            at = after.entry.start or after.entry.date
            yield Problem("outings-overlap", Severity.WARNING, after.entry.source, at.span, message, mend, (also,))


def _hours(outing: Outing) -> tuple[dt.datetime, dt.datetime] | None:
    begins = outing.entry.begins
    if begins is None or outing.entry.minutes is None:
        return None
    return begins, begins + dt.timedelta(minutes=outing.entry.minutes.value)


def flock_not_counted(guide: Guide) -> Iterator[Problem]:
    """A member of a flock that the counts of its outing do not have, or have too few of."""
    for outing in guide.outings:
        entry = outing.entry
        counted: dict[str, int] = {}
        for count in entry.counts:
            for code in count.counted.value.codes:
                counted[code] = counted.get(code, 0) + count.total
        for flock in entry.flocks:
            for member in flock.members:
                code = member.code.value
                if code not in counted:
                    message = f"{code} kept with a flock here but is missing from the counts"
                    mend = f"add {code}: {member.birds or 1} under counts:"
                elif member.birds and member.birds > counted[code]:
                    message = f"{member.birds} {code} kept with a flock here, but only {counted[code]} were counted"
                    mend = f"count the birds of the flock too: {code}: {member.birds} or more"
                else:
                    continue
                yield Problem("flock-not-counted", Severity.WARNING, entry.source, member.code.span, message, mend)


def scan_stranger(guide: Guide) -> Iterator[Problem]:
    """A bird in a scan that is no member of the flock."""
    for outing in guide.outings:
        for flock in outing.entry.flocks:
            members = {member.code.value for member in flock.members}
            for code in flock.scan:
                if members and code.value not in members:
                    message = f"{code.value} sat among the flock but is not one of its members"
                    mend = f"add {code.value} to members:, or mend the code"
                    yield Problem("scan-stranger", Severity.WARNING, outing.entry.source, code.span, message, mend)
                    break
