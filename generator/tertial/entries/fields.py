"""The frame in which every kind of entry is read: a table of fields, and one reader for it.

A field names its key, its converter and its explanation. Adding a key to a kind of entry is one
row in that kind's table; places, unknown keys and near words are dealt with here, once.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from collections.abc import Mapping as Mapping_
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TypeVar

from tertial.entries.values import Fault, Written
from tertial.text.nodes import Listing, Mapping, Node, Pair, Scalar
from tertial.text.problem import Also, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.text.source import SourceText, Span

T = TypeVar("T")

_SURE: Final = 0.85
"""How like a key another has to be to mean it, whatever else it may be: of nine letters one may be missing."""

_CURLY: Final = re.compile("[\u201c-\u201f\u2018\u201a]([^\u201c-\u201f]*\\S)[\u201c\u201d\u2019\"']")


@dataclass(slots=True)
class Reading:
    """One file being read; collects what there is to say about it."""

    source: SourceText
    """The file."""

    problems: list[Problem] = field(default_factory=list)
    """What was found so far."""

    def say(
        self,
        word: str,
        span: Span,
        message: str,
        mend: str,
        severity: Severity = Severity.WARNING,
        *also: Also,
    ) -> None:
        """Add a problem of this file."""
        self.problems.append(Problem(word, severity, self.source, span, message, mend, also))

    def wrong_shape(self, node: Node, what: str, mend: str) -> None:
        """Say that a value has another shape than its field needs."""
        found = {Scalar: "one value", Listing: "a list", Mapping: "keys and values"}[type(node)]
        self.say("wrong-shape", node.span, f"found {found} in place of {what}", mend)


NodeReader = Callable[[Reading, Pair], Any]
"""Reads the value of a pair; gives None when nothing usable is there."""


class Form(NamedTuple):
    """The form of a value: how it is read, and how an editor is told of it."""

    read: NodeReader
    """Its reader."""

    schema: Mapping_[str, Any]
    """What JSON Schema says of it; description and example come from the field."""


class Field(NamedTuple):
    """One key that a kind of entry may have."""

    key: str
    """The key as the author writes it."""

    attribute: str
    """The attribute of the entry that takes the value."""

    form: Form
    """The form of its value."""

    about: str
    """What it is for, in one sentence."""

    example: str
    """A value as an author would write it."""

    others: tuple[str, ...] = ()
    """Other words by which an author may look for it; a repair leads from them to the key."""

    may_be_empty: bool = False
    """An empty value is part of the form, or a missing one is said by whoever needs it."""


def read_fields(
    reading: Reading,
    mapping: Mapping,
    fields: Sequence[Field],
    what: str,
    elsewhere: Callable[[Reading, Mapping, Pair], str] | None = None,
) -> dict[str, Any]:
    """Read a mapping by a table of fields.

    :param what: what the mapping belongs to, for messages ("a species entry").
    :param elsewhere: the repair of a key that belongs to another place; '' for any other.
    :returns: attribute to value; keys that are absent, empty or unusable are left out.
    """
    table = {entry.key: entry for entry in fields}
    values: dict[str, Any] = {}
    for pair in mapping.pairs:
        known = table.get(pair.key.text)
        if known is None:
            asked = pair.key.text.casefold()
            near = [entry.key for entry in fields if asked in entry.others]
            near = near or get_close_matches(asked, table, n=1, cutoff=_SURE)
            place = "" if near or elsewhere is None else elsewhere(reading, mapping, pair)
            near = near or get_close_matches(asked, table, n=1, cutoff=0.6)
            message = f"{pair.key.text!r} is not a key of {what}"
            mend = place or (f"write {near[0]!r}" if near else f"use one of: {', '.join(table)}")
            reading.say("unknown-key", pair.key.span, message, mend)
        elif isinstance(pair.value, Scalar) and pair.value.is_empty:
            # Quotes with nothing between them, or a word for nothing, are something written.
            # What a comment took away is something written too, and was named already.
            is_cut = any(
                each.word == "cut-by-hash" and each.span.start == pair.value.span.end + 1 for each in reading.problems
            )
            if not (known.may_be_empty or is_cut) and pair.value.span.start == pair.value.span.end:
                message = f"nothing is written under {pair.key.text!r}"
                mend = f"write it ({known.example}), or leave the key out"
                reading.say("empty-value", pair.key.span, message, mend, Severity.GAP)
        else:
            value = known.form.read(reading, pair)
            if value is not None:
                values[known.attribute] = value
    return values


def schema_of(fields: Sequence[Field], *required: str) -> dict[str, Any]:
    """Say in JSON Schema (draft 2020-12) what a mapping read by these fields may hold.

    :param required: keys that have to be there and be filled. Any other may be empty: that is a gap, no fault.
    """
    properties = {}
    for each in fields:
        form = each.form.schema if each.key in required else _or_nothing(each.form.schema)
        properties[each.key] = {**form, "description": each.about, "examples": [each.example]}
    must = {"required": list(required)} if required else {}
    return {"type": "object", "properties": properties, **must, "additionalProperties": False}


def _or_nothing(form: Mapping_[str, Any]) -> dict[str, Any]:
    choices = form.get("anyOf", [form])
    return {"anyOf": choices if NOTHING in choices else [*choices, NOTHING]}


# What a plain scalar may look like to an editor, which knows numbers and truth values where we see text.
SCALAR: Final = {"type": ["string", "number", "boolean"]}
NOTHING: Final = {"type": "null"}


def text(reading: Reading, pair: Pair) -> Written[str] | None:
    """Read a single value as text."""
    return _text(reading, pair.value)


def _text(
    reading: Reading, node: Node, mend: str = "write a single value, in quotes where it holds ': ' or brackets"
) -> Written[str] | None:
    if isinstance(node, Scalar):
        return Written(" ".join(node.text.split()), node.span) if not node.is_empty else None
    reading.wrong_shape(node, "one value", mend)
    return None


def name(reading: Reading, pair: Pair) -> Written[str] | None:
    """Read a single value that nobody prints in quotes: a name, a code, a number."""
    return _unquoted(reading, pair.value, lambda listed: "," not in listed)


def _unquoted(reading: Reading, node: Node, fits: Callable[[str], bool]) -> Written[str] | None:
    """Read a single value without the quotes of a word processor round it.

    :param fits: whether a text is such a value; a list is mended to it where its items are one together.
    """
    if isinstance(node, Listing):
        items = [item.text for item in node.items if isinstance(item, Scalar)]
        if len(items) == len(node.items) and fits(listed := ", ".join(items)):
            return _text(reading, node, f"write it as one value: {listed}")
    written = _text(reading, node)
    quoted = _CURLY.fullmatch(written.value) if written and isinstance(node, Scalar) and not node.style else None
    if written is None or quoted is None:
        return written
    message = f"{written.value!r} keeps its curly quotes, which enclose nothing here; the value alone was expected"
    reading.say("curly-quotes", written.span, message, f"write {quoted[1]}")
    return Written(quoted[1], written.span)


def converted(convert: Callable[[str], T | Fault], schema: Mapping_[str, Any] = SCALAR) -> Form:
    """Make the form of a single value from a converter of text."""

    def read(reading: Reading, pair: Pair) -> Written[T] | None:
        written = _unquoted(reading, pair.value, lambda listed: not isinstance(convert(listed), Fault))
        return convert_written(reading, written, convert) if written else None

    return Form(read, schema)


def convert_written(reading: Reading, written: Written[str], convert: Callable[[str], T | Fault]) -> Written[T] | None:
    """Convert a written text; a fault becomes a problem at its place."""
    value = convert(written.value)
    if isinstance(value, Fault):
        reading.say(value.word, written.span, value.reason, value.mend)
        return None
    return Written(value, written.span)


def texts(reading: Reading, pair: Pair) -> tuple[Written[str], ...] | None:
    """Read a list of values; a single one stands for a list of one."""
    return tuple(_items(reading, pair)) or None


def _items(reading: Reading, pair: Pair) -> Iterator[Written[str]]:
    nodes = pair.value.items if isinstance(pair.value, Listing) else (pair.value,)
    for node in nodes:
        if isinstance(node, Mapping) and len(node.pairs) == 1 and isinstance(node.pairs[0].value, Scalar):
            whole = " ".join(reading.source.slice(node.span).split())
            message = f"the colon makes two of {whole[:40]!r}; one value was expected"
            quotes = "'" if '"' in whole else '"'
            reading.say("colon-in-item", node.span, message, f"put it in quotes: {quotes}{whole}{quotes}")
            yield Written(whole, node.span)
        else:
            written = _text(reading, node)
            if written is not None:
                yield written


def converted_each(convert: Callable[[str], T | Fault]) -> Form:
    """Make the form of a list from a converter of text."""

    def read(reading: Reading, pair: Pair) -> tuple[Written[T], ...] | None:
        values = (convert_written(reading, item, convert) for item in _items(reading, pair))
        return tuple(value for value in values if value is not None) or None

    return Form(read, LIST)


def one_of(*choices: str) -> Form:
    """Make the form of a value that is one of a few words."""

    def convert(value: str) -> str | Fault:
        if value in choices:
            return value
        listed = " or ".join(choices)
        return Fault("not-a-choice", f"{value!r} is not known here; {listed} was expected", f"write {listed}")

    return converted(convert, {"enum": list(choices)})


LIST: Final = {"anyOf": [{"type": "array", "items": SCALAR}, SCALAR]}
TEXT: Final = Form(text, SCALAR)
"""A single value as text."""

NAME: Final = Form(name, SCALAR)
"""A name, a code or the like."""

TEXTS: Final = Form(texts, LIST)
"""A list of values; a single one stands for a list of one."""
