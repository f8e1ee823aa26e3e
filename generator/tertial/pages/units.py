"""In which units a measure is shown: as it was written, in metric ones alone, or in both."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Final

from tertial.entries.convert import UNITS
from tertial.pages.site import said

if TYPE_CHECKING:
    from tertial.entries.settings import Settings
    from tertial.entries.values import Quantity

_OTHER: Final = {
    "mm": "in",
    "cm": "in",
    "m": "ft",
    "g": "oz",
    "kg": "lb",
    "in": "cm",
    "ft": "m",
    "oz": "g",
    "lb": "kg",
}
"""The unit of the other system in which people would give what is given in this one: our own choice."""

_METRIC: Final = frozenset({"mm", "cm", "m", "g", "kg"})
_FEWEST_DIGITS: Final = 2


def shown_in(settings: Settings, quantity: Quantity) -> tuple[Quantity, ...]:
    """Give a measure in each system in which a guide shows it, the author's own first."""
    units = said(settings.units)
    if units == "both":
        # What was said of the birds measured is not said again.
        return quantity, converted(quantity)._replace(n=None, about=False)
    return (converted(quantity),) if units == "metric" and quantity.unit not in _METRIC else (quantity,)


def converted(quantity: Quantity) -> Quantity:
    """Give a measure in the other system.

    It has as many digits that count as the smallest figure is written with, and two at least; all figures have
    the same decimals.
    """
    unit = _OTHER[quantity.unit]
    factor = UNITS[quantity.unit].factor / UNITS[unit].factor
    figures = [each for each in (quantity.low, quantity.high, quantity.mean) if each]
    if not figures:
        return quantity._replace(unit=unit)
    least = min(figures)
    digits = max(_FEWEST_DIGITS, len(least.normalize().as_tuple().digits))
    step = Decimal(1).scaleb(min(0, (least * factor).adjusted() + 1 - digits))

    def told(figure: Decimal | None) -> Decimal | None:
        return None if figure is None else (figure * factor).quantize(step)

    low, high, mean, sd = map(told, (quantity.low, quantity.high, quantity.mean, quantity.sd))
    return quantity._replace(unit=unit, low=low, high=high, mean=mean, sd=sd)
