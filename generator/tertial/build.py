"""The whole way once: a guide is loaded, checked, rendered and put into ``build/``.

Errors stop before ``build/`` is touched. What goes into a page is for ``pages``, how files get
into place for ``stage``; this module only leads from one to the other.
"""

from __future__ import annotations

from functools import partial
from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

from tertial.layouts import LAYOUTS, built_in_layouts, layout_folders
from tertial.ledger import Ledger, read_ledger, settled, write_ledger
from tertial.loading import entry_paths, read_ground
from tertial.pages.accounts import species_pages
from tertial.pages.assets import all_assets
from tertial.pages.browse import browse_pages
from tertial.pages.browse_shelf import Shelf
from tertial.pages.cards import card_pages
from tertial.pages.comparison import pair_pages
from tertial.pages.finding import finding_pages
from tertial.pages.flocks import flock_pages
from tertial.pages.groups import group_pages
from tertial.pages.ladder import ladder_pages
from tertial.pages.lists import list_pages
from tertial.pages.news import feed_pages
from tertial.pages.outings import outing_pages, place_pages
from tertial.pages.pictures import FOLDER as PICTURES
from tertial.pages.reference import reference_pages
from tertial.pages.satchel import SCRIPT, kept_pictures, manifest_pages, satchel
from tertial.pages.site import Page, Site
from tertial.pages.templates import templates
from tertial.pages.unsolved import unsolved_pages
from tertial.pages.ways import way_pages
from tertial.parallel import Halves
from tertial.report import Report
from tertial.stage import InTheWay, Outcome, put
from tertial.text.problem import Severity
from tertial.text.quoting import unpacked
from tertial.unchanged import output_state, state
from tertial.working import Working

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from tertial.unchanged import State

OUTPUT = "build"
"""Folder of the finished guide, in the guide's folder."""

WORK = ".tertial"
"""Folder for staging and for what is kept between builds, in the guide's folder."""

QUESTION_STYLE = "question.css"
"""Style sheet of the questions to send, in ``layouts``; it goes into each of them whole."""


class Build(NamedTuple):
    """What a build came to."""

    report: Report
    """Every problem of the guide."""

    pages: int = 0
    """Number of pages of the guide, without data and feed; 0 when it was not built."""

    outcome: Outcome | InTheWay | None = None
    """What became of ``build/``; None when errors stopped the build before it."""

    seen: tuple[State, State] | None = None
    """The state of what the guide is made of, unless it changed meanwhile, and that of the finished guide."""


def build_guide(folder: Path, progress: Callable[[str], None] = lambda _: None) -> Build:
    """Build the guide in a folder; what the last build left and nothing has touched is not done again.

    :param folder: the guide's folder.
    :param progress: is told, in a few words, what comes next.
    :returns: the report and what was written. Failures of the disk are raised as ``OSError``; the
        former guide is then still in place.
    """
    progress("reading the entries")
    before, paths = state(str(folder)), tuple(entry_paths(folder))
    ledger = read_ledger(folder, folder / WORK, before, paths)
    fresh = [path for path in paths if path not in ledger.entries or ledger.state.get(path) != before.get(path)]
    with Halves(len(fresh)) as halves:
        working = Working(read_ground(folder), ledger, paths, fresh, halves)
        judgements = working.judged()
        problems = [*working.problems(), *(unpacked(each) for work in judgements.values() for each in work.problems)]
        if any(problem.severity is Severity.ERROR for problem in problems):
            return Build(Report.of(problems, len(paths)))

        if not halves.is_twin:
            progress("looking at the pictures")
        shown = working.pictures(folder / WORK / PICTURES)
        problems.extend(shown.problems)
        if not halves.is_twin:
            progress("writing the pages")
        kept = templates(*layout_folders(folder), kept=folder / WORK / LAYOUTS)
        site = Site(working.guide, shown.published, shown.files, shown.previews)
        pages, works = working.rendered(site, kept, partial(all_pages, site, shown.files))
    files: dict[str, bytes | Path] = {path: page for path, page in pages.items() if isinstance(page, bytes)}
    problems += [unpacked(page) for page in pages.values() if not isinstance(page, bytes)]
    untouched = []
    if working.is_linked_as_before:
        untouched = [path for name in ledger.output if (path := name.removeprefix("build/")) not in files]
    else:
        files.update(shown.files)
        files.update(all_assets(folder))
    report = Report.of(problems, len(paths))
    if report.has_errors:
        return Build(report)
    keep = partial(satchel, _layout(folder, SCRIPT), kept_pictures(shown.published.values()))
    outcome = put(folder / OUTPUT, folder / WORK, files, untouched, keep)
    seen = None
    if isinstance(outcome, Outcome) and before == state(str(folder)):
        seen = before, output_state(str(folder))
        done = Ledger(
            settled(before),
            seen[1],
            working.entries,
            judgements | works,
            shown.plain(folder, folder / WORK / PICTURES),
        )
        write_ledger(folder / WORK, done)
    return Build(report, sum(path.endswith(".html") for path in works), outcome, seen)


def all_pages(site: Site, files: Mapping[str, bytes | Path]) -> Iterator[Page]:
    """Give every page of the guide.

    :param files: published files by address, for pages that carry pictures along.
    """
    shelf = Shelf(site)
    return chain(
        list_pages(site),
        finding_pages(site, shelf),
        way_pages(site, shelf),
        ladder_pages(site),
        species_pages(site),
        pair_pages(site),
        card_pages(site),
        group_pages(site),
        browse_pages(site, shelf),
        flock_pages(site),
        unsolved_pages(site, _layout(site.guide.folder, QUESTION_STYLE).strip(), files),
        outing_pages(site),
        place_pages(site),
        reference_pages(site),
        feed_pages(site),
        manifest_pages(site),
    )


def _layout(folder: Path, name: str) -> str:
    """Give the text of a layout that is no template; a guide's own replaces the built-in."""
    own = folder / LAYOUTS / name
    return (own if own.is_file() else built_in_layouts() / name).read_text(encoding="utf-8")
