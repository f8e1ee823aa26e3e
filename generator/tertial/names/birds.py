"""The shipped list of birds as values, and every way of asking for one.

``tertial entry`` fills a new entry from here, the checks of names and codes look birds up here.
The list is read at the first question and each index is made at the first question that needs
it, because most commands ask for a few names and some for none.
"""

from __future__ import annotations

import csv
import gzip
import io
import re
from functools import cache, cached_property
from itertools import repeat
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from tertial.names.fold import fold, fold_all, latin
from tertial.names.near import NearNames, is_made_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

Scheme = Literal["IBP", "BBL"]
"""A list of four-letter codes: Institute for Bird Populations, or USGS Bird Banding Laboratory."""

SCHEMES: Final[tuple[Scheme, ...]] = ("IBP", "BBL")
"""Both lists, the one that tertial uses by default first."""

SPECIES: Final = "species"
"""The rank of a row that AviList has as a species."""

FORM: Final = "form"
"""The rank of a row that is of one species, or was one: a subspecies, a morph, an intergrade, a form left open."""

HYBRID: Final = "hybrid"
"""The rank of a row that stands for hybrids of two species, named or not."""

GROUP: Final = "group"
"""The rank of a row that stands for one of several species: either of two, or any of a genus or family."""

_LIST = Path(__file__).with_name("data") / "bird-names.csv.gz"

_FORMER = _LIST.with_name("former-names.csv")

_CODE = re.compile(r"[A-Z]{2,4}|[A-Za-z]{4}")
_CODE_LETTERS: Final = 4
# A code, or one with a letter too many.
_CAPITALS = re.compile(r"[A-Z]{4,5}")

# What an epithet loses so that its genders meet: albus, alba, album; viridis, viride; ater, atra.
# Nouns lose letters too, which does no harm: they lose the same ones under every genus.
_GENDER = re.compile(r"(?:us|um|is|a|e)$|e(?=r$)")


class Bird(NamedTuple):
    """One row of the list: a species, or a form, group or hybrid that has a code of its own."""

    sequence: int | None
    """Place in the order of AviList v2025, from 1; None for what is no species there."""

    rank: str
    """`SPECIES`, `FORM`, `HYBRID` or `GROUP`."""

    order: str
    """Order, as in Piciformes; '' for what is no species."""

    family: str
    """Family, as in Picidae; '' for what is no species."""

    scientific: str
    """Scientific name by AviList; for what is no species as in the list of codes, often no plain binomen."""

    english: str
    """English name as AviList spells it; for what is no species as in the list of codes."""

    name_bbl: str
    """English name as the Bird Banding Laboratory spells it; '' when it lists no such bird."""

    code_bbl: str
    """Code in the list of the Bird Banding Laboratory, or ''."""

    name_ibp: str
    """English name as the Institute for Bird Populations spells it; '' when it lists no such bird."""

    code_ibp: str
    """Code in the list of the Institute for Bird Populations, or ''."""

    french: str
    """French name by the Bird Banding Laboratory, or ''."""

    @property
    def is_species(self) -> bool:
        """Whether AviList has this as a species."""
        return self.rank == SPECIES

    @property
    def is_coded(self) -> bool:
        """Whether any list has a code for it."""
        return bool(self.code_ibp or self.code_bbl)

    def listed_name(self, scheme: Scheme) -> str:
        """Give the name in that list's own spelling; '' when the bird is not on it."""
        return self.name_ibp if scheme == "IBP" else self.name_bbl

    def listed_code(self, scheme: Scheme) -> str:
        """Give the code in that list; '' when the bird is not on it."""
        return self.code_ibp if scheme == "IBP" else self.code_bbl


