"""Text to values: dates, months, measures and the spots of a picture, and the faults in their place."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.entries.convert import (
    UNITS,
    to_box,
    to_date,
    to_length,
    to_mass,
    to_months,
    to_pointer,
    to_quantity,
    to_scale,
)
from tertial.entries.values import Box, Fault, Months, Pointer, Quantity, Scale, Spot

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

CONVERTERS = (to_box, to_date, to_length, to_mass, to_months, to_pointer, to_quantity, to_scale)


def spot(x: str, y: str, *, percent: bool = False) -> Spot:
    """A spot from two numbers as they are written."""
    return Spot(Decimal(x), Decimal(y), percent)


@pytest.mark.parametrize(
    ("text", "year", "month", "day"),
    [("2026-01-04", 2026, 1, 4), ("2024-02-29", 2024, 2, 29), ("0001-01-01", 1, 1, 1), ("9999-12-31", 9999, 12, 31)],
)
def test_a_day_is_read_as_iso_8601_writes_it(text: str, year: int, month: int, day: int) -> None:
    """Year, month and day with two hyphens (ISO 8601-1:2019, 5.2.2.1)."""
    assert to_date(text) == dt.date(year, month, day)


@pytest.mark.parametrize(
    "text",
    ["2026-1-4", "4 January 2026", "2026/01/04", "20260104", "2026-01", "", "2026-01-04T10:00", " 2026-01-04"],
)
def test_a_date_in_another_dress_is_refused(text: str) -> None:
    """Any other order or sign could be read in two ways."""
    fault = to_date(text)
    assert isinstance(fault, Fault)
    assert (fault.word, repr(text) in fault.reason) == ("not-a-date", True)
    assert "year-month-day was expected" in fault.reason


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("30.11.2026", "2026-11-30"),
        ("4. 1. 2026", "2026-01-04"),
        ("2026-1-4", "2026-01-04"),
        ("2026/11/30", "2026-11-30"),
        ("30 Nov. 2026", "2026-11-30"),
        ("November 30, 2026", "2026-11-30"),
        ("30/11/2026", ""),
        ("31.2.2026", ""),
        ("3 Ju 2026", ""),
        ("30 Brumaire 2026", ""),
    ],
)
def test_what_plainly_means_a_day_is_mended_to_it(text: str, day: str) -> None:
    """What could mean two days, or means none, gets an example instead."""
    fault = to_date(text)
    assert isinstance(fault, Fault)
    assert fault.mend == (f"write {day}" if day else "write year, month and day with two hyphens, as in 2026-01-04")


@pytest.mark.parametrize("text", ["2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "0000-01-01"])
def test_a_day_that_never_was_is_refused(text: str) -> None:
    """The form is right, but the calendar has no such day."""
    fault = to_date(text)
    assert isinstance(fault, Fault)
    assert fault.word == "not-a-date"
    assert "not a day of the calendar" in fault.reason


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("all year", range(1, 13)),
        ("Year round", range(1, 13)),
        ("year-round", range(1, 13)),
        ("January", [1]),
        ("may", [5]),
        ("Sept", [9]),
        ("Sep.", [9]),
        ("March to June", [3, 4, 5, 6]),
        ("November to March", [1, 2, 3, 11, 12]),
        ("December to January", [1, 12]),
        ("Nov-Mar", [1, 2, 3, 11, 12]),
        ("Nov – Mar", [1, 2, 3, 11, 12]),
        ("April to April", [4]),
        ("March to February", range(1, 13)),
        ("April, May, September to October", [4, 5, 9, 10]),
        ("October,april", [4, 10]),
        ("april   to\tmay", [4, 5]),
        ("March to May, April to June", [3, 4, 5, 6]),
    ],
)
def test_months_are_read_round_the_year(text: str, numbers: Iterable[int]) -> None:
    """A span may run over the turn of the year; each month counts once, in the order of the calendar."""
    assert to_months(text) == Months(text, tuple(numbers))


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("winter", "winter"),
        ("March, winter", "winter"),
        ("Ju", "Ju"),
        ("Ma.", "Ma."),
        ("March to May to June", "March to May to June"),
        ("March to winter", "March to winter"),
        ("Marchh", "Marchh"),
        ("March,", ""),
        ("", ""),
        ("3 to 5", "3 to 5"),
    ],
)
def test_what_names_no_month_is_refused(text: str, piece: str) -> None:
    """The piece that is no month is named, not the whole line."""
    fault = to_months(text)
    assert isinstance(fault, Fault)
    assert fault.word == "not-months"
    assert fault.reason.startswith(repr(piece))


@given(st.integers(1, 12), st.integers(1, 12))
def test_a_span_of_months_holds_its_ends_and_goes_one_way(first: int, last: int) -> None:
    """From any month to any other: both ends, and as many as one counts forward on a calendar."""
    names = [dt.date(2026, month, 1).strftime("%B") for month in (first, last)]
    months = to_months(" to ".join(names))
    assert isinstance(months, Months)
    assert {first, last} <= set(months.numbers)
    assert len(months.numbers) == (last - first) % 12 + 1
    assert list(months.numbers) == sorted(set(months.numbers))


@pytest.mark.parametrize(
    ("text", "low", "high", "unit", "about"),
    [
        ("18-26 cm", "18", "26", "cm", False),
        ("18–26 cm", "18", "26", "cm", False),
        ("18 - 26 cm", "18", "26", "cm", False),
        ("18 to 26 cm", "18", "26", "cm", False),
        ("18-26cm", "18", "26", "cm", False),
        ("about 22 cm", "22", "22", "cm", True),
        ("about 20-22 cm", "20", "22", "cm", True),
        ("7 in", "7", "7", "in", False),
        ("6.5-7.25 in", "6.5", "7.25", "in", False),
        ("26-26 mm", "26", "26", "mm", False),
        ("1.10 m", "1.10", "1.10", "m", False),
        ("3 ft", "3", "3", "ft", False),
        ("  18   -  26   cm ", "18", "26", "cm", False),
    ],
)
def test_a_length_is_a_value_or_a_range(text: str, low: str, high: str, unit: str, about: bool) -> None:
    """Hyphen, en dash or ``to`` between, blanks as one likes, ``about`` before, and the unit behind."""
    assert to_length(text) == Quantity(text, unit, low=Decimal(low), high=Decimal(high), about=about)


def test_a_number_keeps_the_precision_of_its_author() -> None:
    """What was written as 1.10 is not 1.1."""
    quantity = to_length("1.10 m")
    assert isinstance(quantity, Quantity)
    assert str(quantity.low) == "1.10"


@pytest.mark.parametrize(
    ("text", "mean", "sd", "n", "unit"),
    [
        ("mean 22.4 sd 1.9 n 31 mm", "22.4", "1.9", 31, "mm"),
        ("mean 31.6 n 11 mm", "31.6", None, 11, "mm"),
        ("mean 22.4 sd 1.9 mm", "22.4", "1.9", None, "mm"),
        ("mean 22 mm", "22", None, None, "mm"),
        ("mean 0.07 kg", "0.07", None, None, "kg"),
        ("mean  22.4  n 3  g", "22.4", None, 3, "g"),
    ],
)
def test_a_mean_comes_with_what_is_known_of_it(text: str, mean: str, sd: str | None, n: int | None, unit: str) -> None:
    """Standard deviation and number of birds may be left out; no range is made up for a mean."""
    expected = Quantity(text, unit, mean=Decimal(mean), sd=Decimal(sd) if sd else None, n=n)
    assert to_quantity(text) == expected
    assert (expected.low, expected.high) == (None, None)


@pytest.mark.parametrize(("text", "unit"), [("40-95 g", "g"), ("1.5 kg", "kg"), ("about 3 oz", "oz"), ("2 lb", "lb")])
def test_a_mass_has_a_unit_of_mass(text: str, unit: str) -> None:
    """Grams, kilograms, ounces and pounds."""
    quantity = to_mass(text)
    assert isinstance(quantity, Quantity)
    assert quantity.unit == unit


@pytest.mark.parametrize(
    ("convert", "text", "word"),
    [
        (to_length, "26-18 cm", "range-backwards"),
        (to_length, "18-26", "unit-missing"),
        (to_length, "18", "unit-missing"),
        (to_length, "18-26 g", "unit-unknown"),
        (to_length, "18-26 ells", "unit-unknown"),
        (to_mass, "18-26 cm", "unit-unknown"),
        (to_quantity, "18-26 x", "unit-unknown"),
        (to_quantity, "mean 22", "unit-missing"),
        (to_length, "small", "not-a-measure"),
        (to_length, "18-26-30 cm", "not-a-measure"),
        (to_length, "-18 cm", "not-a-measure"),
        (to_length, "18, 26 cm", "not-a-measure"),
        (to_length, ".5 cm", "not-a-measure"),
        (to_length, "5. cm", "not-a-measure"),
        (to_length, "18 cm long", "not-a-measure"),
        (to_length, "about mean 3 cm", "not-a-measure"),
        (to_length, "", "not-a-measure"),
        (to_quantity, "mean 3 n 2.5 mm", "not-a-measure"),
    ],
)
def test_a_measure_that_is_none_says_why(convert: Callable[[str], Quantity | Fault], text: str, word: str) -> None:
    """Backwards, without a unit, with another's unit, or no measure at all: four faults, each with its mend."""
    fault = convert(text)
    assert isinstance(fault, Fault)
    assert fault.word == word
    assert "expected" in fault.reason
    assert fault.mend


