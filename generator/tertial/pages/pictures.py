"""Pictures as pages show them: files, sizes, words in place of them, what they point out, credit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from tertial.pages.naming import plumage_as_written
from tertial.pages.site import Link, Site, said
from tertial.sketches.developing import Choice
from tertial.sketches.labels import Label, Plate, place_labels
from tertial.sketches.sizes import Original

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from tertial.entries.pictures import Picture
    from tertial.entries.values import Pointer, Spot
    from tertial.guide import Account, Guide
    from tertial.sketches.sizes import PublishedPicture
    from tertial.text.source import SourceText

FOLDER = "pictures"
"""Folder of the published pictures in the guide."""

FINE: Final = 1.7
"""Pixels of a picture to a unit of a plate, which is a pixel of a wide screen and a third of one of a phone."""


class PointView(NamedTuple):
    """One thing that a picture points out."""

    link: Link
    """What it is, and the way to the page of parts."""

    row: str
    """Id of the row of this page that tells of it, or ''."""

    label: Label
    """Where its words stand beside the picture."""


class PictureView(NamedTuple):
    """One picture with its caption."""

    sizes: tuple[tuple[str, int], ...]
    """Address and width in pixels of each size, smallest first."""

    fallback: str
    """Address of the size for readers without WebP."""

    thumb: str
    """Address of the size beside a name in a list."""

    width: int
    """Width of the largest size."""

    height: int
    """Height of the largest size."""

    alt: str
    """Words in place of the picture."""

    shows: str = ""
    """The plumage it shows, or ''."""

    caption: tuple[Link, ...] = ()
    """The author's line under it."""

    points: tuple[PointView, ...] = ()
    """What the author points out in it."""

    frame: Plate | None = None
    """The frame that the words of ``points`` stand in; None when there are none."""

    credit: str = ""
    """Whose it is and under which licence, if not the guide's author's."""

    @property
    def smallest(self) -> str:
        """Address of the smallest size."""
        return self.sizes[0][0]

    @property
    def largest(self) -> str:
        """Address of the largest size."""
        return self.sizes[-1][0]


def original_of(guide: Guide, source: SourceText, picture: Picture) -> Original | None:
    """Give the file of a listed picture and how it is developed; None when there is no such file."""
    return original_named(guide, source, picture.file.value, said(picture.develop), picture.is_photo)


def original_named(
    guide: Guide, beside: SourceText | Account, name: str, asked: str, is_photo: bool
) -> Original | None:
    """Give a file named in an entry, and how it is developed.

    :param asked: what the entry asks of developing, or ''.
    """
    path = guide.beside(beside, name)
    if path is None:
        return None
    asked = asked or ("" if is_photo else said(guide.settings.develop))
    if not asked:
        return Original(path, Choice.NONE if is_photo else Choice.JUDGED)
    return Original(path, Choice.DRAWING if asked == "drawing" else Choice.NONE)


def published_spot(published: PublishedPicture, spot: Spot) -> tuple[float, float]:
    """Give where a spot that the author wrote lies in the largest size, in pixels."""
    return published.spot(float(spot.x), float(spot.y), percent=spot.percent)


def picture_views(
    site: Site,
    source: SourceText,
    pictures: tuple[Picture, ...],
    row_of: Callable[[str, str], str] = lambda _part, _shows: "",
) -> tuple[PictureView, ...]:
    """Gather the pictures of an entry, in its order; those that cannot be published are left out.

    :param row_of: gives the id of the page's row on a part as the author names it, for a picture that
        shows some plumage; '' where the page has none.
    """
    return tuple(_views(site, source, pictures, row_of))


def _views(
    site: Site, source: SourceText, pictures: tuple[Picture, ...], row_of: Callable[[str, str], str]
) -> Iterator[PictureView]:
    for picture in pictures:
        original = original_of(site.guide, source, picture)
        published = site.pictures.get(original) if original else None
        if published is not None:
            view = _view(site, published, plain_picture(picture))
            pointers = tuple(each.value for each in picture.pointers)
            frame = _frame(published, pointers, [site.part(each.name).text for each in pointers])
            labels = frame.labels if frame else ()
            points = tuple(
                PointView(site.part(pointer.name), row_of(pointer.name, said(picture.shows)), label)
                for pointer, label in zip(pointers, labels, strict=True)
            )
            yield view._replace(points=points, frame=frame)


PlainPicture: TypeAlias = tuple[str, str, bool, str, str, str, str, str]
"""File, what is asked of developing, whether it is a photo, author, licence, words in place of the picture,
plumage, caption; '' for none."""


def plain_picture(picture: Picture) -> PlainPicture:
    """Give what a list shows of a picture, as plain values."""
    return (
        picture.file.value,
        said(picture.develop),
        picture.is_photo,
        said(picture.by),
        said(picture.licence),
        said(picture.alt),
        said(picture.shows),
        said(picture.caption),
    )


def picture_view(site: Site, beside: SourceText | Account, picture: PlainPicture) -> PictureView | None:
    """Gather one picture of an entry as lists show it, without pointers; None if it cannot be published."""
    original = original_named(site.guide, beside, *picture[:3])
    published = site.pictures.get(original) if original else None
    return _view(site, published, picture) if published else None


def _view(site: Site, published: PublishedPicture, picture: PlainPicture) -> PictureView:
    _, _, _, author, licence, alt, shows, caption = picture
    return PictureView(
        _addresses(published),
        f"{FOLDER}/{published.fallback.name}",
        f"{FOLDER}/{published.thumb.name}",
        published.largest.width,
        published.largest.height,
        alt,
        plumage_as_written(site, shows),
        site.words(caption, site.mentions.running),
        (),
        None,
        ", ".join(part for part in (author, licence) if part),
    )


def _frame(published: PublishedPicture, pointers: tuple[Pointer, ...], names: Sequence[str]) -> Plate | None:
    if not pointers:
        return None
    spots = [published_spot(published, pointer.spot) for pointer in pointers]
    size = published.largest.width, published.largest.height
    return place_labels(spots, names, size)


def _addresses(published: PublishedPicture) -> tuple[tuple[str, int], ...]:
    return tuple((f"{FOLDER}/{size.name}", size.width) for size in published.renditions)


def body_image(site: Site, source: SourceText, target: str, alt: str) -> PictureView | None:
    """Give a picture that stands in the author's text, or None where there is none to publish."""
    file = site.guide.beside(source, target)
    published = site.pictures.get(Original(file)) if file else None
    if published is None:
        return None
    largest = published.largest
    fallback, thumb = (f"{FOLDER}/{each.name}" for each in (published.fallback, published.thumb))
    return PictureView(_addresses(published), fallback, thumb, largest.width, largest.height, alt)


def fine_address(published: PublishedPicture, width: float) -> str:
    """Give the smallest size that is so many pixels wide, else the largest."""
    fine = (size for size in (published.thumb, *published.renditions) if size.width >= width)
    return f"{FOLDER}/{next(fine, published.largest).name}"
