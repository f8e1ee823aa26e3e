"""The record of a bird without a name: circumstances, marks, candidates, opinions, and what it proved to be."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tertial.entries.load import read_entry
from tertial.entries.unknown import UnknownEntry
from tertial.text.problem import Severity
from tertial.text.source import SourceText

FULL = """---
unknown: Small wader on the mud
seen: 2026-08-17
place: upper-weir
light: low sun behind it
view: 80 m, telescope, two minutes, feeding
when: August
marks: |
  legs: yellowish, or muddy
  bill: slightly drooped
  rump: not seen
could be: [LESA, SESA]
not: |
  WESA: bill too short: shorter than the head
asked: [R. Friend, the warden]
opinions: |
  R. Friend: LESA, from the legs
settled: LESA
sketches:
  - file: wader.png
    alt: Head and bill, twice
photos:
  - file: wader.jpg
    alt: The bird half hidden
---
Alone, at the upper edge of the mud.
"""


def unknown(text: str) -> tuple[UnknownEntry, list[str]]:
    entry, problems = read_entry(SourceText("entries/unknown.md", text))
    assert isinstance(entry, UnknownEntry)
    return entry, [problem.word for problem in problems]


def test_every_key_arrives_typed() -> None:
    """Day, months, phrases, codes and pictures; and nothing is complained of."""
    entry, words = unknown(FULL)
    assert words == []
    assert entry.name.value == "Small wader on the mud"
    assert entry.seen is not None
    assert entry.seen.value == dt.date(2026, 8, 17)
    texts = [entry.place, entry.light, entry.view, entry.settled]
    assert [written.value for written in texts if written] == [
        "upper-weir",
        "low sun behind it",
        "80 m, telescope, two minutes, feeding",
        "LESA",
    ]
    assert entry.when is not None
    assert entry.when.value.numbers == (8,)
    assert [(mark.part.value, mark.text.value) for mark in entry.marks] == [
        ("legs", "yellowish, or muddy"),
        ("bill", "slightly drooped"),
        ("rump", "not seen"),
    ]
    assert [mark.is_unknown for mark in entry.marks] == [False, False, True]
    assert [code.value for code in entry.could_be] == ["LESA", "SESA"]
    assert [(each.part.value, each.text.value) for each in entry.ruled_out] == [
        ("WESA", "bill too short: shorter than the head")
    ]
    assert [each.value for each in entry.asked] == ["R. Friend", "the warden"]
    assert [(each.part.value, each.text.value) for each in entry.opinions] == [("R. Friend", "LESA, from the legs")]
    assert [picture.file.value for picture in (*entry.sketches, *entry.photos)] == ["wader.png", "wader.jpg"]
    assert entry.source.slice(entry.body).strip() == "Alone, at the upper edge of the mud."


@pytest.mark.parametrize("written", ["[LESA, SESA]", "LESA, SESA", "LESA SESA", "\n  - LESA\n  - SESA"])
def test_candidates_in_any_form_are_codes_with_places(written: str) -> None:
    """A list, or one line with commas or blanks, gives the same codes, each where it stands."""
    entry, words = unknown(f"---\nunknown: Small wader\ncould be: {written}\n---\n")
    assert words == []
    assert [code.value for code in entry.could_be] == ["LESA", "SESA"]
    assert [entry.source.slice(code.span) for code in entry.could_be] == ["LESA", "SESA"]


@pytest.mark.parametrize("rest", ["", "settled:\n", "settled:          # a code, when it is\n"])
def test_an_open_question_is_no_gap(rest: str) -> None:
    """A bird that is not settled yet is the very point of the entry, so nothing is said of it."""
    entry, words = unknown(f"---\nunknown: Small wader\n{rest}---\n")
    assert words == []
    assert entry.settled is None


def test_without_a_working_name_there_is_no_entry() -> None:
    """A page needs something to be called by; the error says so."""
    entry, problems = read_entry(SourceText("entries/unknown.md", "---\nunknown:\nseen: 2026-08-17\n---\n"))
    assert entry is None
    assert [(problem.word, problem.severity) for problem in problems] == [("no-name", Severity.ERROR)]


@given(
    st.dictionaries(
        st.sampled_from(
            ["seen", "place", "when", "marks", "could be", "not", "asked", "opinions", "settled", "photos"]
        ),
        st.text()
        | st.lists(st.sampled_from(["LESA", "bill: grey", "|", "- ", "~", "[", "#", "2026-13-01"])).map("\n  ".join),
    )
)
@settings(deadline=None)
def test_no_unknown_bird_is_too_odd_to_read(values: dict[str, str]) -> None:
    """Whatever is written under its keys, the bird is read or its faults are named, and each has a place."""
    text = "---\nunknown: Small wader\n" + "".join(f"{key}: {value}\n" for key, value in values.items()) + "---\n"
    source = SourceText("entries/unknown.md", text)
    _, problems = read_entry(source)
    assert all(0 <= each.span.start <= each.span.end <= len(source.text) for each in problems)