class NameList:
    """Birds in list order, to be asked by name, code or likeness. `load_names` gives the shipped one."""

    def __init__(self, rows: Iterable[Sequence[str]]) -> None:
        """Take rows with the columns of ``data/README.md``, species before others."""
        # Kept as columns of text: eleven thousand objects take longer to make than the whole file
        # takes to read, and a command asks for a handful of birds.
        self._columns = dict(zip(Bird._fields, tuple(zip(*rows, strict=True)) or repeat(()), strict=False))

    def __len__(self) -> int:
        """Count species and others."""
        return len(self._columns["english"])

    def __iter__(self) -> Iterator[Bird]:
        """Go through species in list order, then through all others."""
        return map(self._bird, range(len(self)))

    def find(self, text: str) -> tuple[Bird, ...]:
        """Give the birds that are called exactly `text`, after `fold`.

        Any English spelling, the scientific and the French name count; a code counts when it is in
        capitals or has four letters. Species hide forms and groups of the same name. More than one
        bird means that the text is ambiguous (one French name is, and codes on which the lists
        differ); none, that the list has no such name.
        """
        places = list(self._by_name.get(fold(text), ()))
        word = text.strip()
        if _CODE.fullmatch(word):
            for scheme in SCHEMES:
                places += self._by_code[scheme].get(word.upper(), ())
        birds = tuple(self._bird(place) for place in dict.fromkeys(places))
        return tuple(bird for bird in birds if bird.is_species) or birds

    def find_epithet(self, scientific: str) -> tuple[Bird, ...]:
        """Give species with the same epithet under another genus: authorities differ in genera.

        The epithet may end in another gender (albus, alba). The very same epithet comes first, then
        list order. These are candidates only, since many epithets are used in several genera. A text
        that is not at least a genus and an epithet has none.
        """
        genus, epithet = _binomen(scientific)
        birds = (self._bird(place) for place in self._by_epithet.get(_stem(epithet), ()))
        others = [(bird, _binomen(bird.scientific)) for bird in birds]
        others.sort(key=lambda other: other[1][1] != epithet)
        return tuple(bird for bird, name in others if epithet and name[0] != genus)

    def near(self, text: str, limit: int = 3) -> tuple[str, ...]:
        """Give at most `limit` names that `text` may have meant, the likeliest first.

        Of a name that a bird had formerly, what it is called now; of a code that no bird has, those whose names
        would make it, and those whose code it is but for a slip of the pen. Else names that hold every word
        of it ("house wren") and species of the same epithet under another genus; only without any of these,
        names that look like it. What both lists of codes have comes first, because an author most likely
        means one of them. Names are given as the lists spell them. Nothing that is far off is given, so the
        answer may be empty.
        """
        found: Iterable[str] = _former_names().get(fold(text), ())
        if not found and _CAPITALS.fullmatch(text.strip()):
            found = (_called(bird) for bird in self._near_codes(text.strip()))
        if not (found := tuple(dict.fromkeys(found))):
            words = tuple(re.findall("[a-z]+", latin(text)))
            holding = [_called(bird) for bird in self._holding(words)]
            elsewhere = [bird.scientific for bird in sorted(self.find_epithet(text), key=_unlisted) if bird.is_coded]
            found = tuple(dict.fromkeys((*holding[:limit], *elsewhere)))
        return (found or self._near_names.search(fold(text), limit))[:limit]

    def _holding(self, words: Sequence[str]) -> list[Bird]:
        """Give species whose English name has all these words, listed ones, those of the kind and short names first."""
        asked = frozenset(words)
        found = [(bird, held) for bird, held in self._by_words if asked and asked.issubset(held)]
        found.sort(key=lambda each: (_unlisted(each[0]), each[1][-1] != words[-1], len(each[0].english.split())))
        return [bird for bird, _ in found]

    @cached_property
    def _by_words(self) -> tuple[tuple[Bird, tuple[str, ...]], ...]:
        """Species with the words of their English names."""
        species = (bird for bird in self if bird.is_species)
        return tuple((bird, tuple(re.findall("[a-z]+", latin(_called(bird))))) for bird in species)

    def _near_codes(self, text: str) -> list[Bird]:
        """Give species that capitals which are no code may have meant: by the letters of the name, or by a slip."""
        slips = {text[:at] + text[at + 1 :] for at in range(len(text)) if len(text) > _CODE_LETTERS}
        slips |= {text[:at] + text[at + 1] + text[at] + text[at + 2 :] for at in range(len(text) - 1)}
        listed = [(bird, words) for bird, words in self._by_words if bird.is_coded]
        asked = text.lower()
        found = [bird for bird, words in listed if is_made_of(asked, words)]
        found += [bird for bird, _ in listed if slips & {bird.code_ibp, bird.code_bbl}]
        return sorted(found, key=_unlisted)

    def by_code(self, code: str, scheme: Scheme) -> Bird | None:
        """Give the bird that `code`, in capitals, stands for in that list."""
        holders = self.holders(code, scheme)
        return holders[0] if holders else None

    def holders(self, code: str, scheme: Scheme) -> tuple[Bird, ...]:
        """Give every bird that has `code`, in capitals, in that list; a sound list has one at most."""
        return tuple(self._bird(place) for place in self._by_code[scheme].get(code, ()))

    def listed(self, scheme: Scheme) -> tuple[Bird, ...]:
        """Give every bird that has a code in that list, in the order of this one."""
        places = sorted(place for places in self._by_code[scheme].values() for place in places)
        return tuple(self._bird(place) for place in places)

    def _bird(self, place: int) -> Bird:
        sequence, *rest = (column[place] for column in self._columns.values())
        return Bird(int(sequence) if sequence else None, *rest)

    @cached_property
    def _by_name(self) -> dict[str, tuple[int, ...]]:
        """Places of birds by every folded name of theirs."""
        columns = ("english", "name_bbl", "name_ibp", "scientific", "french")
        return _places(*(fold_all(self._columns[column]) for column in columns))

    @cached_property
    def _by_code(self) -> dict[Scheme, dict[str, tuple[int, ...]]]:
        """For each list, places of birds by code."""
        return {
            "IBP": _places(self._columns["code_ibp"]),
            "BBL": _places(self._columns["code_bbl"]),
        }

    @cached_property
    def _by_epithet(self) -> dict[str, tuple[int, ...]]:
        """Places of species by the stem of their epithet."""
        return _places([_stem(_binomen(name)[1]) for name in self._species()])

    @cached_property
    def _near_names(self) -> NearNames:
        columns = ("english", "name_bbl", "name_ibp")
        english = dict.fromkeys(name for column in columns for name in self._columns[column] if name)
        return NearNames(tuple(english), tuple(self._species()))

    def _species(self) -> list[str]:
        """Give the scientific names of species, each at the place of its bird."""
        ranks = self._columns["rank"]
        return [name for name, rank in zip(self._columns["scientific"], ranks, strict=True) if rank == SPECIES]


