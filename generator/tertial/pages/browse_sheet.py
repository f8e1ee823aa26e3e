"""The sorting-out sheet: what can be seen of a bird, part by part, in words that the accounts are read by.

Each state that some account names can be ticked, in the terms of the word lists: a shade that stands beside
its plain colour is not told apart from it. How it goes with every statement of the guide is worked
out here, so that the script of the page only looks up; the same sheet is printed and filled in by hand.
"""

from __future__ import annotations

import csv
import sys
from collections import Counter
from functools import cache, partial
from importlib.resources import files
from itertools import groupby
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from tertial.marks.clauses import clauses_of
from tertial.marks.fitting import Fit, fit_of
from tertial.marks.meaning import quality_words, question_of
from tertial.marks.statements import ABSENT, PRESENT, Aspect, Claim, Quality, Statement
from tertial.pages.browse_size import SizeQuestion, size_fits, size_question, sizes_of
from tertial.pages.naming import named
from tertial.pages.site import Link, account_path
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tertial.marks.describe import Told
    from tertial.marks.statements import Key
    from tertial.pages.browse_shelf import Json, Shelf, Shelved
from tertial.pages.site import Site

_SIGNS: Final = {Fit.FITS: "f", Fit.CONTRADICTS: "c", Fit.NOT_RECORDED: "n"}
"""How a fit is written in the data, a letter for each statement."""

OTHER: Final = "other"

_TOGETHER: Final = frozenset({Aspect.COLOUR, Aspect.PATTERN})
_TWO: Final = 2
_ODD: Final = frozenset({Aspect.NUMBER, Aspect.SHAPE, Aspect.MOVEMENT, Aspect.SOUND})
"""Aspects of which every account may speak in its own way."""


class Line(NamedTuple):
    """One respect in which a part is described."""

    key: int
    """Its number."""

    named: str
    """The question that it answers."""

    states: tuple[tuple[str, bool], ...]
    """What may be ticked, each with whether it is said in the language of the page; never empty."""


class PartLines(NamedTuple):
    """One part on the sheet."""

    part: Link
    """The part."""

    id: str
    """Its id on the page."""

    lines: tuple[Line, ...]
    """Its lines; never empty."""


class Group(NamedTuple):
    """Parts of one region."""

    first: tuple[PartLines, ...]
    """Those that nearly every bird is seen by."""

    others: tuple[PartLines, ...]
    """The rest, which a screen keeps folded."""


class Section(NamedTuple):
    """Parts of one kind of evidence."""

    named: str
    """The kind of evidence."""

    id: str
    """Its id on the page."""

    groups: tuple[Group, ...]
    """Its parts, region by region."""


class SheetView(NamedTuple):
    """The sheet and the birds beside it."""

    sections: tuple[Section, ...]
    """In the order of evidence."""

    size: SizeQuestion | None
    """The size beside a known bird, which comes before all; None where no account has one."""

    birds: tuple[tuple[Link, str], ...]
    """Every bird in list order: its name with the way to its account, and its code."""


class State(NamedTuple):
    """A state that may be ticked."""

    label: str
    """In the terms of the word lists."""

    seen: Statement
    """The same as a statement of one bird."""


States: TypeAlias = "Mapping[tuple[str, Key], tuple[State, ...]]"
"""What may be ticked, by part and key."""


def sheet_view(site: Site, shelf: Shelf, states: States) -> SheetView:
    """Gather what the page of the sheet shows."""
    parts = {
        part: PartLines(site.part(part), f"of-{shelf.id_of(part)}", lines)
        for part, keys in groupby(shelf.keys, key=lambda each: each[0])
        if (lines := tuple(_lines(shelf, [key for _, key in keys], part, states)))
    }
    sections = tuple(
        Section(
            site.say(label),
            slug_of(label),
            tuple(_group(parts, words) for _, words in groupby(of_label, key=partial(_region, site))),
        )
        for label, of_label in groupby(parts, key=partial(_evidence, site))
    )
    birds = tuple(
        (Link(named(site, bird.species), account_path(bird.species)), bird.species.code) for bird in shelf.birds
    )
    return SheetView(sections, size_question(site, shelf), birds)


