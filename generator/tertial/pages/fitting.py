"""A bird that was seen beside an account: what fits, what contradicts, and what the account leaves open."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.fitting import Fit
from tertial.marks.meaning import key_words
from tertial.marks.sentences import birds_of
from tertial.pages.naming import plumage_named
from tertial.side_by_side import fitting

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tertial.entries.values import Phrase
    from tertial.marks.fitting import FitRow, Fitting
    from tertial.pages.site import Link, Site


class FitMark(NamedTuple):
    """A part in one or more respects."""

    part: Link
    """The part."""

    respects: str
    """The respects: aspects, each with its place on the part."""

    seen: str
    """What was seen of it, in the author's words."""

    told: str
    """What the account says, or ''."""

    origin: str
    """The plumage that this was written for, where it is a wider one; else ''."""


class FittingView(NamedTuple):
    """What was seen, against the plumage of an account that it fits best."""

    plumage: str
    """The birds of that plumage, as one names several."""

    contradicts: tuple[FitMark, ...]
    """Respects in which hardly any such bird looks like that."""

    fits: tuple[FitMark, ...]
    """Respects in which such a bird may look like that."""

    not_recorded: tuple[FitMark, ...]
    """Respects of which the account says nothing, or not enough."""

    others: tuple[tuple[str, tuple[Link, ...]], ...]
    """The other plumages, the better fitting first, each with the parts that contradict."""


def fitting_view(site: Site, seen: Iterable[Phrase], code: str) -> FittingView | None:
    """Hold what was seen against the account of a code; None without an account, or without a mark understood."""
    species = site.guide.by_code.get(code)
    if species is None:
        return None
    best, *others = fitting(site.guide, seen, species)
    if not best.rows:
        return None
    rows = _worst_first(best)
    return FittingView(
        birds_of(best.plumage, site.wording),
        tuple(_marks(site, (row for row in rows if row.fit is Fit.CONTRADICTS), best)),
        tuple(_marks(site, (row for row in rows if row.fit is Fit.FITS), best)),
        tuple(_marks(site, (row for row in rows if row.fit is Fit.NOT_RECORDED), best)),
        tuple((birds_of(each.plumage, site.wording), _contradicting(site, each)) for each in others),
    )


def _worst_first(found: Fitting) -> list[FitRow]:
    """Give one row for each respect: of its facets the one that contradicts, else one that fits."""
    order = {Fit.CONTRADICTS: 0, Fit.FITS: 1, Fit.NOT_RECORDED: 2}
    by_respect: dict[tuple[str, str], FitRow] = {}
    for row in sorted(found.rows, key=lambda row: order[row.fit]):
        by_respect.setdefault((row.word, key_words(row.key)), row)
    return list(by_respect.values())


def _marks(site: Site, rows: Iterable[FitRow], found: Fitting) -> Iterator[FitMark]:
    """Join the respects of a part that rest on the same phrase."""
    joined: dict[tuple[str, str, str], tuple[FitRow, list[str]]] = {}
    for row in rows:
        said = row.told.reading.text if row.told else ""
        joined.setdefault((row.word, row.seen.text, said), (row, []))[1].append(key_words(row.key, site.wording))
    for (part, seen, said), (row, respects) in joined.items():
        origin = plumage_named(site, row.told.origin) if row.told and row.told.origin != found.plumage else ""
        yield FitMark(site.part(part), f"{site.say(';')} ".join(respects), seen, said, origin)


def _contradicting(site: Site, found: Fitting) -> tuple[Link, ...]:
    words = dict.fromkeys(row.word for row in found.rows if row.fit is Fit.CONTRADICTS)
    return tuple(site.part(word) for word in words)