@cache
def load_names() -> NameList:
    """Read the shipped list, once in the life of the program."""
    text = gzip.decompress(_LIST.read_bytes()).decode("utf-8")
    rows = csv.reader(io.StringIO(text, newline=""))
    next(rows)
    return NameList(rows)


def _binomen(scientific: str) -> tuple[str, str]:
    """Split off genus and epithet in small letters; '' for what is missing."""
    genus, epithet, *_ = (*scientific.lower().split(), "", "")
    return genus, epithet


def _stem(epithet: str) -> str:
    return _GENDER.sub("", epithet)


def _places(*columns: Sequence[str]) -> dict[str, tuple[int, ...]]:
    """Gather the places at which each text stands, in any of the columns; '' is no text."""
    index: dict[str, tuple[int, ...]] = {}
    for column in columns:
        for place, key in enumerate(column):
            if key:
                index[key] = (*index.get(key, ()), place)
    return index


def _unlisted(bird: Bird) -> int:
    """How many lists have no code for the bird: sorts those first that both have."""
    return (not bird.code_ibp) + (not bird.code_bbl)


def _called(bird: Bird) -> str:
    """Give the name that whoever uses codes knows the bird by."""
    return bird.name_ibp or bird.name_bbl or bird.english


@cache
def _former_names() -> dict[str, tuple[str, ...]]:
    """Read what birds are called now, by the folded name that they had."""
    rows = csv.reader(io.StringIO(_FORMER.read_text(encoding="utf-8"), newline=""))
    next(rows)
    return {fold(former): tuple(now.split("; ")) for former, now, _ in rows}
