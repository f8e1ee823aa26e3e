"""The whole way to the pocket guide: a guide is loaded, checked, set as a book and put into ``pocket/``.

As with ``build``, errors stop before anything is written, and a file that is not ours is never written over.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final, NamedTuple

from tertial.build import WORK
from tertial.checks.every import check_guide
from tertial.layouts import built_in_layouts, layout_folders
from tertial.loading import load_guide
from tertial.locking import alone
from tertial.pages.assets import ASSETS, all_assets
from tertial.pages.pictures import FOLDER as PICTURES
from tertial.pages.pocket import pocket_book
from tertial.pages.site import Site
from tertial.report import Report
from tertial.showing import develop
from tertial.stage import InTheWay, Outcome, put
from tertial.text.problem import Severity
from tertial.typesetting import TEMPLATE, Unset, typeset

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Collection, Iterator
    from pathlib import Path

    from tertial.guide import Guide

OUTPUT: Final = "pocket"
"""Folder of the pocket guide, in the guide's folder."""

FILE: Final = "pocket-guide.pdf"
"""Its file."""


class Pocket(NamedTuple):
    """What came of it."""

    report: Report
    """The errors of the guide, if any."""

    outcome: Outcome | Unset | None
    """What became of the file, or why it was not made; None when errors stopped it."""


def make_pocket_guide(folder: Path, today: dt.date, progress: Callable[[str], None] = lambda _: None) -> Pocket:
    """Make the pocket guide of the guide in a folder.

    :param today: the day for what ``check`` says of dates; it has no say in the book.
    :param progress: is told, in a few words, what comes next.
    :returns: errors, and what was written. Failures of the disk are raised as ``OSError``.
    """
    progress("reading the entries")
    guide = load_guide(folder)
    problems = [*guide.problems, *check_guide(guide, today)]
    if not any(problem.severity is Severity.ERROR for problem in problems):
        progress("looking at the pictures")
        shown = develop(guide, folder / WORK / PICTURES)
        problems.extend(shown.problems)
    errors = Report.of([problem for problem in problems if problem.severity is Severity.ERROR], guide.files)
    if errors.has_errors:
        return Pocket(errors, None)
    progress("setting the book")
    book = pocket_book(Site(guide, shown.published, shown.files))
    pictures = {address: shown.files[address] for address in sorted({*_pictures(book)} & shown.files.keys())}
    template = next(file for each in layout_folders(folder) if (file := each / TEMPLATE).is_file())
    fonts = [
        file
        for address, file in sorted(dict(all_assets(folder)).items())
        if not isinstance(file, bytes) and address.startswith(_FONTS) and file.suffix == ".woff2"
    ]
    work = folder / WORK / OUTPUT
    with alone(work, "setting"):
        found = typeset(work, template, book, pictures, fonts, built_in_layouts() / TEMPLATE)
    if not isinstance(found, bytes):
        return Pocket(errors, _without_letters(guide, found.strange) if found.strange else found)
    outcome = put(folder / OUTPUT, work, {FILE: found})
    if isinstance(outcome, InTheWay):
        strangers = ", ".join(f"{OUTPUT}/{path}" for path in outcome.paths)
        return Pocket(errors, Unset(f"{strangers} is not tertial's, or changed by hand", "move it, or delete it"))
    return Pocket(errors, outcome)


_FONTS: Final = f"{ASSETS}/fonts/"


def _without_letters(guide: Guide, strange: Collection[str]) -> Unset:
    """Say which letters and signs of the author's no font has, and where each is first written."""
    sources = [guide.settings.source, *(entry.source for entry in guide.entries())]
    found = []
    for each in strange:
        source = next((source for source in sources if each in source.text), None)
        place = f" ({source.path}:{source.position(source.text.index(each)).line})" if source else ""
        found.append(f"{each!r}{place}")
    return Unset(f"no font of the book has {', '.join(found)}", "write it in other words, wherever it stands")


def _pictures(value: Any) -> Iterator[str]:
    """Give the addresses of pictures in plain values, each as often as it stands there."""
    if isinstance(value, str):
        if value.startswith(f"{PICTURES}/"):
            yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _pictures(each)
    elif isinstance(value, list):
        for each in value:
            yield from _pictures(each)
