"""From a folder to the guide: finds the files, reads each, and links what belongs together."""

from __future__ import annotations

import os
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, NoReturn, TypeVar

from tertial.entries.flock import FlockEntry
from tertial.entries.load import read_entry
from tertial.entries.outing import OutingEntry
from tertial.entries.place import PlaceEntry
from tertial.entries.settings import Settings, read_settings
from tertial.entries.species import SpeciesEntry
from tertial.entries.unknown import UnknownEntry
from tertial.guide import Account, Flock, Guide, Outing, Pair, Place, Species, Unsolved, slug_of
from tertial.keeping import KeptEntries
from tertial.marks.parts import PartTable, load_parts
from tertial.marks.plumages import Plumage, read_plumage
from tertial.names.alpha import natural_code
from tertial.names.birds import Scheme, load_names
from tertial.own_words import own_part_problems, own_words
from tertial.text.problem import Problem, Severity
from tertial.text.source import SourceText, Undecodable, read_source

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from tertial.entries.load import Entry
    from tertial.entries.values import MeasureBlock, NamedMeasure, Phrase
    from tertial.marks.words import Words

T = TypeVar("T")

SETTINGS_FILE = "guide.yaml"
"""The file that makes a folder a guide."""

ENTRIES_FOLDER = "entries"
"""Where its entries are, in any sub-folders."""

ENTRY_SUFFIXES = (".md", ".markdown")
"""What the name of an entry ends in."""

# The page that lists a kind of account stands beside them and has a name already.
_LIST_PAGE: Final = "index"


def find_guide(start: Path) -> Path | None:
    """Find the guide's folder: ``start`` or the nearest folder above it with a ``guide.yaml``."""
    return next((folder for folder in (start, *start.parents) if (folder / SETTINGS_FILE).is_file()), None)


def load_guide(folder: Path, cache: KeptEntries | None = None) -> Guide:
    """Load the guide in a folder.

    :param folder: a folder with ``guide.yaml`` and ``entries/``; either may be missing.
    :param cache: what an earlier load of this folder has read.
    :returns: the guide with all problems found on the way. Only the system's own failures
        (``OSError`` on a folder that cannot be read) are raised.
    """
    problems: list[Problem] = []
    settings, found = read_settings(_settings_source(folder, problems))
    problems.extend(found)
    widened = load_parts().with_words(settings.own_words("part"))
    problems.extend(own_part_problems(settings, widened))
    words = own_words(settings, problems)

    kept = cache or KeptEntries()
    read: list[Entry] = []
    files = 0
    for path in _entry_files(folder):
        files += 1
        entry, found = kept.entry(path, partial(_read, folder, path))
        problems.extend(found)
        if entry is not None:
            read.append(entry)
    link = partial(_species, parts=widened.table, scheme="BBL" if settings.code_list == "BBL" else "IBP")
    species = _in_list_order([kept.species(entry, settings, link) for entry in _of(SpeciesEntry, read)])
    return _linked(folder, settings, widened.table, words, species, read, tuple(problems), files)


def _linked(
    folder: Path,
    settings: Settings,
    parts: PartTable,
    words: Words,
    species: tuple[Species, ...],
    read: list[Entry],
    problems: tuple[Problem, ...],
    files: int,
) -> Guide:
    flocks = tuple(
        Flock(entry, slug) for entry, slug in _slugged(_of(FlockEntry, read), lambda entry: entry.name.value)
    )
    places = tuple(
        Place(entry, slug)
        for entry, slug in _slugged(_of(PlaceEntry, read), lambda entry: (entry.id or entry.name).value)
    )
    by_id = {place.slug: place for place in reversed(places)}
    outings = tuple(
        Outing(entry, slug, by_id.get(entry.place.value) if entry.place else None)
        for entry, slug in _slugged(sorted(_of(OutingEntry, read), key=_beginning), lambda e: e.date.value.isoformat())
    )
    unsolved = tuple(
        Unsolved(entry, slug, by_id.get(entry.place.value) if entry.place else None)
        for entry, slug in _slugged(sorted(_of(UnknownEntry, read), key=_latest), lambda entry: entry.name.value)
    )
    by_code = {each.code: each for each in reversed(species)}
    accounts: tuple[Account, ...] = (*species, *flocks, *outings, *places, *unsolved)
    return Guide(
        folder,
        settings,
        species,
        tuple(sorted(flocks, key=lambda flock: flock.entry.name.value)),
        outings,
        tuple(sorted(places, key=lambda place: place.entry.name.value)),
        unsolved,
        tuple(_pairs(species, by_code)),
        parts,
        words,
        problems,
        files,
        by_code,
        frozenset(by_code),
        {each.entry.source.path: each for each in accounts},
    )


def _of(kind: type[T], read: list[Entry]) -> list[T]:
    return [entry for entry in read if isinstance(entry, kind)]


def _slugged(entries: Iterable[T], name: Callable[[T], str]) -> Iterator[tuple[T, str]]:
    """Give each entry a file name of its own; entries come in the order of their paths."""
    taken = {_LIST_PAGE}
    for entry in entries:
        yield entry, _unique(slug_of(name(entry)), taken)


