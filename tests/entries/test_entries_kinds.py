"""One file to one entry: the kinds, the flock, and the settings of the guide."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest

from tertial.entries.flock import FIELDS as FLOCK_FIELDS
from tertial.entries.flock import FlockEntry
from tertial.entries.load import FIELD_TABLES, KINDS, Entry, read_entry
from tertial.entries.settings import FIELDS as SETTINGS_FIELDS
from tertial.entries.settings import Settings, read_settings
from tertial.entries.species import SpeciesEntry
from tertial.text.problem import Severity
from tertial.text.source import SourceText

if TYPE_CHECKING:
    from tertial.entries.fields import Field
    from tertial.entries.values import Months, Written
    from tertial.text.problem import Problem

FLOCK = """\
---
flock: Winter wood flock
members: [BCCH, TUTI, WBNU]
usual leader: BCCH
when: November to March
where: [river wood]
written: 2026-01-20
changed: 2026-03-08
marks: |
  voice: constant thin contact calls, scolding at an owl
behaviour:
  foraging: [glean]
  notes: Drifts along the river, chickadees first.
sketches:
  - file: winter-flock.png
    alt: Three small birds on one alder
photos:
  - file: flock.png
sources:
  - own notes
---
When one bird finds food the others come down.
"""
GUIDE = """\
title: Birds of the Millrace
author: A. Watcher
region: the river Alder between Upper Weir and the reservoir (an invented place)
language: fr
written in: en
codes: BBL                      # or IBP
units: both
base address: https://example.org/millrace
licence: CC BY 4.0
develop: photo
yardsticks: [GCKI, BCCH]
groups:
  small woodpeckers: [DOWO, HAWO]
  yellowlegs: GRYE, LEYE
words:                          # own terms, each beside a known one
  colour: {biscuit: buff, brick: red}
  shape:
    anvil-headed: flat-crowned
