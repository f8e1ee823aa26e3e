"""From a folder to the guide: finds the files, reads each, and links what belongs together."""

from __future__ import annotations

import os
import posixpath
from functools import partial
from itertools import chain, count
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from tertial.entries.load import read_entry
from tertial.entries.settings import read_settings
from tertial.entries.sheet import Reads, Sheet
from tertial.keeping import KeptEntries
from tertial.languages import language_problems
from tertial.linking import Ground, head_of, link
from tertial.marks.parts import load_parts
from tertial.own_words import own_part_problems, own_word_problems
from tertial.text.problem import Problem, Severity
from tertial.text.source import SourceText, Undecodable, read_source

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from tertial.entries.load import Entry
    from tertial.entries.sheet import Head
    from tertial.guide import Guide

SETTINGS_FILE = "guide.yaml"
"""The file that makes a folder a guide."""

ENTRIES_FOLDER = "entries"
"""Where its entries are, in any sub-folders."""

ENTRY_SUFFIXES = (".md", ".markdown")
"""What the name of an entry ends in."""


def find_guide(start: Path) -> Path | None:
    """Find the guide's folder: ``start`` or the nearest folder above it with a ``guide.yaml``."""
    return next((folder for folder in (start, *start.parents) if (folder / SETTINGS_FILE).is_file()), None)


def load_guide(folder: Path, cache: KeptEntries | None = None) -> Guide:
    """Load the guide in a folder, every entry of it.

    :param folder: a folder with ``guide.yaml`` and ``entries/``; either may be missing.
    :param cache: what an earlier load of this folder has read.
    :returns: the guide with all problems found on the way. Only the system's own failures
        (``OSError`` on a folder that cannot be read) are raised.
    """
    ground = read_ground(folder)
    kept = cache or KeptEntries()
    reads = Reads()
    sheets = [kept.sheet(path, ground, partial(read_sheet, ground, reads)) for path in entry_paths(folder)]
    found = (problem for sheet in sheets for problem in sheet.found()[1])
    return link(ground, sheets, (*ground.problems, *found), len(sheets))


def read_ground(folder: Path) -> Ground:
    """Read what holds for every entry: the settings, and the parts with the author's own words."""
    problems: list[Problem] = []
    settings, found = read_settings(_settings_source(folder, problems))
    problems.extend(found)
    widened = load_parts().with_words(settings.own_words("part"))
    problems.extend(own_part_problems(settings, widened))
    problems.extend(own_word_problems(settings))
    problems.extend(language_problems(settings, folder))
    problems.extend(_left_out(folder))
    return Ground(folder, settings, widened.table, tuple(problems))


def read_sheet(ground: Ground, reads: Reads, path: str, before: Head | None = None) -> Sheet[Entry]:
    """Read an entry at once, and give its sheet with its head, if it has one.

    :param before: the head that it had when it was read last.
    """
    sheet = unread_sheet(ground, reads, path)
    entry, _ = reads.silently(sheet.found)
    sheet.head = head_of(entry, ground.scheme, before) if entry is not None else None
    return sheet


def unread_sheet(
    ground: Ground,
    reads: Reads,
    path: str,
    head: Head | None = None,
    known: Callable[[], dict[str, Any]] | None = None,
) -> Sheet[Entry]:
    """Give the sheet of an entry that is read only if somebody asks for it."""
    return Sheet(path, reads, partial(_read, ground.folder, ground.folder / path), head, known)


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


def entry_paths(folder: Path) -> Iterator[str]:
    """Give the paths of entry files from the guide's folder, in order, whatever the order of the disk."""
    for inside, _, names in _folders(folder):
        yield from (f"{inside}/{name}" for name in names if name.endswith(ENTRY_SUFFIXES))


def _folders(folder: Path) -> Iterator[tuple[str, list[str], list[str]]]:
    """Give each folder of entries by its path, with the names of folders and files in it; hidden ones are left out."""
    top = folder / ENTRIES_FOLDER
    for where, folders, names in os.walk(top, onerror=_raise) if top.is_dir() else ():
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield Path(where).relative_to(folder).as_posix(), folders, sorted(n for n in names if not n.startswith("."))


def _left_out(folder: Path) -> Iterator[Problem]:
    """Name what stands among the entries, was most likely meant to be read, and is not."""
    for inside, folders, names in _folders(folder):
        for name in folders:
            if (folder / inside / name).is_symlink():
                message = f"the folder {name} is a link, which is not followed; a guide is one folder"
                yield _not_read(f"{inside}/{name}", message, "put the folder itself here")
        given: list[str] = []
        for name in names:
            if wanted := _entry_name(folder, inside, name):
                found, expected = posixpath.splitext(name)[1], posixpath.splitext(wanted)[1]
                message = f"the name ends in {found}, so the file is not read; {expected} was expected"
                free = _free_name(wanted, (other for other in (*folders, *names, *given) if other != name))
                given.append(free)
                mend = f"name it {free}"
                if free != wanted:
                    mend = f"the name {wanted} is taken: add what this file has to that one, or {mend}"
                yield _not_read(f"{inside}/{name}", message, mend)


def _entry_name(folder: Path, inside: str, name: str) -> str:
    """Give the name by which a file would be read that was most likely meant to be; '' for any other."""
    stem, ending = posixpath.splitext(name)
    if ending in ENTRY_SUFFIXES:
        return ""
    if ending.lower() in ENTRY_SUFFIXES:
        return stem + ending.lower()
    if ending.lower() != ".txt":
        return ""
    if stem.endswith(ENTRY_SUFFIXES):
        return stem
    return stem + ENTRY_SUFFIXES[0] if _has_fence(folder / inside / name) else ""


def _free_name(wanted: str, others: Iterable[str]) -> str:
    """Give the wanted name, with a number if another has it; some systems take capitals for small letters."""
    taken = {other.casefold() for other in others}
    stem, ending = posixpath.splitext(wanted)
    numbered = (f"{stem}-{number}{ending}" for number in count(2))
    return next(name for name in chain([wanted], numbered) if name.casefold() not in taken)


def _not_read(path: str, message: str, mend: str) -> Problem:
    nothing = SourceText(path, "")
    return Problem("not-read", Severity.WARNING, nothing, nothing.line_span(1), message, mend)


def _has_fence(path: Path) -> bool:
    """Tell whether a file begins as an entry does."""
    try:
        with path.open("rb") as file:
            return file.read(8).removeprefix(b"\xef\xbb\xbf").startswith((b"---\n", b"---\r"))
    except OSError:
        return False


def _raise(fault: OSError) -> NoReturn:
    # Left to itself, the walk goes past a folder that cannot be read, and its accounts would vanish.
    raise fault
