"""The words of pages in one language: phrases, numbers, days, names of parts and plumages.

English phrases are the keys, and English itself needs no table. What another language says stands in tables
under ``layouts/words``, one folder a language (see ``wording.tables``). A lookup is one ``dict.get``. What
authors write is never put through here.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from tertial.wording.mentioned import Naming, Telling

ENGLISH: Final = "en"
"""The language of the keys."""

MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
"""Names of the months, as keys."""

_NUMBER = re.compile(r"(?<![\d.])(\d+)(?:\.(\d+))?")
_TERRITORY: Final = 2
"""Letters of a territory in a tag (ISO 3166-1)."""
_LIGATURES: Final = str.maketrans({"œ": "oe", "æ": "ae"})
_NO_BREAK: Final = "\N{NO-BREAK SPACE}"


class PartName(NamedTuple):
    """What a part of a bird is called."""

    said: str
    """With its article, in the number in which it is mostly used."""

    name: str
    """The same without."""

    several: str
    """Several of them, without an article."""

    is_several: bool
    """The name itself is a plural."""

    meaning: str
    """One sentence for a beginner."""


class PlumageName(NamedTuple):
    """What one word of a plumage is called."""

    alone: str
    """By itself, or leading others."""

    behind: str
    """Led by another."""

    several: str
    """Like ``alone``, of several birds."""

    several_behind: str
    """Like ``behind``, of several birds."""


class Fault(NamedTuple):
    """A row of a table that cannot be used."""

    table: str
    """The table, by its path from the folder of layouts."""

    line: int
    """Its line, from 1."""

    message: str
    """What is wrong with it, in words."""


@dataclass(frozen=True, slots=True)
class Wording:
    """How pages speak in one language; without any table, in English."""

    tag: str = ENGLISH
    """The language, as BCP 47 writes it."""

    rules: Mapping[str, str] = field(default_factory=dict)
    """How the language writes; each rule is explained in ``layouts/words/README.md``."""

    phrases: Mapping[str, str] = field(default_factory=dict)
    """Phrases by the English phrase."""

    several: Mapping[str, str] = field(default_factory=dict)
    """Of phrases with a number, the one for several, by the English phrase for one."""

    parts: Mapping[str, PartName] = field(default_factory=dict)
    """Parts of a bird by the preferred English word."""

    plumages: Mapping[str, PlumageName] = field(default_factory=dict)
    """Words of plumages by the preferred English word."""

    sorts: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Words by which a sort of birds is looked for, by the first English word for it."""

    mentions: Mapping[str, Naming] = field(default_factory=dict)
    """Words that name parts only sometimes; without any, running text of the language names none."""

    telling: Mapping[str, Telling] = field(default_factory=dict)
    """Words that tell whether a part is named."""

    faults: tuple[Fault, ...] = ()
    """Rows that could not be used."""

    @property
    def is_english(self) -> bool:
        """Whether this is the language of the keys."""
        return self.tag.partition("-")[0].lower() == ENGLISH

    @property
    def locale(self) -> str:
        """The language with a territory, as the Open Graph protocol wants it: ``fr_FR``; '' where none is told."""
        told = territory_of(self.tag) or self.rules.get("territory", "")
        return f"{self.tag.partition('-')[0]}_{told.upper()}" if told else ""

    def say(self, phrase: str, **values: object) -> str:
        """Give a phrase, with values in the places that it names: ``%(name)s``."""
        said = self.phrases.get(phrase, phrase)
        return self.contracted(said % values) if values else said

    def form(self, one: str, several: str, number: float) -> str:
        """Choose between the phrase for one and that for several, its places unfilled.

        A language that has no plural for 0 or for fractions below 2 says so by its rule.
        """
        if f"{number:g}" == "1" or (number < 2 and "plural from" in self.rules):
            return self.phrases.get(one, one)
        return self.several.get(one, several)

    def count(self, one: str, several: str, number: float, **values: object) -> str:
        """Give the phrase that fits a number, which stands in its place ``%(num)s``."""
        values = {"num": self.numbers(f"{number:g}"), **values}
        return self.contracted(self.form(one, several, number) % values)

    def contracted(self, text: str) -> str:
        """Join what the language joins when an article comes to stand behind another word: ``de le`` to ``du``."""
        for apart, joined in _contractions(self.rules.get("contractions", "")):
            text = apart.sub(joined, text)
        return text

    def numbers(self, text: str) -> str:
        """Write the numbers in a text as the language does: ``1234.5`` in French as ``1 234,5``."""
        decimal, thousands = self.rules.get("decimal mark", "."), self.rules.get("thousands mark", "")
        if (decimal, thousands) == (".", ""):
            return text

        def written(found: re.Match[str]) -> str:
            whole = f"{int(found[1]):,}".replace(",", thousands) if len(found[1]) > 3 else found[1]
            return whole + (decimal + found[2] if found[2] else "")

        return _NUMBER.sub(written, text)

    def amount(self, number: str, unit: str) -> str:
        """Write a number, or a range of two, with its unit, which never parts from it."""
        return f"{self.numbers(number)}{_NO_BREAK}{self.rules.get(f'unit {unit}', unit)}"

    def day(self, date: dt.date | None) -> str:
        """Write a date as people read it, whatever the machine's locale; '' for none."""
        if date is None:
            return ""
        number = self.rules.get("first day", "1") if date.day == 1 else str(date.day)
        return f"{number} {self.say(MONTHS[date.month - 1])} {date.year}"

    def months(self, numbers: Sequence[int]) -> str:
        """Name months, each run of them by its first and last; a run may lead past the end of the year.

        :param numbers: from 1 to 12, ascending, each once.
        """
        if len(numbers) == len(MONTHS):
            return self.say("all year")
        return ", ".join(self._run(run) for run in _runs(numbers))

    def _run(self, run: Sequence[int]) -> str:
        first, last = (self.say(MONTHS[number - 1]) for number in (run[0], run[-1]))
        return first if len(run) == 1 else self.say("%(first)s to %(last)s", first=first, last=last)

    def both(self, words: Iterable[str]) -> str:
        """List what holds together: ``a, b and c``."""
        return self._listed(words, self.phrases.get("%(first)s and %(last)s", "%(first)s and %(last)s"))

    def either(self, words: Iterable[str]) -> str:
        """List what holds by turns: ``a, b or c``."""
        return self._listed(words, self.phrases.get("%(first)s or %(last)s", "%(first)s or %(last)s"))

    def _listed(self, words: Iterable[str], pattern: str) -> str:
        *before, last = list(words) or [""]
        return pattern % {"first": ", ".join(before), "last": last} if before else last

    def part(self, word: str) -> str:
        """Name a part of a bird by its preferred English word; any other word stays as it is."""
        known = self.parts.get(word)
        return known.name if known else word

    def part_said(self, word: str) -> str:
        """Name a part as it stands in a phrase: with its article where the language joins the two."""
        known = self.parts.get(word)
        return known.said if known else word

    def meaning(self, word: str) -> str:
        """Explain a part; '' where there is no sentence on it."""
        known = self.parts.get(word)
        return known.meaning if known else ""

    def plumage(self, words: Sequence[str]) -> str:
        """Name a plumage by its English words, in their order."""
        if not self.plumages:
            return " ".join(words)
        first, *others = self._plumage(words)
        return " ".join((first.alone, *(each.behind for each in others)))

    def birds(self, words: Sequence[str]) -> str:
        """Name the birds of a plumage likewise, as one names several; '' in English, which needs no table for it."""
        if not self.plumages:
            return ""
        first, *others = self._plumage(words)
        return " ".join((first.several, *(each.several_behind for each in others)))

    def _plumage(self, words: Sequence[str]) -> Iterator[PlumageName]:
        """What comes last in English leads, where the rules say so."""
        for word in reversed(words) if "plumage turned" in self.rules else words:
            yield self.plumages.get(word) or PlumageName(word, word, word, word)

    def plumage_words(self, words: Iterable[str]) -> Iterator[str]:
        """Give every form of words of plumages, by the English words; none in English, which needs no table."""
        for each in words:
            yield from self.plumages.get(each, ())

    def order(self, text: str) -> tuple[str, str]:
        """Give a key by which names are sorted: by letters first, by accents and capitals only among equals."""
        if self.is_english:
            return (text.casefold(), text)
        plain = (char for char in unicodedata.normalize("NFKD", text) if not unicodedata.combining(char))
        return ("".join(plain).casefold().translate(_LIGATURES), text)


def territory_of(tag: str) -> str:
    """Give the two letters of the territory that a language tag names (BCP 47, 2.2.4), or ''."""
    return next((each for each in tag.split("-")[1:] if len(each) == _TERRITORY), "")


PLAIN: Final = Wording()
"""English, as the phrases themselves have it."""


@lru_cache(maxsize=8)
def _contractions(rule: str) -> tuple[tuple[re.Pattern[str], str], ...]:
    """Give what finds each wording of a rule, and what to write for it."""
    pairs = (pair.partition("=") for pair in rule.split(";") if pair)
    return tuple(
        (re.compile(rf"\b{re.escape(apart.strip())} "), joined.strip().replace("\\", r"\\") + " ")
        for apart, _, joined in pairs
    )


def _runs(numbers: Sequence[int]) -> list[list[int]]:
    """Part months into runs; December and January meet."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    if len(runs) > 1 and runs[0][0] == 1 and runs[-1][-1] == len(MONTHS):
        runs[0] = [*runs.pop(), *runs[0]]
    return runs
