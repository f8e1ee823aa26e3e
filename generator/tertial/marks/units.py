"""A phrase cut into the stretches that the word lists know, each with all that it may mean.

Nothing is decided here beyond the cutting: brackets and quoted sounds are set aside, and of several
known wordings the longest is taken. One pass over the text, one look-up a word for each possible length.
"""

from __future__ import annotations

import re
from enum import StrEnum
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.lexicon import ARTICLES, TOKEN, Kind, Sense, plain_token, tokens
from tertial.marks.parts import Evidence, Part, load_parts
from tertial.marks.statements import Aspect
from tertial.marks.tables import read_table, split_cell

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tertial.marks.words import Words

_PAIRS: Final = {"(": ")", "[": "]", "{": "}", '"': '"', "\u201c": "\u201d", "\u201e": "\u201c", "\u2018": "\u2019"}
_OPENING: Final = re.compile(f"[{re.escape(''.join(_PAIRS))}]")
_BREAK: Final = re.compile(r"[,;:!|\u2014]|\.(?!\d)|(?<!\d)\.|\s[\u2013-]+\s")
_HYPHENS: Final = frozenset("-\u00ad\u2010\u2011\u2012\u2013\u2212")
_ARTICLE: Final = Sense(Kind.SILENT, "about")
_MOST_DIGITS: Final = 4
_BODY: Final = frozenset({Evidence.SIZE_AND_SHAPE, Evidence.PATTERN_AND_COLOUR})
_CODE: Final = re.compile(r"[A-Z][A-Z0-9]{3,}")


class Gap(StrEnum):
    """What stands between a stretch and the one before it."""

    BLANK = "blank"
    HYPHEN = "hyphen"
    SLASH = "slash"


class Unit(NamedTuple):
    """A stretch of a phrase that is looked up as one."""

    start: int
    """Where it begins, in characters."""

    end: int
    """Where it ends, exclusive."""

    gap: Gap
    """What stands before it."""

    run: str = ""
    """Its words as they were looked up, joined."""

    senses: tuple[Sense, ...] = ()
    """All that it may mean; nothing for unknown words."""

    part: Part | None = None
    """The part of a bird that it names."""

    own: bool = False
    """It names the very part that the phrase describes."""

    aside: bool = False
    """It is in brackets or quotes."""

    code: bool = False
    """It is written like a bird's code."""

    doubted: bool = False
    """A question mark follows."""

    def kind(self, kind: Kind) -> Sense | None:
        """Give its sense of one kind, if it has one."""
        return next((sense for sense in self.senses if sense.kind is kind), None)

    def of(self, aspect: Aspect) -> Sense | None:
        """Give its sense in one aspect, if it has one."""
        return next((sense for sense in self.senses if sense.aspect is aspect), None)


class Subject(NamedTuple):
    """The part that a phrase describes."""

    part: Part | None
    """Its row in the table; None for a word that the table does not know."""

    nouns: frozenset[str]
    """The last word of its name in both numbers: in "wing bar: two bars" the bars are the part."""

    aspects: tuple[Aspect, ...]
    """The respects in which it can be described, those that a word of several senses means first, first."""


@cache
def subject(part: str) -> Subject:
    """Say what a phrase of a part can speak of; of an unknown part, what parts of the body can be."""
    found = load_parts().find(part)
    name = found.word if found else part
    names = (tokens(text.partition(" of ")[0]) for text in (name, found.plural if found else ""))
    evidence = found.region.evidence if found else Evidence.PATTERN_AND_COLOUR
    return Subject(found, frozenset(run[-1] for run in names if run), _aspects()[evidence.label])


@cache
def _aspects() -> Mapping[str, tuple[Aspect, ...]]:
    return {row["evidence"]: tuple(map(Aspect, split_cell(row["aspects"]))) for row in read_table("aspects.csv")}


@cache
def _parts() -> tuple[Mapping[str, Part], Mapping[str, int]]:
    """Give the parts by joined tokens, and by first token the most tokens of a name."""
    found: dict[str, Part] = {}
    longest: dict[str, int] = {}
    for part in load_parts():
        for word in part.words:
            run = tokens(word)
            found.setdefault("".join(run), part)
            longest[run[0]] = max(len(run), longest.get(run[0], 0))
    return found, longest


