"""``units:`` of a guide: sizes and measures in metric units alone, or with those of feet and pounds beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tertial.build import build_guide
from tertial.entries.convert import to_quantity
from tertial.entries.values import Quantity
from tertial.pages.units import converted

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

DUCK = """---
species: Redhead
size:
  length: 44-51 cm
  wingspan: about 30 in
  mass: 0.8-1.3 kg
  source: from memory
measures:
  all: |
    bill: mean 47.4 sd 1.9 n 31 mm
---
"""


@pytest.mark.parametrize(
    ("units", "shown"),
    [
        ("", ["44–51 cm<", "about 30 in<", "0.8–1.3 kg<", "mean 47.4 mm, standard deviation 1.9 mm, n = 31<"]),
        ("units: metric\n", ["44–51 cm<", "about 76 cm<", "0.8–1.3 kg<"]),
        (
            "units: both\n",
            [
                "44–51 cm (17–20 in)<",
                "about 30 in (76 cm)<",
                "0.8–1.3 kg (1.8–2.9 lb)<",
                "mean 47.4 mm, standard deviation 1.9 mm, n = 31 (mean 1.87 in, standard deviation 0.07 in)<",
            ],
        ),
    ],
    ids=["as written", "metric", "both"],
)
def test_measures_are_in_the_units_of_the_guide(
    make_guide: Callable[[Mapping[str, str]], Path], units: str, shown: list[str]
) -> None:
    """The author's own figure stands first, and what is worked out from it in brackets."""
    folder = make_guide({"entries/redhead.md": DUCK, "guide.yaml": f"title: Ducks\n{units}"})
    assert build_guide(folder).pages
    page = (folder / "build/species/redhead.html").read_text(encoding="utf-8").replace("\N{NO-BREAK SPACE}", " ")
    assert [text for text in shown if text not in page] == []


@pytest.mark.parametrize(
    ("written", "other"),
    [
        # 1 in = 25.4 mm and 1 lb = 453.59237 g by definition (international yard and pound agreement of 1959).
        ("18-26 cm", ("7.1", "10.2", "in")),
        ("7 in", ("18", "18", "cm")),
        ("126.7 mm", ("4.988", "4.988", "in")),
        ("0-20 g", ("0.00", "0.71", "oz")),
        ("5-6 ft", ("1.5", "1.8", "m")),
        ("450-1050 g", ("16", "37", "oz")),
        ("15-20 lb", ("6.8", "9.1", "kg")),
    ],
)
def test_a_figure_is_told_no_closer_than_it_was_written(written: str, other: tuple[str, str, str]) -> None:
    """Two digits at least, and the same decimals for both ends."""
    quantity = to_quantity(written)
    assert isinstance(quantity, Quantity)
    found = converted(quantity)
    assert (f"{found.low}", f"{found.high}", found.unit) == other
