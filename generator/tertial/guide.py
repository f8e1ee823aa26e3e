"""The guide: every entry of a folder, loaded and linked. The one object that later rooms read.

Loading never fails for what an author wrote: problems are kept beside the entries, and what could
be read is there. Nothing is judged here beyond the linking itself; that is for the checks.
"""

from __future__ import annotations

import os
import unicodedata
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from tertial.marks.parts import Evidence, PartTable
from tertial.names.birds import Bird, NameList, Scheme, load_names
from tertial.text.prose import Reference, references

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tertial.entries.flock import FlockEntry
    from tertial.entries.load import Entry
    from tertial.entries.outing import OutingEntry
    from tertial.entries.pictures import Picture
    from tertial.entries.place import PlaceEntry
    from tertial.entries.settings import Settings
    from tertial.entries.species import SpeciesEntry
    from tertial.entries.unknown import UnknownEntry
    from tertial.entries.values import NamedMeasure, Phrase
    from tertial.marks.plumages import Plumage
    from tertial.marks.words import Words
    from tertial.text.problem import Problem
    from tertial.text.source import SourceText


@dataclass(frozen=True, slots=True)
class Species:
    """A species account with what the lists and tables know of it."""

    entry: SpeciesEntry
    """What the author wrote."""

    bird: Bird | None
    """The list's row, when the name leads to exactly one."""

    code: str
    """The code in force: the author's, else the list's, else the one derived from the name."""

    slug: str
    """File name of its page, without ending; unique among species."""

    records: Mapping[Plumage, Mapping[str, Phrase]]
    """Phrases by plumage and part, for plumages that are understood; a part that is not known
    stands under the author's own word for it."""

    measures: Mapping[Plumage, Mapping[str, NamedMeasure]]
    """Measures likewise."""

    @property
    def name(self) -> str:
        """English name as the author writes it."""
        return self.entry.name.value

    @property
    def scientific(self) -> str:
        """Scientific name, the author's before the list's; '' when neither gives one."""
        if self.entry.scientific:
            return self.entry.scientific.value
        return self.bird.scientific if self.bird else ""

    @property
    def list_order(self) -> tuple[int, str]:
        """Key for list order; birds outside the list come last, by name."""
        sequence = self.bird.sequence if self.bird else None
        return (sequence if sequence is not None else 1_000_000, self.name)


@dataclass(frozen=True, slots=True)
class Flock:
    """A flock account."""

    entry: FlockEntry
    """What the author wrote."""

    slug: str
    """File name of its page, without ending; unique among flocks."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place with its page."""

    entry: PlaceEntry
    """What the author wrote."""

    slug: str
    """Its id, or one made of its name; unique among places."""


@dataclass(frozen=True, slots=True)
class Outing:
    """An outing with its place."""

    entry: OutingEntry
    """What the author wrote."""

    slug: str
    """Its date, and a number where a day had several."""

    place: Place | None
    """Where it went, when that place has an entry."""


@dataclass(frozen=True, slots=True)
class Unsolved:
    """A bird that could not be named, or not at once."""

    entry: UnknownEntry
    """What the author wrote."""

    slug: str
    """File name of its page, without ending; unique among these birds."""

    place: Place | None
    """Where it was, when that place has an entry."""


Account: TypeAlias = Species | Flock | Outing | Place | Unsolved
"""Everything that has a page of its own."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two look-alikes of which at least one entry names the other."""

    first: Species
    """The one that comes first in list order."""

    second: Species
    """The other."""

    slug: str
    """File name of its page, without ending; unique among pairs."""


@dataclass(frozen=True, slots=True)
class Guide:
    """Everything that a folder holds."""

    folder: Path
    """The guide's folder."""

    settings: Settings
    """What ``guide.yaml`` says."""

    species: tuple[Species, ...]
    """Species accounts in list order."""

    flocks: tuple[Flock, ...]
    """Flock accounts by name."""

    outings: tuple[Outing, ...]
    """Outings from the first to the last."""

    places: tuple[Place, ...]
    """Places by name."""

    unsolved: tuple[Unsolved, ...]
    """Unknown birds, the latest first."""

    pairs: tuple[Pair, ...]
    """Pairs of look-alikes with an account each, in list order."""

    parts: PartTable
    """Parts of a bird, the author's own words included."""

    words: Words
    """Words of phrases, the author's own included."""

    problems: tuple[Problem, ...]
    """What was found while reading."""

    files: int
    """Number of entry files."""

    by_code: Mapping[str, Species]
    """Accounts by code; of a code used twice, the first in list order."""

    codes: frozenset[str]
    """Every code that leads to an account."""

    by_path: Mapping[str, Account]
    """Accounts by the path of their file, for links from entry to entry."""

    _references: list[tuple[tuple[SourceText, Reference], ...]] = field(default_factory=list, repr=False)
    """What the texts point to, as one tuple; made at the first question, because five rooms ask."""

    @property
    def names(self) -> NameList:
        """The list of bird names; read at the first question."""
        return load_names()

    @property
    def scheme(self) -> Scheme:
        """The list of codes in force."""
        return "BBL" if self.settings.code_list == "BBL" else "IBP"

    def accounts(self) -> Iterator[Account]:
        """Give everything that has a page of its own, kind by kind."""
        yield from self.species
        yield from self.flocks
        yield from self.outings
        yield from self.places
        yield from self.unsolved

    def entries(self) -> Iterator[Entry]:
        """Give every entry that was read."""
        return (account.entry for account in self.accounts())

    def pictures(self) -> Iterator[tuple[Entry, Picture]]:
        """Give every sketch and photo with the entry that lists it."""
        for entry in self.entries():
            for picture in (*entry.sketches, *entry.photos):
                yield entry, picture

    def references(self) -> Iterator[tuple[SourceText, Reference]]:
        """Give everything that the authors' texts point to, with the file it stands in."""
        if not self._references:
            found = (
                (entry.source, reference)
                for entry in self.entries()
                for reference in references(entry.source, entry.body, self.codes)
            )
            self._references.append(tuple(found))
        return iter(self._references[0])

    def parts_in_order(self, words: Iterable[str]) -> tuple[str, ...]:
        """Sort parts by the order of evidence; words that are no known part come last."""

        def key(word: str) -> tuple[tuple[int, int], str]:
            part = self.parts.find(word)
            return (part.evidence_order if part else (len(Evidence), 0), word)

        return tuple(sorted(words, key=key))

    def beside(self, source: SourceText, name: str) -> Path | None:
        """Find a file named in an entry, from that entry's folder; None when it is not there.

        A path that leads out of the guide's folder counts as not there: a guide is one folder.
        """
        try:
            path = (self.folder / source.path).parent / name
            inside = Path(os.path.realpath(path)).is_relative_to(os.path.realpath(self.folder))
            return path if inside and path.is_file() else None
        except (OSError, ValueError):
            return None


def slug_of(name: str) -> str:
    """Turn a name into a file name of small letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", name.replace("'", "").replace("\N{RIGHT SINGLE QUOTATION MARK}", ""))
    kept = "".join(
        char if char.isascii() and char.isalnum() else " " for char in plain if not unicodedata.combining(char)
    )
    return "-".join(kept.casefold().split()) or "entry"
