"""Pictures that entries name: that they are there, and that they have words in their place."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from tertial.text.problem import Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide
    from tertial.text.source import SourceText, Span


def picture_missing(guide: Guide) -> Iterator[Problem]:
    """A picture that is not beside its entry."""
    for source, name, span in _named(guide):
        if guide.beside(source, name) is None:
            folder = (guide.folder / source.path).parent
            beside = sorted(path.name for path in folder.iterdir() if path.is_file() and path.suffix != ".md")
            there = {each.casefold(): each for each in beside}
            near = get_close_matches(name.casefold(), there, n=1, cutoff=0.85)
            where = folder.relative_to(guide.folder).as_posix()
            if "://" in name:
                message = f"{name!r} is an address on the web; a file of this guide was expected"
                mend = "save the picture beside the entry and write the name of its file"
            else:
                message = f"{name!r}, seen from {where}/, is no file of this guide; a picture was expected"
                mend = f"write {there[near[0]]}" if near else "put the picture beside the entry, or mend its name"
            yield Problem("picture-missing", Severity.ERROR, source, span, message, mend)


def no_alt_text(guide: Guide) -> Iterator[Problem]:
    """A picture without words for those who cannot see it."""
    mend = "add alt: and what the picture shows, in one sentence"
    for entry, picture in guide.pictures():
        if picture.alt is None:
            message = f"the picture {picture.file.value!r} has no alt text; a sentence on what it shows was expected"
            yield Problem("no-alt-text", Severity.WARNING, entry.source, picture.file.span, message, mend)
    for source, reference in guide.references():
        if reference.kind == "image" and not reference.text.strip():
            message = f"the picture {reference.target!r} has no alt text; words between ![ and ] were expected"
            mend_body = "write what the picture shows between ![ and ]"
            yield Problem("no-alt-text", Severity.WARNING, source, reference.span, message, mend_body)


def _named(guide: Guide) -> Iterator[tuple[SourceText, str, Span]]:
    for entry, picture in guide.pictures():
        yield entry.source, picture.file.value, picture.file.span
    for source, reference in guide.references():
        if reference.kind == "image":
            yield source, reference.target, reference.span
