"""The answer to ``tertial key``: couplets that lead to a plumage, in the authors' own words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tertial.answers.columns import indented, usable
from tertial.answers.comparing_json import as_json
from tertial.answers.finding import Missing, find_species
from tertial.grouping import groups
from tertial.groups import key_to
from tertial.names.fold import fold
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.groups import GroupKey, State
    from tertial.guide import Guide, Species
    from tertial.marks.key import Couplet, End, Lead


def find_group(guide: Guide, asked: str) -> tuple[Species, ...]:
    """Find the birds of a group of the guide by its name in any spelling: a chosen one, a flock or a genus.

    A genus goes by its name alone as well, and has not to have a page of its own. Empty where there is no such
    group, or where only one bird of the genus has an account.
    """
    found = groups(guide)
    own = next((each for each in found if each.name.casefold() == asked.casefold()), None)
    # A name without Latin letters or figures has the slug of any other such name.
    slug = slug_of(asked) if fold(asked) else None
    group = own or next((each for each in found if slug in (each.slug, slug_of(each.name))), None)
    if group:
        return group.members
    birds = _of_genus(guide, asked)
    return birds if len(birds) > 1 else ()


def _of_genus(guide: Guide, asked: str) -> tuple[Species, ...]:
    genera = ((each, each.scientific.partition(" ")[0]) for each in guide.species if each.scientific)
    return tuple(each for each, genus in genera if fold(asked) in (fold(genus), fold(f"the genus {genus}")))


def why_no_key(guide: Guide, asked: str) -> str:
    """Tell why one word leads to no key: it means one bird, or none and no group either."""
    found = find_species(guide, asked)
    if not isinstance(found, Missing):
        return f"{asked!r} is one account, {found.code} {found.name}; name two or more, or a group"
    if _of_genus(guide, asked):
        return f"{asked!r} is a genus with one account; name two or more"
    named = ", ".join(each.name for each in groups(guide))
    return f"{found.reason}, and is no group" + (f"; the groups are {named}" if named else "")


def key_as_text(guide: Guide, members: Sequence[Species], columns: int) -> str:
    """Write the key to some birds for a terminal of so many columns."""
    return "".join(f"{line}\n" for line in _lines(key_to(guide, members), members, usable(columns)))


def _lines(key: GroupKey, members: Sequence[Species], width: int) -> Iterator[str]:
    yield from indented(f"A key to {', '.join(f'{each.code} {each.name}' for each in members)}", width, "", "  ")
    if not key.couplets:
        yield ""
        yield from indented("Nothing that is recorded parts these plumages nearly always.", width)
        for end in key.ends:
            yield from indented(_end(end), width, "  ", "  ")
    for couplet in key.couplets:
        yield ""
        origin = f" (from {couplet.origin})" if couplet.origin else ""
        view = f"; view: {couplet.view}" if couplet.view else ""
        head = f"{couplet.mark}{view}{origin}"
        yield from indented(head, width, f"{couplet.number:3}  ", "     ")
        for lead in couplet.leads:
            yield from indented(f"{' / '.join(lead.words)}: {_to(lead)}", width, "     - ", "       ")
        if couplet.unrecorded:
            names = "; ".join(item.label for item in couplet.unrecorded)
            yield from indented(f"not recorded, and so in both: {names}", width, "       ", "       ")


def _to(lead: Lead[str, State]) -> str:
    return f"go to {lead.to}" if isinstance(lead.to, int) else _end(lead.to)


def _end(end: End[str, State]) -> str:
    names = "; ".join(item.label for item in end.items)
    if len(end.items) == 1:
        return names
    record = ", ".join(wanted.mark for wanted in end.missing)
    return f"not parted: {names}" + (f" (worth recording: {record})" if record else "")


def key_as_json(guide: Guide, members: Sequence[Species]) -> str:
    """Write the key as a JSON text."""
    key = key_to(guide, members)
    return as_json(
        {
            "birds": [{"code": each.code, "name": each.name} for each in members],
            "couplets": [_couplet(each) for each in key.couplets],
            "ends": [_end_value(each) for each in key.ends],
        }
    )


def _couplet(couplet: Couplet[str, State]) -> dict[str, Any]:
    return {
        "number": couplet.number,
        "from": couplet.origin or None,
        "part": couplet.mark,
        "view": couplet.view,
        "leads": [
            {
                "phrases": lead.words,
                "plumages": [item.label for item in lead.items],
                "to": lead.to if isinstance(lead.to, int) else None,
                "end": None if isinstance(lead.to, int) else _end_value(lead.to),
            }
            for lead in couplet.leads
        ],
        "not recorded": [item.label for item in couplet.unrecorded],
    }


def _end_value(end: End[str, State]) -> dict[str, Any]:
    return {
        "plumages": [item.label for item in end.items],
        "worth recording": [{"part": wanted.mark, "of": wanted.lacking} for wanted in end.missing],
    }
