"""Blocks of phrases: ``part: phrase`` a line, as a literal or as a plain mapping."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from tertial.entries.convert import to_quantity
from tertial.entries.fields import NOTHING, SCALAR, Form, convert_written
from tertial.entries.values import MeasureBlock, NamedMeasure, Phrase, PlumageBlock, Written
from tertial.marks.parts import load_parts
from tertial.marks.plumages import near_plumages, read_plumage
from tertial.text.nodes import Listing, Mapping, Node, Scalar, literal_lines
from tertial.text.problem import Also, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.entries.fields import Reading
    from tertial.text.nodes import Pair

_COLON = re.compile(r":(?:\s+|$)")
_GLUED = re.compile(r"[^\d:]+:\S")
# What is written in place of words: signs alone, or letters that stand for nothing.
_NOTHING = re.compile(r"\W+|n[/.]?a\.?|null|tb[ad]", re.IGNORECASE)
_WHOLE_NOTE = re.compile(r"#+(?!\d)\s*(.*)")
_NOTE = re.compile(r"(?<=\s)#+(?!\d)\s*([^\"\u201d]*)$")
_MEND_BLOCK = "write the key, then |, then one line a phrase: part, colon, blank, phrase"
_PHRASE = ("part", "phrase", "bill: black")
_MEASURE = ("part", "measure", "wing: 90-100 mm")
_EMPTY_MEND = "write unknown, not seen or does not apply; or leave the line out"


def phrases(
    reading: Reading, pair: Pair, form: tuple[str, str, str] = _PHRASE, mend: str = _EMPTY_MEND
) -> tuple[Phrase, ...] | None:
    """Read one block of phrases.

    :param form: as of ``block_lines``.
    :param mend: the repair of a line that says nothing.
    """
    return tuple(Phrase(part, value) for part, value in _written_lines(reading, pair.value, form, mend))


def lines_of(before: str, after: str, example: str, mend: str = "") -> Form:
    """Make the form of a block of phrases about something else than what can be seen; parameters as of ``phrases``."""
    mend = mend or f"write the {after}, or leave the line out"
    return Form(lambda reading, pair: phrases(reading, pair, (before, after, example), mend), LINES)


def _written_lines(
    reading: Reading, node: Node, form: tuple[str, str, str], mend: str
) -> Iterator[tuple[Written[str], Written[str]]]:
    for part, value in block_lines(reading, node, form):
        if not value.value:
            message = f"nothing is written of {part.value!r}; a {form[1]} was expected"
            reading.say("empty-value", part.span, message, mend, Severity.GAP)
        elif _NOTHING.fullmatch(value.value):
            message = f"{value.value!r} says nothing of {part.value!r}; words were expected"
            reading.say("null-word", value.span, message, mend)
        else:
            if "#" in value.value and (note := _NOTE.search(value.value)):
                message = f"{note.group()!r} is no comment here, but a part of the {form[1]}"
                instead = f"put it in brackets: ({note[1]})" if note[1] else "take the sign out"
                reading.say("comment-in-literal", _place_of(reading, value, note), message, instead)
            yield part, value


def _place_of(reading: Reading, value: Written[str], found: re.Match[str]) -> Span:
    at = reading.source.text.find(found.group(), value.span.start, value.span.end)
    return Span(at, at + len(found.group())) if at >= 0 else value.span


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
        if note := _WHOLE_NOTE.fullmatch(line.text):
            message = f"{line.text[:40]!r} is no comment here; '{before}: {after}' was expected"
            mend = "take the line out"
            if note[1] and seen and form is _PHRASE:
                mend += f", or put it in brackets behind the line above: ({note[1]})"
            reading.say("comment-in-literal", line.span, message, mend)
            continue
        colon = _COLON.search(line.text)
        if colon is None:
            message = f"{line.text[:40]!r} names no {before}; '{before}: {after}' was expected"
            mend = f"begin the line with the {before} and a colon, as in {example}"
            if _GLUED.match(line.text):
                mend = "leave a blank after the colon"
            elif node.style not in ("|", ">"):
                mend = f"write | in its place, and on the next line, further in, {before} and {after}, as in {example}"
            elif seen and joined is None:
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
    """Read phrases by plumage; what stands under none counts for ``all``."""
    return tuple(
        PlumageBlock(plumage, tuple(Phrase(*line) for line in _written_lines(reading, node, _PHRASE, _EMPTY_MEND)))
        for plumage, node in _blocks(reading, pair, "phrase")
    )


def measures(reading: Reading, pair: Pair) -> tuple[MeasureBlock, ...] | None:
    """Read measures by plumage; what stands under none counts for ``all``."""
    return tuple(
        MeasureBlock(plumage, tuple(_measures(reading, node))) for plumage, node in _blocks(reading, pair, "measure")
    )


def _measures(reading: Reading, node: Node) -> Iterator[NamedMeasure]:
    for part, value in _written_lines(reading, node, _MEASURE, "write the measure, or leave the line out"):
        quantity = convert_written(reading, value, to_quantity)
        if quantity is not None:
            yield NamedMeasure(part, quantity)


def _blocks(reading: Reading, pair: Pair, what: str) -> Iterator[tuple[Written[str], Node]]:
    """Give the plumages with what stands under each; one with nothing at all under it is named as a gap."""
    if isinstance(pair.value, Listing):
        mend = f"write a plumage (all: |), then its {what}s"
        reading.wrong_shape(pair.value, f"plumages with {what}s", mend)
    elif isinstance(pair.value, Scalar):
        yield Written("all", pair.key.span), pair.value
    else:
        loose = tuple(block for block in pair.value.pairs if _is_line(block))
        under_all = [_under_all(reading, pair.value, loose, what)] if loose else []
        # What is written under all where it belongs comes first, and is what counts of a part written twice.
        is_there = any(block.key.text == "all" for block in pair.value.pairs)
        yield from () if is_there else under_all
        for block in pair.value.pairs:
            if isinstance(block.value, Scalar) and not block.value.text and not block.value.style:
                message = f"nothing is written under {block.key.text!r}"
                mend = f"write |, then one line a {what} below it, or leave the plumage out"
                reading.say("empty-value", block.key.span, message, mend, Severity.GAP)
            if block not in loose:
                yield Written(block.key.text, block.key.span), block.value
        yield from under_all if is_there else ()


def _is_line(block: Pair) -> bool:
    """Tell a line of a part from a plumage with its block."""
    key, value = block
    if not isinstance(value, Scalar) or value.style in ("|", ">") or not (value.text or value.style):
        return False
    return read_plumage(key.text) is None and not (near_plumages(key.text) and load_parts().find(key.text) is None)


def _under_all(reading: Reading, node: Mapping, lines: tuple[Pair, ...], what: str) -> tuple[Written[str], Mapping]:
    """Read lines that stand under no plumage as those of ``all``, and say so at the first."""
    first = lines[0].key
    message = f"no plumage stands above {first.text!r}; the {what} is read as one of all"
    column = reading.source.position(first.span.start).column + 2
    named = ", ".join(line.key.text for line in lines)
    named = f"the line{'s' * (len(lines) > 1)} of {named}"
    mend = f"write all: |, and below it, from column {column} on, {named}"
    if any(pair.key.text == "all" for pair in node.pairs):
        mend = f"set {named} below all: |, from column {column} on"
    reading.say("unknown-plumage", first.span, message, mend)
    return Written("all", first.span), Mapping(lines, Span(first.span.start, lines[-1].value.span.end))


# A literal is a string to an editor; a plain mapping of part to phrase is accepted too.
_LINE: Final = {"anyOf": [SCALAR, NOTHING]}
LINES: Final = {"anyOf": [{"type": "object", "additionalProperties": _LINE}, SCALAR, NOTHING]}
_BLOCKS: Final = {"anyOf": [{"$ref": "#/$defs/plumages"}, SCALAR]}
PHRASES: Final = Form(phrases, LINES)
VOICE: Final = lines_of("part", "phrase", "call: a sharp peek", _EMPTY_MEND)
PLUMAGES: Final = Form(plumages, _BLOCKS)
MEASURES: Final = Form(measures, _BLOCKS)
