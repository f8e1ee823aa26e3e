"""What separates two look-alikes, in a sentence for each plumage or several."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.plumages import ALL
from tertial.marks.sentences import pair_sentences
from tertial.pages.marks import verdict_style
from tertial.pages.plumage_tables import table_id
from tertial.pages.site import Link, Site

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from tertial.marks.compare import Comparison
    from tertial.marks.plumages import Plumage


class Short(NamedTuple):
    """What the marks of one or more plumages come to."""

    who: str
    """The birds it is true of."""
    text: tuple[Link, ...]
    """What separates them, parts with the way to their page."""
    table: str
    """Id of the first table it speaks of, of those that are on the page; '' for none."""
    style: str


def shorts(site: Site, comparisons: Sequence[Comparison], tables: Collection[str]) -> tuple[Short, ...]:
    """Say what separates two birds, plumage by plumage; ``tables`` has the ids of those that can be shown."""
    return tuple(
        Short(
            each.who,
            tuple(_with_parts(site, each.clause, each.marks)),
            _first_table(each.plumages, comparisons, tables),
            verdict_style(each.verdict),
        )
        for each in pair_sentences(comparisons, site.wording)
    )


def _first_table(plumages: Sequence[Plumage], comparisons: Sequence[Comparison], tables: Collection[str]) -> str:
    """What is true of every plumage stands in the table of all, and so does what a plumage has no table for."""
    own = [table_id(each) for each in comparisons if each.first in plumages]
    ordered = (ALL.text, *own) if len(own) == len(comparisons) else (*own, ALL.text)
    return next((each for each in ordered if each in tables), "")


def _with_parts(site: Site, text: str, marks: Sequence[str]) -> Iterator[Link]:
    """Part a sentence at the parts that it names, in their order, each in either number."""
    end = 0
    for word in marks:
        part = site.guide.parts.find(word)
        told = site.wording.parts.get(word)
        names = {told.name, told.several} if told else {word, part.plural or word} if part else {word}
        forms = "|".join(map(re.escape, sorted(names, key=len, reverse=True)))
        found = re.compile(rf"\b(?:{forms})\b").search(text, end)
        if found:
            yield from (Link(text[end : found.start()]), Link(found.group(), site.part(word).address))
            end = found.end()
    yield Link(text[end:])
