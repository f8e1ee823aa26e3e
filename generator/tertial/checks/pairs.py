"""Pairs of look-alikes: whether what is recorded tells them apart, and whether what is said to does so."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from tertial.marks.compare import compare
from tertial.marks.decisive import offered
from tertial.marks.describe import describe
from tertial.marks.likeness import LEAST_SHARED
from tertial.marks.sentences import wanted_sentence
from tertial.marks.verdicts import Verdict
from tertial.resembling import look_alikes
from tertial.side_by_side import compare_species, missing_records, plumages, readings
from tertial.text.problem import Problem, Severity
from tertial.text.source import Span

_LIKELY: Final = 0.8
"""Likeness from which two birds are taken for look-alikes; our own choice."""

_LARGEST: Final = 250
"""Accounts up to which look-alikes are looked for at every check: the time grows with the square of them."""

_MANY: Final = 2 * LEAST_SHARED
"""Shared marks that this has to rest on: with few, birds of different build come out alike."""

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from tertial.entries.values import Similar, Written
    from tertial.guide import Guide, Pair, Species
    from tertial.marks.compare import PartRow
    from tertial.marks.decisive import Offered


def mark_decides_nothing(guide: Guide) -> Iterator[Problem]:
    """A mark that a remark offers as decisive and that the records of both birds call shared or weak.

    Marks that are named together are judged together: one of them that is worth more is enough.
    """
    for species in guide.species:
        for similar in species.entry.similar:
            other = guide.by_code.get(similar.code.value)
            if other is None or other is species or similar.remark is None:
                continue
            for named in offered(similar.remark.value, guide.parts):
                best = _best(guide, species, other, named)
                if best is not None and best.verdict.rank >= Verdict.WEAK.rank:
                    part = next((each for each in named if _covers(each, best)), named[0])
                    yield _decides_nothing(species, other, similar.remark, part, best)


def _best(guide: Guide, first: Species, second: Species, named: tuple[Offered, ...]) -> PartRow | None:
    """Give the best row that any plumage has for parts that are named; None where none is recorded of both."""
    sides = [readings(guide, species) for species in (first, second)]
    words = {
        word
        for side in sides
        for by_part in side.values()
        for word in by_part
        if (part := guide.parts.find(word)) and any(each.part.word in (word, part.region.word) for each in named)
    }
    rows = [row for row in _rows(guide, first, second, words) if row.best is not None]
    return min(rows, key=lambda row: row.rank, default=None)


def _rows(guide: Guide, first: Species, second: Species, words: Collection[str]) -> Iterator[PartRow]:
    """Compare some parts in every plumage, without the cost of all others."""
    if not words:
        return
    some = [
        {
            plumage: {word: reading for word, reading in by_part.items() if word in words}
            for plumage, by_part in readings(guide, species).items()
        }
        for species in (first, second)
    ]
    for plumage in plumages(first, second):
        one, another = (describe(each, {}, plumage) for each in some)
        yield from compare(one, another, guide.parts, guide.words).parts


def _covers(named: Offered, row: PartRow) -> bool:
    return row.part is not None and named.part.word in (row.word, row.part.region.word)


def _decides_nothing(species: Species, other: Species, remark: Written[str], named: Offered, row: PartRow) -> Problem:
    source = species.entry.source
    start = remark.span.start + named.start
    end = remark.span.start + named.end
    written = remark.value[named.start : named.end]
    span = Span(start, end) if source.text[start:end] == written else remark.span
    ours, theirs = (side[0][0].text if side else "" for side in (row.first, row.second))
    message = (
        f"{written!r} is said to tell {species.code} from {other.code}, but as recorded it is {row.verdict}: "
        f"{row.word} {ours!r} against {theirs!r}"
    )
    mend = "write down in both accounts how it differs, and how constantly; or name another mark"
    return Problem("mark-decides-nothing", Severity.WARNING, source, span, message, mend)


def pair_undecided(guide: Guide) -> Iterator[Problem]:
    """A pair of which something is compared, and in no plumage anything tells nearly all birds apart."""
    for pair in guide.pairs:
        comparisons = []
        for plumage in plumages(pair.first, pair.second):
            comparisons.append(compare_species(guide, pair.first, pair.second, plumage))
            if comparisons[-1].settled:
                break
        else:
            compared = [row for each in comparisons for row in each.parts if row.best is not None]
            if compared:
                best = min(compared, key=lambda row: row.rank)
                missing = missing_records(guide, pair.first, pair.second)
                species, similar = _named_by(pair)
                message = f"nothing that is recorded of both tells {pair.first.code} from {pair.second.code}"
                if best.verdict is not Verdict.SHARED:
                    message += f"; the best is {best.word}, {best.verdict}"
                mend = (
                    f"look at {wanted_sentence(missing[0], pair.first.code, pair.second.code)}"
                    if missing
                    else "write down, of both, a part that differs and how constantly"
                )
                yield Problem("pair-undecided", Severity.GAP, species.entry.source, similar.code.span, message, mend)


def _named_by(pair: Pair) -> tuple[Species, Similar]:
    """Find the account that names the other: the first bird's if it does."""
    return next(
        (species, similar)
        for species, other in ((pair.first, pair.second), (pair.second, pair.first))
        for similar in species.entry.similar
        if similar.code.value == other.code
    )


def look_alike_unlisted(guide: Guide) -> Iterator[Problem]:
    """Two birds of about one size that are recorded much alike, of which neither account names the other."""
    if len(guide.species) > _LARGEST:
        return
    listed = {frozenset((pair.first.code, pair.second.code)) for pair in guide.pairs}
    for each in look_alikes(guide):
        likeness = each.likeness
        if (likeness.value or 0) < _LIKELY or likeness.shared < _MANY:
            continue
        if frozenset((each.first.bird, each.second.bird)) not in listed:
            species, other = guide.by_code[each.first.bird], guide.by_code[each.second.bird]
            message = (
                f"{species.name} ({each.first.plumage}) and {other.name} ({each.second.plumage}) are recorded much "
                f"alike in {likeness.shared} marks, but neither account names the other"
            )
            mend = f"add under similar: {other.code}: and what tells it; or record more of both"
            source, name = species.entry.source, species.entry.name
            yield Problem("look-alike-unlisted", Severity.GAP, source, name.span, message, mend)
