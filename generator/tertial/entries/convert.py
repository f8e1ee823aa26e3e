"""Text to values. A converter knows neither place nor field; a fault is a value like any other."""

from __future__ import annotations

import datetime as dt
import re
from decimal import Decimal
from typing import Final, NamedTuple

from tertial.entries.values import Box, Fault, Months, Pointer, Quantity, Scale, Spot


class Unit(NamedTuple):
    """A unit of measure."""

    dimension: str
    """``length`` or ``mass``."""

    factor: Decimal
    """How many millimetres or grams it is; exact by definition."""


# Inch, foot, ounce and pound by the international yard and pound agreement of 1959.
UNITS: Final[dict[str, Unit]] = {
    "mm": Unit("length", Decimal(1)),
    "cm": Unit("length", Decimal(10)),
    "m": Unit("length", Decimal(1000)),
    "in": Unit("length", Decimal("25.4")),
    "ft": Unit("length", Decimal("304.8")),
    "g": Unit("mass", Decimal(1)),
    "kg": Unit("mass", Decimal(1000)),
    "oz": Unit("mass", Decimal("28.349523125")),
    "lb": Unit("mass", Decimal("453.59237")),
}
_MONTHS: Final = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
_YEAR_ROUND: Final = frozenset({"all year", "year round", "year-round", "all months"})

# More figures than any bird needs; without a limit a number of thousands of them would end the run.
_NUMBER = r"\d{1,9}(?:\.\d{1,9})?"
_RANGE = re.compile(rf"(?P<about>about )?(?P<low>{_NUMBER})(?: ?(?:-|–|to) ?(?P<high>{_NUMBER}))? ?(?P<unit>[a-z]*)")
_MEAN = re.compile(rf"mean (?P<mean>{_NUMBER})(?: sd (?P<sd>{_NUMBER}))?(?: n (?P<n>\d{{1,9}}))? ?(?P<unit>[a-z]*)")
_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_SPOT = rf"(?:{_NUMBER}, ?{_NUMBER}|{_NUMBER} ?% {_NUMBER} ?%)"
_SCALE = re.compile(rf"(?P<a>.*?) ?(?P<p>{_SPOT}) to (?P<b>.*?) ?(?P<q>{_SPOT})")
_BOX = re.compile(rf"(?P<p>{_SPOT}) to (?P<q>{_SPOT})")
_POINTER = re.compile(rf"(?P<p>{_SPOT}) (?P<name>\S.*)")
_SECOND = re.compile(rf" {_SPOT} ")
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_THOUSANDS = re.compile(r"(?<=\d),\d{3}(?!\d)")
_SPACES = re.compile(r"\s+")


# Other ways to write a day; none is read, but each says plainly what was meant. Which of two numbers with a slash
# between is the month differs from country to country.
_DAYS: Final = (
    re.compile(r"(?P<day>\d{1,2})\. ?(?P<month>\d{1,2})\. ?(?P<year>\d{4})"),
    re.compile(r"(?P<year>\d{4})[-./ ](?P<month>\d{1,2})[-./ ](?P<day>\d{1,2})"),
    re.compile(r"(?P<day>\d{1,2})\.? (?P<name>[a-z]{3,9})\.?,? (?P<year>\d{4})", re.IGNORECASE),
    re.compile(r"(?P<name>[a-z]{3,9})\.? (?P<day>\d{1,2}),? (?P<year>\d{4})", re.IGNORECASE),
)


def _meant_day(text: str) -> str:
    """Give the day that another way of writing plainly means, as it should be written, or ''."""
    found = next((match for way in _DAYS if (match := way.fullmatch(text))), None)
    if found is None:
        return ""
    parts = found.groupdict()
    month = _month(parts["name"].lower()) or 0 if "name" in parts else int(parts["month"])
    try:
        return dt.date(int(parts["year"]), month, int(parts["day"])).isoformat()
    except ValueError:
        return ""


DATE: Final = {"type": "string", "pattern": rf"^\s*(?:{_DATE.pattern})?\s*$"}
"""What JSON Schema says of a day. Blanks alone are nothing, which is no fault."""


def to_date(text: str) -> dt.date | Fault:
    """Read a day as ISO 8601 writes it (year-month-day)."""
    found = _DATE.fullmatch(text)
    if found is None:
        meant = _meant_day(text)
        mend = f"write {meant}" if meant else "write year, month and day with two hyphens, as in 2026-01-04"
        return Fault("not-a-date", f"{text!r} is not a date; year-month-day was expected", mend)
    try:
        return dt.date(*(int(part) for part in found.groups()))
    except ValueError:
        reason = f"{text!r} is not a day of the calendar; an existing day was expected"
        return Fault("not-a-date", reason, "look the day up, and write year, month and day")