@pytest.mark.parametrize("text", ["mean 3 n {} mm", "mean {} mm", "{} mm", "3-{} mm", "mean 3.{} mm"])
def test_a_number_of_five_thousand_figures_is_no_measure(text: str) -> None:
    """What no bird can have is refused before anyone counts with it."""
    fault = to_quantity(text.format("9" * 5000))
    assert isinstance(fault, Fault)
    assert fault.word == "not-a-measure"


def test_a_range_that_runs_backwards_is_shown_the_right_way_round() -> None:
    """The mend is the line to write."""
    fault = to_length("26-18 cm")
    assert isinstance(fault, Fault)
    assert fault.mend == "write 18-26 cm"


def test_a_missing_unit_is_offered_the_units_that_fit() -> None:
    """A length is offered lengths, a mass masses."""
    length, mass = to_length("18"), to_mass("18")
    assert isinstance(length, Fault)
    assert isinstance(mass, Fault)
    assert "one of mm, cm, m, in, ft was expected" in length.reason
    assert "one of g, kg, oz, lb was expected" in mass.reason


def test_the_units_are_the_published_ones() -> None:
    """Outside check: the yard is 0.9144 m and the pound 0.453 592 37 kg (international agreement of 1959)."""
    yard, pound = Decimal("914.4"), Decimal("453.59237")
    assert UNITS["ft"].factor == yard / 3
    assert UNITS["in"].factor == yard / 36
    assert UNITS["lb"].factor == pound
    assert UNITS["oz"].factor == pound / 16


