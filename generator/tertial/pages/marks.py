"""What pages that compare have in common: phrases with their colours, verdicts, and the numbers behind them."""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.faceted import read_by_facet
from tertial.marks.meaning import facet_named, quality_words
from tertial.marks.verdicts import Verdict
from tertial.pages.naming import plumage_named
from tertial.pages.site import METHOD, Link, Site

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from tertial.marks.compare import AspectRow, Comparison, PartRow
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Reading, Statement
    from tertial.marks.words import Words


class Swatch(NamedTuple):
    """A colour that a phrase names."""

    name: str
    """Its word."""

    colour: str
    """Its reference, ``#rrggbb``."""


class Said(NamedTuple):
    """A phrase with where it comes from."""

    words: tuple[Link, ...]
    """The phrase."""

    origin: str
    """The plumage it was written for, when that is a wider one; else ''."""

    swatches: tuple[Swatch, ...]
    """The colours it names, each once."""


class MarkRow(NamedTuple):
    """One part of both birds, with what it is worth."""

    part: Link
    verdict: Link
    """The verdict, and the way to what it means."""
    value: str
    """The separation with two decimals."""
    style: str
    """Class of the verdict."""
    first: tuple[Said, ...]
    """Phrases of the first bird; empty when nothing is recorded."""
    second: tuple[Said, ...]
    note: str
    """Id of its line among the numbers, or ''."""


class MarkGroup(NamedTuple):
    """Rows under one heading."""

    heading: str
    rows: tuple[MarkRow, ...]
    counted: str = ""
    """How many they are, in words; '' for rows that tell the birds apart."""


class NumberRow(NamedTuple):
    """The numbers behind one row: every aspect with its claims."""

    id: str
    part: Link
    aspect: str
    first: str
    """Claims with their weights."""
    second: str
    separation: str
    """Two decimals, or ''."""
    verdict: Link
    remark: str
    """What has to be known beside the number."""


OTHER = "Other parts"
RESTS: Final = (
    (
        Verdict.WEAK,
        "Of little use alone",
        "%(num)s mark of little use alone",
        "%(num)s marks of little use alone",
    ),
    (
        Verdict.SHARED,
        "Of no use: alike in both",
        "%(num)s mark alike in both",
        "%(num)s marks alike in both",
    ),
    (
        Verdict.NOT_RECORDED,
        "Missing on one side, or not comparable",
        "%(num)s mark not comparable",
        "%(num)s marks not comparable",
    ),
)
"""Verdicts of rows that do not help: the heading over them, and how many they are, of one and of several."""


def verdict_style(verdict: Verdict) -> str:
    """Give the class by which style sheets draw a verdict."""
    return "v-" + verdict.value.replace(" ", "-")


def method_of(site: Site, verdict: Verdict) -> Link:
    """Give a verdict with the way to its explanation."""
    return Link(site.say(verdict.value), f"{METHOD}#verdict-{verdict.value.replace(' ', '-')}")


def said_phrases(site: Site, found: Sequence[tuple[Reading, Plumage]], plumage: Plumage, part: str) -> tuple[Said, ...]:
    """Make phrases on a part, by its preferred word, for a cell of a plumage's table."""
    return tuple(
        Said(
            site.words(reading.text, site.mentions.phrases, part),
            "" if origin == plumage else plumage_named(site, origin),
            _swatches(reading.text, site.guide.words, part),
        )
        for reading, origin in found
    )


@lru_cache(maxsize=65536)
def _swatches(text: str, words: Words, part: str) -> tuple[Swatch, ...]:
    """Give the colours that a phrase claims, in the order of its statements, each once."""
    # By its text, because to look a whole reading up costs more than all that is made of it.
    found: dict[str, str] = {}
    for statement in read_by_facet(text, words, part).statements:
        for claim in statement.claims:
            for quality in () if claim.negative else claim.qualities:
                colour = words.colour(quality.word) if statement.key.aspect == "colour" else None
                if colour:
                    found.setdefault(" ".join((*quality.shades, quality.word)), colour)
    return tuple(Swatch(name, colour) for name, colour in found.items())


