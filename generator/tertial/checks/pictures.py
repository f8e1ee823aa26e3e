"""Pictures that entries name: that they are there, and that they have words in their place."""

from __future__ import annotations

from difflib import get_close_matches
from functools import lru_cache
from typing import TYPE_CHECKING

from tertial.sketches.header import Header, read_header
from tertial.sketches.unreadable import Unreadable
from tertial.text.problem import Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tertial.entries.pictures import Picture
    from tertial.entries.values import Spot
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


def picture_unreadable(guide: Guide) -> Iterator[Problem]:
    """A file that is no picture, or has lost its beginning. What is damaged further on, a build finds."""
    for source, name, span, path in _there(guide):
        header = _header(path)
        if isinstance(header, Unreadable):
            message = f"{name!r} cannot be shown: {header.reason}"
            mend = "save the picture anew as JPEG or PNG, or take it out of the entry"
            yield Problem("picture-unreadable", Severity.ERROR, source, span, message, mend)


def spot_outside(guide: Guide) -> Iterator[Problem]:
    """A pointer, a scale or a head that lies outside its picture."""
    for entry, picture in guide.pictures():
        spots = _spots(picture)
        path = guide.beside(entry.source, picture.file.value) if spots else None
        header = _header(path) if path else None
        if not isinstance(header, Header):
            continue
        for name, spot, span in spots:
            width, height = (100, 100) if spot.percent else (header.width, header.height)
            if spot.x > width or spot.y > height:
                where = f"{spot.x}% {spot.y}%" if spot.percent else f"{spot.x},{spot.y}"
                size = "ends at 100% 100%" if spot.percent else f"has {width:g} by {height:g} pixels"
                message = f"the spot {where} of {name!r} lies outside {picture.file.value!r}, which {size}"
                mend = "look the spot up in this very file; a smaller copy has other pixels"
                yield Problem("spot-outside", Severity.WARNING, entry.source, span, message, mend)


def picture_has_position(guide: Guide) -> Iterator[Problem]:
    """A picture whose file says where it was taken: harmless in the guide, not when sent by itself."""
    for source, name, span, path in _there(guide):
        header = _header(path)
        if isinstance(header, Header) and header.has_position:
            message = f"{name!r} carries the position where it was taken; the guide publishes it without"
            mend = "nothing needs doing for the guide; take the position out before you send the file itself"
            yield Problem("picture-has-position", Severity.REMARK, source, span, message, mend)


def picture_uncredited(guide: Guide) -> Iterator[Problem]:
    """A friend's picture without a licence, or a licence without a friend."""
    for entry, picture in guide.pictures():
        if picture.by and not picture.licence:
            message = f"{picture.file.value!r} is by {picture.by.value}, but what they allow is not written"
            mend = "ask, and write licence: and what was agreed"
            yield Problem("picture-uncredited", Severity.WARNING, entry.source, picture.by.span, message, mend)
        elif picture.licence and not picture.by:
            message = f"{picture.file.value!r} has a licence of its own, but whose picture it is is not written"
            mend = "write by: and whose picture it is, or take the licence out"
            yield Problem("picture-uncredited", Severity.WARNING, entry.source, picture.licence.span, message, mend)


def _there(guide: Guide) -> Iterator[tuple[SourceText, str, Span, Path]]:
    for source, name, span in _named(guide):
        path = guide.beside(source, name)
        if path is not None:
            yield source, name, span, path


@lru_cache(maxsize=4096)
def _header_of(path: Path, size: int, changed: int) -> Header | Unreadable:
    return read_header(path)


def _header(path: Path) -> Header | Unreadable:
    """Read a header once, for as long as its file stays as it is."""
    stat = path.stat()
    return _header_of(path, stat.st_size, stat.st_mtime_ns)


def _spots(picture: Picture) -> tuple[tuple[str, Spot, Span], ...]:
    found: list[tuple[str, Spot, Span]] = []
    if picture.scale:
        scale = picture.scale.value
        ends = ((scale.start_name, scale.start), (scale.end_name, scale.end))
        found += [(name or "scale", spot, picture.scale.span) for name, spot in ends]
    if picture.head:
        head = picture.head.value
        found += [("head", spot, picture.head.span) for spot in (head.corner, head.opposite)]
    found += [(pointer.value.name, pointer.value.spot, pointer.span) for pointer in picture.pointers]
    return tuple(found)