@pytest.mark.parametrize(
    ("unit", "dimension", "printed"),
    [
        ("in", "length", "25.4"),
        ("ft", "length", "304.8"),
        ("oz", "mass", "28.34952"),
        ("lb", "mass", "453.5924"),
        ("mm", "length", "1"),
        ("cm", "length", "10"),
        ("m", "length", "1000"),
        ("g", "mass", "1"),
        ("kg", "mass", "1000"),
    ],
)
def test_the_units_agree_with_the_printed_tables(unit: str, dimension: str, printed: str) -> None:
    """Outside check: NIST Special Publication 811 (2008), appendix B.8, to its seven figures; SI prefixes."""
    figures = Decimal(printed)
    assert UNITS[unit].dimension == dimension
    assert round(UNITS[unit].factor, -figures.as_tuple().exponent) == figures  # type: ignore[operator]


def test_no_unit_goes_unchecked() -> None:
    """Nine units, as the tables above have them."""
    assert set(UNITS) == {"mm", "cm", "m", "in", "ft", "g", "kg", "oz", "lb"}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("430,228 bill", Pointer(spot("430", "228"), "bill")),
        ("430, 228 bill", Pointer(spot("430", "228"), "bill")),
        ("31% 24% nape", Pointer(spot("31", "24", percent=True), "nape")),
        ("31.5 % 24 % nape", Pointer(spot("31.5", "24", percent=True), "nape")),
        ("1602,880 outer tail feathers", Pointer(spot("1602", "880"), "outer tail feathers")),
        ("0,0 40,50", Pointer(spot("0", "0"), "40,50")),
    ],
)
def test_a_pointer_is_a_spot_and_a_name(text: str, expected: Pointer) -> None:
    """Pixels with a comma, or per cent twice, then what is to be seen there."""
    assert to_pointer(text) == expected


