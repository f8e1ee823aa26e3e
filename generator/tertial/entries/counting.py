"""Counts as they are written down: ``DOWO: 2 male``, ``GRSC/LESC: 5``, ``MALL x ABDU: 1``, ``duck sp.: about 30``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.entries.fields import Form, Reading
from tertial.entries.hybrid import parents_of
from tertial.entries.phrases import LINES, block_lines
from tertial.entries.values import Fault, Written
from tertial.text.problem import Also, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.text.nodes import Pair

_CODE: Final = r"[A-Z]{2,4}"
_EITHER: Final = re.compile(rf"{_CODE}(?:/{_CODE})+")
_ONE: Final = re.compile(_CODE)
_SMALL: Final = re.compile(r"[a-z]{4}")
_NAME: Final = re.compile(r"[A-Z][a-z][^\W\d_]*(?:[ '’-][^\W\d_]+)+")
_GENUS_ONLY: Final = re.compile(r"(\S.*?) spp?\.?")
_NUMBER: Final = re.compile(r"(?:(about|at least) )?(\d{1,7})(?: (\S.*))?")
_BRACKETS: Final = re.compile(r"([^()]*\d) ?\(([^()]+)\)")
_THOUSANDS: Final = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")
_EXAMPLE: Final = "2 male, 1 female"


class Counted(NamedTuple):
    """What was counted: a bird by its code, one of several, a hybrid of two, or a bird named only as far as a group."""

    text: str
    """As written."""

    codes: tuple[str, ...]
    """One code; several when it was one of them; none for a hybrid by its parents or a group in words."""

    parents: tuple[str, ...] = ()
    """Both parents of a hybrid, codes or names as written; it counts for neither of them."""

    @property
    def birds(self) -> frozenset[str]:
        """What tells it from other birds, in whatever order and with whatever capitals they are written."""
        return frozenset(self.codes or self.parents or (self.text.casefold().rstrip("."),))

    @property
    def code(self) -> str:
        """The code where it is one alone, else ''. Hybrids and groups may have one too: the list of codes tells."""
        return self.codes[0] if len(self.codes) == 1 else ""


class Number(NamedTuple):
    """So many birds of one plumage."""

    birds: int
    """How many."""

    plumage: str
    """The plumage as written; '' for birds of any."""

    about: bool = False
    """An estimate."""

    at_least: bool = False
    """There may have been more."""


class Count(NamedTuple):
    """One line of counts."""

    counted: Written[Counted]
    """What was counted."""

    numbers: Written[tuple[Number, ...]]
    """The total first, if one is written, then the numbers by plumage."""

    @property
    def by_plumage(self) -> tuple[Number, ...]:
        """The numbers that name a plumage."""
        return tuple(number for number in self.numbers.value if number.plumage)

    @property
    def total(self) -> int:
        """All birds: the written total, else the sum of the plumages."""
        whole = [number.birds for number in self.numbers.value if not number.plumage]
        return whole[0] if whole else sum(number.birds for number in self.by_plumage)

    @property
    def is_estimate(self) -> bool:
        """Whether the total is an estimate or a lower limit."""
        return any(number.about or number.at_least for number in self.numbers.value)


def to_counted(text: str) -> Counted | Fault:
    """Read what was counted."""
    if _ONE.fullmatch(text):
        return Counted(text, (text,))
    if _EITHER.fullmatch(text):
        codes = tuple(text.split("/"))
        different = "/".join(dict.fromkeys(codes))
        if different != text:
            return Fault(
                "not-counted", f"{text!r} names a bird twice; different codes were expected", f"write {different}"
            )
        return Counted(text, codes)
    if parents := parents_of(text):
        return Counted(text, (), parents)
    if _GENUS_ONLY.fullmatch(text):
        return Counted(text, ())
    mend = "write a code (DOWO), either/or (GRYE/LEYE), a hybrid (MALL x ABDU), or a group (duck sp.)"
    if _SMALL.fullmatch(text):
        mend = f"write {text.upper()} if that is its code, or {text} sp. for a group"
    elif _NAME.fullmatch(text):
        mend = f'write the code that tertial code "{text}" gives, or a group (duck sp.)'
    reason = f"{text!r} is no bird to count; a code, codes with / or x between them, or a group with sp. was expected"
    return Fault("not-counted", reason, mend)


def is_of_several(text: str) -> bool:
    """Whether a text names birds that may be of several species, which can be counted but have no account."""
    counted = to_counted(text)
    return isinstance(counted, Counted) and not counted.code and not counted.parents


def to_numbers(text: str) -> tuple[Number, ...] | Fault:
    """Read how many: a total, numbers by plumage with commas between, or both."""
    if _THOUSANDS.search(text):
        whole, parted = _THOUSANDS.sub("", text), _THOUSANDS.sub(", ", text)
        either = "" if isinstance(to_numbers(parted), Fault) else f", or {parted}"
        reason = f"a comma stands within a number of {text!r}; figures alone were expected"
        return Fault("not-a-number", reason, f"write {whole}{either}")
    if found := _BRACKETS.fullmatch(text):
        plain = [f"{found[1]}, {found[2]}", f"{found[1]} {found[2]}", f"it as in 3, {_EXAMPLE}"]
        meant = next((each for each in plain if not isinstance(to_numbers(each), Fault)), plain[-1])
        reason = f"{text!r} has brackets; a total and plumages with commas between were expected"
        return Fault("not-a-number", reason, f"write {meant}")
    numbers = []
    for piece in text.split(","):
        found = _NUMBER.fullmatch(" ".join(piece.split()))
        if found is None:
            here = f"{piece.strip()!r} is no number of birds" if piece.strip() else "a number of birds is missing"
            reason = f"{here}; a number, with a plumage after it or not, was expected"
            return Fault("not-a-number", reason, f"write it as in 14, about 30, or {_EXAMPLE}")
        how, birds, plumage = found.groups()
        numbers.append(Number(int(birds), plumage or "", how == "about", how == "at least"))
    if any(not number.plumage for number in numbers[1:]):
        reason = f"{text!r} holds a total that does not come first; one total, then plumages, was expected"
        mend = f"write the total first, as in 3, {_EXAMPLE}"
        if sum(not number.plumage for number in numbers) > 1:
            reason = f"{text!r} holds more than one total; one total, then plumages, was expected"
            mend = f"write one of them, or a plumage behind each, as in {_EXAMPLE}"
        return Fault("not-a-number", reason, mend)
    return tuple(numbers)


def _joined(first: str, second: str) -> str:
    """Tell how two counts of one bird are made one: totals and plumages added up."""
    numbers = [to_numbers(text) for text in (first, second)]
    if any(isinstance(each, Fault) for each in numbers):
        return "keep one of the two lines, with all birds in it"
    both = [number for each in numbers if not isinstance(each, Fault) for number in each]
    if any(number.about or number.at_least for number in both):
        return "keep one of the two lines, with about or at least before the sum"
    sums: dict[str, int] = {}
    for number in both:
        sums[number.plumage] = sums.get(number.plumage, 0) + number.birds
    if "" in sums:
        # A line without a total of its own counts with its plumages.
        sums[""] += sum(
            sum(number.birds for number in each) for each in numbers if not isinstance(each, Fault) and each[0].plumage
        )
    named = [f"{birds} {plumage}" for plumage, birds in sums.items() if plumage]
    return f"keep one of the two lines, and write {', '.join([*([str(sums[''])] if '' in sums else []), *named])}"


def _counts(reading: Reading, pair: Pair) -> tuple[Count, ...] | None:
    return tuple(_each(reading, pair)) or None


def _each(reading: Reading, pair: Pair) -> Iterator[Count]:
    seen: dict[tuple[bool, frozenset[str]], tuple[Written[str], str]] = {}
    for what, how_many in block_lines(reading, pair.value, ("code", "number", "DOWO: 2"), _joined):
        counted, numbers = to_counted(what.value), to_numbers(how_many.value)
        for fault, written in ((counted, what), (numbers, how_many)):
            if isinstance(fault, Fault):
                span = written.span if written.value else what.span
                reading.say(fault.word, span, fault.reason, fault.mend)
        if isinstance(counted, Counted) and not isinstance(numbers, Fault):
            first, before = seen.setdefault((bool(counted.parents), counted.birds), (what, how_many.value))
            if first is not what:
                message = f"{what.value!r} is what {first.value!r} is; the second is not read"
                also = Also(reading.source, first.span, "first written here")
                mend = _joined(before, how_many.value)
                reading.say("key-twice", what.span, message, mend, Severity.WARNING, also)
                continue
            yield Count(Written(counted, what.span), Written(numbers, how_many.span))


COUNTS = Form(_counts, LINES)


class Member(NamedTuple):
    """A member of a flock with its number."""

    code: Written[str]
    """Its code."""

    birds: int | None
    """How many; None when only its presence was noted."""


def members(reading: Reading, line: Written[str]) -> tuple[Member, ...]:
    """Read ``BCCH 9, TUTI 4, DOWO``, with the place of each code."""
    found = []
    at = line.span.start
    for piece in line.value.split(","):
        match = re.fullmatch(rf"({_CODE})(?: (\d{{1,7}}))?", " ".join(piece.split()))
        if match is None:
            reason = f"{piece.strip()!r} is no member of a flock; a code and a number were expected"
            reading.say("not-a-number", line.span, reason, "write it as in BCCH 9, TUTI 4, DOWO 1")
            continue
        code, birds = match.groups()
        start = reading.source.text.find(code, at, line.span.end)
        span = Span(start, start + len(code)) if start >= 0 else line.span
        at = span.end
        found.append(Member(Written(code, span), int(birds) if birds else None))
    return tuple(found)
