"""The values that entries hold. All are frozen, and those the author wrote know where."""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, NamedTuple, TypeVar

if TYPE_CHECKING:
    from decimal import Decimal

    from tertial.text.source import Span

T_co = TypeVar("T_co", covariant=True)


class Written(NamedTuple, Generic[T_co]):
    """A value together with the place where it was written; a tuple, because most of reading is to make them."""

    value: T_co
    """The value after conversion."""

    span: Span
    """Where it stands in the entry's file."""


class Fault(NamedTuple):
    """Why a text could not become a value; it knows no place, its caller adds that."""

    word: str
    """The problem's word."""

    reason: str
    """What was found and what was expected."""

    mend: str
    """The repair in one line."""


class Quantity(NamedTuple):
    """A measure: a value, a range, or a mean with what is known about it."""

    text: str
    """The measure as the author wrote it; pages show this."""

    unit: str
    """One of the units of ``convert.UNITS``."""

    low: Decimal | None = None
    """Smallest value in ``unit``; equal to ``high`` for a single value, None when a mean is given."""

    high: Decimal | None = None
    """Largest value in ``unit``."""

    mean: Decimal | None = None
    """Mean in ``unit``."""

    sd: Decimal | None = None
    """Standard deviation in ``unit``."""

    n: int | None = None
    """Number of birds measured."""

    about: bool = False
    """The author wrote ``about``."""


class Months(NamedTuple):
    """The part of the year in which a bird is met."""

    text: str
    """As written."""

    numbers: tuple[int, ...]
    """Months from 1 to 12, ascending, each once."""


class Spot(NamedTuple):
    """A point of a picture."""

    x: Decimal
    """From the left edge, in pixels of the original or in per cent."""

    y: Decimal
    """From the upper edge, likewise."""

    percent: bool
    """True for per cent of width and height."""


class Scale(NamedTuple):
    """Two points of a picture whose distance in life is known."""

    start: Spot
    """The first point."""

    start_name: str
    """What is there, for instance ``bill tip``."""

    end: Spot
    """The second point."""

    end_name: str
    """What is there, for instance ``tail tip``."""


class Box(NamedTuple):
    """A rectangle of a picture."""

    corner: Spot
    """One corner."""

    opposite: Spot
    """The corner opposite."""


class Pointer(NamedTuple):
    """A spot of a picture with what is to be seen there."""

    spot: Spot
    """Where it points."""

    name: str
    """A part of the bird, or words of the author's own."""


NOT_SEEN = frozenset({"unknown", "not seen", "not noted"})
"""Phrases for what was looked for and not settled."""

NOT_APPLICABLE = frozenset({"does not apply", "not applicable"})
"""Phrases for what this plumage cannot have."""


class Phrase(NamedTuple):
    """One line ``part: phrase``."""

    part: Written[str]
    """The part as the author names it."""

    text: Written[str]
    """The phrase, never empty."""

    @property
    def is_unknown(self) -> bool:
        """The author looked and could not tell."""
        return self.text.value.casefold() in NOT_SEEN

    @property
    def is_not_applicable(self) -> bool:
        """The author says that there is nothing to record."""
        return self.text.value.casefold() in NOT_APPLICABLE


class PlumageBlock(NamedTuple):
    """The phrases under one plumage."""

    plumage: Written[str]
    """The plumage as the author names it."""

    phrases: tuple[Phrase, ...]
    """Its lines in the order written."""


class NamedMeasure(NamedTuple):
    """One measure of one part."""

    part: Written[str]
    """What was measured, as the author names it."""

    quantity: Written[Quantity]
    """The measure."""


class MeasureBlock(NamedTuple):
    """The measures under one plumage."""

    plumage: Written[str]
    """The plumage as the author names it."""

    measures: tuple[NamedMeasure, ...]
    """Its lines in the order written."""


class Similar(NamedTuple):
    """A look-alike that the author names."""

    code: Written[str]
    """Its code as written."""

    remark: Written[str] | None
    """The one-line difference, if given."""