def _beginning(entry: OutingEntry) -> tuple[int, str, str]:
    start = entry.start.value.isoformat() if entry.start else ""
    return (entry.date.value.toordinal(), start, entry.source.path)


def _latest(entry: UnknownEntry) -> tuple[int, str]:
    return (-entry.seen.value.toordinal() if entry.seen else 0, entry.source.path)


def _in_list_order(linked: list[Species]) -> tuple[Species, ...]:
    """Put species accounts in list order. Two of one name are an error, but both are there to be shown."""
    linked.sort(key=lambda species: (*species.list_order, species.entry.source.path))
    return tuple(replace(each, slug=slug) for each, slug in _slugged(linked, lambda species: species.name))


def _read(folder: Path, path: Path) -> tuple[Entry | None, tuple[Problem, ...]]:
    problems: list[Problem] = []
    source = _source(folder, path, problems)
    return read_entry(source) if source else (None, tuple(problems))


def _settings_source(folder: Path, problems: list[Problem]) -> SourceText:
    path = folder / SETTINGS_FILE
    source = _source(folder, path, problems) if path.is_file() else None
    return source or SourceText(SETTINGS_FILE, "")


def _source(folder: Path, path: Path, problems: list[Problem]) -> SourceText | None:
    name = path.relative_to(folder).as_posix()
    if path.is_symlink() and not Path(os.path.realpath(path)).is_relative_to(os.path.realpath(folder)):
        nothing = SourceText(name, "")
        message = "the file is a link that leads out of the guide's folder; a guide is one folder"
        mend = "put the file itself here"
        problems.append(Problem("not-text", Severity.ERROR, nothing, nothing.line_span(1), message, mend))
        return None
    try:
        source = read_source(path, name)
    except OSError as fault:
        nothing = SourceText(name, "")
        message = f"the file cannot be read ({fault.strerror}); a readable text file was expected"
        problems.append(
            Problem(
                "not-text",
                Severity.ERROR,
                nothing,
                nothing.line_span(1),
                message,
                "check the file's permissions",
            )
        )
        return None
    if isinstance(source, Undecodable):
        message = f"{source.reason}; text in UTF-8 was expected"
        mend = "save the file as UTF-8 in the text editor"
        problems.append(Problem("not-text", Severity.ERROR, source.source, source.span, message, mend))
        return None
    return source


def _entry_files(folder: Path) -> Iterator[Path]:
    """Give entry files in the order of their paths, whatever the order of the disk."""
    top = folder / ENTRIES_FOLDER
    for where, folders, names in os.walk(top, onerror=_raise) if top.is_dir() else ():
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            if name.endswith(ENTRY_SUFFIXES) and not name.startswith("."):
                yield Path(where, name)


def _raise(fault: OSError) -> NoReturn:
    # Left to itself, the walk goes past a folder that cannot be read, and its accounts would vanish.
    raise fault


def _species(entry: SpeciesEntry, parts: PartTable, scheme: Scheme) -> Species:
    found = load_names().find(entry.name.value)
    bird = found[0] if len(found) == 1 else None
    if entry.code:
        code = entry.code.value
    else:
        code = (bird.listed_code(scheme) if bird else "") or natural_code(entry.name.value).code
    return Species(entry, bird, code, "", _records(entry, parts), _measures(entry.measures, parts))


def _records(entry: SpeciesEntry, parts: PartTable) -> dict[Plumage, dict[str, Phrase]]:
    records: dict[Plumage, dict[str, Phrase]] = {}
    for block in entry.marks:
        plumage = read_plumage(block.plumage.value)
        if plumage is not None:
            under = records.setdefault(plumage, {})
            for phrase in block.phrases:
                under.setdefault(part_word(phrase.part.value, parts), phrase)
    return records


def _measures(blocks: tuple[MeasureBlock, ...], parts: PartTable) -> dict[Plumage, dict[str, NamedMeasure]]:
    records: dict[Plumage, dict[str, NamedMeasure]] = {}
    for block in blocks:
        plumage = read_plumage(block.plumage.value)
        if plumage is not None:
            under = records.setdefault(plumage, {})
            for measure in block.measures:
                under.setdefault(part_word(measure.part.value, parts), measure)
    return records


def part_word(text: str, parts: PartTable) -> str:
    """Give the preferred word for a part, or the author's own where the table has none."""
    part = parts.find(text)
    return part.word if part else text


def _pairs(species: tuple[Species, ...], by_code: Mapping[str, Species]) -> Iterator[Pair]:
    place = {each.code: at for at, each in enumerate(species)}
    found: set[tuple[int, int]] = set()
    for each in species:
        for similar in each.entry.similar:
            other = by_code.get(similar.code.value)
            if other is not None and other.code != each.code:
                first, second = sorted((place[each.code], place[other.code]))
                found.add((first, second))
    taken: set[str] = set()
    for first, second in sorted(found):
        slug = slug_of(f"{species[first].code} {species[second].code}")
        yield Pair(species[first], species[second], _unique(slug, taken))


def _unique(slug: str, taken: set[str]) -> str:
    candidate, number = slug, 1
    while candidate in taken:
        number += 1
        candidate = f"{slug}-{number}"
    taken.add(candidate)
    return candidate
