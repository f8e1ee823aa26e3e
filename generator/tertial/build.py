"""The whole way once: a guide is loaded, checked, rendered and put into ``build/``.

Errors stop before ``build/`` is touched. What goes into a page is for ``pages``, how files get
into place for ``stage``; this module only leads from one to the other.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.layouts import LAYOUTS, layout_folders, layout_text
from tertial.ledger import Ledger, read_ledger, settled, write_ledger
from tertial.loading import entry_paths, read_ground
from tertial.locking import alone
from tertial.pages.assets import all_assets
from tertial.pages.pictures import FOLDER as PICTURES
from tertial.pages.satchel import SCRIPT, kept_pictures, satchel
from tertial.pages.site import Site
from tertial.pages.templates import templates
from tertial.parallel import Halves
from tertial.report import Report
from tertial.showing import outside
from tertial.stage import OWN_LIST, InTheWay, Outcome, heal, is_unfinished, put
from tertial.text.problem import Severity
from tertial.text.quoting import unpacked
from tertial.unchanged import output_state_after, see, state, with_others
from tertial.working import Working

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tertial.unchanged import Seen

OUTPUT = "build"
"""Folder of the finished guide, in the guide's folder."""

WORK = ".tertial"
"""Folder for staging and for what is kept between builds, in the guide's folder."""


class Build(NamedTuple):
    """What a build came to."""

    report: Report
    """Every problem of the guide."""

    pages: int = 0
    """Number of pages of the guide, without data and feed; 0 when it was not built."""

    outcome: Outcome | InTheWay | None = None
    """What became of ``build/``; None when errors stopped the build before it."""

    seen: Seen | None = None
    """The state of what the guide is made of, unless it changed meanwhile, and that of the finished guide."""


def build_guide(folder: Path, progress: Callable[[str], None] = lambda _: None, seen: Seen | None = None) -> Build:
    """Build the guide in a folder; what the last build left and nothing has touched is not done again.

    :param folder: the guide's folder.
    :param progress: is told, in a few words, what comes next.
    :param seen: what was seen of the guide a moment ago, if anybody has looked.
    :returns: the report and what was written. Failures of the disk are raised as ``OSError``; the
        former guide is then still in place.
    """
    progress("reading the entries")
    with alone(folder / WORK, "building") as has_waited:
        is_unhealed = is_unfinished(folder / WORK)
        if is_unhealed:
            heal(folder / OUTPUT, folder / WORK)
        return _built(folder, progress, see(str(folder)) if seen is None or has_waited or is_unhealed else seen)


def _built(folder: Path, progress: Callable[[str], None], seen: Seen) -> Build:
    before, built = seen
    paths = tuple(entry_paths(folder))
    ledger = read_ledger(folder / WORK, seen, paths)
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
        also = outside(folder, shown.published)
        before = with_others(str(folder), before, also)
        problems.extend(shown.problems)
        if not halves.is_twin:
            progress("writing the pages")
        kept = templates(*layout_folders(folder), kept=folder / WORK / LAYOUTS)
        site = Site(working.guide, shown.published, shown.files, shown.previews, working.mentions)
        pages, works = working.rendered(site, kept)
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
    keep = partial(satchel, layout_text(folder, SCRIPT), kept_pictures(shown.published.values()))
    standing = {name.removeprefix("build/"): size for name, (size, _) in built.items()}
    outcome = put(folder / OUTPUT, folder / WORK, files, untouched, keep, standing)
    after = None
    if isinstance(outcome, Outcome) and before == state(str(folder), also):
        touched = (*outcome.written, *outcome.removed, OWN_LIST)
        after = before, output_state_after(str(folder), built, touched)
        done = Ledger(
            settled(before),
            after[1],
            working.entries,
            judgements | works,
            shown.plain(folder, folder / WORK / PICTURES),
            site.mentions.plain(),
        )
        write_ledger(folder / WORK, done)
    return Build(report, sum(path.endswith(".html") for path in works), outcome, after)
