"""The tables of a language: ``layouts/words/TAG``, of the program and of a guide, which may change single rows."""

from __future__ import annotations

import csv
import re
from typing import TYPE_CHECKING, Final

from tertial.wording import ENGLISH, Fault, PartName, PlumageName, Wording
from tertial.wording.mentioned import SORTS, TELLING, Naming, Telling

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from pathlib import Path

WORDS: Final = "words"
"""Folder of the languages in ``layouts``."""

_COLUMNS: Final = {
    "rules.csv": ("rule", "value"),
    "phrases.csv": ("phrase", "said", "several"),
    "parts.csv": ("part", "said", "several", "meaning"),
    "plumages.csv": ("plumage", "alone", "behind", "several", "several behind"),
    "sorts.csv": ("sort", "said"),
    "mentions.csv": ("word", "behind", "reason"),
    "telling.csv": ("word", "standing before", "standing behind"),
}
"""The columns of each table."""

_CHOICES: Final = {"mentions.csv": SORTS, "telling.csv": TELLING}
"""What the second column of a table may hold, where that is not any words."""

_PLACES = re.compile(r"%\((\w+)\)s")
_THIN: Final = "\N{NARROW NO-BREAK SPACE}"

Rows = dict[str, tuple[str, ...]]


def languages(folders: Sequence[Path]) -> tuple[str, ...]:
    """Give the languages that pages can be in: English, and those with a folder."""
    found = {ENGLISH}
    for folder in folders:
        words = folder / WORDS
        found.update(path.name for path in words.iterdir() if path.is_dir()) if words.is_dir() else ()
    return tuple(sorted(found))


def language_for(tag: str, known: Sequence[str]) -> str:
    """Give the language that serves a tag, regions left out where they have no words of their own; '' for none."""
    by_tag = {name.lower(): name for name in known}
    parts = tag.lower().split("-")
    tried = ("-".join(parts[:length]) for length in range(len(parts), 0, -1))
    return next((by_tag[each] for each in tried if each in by_tag), "")


def read_wording(folders: Sequence[Path], tag: str) -> Wording:
    """Read how pages speak; English where there are no words for a language.

    :param folders: folders of layouts, a guide's own first: its rows stand before those of the program.
    :param tag: the language, as BCP 47 writes it.
    """
    language = language_for(tag, languages(folders))
    if not language:
        return Wording()
    faults: list[Fault] = []
    tables: dict[str, Rows] = {name: {} for name in _COLUMNS}
    for folder in reversed(folders):
        for name, columns in _COLUMNS.items():
            path = f"{WORDS}/{language}/{name}"
            tables[name].update(_rows(folder / path, path, columns, faults))
    rules = {rule: value for rule, (value,) in tables["rules.csv"].items()}
    set_type = _Typesetting(rules)
    phrases = {phrase: set_type(said) for phrase, (said, _) in tables["phrases.csv"].items()}
    several = {phrase: set_type(several) for phrase, (_, several) in tables["phrases.csv"].items() if several}
    parts = {word: _part(rules, set_type, *row) for word, row in tables["parts.csv"].items()}
    plumages = {word: PlumageName(*map(set_type, row)) for word, row in tables["plumages.csv"].items()}
    sorts = {
        sort: tuple(word for each in said.split(";") if (word := each.strip()))
        for sort, (said,) in tables["sorts.csv"].items()
    }
    mentions = {
        word.strip(): Naming(*row) for words, row in tables["mentions.csv"].items() for word in words.split(";")
    }
    telling = {word: Telling(*row) for word, row in tables["telling.csv"].items()}
    return Wording(tag, rules, phrases, several, parts, plumages, sorts, mentions, telling, tuple(faults))


def _rows(file: Path, path: str, columns: Sequence[str], faults: list[Fault]) -> Iterator[tuple[str, tuple[str, ...]]]:
    if not file.is_file():
        return
    text = file.read_bytes().decode("utf-8-sig", errors="replace")
    reader, choices = csv.DictReader(text.splitlines()), _CHOICES.get(file.name)
    if tuple(reader.fieldnames or ()) != tuple(columns):
        faults.append(Fault(path, 1, f"the columns {', '.join(columns)} were expected in the first line"))
        return
    for row in reader:
        key, *cells = (str(row[column] or "").strip(" ") for column in columns)
        known = set(_places(key))
        strange = set(_places(cells[0])) - known
        # What is said of several may tell their number, where the English of one does without.
        strange |= {place for cell in cells[1:] for place in _places(cell)} - known - {"num"}
        if strange:
            names = ", ".join(f"%({name})s" for name in sorted(strange))
            faults.append(Fault(path, reader.line_num, f"{names} has no place in {key!r}"))
        elif choices and cells[0] not in choices:
            faults.append(Fault(path, reader.line_num, f"{cells[0]!r} is none of {', '.join(choices)}"))
        elif any(cells):
            yield key, tuple(cells)


def _places(text: str) -> Iterator[str]:
    """Give the places of a phrase; a sign of per cent that begins none is a place that nothing fits."""
    yield from _PLACES.findall(text)
    if "%" in _PLACES.sub("", text):
        yield "%"


class _Typesetting:
    """Puts the spaces that a language wants, so that its tables can be typed with plain ones."""

    def __init__(self, rules: Mapping[str, str]) -> None:
        before, behind = rules.get("thin space before", ""), rules.get("thin space behind", "")
        self._before = re.compile(f" ([{re.escape(before)}])") if before else None
        self._behind = re.compile(f"([{re.escape(behind)}]) ") if behind else None
        self._apostrophe = rules.get("apostrophe", "'")

    def __call__(self, text: str) -> str:
        text = text.replace("'", self._apostrophe)
        if self._before:
            text = self._before.sub(rf"{_THIN}\1", text)
        return self._behind.sub(rf"\1{_THIN}", text) if self._behind else text


def _part(rules: Mapping[str, str], set_type: _Typesetting, said: str, several: str, meaning: str) -> PartName:
    said = set_type(said)
    article = next((each for each in map(set_type, _articles(rules, "articles")) if said.startswith(each)), "")
    is_several = any(said.startswith(each) for each in _articles(rules, "articles of several"))
    name = said.removeprefix(article)
    return PartName(said, name, set_type(several) or name, is_several, set_type(meaning))


def _articles(rules: Mapping[str, str], rule: str) -> Iterator[str]:
    """Give articles as they stand before a word: one that ends in an apostrophe without a space."""
    for article in rules.get(rule, "").split():
        yield article if article.endswith("'") else f"{article} "
