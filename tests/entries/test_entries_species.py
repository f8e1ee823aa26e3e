"""A species account: every key arrives as the right value, and every value knows where it stands."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from tertial.entries.load import read_entry
from tertial.entries.pictures import PHOTO_FIELDS, SKETCH_FIELDS
from tertial.entries.species import FIELDS, SpeciesEntry
from tertial.entries.values import Box, Months, Pointer, Quantity, Scale, Spot, Written
from tertial.text.source import Position, SourceText

if TYPE_CHECKING:
    from tertial.text.problem import Problem

WHOLE = """\
---
species: Hairy Woodpecker
scientific: Dryobates villosus      # optional: the name list knows it
code: HAWO
written: 2026-01-04
changed: 2026-02-11
when: November to March
where: [river wood, old orchard]
how common: a pair in most of the wood
size:
  class: starling-sized
  length: 18-26 cm
  wingspan: about 37 cm
  mass: 40-95 g
  source: handbook ranges, from memory
measures:
  all: |
    bill: mean 31.6 sd 1.2 n 11 mm
    wing: 120–130 mm
  male: |
    bill: 32 mm
marks:
  all: |
    bill: nearly as long as head, chisel-shaped, black
    outer tail feathers: always white, unspotted
  juvenile female: |
    crown: unknown
voice: |
  call: sharp "peek", lower than DOWO
  drum: fast, 25-26 beats a second
behaviour:
  foraging: [hammer, flake]
  notes: Works the trunk and large limbs; comes to the feeder last.
similar:
  DOWO: bill against head decides it
  NUWO:
sketches:
  - file: hairy-male.png
    shows: male
    alt: Male Hairy Woodpecker clinging to a birch, bill raised
    caption: At the weir, second week of frost
    by: R. Friend
    develop: drawing
    licence: CC BY 4.0
    scale: bill tip 412,220 to tail tip 1650,910
    head: 380,180 to 700,470
    pointers:
      - 430,228 bill
      - 31% 24% nape
photos:
  - file: hairy-feeder.png
    alt: Female at the feeder, seen from behind
    taken: 2026-01-03
sources:
  - "handbook 11: lengths from memory"
  - own notes
