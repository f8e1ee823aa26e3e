"""The record of an outing: every key arrives with its type, and counts keep what their author knew."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tertial.entries.counting import Count, Number, to_counted, to_numbers
from tertial.entries.load import read_entry
from tertial.entries.outing import OutingEntry, to_distance, to_time, to_whole
from tertial.entries.values import Fault
from tertial.text.source import SourceText

FULL = """---
outing: 2026-02-07
start: 8:10
minutes: 140
distance: 2 mi
place: upper-weir
observers: 2
weather: -6 C, no wind, river half frozen
counts: |
  BCCH: 14
  DOWO: 7, 2 male, 1 female
  HAWO: at least 1 male
  GRSC/LESC: 5
  duck sp.: about 30
flocks:
  - members: BCCH 9, TUTI 4, DOWO
    doing: foraging
    scan: BCCH BCCH TUTI DOWO
  - members: MALL 12
sketches:
  - file: flock.png
    alt: Nine chickadees in one alder
photos:
  - file: weir.jpg
    alt: The weir, half frozen
---
Scaup too far for the head shape.
"""


def outing(text: str) -> tuple[OutingEntry, list[str]]:
    entry, problems = read_entry(SourceText("entries/outing.md", text))
    assert isinstance(entry, OutingEntry)
    return entry, [problem.word for problem in problems]


def counts(lines: str) -> tuple[tuple[Count, ...], list[str]]:
    indented = "".join(f"  {line}\n" for line in lines.splitlines())
    entry, words = outing(f"---\nouting: 2026-02-07\ncounts: |\n{indented}---\n")
    return entry.counts, words


def test_every_key_arrives_typed() -> None:
    """Day, time, whole numbers, kilometres, counts, flocks and pictures; and nothing is complained of."""
    entry, words = outing(FULL)
    assert words == []
    assert entry.date.value == dt.date(2026, 2, 7)
    assert entry.start is not None
    assert entry.start.value == dt.time(8, 10)
    assert entry.begins == dt.datetime(2026, 2, 7, 8, 10)
    assert entry.minutes is not None
    assert entry.minutes.value == 140
    assert entry.distance is not None
    assert entry.distance.value.text == "2 mi"
    assert entry.distance.value.km == Decimal("3.218688")
    assert entry.place is not None
    assert entry.place.value == "upper-weir"
    assert entry.observers is not None
    assert entry.observers.value == 2
    assert entry.weather is not None
    assert entry.weather.value == "-6 C, no wind, river half frozen"
    assert [picture.file.value for picture in (*entry.sketches, *entry.photos)] == ["flock.png", "weir.jpg"]
    assert entry.source.slice(entry.body).strip() == "Scaup too far for the head shape."


def test_counts_keep_who_and_how_many() -> None:
    """A total stands before its plumages, or is their sum; doubts about number and bird are kept."""
    entry, _ = outing(FULL)
    found = {
        count.counted.value.text: (count.counted.value.codes, count.total, count.is_estimate) for count in entry.counts
    }
    assert found == {
        "BCCH": (("BCCH",), 14, False),
        "DOWO": (("DOWO",), 7, False),
        "HAWO": (("HAWO",), 1, True),
        "GRSC/LESC": (("GRSC", "LESC"), 5, False),
        "duck sp.": ((), 30, True),
    }
    assert [count.counted.value.code for count in entry.counts] == ["BCCH", "DOWO", "HAWO", "", ""]
    assert entry.counts[1].by_plumage == (Number(2, "male"), Number(1, "female"))


def test_flocks_keep_members_and_their_order() -> None:
    """Each member has its number, or none where only its presence was noted; a scan keeps every neighbour."""
    entry, _ = outing(FULL)
    first, second = entry.flocks
    assert [(member.code.value, member.birds) for member in first.members] == [("BCCH", 9), ("TUTI", 4), ("DOWO", None)]
    assert first.doing is not None
    assert first.doing.value == "foraging"
    assert [code.value for code in first.scan] == ["BCCH", "BCCH", "TUTI", "DOWO"]
    assert ([member.code.value for member in second.members], second.doing, second.scan) == (["MALL"], None, ())


def test_every_place_is_that_of_the_word() -> None:
    """What was counted, how many, members and neighbours know where they stand, repeated codes included."""
    entry, _ = outing(FULL)
    at = entry.source.slice
    assert [at(count.counted.span) for count in entry.counts] == ["BCCH", "DOWO", "HAWO", "GRSC/LESC", "duck sp."]
    assert at(entry.counts[1].numbers.span) == "7, 2 male, 1 female"
    codes = [*(member.code for member in entry.flocks[0].members), *entry.flocks[0].scan]
    assert [at(code.span) for code in codes] == [code.value for code in codes]
    starts = [code.span.start for code in codes]
    assert starts == sorted(set(starts))


def test_a_day_is_enough() -> None:
    """An outing without effort or counts is an outing; no hour is made up for it."""
    entry, words = outing("---\nouting: 2026-02-07\n---\n")
    assert words == []
    assert (entry.begins, entry.counts, entry.flocks) == (None, (), ())


@pytest.mark.parametrize(
    ("line", "numbers"),
    [
        ("14", (Number(14, ""),)),
        ("0", (Number(0, ""),)),
        ("8 male", (Number(8, "male"),)),
        ("2 male, 1 female", (Number(2, "male"), Number(1, "female"))),
        ("7, 2 male,1 juvenile female", (Number(7, ""), Number(2, "male"), Number(1, "juvenile female"))),
        ("about 30", (Number(30, "", about=True),)),
        ("at least 5", (Number(5, "", at_least=True),)),
        ("about 12, at least 3 male", (Number(12, "", about=True), Number(3, "male", at_least=True))),
        ("  2   male ", (Number(2, "male"),)),
    ],
)
def test_numbers_are_read(line: str, numbers: tuple[Number, ...]) -> None:
    """A total, numbers by plumage, or both; estimates and lower limits are marked as such."""
    assert to_numbers(line) == numbers


@pytest.mark.parametrize(
    "line", ["", "a few", "5+", "~30", "-2", "2.5", "3-5", "2 male, 3", "2, 3", "2 male,", "male 2", "12345678"]
)
def test_what_is_no_number_is_a_fault(line: str) -> None:
    """Nothing is guessed: a sign, a range, words, a total at the end or an empty piece is a fault."""
    found = to_numbers(line)
    assert isinstance(found, Fault)
    assert found.word == "not-a-number"


@pytest.mark.parametrize(
    ("line", "mend"),
    [
        ("1,200", "1200"),
        ("at least 1,234,567", "at least 1234567"),
        ("1,200, 3 male", "1200, 3 male"),
        ("3 (2 male, 1 female)", "3, 2 male, 1 female"),
        ("about 3 (2 male)", "about 3, 2 male"),
        ("2 (male)", "2 male"),
    ],
)
def test_a_mend_is_a_number_itself(line: str, mend: str) -> None:
    """Thousands and brackets are mended to what was most likely meant, and to what can be read."""
    found = to_numbers(line)
    assert isinstance(found, Fault)
    assert found.mend == f"write {mend}"
    assert isinstance(to_numbers(mend), tuple)


def test_a_comma_that_may_part_two_numbers_leaves_the_choice() -> None:
    """A thousand, or a total and its males: both are shown."""
    found = to_numbers("1,250 male")
    assert isinstance(found, Fault)
    assert found.mend == "write 1250 male, or 1, 250 male"
    assert to_numbers("1, 250 male") == (Number(1, ""), Number(250, "male"))


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("DOWO", ("DOWO",)),
        ("GRYE/LEYE", ("GRYE", "LEYE")),
        ("GRYE/LEYE/SOSA", ("GRYE", "LEYE", "SOSA")),
        ("duck sp.", ()),
        ("small brown duck sp", ()),
        ("sparrow spp.", ()),
    ],
)
def test_what_was_counted_is_read(text: str, codes: tuple[str, ...]) -> None:
    """One species, one of several, or a group that counts for no species."""
    found = to_counted(text)
    assert not isinstance(found, Fault)
    assert (found.text, found.codes) == (text, codes)


@pytest.mark.parametrize("text", ["", "dowo", "Downy Woodpecker", "GRYE/", "/LEYE", "GRYE / LEYE", "sp.", "DOWOS", "X"])
def test_what_is_no_bird_to_count_is_a_fault(text: str) -> None:
    """Names, small letters and halves of an either/or are faults."""
    found = to_counted(text)
    assert isinstance(found, Fault)
    assert found.word == "not-counted"


def test_a_faulty_line_leaves_the_others_alone() -> None:
    """Each fault is named, and every other line is counted."""
    found, words = counts("BCCH: 14\nDOWO: a few\nducks: 3\nTUTI: 4\n14 WBNU\nBCCH: 2\nHAWO:")
    assert [(count.counted.value.text, count.total) for count in found] == [("BCCH", 14), ("TUTI", 4)]
    assert sorted(words) == ["key-twice", "no-part", "not-a-number", "not-a-number", "not-counted"]


def test_plain_keys_are_counts_too() -> None:
    """A block without the sign of a literal means the same."""
    plain, words = outing("---\nouting: 2026-02-07\ncounts:\n  BCCH: 14\n  DOWO: 2 male, 1 female\n---\n")
    literal, _ = counts("BCCH: 14\nDOWO: 2 male, 1 female")
    assert words == []
    assert [(each.counted.value, each.numbers.value) for each in plain.counts] == [
        (each.counted.value, each.numbers.value) for each in literal
    ]


@pytest.mark.parametrize(
    ("text", "time"), [("08:10", (8, 10)), ("8:10", (8, 10)), ("0:00", (0, 0)), ("23:59", (23, 59))]
)
def test_times_have_24_hours(text: str, time: tuple[int, int]) -> None:
    """Hours and minutes as ISO 8601 writes them, a leading nought or not."""
    assert to_time(text) == dt.time(*time)


@pytest.mark.parametrize("text", ["24:00", "8:7", "8.10", "8:10 am", "810", "8:60", "noon", "-1:00"])
def test_other_times_are_faults(text: str) -> None:
    """What no clock shows, and what needs a guess, is a fault."""
    found = to_time(text)
    assert isinstance(found, Fault)
    assert found.word == "not-a-time"


@pytest.mark.parametrize(
    ("text", "km"), [("3.2 km", "3.2"), ("3.2km", "3.2"), ("800 m", "0.8"), ("1 mi", "1.609344"), ("0 km", "0")]
)
def test_distances_become_kilometres(text: str, km: str) -> None:
    """A mile has 1.609344 km exactly.

    Outside check: the international yard and pound agreement of 1959.
    """
    found = to_distance(text)
    assert not isinstance(found, Fault)
    assert found.km == Decimal(km)


@pytest.mark.parametrize("text", ["3,2 km", "3", "3 leagues", "far", "-1 km", "3 KM"])
def test_other_distances_are_faults(text: str) -> None:
    """Without a unit that is known, a distance is a fault."""
    found = to_distance(text)
    assert isinstance(found, Fault)
    assert found.word == "not-a-measure"


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "two", "2 h", "1234567"])
def test_minutes_and_people_are_whole(text: str) -> None:
    """Nought, parts and words are faults."""
    found = to_whole(text)
    assert isinstance(found, Fault)
    assert found.word == "not-a-number"


@given(st.text())
@settings(deadline=None)
def test_no_text_is_too_odd_to_count(text: str) -> None:
    """Whatever stands in a count, an answer comes back: a value or a fault."""
    assert isinstance(to_numbers(text), tuple | Fault)
    assert to_counted(text) is not None
    assert to_time(text) is not None
    assert to_whole(text) is not None
    assert to_distance(text) is not None


@given(
    st.dictionaries(
        st.sampled_from(
            ["start", "minutes", "distance", "place", "observers", "weather", "counts", "flocks", "photos"]
        ),
        st.text()
        | st.lists(st.sampled_from(["BCCH: 14", "- members: BCCH 9", "2 male, 1", "{", "|", ": ", "\t"])).map(
            "\n  ".join
        ),
    )
)
@settings(deadline=None)
def test_no_outing_is_too_odd_to_read(values: dict[str, str]) -> None:
    """Whatever is written under its keys, an outing is read or its faults are named, and each has a place."""
    text = "---\nouting: 2026-02-07\n" + "".join(f"{key}: {value}\n" for key, value in values.items()) + "---\n"
    source = SourceText("entries/outing.md", text)
    _, problems = read_entry(source)
    assert all(0 <= each.span.start <= each.span.end <= len(source.text) for each in problems)