"""


def read(text: str) -> tuple[Entry | None, SourceText, tuple[Problem, ...]]:
    """Read an entry."""
    source = SourceText("entries/x.md", text)
    return *read_entry(source)[:1], source, read_entry(source)[1]


def settings(text: str) -> tuple[Settings, tuple[Problem, ...]]:
    """Read the settings of a guide."""
    return read_settings(SourceText("guide.yaml", text))


def said(source: SourceText, *written: Written[str] | Written[dt.date] | Written[Months] | None) -> list[str]:
    """What stands at the places of some values."""
    return [source.slice(each.span) for each in written if each is not None]


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
def test_every_key_of_a_flock_is_read(end: str) -> None:
    """Members, leader, months and phrases arrive with their places."""
    entry, source, problems = read(FLOCK.replace("\n", end))
    assert isinstance(entry, FlockEntry)
    assert problems == ()
    assert all(getattr(entry, field.attribute) for field in FLOCK_FIELDS)
    assert len({field.key for field in FLOCK_FIELDS}) == 12
    assert entry.name.value == "Winter wood flock"
    assert [each.value for each in entry.members] == said(source, *entry.members) == ["BCCH", "TUTI", "WBNU"]
    assert said(source, entry.name, entry.leader, entry.when, entry.written, entry.changed, *entry.where) == [
        "Winter wood flock",
        "BCCH",
        "November to March",
        "2026-01-20",
        "2026-03-08",
        "river wood",
    ]
    assert entry.when is not None
    assert entry.changed is not None
    assert entry.when.value.numbers == (1, 2, 3, 11, 12)
    assert entry.changed.value == dt.date(2026, 3, 8)
    (mark,) = entry.marks
    assert said(source, mark.part, mark.text) == ["voice", "constant thin contact calls, scolding at an owl"]
    assert entry.behaviour is not None
    assert said(source, *entry.behaviour.foraging, entry.behaviour.notes[0].text) == [
        "glean",
        "Drifts along the river, chickadees first.",
    ]
    assert said(source, entry.sketches[0].file, entry.photos[0].file) == ["winter-flock.png", "flock.png"]
    assert source.slice(entry.body).strip() == "When one bird finds food the others come down."


@pytest.mark.parametrize(
    "line",
    [
        "members: [BCCH, TUTI, WBNU]",
        "members: BCCH, TUTI, WBNU",
        "members: BCCH TUTI WBNU",
        "members: BCCH, TUTI and WBNU",
        'members: "BCCH, TUTI, WBNU"',
        "members:\n  - BCCH\n  - TUTI\n  - WBNU",
        "members: >\n  BCCH, TUTI,\n  WBNU",
        "members: |\n  BCCH\n  TUTI\n  WBNU",
    ],
)
def test_codes_may_be_listed_in_any_way(line: str) -> None:
    """A list, or a line with commas or blanks between: every code stands at its own place."""
    entry, source, problems = read(f"---\nflock: Winter wood flock\n{line}\n---\n")
    assert isinstance(entry, FlockEntry)
    assert problems == ()
    assert [each.value for each in entry.members] == said(source, *entry.members) == ["BCCH", "TUTI", "WBNU"]


def test_a_code_that_is_written_with_escapes_stands_in_its_line() -> None:
    """A code that cannot be found as such is placed where its line stands, never outside the file."""
    entry, source, _ = read('---\nflock: Winter wood flock\nmembers: "BCCH \\x54UTI"\n---\n')
    assert isinstance(entry, FlockEntry)
    assert [each.value for each in entry.members] == ["BCCH", "TUTI"]
    assert said(source, *entry.members) == ["BCCH", '"BCCH \\x54UTI"']


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_must_be_yaml(kind: str) -> None:
    """What cannot be read at all is told, whatever the kind, and the rest is read all the same."""
    entry, source, problems = read(f"---\n{kind}: 2026-01-17\nphotos: a: b\n---\n")
    assert isinstance(entry, Entry)
    assert [(each.word, source.slice(each.span)) for each in problems][:1] == [("yaml-syntax", "photos: a: b")]


def test_the_kinds_are_five() -> None:
    """Each has a reader and a field table."""
    assert KINDS == ("species", "flock", "outing", "place", "unknown")
    assert tuple(FIELD_TABLES) == KINDS


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("value", ["[a]", "{a: b}"])
def test_a_kind_with_more_than_a_name_is_an_error(kind: str, value: str) -> None:
    """What cannot be a name is pointed at, and weighs as much as having none."""
    entry, source, problems = read(f"---\n{kind}: {value}\n---\nText.\n")
    assert entry is None
    (error,) = [problem for problem in problems if problem.severity is Severity.ERROR]
    assert (error.word, source.slice(error.span)) == ("wrong-shape", value)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("value", ["", "''", "~"])
def test_a_kind_without_a_name_is_an_error(kind: str, value: str) -> None:
    """Without a name there is no page, and the key is pointed at."""
    entry, source, problems = read(f"---\n{kind}: {value}\n---\nText.\n")
    assert entry is None
    (error,) = [problem for problem in problems if problem.severity is Severity.ERROR]
    assert (error.word, source.slice(error.span)) == ("no-name", kind)


def test_a_kind_that_does_not_come_first_is_still_the_kind() -> None:
    """The entry is read, and the line is to be moved."""
    entry, source, (problem,) = read("---\ncode: SORA\nspecies: Sora\n---\n")
    assert isinstance(entry, SpeciesEntry)
    assert (problem.word, problem.severity) == ("kind-not-first", Severity.WARNING)
    assert source.slice(problem.span) == "species"


def test_the_first_of_two_kinds_counts() -> None:
    """The second is a key that the first does not have."""
    entry, source, (problem,) = read("---\nspecies: Sora\nflock: Reeds\n---\n")
    assert isinstance(entry, SpeciesEntry)
    assert (problem.word, source.slice(problem.span)) == ("unknown-key", "flock")


@pytest.mark.parametrize(
    ("text", "word", "place"),
    [
        ("---\ntitle: Sora\n---\n", "no-kind", "title"),
        ("---\n---\nText.\n", "no-kind", "---"),
        ("---\n# a note\n---\n", "no-kind", "---"),
        ("---\n- Sora\n---\n", "no-keys", "- Sora"),
        ("Sora\n", "no-front-matter", "Sora"),
        ("", "no-front-matter", ""),
    ],
)
def test_a_file_that_is_no_entry_says_so_once(text: str, word: str, place: str) -> None:
    """One error, at the first thing that stands there."""
    entry, source, (problem,) = read(text)
    assert entry is None
    assert (problem.word, problem.severity, source.slice(problem.span)) == (word, Severity.ERROR, place)


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
def test_every_key_of_the_guide_is_read(end: str) -> None:
    """Names, choices, codes, groups and own words arrive with their places."""
    found, problems = settings(GUIDE.replace("\n", end))
    assert problems == ()
    assert all(getattr(found, field.attribute) for field in SETTINGS_FIELDS)
    assert len({field.key for field in SETTINGS_FIELDS}) == 13
    single = (
        found.title,
        found.author,
        found.region,
        found.language,
        found.written_in,
        found.codes,
        found.units,
        found.licence,
    )
    assert [each.value for each in single if each] == [
        "Birds of the Millrace",
        "A. Watcher",
        "the river Alder between Upper Weir and the reservoir (an invented place)",
        "fr",
        "en",
        "BBL",
        "both",
        "CC BY 4.0",
    ]
    assert all(each is not None and found.source.slice(each.span) == each.value for each in single)
    assert found.code_list == "BBL"
    assert found.base_address is not None
    assert found.base_address.value == "https://example.org/millrace/"
    assert said(found.source, found.base_address, *found.yardsticks) == ["https://example.org/millrace", "GCKI", "BCCH"]
    assert [(name.value, [code.value for code in codes]) for name, codes in found.groups] == [
        ("small woodpeckers", ["DOWO", "HAWO"]),
        ("yellowlegs", ["GRYE", "LEYE"]),
    ]
    assert all(said(found.source, code) == [code.value] for _, codes in found.groups for code in codes)
    assert found.own_words("colour") == {"biscuit": "buff", "brick": "red"}
    assert found.own_words("shape") == {"anvil-headed": "flat-crowned"}
    assert found.own_words("sound") == {}
    assert all(
        said(found.source, own, known) == [own.value, known.value] for _, pairs in found.words for own, known in pairs
    )


def test_an_empty_guide_has_its_defaults() -> None:
    """Nothing need be said for a guide to begin."""
    found, problems = settings("")
    assert problems == ()
    assert found.code_list == "IBP"
    assert (found.title, found.units, found.yardsticks, found.groups, found.words) == (None, None, (), (), ())


@pytest.mark.parametrize(
    ("line", "word", "place"),
    [
        ("titel: A", "unknown-key", "titel"),
        ("codes: ibp", "not-a-choice", "ibp"),
        ("codes: [IBP]", "wrong-shape", "[IBP]"),
        ("units: imperial", "not-a-choice", "imperial"),
        ("language: English!", "not-a-choice", "English!"),
        ("base address: example.org", "not-an-address", "example.org"),
        ("base address: ftp://example.org/", "not-an-address", "ftp://example.org/"),
        ("base address: https://example.org/?a=b", "not-an-address", "https://example.org/?a=b"),
        ("base address: https://", "not-an-address", "https://"),
        ("base address: https://[example.org/", "not-an-address", "https://[example.org/"),
        ("base address: https://ex\u2100mple.org/", "not-an-address", "https://ex\u2100mple.org/"),
        ("groups: [DOWO, HAWO]", "wrong-shape", "[DOWO, HAWO]"),
        ("groups: {small: {DOWO: x, HAWO: y}}", "wrong-shape", "{DOWO: x, HAWO: y}"),
        ("words: biscuit", "wrong-shape", "biscuit"),
        ("words: {colour: biscuit}", "wrong-shape", "biscuit"),
        ("words: {colour: {biscuit: [buff]}}", "wrong-shape", "[buff]"),
        ("title: A\ntitle: B", "key-twice", "title"),
    ],
)
def test_a_slip_in_the_settings_is_told_where_it_stands(line: str, word: str, place: str) -> None:
    """One slip, one problem; the other settings hold."""
    found, (problem,) = settings(f"region: here\n{line}\nlicence: CC0\n")
    assert (problem.word, found.source.slice(problem.span)) == (word, place)
    assert problem.source.path == "guide.yaml"
    assert found.region is not None
    assert found.licence is not None


@pytest.mark.parametrize("field", SETTINGS_FIELDS, ids=lambda field: field.key)
def test_a_setting_may_wait_for_its_value(field: Field) -> None:
    """A new guide lists its keys; nothing need stand behind them."""
    found, problems = settings(f"{field.key}:\n")
    assert problems == ()
    assert not getattr(found, field.attribute)


@pytest.mark.parametrize("tag", ["en", "fr", "pt-BR", "zh-Hant", "gsw"])
def test_a_language_is_a_tag(tag: str) -> None:
    """Language, script and region as BCP 47 (RFC 5646, 2.1) writes them."""
    found, problems = settings(f"language: {tag}\n")
    assert problems == ()
    assert found.language is not None
    assert found.language.value == tag