---
Bigger than [the other one][DOWO].
"""


def read(text: str) -> tuple[SpeciesEntry, tuple[Problem, ...]]:
    """Read a species account."""
    entry, problems = read_entry(SourceText("entries/hairy.md", text))
    assert isinstance(entry, SpeciesEntry)
    return entry, problems


@pytest.fixture(params=["\n", "\r\n"], ids=["lf", "crlf"])
def hairy(request: pytest.FixtureRequest) -> SpeciesEntry:
    """The account above, with either line end, and without a problem."""
    entry, problems = read(WHOLE.replace("\n", request.param))
    assert problems == ()
    return entry


def said(entry: SpeciesEntry, written: Written[object] | None) -> str:
    """What stands at the place of a value."""
    assert written is not None
    return entry.source.slice(written.span)


@pytest.mark.parametrize(
    ("attribute", "value", "place"),
    [
        ("name", "Hairy Woodpecker", "Hairy Woodpecker"),
        ("scientific", "Dryobates villosus", "Dryobates villosus"),
        ("code", "HAWO", "HAWO"),
        ("written", dt.date(2026, 1, 4), "2026-01-04"),
        ("changed", dt.date(2026, 2, 11), "2026-02-11"),
        ("when", Months("November to March", (1, 2, 3, 11, 12)), "November to March"),
        ("how_common", "a pair in most of the wood", "a pair in most of the wood"),
    ],
)
def test_a_single_value_is_read_with_its_place(hairy: SpeciesEntry, attribute: str, value: object, place: str) -> None:
    """Names, dates and months stand where they were written."""
    written = getattr(hairy, attribute)
    assert (written.value, said(hairy, written)) == (value, place)


def test_no_key_goes_unread(hairy: SpeciesEntry) -> None:
    """The account above has every key that a species account may have."""
    assert all(getattr(hairy, field.attribute) for field in FIELDS)
    assert len({field.key for field in FIELDS}) == len(FIELDS) == 17


def test_lists_are_read_item_by_item(hairy: SpeciesEntry) -> None:
    """Habitats and sources keep their order, their places and their colons."""
    assert [(each.value, said(hairy, each)) for each in hairy.where] == [
        ("river wood", "river wood"),
        ("old orchard", "old orchard"),
    ]
    assert [(each.value, said(hairy, each)) for each in hairy.sources] == [
        ("handbook 11: lengths from memory", '"handbook 11: lengths from memory"'),
        ("own notes", "own notes"),
    ]


def test_a_size_is_read_figure_by_figure(hairy: SpeciesEntry) -> None:
    """Class and source are words, the rest are measures with their units."""
    size = hairy.size
    assert size is not None
    assert [said(hairy, each) for each in (size.size_class, size.length, size.wingspan, size.mass, size.source)] == [
        "starling-sized",
        "18-26 cm",
        "about 37 cm",
        "40-95 g",
        "handbook ranges, from memory",
    ]
    assert size.length is not None
    assert size.wingspan is not None
    assert size.mass is not None
    assert size.length.value == Quantity("18-26 cm", "cm", low=Decimal(18), high=Decimal(26))
    assert size.wingspan.value == Quantity("about 37 cm", "cm", low=Decimal(37), high=Decimal(37), about=True)
    assert size.mass.value == Quantity("40-95 g", "g", low=Decimal(40), high=Decimal(95))


def test_measures_are_read_plumage_by_plumage(hairy: SpeciesEntry) -> None:
    """Part, measure and plumage each know their place."""
    found = [
        (said(hairy, block.plumage), said(hairy, each.part), said(hairy, each.quantity), each.quantity.value)
        for block in hairy.measures
        for each in block.measures
    ]
    mean = Quantity("mean 31.6 sd 1.2 n 11 mm", "mm", mean=Decimal("31.6"), sd=Decimal("1.2"), n=11)
    assert found == [
        ("all", "bill", "mean 31.6 sd 1.2 n 11 mm", mean),
        ("all", "wing", "120–130 mm", Quantity("120–130 mm", "mm", low=Decimal(120), high=Decimal(130))),
        ("male", "bill", "32 mm", Quantity("32 mm", "mm", low=Decimal(32), high=Decimal(32))),
    ]


def test_marks_are_read_plumage_by_plumage(hairy: SpeciesEntry) -> None:
    """Plumage, part and phrase are as written, and stand where they were written."""
    found = [(block.plumage, line.part, line.text) for block in hairy.marks for line in block.phrases]
    assert [(plumage.value, part.value, text.value) for plumage, part, text in found] == [
        ("all", "bill", "nearly as long as head, chisel-shaped, black"),
        ("all", "outer tail feathers", "always white, unspotted"),
        ("juvenile female", "crown", "unknown"),
    ]
    assert all(said(hairy, each) == each.value for line in found for each in line)


def test_voice_is_read_line_by_line(hairy: SpeciesEntry) -> None:
    """Quotes and hyphens in a phrase are the author's."""
    assert [(said(hairy, line.part), said(hairy, line.text)) for line in hairy.voice] == [
        ("call", 'sharp "peek", lower than DOWO'),
        ("drum", "fast, 25-26 beats a second"),
    ]


def test_behaviour_is_ways_of_feeding_and_notes(hairy: SpeciesEntry) -> None:
    """The list of ways and the notes are kept apart."""
    assert hairy.behaviour is not None
    assert [(each.value, said(hairy, each)) for each in hairy.behaviour.foraging] == [
        ("hammer", "hammer"),
        ("flake", "flake"),
    ]
    (notes,) = hairy.behaviour.notes
    assert (said(hairy, notes.part), said(hairy, notes.text)) == (
        "notes",
        "Works the trunk and large limbs; comes to the feeder last.",
    )


