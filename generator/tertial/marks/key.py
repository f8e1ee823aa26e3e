"""Keys: couplets of questions that lead to a plumage, made from what is written of each.

A couplet asks for one mark and has two leads; between the birds of one lead and those of the other the
mark decides, as the caller judges. A plumage of which the mark is not recorded goes down both leads, so
that a true answer never leads away from it. What cannot be parted ends together, with the marks that
are worth recording next.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from typing import TYPE_CHECKING, Final, Generic, NamedTuple, TypeVar

from tertial.marks.splits import places_of, split_items

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tertial.marks.splits import Split

M = TypeVar("M", bound=Hashable)
S = TypeVar("S")

_MOST_WANTED: Final = 3
"""How many marks an end names as worth recording: a list for the next walk, not for a winter."""


class Record(NamedTuple, Generic[S]):
    """What is recorded of one mark of a plumage."""

    words: str
    """The author's own words."""

    state: S
    """What the words say, for the judgement of the caller."""


class Item(NamedTuple, Generic[M, S]):
    """A plumage that the key may lead to."""

    name: str
    """What identifies it; items are taken in the order of their names."""

    label: str
    """What a reader sees."""

    records: Mapping[M, Record[S]]
    """What is recorded, by mark."""


class Question(NamedTuple, Generic[M]):
    """A mark that a couplet may ask for."""

    mark: M
    """The mark."""

    view: str
    """The view that it needs, in a word."""

    ease: int
    """The place of the view from 0, easiest first."""


class Wanted(NamedTuple, Generic[M]):
    """A mark whose record would help to part an end."""

    mark: M
    """The mark."""

    lacking: tuple[str, ...]
    """The names of the items that have no record of it."""


class End(NamedTuple, Generic[M, S]):
    """Where a way through the key ends."""

    items: tuple[Item[M, S], ...]
    """The plumages that remain, never none, by name."""

    missing: tuple[Wanted[M], ...]
    """The marks whose record would part them best, the best first; none for a single plumage."""


class Lead(NamedTuple, Generic[M, S]):
    """One answer of a couplet."""

    words: tuple[str, ...]
    """The authors' words for this side, each once, in the order of the items."""

    items: tuple[Item[M, S], ...]
    """The plumages that it leads to, by name, those without a record among them."""

    to: int | End[M, S]
    """The number of the next couplet, or the end."""


class Couplet(NamedTuple, Generic[M, S]):
    """One question and its two answers."""

    number: int
    """Its number from 1, in the order of reading."""

    origin: int
    """The number of the couplet that leads here; 0 for the first."""

    mark: M
    """The mark that is asked for."""

    view: str
    """The view that it needs."""

    leads: tuple[Lead[M, S], Lead[M, S]]
    """The answers, the one with fewer plumages first."""

    unrecorded: tuple[Item[M, S], ...]
    """The plumages that go down both leads for want of a record."""


class Key(NamedTuple, Generic[M, S]):
    """A key to some plumages."""

    couplets: tuple[Couplet[M, S], ...]
    """The couplets in order of their numbers; none if nothing can be parted."""

    ends: tuple[End[M, S], ...]
    """All ends in the order of reading; without items there is none."""


def make_key(
    items: Iterable[Item[M, S]],
    questions: Sequence[Question[M]],
    decides: Callable[[M, S, S], bool],
) -> Key[M, S]:
    """Make the key to some plumages.

    The easiest view comes first, among equals the mark that is expected to tell most (information gain),
    then the order of the questions. The order of the items makes no difference.

    :param items: plumages with distinct names.
    :param questions: the marks that may be asked for, in their fixed order.
    :param decides: whether two states of a mark tell two birds apart, diagnostic or strong; symmetric.
    """
    return _Maker(items, questions, decides).key()


