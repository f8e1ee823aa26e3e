"""Outings: counts that cannot add up, hours lived twice, flocks whose members were not counted."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from tertial.text.problem import Also, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.counting import Member
    from tertial.guide import Guide, Outing


def counts_exceed(guide: Guide) -> Iterator[Problem]:
    """Numbers by plumage that add up to more than the total. An estimate may be too low."""
    for outing in guide.outings:
        for count in outing.entry.counts:
            parts = sum(number.birds for number in count.by_plumage)
            if parts > count.total and not count.numbers.value[0].about:
                what = count.counted.value.text
                message = f"the plumages of {what} add up to {parts}, more than the total of {count.total}"
                mend = f"write {parts} as the total, or mend the numbers"
                yield Problem("counts-exceed", Severity.WARNING, outing.entry.source, count.numbers.span, message, mend)


def outings_overlap(guide: Guide) -> Iterator[Problem]:
    """Two outings at one time: nobody is in two places."""
    timed = [(*hours, outing) for outing in guide.outings if (hours := _hours(outing)) is not None]
    longest: tuple[int, Outing] | None = None
    for since, until, outing in sorted(timed, key=lambda each: each[:2]):
        if longest is not None and since < longest[0]:
            entry, other = outing.entry, longest[1].entry
            lasts = f"lasts until {_clock(longest[0])}" if other.minutes else "begins at the same time"
            also = Also(other.source, other.date.span, f"this one {lasts}")
            message = f"this outing begins at {_clock(since)}, while another was still under way"
            mend = "mend start: or minutes: of one of them"
            begin = entry.start or entry.date
            yield Problem("outings-overlap", Severity.WARNING, entry.source, begin.span, message, mend, (also,))
        # The one that lasts longest need not be the one that began last.
        if longest is None or until > longest[0]:
            longest = (until, outing)


def _hours(outing: Outing) -> tuple[int, int] | None:
    """Beginning and end in minutes, counted through all days: no calendar ends before them.

    One without minutes has lasted for one at least.
    """
    entry = outing.entry
    if entry.start is None:
        return None
    since = (entry.date.value.toordinal() * 24 + entry.start.value.hour) * 60 + entry.start.value.minute
    return since, since + (entry.minutes.value if entry.minutes else 1)


def _clock(minutes: int) -> str:
    return f"{minutes // 60 % 24:02}:{minutes % 60:02}"


def flock_not_counted(guide: Guide) -> Iterator[Problem]:
    """A member of a flock that the counts of its outing do not have, or have too few of.

    A bird counted as one of several species may have been any of them. Without any counts there is
    nothing to hold a flock against. Flocks are not added up: one that came by again is written again, and
    its birds are counted once, so that whoever counts with care has more in flocks than in the counts.
    """
    for outing in guide.outings:
        entry = outing.entry
        counted: dict[str, float] = {}
        for count in entry.counts:
            for code in count.counted.value.codes:
                counted[code] = counted.get(code, 0) + (math.inf if count.is_estimate else count.total)
        for flock in entry.flocks if entry.counts else ():
            kept: dict[str, list[Member]] = {}
            for member in flock.members:
                kept.setdefault(member.code.value, []).append(member)
            for code, members in kept.items():
                birds = sum(member.birds or 0 for member in members)
                if code not in counted:
                    message = f"{code} kept with a flock here but is missing from the counts"
                    mend = f"add {code}: {birds or 1} under counts:"
                elif birds > counted[code]:
                    message = f"{birds} {code} kept with a flock here, but only {counted[code]} were counted"
                    mend = f"write {code}: at least {birds} under counts:, or mend the flock"
                else:
                    continue
                yield Problem("flock-not-counted", Severity.WARNING, entry.source, members[0].code.span, message, mend)


def scan_stranger(guide: Guide) -> Iterator[Problem]:
    """A bird in a scan that is no member of the flock, or stands there more often than there were members of its kind.

    Of a member without a number nothing is known of how many there were.
    """
    for outing in guide.outings:
        for flock in outing.entry.flocks:
            known = {member.code.value for member in flock.members}
            numbers: dict[str, float] = {}
            for member in flock.members:
                numbers[member.code.value] = numbers.get(member.code.value, 0) + (member.birds or math.inf)
            times: dict[str, int] = {}
            for code in flock.scan if known else ():
                times[code.value] = times.get(code.value, 0) + 1
                if code.value not in known:
                    # Once for each stranger, however often it sat there.
                    known.add(code.value)
                    message = f"{code.value} stands in the scan but is not among the members of this flock"
                    mend = f"add {code.value} to members:, or mend the code"
                elif times[code.value] == numbers.get(code.value, 0) + 1:
                    found, kept = sum(each.value == code.value for each in flock.scan), times[code.value] - 1
                    message = f"{code.value} stands {found} times in the scan, but {kept} kept with this flock"
                    mend = f"write {code.value} {found} under members:, or mend the scan"
                else:
                    continue
                yield Problem("scan-stranger", Severity.WARNING, outing.entry.source, code.span, message, mend)
