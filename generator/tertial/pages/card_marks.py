"""What may stand on a field card: each mark once with the plumages it is of, and the records that are missing."""

from __future__ import annotations

import re
from itertools import zip_longest
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.plumages import ALL
from tertial.marks.sentences import birds_among, pair_sentences
from tertial.marks.verdicts import Verdict
from tertial.pages.comparison import first_sizes
from tertial.pages.marks import said_phrases, verdict_style
from tertial.pages.plumage_tables import SAID_OF_ALL
from tertial.pages.shared import wanted_of
from tertial.pages.tongues import woven

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence

    from tertial.guide import Species
    from tertial.marks.compare import Comparison, PartRow
    from tertial.marks.plumages import Plumage
    from tertial.marks.sentences import PlumageSentence
    from tertial.marks.statements import Reading
    from tertial.pages.site import Site


class CardRow(NamedTuple):
    """A mark of both birds."""

    part: str
    whose: str
    """The birds it is of, where not of all."""

    verdict: str
    style: str
    first: str
    second: str
    ours: bool = False
    """Both are figures in the words of the page, and not of the author."""


class CardMarks(NamedTuple):
    """The marks of a pair that help, each with the plumages in which both birds are described alike."""

    rows: dict[tuple[str, Plumage], CardRow]
    """By part and plumage, the most telling first; plumages in which nothing else is said share a row."""

    sentences: tuple[tuple[PlumageSentence, frozenset[CardRow]], ...]
    """What separates the two, plumage by plumage, with the rows of the marks that each sentence names."""

    turns: tuple[tuple[CardRow, ...], ...]
    """For all plumages and then for each, where it has marks of its own, the rows of those a sentence would name."""

    named: tuple[CardRow, ...]
    """Those whose part the author names when speaking of the difference."""

    def ordered(self) -> Iterator[CardRow]:
        """Give the rows, the most needed first: one of each plumage, what the author names, the next of each.

        Of a plumage comes what the author names, and rather a part that is not on the card yet.
        """
        first: list[CardRow] = []
        for turn in self.turns:
            parts = {row.part for row in first}
            first.append(min(turn, key=lambda row: (row.part in parts, row not in self.named)))
        parts = {row.part for row in first}
        named = [row for row in self.named if row.part not in parts]
        later = [row for turn in zip_longest(*self.turns) for row in turn if row is not None]
        yield from dict.fromkeys((*first, *named, *later, *self.rows.values()))


def card_marks(
    site: Site, comparisons: Sequence[Comparison], general: Collection[str], remarks: Iterable[str]
) -> CardMarks:
    """Gather the marks of a pair.

    :param general: the parts that neither account describes by plumage.
    :param remarks: what the author says of the difference.
    """
    found = [(row, comparison) for comparison in comparisons for row in comparison.parts]
    found = [each for each in found if each[0].verdict.rank <= Verdict.HELPFUL.rank]
    found.sort(key=lambda each: each[0].rank)
    alike: dict[tuple[str, str, str], list[tuple[PartRow, Comparison]]] = {}
    for row, comparison in found:
        one, other = (_said(site, row.word, side) for side in (row.first, row.second))
        alike.setdefault((row.word, one, other), []).append((row, comparison))
    rows: dict[tuple[str, Plumage], CardRow] = {}
    for (word, one, other), group in alike.items():
        birds = [each.first for each in comparisons if any(each is comparison for _, comparison in group)]
        everyone = word in general or len(birds) == len(comparisons) > 1
        whose = "" if everyone else _birds(site, birds, comparisons)
        best = group[0][0].verdict
        card = CardRow(site.part(word).text, whose, site.say(best.value), verdict_style(best), one, other)
        rows.update({(word, comparison.first): card for _, comparison in group})
    sentences = [each for each in pair_sentences(comparisons, site.wording) if each.marks]
    turns = (
        tuple(dict.fromkeys(rows[word, plumage] for word in each.marks))
        for each in sentences
        for plumage in (each.plumages[:1] if len(each.plumages) == len(comparisons) else each.plumages)
    )
    told = " ".join(remarks)
    words = {word for word, _ in rows if any(_names(told, form) for form in _forms(site, word))}
    named = dict.fromkeys(row for (word, _), row in rows.items() if word in words)
    with_rows = ((each, frozenset(rows[word, each.plumages[0]] for word in each.marks)) for each in sentences)
    return CardMarks(rows, tuple(with_rows), tuple(dict.fromkeys(turns)), tuple(named))


def card_sizes(site: Site, comparisons: Sequence[Comparison]) -> Iterator[CardRow]:
    """Give the sizes that help beside a known bird; another tells nothing in the field."""
    for row in first_sizes(site, comparisons):
        if row.beside and row.field and row.first and row.second:
            whose = site.say("beside a known bird")
            yield CardRow(row.name.text, whose, row.field.text, row.style, row.first.text, row.second.text, ours=True)


def card_wanted(
    site: Site, comparisons: Sequence[Comparison], first: Species, second: Species, most: int
) -> Iterator[str]:
    """Name the records that are missing, each with its bird and the plumages in which it is.

    A part that is described for all plumages at once, as a call is, has none.
    """
    for each in wanted_of(site, first, second)[:most]:
        everyone = len(each.lacking) == len(comparisons)
        birds = _birds(site, (ALL,) if everyone else each.lacking, () if everyone else comparisons)
        code = (first if each.of_first else second).code
        part = site.part(each.word).text
        yield woven(f"{code}, {part}" if each.word in SAID_OF_ALL else f"{code} ({birds}), {part}", part)


def _birds(site: Site, plumages: Iterable[Plumage], comparisons: Sequence[Comparison]) -> str:
    return site.wording.both(birds_among(each, comparisons, site.wording) for each in plumages)


def _said(site: Site, part: str, found: Sequence[tuple[Reading, Plumage]]) -> str:
    phrases = said_phrases(site, found, ALL, part)
    return f"{site.say(';')} ".join("".join(link.text for link in each.words) for each in phrases)


def _forms(site: Site, word: str) -> Iterator[str]:
    """Give the words by which an author may name a part in passing."""
    part, told = site.guide.parts.find(word), site.wording.parts.get(word)
    yield from {word, *([part.plural] if part and part.plural else []), *([told.name, told.several] if told else [])}


def _names(text: str, form: str) -> bool:
    return re.search(rf"\b{re.escape(form)}\b", text, re.IGNORECASE) is not None
