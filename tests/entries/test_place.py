"""The record of a place: a position is held exactly, and with it how much of it may be told."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tertial.entries.load import read_entry
from tertial.entries.place import PlaceEntry, Position, to_id, to_position, to_shown_as
from tertial.entries.values import Fault
from tertial.text.source import SourceText

FULL = """---
place: Lower Weir
id: lower-weir
position: 44.97778, -93.26500
shown as: 0.1 degree            # exact, 0.001, 0.01, 0.1 or 1 degree, withheld
because: a heronry behind the second bend
habitat: [river wood, open water]
sketches:
  - file: weir.png
    alt: The weir from the mill
photos:
  - file: weir.jpg
    alt: The weir in March
---
Park at the mill, not on the verge.
"""


def place(text: str) -> tuple[PlaceEntry, list[str]]:
    entry, problems = read_entry(SourceText("entries/place.md", text))
    assert isinstance(entry, PlaceEntry)
    return entry, [problem.word for problem in problems]


def test_every_key_arrives_typed() -> None:
    """The position keeps every digit, and how it is shown is a number of degrees."""
    entry, words = place(FULL)
    assert words == []
    assert entry.name.value == "Lower Weir"
    assert entry.id is not None
    assert entry.id.value == "lower-weir"
    assert entry.position is not None
    assert entry.position.value == Position(Decimal("44.97778"), Decimal("-93.26500"))
    assert str(entry.position.value.longitude) == "-93.26500"
    assert entry.shown_as is not None
    assert (entry.shown_as.value.text, entry.shown_as.value.degrees) == ("0.1 degree", Decimal("0.1"))
    assert entry.because is not None
    assert entry.because.value == "a heronry behind the second bend"
    assert [each.value for each in entry.habitat] == ["river wood", "open water"]
    assert [picture.file.value for picture in (*entry.sketches, *entry.photos)] == ["weir.png", "weir.jpg"]
    assert entry.source.slice(entry.body).strip() == "Park at the mill, not on the verge."


def test_a_name_is_enough() -> None:
    """A place without a position has nothing to withhold."""
    entry, words = place("---\nplace: Lower Weir\n---\n")
    assert words == []
    assert (entry.id, entry.position, entry.shown_as, entry.because) == (None, None, None, None)


@pytest.mark.parametrize(
    ("text", "latitude", "longitude"),
    [
        ("44.9, -93.2", "44.9", "-93.2"),
        ("44.9,-93.2", "44.9", "-93.2"),
        ("44.9 -93.2", "44.9", "-93.2"),
        ("+44 -93", "44", "-93"),
        ("-90, 180", "-90", "180"),
        ("0, 0", "0", "0"),
    ],
)
def test_positions_are_two_numbers(text: str, latitude: str, longitude: str) -> None:
    """Latitude first, with a comma, a blank or both between."""
    assert to_position(text) == Position(Decimal(latitude), Decimal(longitude))


@pytest.mark.parametrize(
    "text",
    ["", "44.9", "44.9, -93.2, 200", "44,9 -93,2", "44 54 N, 93 12 W", "90.1, 0", "0, 180.1", "-93.2, 44.9", "1e1, 2"],
)
def test_other_positions_are_faults(text: str) -> None:
    """One number, three, another notation, and what lies on no map."""
    found = to_position(text)
    assert isinstance(found, Fault)
    assert found.word == "not-a-position"


def test_an_exchange_is_proposed_where_it_helps() -> None:
    """Longitude before latitude is the commonest slip; the mend has them in the right order."""
    found = to_position("-93.2, 44.9")
    assert isinstance(found, Fault)
    assert found.mend == "mend the figure; or, if longitude came first, write 44.9, -93.2"
    beyond = to_position("200, 100")
    assert isinstance(beyond, Fault)
    assert "longitude came first" not in beyond.mend


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("N44.9 W93.2", "44.9, -93.2"),
        ("N 44.9, W 93.2", "44.9, -93.2"),
        ("44.9 N 93.2 W", "44.9, -93.2"),
        ("N44.9 93.2W", "44.9, -93.2"),
        ("44.9N W93.2", "44.9, -93.2"),
        ("W93.2 N44.9", "44.9, -93.2"),
        ("s 33.9 e 151.2", "-33.9, 151.2"),
        ("N 44° 54' 12\" W 93° 12' 00\"", "44.9033, -93.2000"),
        ("44º54′12″N, 93º12′00″W", "44.9033, -93.2000"),
        ("N 44° 54.2' W 093° 12.1'", "44.9033, -93.2017"),
    ],
)
def test_points_of_the_compass_are_kept(text: str, mend: str) -> None:
    """Before the number or behind it, with a comma or without: the mend never leads to another hemisphere."""
    found = to_position(text)
    assert isinstance(found, Fault)
    assert found.mend == f"write {mend}"
    assert isinstance(to_position(mend), Position)


@pytest.mark.parametrize(
    "text",
    ["N 44° 54' W 93° 72'", "44° 54' 60\" N 93° 12' W", "44.5° 30' N 93.2° W", "44.9 W53.2", "44° 54", "N44.9 N93.2"],
)
def test_what_is_no_angle_or_leaves_a_choice_gets_an_example(text: str) -> None:
    """Sixty minutes and more, halves of degrees with minutes, and a letter that may belong to either number."""
    found = to_position(text)
    assert isinstance(found, Fault)
    assert found.mend == "write decimal degrees, as in 44.9, -93.2"


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("exact", "0"),
        ("0.001", "0.001"),
        ("0.01 degree", "0.01"),
        ("0.1 degrees", "0.1"),
        ("1 degree", "1"),
        ("withheld", None),
    ],
)
def test_the_ways_to_show_a_position(text: str, degrees: str | None) -> None:
    """Four grades, all of it, or nothing."""
    found = to_shown_as(text)
    assert not isinstance(found, Fault)
    assert found.degrees == (None if degrees is None else Decimal(degrees))


@pytest.mark.parametrize("text", ["", "5 km", "0.5 degree", "10 degree", "roughly", "0.0001", "Exact", "0.1 deg"])
def test_other_ways_are_faults(text: str) -> None:
    """What is not offered is not guessed: a slip here would tell too much."""
    found = to_shown_as(text)
    assert isinstance(found, Fault)
    assert found.word == "not-a-choice"


def test_what_cannot_be_read_tells_nothing() -> None:
    """With a fault in how it is shown, a position has no leave to be told."""
    entry, words = place("---\nplace: Lower Weir\nposition: 44.9, -93.2\nshown as: 5 km\n---\n")
    assert words == ["not-a-choice"]
    assert entry.position is not None
    assert entry.shown_as is None


@pytest.mark.parametrize("text", ["upper-weir", "a", "2-bridge", "1999"])
def test_ids_are_short_names(text: str) -> None:
    """Small letters, digits and hyphens between them."""
    assert to_id(text) == text


@pytest.mark.parametrize(
    ("text", "proposed"),
    [
        ("Upper Weir", "upper-weir"),
        ("île_du_barrage", "ile-du-barrage"),
        ("-weir", "weir"),
        ("weir--2", "weir-2"),
        ("../weir", "weir"),
        ("河原", "upper-weir"),
        ("weir-" * 80, "-".join(["weir"] * 20)),
    ],
)
def test_other_ids_are_faults_with_a_proposal(text: str, proposed: str) -> None:
    """The mend is an id that would be taken."""
    found = to_id(text)
    assert isinstance(found, Fault)
    assert found.word == "not-an-id"
    assert found.mend.split()[-1] == proposed
    assert to_id(proposed) == proposed


@given(st.text())
@settings(deadline=None)
def test_no_text_is_too_odd_for_a_place(text: str) -> None:
    """Whatever is written, a value or a fault comes back, and a position is on the map."""
    assert isinstance(to_id(text), str | Fault)
    assert to_shown_as(text) is not None
    found = to_position(text)
    assert isinstance(found, Fault) or (abs(found.latitude) <= 90 and abs(found.longitude) <= 180)


@given(
    st.dictionaries(
        st.sampled_from(["id", "position", "shown as", "because", "habitat", "photos"]),
        st.text() | st.lists(st.sampled_from(["44.9", "-93.2", ",", "[", "~", "|", "#", "1e999"])).map(" ".join),
    )
)
@settings(deadline=None)
def test_no_place_is_too_odd_to_read(values: dict[str, str]) -> None:
    """Whatever is written under its keys, a place is read or its faults are named, and each has a place."""
    text = "---\nplace: Lower Weir\n" + "".join(f"{key}: {value}\n" for key, value in values.items()) + "---\n"
    source = SourceText("entries/place.md", text)
    _, problems = read_entry(source)
    assert all(0 <= each.span.start <= each.span.end <= len(source.text) for each in problems)