def test_a_scale_is_two_named_spots() -> None:
    """Names may be long, short or missing, and per cent will do."""
    assert to_scale("bill tip 412,220 to tail tip 1650,910") == Scale(
        spot("412", "220"), "bill tip", spot("1650", "910"), "tail tip"
    )
    assert to_scale("bill tip 4.5% 22% to tail tip 90% 91%") == Scale(
        spot("4.5", "22", percent=True), "bill tip", spot("90", "91", percent=True), "tail tip"
    )
    assert to_scale("412,220 to 1650,910") == Scale(spot("412", "220"), "", spot("1650", "910"), "")


def test_a_box_is_two_corners() -> None:
    """Which corner comes first is left to the author."""
    assert to_box("380,180 to 700,470") == Box(spot("380", "180"), spot("700", "470"))
    assert to_box("70% 47% to 38% 18%") == Box(spot("70", "47", percent=True), spot("38", "18", percent=True))


@pytest.mark.parametrize(
    ("convert", "text"),
    [
        (to_pointer, "bill"),
        (to_pointer, "430,228"),
        (to_pointer, "430 228 bill"),
        (to_pointer, "430,228bill"),
        (to_pointer, "31% 24 nape"),
        (to_pointer, "-3,4 bill"),
        (to_scale, "bill tip to tail tip"),
        (to_scale, "bill tip 412,220 tail tip 1650,910"),
        (to_scale, "bill tip 412,220"),
        (to_box, "380,180 700,470"),
        (to_box, "380,180 to 700"),
        (to_box, "the head"),
    ],
)
def test_what_is_no_spot_says_how_to_write_one(convert: Callable[[str], object], text: str) -> None:
    """The text is shown, and the mend is an example."""
    fault = convert(text)
    assert isinstance(fault, Fault)
    assert fault.word == "not-a-spot"
    assert repr(text) in fault.reason
    assert fault.mend.startswith("write it as ")


pieces = st.sampled_from(
    [
        "mean",
        "sd",
        "n",
        "about",
        "to",
        "-",
        "–",
        "%",
        ",",
        " ",
        ".",
        "1",
        "22.4",
        "9" * 4400,
        "cm",
        "g",
        "January",
        "２",
    ]
)


@given(st.lists(pieces, max_size=10).map("".join) | st.lists(pieces, max_size=10).map(" ".join) | st.text())
def test_any_text_is_a_value_or_a_fault(text: str) -> None:
    """A converter never raises, and a fault always has its word, its reason and its mend."""
    for convert in CONVERTERS:
        value = convert(text)
        if isinstance(value, Fault):
            assert value.word
            assert value.reason
            assert value.mend
