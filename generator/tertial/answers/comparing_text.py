"""A comparison for a person at a terminal: sentences on top, marks by their worth, what is missing last.

A verdict is told by its word alone, and the order of the lines says the rest; no colour is needed.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Final

from tertial.account_values import unit_of
from tertial.answers.columns import beside, indented, shares, usable
from tertial.marks.measures import Basis
from tertial.marks.plumages import ALL
from tertial.marks.sentences import birds_of, wanted_sentence
from tertial.marks.verdicts import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.answers.comparing import PairAnswer
    from tertial.marks.compare import Comparison, MeasureRow, PartRow
    from tertial.marks.measures import MeasureSeparation, Spread
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Reading

_TABLED: Final = (Verdict.DIAGNOSTIC, Verdict.STRONG, Verdict.HELPFUL, Verdict.WEAK)
"""Verdicts whose marks are shown with both phrases; the others are only named."""

_VERDICT: Final = max(map(len, _TABLED))
_PART: Final = 14
_LEAST_PHRASE: Final = 22
"""Widths of the cells; with less room for a phrase, both birds stand below each other."""

_MOST_WANTED: Final = 5
"""Missing records that are listed; more would be no help."""


def pair_as_text(answer: PairAnswer, columns: int) -> str:
    """Write a comparison for a terminal of so many columns."""
    return "".join(f"{line}\n" for line in _lines(answer, usable(columns)))


def _lines(answer: PairAnswer, width: int) -> Iterator[str]:
    for species in (answer.first, answer.second):
        yield from indented(species.name, width, f"{species.code}  ", "      ")
    yield ""
    for said in answer.sentences:
        yield from indented(said.text, width, "", "  ")
    for comparison in answer.comparisons:
        yield ""
        yield from _plumage(answer, comparison, width)
    yield from _measures(answer, width)
    if answer.wanted:
        yield ""
        yield "What to look at next"
        for each in answer.wanted[:_MOST_WANTED]:
            yield from indented(wanted_sentence(each, answer.first.code, answer.second.code), width, "  ", "    ")


def _plumage(answer: PairAnswer, comparison: Comparison, width: int) -> Iterator[str]:
    heading = birds_of(comparison.first)
    yield heading[:1].upper() + heading[1:]
    tabled = [row for row in comparison.parts if row.verdict in _TABLED]
    widths = shares(width - 2, (_VERDICT, _PART), 2)
    is_wide = widths[-1] >= _LEAST_PHRASE
    if tabled and is_wide:
        yield from _in(beside(("", "", answer.first.code, answer.second.code), widths))
    for row in tabled:
        sides = [_said(each, comparison.first) for each in (row.first, row.second)]
        if is_wide:
            yield from _in(beside((str(row.verdict), row.word, *sides), widths))
        else:
            yield from indented(row.word, width, f"  {row.verdict}: ", "    ")
            for species, said in zip((answer.first, answer.second), sides, strict=True):
                yield from indented(said, width, f"    {species.code}  ", " " * 10)
    yield from _named(answer, comparison, width)
    if comparison.value:
        of_hundred = int(100 * comparison.chance)
        chance = (
            f"By the best mark alone at most {of_hundred} of 100 birds are named rightly, "
            "if both kinds are met equally often and the accounts are right."
        )
        yield from indented(chance, width, "  ", "  ")


def _named(answer: PairAnswer, comparison: Comparison, width: int) -> Iterator[str]:
    """Name the parts that are alike, and those of which one account says nothing."""
    shared = [row.word for row in comparison.parts if row.verdict is Verdict.SHARED]
    without = [row for row in comparison.parts if row.verdict is Verdict.NOT_RECORDED]
    lists = [
        ("shared", shared),
        (f"not recorded of {answer.first.code}", [row.word for row in without if not _speaks(row, first=True)]),
        (f"not recorded of {answer.second.code}", [row.word for row in without if not _speaks(row, first=False)]),
        (
            "not comparable as worded",
            [row.word for row in without if _speaks(row, first=True) and _speaks(row, first=False)],
        ),
    ]
    for name, words in lists:
        if words:
            yield from indented(", ".join(words), width, f"  {name}: ", "    ")


def _speaks(row: PartRow, *, first: bool) -> bool:
    return bool(row.first if first else row.second)


def _said(said: Sequence[tuple[Reading, Plumage]], plumage: Plumage) -> str:
    return "; ".join(
        reading.text if origin == plumage else f"{reading.text} (from {origin.text})" for reading, origin in said
    )


def _in(lines: Iterator[str]) -> Iterator[str]:
    return (f"  {line}" for line in lines)


def _measures(answer: PairAnswer, width: int) -> Iterator[str]:
    """Write each measure once, with the plumages for which it holds where those are not all."""
    found: dict[MeasureRow, list[Plumage]] = {}
    for comparison in answer.comparisons:
        for row in comparison.measures:
            if row.separated:
                found.setdefault(row, []).append(comparison.first)
    if not found:
        return
    yield ""
    yield "Measures"
    for row, plumages in found.items():
        if row.separated is None:
            continue
        whose = "" if len(plumages) == len(answer.comparisons) else f" of {', '.join(map(birds_of, plumages))}"
        worth = f"in the field {row.separated.field}, in the hand {row.separated.hand} ({row.separated.value:.2f})"
        yield from indented(f"{row.word}{whose}: {worth}", width, "  ", "    ")
        sides = zip(
            (answer.first, answer.second),
            (row.first, row.second),
            (row.separated.first, row.separated.second),
            strict=True,
        )
        for species, side, spread in sides:
            origin = side[1] if side else ALL
            yield from indented(_spread(row.word, spread, origin, plumages), width, f"    {species.code}  ", " " * 10)
        yield from indented(_overlap(row.separated), width, "    ", "    ")


def _spread(word: str, spread: Spread, origin: Plumage, plumages: Sequence[Plumage]) -> str:
    about = "about " if spread.basis is Basis.RANGE else ""
    birds = f", n {spread.n}" if spread.n else ""
    source = "" if plumages == [origin] else f" (from {origin.text})"
    mean, sd = _figure(spread.mean, 3), _figure(spread.sd, 2)
    return f"mean {mean} {unit_of(word)}, SD {about}{sd}{birds}; {spread.basis}{source}"


def _figure(value: float, digits: int) -> str:
    """Write a number with so many digits that count, and never with a power of ten."""
    return f"{Decimal(f'{value:.{digits}g}'):f}"


def _overlap(separated: MeasureSeparation) -> str:
    return f"overlap {separated.overlap:.2f}, as two normal distributions; means {separated.ratio:.2f} to 1"
