"""An entry that is read when somebody asks for it, and a note of who asked for what.

A guide of thousands is mostly asked for names and codes. These stand in the ``Head`` of an entry, in
plain values that can be kept from build to build; so do facts, which are small values made of one entry.
Whatever asks for more asks for the entry itself, which is then read. Both are noted, so that a piece of
work (a page, a judgement) that asked for nothing which has changed need not be done again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

    from tertial.text.problem import Problem

E = TypeVar("E")
T = TypeVar("T")


class Head(NamedTuple):
    """What the guide has to know of an entry to link it. Plain values; '' and () for what it has not."""

    kind: str
    """The key that names its kind."""

    name: str
    """Its name as written; of an outing, its day."""

    code: str = ""
    """The code in force of a species."""

    scientific: str = ""
    """The scientific name that the author gives."""

    bird: tuple[Any, ...] = ()
    """The row of the list of birds, when the name leads to exactly one."""

    similar: tuple[str, ...] = ()
    """Codes of its look-alikes."""

    members: tuple[str, ...] = ()
    """Codes of the members of a flock."""

    id: str = ""
    """The id that a place is given."""

    place: str = ""
    """The place that an outing or an unknown bird names."""

    start: str = ""
    """Hour and minute at which an outing begins, as ISO 8601 writes them."""

    written: str = ""
    """Day on which the account was written, as ISO 8601 writes it; of an unknown bird, when it was seen."""

    changed: str = ""
    """Day of its last change."""

    settled: str = ""
    """Code of what an unknown bird proved to be."""


class Asked(NamedTuple):
    """What some work has asked of the entries of a guide."""

    fronts: frozenset[str] = frozenset()
    """Paths of the entries whose front matter was asked for."""

    texts: frozenset[str] = frozenset()
    """Paths of those whose text was asked for, which stands below it."""

    facts: frozenset[str] = frozenset()
    """Names of the facts that were asked for, of whatever entry."""

    def __or__(self, other: Asked) -> Asked:
        """Give all that either has asked for."""
        return Asked(*(one | another for one, another in zip(self, other, strict=True)))


class Noted(NamedTuple):
    """Something that was made, with what it was made of."""

    value: Any
    """What was made."""

    asked: Asked
    """What it asked for."""


class Reads:
    """What has been asked of the entries of a guide since the last ``begin``."""

    def __init__(self) -> None:
        self._sets: tuple[set[str], set[str], set[str]] = (set(), set(), set())
        self._silent = False

    def begin(self) -> None:
        """Forget what was asked so far."""
        self._sets = (set(), set(), set())

    def taken(self) -> Asked:
        """Give what was asked."""
        return Asked(*map(frozenset, self._sets))

    def front(self, path: str) -> None:
        """Note that the front matter of an entry was asked for."""
        if not self._silent:
            self._sets[0].add(path)

    def text(self, path: str) -> None:
        """Note that the text of an entry was asked for."""
        if not self._silent:
            self._sets[1].add(path)

    def fact(self, name: str) -> None:
        """Note that a fact of some entry was asked for."""
        if not self._silent:
            self._sets[2].add(name)

    def noted(self, make: Callable[[], Any]) -> Noted:
        """Do something, and give besides what it asked."""
        outside = self._sets, self._silent
        self.begin()
        self._silent = False
        try:
            value = make()
            return Noted(value, self.taken())
        finally:
            self._sets, self._silent = outside

    def again(self, asked: Asked) -> None:
        """Note what was asked when something was made that is now taken as it is."""
        if not self._silent:
            for known, more in zip(self._sets, asked, strict=True):
                known.update(more)

    def silently(self, make: Callable[[], T]) -> T:
        """Do something that is not to be noted."""
        before, self._silent = self._silent, True
        try:
            return make()
        finally:
            self._silent = before


class Sheet(Generic[E]):
    """An entry by its path.

    :param read: reads the file, and gives its entry, if it has one, and the problems in it.
    :param head: what the guide knows of the entry; it may be given before the entry is read.
    :param known: gives facts already known, by the names of the functions that make them.
    """

    def __init__(
        self,
        path: str,
        reads: Reads,
        read: Callable[[], tuple[E | None, tuple[Problem, ...]]],
        head: Head | None = None,
        known: Callable[[], dict[str, Any]] | None = None,
    ) -> None:
        self.path = path
        self.head = head
        self.facts: dict[str, Any] = {}
        self._known = known
        self._reads = reads
        self._read = read
        self._found: tuple[E | None, tuple[Problem, ...]] | None = None
        self._made: dict[str, Noted] = {}

    def found(self) -> tuple[E | None, tuple[Problem, ...]]:
        """Give the entry, None if the file holds none, with the problems of reading it."""
        self._reads.front(self.path)
        if self._found is None:
            self._found = self._read()
        return self._found

    @property
    def entry(self) -> E:
        """The entry, of a sheet that has a head; ``OSError`` if its file has since become something else.

        Whoever reads the text below the front matter asks for it by ``ask_text`` as well.
        """
        entry, _ = self.found()
        if entry is None:
            raise FileNotFoundError(2, "the entry went away while it was read", self.path)
        return entry

    def ask_text(self) -> None:
        """Note that the text of the entry is asked for."""
        self._reads.text(self.path)

    def silently(self, make: Callable[[], T]) -> T:
        """Do something with entries that is not to be noted, because a fact has been asked for that tells as much."""
        return self._reads.silently(make)

    def once(self, name: str, make: Callable[[], T]) -> T:
        """Give what is made of the entry, made at the first question."""
        return self.shared(self._made, name, make)

    def shared(self, made: dict[str, Noted], name: str, make: Callable[[], T]) -> T:
        """Give what is made of some entries, made at the first question. Whoever gets it asks for all of them.

        :param made: what was made already, by name; it may not live longer than any of the entries.
        """
        if name not in made:
            made[name] = self._reads.noted(make)
        value: T
        value, asked = made[name]
        self._reads.again(asked)
        return value

    def fact(self, make: Callable[[Any], T], account: object) -> T:
        """Give a fact of the entry: known, or made now of its account."""
        name = make.__name__
        self._reads.fact(name)
        if self._known is not None:
            self.facts, self._known = self._known(), None
        if name not in self.facts:
            self.facts[name] = self._reads.silently(lambda: make(account))
        fact: T = self.facts[name]
        return fact
