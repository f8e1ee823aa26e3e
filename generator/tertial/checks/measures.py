"""Sizes and measures: against each other, against what the family can be, and for their sources."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.entries.convert import UNITS
from tertial.marks.size import is_loose, ladder, load_bounds, load_part_bounds, nearest, rung_named
from tertial.text.problem import Also, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.species import Size
    from tertial.entries.values import Quantity, Written
    from tertial.guide import Guide, Species
    from tertial.marks.size import Yardstick


def size_differs(guide: Guide) -> Iterator[Problem]:
    """A size in words that is two rungs or more away from the size in figures."""
    rungs = ladder(code.value for code in guide.settings.yardsticks)
    for species, size in _sizes(guide):
        if size.size_class is None:
            continue
        written = rung_named(rungs, size.size_class.value)
        found = _rung(rungs, size)
        if written is None or found is None or abs(written - found) < 2 or is_loose(size.size_class.value):
            continue
        if any(_outside(species, size)):
            # The figures are mended first; until then they say nothing of the words.
            continue
        figure = size.mass or size.length
        also = (Also(species.entry.source, figure.span, f"nearest to a {rungs[found].word}"),) if figure else ()
        message = f"{size.size_class.value!r} does not go with the figures, which are those of a {rungs[found].word}"
        mend = f"write {rungs[found].word}-sized, or mend the figures"
        yield Problem("size-differs", Severity.WARNING, species.entry.source, size.size_class.span, message, mend, also)


def size_unknown(guide: Guide) -> Iterator[Problem]:
    """A size in words that names none of the yardstick birds, so that it cannot be compared."""
    rungs = ladder(code.value for code in guide.settings.yardsticks)
    for species, size in _sizes(guide):
        if size.size_class is not None and rung_named(rungs, size.size_class.value) is None:
            words = ", ".join(rung.word for rung in rungs)
            message = f"{size.size_class.value!r} names none of the yardstick birds; one of {words} was expected"
            found = _rung(rungs, size)
            # Its own figures make an example; what bird the author had in mind they do not say.
            mend = f"name one, as in {rungs[len(rungs) // 2 if found is None else found].word}-sized"
            yield Problem("size-unknown", Severity.GAP, species.entry.source, size.size_class.span, message, mend)


def measure_impossible(guide: Guide) -> Iterator[Problem]:
    """A length or mass that no bird of the family has, or a part too long for its bird: a slip of the unit or point."""
    for species, size in _sizes(guide):
        for name, written in (("length", size.length), ("wingspan", size.wingspan), ("mass", size.mass)):
            if written is not None and _ends(written)[0] == 0:
                message = f"no bird has a {name} of {written.value.text!r}; more than 0 was expected"
                mend = "write the figure, or leave the line out"
                yield Problem("measure-impossible", Severity.WARNING, species.entry.source, written.span, message, mend)
        yield from _too_long(guide, species, size)
        for name, quantity, low, high, unit in _outside(species, size):
            family = species.bird.family if species.bird else ""
            message = (
                f"no bird of the family {family} has a {name} of {quantity.value.text!r}; "
                f"{low:g} to {high:g} {unit} was expected"
            )
            mend = "check the unit and the decimal point"
            yield Problem("measure-impossible", Severity.WARNING, species.entry.source, quantity.span, message, mend)


def _outside(species: Species, size: Size) -> Iterator[tuple[str, Written[Quantity], float, float, str]]:
    """Give what no bird of the family measures: its name, the figure, smallest and largest of the family, the unit."""
    bounds = load_bounds().get(species.bird.family) if species.bird else None
    if bounds is None:
        return
    for name, quantity, (low, high), unit, millis in (
        ("mass", size.mass, bounds.mass, "g", 1),
        ("length", size.length, bounds.length, "cm", 10),
    ):
        smallest, largest = _ends(quantity, millis)
        if quantity is not None and smallest and largest and (smallest < low or largest > high):
            yield name, quantity, low, high, unit


def _too_long(guide: Guide, species: Species, size: Size) -> Iterator[Problem]:
    """Find parts that measure more of the bird's own length than any bird's do."""
    _, longest = _ends(size.length)
    for measure in (each for block in species.entry.measures for each in block.measures if longest):
        part, quantity = guide.parts.find(measure.part.value), measure.quantity
        share = load_part_bounds().get(part.word) if part else None
        least, _ = _ends(quantity)
        is_length = UNITS[quantity.value.unit].dimension == "length"
        if size.length and share and longest and least and is_length and least > share * longest:
            message = (
                f"no bird of {size.length.value.text} has a {measure.part.value} of {quantity.value.text!r}; "
                f"{share * longest:.0f} mm at the most was expected"
            )
            also = (Also(species.entry.source, size.length.span, "its length is written here"),)
            mend = "check the unit and the decimal point of both"
            yield Problem(
                "measure-impossible", Severity.WARNING, species.entry.source, quantity.span, message, mend, also
            )


def source_missing(guide: Guide) -> Iterator[Problem]:
    """Figures of which nobody will know, in a year, where they came from."""
    for species in guide.species:
        size = species.entry.size
        figures = [each for each in (size.length, size.wingspan, size.mass) if each] if size else []
        spans = [each.span for each in figures]
        spans += [measure.part.span for block in species.entry.measures for measure in block.measures]
        if spans and not species.entry.sources and not (size and size.source):
            message = f"the account of {species.name} gives figures but no source for them"
            mend = "write source: under size:, or sources: with one line a source"
            yield Problem("source-missing", Severity.GAP, species.entry.source, spans[0], message, mend)


def _sizes(guide: Guide) -> Iterator[tuple[Species, Size]]:
    return ((species, species.entry.size) for species in guide.species if species.entry.size)


def _rung(rungs: tuple[Yardstick, ...], size: Size) -> int | None:
    return nearest(rungs, _middle(size.mass), _middle(size.length, 10))


def _ends(quantity: Written[Quantity] | None, millis: int = 1) -> tuple[float | None, float | None]:
    """Smallest and largest value in grams, or in millimetres over ``millis``."""
    if quantity is None:
        return None, None
    value = quantity.value
    factor = UNITS[value.unit].factor / millis
    low = value.low if value.low is not None else value.mean
    high = value.high if value.high is not None else value.mean
    return (float(low * factor) if low is not None else None, float(high * factor) if high is not None else None)


def _middle(quantity: Written[Quantity] | None, millis: int = 1) -> float | None:
    low, high = _ends(quantity, millis)
    return (low * high) ** 0.5 if low and high else None
