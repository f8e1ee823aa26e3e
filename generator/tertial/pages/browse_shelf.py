"""What all accounts say, under numbers, so that a page can compare any birds by looking up.

A statement is a number within its key (part, aspect, place, facet); how far any two of a key keep birds
apart is worked out here once, by the same functions as on the pages of pairs, and packed into a string.
A script that reads these values knows no words and no rule of agreement.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from tertial.entries.sheet import Asked, Noted
from tertial.marks.compare import UNSEEN, striking
from tertial.marks.describe import Described, describe
from tertial.marks.faceted import read_by_facet
from tertial.marks.meaning import facet_named, key_words
from tertial.marks.measures import APART_IN_FIELD, Measured, spread_of
from tertial.marks.plumages import ALL, read_plumage, union_plumages
from tertial.marks.separation import separate
from tertial.marks.verdicts import Verdict, load_thresholds
from tertial.pages.digits import DIGITS, packed, width_of
from tertial.pages.facts import compared
from tertial.pages.naming import measure_named, measure_words, part_named, plumage_named
from tertial.pages.site import part_path
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from tertial.guide import Guide, Species
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Key, Statement
    from tertial.pages.site import Site
    from tertial.wording import Wording

Json: TypeAlias = "str | float | Sequence[Json] | Mapping[str, Json] | None"
"""A value that a script can be handed."""

_STRIKING_STEPS: Final = 1000
"""CIEDE2000 is packed in thousandths: fine enough that no two rows change places by it."""

_VERDICTS: Final = tuple(Verdict)
_NO_VIEW: Final = 99
"""Parts that no table has come last among equals."""


def shelf_of(site: Site) -> Shelf:
    """Give the shelf of a guide, one for all pages that look up in it."""
    shelf: Shelf = site.made.setdefault("shelf", Noted(Shelf(site), Asked())).value
    return shelf


class Shelved(NamedTuple):
    """One species in every plumage of its account."""

    species: Species
    """The species."""

    plumages: tuple[Described, ...]
    """What holds for each plumage, ``all`` first."""

    apart: tuple[int, ...]
    """Places of the plumages that a bird can be in; ``all`` only where it stands alone."""

    sizes: Mapping[tuple[Plumage, str], str]
    """Measures by plumage and word, as written."""


@dataclass(frozen=True)
class Shelf:
    """All accounts of a guide; everything on it is worked out at the first question."""

    site: Site
    """The guide as its pages see it."""

    @property
    def guide(self) -> Guide:
        """The guide."""
        return self.site.guide

    _plumages: dict[Plumage, str] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Names of plumages already made: a phrase is asked for tens of thousands of times."""

    def named(self, plumage: Plumage) -> str:
        """Name a plumage in the language of the guide."""
        if plumage not in self._plumages:
            self._plumages[plumage] = plumage_named(self.site, plumage)
        return self._plumages[plumage]

    @cached_property
    def birds(self) -> tuple[Shelved, ...]:
        """Every species that can be asked for by its code, in list order."""
        return tuple(_shelved(self.guide, species) for species in self.species)

    @cached_property
    def species(self) -> tuple[Species, ...]:
        """The same by themselves."""
        guide = self.guide
        return tuple(species for species in guide.species if guide.by_code[species.code] is species)

    def ask_all(self) -> None:
        """Ask for every account: a page that uses the shelf depends on all, whoever has filled it before."""
        # To ask for a fact of one entry is to depend on that fact of all.
        self.species[0].fact(compared)

    _numbers: dict[tuple[str, int], int] = field(default_factory=dict, init=False, repr=False, compare=False)
    """The number of each statement by its part and its identity: to hash it again would cost more."""

    _placed: dict[tuple[str, int], tuple[int, int]] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Likewise the numbers of its key and its own, once they were asked for."""

    _accounts: dict[str, Json] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What each account says, by code, once it was asked for."""

    @cached_property
    def statements(self) -> Mapping[tuple[str, Key], Mapping[Statement, int]]:
        """For each part and key, in the order of evidence, its distinct statements with their numbers."""
        found: dict[str, dict[Key, dict[Statement, int]]] = {}
        known = self._numbers
        for bird in self.birds:
            for described in bird.plumages:
                for part, told in described.told.items():
                    keys = found.setdefault(part, {})
                    for key, each in told.items():
                        if (part, id(each.statement)) not in known:
                            numbers = keys.setdefault(key, {})
                            known[part, id(each.statement)] = numbers.setdefault(each.statement, len(numbers))
        return {
            (part, key): found[part][key]
            for part in self.guide.parts_in_order(found)
            for key in sorted(found[part], key=lambda key: key.order)
        }

    @cached_property
    def keys(self) -> Mapping[tuple[str, Key], int]:
        """The number of each part and key."""
        return {key: at for at, key in enumerate(self.statements)}

    @cached_property
    def parts(self) -> Mapping[str, int]:
        """The number of each part that is described, those without a single statement included."""
        told = {part for bird in self.birds for described in bird.plumages for part in described.told}
        return {part: at for at, part in enumerate(self.guide.parts_in_order(told))}

    def id_of(self, part: str) -> str:
        """Give a part an id; by its number where only its author knows it, since two may have no letter for an id."""
        return slug_of(part) if self.guide.parts.find(part) else f"own-{self.parts[part]}"

    def account(self, bird: Shelved) -> Json:
        """Give what one account says.

        ``phrases`` holds each phrase with the plumage it was written for. A plumage has ``told``, triples
        of key, statement and phrase in one row; ``said``, for each part its number and those of its phrases;
        and ``measures`` by word: text, plumage, mean and standard deviation, or null without a spread.
        """
        code = bird.species.code
        if code not in self._accounts:
            phrases: dict[tuple[str, str], int] = {}
            plumages = [self._plumage(bird, described, phrases) for described in bird.plumages]
            self._accounts[code] = {"phrases": [list(phrase) for phrase in phrases], "plumages": plumages}
        return self._accounts[code]

    def _plumage(self, bird: Shelved, described: Described, phrases: dict[tuple[str, str], int]) -> Json:
        told: list[int] = []
        # One phrase makes several statements, and is looked up once.
        known: dict[tuple[int, int], int] = {}
        placed = self._placed
        for part, keys in described.told.items():
            for statement, reading, origin in keys.values():
                phrase = known.get((id(reading), id(origin)))
                if phrase is None:
                    phrase = phrases.setdefault((reading.text, self.named(origin)), len(phrases))
                    known[id(reading), id(origin)] = phrase
                told += placed.get((part, id(statement))) or self._place(part, statement)
                told.append(phrase)
        said = [
            [
                self.parts[part],
                *(phrases.setdefault((reading.text, self.named(origin)), len(phrases)) for reading, origin in each),
            ]
            for part, each in described.said.items()
        ]
        sizes: dict[str, Json] = {}
        for word, (measured, origin) in described.measures.items():
            spread = spread_of(measured)
            figures = [spread.mean, spread.sd] if spread and spread.mean > 0 else None
            text = measure_words(self.site, bird.sizes[origin, word])
            sizes[measure_named(self.site, word)] = [text, self.named(origin), figures]
        return {"name": self.named(described.plumage), "told": told, "said": said, "measures": sizes}

    def _place(self, part: str, statement: Statement) -> tuple[int, int]:
        asked = part, id(statement)
        placed = self._placed[asked] = (self.keys[part, statement.key], self._numbers[asked])
        return placed

    def marks(self) -> Json:
        """Give what accounts are compared by.

        ``tables`` has for each key the lower triangle of outcomes between its statements, row by row, each
        as ``width`` digits; ``striking`` likewise the unlikeness of colours, for keys that have any.
        """
        outcomes: dict[tuple[float, int], int] = {(0.0, Verdict.SHARED.rank): 0}
        tables: list[list[int]] = []
        colours: list[list[int]] = []
        separated = _Separations(self.guide)
        for numbers in self.statements.values():
            found = list(separated.below(tuple(numbers)))
            tables.append([outcomes.setdefault(outcome, len(outcomes)) for outcome, _ in found])
            colours.append([round(unlike * _STRIKING_STEPS) for _, unlike in found])
        width, most = width_of(len(outcomes) - 1), width_of(max((max(row, default=0) for row in colours), default=0))
        return {
            "digits": DIGITS,
            "parts": [self._part(word) for word in self.parts],
            "keys": [
                [self.parts[part], key_named(self.site.wording, key, self.siblings(part))] for part, key in self.keys
            ],
            "implied": ["".join("01"[each.implied] for each in numbers) for numbers in self.statements.values()],
            "outcomes": [list(outcome) for outcome in outcomes],
            "width": width,
            "tables": [packed(row, width) for row in tables],
            "striking width": most,
            "striking": [packed(row, most) if any(row) else "" for row in colours],
            "verdicts": [verdict.value for verdict in _VERDICTS],
            "thresholds": [row.least for row in load_thresholds()],
            "unseen": sorted(measure_named(self.site, word) for word in UNSEEN),
            "apart in field": APART_IN_FIELD,
        }

    def siblings(self, part: str) -> tuple[Key, ...]:
        """Give all keys of a part."""
        return tuple(key for word, key in self.keys if word == part)

    def _part(self, word: str) -> Json:
        part = self.guide.parts.find(word)
        if part is None:
            return [part_named(self.site, word), "", _NO_VIEW, 0]
        return [part_named(self.site, word), part_path(part.word), part.view.order, part.region.extent]


