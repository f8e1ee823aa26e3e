"""The guide: every entry of a folder, loaded and linked. The one object that later rooms read.

Loading never fails for what an author wrote: problems are kept beside the entries, and what could
be read is there. Nothing is judged here beyond the linking itself; that is for the checks.
"""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeAlias, TypeVar

from tertial.entries.flock import FlockEntry
from tertial.entries.outing import OutingEntry
from tertial.entries.place import PlaceEntry
from tertial.entries.species import SpeciesEntry
from tertial.entries.unknown import UnknownEntry
from tertial.marks.parts import Evidence, PartTable
from tertial.names.birds import Bird, NameList, Scheme, load_names
from tertial.own_words import words_of
from tertial.recording import measure_records, phrase_records
from tertial.text.prose import Reference, references
from tertial.text.source import Passage

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from tertial.entries.load import Entry
    from tertial.entries.pictures import Picture
    from tertial.entries.settings import Settings
    from tertial.entries.sheet import Head, Sheet
    from tertial.entries.values import NamedMeasure, Phrase
    from tertial.marks.plumages import Plumage
    from tertial.marks.words import Words
    from tertial.text.problem import Problem
    from tertial.text.source import SourceText

E = TypeVar("E", bound="Entry")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class _Known(Generic[E]):
    """What every account has: an entry that is read when it is asked for, and its head that is there."""

    sheet: Sheet[E]
    """The entry with all that is made of it."""

    head: Head
    """What is known of it unread."""

    slug: str
    """File name of its page, without ending; unique among accounts of its kind."""

    @property
    def path(self) -> str:
        """Path of its file from the guide's folder."""
        return self.sheet.path

    @property
    def entry(self) -> E:
        """What the author wrote."""
        return self.sheet.entry

    @property
    def passage(self) -> Passage:
        """The author's text below the front matter."""
        self.sheet.ask_text()
        return Passage(self.entry.source, self.entry.body)

    @property
    def name(self) -> str:
        """Its name as the author writes it; of an outing, its day in ISO 8601."""
        return self.head.name

    def fact(self, make: Callable[[Any], T]) -> T:
        """Give a small value made of the entry alone, which may be known from an earlier build.

        :param make: makes it of this account; its name stands for it. The value is of texts, numbers
            and tuples, and does not hang on any other entry.
        """
        return self.sheet.fact(make, self)


@dataclass(frozen=True, slots=True)
class Species(_Known[SpeciesEntry]):
    """A species account with what the lists and tables know of it."""

    bird: Bird | None
    """The list's row, when the name leads to exactly one."""

    parts: PartTable
    """Parts of a bird, the author's own words included."""

    @property
    def code(self) -> str:
        """The code in force: the author's if it could be one, else the list's, else the one derived from the name."""
        return self.head.code

    @property
    def scientific(self) -> str:
        """Scientific name, the author's before the list's; '' when neither gives one."""
        return self.head.scientific or (self.bird.scientific if self.bird else "")

    @property
    def records(self) -> Mapping[Plumage, Mapping[str, Phrase]]:
        """Phrases by plumage and part, for plumages that are understood; an unknown part under its own word."""
        return self.sheet.once("records", lambda: phrase_records(self.parts, self.entry))

    @property
    def measures(self) -> Mapping[Plumage, Mapping[str, NamedMeasure]]:
        """Measures likewise."""
        return self.sheet.once("measures", lambda: measure_records(self.parts, self.entry))


@dataclass(frozen=True, slots=True)
class Flock(_Known[FlockEntry]):
    """A flock account."""


@dataclass(frozen=True, slots=True)
class Place(_Known[PlaceEntry]):
    """A place with its page; its slug is its id, or one made of its name."""


@dataclass(frozen=True, slots=True)
class Outing(_Known[OutingEntry]):
    """An outing with its place; its slug is its date, with a number where a day had several."""

    place: Place | None
    """Where it went, when that place has an entry."""

    @property
    def date(self) -> dt.date:
        """The day."""
        return dt.date.fromisoformat(self.head.name)


