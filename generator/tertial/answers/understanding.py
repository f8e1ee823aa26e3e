"""The answer to ``tertial read``: what was understood of every phrase of an account, and what was not.

An author sees at once which words count in comparisons. Nothing is judged here; that is for the checks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from tertial.account_values import phrases
from tertial.answers.columns import indented, usable
from tertial.answers.comparing_json import as_json, bird, statement_value
from tertial.marks.meaning import key_words, left_words, says_nothing, told
from tertial.side_by_side import described, readings

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tertial.guide import Guide, Species
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Key, Reading

NOTHING = "nothing to compare"
"""What is said of a phrase without a statement."""


class PhraseRead(NamedTuple):
    """One phrase."""

    part: str
    """The preferred word of its part, or the author's own."""

    line: int
    """Its line in the file, from 1."""

    reading: Reading
    """What was understood."""


class TakenOver(NamedTuple):
    """What a plumage takes over from a more general one."""

    part: str
    """The part."""

    origin: Plumage
    """The plumage it was written for."""

    keys: tuple[Key, ...]
    """The respects, in which the plumage itself says nothing."""


class PlumageRead(NamedTuple):
    """One plumage of an account."""

    plumage: Plumage
    """The plumage."""

    phrases: tuple[PhraseRead, ...]
    """What is written of it, in the order of evidence."""

    taken_over: tuple[TakenOver, ...]
    """What it takes over besides."""


class AccountRead(NamedTuple):
    """An account."""

    species: Species
    """The account."""

    plumages: tuple[PlumageRead, ...]
    """Its plumages, in display order."""


def read_account(guide: Guide, species: Species) -> AccountRead:
    """Gather what was understood of an account."""
    found = []
    places = phrases(species)
    read = readings(guide, species)
    for plumage in sorted(read, key=lambda each: each.order):
        here = tuple(
            PhraseRead(
                part,
                species.entry.source.position(places[plumage][part].span.start).line,
                read[plumage][part],
            )
            for part in guide.parts_in_order(read[plumage])
        )
        if here:
            found.append(PlumageRead(plumage, here, tuple(_taken_over(guide, species, plumage))))
    return AccountRead(species, tuple(found))


def _taken_over(guide: Guide, species: Species, plumage: Plumage) -> Iterator[TakenOver]:
    told_here = described(guide, species, plumage).told
    for part in guide.parts_in_order(told_here):
        keys: dict[Plumage, dict[Key, None]] = {}
        for key, each in told_here[part].items():
            if each.origin != plumage and not each.statement.implied:
                keys.setdefault(each.origin, {})[key._replace(facet="")] = None
        for origin, of_origin in keys.items():
            yield TakenOver(part, origin, tuple(of_origin))


def accounts_as_text(accounts: Iterable[AccountRead], columns: int) -> str:
    """Write what was understood for a terminal of so many columns."""
    return "\n".join("".join(f"{line}\n" for line in _lines(each, usable(columns))) for each in accounts)


def _lines(account: AccountRead, width: int) -> Iterator[str]:
    species = account.species
    yield from indented(f"{species.name}, {species.entry.source.path}", width, f"{species.code}  ", "      ")
    if not account.plumages:
        yield "  no phrases are written"
    for plumage in account.plumages:
        yield ""
        yield plumage.plumage.text
        for phrase in plumage.phrases:
            yield from indented(f"{phrase.part}: {phrase.reading.text}", width, f"{phrase.line:5}  ", " " * 9)
            yield from _understood(phrase.reading, width)
        for origin, parts in _by_origin(plumage.taken_over):
            yield from indented(f"from {origin}: {'; '.join(parts)}", width, "       ", " " * 9)


def _understood(reading: Reading, width: int) -> Iterator[str]:
    if says_nothing(reading):
        yield from indented(NOTHING, width, " " * 11, " " * 13)
    for name, states in told(reading):
        yield from indented(f"{name}: {states}", width, " " * 11, " " * 13)
    for word, near in left_words(reading):
        meant = f" (near it: {', '.join(near)})" if near else ""
        yield from indented(f"not understood: {word}{meant}", width, " " * 11, " " * 13)


def _by_origin(taken_over: Iterable[TakenOver]) -> Iterator[tuple[str, list[str]]]:
    found: dict[str, list[str]] = {}
    for each in taken_over:
        respects = ", ".join(dict.fromkeys(str(key.aspect) for key in each.keys))
        found.setdefault(each.origin.text, []).append(f"{each.part} ({respects})")
    yield from found.items()


def accounts_as_json(accounts: Iterable[AccountRead]) -> str:
    """Write what was understood as a JSON text."""
    return as_json({"accounts": [_account(each) for each in accounts]})


def _account(account: AccountRead) -> dict[str, Any]:
    return {
        **bird(account.species),
        "plumages": [
            {
                "plumage": plumage.plumage.text,
                "phrases": [_phrase(account, phrase) for phrase in plumage.phrases],
                "taken over": [
                    {"part": each.part, "from": each.origin.text, "respects": [key_words(key) for key in each.keys]}
                    for each in plumage.taken_over
                ],
            }
            for plumage in account.plumages
        ],
    }


def _phrase(account: AccountRead, phrase: PhraseRead) -> dict[str, Any]:
    return {
        "part": phrase.part,
        "phrase": phrase.reading.text,
        "file": account.species.entry.source.path,
        "line": phrase.line,
        "statements": [
            {
                "aspect": each.key.aspect,
                "place": each.key.where,
                "implied": each.implied,
                **statement_value(each),
            }
            for each in phrase.reading.statements
        ],
        "not understood": [{"words": word, "near": near} for word, near in left_words(phrase.reading)],
    }