def to_months(text: str) -> Months | Fault:
    """Read months: ``all year``, ``January``, ``November to March``, several with commas between."""
    plain = _SPACES.sub(" ", text.strip())
    if plain.casefold() in _YEAR_ROUND:
        return Months(text, tuple(range(1, 13)))
    numbers: set[int] = set()
    for piece in plain.split(","):
        ends = [_month(name) for name in re.split(r" to | ?[-–] ?", piece.strip().casefold())]
        if not 1 <= len(ends) <= 2 or None in ends:
            mend = "write all year, a month, or two months with to between them (November to March)"
            return Fault("not-months", f"{piece.strip()!r} names no months; months of the year were expected", mend)
        first, last = ends[0] or 0, ends[-1] or 0
        numbers.update((first + step - 1) % 12 + 1 for step in range((last - first) % 12 + 1))
    return Months(text, tuple(sorted(numbers)))


def _month(name: str) -> int | None:
    found = [i for i, month in enumerate(_MONTHS, 1) if len(name) >= 3 and month.startswith(name.rstrip("."))]
    return found[0] if len(found) == 1 else None


def to_length(text: str) -> Quantity | Fault:
    """Read a length: a range, a value or a mean, with its unit."""
    return _quantity(text, "length", "18-26 cm")


def to_mass(text: str) -> Quantity | Fault:
    """Read a mass: a range, a value or a mean, with its unit."""
    return _quantity(text, "mass", "40-95 g")


def to_quantity(text: str) -> Quantity | Fault:
    """Read a measure of any dimension."""
    return _quantity(text, None, "mean 31.6 n 11 mm")


def _quantity(text: str, dimension: str | None, example: str) -> Quantity | Fault:
    plain = _SPACES.sub(" ", text.strip())
    found = _MEAN.fullmatch(plain) or _RANGE.fullmatch(plain)
    if found is None:
        mend = f"write a number and its unit, as in {example}"
        with_point, without = _COMMA.sub(".", plain), _COMMA.sub("", plain)
        if with_point != plain and (_MEAN.fullmatch(with_point) or _RANGE.fullmatch(with_point)):
            reason = f"the comma in {text!r} is no decimal point; a point was expected"
            # Three figures behind a comma may as well be those of a thousand.
            mend = f"write {with_point}" + (f", or {without}" if _THOUSANDS.search(plain) else "")
            return Fault("not-a-measure", reason, mend)
        return Fault("not-a-measure", f"{text!r} is not a measure; a range, a value or a mean was expected", mend)
    group = found.groupdict()
    fault = _unit_fault(text, group["unit"], dimension, example)
    if fault is not None:
        return fault
    if "mean" in group:
        sd, n = group["sd"], group["n"]
        return Quantity(
            text,
            group["unit"],
            mean=Decimal(group["mean"]),
            sd=Decimal(sd) if sd else None,
            n=int(n) if n else None,
        )
    low = Decimal(group["low"])
    high = Decimal(group["high"] or group["low"])
    if high < low:
        reason = f"the range {text!r} runs backwards; the smaller number was expected first"
        return Fault("range-backwards", reason, f"write {high}-{low} {group['unit']}")
    return Quantity(text, group["unit"], low=low, high=high, about=bool(group["about"]))


def _unit_fault(text: str, unit: str, dimension: str | None, example: str) -> Fault | None:
    fitting = [name for name, kind in UNITS.items() if dimension in (None, kind.dimension)]
    if unit in fitting:
        return None
    if not unit:
        reason = f"{text!r} has no unit; one of {', '.join(fitting)} was expected"
        return Fault("unit-missing", reason, f"write the unit after the number, as in {example}")
    reason = f"{unit!r} is not a unit of {dimension or 'measure'}; one of {', '.join(fitting)} was expected"
    return Fault("unit-unknown", reason, f"write one of these after the number, as in {example}")


def _spot(text: str) -> Spot:
    first, second = re.findall(_NUMBER, text)
    return Spot(Decimal(first), Decimal(second), "%" in text)


def to_scale(text: str) -> Scale | Fault:
    """Read ``bill tip 412,220 to tail tip 1650,910``."""
    found = _SCALE.fullmatch(text)
    if found is None:
        example = "bill tip 412,220 to tail tip 1650,910"
        return Fault(
            "not-a-spot", f"{text!r} is not a scale; two named spots were expected", f"write it as in {example}"
        )
    return Scale(_spot(found["p"]), found["a"], _spot(found["q"]), found["b"])


def to_box(text: str) -> Box | Fault:
    """Read ``380,180 to 700,470``."""
    found = _BOX.fullmatch(text)
    if found is None:
        example = "380,180 to 700,470"
        return Fault("not-a-spot", f"{text!r} is not a box; two corners were expected", f"write it as in {example}")
    return Box(_spot(found["p"]), _spot(found["q"]))


def to_pointer(text: str) -> Pointer | Fault:
    """Read ``430,228 bill`` or ``31% 24% nape``."""
    found = _POINTER.fullmatch(text)
    if found is None:
        reason = f"{text!r} is not a pointer; a spot and what is seen there were expected"
        return Fault("not-a-spot", reason, "write it as in 430,228 bill or 31% 24% nape")
    if _SECOND.search(found["name"]):
        reason = f"{text!r} holds two spots; one pointer was expected"
        return Fault("not-a-spot", reason, "begin each pointer with a dash, on a line of its own")
    return Pointer(_spot(found["p"]), found["name"])
