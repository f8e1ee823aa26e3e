"""What an account says of its marks: as blocks, as they were written, and as one table of parts by plumages.

The table shows at a glance what is written for whom. Rows follow the order of evidence; what is written
of all plumages runs across them, because it is said of every one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.plumages import ALL, read_plumage
from tertial.pages.naming import plumage_heading, plumage_named
from tertial.pages.rows import Block, Row, phrase_rows
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from tertial.guide import Species
    from tertial.pages.site import Link, Site


class SheetRow(NamedTuple):
    """A part of the bird."""

    part: Link
    """The part."""

    general: tuple[Row, ...]
    """What is written of all plumages."""

    cells: tuple[tuple[Row, ...], ...]
    """For each plumage what is written of it alone; empty where nothing is of any."""


class MarkSheet(NamedTuple):
    """Every mark of an account."""

    plumages: tuple[str, ...]
    """Headings of the plumages that have marks of their own, in the order in which they are written."""

    rows: tuple[SheetRow, ...]
    """The parts."""


class Missing(NamedTuple):
    """What an account does not say yet, though it could help."""

    beside: tuple[tuple[Link, tuple[Link, ...]], ...]
    """Parts that it says nothing of, and the look-alikes of which they are recorded."""

    unsettled: tuple[tuple[Link, str], ...]
    """Parts that were looked at and could not be told, with the plumage."""


def written_blocks(site: Site, species: Species) -> tuple[tuple[Block, ...], Callable[[str, str], str]]:
    """Make the blocks of marks, and what finds the row of a part for a sketch that shows a plumage.

    Only rows that a pointer may lead to get an id.
    """
    entry = species.entry
    pointed = {_known(site, pointer.value.name) for sketch in entry.sketches for pointer in sketch.pointers}
    ids: dict[tuple[str, str], str] = {}
    blocks = []
    for block in entry.marks:
        rows = []
        for phrase, row in zip(block.phrases, phrase_rows(site, block.phrases), strict=True):
            key = _known(site, phrase.part.value), block.plumage.value
            if key[0] in pointed and key not in ids:
                # Numbered, because two plumages may be written alike but for signs that an id leaves out.
                ids[key] = f"mark-{len(ids) + 1}-{slug_of(key[0])}"
                rows.append(row._replace(id=ids[key]))
            else:
                rows.append(row)
        if rows:
            blocks.append(Block(plumage_heading(site, block.plumage.value), tuple(rows)))

    def row_of(part: str, shows: str) -> str:
        word = _known(site, part)
        own = ids.get((word, shows)) or ids.get((word, "all"))
        return own or next((found for (name, _), found in ids.items() if name == word), "")

    return tuple(blocks), row_of


def _known(site: Site, word: str) -> str:
    part = site.guide.parts.find(word)
    return part.word if part else word


def mark_sheet(site: Site, species: Species, blocks: tuple[Block, ...]) -> MarkSheet:
    """Set the blocks of marks of a species into one table."""
    general = plumage_heading(site, ALL.text)
    written = tuple(block for block in species.entry.marks if block.phrases)
    named = tuple(plumage_heading(site, _usual(block.plumage.value)) for block in written)
    heads = tuple(dict.fromkeys(head for head in named if head != general))
    found: dict[str, dict[str, list[Row]]] = {}
    parts: dict[str, Link] = {}
    for block, head, made in zip(written, named, blocks, strict=True):
        for phrase, row in zip(block.phrases, made.rows, strict=True):
            word = _known(site, phrase.part.value)
            parts.setdefault(word, row.part)
            found.setdefault(word, {}).setdefault(head, []).append(row)
    rows = (_sheet_row(parts[word], found[word], general, heads) for word in sorted(found, key=_order(site, found)))
    return MarkSheet(heads, tuple(rows))


def _sheet_row(part: Link, said: Mapping[str, list[Row]], general: str, heads: tuple[str, ...]) -> SheetRow:
    own = any(head in said for head in heads)
    return SheetRow(
        part, tuple(said.get(general, ())), tuple(tuple(said.get(head, ())) for head in heads) if own else ()
    )


def _usual(text: str) -> str:
    """Give the usual words for a plumage that is written by others, so that each has one column."""
    plumage = read_plumage(text)
    return plumage.text if plumage else text


def _order(site: Site, found: Mapping[str, object]) -> Callable[[str], tuple[int, ...]]:
    """Order parts by evidence; those that the table does not know come last, as they are written."""
    last = {word: at for at, word in enumerate(found)}

    def key(word: str) -> tuple[int, ...]:
        part = site.guide.parts.find(word)
        return (0, *part.evidence_order) if part else (1, last[word])

    return key


def _recorded(species: Species) -> Mapping[str, None]:
    return dict.fromkeys(word for phrases in species.records.values() for word in phrases)


def missing(site: Site, species: Species) -> Missing:
    """Give what an account does not say yet: beside its look-alikes, and of what was looked at in vain."""
    # Entries are asked, not facts: a part more then costs the pages of its look-alikes, and not of every bird.
    has = _recorded(species)
    beside: dict[str, list[Link]] = {}
    for each in species.entry.similar:
        other = site.guide.by_code.get(each.code.value)
        for word in _recorded(other) if other else ():
            if word not in has and site.guide.parts.find(word):
                beside.setdefault(word, []).append(site.code(each.code.value))
    unsettled = tuple(
        (site.part(word), "" if plumage == ALL else plumage_named(site, plumage))
        for plumage, phrases in species.records.items()
        for word, phrase in phrases.items()
        if phrase.is_unknown
    )
    ordered = sorted(beside, key=_order(site, beside))
    return Missing(tuple((site.part(word), tuple(dict.fromkeys(beside[word]))) for word in ordered), unsettled)
