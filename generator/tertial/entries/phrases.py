"""Blocks of phrases: ``part: phrase`` a line, as a literal or as a plain mapping."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from tertial.entries.convert import to_quantity
from tertial.entries.fields import NOTHING, SCALAR, Form, convert_written
from tertial.entries.values import MeasureBlock, NamedMeasure, Phrase, PlumageBlock, Written
from tertial.text.nodes import Listing, Mapping, Node, Scalar, literal_lines
from tertial.text.problem import Also, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.entries.fields import Reading
    from tertial.text.nodes import Pair

_COLON = re.compile(r":(?:\s+|$)")
_GLUED = re.compile(r"[^\d:]+:\S")
_MEND_BLOCK = "write the key, then |, then one line a phrase: part, colon, blank, phrase"
_PHRASE = ("part", "phrase", "bill: black")
_EMPTY_MEND = "write unknown, not seen or does not apply; or leave the line out"


def phrases(reading: Reading, pair: Pair) -> tuple[Phrase, ...] | None:
    """Read one block of phrases."""
    return tuple(_phrases(reading, pair.value))


def _phrases(reading: Reading, node: Node) -> Iterator[Phrase]:
    for part, value in _written_lines(reading, node, "a phrase", _EMPTY_MEND):
        yield Phrase(part, value)


def _written_lines(reading: Reading, node: Node, what: str, mend: str) -> Iterator[tuple[Written[str], Written[str]]]:
    for part, value in block_lines(reading, node):
        if value.value:
            yield part, value
        else:
            message = f"nothing is written of {part.value!r}; {what} was expected"
            reading.say("empty-value", part.span, message, mend, Severity.GAP)


def block_lines(
    reading: Reading, node: Node, form: tuple[str, str, str] = _PHRASE, joined: Callable[[str, str], str] | None = None
) -> Iterator[tuple[Written[str], Written[str]]]:
    """Give the lines of a block as pairs of texts, what stands before and after the colon.

    :param form: for messages: what is to stand before the colon, what after it, and an example.
    :param joined: the repair where one name has two values; without it they are joined by a comma.
    """
    if isinstance(node, Mapping):
        yield from _from_mapping(reading, node)
    elif isinstance(node, Listing):
        before, after, example = form
        mend = f"write the key, then |, then one line each: {before}, colon, blank, {after}, as in {example}"
        reading.wrong_shape(node, f"a block of {after}s", _MEND_BLOCK if form is _PHRASE else mend)
    elif not node.is_empty:
        yield from _from_literal(reading, node, form, joined)


def _from_mapping(reading: Reading, node: Mapping) -> Iterator[tuple[Written[str], Written[str]]]:
    for pair in node.pairs:
        part = Written(pair.key.text, pair.key.span)
        if not isinstance(pair.value, Scalar):
            reading.wrong_shape(pair.value, "a phrase", _MEND_BLOCK)
        elif not pair.value.is_null_word:
            yield part, Written(" ".join(pair.value.text.split()), pair.value.span)


def _from_literal(
    reading: Reading, node: Scalar, form: tuple[str, str, str], joined: Callable[[str, str], str] | None
) -> Iterator[tuple[Written[str], Written[str]]]:
    before, after, example = form
    seen: dict[str, Written[str]] = {}
    above = ""
    for line in literal_lines(reading.source, node):
        colon = _COLON.search(line.text)
        if colon is None:
            message = f"{line.text[:40]!r} names no {before}; '{before}: {after}' was expected"
            mend = f"begin the line with the {before} and a colon, as in {example}"
            if _GLUED.match(line.text):
                mend = "leave a blank after the colon"
            elif seen and form is _PHRASE:
                # A line that ends with a comma runs on for certain.
                mend = "join it to the line above" + ("" if above.endswith(",") else f", or {mend}")
            above = line.text
            reading.say("no-part", line.span, message, mend)
            continue
        above = line.text
        value = Written(" ".join(line.text[colon.end() :].split()), Span(line.span.start + colon.end(), line.span.end))
        name, start = line.text[: colon.start()].rstrip(), line.span.start
        part = Written(name, Span(start, start + len(name)))
        if name in seen:
            message = f"{name!r} is written twice in this block; the second is not read"
            first = Also(reading.source, seen[name].span, "first written here")
            mend = joined(seen[name].value, value.value) if joined else f"join the two {after}s with a comma"
            reading.say("key-twice", part.span, message, mend, Severity.WARNING, first)
            continue
        seen[name] = Written(value.value, part.span)
        yield part, value


def plumages(reading: Reading, pair: Pair) -> tuple[PlumageBlock, ...] | None:
    """Read phrases by plumage; a block without plumages counts for ``all``."""
    if isinstance(pair.value, Scalar):
        return (PlumageBlock(Written("all", pair.key.span), tuple(_phrases(reading, pair.value))),)
    if isinstance(pair.value, Listing):
        reading.wrong_shape(pair.value, "plumages with phrases", "write a plumage (all: |), then its phrases")
        return None
    return tuple(
        PlumageBlock(Written(block.key.text, block.key.span), tuple(_phrases(reading, block.value)))
        for block in _begun(reading, pair.value)
    )


def _begun(reading: Reading, node: Mapping) -> tuple[Pair, ...]:
    """Give the plumages; one with nothing at all under it, not even a literal, is named as a gap."""
    for block in node.pairs:
        if isinstance(block.value, Scalar) and not block.value.text and not block.value.style:
            message = f"nothing is written under {block.key.text!r}"
            mend = "write |, then one line a phrase below it, or leave the plumage out"
            reading.say("empty-value", block.key.span, message, mend, Severity.GAP)
    return node.pairs


def measures(reading: Reading, pair: Pair) -> tuple[MeasureBlock, ...] | None:
    """Read measures by plumage; a block without plumages counts for ``all``."""
    if isinstance(pair.value, Listing):
        reading.wrong_shape(pair.value, "plumages with measures", "write a plumage (all: |), then its measures")
        return None
    if isinstance(pair.value, Scalar):
        return (MeasureBlock(Written("all", pair.key.span), tuple(_measures(reading, pair.value))),)
    return tuple(
        MeasureBlock(Written(block.key.text, block.key.span), tuple(_measures(reading, block.value)))
        for block in _begun(reading, pair.value)
    )


def _measures(reading: Reading, node: Node) -> Iterator[NamedMeasure]:
    for part, value in _written_lines(reading, node, "a measure", "write the measure, or leave the line out"):
        quantity = convert_written(reading, value, to_quantity)
        if quantity is not None:
            yield NamedMeasure(part, quantity)


# A literal is a string to an editor; a plain mapping of part to phrase is accepted too.
_LINE: Final = {"anyOf": [SCALAR, NOTHING]}
LINES: Final = {"anyOf": [{"type": "object", "additionalProperties": _LINE}, SCALAR, NOTHING]}
_BLOCKS: Final = {"anyOf": [{"type": "object", "additionalProperties": LINES}, SCALAR]}
PHRASES: Final = Form(phrases, LINES)
PLUMAGES: Final = Form(plumages, _BLOCKS)
MEASURES: Final = Form(measures, _BLOCKS)