def mark_groups(site: Site, comparison: Comparison, prefix: str) -> tuple[MarkGroup, ...]:
    """Group the rows of a comparison that help to tell the birds apart by the view they need.

    :param prefix: of the ids under which the numbers stand.
    """
    telling = [row for row in comparison.parts if row.verdict.rank <= Verdict.HELPFUL.rank]
    by_view = sorted(telling, key=lambda row: row.ease[0])
    return tuple(
        MarkGroup(site.say(rows[0].part.view.heading if rows[0].part else OTHER), _rows(site, comparison, rows, prefix))
        for rows in (list(found) for _, found in groupby(by_view, key=lambda row: row.ease[0]))
    )


def rest_groups(site: Site, comparison: Comparison, prefix: str) -> tuple[MarkGroup, ...]:
    """Group the other rows by why they do not help: what is weak, what is alike, what is missing.

    :param prefix: of the ids under which the numbers stand.
    """
    groups = []
    for verdict, heading, one, several in RESTS:
        rows = [
            row
            for row in comparison.parts
            if row.verdict is verdict and (verdict is not Verdict.NOT_RECORDED or _is_telling(row, comparison))
        ]
        if rows:
            counted = site.wording.count(one, several, len(rows))
            groups.append(MarkGroup(site.say(heading), _rows(site, comparison, rows, prefix), counted))
    return tuple(groups)


def _is_telling(row: PartRow, comparison: Comparison) -> bool:
    """What one bird merely takes over from a wider plumage and the other lacks says nothing of the plumage."""
    if row.first and row.second:
        return True
    origins = {*(origin for _, origin in row.first), *(origin for _, origin in row.second)}
    return not origins.isdisjoint((comparison.first, comparison.second))


def _rows(site: Site, comparison: Comparison, rows: Iterable[PartRow], prefix: str) -> tuple[MarkRow, ...]:
    return tuple(
        MarkRow(
            site.part(row.word),
            method_of(site, row.verdict),
            site.wording.numbers(f"{row.value:.2f}"),
            verdict_style(row.verdict),
            said_phrases(site, row.first, comparison.first, row.word),
            said_phrases(site, row.second, comparison.second, row.word),
            f"{prefix}-{_slug(row.word)}" if row.best else "",
        )
        for row in rows
    )


def number_rows(site: Site, comparison: Comparison, prefix: str) -> Iterator[NumberRow]:
    """Give the numbers behind the rows of a comparison, the first of each part with its id."""
    for row in comparison.parts:
        name = f"{prefix}-{_slug(row.word)}"
        for aspect in row.aspects:
            if aspect.separated is not None:
                yield _number_row(site, site.part(row.word), aspect, name)
                name = ""


def _number_row(site: Site, part: Link, aspect: AspectRow, name: str) -> NumberRow:
    found, key = aspect.separated, aspect.key
    where = f", {site.say(key.where)}" if key.where else ""
    facet = f" ({facet_named(site.wording, key.facet)})" if key.facet and key.facet != key.aspect.value else ""
    index = bool(found and found.index)
    remark = site.say("an index: near words, steps or sets of words had a say") if index else ""
    return NumberRow(
        name,
        part,
        f"{site.say(key.aspect.value)}{facet}{where}",
        claims_in_words(site, aspect.first.statement) if aspect.first else "",
        claims_in_words(site, aspect.second.statement) if aspect.second else "",
        site.wording.numbers(f"{found.value:.2f}") if found else "",
        method_of(site, aspect.verdict),
        remark,
    )


def claims_in_words(site: Site, statement: Statement) -> str:
    """Write down the claims of a statement with their weights: ``red 0.80; not white 0.90``."""
    claims = (
        f"{'not ' if claim.negative else ''}{' and '.join(map(quality_words, claim.qualities))} "
        + site.wording.numbers(f"{claim.weight:.2f}")
        for claim in statement.claims
    )
    return f"{site.say(';')} ".join(claims) or "variable"


def _slug(word: str) -> str:
    return "-".join("".join(char if char.isalnum() else " " for char in word.casefold()).split())
