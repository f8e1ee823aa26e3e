"""What a comparison comes to, in sentences that a person would write.

A sentence names a few marks at most, the easiest of the best first, and says no more than the verdicts do.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.parts import Evidence
from tertial.marks.plumages import ALL
from tertial.marks.tables import read_table
from tertial.marks.verdicts import Verdict
from tertial.wording import PLAIN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tertial.marks.compare import Comparison, PartRow
    from tertial.marks.plumages import Plumage
    from tertial.marks.wanted import Wanted
    from tertial.wording import Wording

_MOST: Final = 3
"""A sentence that names more marks than this helps nobody on a walk."""

_COUNTED: Final = ("male", "female", "adult", "subadult", "juvenile", "immature")
"""Plumage words that take a plural of their own; before others stands "birds"."""

_WHOLE: Final = frozenset({Evidence.POSTURE_AND_BEHAVIOUR, Evidence.VOICE})
"""What belongs here is named as it is: nobody speaks of the shape of a posture."""

CLAUSES: Final = {
    Verdict.DIAGNOSTIC: ("%(marks)s settles it", "%(marks)s settle it", "%(marks)s settle it, each alone"),
    Verdict.STRONG: (
        "%(marks)s tells nearly all apart",
        "%(marks)s tell nearly all apart",
        "%(marks)s tell nearly all apart",
    ),
    Verdict.HELPFUL: ("only %(marks)s helps", "only %(marks)s help", "only %(marks)s help"),
    Verdict.WEAK: ("nothing recorded tells more than a few apart",) * 3,
    Verdict.SHARED: ("all that is recorded of both is alike",) * 3,
    Verdict.NOT_RECORDED: ("no mark is recorded of both",) * 3,
}
"""For the best verdict of a comparison, what is said of one mark, of one whose name is a plural, and of several."""


class PlumageSentence(NamedTuple):
    """What one plumage of a pair comes to."""

    plumages: tuple[Plumage, ...]
    """The plumages of which it is true; more than one where the same can be said."""

    verdict: Verdict
    """The best verdict."""

    marks: tuple[str, ...]
    """The parts it names."""

    who: str
    """The birds of which it is true, in words."""

    clause: str
    """What separates them, with its full stop."""

    @property
    def text(self) -> str:
        """The whole sentence in English."""
        return f"{self.who}: {self.clause}"


@cache
def aspect_words() -> dict[tuple[str, str], str]:
    """Give by aspect and facet the phrase that names a mark of it; under no facet, that of all others."""
    return {(row["aspect"], row["facet"]): row["named"] for row in read_table("aspect-words.csv")}


def birds_of(plumage: Plumage, wording: Wording = PLAIN) -> str:
    """Name the birds of a plumage as one names several: ``juvenile females``, ``first-winter birds``."""
    if told := wording.birds(plumage.words):
        return told
    if plumage == ALL:
        return "all birds"
    text = plumage.text
    return f"{text}s" if text.endswith(_COUNTED) else f"{text} birds"


def mark_named(row: PartRow, wording: Wording = PLAIN) -> str:
    """Name the mark that a row rests on: ``the nape``, or ``the length of the bill``.

    A part that differs in several respects, or in whether it is there, is named as it is.
    """
    best = row.best
    plain = _plain(row, wording)
    if best is None or best.separated is None or (row.part and row.part.region.evidence in _WHOLE):
        return plain
    like = [each for each in row.aspects if each.verdict is best.verdict]
    if len(like) > 1:
        return plain
    place = f" ({wording.say(best.key.where)})" if best.key.where else ""
    aspects = aspect_words()
    words = aspects.get((best.key.aspect, best.key.facet)) or aspects[best.key.aspect, ""]
    return wording.say(words, part=wording.part_said(row.word), parts=_several(row, wording)) + place


def _plain(row: PartRow, wording: Wording) -> str:
    return wording.say("the %(part)s", part=wording.part_said(row.word))


def _several(row: PartRow, wording: Wording) -> str:
    if row.word in wording.parts:
        return wording.parts[row.word].several
    return row.part.plural if row.part and row.part.plural and not row.word.endswith("s") else row.word


def sentence(comparison: Comparison, wording: Wording = PLAIN) -> PlumageSentence:
    """Say what separates two birds of a plumage."""
    best = min(
        (row.verdict for row in comparison.parts), key=lambda verdict: verdict.rank, default=Verdict.NOT_RECORDED
    )
    best_rows = [row for row in comparison.parts if row.verdict is best]
    named = best_rows[:_MOST] if best.rank <= Verdict.HELPFUL.rank else []
    marks = [mark_named(row, wording) for row in named]
    one, one_plural, several = CLAUSES[best]
    phrase = several if len(marks) > 1 else one_plural if marks and _is_plural(named[0], wording) else one
    clause = wording.say(phrase, marks=wording.both(marks))
    who = birds_of(comparison.first, wording)
    if comparison.first != comparison.second:
        who = wording.say("%(birds)s against %(others)s", birds=who, others=birds_of(comparison.second, wording))
    marks_named = tuple(row.word for row in named)
    return PlumageSentence((comparison.first,), best, marks_named, _capital(who), f"{clause}.")


def pair_sentences(comparisons: Sequence[Comparison], wording: Wording = PLAIN) -> tuple[PlumageSentence, ...]:
    """Say it of a pair: first what holds in every plumage, then what each adds, the easiest plumage first.

    What is true of several plumages is said once.
    """
    general = _general(comparisons) if len(comparisons) > 1 else frozenset()
    found: list[PlumageSentence] = []
    if general:
        whole = replace(comparisons[0], parts=tuple(row for row in comparisons[0].parts if row.word in general))
        said = sentence(whole, wording)
        every = tuple(each.first for each in comparisons)
        found.append(PlumageSentence(every, said.verdict, said.marks, wording.say("All plumages"), said.clause))
    rest = [replace(each, parts=tuple(row for row in each.parts if row.word not in general)) for each in comparisons]
    clauses: dict[str, list[PlumageSentence]] = {}
    for comparison in sorted(rest, key=_best_rank):
        said = sentence(comparison, wording)
        clause = said.clause
        if general and said.verdict.rank > Verdict.HELPFUL.rank:
            clause = wording.say("nothing more is recorded that helps.")
        clauses.setdefault(clause, []).append(said)
    for clause, alike in clauses.items():
        plumages = tuple(each.plumages[0] for each in alike)
        everyone = len(plumages) == len(comparisons) > 1
        birds = wording.both(birds_among(each, comparisons, wording) for each in plumages)
        who = wording.say("All plumages") if everyone else _capital(birds)
        if not (everyone and general and not alike[0].marks):
            found.append(PlumageSentence(plumages, alike[0].verdict, alike[0].marks, who, clause))
    return tuple(found)


def birds_among(plumage: Plumage, comparisons: Sequence[Comparison], wording: Wording = PLAIN) -> str:
    """Name the birds of a plumage beside others: what is written for all then stands for the rest."""
    return wording.say("other birds") if plumage == ALL and len(comparisons) > 1 else birds_of(plumage, wording)


def _general(comparisons: Sequence[Comparison]) -> frozenset[str]:
    """Give the parts that help, and that both accounts describe for all plumages at once."""
    everywhere = [
        {row.word for row in comparison.parts if row.verdict.rank <= Verdict.HELPFUL.rank and _is_of_all(row)}
        for comparison in comparisons
    ]
    return frozenset.intersection(*map(frozenset, everywhere))


def _is_of_all(row: PartRow) -> bool:
    return all(origin == ALL for _, origin in (*row.first, *row.second))


def wanted_sentence(wanted: Wanted, first: str, second: str) -> str:
    """Say which record is missing, and beside what it would stand.

    :param first: the first bird's name or code.
    :param second: the second bird's.
    """
    missing, other = (first, second) if wanted.of_first else (second, first)
    whose = "" if wanted.plumage == ALL else f" of {birds_of(wanted.plumage)}"
    return f"{missing}, {wanted.word}{whose}: {other} has {wanted.beside.reading.text!r}"


def _best_rank(comparison: Comparison) -> int:
    return min((row.verdict.rank for row in comparison.parts), default=Verdict.NOT_RECORDED.rank)


def _is_plural(row: PartRow, wording: Wording) -> bool:
    if mark_named(row, wording) != _plain(row, wording):
        return False
    if row.word in wording.parts:
        return wording.parts[row.word].is_several
    return row.word.endswith("s") and not row.word.endswith("ss")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