@dataclass(frozen=True, slots=True)
class Unsolved(_Known[UnknownEntry]):
    """A bird that could not be named, or not at once."""

    place: Place | None
    """Where it was, when that place has an entry."""


Account: TypeAlias = Species | Flock | Outing | Place | Unsolved
"""Everything that has a page of its own."""


class Pair(NamedTuple):
    """Two look-alikes of which at least one entry names the other."""

    first: Species
    """The one that comes first in list order."""

    second: Species
    """The other."""

    slug: str
    """File name of its page, without ending; unique among pairs."""


@dataclass(frozen=True, slots=True, eq=False)
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

    by_place: Mapping[str, Place]
    """Places by their slugs, by which outings name them."""

    judges_settings: bool = True
    """Whether what the settings say is to be judged; False for a guide narrowed to one account."""

    _words: list[Words] = field(default_factory=list, repr=False)
    """The words, once they were asked for."""

    _pairs_of: dict[str, tuple[Pair, ...]] = field(default_factory=dict, repr=False)
    """Pairs by the path of the first bird's entry; filled at the first question."""

    @property
    def names(self) -> NameList:
        """The list of bird names; read at the first question."""
        return load_names()

    @property
    def words(self) -> Words:
        """Words of phrases, the author's own included; read at the first question."""
        if not self._words:
            self._words.append(words_of(self.settings))
        return self._words[0]

    @property
    def scheme(self) -> Scheme:
        """The list of codes in force."""
        return "BBL" if self.settings.code_list == "BBL" else "IBP"

    def accounts(self) -> Iterator[Account]:
        """Give everything that has a page of its own, kind by kind."""
        return chain(self.species, self.flocks, self.outings, self.places, self.unsolved)

    def entries(self) -> Iterator[Entry]:
        """Give every entry that was read."""
        return (account.entry for account in self.accounts())

    def pictures(self) -> Iterator[tuple[Entry, Picture]]:
        """Give every sketch and photo with the entry that lists it."""
        return ((entry, picture) for entry in self.entries() for picture in (*entry.sketches, *entry.photos))

    def references(self) -> Iterator[tuple[SourceText, Reference]]:
        """Give everything that the authors' texts point to, with the file it stands in."""
        for account in self.accounts():
            source, body = account.passage
            # By the codes as well: an account may stay as it is while others come and go.
            found = account.sheet.once(f"references {hash(self.codes)}", partial(references, source, body, self.codes))
            yield from ((source, reference) for reference in found)

    def only(self, account: Account | None) -> Guide:
        """Narrow the guide to one account, or to its settings: the rest can be looked up, but is not gone through."""
        if not self._pairs_of:
            for pair in self.pairs:
                path = pair.first.path
                self._pairs_of[path] = (*self._pairs_of.get(path, ()), pair)
        return replace(
            self,
            species=(account,) if isinstance(account, Species) else (),
            flocks=(account,) if isinstance(account, Flock) else (),
            outings=(account,) if isinstance(account, Outing) else (),
            places=(account,) if isinstance(account, Place) else (),
            unsolved=(account,) if isinstance(account, Unsolved) else (),
            pairs=self._pairs_of.get(account.path, ()) if account else (),
            judges_settings=account is None,
        )

    def parts_in_order(self, words: Iterable[str]) -> tuple[str, ...]:
        """Sort parts by the order of evidence; words that are no known part come last."""

        def key(word: str) -> tuple[tuple[int, int], str]:
            part = self.parts.find(word)
            return (part.evidence_order if part else (len(Evidence), 0), word)

        return tuple(sorted(words, key=key))

    def beside(self, source: SourceText | Account, name: str) -> Path | None:
        """Find a file named in an entry, from that entry's folder; None when it is not there.

        A path that leads out of the guide's folder counts as not there: a guide is one folder.
        """
        try:
            path = (self.folder / source.path).parent / name
            inside = Path(os.path.realpath(path)).is_relative_to(os.path.realpath(self.folder))
            return path if inside and path.is_file() else None
        except (OSError, ValueError):
            return None
