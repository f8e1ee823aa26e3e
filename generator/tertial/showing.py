"""The pictures of a guide as they are published: developed, or known from the last build."""

from __future__ import annotations

import os
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tertial.layouts import built_in_layouts
from tertial.loading import ENTRIES_FOLDER
from tertial.pages.facts import first_sketch, named_pictures, pictures_in
from tertial.pages.pictures import FOLDER, original_named
from tertial.pages.previews import previews_of
from tertial.pages.site import Site
from tertial.sketches.affine import Affine
from tertial.sketches.developing import Choice, Developing
from tertial.sketches.previewing import kept_previews
from tertial.sketches.sizes import Original, PictureStore, PublishedPicture, Rendition
from tertial.sketches.unreadable import Unreadable
from tertial.text.problem import Problem, Severity
from tertial.text.quoting import packed, unpacked

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from tertial.guide import Account, Guide
    from tertial.sketches.sizes import Published
    from tertial.text.source import SourceText, Span


@dataclass(frozen=True, slots=True)
class Shown:
    """All published pictures of a guide."""

    published: dict[Original, PublishedPicture]
    """Pictures by the author's file and how it is developed."""

    files: dict[str, Path]
    """The file of each size by its address."""

    problems: tuple[Problem, ...] = ()
    """What there is to say of pictures."""

    previews: dict[str, str] = field(default_factory=dict)
    """Addresses of pictures that show a page elsewhere, as ``Site`` has them."""

    def plain(self, guide: Path, store: Path) -> dict[str, Any]:
        """Turn the pictures into plain values, with paths from the guide's folder and from that of the store."""
        return {
            "pictures": tuple(
                (_inside(guide, original.path), original.choice.value, _plain(picture))
                for original, picture in self.published.items()
            ),
            "files": {address: _inside(store, path) for address, path in self.files.items()},
            "problems": tuple(packed(problem) for problem in self.problems),
            "previews": self.previews,
        }


def from_plain(guide: Path, store: Path, values: Mapping[str, Any]) -> Shown:
    """Turn plain values back into pictures."""
    return Shown(
        {
            Original(guide / path, Choice(choice)): _picture(*picture)
            for path, choice, picture in values.get("pictures", ())
        },
        {address: store / path for address, path in values.get("files", {}).items()},
        tuple(map(unpacked, values.get("problems", ()))),
        dict(values.get("previews", {})),
    )


def _plain(picture: PublishedPicture) -> tuple[Any, ...]:
    sizes = tuple(
        (each.name, each.width, each.height) for each in (*picture.renditions, picture.fallback, picture.thumb)
    )
    return sizes, picture.width, picture.height, picture.to_published.numbers, tuple(picture.developing)


def _picture(
    sizes: Sequence[tuple[str, int, int]],
    width: float,
    height: float,
    numbers: tuple[float, float, float, float, float, float],
    developing: tuple[bool, str, float, float],
) -> PublishedPicture:
    *renditions, fallback, thumb = (Rendition(*size) for size in sizes)
    return PublishedPicture(
        tuple(renditions), fallback, thumb, width, height, Affine(*numbers), Developing(*developing)
    )


def develop(guide: Guide, store: Path) -> Shown:
    """Develop every picture that an entry lists or shows in its text."""
    listed: dict[Original, list[tuple[Account, tuple[str, str, bool]]]] = {}
    for account in guide.accounts():
        for named in dict.fromkeys(account.fact(named_pictures)):
            original = original_named(guide, account, *named)
            if original is not None:
                listed.setdefault(original, []).append((account, named))
    in_lists = {
        original_named(guide, each, *sketch[:3]) for each in guide.accounts() if (sketch := each.fact(first_sketch))
    }
    shown = Shown({}, {})
    problems: list[Problem] = []
    for (original, places), found in zip(listed.items(), PictureStore(store).publish_all([*listed]), strict=True):
        if isinstance(found, Unreadable) or _is_worth_a_word(original, found[0]):
            for account, named in places:
                spans = [span for each, span in pictures_in(account) if each == named]
                for span in spans:
                    problems.extend(picture_problems(original, found, account.entry.source, span))
        if not isinstance(found, Unreadable):
            picture, sizes = found if original in in_lists else _without_thumb(*found)
            shown.published[original] = picture
            shown.files.update((f"{FOLDER}/{size}", file) for size, file in sizes.items())
    previews = _previews(guide, store, shown) if guide.settings.base_address else {}
    return Shown(shown.published, shown.files, tuple(problems), previews)