class _Separations:
    """Separations by what statements claim, whatever the part: each is worked out once."""

    def __init__(self, guide: Guide) -> None:
        self._words = guide.words
        self._contents: dict[object, int] = {}
        self._known: dict[tuple[int, int], tuple[tuple[float, int], float]] = {}

    def below(self, statements: Sequence[Statement]) -> Iterator[tuple[tuple[float, int], float]]:
        """Give for each statement against every one before it the outcome.

        :returns: value and rank of the verdict, and how unlike the colours look where they differ.
        """
        contents = [self._content(statement) for statement in statements]
        for at, content in enumerate(contents):
            for before in range(at):
                asked = (content, contents[before])
                if asked not in self._known:
                    outcome = self._of(statements[at], statements[before])
                    self._known[asked] = self._known[asked[::-1]] = outcome
                yield self._known[asked]

    def _of(self, first: Statement, second: Statement) -> tuple[tuple[float, int], float]:
        found = separate(first, second, self._words)
        unlike = striking(first, second, self._words) if found.value else 0.0
        return (found.value, found.verdict.rank), unlike

    def _content(self, statement: Statement) -> int:
        return self._contents.setdefault(
            (statement.key.aspect, statement.claims, statement.stated), len(self._contents)
        )


def key_named(wording: Wording, key: Key, siblings: Iterable[Key]) -> str:
    """Name a key for a reader: the aspect, the place, and what tells it from another of the same two."""
    like = [each for each in siblings if (each.aspect, each.where) == (key.aspect, key.where)]
    facet = facet_named(wording, key.facet) if len(like) > 1 and key.facet != key.aspect else ""
    return ", ".join(filter(None, (key_words(key, wording), facet)))


def _shelved(guide: Guide, species: Species) -> Shelved:
    phrases, sizes = species.fact(compared)
    said = {
        _plumage(name): {part: read_by_facet(text, guide.words, part) for part, text in found}
        for name, found in phrases
    }
    measured = {_plumage(name): {word: Measured(*figures) for word, _, *figures in found} for name, found in sizes}
    texts = {(_plumage(name), word): text for name, found in sizes for word, text, *_ in found}
    written = sorted({ALL, *said, *measured}, key=lambda plumage: plumage.order)
    plumages = tuple(describe(said, measured, plumage) for plumage in written)
    apart = union_plumages(said, ())
    return Shelved(species, plumages, tuple(at for at, each in enumerate(written) if each in apart), texts)


def _plumage(name: str) -> Plumage:
    return read_plumage(name) or ALL
