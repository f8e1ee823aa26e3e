"""Pictures as pages show them: files, sizes, words in place of them, credit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tertial.pages.site import Link, Site, said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.entries.pictures import Picture
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
        file = site.guide.beside(source, picture.file.value)
        published = site.pictures.get(file) if file else None
        if published is not None:
            credit = ", ".join(part for part in (said(picture.by), said(picture.licence)) if part)
            yield PictureView(
                tuple((f"{FOLDER}/{size.name}", size.width) for size in published.renditions),
                published.largest.width,
                published.largest.height,
                said(picture.alt),
                said(picture.shows),
                site.words(said(picture.caption)),
                tuple(site.part(pointer.value.name) for pointer in picture.pointers),
                credit,
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