def _without_thumb(picture: PublishedPicture, sizes: Mapping[str, Path]) -> Published:
    """Leave out the size that only lists show, of a picture that stands in none."""
    smallest = picture.renditions[0]
    if picture.thumb == smallest:
        return picture, dict(sizes)
    kept = {name: file for name, file in sizes.items() if name != picture.thumb.name}
    return picture._replace(thumb=smallest), kept


def _previews(guide: Guide, store: Path, shown: Shown) -> dict[str, str]:
    """Draw what shows the pages elsewhere, and give its addresses by page. There is no elsewhere without an address."""
    files = {address.removeprefix(f"{FOLDER}/"): file for address, file in shown.files.items()}
    wanted = dict(previews_of(Site(guide, shown.published), files))
    letters = built_in_layouts() / "assets" / "fonts"
    addresses = {}
    for path, file in zip(wanted, kept_previews(store, letters, [*wanted.values()]), strict=True):
        addresses[path] = f"{FOLDER}/preview-{file.name}"
        shown.files[addresses[path]] = file
    return addresses


def said_anew(guide: Guide, shown: Shown, changed: Collection[str]) -> Shown:
    """Say again what there is to say of pictures of entries that have changed: their lines may have moved."""
    kept = [problem for problem in shown.problems if problem.source.path not in changed]
    for account in guide.accounts():
        for named, span in pictures_in(account) if account.path in changed else ():
            original = original_named(guide, account, *named)
            if original is not None and original in shown.published:
                found: Published = (shown.published[original], {})
                kept.extend(picture_problems(original, found, account.entry.source, span))
    return replace(shown, problems=tuple(kept))


def _is_worth_a_word(original: Original, picture: PublishedPicture) -> bool:
    """Whether a picture was developed without being asked to."""
    return original.choice is Choice.JUDGED and picture.developing.done


def picture_problems(
    original: Original, found: Published | Unreadable, source: SourceText, span: Span
) -> Iterator[Problem]:
    """Say of a picture that nothing could be made of it, or that it was developed without being asked to."""
    name = original.path.name
    if isinstance(found, Unreadable):
        message = f"{name!r} cannot be used: {found.reason}"
        mend = "save the picture anew as JPEG or PNG, or take it out of the entry"
        yield Problem("picture-unreadable", Severity.ERROR, source, span, message, mend)
    elif _is_worth_a_word(original, found[0]):
        developing = found[0].developing
        message = f"{name!r} was developed, because {developing.why}: {developing.words}"
        mend = "nothing needs doing; write develop: none to have it as it is, or develop: drawing to have it so always"
        yield Problem("picture-developed", Severity.REMARK, source, span, message, mend)


def outside(guide: Path, published: Iterable[Original]) -> tuple[str, ...]:
    """Give the published pictures that do not lie among the entries, by their paths from the guide's folder.

    A link among the entries may lead to a folder whose files nobody looks at for being there.
    """
    top = os.path.realpath(guide)
    paths = sorted({_inside(Path(top), Path(os.path.realpath(each.path))) for each in published})
    return tuple(path for path in paths if Path(path).parts[0] != ENTRIES_FOLDER)


def listed_pictures(guide: Guide) -> Iterator[tuple[Original, SourceText, Span]]:
    """Give every picture that an entry lists or shows in its text, and where it is named."""
    for account in guide.accounts():
        for named, span in pictures_in(account):
            original = original_named(guide, account, *named)
            if original is not None:
                yield original, account.entry.source, span


def _inside(folder: Path, path: Path) -> str:
    return str(path.relative_to(folder)) if path.is_relative_to(folder) else str(path)