def test_look_alikes_come_with_or_without_a_remark(hairy: SpeciesEntry) -> None:
    """A code without a remark is still a look-alike."""
    first, second = hairy.similar
    assert (first.code.value, said(hairy, first.code), said(hairy, first.remark)) == (
        "DOWO",
        "DOWO",
        "bill against head decides it",
    )
    assert (second.code.value, said(hairy, second.code), second.remark) == ("NUWO", "NUWO", None)


def test_a_sketch_is_read_key_by_key(hairy: SpeciesEntry) -> None:
    """Words, scale, head and pointers arrive as what they are."""
    (sketch,) = hairy.sketches
    words = (sketch.file, sketch.shows, sketch.alt, sketch.caption, sketch.by, sketch.licence)
    assert [said(hairy, each) for each in words] == [
        "hairy-male.png",
        "male",
        "Male Hairy Woodpecker clinging to a birch, bill raised",
        "At the weir, second week of frost",
        "R. Friend",
        "CC BY 4.0",
    ]
    assert all(each is not None and each.value == said(hairy, each) for each in words)
    assert sketch.scale is not None
    assert sketch.head is not None
    assert said(hairy, sketch.scale) == "bill tip 412,220 to tail tip 1650,910"
    assert sketch.scale.value == Scale(
        Spot(Decimal(412), Decimal(220), False), "bill tip", Spot(Decimal(1650), Decimal(910), False), "tail tip"
    )
    assert sketch.head.value == Box(Spot(Decimal(380), Decimal(180), False), Spot(Decimal(700), Decimal(470), False))
    assert [(said(hairy, each), each.value) for each in sketch.pointers] == [
        ("430,228 bill", Pointer(Spot(Decimal(430), Decimal(228), False), "bill")),
        ("31% 24% nape", Pointer(Spot(Decimal(31), Decimal(24), True), "nape")),
    ]
    assert all(getattr(sketch, field.attribute) for field in SKETCH_FIELDS)


def test_a_photo_is_read_key_by_key(hairy: SpeciesEntry) -> None:
    """A photo has a day, and neither scale nor pointers."""
    (photo,) = hairy.photos
    assert [said(hairy, each) for each in (photo.file, photo.alt, photo.taken)] == [
        "hairy-feeder.png",
        "Female at the feeder, seen from behind",
        "2026-01-03",
    ]
    assert photo.taken is not None
    assert photo.taken.value == dt.date(2026, 1, 3)
    assert {field.key for field in PHOTO_FIELDS} == {
        *("file", "shows", "alt", "caption", "by", "develop", "licence", "taken")
    }


def test_the_text_is_kept_whole(hairy: SpeciesEntry) -> None:
    """What follows the front matter is the author's text."""
    assert hairy.source.slice(hairy.body).strip() == "Bigger than [the other one][DOWO]."


def test_places_are_the_same_with_either_line_end() -> None:
    """Line and column of every phrase do not depend on how lines end."""
    first, second = read(WHOLE)[0], read(WHOLE.replace("\n", "\r\n"))[0]

    def places(entry: SpeciesEntry) -> list[Position]:
        spans = [line.text.span for block in entry.marks for line in block.phrases]
        spans += [each.span for each in (entry.name, *entry.where, *entry.sources)]
        return [entry.source.position(span.start) for span in spans]

    assert places(first) == places(second)
    assert Position(27, 12) in places(first)


