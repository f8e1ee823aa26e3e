"""The tables of a group: the parts of several birds in one plumage, with how many pairs each parts."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from tertial.groups import plumages_of
from tertial.marks.compare import ease_of, part_row
from tertial.marks.plumages import ALL
from tertial.marks.verdicts import Verdict
from tertial.pages.facts import sketch_view
from tertial.pages.marks import Said, method_of, said_phrases, verdict_style
from tertial.pages.naming import named, plumage_heading
from tertial.pages.site import METHOD, Link, Site, account_path
from tertial.side_by_side import described

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.guide import Species
    from tertial.marks.compare import PartRow
    from tertial.marks.plumages import Plumage
    from tertial.pages.pictures import PictureView


class Member(NamedTuple):
    """A bird of the group."""

    name: Link
    code: str
    sketch: PictureView | None


class GroupRow(NamedTuple):
    """One part of every bird."""

    part: Link
    parted: Link
    """How many pairs it parts, in words, and the way to what that means."""
    style: str
    cells: tuple[tuple[Said, ...], ...]
    """For each bird its phrases."""
    agreed: tuple[tuple[tuple[str, ...], tuple[Said, ...]], ...]
    """The same with each phrase once, after the codes of the birds it is written of; nothing written comes last."""


class GroupTable(NamedTuple):
    """The parts of one plumage."""

    heading: str
    id: str
    birds: tuple[Member, ...]
    """The birds that have the plumage."""
    rows: tuple[GroupRow, ...]
    """The parts that help to tell any two of them apart; the parts of both kinds are never none together."""
    rest: tuple[GroupRow, ...]
    """The parts that do not."""


def member_of(site: Site, species: Species) -> Member:
    """Gather what a group shows of a bird."""
    return Member(Link(named(site, species), account_path(species)), species.code, sketch_view(site, species))


def group_tables(site: Site, members: Sequence[Species]) -> Iterator[GroupTable]:
    """Give a table for what is written of all plumages, then one for each plumage that two birds or more have."""
    general = _table(site, members, ALL)
    if general.rows or general.rest:
        yield general
    for plumage in plumages_of(*members):
        having = [each for each in members if plumage in each.records]
        if plumage != ALL and len(having) > 1:
            table = _table(site, having, plumage)
            if table.rows or table.rest:
                yield table


def _table(site: Site, birds: Sequence[Species], plumage: Plumage) -> GroupTable:
    guide = site.guide
    sides = [described(guide, each, plumage) for each in birds]
    count = len(sides) * (len(sides) - 1) // 2
    rows = []
    for word in dict.fromkeys(word for side in sides for word in side.told):
        said = [side.said.get(word, ()) for side in sides]
        own = any(origin == plumage for phrases in said for _, origin in phrases)
        if own and sum(map(bool, said)) > 1:
            telling = [side for side in sides if side.told.get(word)]
            found = [part_row(word, *pair, guide.parts, guide.words) for pair in combinations(telling, 2)]
            settled = sum(row.verdict.settles for row in found)
            helped = sum(row.verdict is Verdict.HELPFUL for row in found)
            ease = min((row.ease for row in found), default=(*ease_of(guide.parts.find(word)), 0.0))
            rows.append(((-settled, -helped, *ease, word), word, said, settled, found))
    birds_shown = tuple(member_of(site, each) for each in birds)
    helpful: list[GroupRow] = []
    rest: list[GroupRow] = []
    for _, word, said, settled, found in sorted(rows, key=lambda row: row[0]):
        cells = tuple(said_phrases(site, phrases, plumage, word) for phrases in said)
        helps = any(row.verdict.rank <= Verdict.HELPFUL.rank for row in found)
        (helpful if helps else rest).append(
            GroupRow(
                site.part(word),
                _parted(site, settled, count, found),
                _style(settled, count, found),
                cells,
                _agreed(birds_shown, cells),
            )
        )
    heading, name = plumage_heading(site, plumage.text), plumage.text.replace(" ", "-")
    return GroupTable(heading, name, birds_shown, tuple(helpful), tuple(rest))


def _agreed(
    birds: Sequence[Member], cells: Sequence[tuple[Said, ...]]
) -> tuple[tuple[tuple[str, ...], tuple[Said, ...]], ...]:
    together: dict[tuple[Said, ...], list[str]] = {}
    for bird, cell in zip(birds, cells, strict=True):
        together.setdefault(cell, []).append(bird.code)
    ordered = sorted(together.items(), key=lambda item: not item[0])
    return tuple((tuple(codes), cell) for cell, codes in ordered)


def _parted(site: Site, settled: int, count: int, found: Sequence[PartRow]) -> Link:
    if count == 1:
        return method_of(site, _of_two(found))
    if not settled and any(row.verdict is Verdict.HELPFUL for row in found):
        return method_of(site, Verdict.HELPFUL)._replace(text=site.say("helps"))
    told = site.say("parts %(some)s of %(all)s pairs", some=settled, all=count)
    if settled in (0, count):
        told = site.say("parts all") if settled else site.say("parts none")
    return Link(told, f"{METHOD}#verdicts")


def _style(settled: int, count: int, found: Sequence[PartRow]) -> str:
    if count == 1:
        return verdict_style(_of_two(found))
    if settled == count:
        return verdict_style(Verdict.STRONG)
    helps = settled or any(row.verdict is Verdict.HELPFUL for row in found)
    return verdict_style(Verdict.HELPFUL if helps else Verdict.SHARED)


def _of_two(found: Sequence[PartRow]) -> Verdict:
    return found[0].verdict if found else Verdict.NOT_RECORDED
