"""The pictures of a guide as they are published: developed, or known from the last build."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tertial.pages.facts import named_pictures, pictures_in
from tertial.pages.pictures import FOLDER
from tertial.sketches.sizes import PictureStore, PublishedPicture, Rendition, Unreadable
from tertial.text.problem import Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from tertial.guide import Guide
    from tertial.text.source import SourceText, Span


@dataclass(frozen=True, slots=True)
class Shown:
    """All published pictures of a guide."""

    published: dict[Path, PublishedPicture]
    """Pictures by the author's file."""

    files: dict[str, Path]
    """The file of each size by its address."""

    problems: tuple[Problem, ...] = ()
    """Pictures that cannot be used."""

    def plain(self, guide: Path, store: Path) -> dict[str, dict[str, Any]]:
        """Turn the pictures into plain values, with paths from the guide's folder and from that of the store."""
        sizes = {
            _inside(guide, path): tuple((each.name, each.width, each.height) for each in picture.renditions)
            for path, picture in self.published.items()
        }
        return {"sizes": sizes, "files": {address: _inside(store, path) for address, path in self.files.items()}}


def from_plain(guide: Path, store: Path, values: Mapping[str, Mapping[str, Any]]) -> Shown:
    """Turn plain values back into pictures."""
    return Shown(
        {
            guide / path: PublishedPicture(tuple(Rendition(*size) for size in sizes))
            for path, sizes in values.get("sizes", {}).items()
        },
        {address: store / path for address, path in values.get("files", {}).items()},
    )


def develop(guide: Guide, store: Path) -> Shown:
    """Develop every picture that an entry lists or shows in its text."""
    keeper = PictureStore(store)
    shown = Shown({}, {})
    problems: list[Problem] = []
    for account in guide.accounts():
        for name in account.fact(named_pictures):
            path = guide.beside(account, name)
            if path is None or path in shown.published:
                continue
            found = keeper.publish(path)
            if isinstance(found, Unreadable):
                span = next(span for named, span in pictures_in(account) if named == name)
                problems.append(unusable_picture(path, found, account.entry.source, span))
                continue
            shown.published[path], sizes = found
            shown.files.update((f"{FOLDER}/{size}", file) for size, file in sizes.items())
    return Shown(shown.published, shown.files, tuple(problems))


def unusable_picture(path: Path, found: Unreadable, source: SourceText, span: Span) -> Problem:
    """Say of a picture that nothing could be made of it."""
    message = f"{path.name!r} cannot be used: {found.reason}"
    mend = "save the picture anew as JPEG or PNG, or take it out of the entry"
    return Problem("picture-unreadable", Severity.ERROR, source, span, message, mend)


def listed_pictures(guide: Guide) -> Iterator[tuple[Path, SourceText, Span]]:
    """Give every picture that an entry lists or shows in its text, and where it is named."""
    for account in guide.accounts():
        for name, span in pictures_in(account):
            path = guide.beside(account, name)
            if path is not None:
                yield path, account.entry.source, span


def _inside(folder: Path, path: Path) -> str:
    return str(path.relative_to(folder)) if path.is_relative_to(folder) else str(path)