def clauses(text: str) -> Iterator[tuple[int, int]]:
    """Give the stretches between the commas of a phrase, from left to right; a comma in brackets parts nothing."""
    start = done = 0
    for aside, end in (*_asides(text), (len(text), len(text))):
        for found in _BREAK.finditer(text, done, aside):
            yield start, found.start()
            start = found.end()
        done = end
    yield start, len(text)


@lru_cache(maxsize=32768)
def cut(text: str, words: Words) -> tuple[Unit, ...]:
    """Cut a clause into units, from left to right; every word of it is in one of them."""
    units: list[Unit] = []
    done = 0
    for start, end in (*_asides(text), (len(text), len(text))):
        units.extend(_cut(text, done, start, words))
        if start < end:
            units.append(Unit(start, end, Gap.BLANK, aside=True))
        done = end
    return tuple(units)


def _asides(text: str) -> Iterator[tuple[int, int]]:
    """Find what is in brackets or quotes; a bracket left open reaches to the end, a quote does not."""
    at = 0
    closed_to: dict[str, int] = {}
    while found := _OPENING.search(text, at):
        sign, start = found.group(), found.start()
        at = start + 1
        if start < closed_to.get(sign, 0):
            continue
        end = text.find(_PAIRS[sign], at)
        if end < 0 and sign not in "([{":
            closed_to[sign] = len(text)
            continue
        at = end + 1 if end >= 0 else len(text)
        yield start, at


def _cut(text: str, start: int, end: int, words: Words) -> Iterator[Unit]:
    matches = list(TOKEN.finditer(text, start, end))
    plain = [plain_token(match.group()) for match in matches]
    bounds = [start, *(match.end() for match in matches)]
    gaps = [_gap(text[bounds[at] : match.start()]) for at, match in enumerate(matches)]
    at = 0
    while at < len(matches):
        senses, part, count = _longest(plain, at, words)
        last = at + count - 1
        after = text[matches[last].end() : matches[last + 1].start() if last + 1 < len(matches) else end]
        written = matches[at].group()
        if not senses and part is None and written.isdecimal() and len(written) <= _MOST_DIGITS:
            senses = (Sense(Kind.NUMBER, str(int(written)), Aspect.NUMBER),)
        yield Unit(
            matches[at].start(),
            matches[last].end(),
            gaps[at],
            "".join(token for token in plain[at : at + count] if token not in ARTICLES),
            senses,
            part,
            code=not senses and part is None and _CODE.fullmatch(written) is not None,
            doubted="?" in after,
        )
        at += count


def _longest(plain: Sequence[str], at: int, words: Words) -> tuple[tuple[Sense, ...], Part | None, int]:
    """Find the longest known wording from a token on; of equally long ones, that of the word lists."""
    if plain[at] in ARTICLES:
        return (_ARTICLE,), None, 1
    parts, longest = _parts()
    most = max(words.longest.get(plain[at], 1), longest.get(plain[at], 1))
    found: tuple[tuple[Sense, ...], Part | None, int] = ((), None, 1)
    run, seen, here = "", 0, at
    while here < len(plain) and seen < most:
        if plain[here] not in ARTICLES:
            run, seen = run + plain[here], seen + 1
            if run in words.senses or run in parts:
                found = (words.senses.get(run, ()), parts.get(run), here - at + 1)
        here += 1
    return found


def _gap(between: str) -> Gap:
    if "/" in between:
        return Gap.SLASH
    return Gap.HYPHEN if between and set(between) <= _HYPHENS else Gap.BLANK


def is_own(unit: Unit, about: Subject) -> bool:
    """Whether a unit names the very part that the phrase describes, in full or by its last word."""
    same = unit.part is not None and about.part is not None and unit.part.word == about.part.word
    return same or unit.run in about.nouns


def is_foreign(unit: Unit) -> bool:
    """Whether a unit can only be the name of another part of the body."""
    body = unit.part is not None and unit.part.region.evidence in _BODY
    return body and not unit.senses and not unit.own