class _Maker(Generic[M, S]):
    """The items and questions of one key; sets of items are whole numbers with a bit for each place."""

    def __init__(
        self, items: Iterable[Item[M, S]], questions: Sequence[Question[M]], decides: Callable[[M, S, S], bool]
    ) -> None:
        self.items = sorted(items, key=lambda item: item.name)
        self.questions = questions
        self.recorded = [
            sum(1 << at for at, item in enumerate(self.items) if question.mark in item.records)
            for question in questions
        ]
        self.apart = [
            self._apart(question.mark, recorded, decides)
            for question, recorded in zip(questions, self.recorded, strict=True)
        ]
        # Most marks part nobody, and of those that do only the easiest that can be asked are looked at.
        self.telling: dict[int, list[int]] = {}
        for at in sorted(range(len(questions)), key=lambda at: questions[at].ease):
            if any(self.apart[at].values()):
                self.telling.setdefault(questions[at].ease, []).append(at)
        self.rates = [_rate(apart) for apart in self.apart]

    def _apart(self, mark: M, recorded: int, decides: Callable[[M, S, S], bool]) -> dict[int, int]:
        """Give for each recorded item those that the mark tells from it."""
        found = dict.fromkeys(places_of(recorded), 0)
        for one in found:
            for other in found:
                if one < other and decides(mark, *(self.items[at].records[mark].state for at in (one, other))):
                    found[one] |= 1 << other
                    found[other] |= 1 << one
        return found

    def key(self) -> Key[M, S]:
        """Follow every lead to its end, depth first, so that a shorter lead is read to its end at once."""
        everyone = (1 << len(self.items)) - 1
        splits: list[tuple[int, Question[M], Split]] = []
        targets: dict[tuple[int, int], int | End[M, S]] = {}
        ends: list[End[M, S]] = []
        waiting = [(everyone, 0, 0)] if everyone else []
        while waiting:
            here, origin, side = waiting.pop()
            best = self._best(here)
            if best:
                splits.append((origin, *best))
                number, split = len(splits), best[1]
                targets[origin, side] = number
                waiting.append((split.other | split.unrecorded, number, 1))
                waiting.append((split.one | split.unrecorded, number, 0))
            else:
                ends.append(End(self._items(here), self._missing(here)))
                targets[origin, side] = ends[-1]
        couplets = tuple(
            Couplet(
                number,
                origin,
                question.mark,
                question.view,
                (
                    self._lead(question.mark, split.one, split.unrecorded, targets[number, 0]),
                    self._lead(question.mark, split.other, split.unrecorded, targets[number, 1]),
                ),
                self._items(split.unrecorded),
            )
            for number, (origin, question, split) in enumerate(splits, start=1)
        )
        return Key(couplets, tuple(ends))

    def _lead(self, mark: M, side: int, unrecorded: int, to: int | End[M, S]) -> Lead[M, S]:
        words = dict.fromkeys(item.records[mark].words for item in self._items(side))
        return Lead(tuple(words), self._items(side | unrecorded), to)

    def _items(self, places: int) -> tuple[Item[M, S], ...]:
        return tuple(self.items[at] for at in places_of(places))

    def _best(self, here: int) -> tuple[Question[M], Split] | None:
        """Choose the question to ask of some items, with the split that tells most."""
        for places in self.telling.values():
            splits = ((at, split_items(here, self.recorded[at], self.apart[at])) for at in places)
            found = [(-split.gain, at, split) for at, split in splits if split]
            if found:
                _, at, best = min(found, key=lambda each: each[:2])
                return self.questions[at], best
        return None

    def _missing(self, here: int) -> tuple[Wanted[M], ...]:
        """Name the marks whose record would part some items best.

        A mark is expected to part the pairs that lack a record at the rate at which it parts the recorded
        pairs of the whole key.
        """
        count = here.bit_count()
        found = []
        for at, question in enumerate(self.questions):
            known = (here & self.recorded[at]).bit_count()
            unknown_pairs = (count * (count - 1) - known * (known - 1)) / 2
            if unknown_pairs and self.recorded[at]:
                found.append((-unknown_pairs * self.rates[at], question.ease, at, question.mark))
        best = sorted(found, key=lambda each: each[:3])[:_MOST_WANTED]
        lacking = (tuple(item.name for item in self._items(here & ~self.recorded[at])) for _, _, at, _ in best)
        return tuple(Wanted(mark, names) for (_, _, _, mark), names in zip(best, lacking, strict=True))


def _rate(apart: Mapping[int, int]) -> float:
    """Give the rate at which a mark parts pairs, by Laplace's rule of succession: few records do not settle a rate."""
    recorded = len(apart)
    parted = sum(others.bit_count() for others in apart.values()) / 2
    return (parted + 1) / (recorded * (recorded - 1) / 2 + 2)
