"""Lines that stand where they cannot be read: to which block a part or a plumage at the margin belongs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from tertial.marks.parts import load_parts
from tertial.marks.plumages import read_plumage
from tertial.text.nodes import Mapping, Scalar

if TYPE_CHECKING:
    from tertial.entries.fields import Reading
    from tertial.text.nodes import Pair

_BY_PLUMAGE: Final = ("marks", "measures")
_HOMES: Final = (*_BY_PLUMAGE, "voice")


def in_a_size(_: Reading, __: Mapping, pair: Pair) -> str:
    """Tell where a key belongs that stands in a size; '' for one that is no part of a bird."""
    if load_parts().find(pair.key.text) is None:
        return ""
    return f"move it under measures:, below all: |, as in {pair.key.text}: 90-100 mm"


def beside_marks(_: Reading, __: Mapping, pair: Pair) -> str:
    """Tell where a part belongs that stands at the margin of an entry without plumages; '' for any other key."""
    if load_parts().find(pair.key.text) is None:
        return ""
    return "begin the line in column 3, under marks: |"


def at_the_margin(reading: Reading, mapping: Mapping, pair: Pair) -> str:
    """Tell where a key belongs that stands at the margin; '' for one that is neither part nor plumage."""
    is_plumage = read_plumage(pair.key.text) is not None
    if not is_plumage and load_parts().find(pair.key.text) is None:
        return ""
    homes = _BY_PLUMAGE if is_plumage else _HOMES
    above = mapping.pairs[: mapping.pairs.index(pair)]
    home = next((each for each in reversed(above) if each.key.text in homes), None)
    if home is None:
        return "move it under marks:, further in" if is_plumage else "move it under marks:, below all: |, further in"
    if is_plumage or home.key.text not in _BY_PLUMAGE:
        return f"begin the line in column 3, under {home.key.text}:"
    if isinstance(home.value, Mapping) and home.value.pairs:
        last = home.value.pairs[-1].key
        return f"begin the line in column {reading.source.position(last.span.start).column + 2}, under {last.text}:"
    if isinstance(home.value, Scalar) and home.value.text:
        return f"begin the line in column 3, under {home.key.text}:"
    return f"write all: | in column 3, under {home.key.text}:, and begin this line in column 5"
