"""Pictures as pages show them: files, sizes, words in place of them, credit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from tertial.pages.site import Link, Site, said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.pictures import Picture
    from tertial.guide import Account
    from tertial.text.source import SourceText

FOLDER = "pictures"
"""Folder of the published pictures in the guide."""


@dataclass(frozen=True, slots=True)
class PictureView:
    """One picture with its caption."""

    sizes: tuple[tuple[str, int], ...]
    """Address and width in pixels of each size, smallest first."""

    width: int
    """Width of the largest size."""

    height: int
    """Height of the largest size."""

    alt: str
    """Words in place of the picture."""

    shows: str
    """The plumage it shows, or ''."""

    caption: tuple[Link, ...]
    """The author's line under it."""

    points_out: tuple[Link, ...]
    """Parts that the author points out in it."""

    credit: str
    """Whose it is and under which licence, if not the guide's author's."""

    @property
    def smallest(self) -> str:
        """Address of the smallest size."""
        return self.sizes[0][0]

    @property
    def largest(self) -> str:
        """Address of the largest size."""
        return self.sizes[-1][0]


def picture_views(site: Site, source: SourceText, pictures: tuple[Picture, ...]) -> tuple[PictureView, ...]:
    """Gather the pictures of an entry, in its order; those that cannot be published are left out."""
    return tuple(_views(site, source, pictures))


def _views(site: Site, source: SourceText, pictures: tuple[Picture, ...]) -> Iterator[PictureView]:
    for picture in pictures:
        view = picture_view(site, source, plain_picture(picture))
        if view is not None:
            yield view


PlainPicture: TypeAlias = tuple[str, str, str, str, str, str, tuple[str, ...]]
"""File, author, licence, words in place of the picture, plumage, caption, and what is pointed out; '' for none."""


def plain_picture(picture: Picture) -> PlainPicture:
    """Give what a page shows of a picture, as plain values."""
    return (
        picture.file.value,
        said(picture.by),
        said(picture.licence),
        said(picture.alt),
        said(picture.shows),
        said(picture.caption),
        tuple(pointer.value.name for pointer in picture.pointers),
    )


def picture_view(site: Site, beside: SourceText | Account, picture: PlainPicture) -> PictureView | None:
    """Gather one picture of an entry; None if it cannot be published."""
    name, author, licence, alt, shows, caption, pointed_out = picture
    file = site.guide.beside(beside, name)
    published = site.pictures.get(file) if file else None
    if published is None:
        return None
    return PictureView(
        tuple((f"{FOLDER}/{size.name}", size.width) for size in published.renditions),
        published.largest.width,
        published.largest.height,
        alt,
        shows,
        site.words(caption),
        tuple(site.part(part) for part in pointed_out),
        ", ".join(part for part in (author, licence) if part),
    )


def body_image(site: Site, source: SourceText, target: str, alt: str) -> PictureView | None:
    """Give a picture that stands in the author's text, or None where there is none to publish."""
    file = site.guide.beside(source, target)
    published = site.pictures.get(file) if file else None
    if published is None:
        return None
    sizes = tuple((f"{FOLDER}/{size.name}", size.width) for size in published.renditions)
    largest = published.largest
    return PictureView(sizes, largest.width, largest.height, alt, "", (), (), "")
