"""The sorting-out sheet: what can be seen of a bird, part by part, in words that the accounts use.

Each state that some account names can be ticked. How it goes with every statement of the guide is worked
out here, so that the script of the page only looks up; the same sheet is printed and filled in by hand.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Final, TypeAlias

from tertial.marks.clauses import clauses_of
from tertial.marks.fitting import Fit, fit_of
from tertial.marks.statements import ABSENT, PRESENT, Aspect, Claim, Quality, Statement
from tertial.pages.browse_shelf import key_named
from tertial.pages.naming import named
from tertial.pages.site import Link, account_path
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tertial.marks.statements import Key, Reading
    from tertial.pages.browse_shelf import Json, Shelf, Shelved
from tertial.pages.site import Site

_SIGNS: Final = {Fit.FITS: "f", Fit.CONTRADICTS: "c", Fit.NOT_RECORDED: "n"}
"""How a fit is written in the data, a letter for each statement."""

OTHER: Final = "other"


@dataclass(frozen=True, slots=True)
class Line:
    """One respect in which a part is described."""

    key: int
    """Its number."""

    named: str
    """The aspect and place."""

    states: tuple[str, ...]
    """What may be ticked; never empty."""


@dataclass(frozen=True, slots=True)
class PartLines:
    """One part on the sheet."""

    part: Link
    """The part."""

    id: str
    """Its id on the page."""

    lines: tuple[Line, ...]
    """Its lines; never empty."""


@dataclass(frozen=True, slots=True)
class Section:
    """Parts of one kind of evidence."""

    named: str
    """The kind of evidence."""

    id: str
    """Its id on the page."""

    parts: tuple[PartLines, ...]
    """Its parts."""


@dataclass(frozen=True, slots=True)
class SheetView:
    """The sheet and the birds beside it."""

    sections: tuple[Section, ...]
    """In the order of evidence."""

    birds: tuple[tuple[Link, str], ...]
    """Every bird in list order: its name with the way to its account, and its code."""


@dataclass(frozen=True, slots=True)
class State:
    """A state that may be ticked."""

    label: str
    """In the words of the accounts."""

    seen: Statement
    """The same as a statement of one bird."""


States: TypeAlias = "Mapping[tuple[str, Key], tuple[State, ...]]"
"""What may be ticked, by part and key."""


def sheet_view(site: Site, shelf: Shelf, states: States) -> SheetView:
    """Gather what the page of the sheet shows."""
    parts = [
        (_evidence(site, part), PartLines(site.part(part), f"of-{slug_of(part)}", lines))
        for part, keys in groupby(shelf.keys, key=lambda each: each[0])
        if (lines := tuple(_lines(shelf, [key for _, key in keys], part, states)))
    ]
    sections = tuple(
        Section(site.say(label), slug_of(label), tuple(lines for _, lines in group))
        for label, group in groupby(parts, key=lambda each: each[0])
    )
    birds = tuple(
        (Link(named(site, bird.species), account_path(bird.species)), bird.species.code) for bird in shelf.birds
    )
    return SheetView(sections, birds)


def sheet_data(site: Site, shelf: Shelf, states: States) -> Json:
    """Give what the script of the sheet looks up.

    ``parts`` are words with the addresses that explain them, ``keys`` the number of the part of each key.
    ``fits`` has for each key and state a letter for every statement: f fits, c contradicts, n not recorded.
    ``birds`` are accounts as on the page that compares any birds, with the plumages that a bird can be in.
    ``quoted`` of a bird has for each of these and each of its triples the clause that says it, as a number of
    ``clauses``; the first of them is '', where the account is silent and the statement was only concluded.
    """
    words = shelf.guide.words
    fits: dict[str, Json] = {
        str(at): [
            "".join(_SIGNS[fit_of(state.seen, told, words)] for told in shelf.statements[key]) for state in states[key]
        ]
        for key, at in shelf.keys.items()
        if states[key]
    }
    clauses: dict[str, int] = {"": 0}
    birds: list[Json] = [
        {"apart": bird.apart, "account": shelf.account(bird), "quoted": _quoted(bird, clauses)} for bird in shelf.birds
    ]
    parts: list[Json] = [shelf.parts[part] for part, _ in shelf.keys]
    return {
        "parts": [list(site.part(part)) for part in shelf.parts],
        "keys": parts,
        "fits": fits,
        "birds": birds,
        "clauses": list(clauses),
    }


def _quoted(bird: Shelved, clauses: dict[str, int]) -> list[Json]:
    """Number the clauses of each plumage, in the order of its triples."""
    return [
        [
            clauses.setdefault(clauses_of(each.reading, each.statement), len(clauses))
            for keys in bird.plumages[at].told.values()
            for each in keys.values()
        ]
        for at in bird.apart
    ]


def _lines(shelf: Shelf, keys: list[Key], part: str, states: States) -> Iterator[Line]:
    shown = [key for key in keys if states[part, key]]
    for key in shown:
        labels = tuple(state.label for state in states[part, key])
        yield Line(shelf.keys[part, key], key_named(shelf.site.wording, key, shown), labels)


def _evidence(site: Site, part: str) -> str:
    known = site.guide.parts.find(part)
    return known.region.evidence.label if known else OTHER


def states_of_sheet(shelf: Shelf) -> States:
    """Give for each part and key what may be ticked; nothing where no account names a state."""
    wordings = _wordings(shelf)
    return {
        (part, key): tuple(_of_key(key, statements, wordings.get(part, {})))
        for (part, key), statements in shelf.statements.items()
    }


def _of_key(key: Key, statements: Iterable[Statement], wordings: Mapping[str, Counter[str]]) -> Iterator[State]:
    """Give every state that some account names, denied ones included; of one label the first."""
    named = [claim.qualities for each in statements if not each.implied for claim in each.claims]
    if key.aspect is Aspect.PRESENCE and named:
        named = [(Quality(word),) for word in (PRESENT, ABSENT)]
    found = dict(sorted(((_label(qualities, wordings), qualities) for qualities in named), reverse=True))
    for label in sorted(found, key=lambda label: (label.casefold(), label)):
        yield State(label, Statement(key, (Claim(found[label], 1.0),), stated=True))


def _label(qualities: Iterable[Quality], wordings: Mapping[str, Counter[str]]) -> str:
    def worded(word: str) -> str:
        counted = wordings.get(word)
        return min(counted, key=lambda text: (-counted[text], text)) if counted else word

    return " and ".join(" ".join(worded(word) for word in (*quality.shades, quality.word)) for quality in qualities)


def _wordings(shelf: Shelf) -> dict[str, dict[str, Counter[str]]]:
    """Count how the accounts word each meaning, part by part; a phrase counts once for each account."""
    readings: dict[tuple[str, str], Reading] = {}
    written: Counter[tuple[str, str]] = Counter()
    for bird in shelf.birds:
        own = {
            (part, reading.text): reading
            for described in bird.plumages
            for part, each in described.said.items()
            for reading, _ in each
        }
        readings.update(own)
        written.update(own.keys())
    found: dict[str, dict[str, Counter[str]]] = {}
    for (part, text), accounts in written.items():
        for piece in readings[part, text].pieces:
            if piece.meaning:
                counted = found.setdefault(part, {}).setdefault(piece.meaning, Counter())
                counted[text[piece.start : piece.end].casefold()] += accounts
    return found
