"""One file to one entry: finds the kind, hands the rest to that kind's module."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING, Final, TypeAlias

from tertial.entries import flock, outing, place, species, unknown
from tertial.entries.fields import Reading
from tertial.entries.flock import FlockEntry, read_flock
from tertial.entries.outing import OutingEntry, read_outing
from tertial.entries.place import PlaceEntry, read_place
from tertial.entries.species import SpeciesEntry, read_species
from tertial.entries.unknown import UnknownEntry, read_unknown
from tertial.text.front import split_front
from tertial.text.nodes import Scalar
from tertial.text.problem import Problem, Severity
from tertial.text.source import Span
from tertial.text.yamlread import read_front

if TYPE_CHECKING:
    from tertial.text.nodes import Mapping, Pair
    from tertial.text.source import SourceText

Entry: TypeAlias = SpeciesEntry | FlockEntry | OutingEntry | PlaceEntry | UnknownEntry

_READERS: Final = {
    "species": read_species,
    "flock": read_flock,
    "outing": read_outing,
    "place": read_place,
    "unknown": read_unknown,
}

KINDS: Final = tuple(_READERS)
"""The keys that name a kind of entry, in the order in which messages list them."""

FIELD_TABLES: Final = {
    "species": species.FIELDS,
    "flock": flock.FIELDS,
    "outing": outing.FIELDS,
    "place": place.FIELDS,
    "unknown": unknown.FIELDS,
}
"""The field table of each kind."""

_TOPS: Final = frozenset(each.key for fields in FIELD_TABLES.values() for each in fields)


def read_entry(source: SourceText) -> tuple[Entry | None, tuple[Problem, ...]]:
    """Read one entry.

    :returns: the entry, or None when nothing can be made of the file, and every problem in it.
        Problems of the file alone; what concerns other entries is for the checks.
    """
    parts, problems = split_front(source)
    front, more = read_front(source, parts.front, _TOPS)
    reading = Reading(source, [*problems, *more])
    entry: Entry | None = None
    pair = _kind(reading, front)
    if pair is not None:
        front = _without_other_kinds(reading, front, pair)
        entry = _READERS[pair.key.text](reading, front, parts.body)
        if entry is None:
            _say_why(reading, pair)
    return entry, tuple(reading.problems)


def _say_why(reading: Reading, pair: Pair) -> None:
    """Say why there is no entry: without a name, or a day for an outing, there can be no page."""
    if isinstance(pair.value, Scalar) and pair.value.is_empty:
        name = "date" if pair.key.text == "outing" else "name"
        message = f"the {pair.key.text} has no {name}"
        reading.say("no-name", pair.key.span, message, f"write the {name} after {pair.key.text}:", Severity.ERROR)
    else:
        # What is wrong with it has been said; as the whole entry hangs on it, it weighs more.
        reading.problems[:] = [
            each._replace(severity=Severity.ERROR) if each.span == pair.value.span else each
            for each in reading.problems
        ]


def _kind(reading: Reading, front: Mapping) -> Pair | None:
    """Find the key that names the kind; it should be the first, and only one."""
    found = [pair for pair in front.pairs if pair.key.text in KINDS]
    # An outing and an unknown bird name their place as well; only at the top is it a kind of entry.
    found.sort(key=lambda pair: pair.key.text == "place" and pair is not front.pairs[0])
    if found and not (found[0].key.text == "place" and _near_kind(front.pairs[0].key.text)):
        if found[0] is not front.pairs[0]:
            message = f"{found[0].key.text!r} names the kind of entry but does not come first"
            mend = "move this line to the top of the front matter"
            reading.say("kind-not-first", found[0].key.span, message, mend)
        return found[0]
    if front.pairs:
        first = front.pairs[0].key
        message = f"the front matter begins with {first.text!r}; one of {', '.join(KINDS)} was expected"
        near = _near_kind(first.text)
        mend = f"write {near!r}" if near else "begin with the kind and name, as in species: Hairy Woodpecker"
        reading.say("no-kind", first.span, message, mend, Severity.ERROR)
    elif not any(problem.severity is Severity.ERROR for problem in reading.problems):
        message = "the front matter is empty; the kind and name were expected"
        # Nothing stands between the fences that could be pointed at, so the opening one is.
        reading.say("no-kind", Span(0, 3), message, "write species: and the bird's name", Severity.ERROR)
    return None


def _without_other_kinds(reading: Reading, front: Mapping, kind: Pair) -> Mapping:
    """Say which keys begin another kind of entry, and take them out, lest each be held for a slip of the pen."""
    own = {each.key for each in FIELD_TABLES[kind.key.text]}
    others = [pair for pair in front.pairs if pair.key.text in KINDS and pair.key.text not in own]
    for pair in others:
        message = f"{pair.key.text!r} names another kind of entry than {kind.key.text!r}; one kind was expected"
        mend = "take the line out, or make it the first of a file of its own"
        reading.say("unknown-key", pair.key.span, message, mend)
    return front._replace(pairs=tuple(pair for pair in front.pairs if pair not in others)) if others else front


def _near_kind(key: str) -> str:
    """Give the kind that a key is a slip of the pen for, or ''; a key that some entry may have is none."""
    if any(key == each.key for fields in FIELD_TABLES.values() for each in fields):
        return ""
    return next(iter(get_close_matches(key.casefold(), KINDS, n=1)), "")
