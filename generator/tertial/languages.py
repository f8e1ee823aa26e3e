"""The language that a guide asks for: its words, and what is wrong with the choice or with tables of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.layouts import LAYOUTS, layout_folders
from tertial.text.problem import Problem, Severity
from tertial.text.source import SourceText
from tertial.wording import ENGLISH, Wording
from tertial.wording.tables import language_for, languages, read_wording

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tertial.entries.settings import Settings


def wording_of(settings: Settings, folder: Path) -> Wording:
    """Give the words of a guide's pages; in English where it asks for none, or for what there is not.

    :param folder: the guide's folder, whose own tables stand before those of the program.
    """
    return read_wording(layout_folders(folder), settings.language.value if settings.language else ENGLISH)


def words_of_author(settings: Settings, folder: Path) -> Wording:
    """Give the words of the language that the entries of a guide are written in."""
    written = settings.written_in or settings.language
    return read_wording(layout_folders(folder), written.value if written else ENGLISH)


def language_problems(settings: Settings, folder: Path) -> Iterator[Problem]:
    """Name a language without words, and rows of the guide's own tables that cannot be used."""
    asked, known = settings.language, languages(layout_folders(folder))
    if asked and not language_for(asked.value, known):
        message = f"there are no words for pages in {asked.value!r}, so they are in English"
        mend = f"write {' or '.join(known)}, and written in: {asked.value} if the entries are in that language"
        yield Problem("not-a-choice", Severity.WARNING, settings.source, asked.span, message, mend)
    both = (*wording_of(settings, folder).faults, *words_of_author(settings, folder).faults)
    for table, line, message in dict.fromkeys(both):
        file = folder / LAYOUTS / table
        text = file.read_bytes().decode("utf-8", errors="replace") if file.is_file() else ""
        source = SourceText(f"{LAYOUTS}/{table}", text)
        mend = "mend this row of the table; until then it is as if it were not there"
        yield Problem("layout-fault", Severity.WARNING, source, source.line_span(line), message, mend)
