"""The whole way once: a guide is loaded, checked, rendered and put into ``build/``.

Errors stop before ``build/`` is touched. What goes into a page is for ``pages``, how files get
into place for ``stage``; this module only leads from one to the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

from tertial.checks import check_guide
from tertial.loading import load_guide
from tertial.pages.accounts import species_pages
from tertial.pages.comparison import pair_pages
from tertial.pages.flocks import flock_pages
from tertial.pages.ladder import ladder_pages
from tertial.pages.lists import list_pages
from tertial.pages.news import feed_pages
from tertial.pages.outings import outing_pages, place_pages
from tertial.pages.pictures import FOLDER as PICTURES
from tertial.pages.pictures import original_of
from tertial.pages.reference import reference_pages
from tertial.pages.render import Renderer
from tertial.pages.site import Page, Site
from tertial.pages.templates import LAYOUTS, built_in_layouts
from tertial.pages.unsolved import unsolved_pages
from tertial.parallel import rendered_pages
from tertial.report import Report
from tertial.sketches.developing import Choice
from tertial.sketches.sizes import Original, PictureStore, PublishedPicture
from tertial.sketches.unreadable import Unreadable
from tertial.stage import InTheWay, Outcome, put
from tertial.text.problem import Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from tertial.guide import Guide
    from tertial.sketches.sizes import Published
    from tertial.text.source import SourceText, Span

OUTPUT = "build"
"""Folder of the finished guide, in the guide's folder."""

WORK = ".tertial"
"""Folder for staging and for what is kept between builds, in the guide's folder."""

ASSETS = "assets"
"""Folder of style sheet, fonts and icon: in ``layouts`` and in the finished guide."""


QUESTION_STYLE = "question.css"
"""Style sheet of the questions to send, in ``layouts``; it goes into each of them whole."""


@dataclass(frozen=True, slots=True)
class Build:
    """What a build came to."""

    report: Report
    """Every problem of the guide."""

    pages: int = 0
    """Number of pages of the guide; 0 when it was not built."""

    outcome: Outcome | InTheWay | None = None
    """What became of ``build/``; None when errors stopped the build before it."""


def build_guide(folder: Path, progress: Callable[[str], None] = lambda _: None) -> Build:
    """Build the guide in a folder.

    :param folder: the guide's folder.
    :param progress: is told, in a few words, what comes next.
    :returns: the report and what was written. Failures of the disk are raised as ``OSError``; the
        former guide is then still in place.
    """
    progress("reading the entries")
    guide = load_guide(folder)
    problems = [*guide.problems, *check_guide(guide)]
    if any(problem.severity is Severity.ERROR for problem in problems):
        return Build(Report.of(problems, guide.files))

    progress("looking at the pictures")
    published, files, found = _pictures(guide)
    problems.extend(found)
    progress("writing the pages")
    site = Site(guide, published, files)
    pages = tuple(all_pages(site, files))
    for path, rendered in rendered_pages(Renderer(site), pages):
        if isinstance(rendered, Problem):
            problems.append(rendered)
        else:
            files[path] = rendered
    files.update(all_assets(folder))
    report = Report.of(problems, guide.files)
    if report.has_errors:
        return Build(report)
    return Build(report, len(pages), put(folder / OUTPUT, folder / WORK, files))


def all_pages(site: Site, files: Mapping[str, bytes | Path]) -> Iterator[Page]:
    """Give every page of the guide.

    :param files: published files by address, for pages that carry pictures along.
    """
    return chain(
        list_pages(site),
        ladder_pages(site),
        species_pages(site),
        pair_pages(site),
        flock_pages(site),
        unsolved_pages(site, _question_style(site.guide), files),
        outing_pages(site),
        place_pages(site),
        reference_pages(site),
        feed_pages(site),
    )


def _question_style(guide: Guide) -> str:
    """The style sheet that a question carries along; a guide's own replaces the built-in."""
    own = guide.folder / LAYOUTS / QUESTION_STYLE
    return (own if own.is_file() else built_in_layouts() / QUESTION_STYLE).read_text(encoding="utf-8").strip()


def all_assets(folder: Path) -> Iterator[tuple[str, Path]]:
    """Give style sheet, fonts and icon; a file of the guide's own replaces the built-in of its name."""
    for layouts in (built_in_layouts(), folder / LAYOUTS):
        assets = layouts / ASSETS
        for path in sorted(assets.rglob("*")) if assets.is_dir() else ():
            inside = path.relative_to(assets)
            if path.is_file() and not any(part.startswith(".") for part in inside.parts):
                yield f"{ASSETS}/{inside.as_posix()}", path


def _pictures(guide: Guide) -> tuple[dict[Original, PublishedPicture], dict[str, bytes | Path], list[Problem]]:
    """Develop every picture that an entry lists or shows in its text."""
    store = PictureStore(guide.folder / WORK / "pictures")
    published: dict[Original, PublishedPicture] = {}
    files: dict[str, bytes | Path] = {}
    problems: list[Problem] = []
    listed = {original: (source, span) for original, source, span in reversed([*listed_pictures(guide)])}
    for (original, place), found in zip(listed.items(), store.publish_all([*listed]), strict=True):
        problems.extend(picture_problems(original, found, *place))
        if isinstance(found, Unreadable):
            continue
        published[original], sizes = found
        files.update((f"{PICTURES}/{name}", file) for name, file in sizes.items())
    return published, files, problems


def picture_problems(
    original: Original, found: Published | Unreadable, source: SourceText, span: Span
) -> Iterator[Problem]:
    """Say of a picture that nothing could be made of it, or that it was developed without being asked to."""
    name = original.path.name
    if isinstance(found, Unreadable):
        message = f"{name!r} cannot be used: {found.reason}"
        mend = "save the picture anew as JPEG or PNG, or take it out of the entry"
        yield Problem("picture-unreadable", Severity.ERROR, source, span, message, mend)
    elif original.choice is Choice.JUDGED and found[0].developing.done:
        developing = found[0].developing
        message = f"{name!r} was developed, because {developing.why}: {developing.words}"
        mend = "nothing needs doing; write develop: none to have it as it is, or develop: drawing to have it so always"
        yield Problem("picture-developed", Severity.REMARK, source, span, message, mend)


def listed_pictures(guide: Guide) -> Iterator[tuple[Original, SourceText, Span]]:
    """Give every picture that an entry lists or shows in its text, and where it is named."""
    for entry, picture in guide.pictures():
        original = original_of(guide, entry.source, picture)
        if original is not None:
            yield original, entry.source, picture.file.span
    for source, reference in guide.references():
        path = guide.beside(source, reference.target) if reference.kind == "image" else None
        if path is not None:
            yield Original(path), source, reference.span
