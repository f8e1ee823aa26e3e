"""What a build leaves for the next one: of every entry and every piece of work, what need not be done again.

Kept in one file, as plain values. It speaks of one state of all files that have a say in the guide; what
holds for them all (program, settings, layouts, pictures) must be as it was, or nothing kept is of use.
Of the entries each stands for itself.
"""

from __future__ import annotations

import marshal
import time
from dataclasses import dataclass, field, fields
from typing import TYPE_CHECKING, Any, Final, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Collection
    from pathlib import Path

    from tertial.text.quoting import Packed
    from tertial.unchanged import Seen, State

_FILE: Final = "kept"
_FORM: Final = 3
_TICK: Final = 100_000_000
"""Nanoseconds in which two saves of one length might carry the same time."""
_NO_STAMP: Final = (-2, -2)
"""Size and time that no file has."""


class KeptEntry(NamedTuple):
    """What is kept of an entry."""

    front: bytes
    """Digest of its front matter."""

    text: bytes
    """Digest of all of it."""

    head: tuple[Any, ...] | None
    """Its head, or None if the file holds no entry."""

    packed_facts: bytes
    """Its facts by name; few are asked for, and to unpack those of a thousand entries takes longer than to read ten."""

    problems: tuple[Packed, ...]
    """What was found while reading it."""

    def facts(self) -> dict[str, Any]:
        """Unpack its facts."""
        facts: dict[str, Any] = marshal.loads(self.packed_facts)
        return facts


class KeptWork(NamedTuple):
    """What is kept of a piece of work: a page, or a judgement."""

    fronts: tuple[str, ...]
    """Paths of the entries whose front matter it asked for."""

    texts: tuple[str, ...]
    """Paths of those whose text it asked for."""

    facts: tuple[str, ...]
    """Names of the facts that it asked for."""

    problems: tuple[Packed, ...] = ()
    """What it found, of a judgement."""

    room: str = ""
    """The module that makes it, of a page."""


@dataclass(frozen=True, slots=True)
class Ledger:
    """All that is kept of one build."""

    state: State = field(default_factory=dict)
    """Every file that had a say in it."""

    output: State = field(default_factory=dict)
    """Every file of the finished guide."""

    entries: dict[str, KeptEntry] = field(default_factory=dict)
    """Entries by path."""

    works: dict[str, KeptWork] = field(default_factory=dict)
    """Pieces of work by name."""

    pictures: dict[str, Any] = field(default_factory=dict)
    """Published pictures."""

    mentions: tuple[Any, ...] = ()
    """How texts name the parts of a bird."""


def read_ledger(work: Path, seen: Seen, entries: Collection[str]) -> Ledger:
    """Read what the last build left.

    :param work: the folder for what is kept.
    :param seen: the present state of all files that have a say, and of the finished guide.
    :param entries: paths of the entry files: they may have changed, everything else must be as it was.
    :returns: the ledger; an empty one where it is of no use.
    """
    try:
        form, *values = marshal.loads((work / _FILE).read_bytes())
        state, output, kept, works, pictures, mentions = values
    except (OSError, EOFError, ValueError, TypeError):
        return Ledger()
    now, built = seen
    if form != _FORM or output != built:
        return Ledger()
    own = frozenset(entries)
    if any(state.get(name) != stamp for name, stamp in now.items() if name not in own):
        return Ledger()
    if any(name not in now and name not in kept for name in state):
        return Ledger()
    return Ledger(
        state,
        output,
        {path: KeptEntry(*each) for path, each in kept.items()},
        {name: KeptWork(*each) for name, each in works.items()},
        pictures,
        mentions,
    )


def write_ledger(work: Path, ledger: Ledger) -> None:
    """Keep a ledger, whole or not at all."""
    plain = [getattr(ledger, each.name) for each in fields(ledger)]
    plain[2] = {path: tuple(each) for path, each in ledger.entries.items()}
    plain[3] = {name: tuple(each) for name, each in ledger.works.items()}
    part = work / f"{_FILE}.part"
    part.write_bytes(marshal.dumps((_FORM, *plain)))
    part.replace(work / _FILE)


def settled(state: State) -> State:
    """Give no stamp to files that changed this very moment: another save of their length could look the same.

    They stay in the state, so that it is noticed when they go.
    """
    limit = time.time_ns() - _TICK
    return {name: stamp if stamp[1] < limit else _NO_STAMP for name, stamp in state.items()}
