"""Which picture shows which page where only its address is given: what is drawn of it, and for whom."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from tertial.grouping import groups
from tertial.guide import Species
from tertial.pages.facts import named_pictures
from tertial.pages.frame import frame_of
from tertial.pages.naming import account_named
from tertial.pages.pictures import original_named
from tertial.pages.site import account_path, group_path, pair_path
from tertial.pages.telling import is_kept_quiet
from tertial.sketches.preview import Column, Preview

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from tertial.guide import Account, Guide
    from tertial.pages.site import Site
    from tertial.sketches.sizes import Original, PublishedPicture

_MOST: Final = 3
"""Drawings that stand beside each other and can still be told."""
_PLAIN: Final = ("", "")


def previews_of(site: Site, files: Mapping[str, Path]) -> Iterator[tuple[str, Preview]]:
    """Give what is drawn for each page by its path; what stands under '' is for every page without one of its own.

    Only heads, lists of pictures and which places are held back are asked for, so that it holds as long as these do.

    :param files: files of the picture store by name.
    """
    guide, published = site.guide, site.pictures
    title = frame_of(site).title

    def columns(*accounts: Account, named: bool = True) -> tuple[Column, ...]:
        found = []
        for account in accounts[:_MOST]:
            # A narrow column needs no wide drawing.
            file = _sketch(guide, account, published, files, narrow=len(accounts) > 1)
            if file is not None:
                found.append(Column(file, *(_words(site, account) if named else _PLAIN)))
        return tuple(found)

    drawn = [each for each in guide.species if _sketch(guide, each, published, files, narrow=True)]
    samples = drawn[:: max(1, len(drawn) // _MOST)][:_MOST]
    yield "", Preview(title, columns(*samples, named=False))
    seen = (each for each in guide.unsolved if not is_kept_quiet(each))
    accounts: tuple[Account, ...] = (*guide.species, *guide.flocks, *seen)
    subjects: list[tuple[str, tuple[Account, ...]]] = [(account_path(each), (each,)) for each in accounts]
    subjects += [(pair_path(pair), (pair.first, pair.second)) for pair in guide.pairs]
    subjects += [(group_path(group.slug), group.members) for group in groups(guide)]
    for path, shown_there in subjects:
        if shown := columns(*shown_there):
            yield path, Preview(title, shown)


def _words(site: Site, account: Account) -> tuple[str, str]:
    return account_named(site, account), account.scientific if isinstance(account, Species) else ""


def _sketch(
    guide: Guide,
    account: Account,
    published: Mapping[Original, PublishedPicture],
    files: Mapping[str, Path],
    *,
    narrow: bool,
) -> Path | None:
    """Give a size of the first sketch that has pixels."""
    for name, asked, is_photo in account.fact(named_pictures):
        original = None if is_photo else original_named(guide, account, name, asked, is_photo)
        picture = published.get(original) if original else None
        if picture is not None and not picture.fallback.name.endswith(".svg"):
            fitting = picture.smallest if narrow else picture.renditions[len(picture.renditions) // 2]
            return files[fitting.name]
    return None