def sheet_data(site: Site, shelf: Shelf, states: States) -> Json:
    """Give what the script of the sheet looks up.

    ``parts`` are words with the addresses that explain them, ``keys`` the number of the part of each key.
    ``fits`` has for each key and state a letter for every statement: f fits, c contradicts, n not recorded.
    ``birds`` are accounts as on the page that compares any birds, with the plumages that a bird can be in.
    ``quoted`` of a bird has for each of these and each of its triples the clause that says it, as a number of
    ``clauses``; the first of them is '', where the account is silent and the statement was only concluded.
    Behind the keys of parts come those of the known birds, from ``first size`` on; ``sizes`` has for each bird the
    number of its size, as of a statement, the words that say so and their language, or null.
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
    known: dict[tuple[int, int], int] = {}
    birds: list[Json] = [
        {"apart": bird.apart, "account": shelf.account(bird), "quoted": _quoted(bird, clauses, known)}
        for bird in shelf.birds
    ]
    beside = size_fits(site, _SIGNS.__getitem__)
    fits.update((str(key), states) for key, states in enumerate(beside, len(shelf.keys)))
    parts: list[Json] = [*(shelf.parts[part] for part, _ in shelf.keys), *(len(shelf.parts) for _ in beside)]
    return {
        "parts": [list(site.part(part)) for part in (*shelf.parts, "size")],
        "keys": parts,
        "first size": len(shelf.keys),
        "sizes": list(sizes_of(site, shelf)),
        "fits": fits,
        "birds": birds,
        "clauses": list(clauses),
    }


def _quoted(bird: Shelved, clauses: dict[str, int], known: dict[tuple[int, int], int]) -> list[Json]:
    """Number the clauses of each plumage, in the order of its triples.

    :param known: numbers by the identity of phrase and statement: to hash a phrase again would cost more.
    """

    def number(told: Told) -> int:
        asked = id(told.reading), id(told.statement)
        if asked not in known:
            known[asked] = clauses.setdefault(clauses_of(told.reading, told.statement), len(clauses))
        return known[asked]

    return [[number(each) for keys in bird.plumages[at].told.values() for each in keys.values()] for at in bird.apart]


def _lines(shelf: Shelf, keys: list[Key], part: str, states: States) -> Iterator[Line]:
    for key in keys:
        if states[part, key]:
            is_ours = key.aspect is Aspect.PRESENCE
            labels = tuple((_label(shelf.site, state, is_ours=is_ours), is_ours) for state in states[part, key])
            yield Line(shelf.keys[part, key], question_of(key, shelf.site.wording), labels)


def _label(site: Site, state: State, *, is_ours: bool) -> str:
    if not is_ours:
        return state.label
    return site.say("present") if state.label == PRESENT else site.say("absent")


def _group(parts: Mapping[str, PartLines], words: Iterable[str]) -> Group:
    of_region = tuple(words)
    first = tuple(parts[word] for word in of_region if word in load_first())
    return Group(first, tuple(parts[word] for word in of_region if word not in load_first()))


@cache
def load_first() -> frozenset[str]:
    """Read which parts the sheet shows at once."""
    text = files("tertial.pages").joinpath("data", "first-parts.csv").read_text(encoding="utf-8")
    return frozenset(row["part"] for row in csv.DictReader(text.splitlines(), strict=True))


def _region(site: Site, part: str) -> str:
    known = site.guide.parts.find(part)
    return known.region.word if known else OTHER


def _evidence(site: Site, part: str) -> str:
    known = site.guide.parts.find(part)
    return known.region.evidence.label if known else OTHER


def states_of_sheet(shelf: Shelf) -> States:
    """Give for each part and key what may be ticked; nothing where no account names a state.

    What one account alone says in one way of a number, a form, a place or a habit sorts nothing.
    """
    naming = Counter(key for bird in shelf.birds for key in _named_by(bird))
    found = {(part, key): tuple(_of_key(key, statements)) for (part, key), statements in shelf.statements.items()}
    return {
        (part, key): () if len(states) == 1 and _is_odd(key, naming[part, key]) else states
        for (part, key), states in found.items()
    }


def _is_odd(key: Key, accounts: int) -> bool:
    """Whether a single state is no question: one account's own, or an amount such as few without another."""
    own = accounts == 1 and (key.where or key.aspect in _ODD)
    return bool(own or (key.aspect is Aspect.NUMBER and key.facet))


def _named_by(bird: Shelved) -> set[tuple[str, Key]]:
    """Give what one account names a state of, in whatever plumage."""
    return {
        (part, key)
        for described in bird.plumages
        for part, told in described.told.items()
        for key, each in told.items()
        if not each.statement.implied
    }


def _of_key(key: Key, statements: Iterable[Statement]) -> Iterator[State]:
    """Give every state that some account names, denied ones included, in the terms of the word lists."""
    named = {
        qualities
        for each in statements
        if not each.implied
        for claim in each.claims
        for qualities in _terms(key.aspect, claim.qualities)
    }
    if key.aspect is Aspect.PRESENCE and named:
        named = {(Quality(word),) for word in (PRESENT, ABSENT)}
    if key.aspect is Aspect.COLOUR:
        named = {each for each in named if len(each) > 1 or not each[0].shades or (Quality(each[0].word),) not in named}
    for qualities in sorted(named, key=_in_order):
        label = " and ".join(map(quality_words, qualities))
        yield State(label, Statement(key, (Claim(qualities, 1.0),), stated=True))


def _terms(aspect: Aspect, qualities: tuple[Quality, ...]) -> tuple[tuple[Quality, ...], ...]:
    """Keep two colours or patterns together; of anything else a reader ticks single terms."""
    if aspect in _TOGETHER and len(qualities) <= _TWO:
        return (qualities,)
    return tuple((quality,) for quality in qualities)


def _in_order(qualities: tuple[Quality, ...]) -> tuple[int, str]:
    """Sort figures by what they come to, before words."""
    label = " and ".join(map(quality_words, qualities))
    return (int(label) if label.isdecimal() else sys.maxsize, label)