@pytest.mark.parametrize(
    ("lines", "word", "place"),
    [
        ("colour: black", "unknown-key", "colour"),
        ("Code: HAWO", "unknown-key", "Code"),
        ("written: yesterday", "not-a-date", "yesterday"),
        ("written: [2026-01-04]", "wrong-shape", "[2026-01-04]"),
        ("when: winter", "not-months", "winter"),
        ("where: {a: b, c: d}", "wrong-shape", "{a: b, c: d}"),
        ("where:\n  - Upper Weir: north bank", "colon-in-item", "Upper Weir: north bank"),
        ("where: [a, [b, c]]", "wrong-shape", "[b, c]"),
        ("size: 20 cm", "wrong-shape", "20 cm"),
        ("size:\n  lenght: 20 cm", "unknown-key", "lenght"),
        ("size:\n  length: 20", "unit-missing", "20"),
        ("size:\n  mass: 20 cm", "unit-unknown", "20 cm"),
        ("measures: [bill]", "wrong-shape", "[bill]"),
        ("measures: |\n  bill: 26-18 mm", "range-backwards", "26-18 mm"),
        ("marks: [bill]", "wrong-shape", "[bill]"),
        ("marks:\n  male: [red, black]", "wrong-shape", "[red, black]"),
        ("marks:\n  male: {nape: [red, black]}", "wrong-shape", "[red, black]"),
        ("marks:\n  male: red nape", "no-part", "red nape"),
        ("marks:\n  male: |\n    red nape", "no-part", "red nape"),
        ("marks:\n  male: |\n    nape: red\n    nape: black", "key-twice", "nape"),
        ("voice: |\n  drum:", "empty-value", "drum"),
        ("voice:\n  drum:", "empty-value", "drum"),
        ("voice: [drum]", "wrong-shape", "[drum]"),
        ("how common:", "empty-value", "how common"),
        ("marks:\n  male: ~", "null-word", "~"),
        ("similar:\n  DOWO: [a]", "wrong-shape", "[a]"),
        ("sketches: hairy.png", "wrong-shape", "hairy.png"),
        ("sketches:\n  - alt: A bird", "no-file", "alt: A bird"),
        ("sketches:\n  - file: a.png\n    head: round", "not-a-spot", "round"),
        ("sketches:\n  - file: a.png\n    taken: 2026-01-01", "unknown-key", "taken"),
        ("sketches:\n  - file: a.png\n    develop: film", "not-a-choice", "film"),
        ("photos:\n  - file: a.png\n    taken: soon", "not-a-date", "soon"),
        ("photos:\n  - file: a.png\n    pointers: [1]", "unknown-key", "pointers"),
    ],
)
def test_a_slip_is_told_where_it_stands(lines: str, word: str, place: str) -> None:
    """One slip, one problem, at the narrowest place; the rest of the account is read."""
    entry, (problem,) = read(f"---\nspecies: Hairy Woodpecker\n{lines}\n---\n")
    assert (problem.word, entry.source.slice(problem.span)) == (word, place)
    assert entry.source.position(problem.span.start).line > 2
    assert problem.message
    assert problem.mend
    assert entry.name.value == "Hairy Woodpecker"


def test_a_near_key_is_offered() -> None:
    """A slip of the pen is answered with the key that was meant; any other key with the list of keys."""
    _, (near, far) = read("---\nspecies: Sora\nscientifc: Porzana carolina\nxyzzy: 1\n---\n")
    assert near.mend == "write 'scientific'"
    assert far.mend.startswith("use one of: species, scientific, code, written")


def test_the_wrong_item_of_a_list_costs_no_other() -> None:
    """Spots that can be read are kept, the one that cannot is named."""
    entry, (problem,) = read("---\nspecies: Sora\nsketches:\n  - file: a.png\n    pointers: [1% 2% bill, tail]\n---\n")
    assert entry.source.slice(problem.span) == "tail"
    assert [each.value.name for each in entry.sketches[0].pointers] == ["bill"]


def test_a_picture_without_a_file_costs_no_other() -> None:
    """The sketch that names its file is kept."""
    entry, (problem,) = read("---\nspecies: Sora\nsketches:\n  - alt: one\n  - file: b.png\n---\n")
    assert problem.word == "no-file"
    assert [sketch.file.value for sketch in entry.sketches] == ["b.png"]


def test_an_item_with_a_colon_is_kept_as_it_was_meant() -> None:
    """The mend shows the quotes that are missing, of the kind that the item does not hold."""
    entry, (first, second) = read(
        '---\nspecies: Sora\nsources:\n  - Own book 1997: Guide\n  - Notes: the "old" book\n---\n'.replace(
            "Pyle", "Own book"
        )
    )
    assert [each.value for each in entry.sources] == ["Own book 1997: Guide", 'Notes: the "old" book']
    assert first.mend == 'put it in quotes: "Own book 1997: Guide"'
    assert second.mend == """put it in quotes: 'Notes: the "old" book'"""
