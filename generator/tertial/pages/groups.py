"""Several look-alikes in one table, how alike each two are, and a key to their plumages."""

from __future__ import annotations

from functools import partial
from itertools import combinations
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.grouping import Group, groups
from tertial.groups import key_to, likenesses
from tertial.marks.plumages import ALL
from tertial.marks.wanted import wanted_of_many
from tertial.pages.group_tables import GroupTable, Member, group_tables, member_of
from tertial.pages.naming import bird_named, group_named, plumage_named
from tertial.pages.plates import PlatesView, birds_plates
from tertial.pages.site import GROUPS, Link, Page, Site, account_path, group_path, pair_path
from tertial.side_by_side import in_plumages

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.groups import State
    from tertial.guide import Species
    from tertial.marks.key import Couplet, End, Lead

REASONS: Final = {
    "chosen": "Birds that the author compares together.",
    "flock": "Birds that keep company.",
    "genus": "Birds of one genus.",
}
_MOST_WANTED: Final = 8
"""A list for one walk."""

_CELL: Final = 30
"""Side of a square of the figure of likeness, in its own units; the largest mark fills it nearly."""


class LikenessCell(NamedTuple):
    """How alike two birds are."""

    value: str
    """Two decimals, or '' when too few marks are shared."""
    shared: int
    plumage: str
    address: str
    """The page of the pair, or ''."""
    side: float
    """Side of the square that stands for it."""


class LeadView(NamedTuple):
    """One answer of a couplet."""

    words: tuple[tuple[Link, ...], ...]
    to: int
    """The next couplet, or 0 at an end."""
    birds: tuple[Link, ...]
    """At an end, the plumages that remain."""
    missing: tuple[Link, ...]
    """Parts whose record would part them."""


class CoupletView(NamedTuple):
    """One question of the key."""

    number: int
    origin: int
    part: Link
    view: str
    leads: tuple[LeadView, LeadView]
    unrecorded: tuple[str, ...]


class GroupWanted(NamedTuple):
    """A record to make on the next walk."""

    code: Link
    plumage: str
    """The plumage, in words."""
    part: Link
    against: tuple[Link, ...]
    """The birds that it could part this one from."""


class GroupView(NamedTuple):
    """A group of look-alikes."""

    name: str
    reason: str
    members: tuple[Member, ...]
    tables: tuple[GroupTable, ...]
    likeness: tuple[tuple[LikenessCell | None, ...], ...]
    """For each bird its row, None on the diagonal; empty for two."""
    cell: int
    couplets: tuple[CoupletView, ...]
    rest: tuple[Link, ...]
    """Where no couplet could be made: the plumages that nothing parts."""
    plates: PlatesView
    """All at one scale."""
    wanted: tuple[GroupWanted, ...]
    """What to look at next time, the most helpful first."""


class GroupsView(NamedTuple):
    """All groups of the guide."""

    groups: tuple[tuple[Link, str, tuple[Member, ...]], ...]
    """Name and way, reason, and birds."""


def group_pages(site: Site) -> Iterator[Page]:
    """Give the page of every group, and the page that lists them."""
    found = groups(site.guide)
    for group in found:
        title = site.say("%(name)s, side by side", name=group_named(site, group))
        yield Page(group_path(group.slug), "group.html", title, "", partial(_group_view, site, group), group)
    if found:
        description = site.say("Look-alikes in groups, each with one table and a key.")
        yield Page(GROUPS, "groups.html", site.say("Groups and keys"), description, partial(_groups_view, site, found))


def _groups_view(site: Site, found: Sequence[Group]) -> GroupsView:
    return GroupsView(
        tuple(
            (
                Link(group_named(site, group), group_path(group.slug)),
                site.say(REASONS[group.reason]),
                tuple(member_of(site, each) for each in group.members),
            )
            for group in found
        )
    )


def _group_view(site: Site, group: Group) -> GroupView:
    key = key_to(site.guide, group.members, partial(bird_named, site))
    return GroupView(
        group_named(site, group),
        site.say(REASONS[group.reason]),
        tuple(member_of(site, each) for each in group.members),
        tuple(group_tables(site, group.members)),
        tuple(_likeness(site, group.members)) if len(group.members) > 2 else (),
        _CELL,
        tuple(_couplet(site, couplet) for couplet in key.couplets),
        () if key.couplets else tuple(_bird(site, item.name, item.label) for end in key.ends for item in end.items),
        birds_plates(site, group.members),
        tuple(_wanted(site, group.members)),
    )


def _likeness(site: Site, members: Sequence[Species]) -> Iterator[tuple[LikenessCell | None, ...]]:
    found = likenesses(site.guide, members)
    pages = {frozenset((pair.first.code, pair.second.code)): pair_path(pair) for pair in site.guide.pairs}
    for one in members:
        row: list[LikenessCell | None] = []
        for other in members:
            if one is other:
                row.append(None)
                continue
            alike, plumage = found.get((one.code, other.code)) or found[other.code, one.code]
            value = alike.value if alike.ranked and alike.value is not None else None
            row.append(
                LikenessCell(
                    site.wording.numbers(f"{value:.2f}") if value is not None else "",
                    alike.shared,
                    plumage_named(site, plumage),
                    pages.get(frozenset((one.code, other.code)), ""),
                    round((_CELL - 4) * (value or 0.0) ** 0.5, 1),
                )
            )
        yield tuple(row)


def _wanted(site: Site, members: Sequence[Species]) -> Iterator[GroupWanted]:
    pairs = (
        (first.code, second.code, in_plumages(site.guide, first, second)) for first, second in combinations(members, 2)
    )
    for each in wanted_of_many(pairs, site.guide.words)[:_MOST_WANTED]:
        plumage = site.say("in any plumage") if each.plumage == ALL else plumage_named(site, each.plumage)
        yield GroupWanted(site.code(each.bird), plumage, site.part(each.word), tuple(map(site.code, each.against)))


def _couplet(site: Site, couplet: Couplet[str, State]) -> CoupletView:
    first, second = couplet.leads
    return CoupletView(
        couplet.number,
        couplet.origin,
        site.part(couplet.mark),
        _seen(site, couplet.mark),
        (_lead(site, first), _lead(site, second)),
        tuple(item.label for item in couplet.unrecorded),
    )


def _seen(site: Site, word: str) -> str:
    """Say which view a part needs; nothing where any will do."""
    part = site.guide.parts.find(word)
    return site.say(part.view.heading).lower() if part and part.view.order else ""


def _lead(site: Site, lead: Lead[str, State]) -> LeadView:
    words = tuple(site.words(each) for each in lead.words)
    if isinstance(lead.to, int):
        return LeadView(words, lead.to, (), ())
    end: End[str, State] = lead.to
    return LeadView(
        words,
        0,
        tuple(_bird(site, item.name, item.label) for item in end.items),
        tuple(site.part(each.mark) for each in end.missing),
    )


def _bird(site: Site, name: str, label: str) -> Link:
    return Link(label, account_path(site.guide.by_code[name.split(maxsplit=1)[0]]))
