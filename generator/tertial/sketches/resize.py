"""From a file of the author's to the files that are published: decoded, developed, made smaller, encoded."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Final, NamedTuple

from PIL import Image

from tertial.sketches.affine import Affine, scaled
from tertial.sketches.decode import decode
from tertial.sketches.developing import AS_IT_IS, Choice, Developing
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Iterator

_LONGEST: Final = 16383
"""Longest side that WebP can have, in pixels."""


class Encoding(NamedTuple):
    """How pictures are written."""

    quality: int
    """WebP quality from 0 to 100."""

    effort: int
    """WebP method from 0 to 6."""

    fallback_quality: int = 80
    """JPEG quality of the size for readers without WebP."""


class Resized(NamedTuple):
    """One size of a picture."""

    data: bytes
    """The file."""

    width: int
    """Width in pixels."""

    height: int
    """Height in pixels."""

    suffix: str
    """Ending of its name: ``.webp``, ``.jpg`` or ``.png``."""


class Made(NamedTuple):
    """Everything that is published of a picture."""

    sizes: tuple[Resized, ...]
    """Its sizes in WebP, ascending."""

    fallback: Resized
    """One middling size for readers without WebP: JPEG, or PNG where something is clear."""

    thumb: Resized
    """What stands beside a name in a list, in WebP: half as wide as the narrowest size, and no wider than it is."""

    width: int
    """Width of the original in pixels, held upright."""

    height: int
    """Height of the original."""

    to_published: Affine
    """From pixels of the original, held upright, to pixels of the largest size."""

    developing: Developing
    """What was done to it."""


def resize(
    data: bytes, widths: tuple[int, ...], most_pixels: int, encoding: Encoding, choice: Choice = Choice.NONE
) -> Made | Unreadable:
    """Make what is published of a file.

    :param data: a file of a kind that authors have; of several frames the first is taken.
    :param widths: widths in pixels, ascending; a width above the picture's own becomes its own.
    :param most_pixels: a picture with more is refused before it is decoded.
    :param choice: whether it is developed as a photographed drawing.
    """
    # A drawing may fill no more than half of its photo.
    least = widths[-1] if choice is Choice.NONE else 2 * widths[-1]
    decoded = decode(data, least, most_pixels)
    if isinstance(decoded, Unreadable):
        return decoded
    picture, developing = decoded.picture, AS_IT_IS
    to_picture = scaled(picture.width / decoded.width, picture.height / decoded.height)
    if choice is not Choice.NONE:
        from tertial.sketches.develop import develop  # noqa: PLC0415 - numpy, for drawings alone

        picture, to_developed, developing = develop(picture, widths[-1], choice)
        to_picture = to_picture.then(to_developed)
    thumb, *sizes = _sizes(picture, (widths[0] // 2, *widths))
    sizes = sizes or [thumb]
    largest = sizes[-1]
    return Made(
        tuple(_webp(size, encoding) for size in sizes),
        _fallback(sizes[len(sizes) // 2], encoding),
        _webp(thumb, encoding),
        decoded.width,
        decoded.height,
        to_picture.then(scaled(largest.width / picture.width, largest.height / picture.height)),
        developing,
    )


def _sizes(picture: Image.Image, widths: tuple[int, ...]) -> Iterator[Image.Image]:
    fitting = max(1, picture.width * _LONGEST // picture.height)
    wanted = sorted({min(width, picture.width, fitting) for width in widths})
    # From the largest down: a halving is then a cheap and exact reduction.
    made: dict[int, Image.Image] = {}
    for width in reversed(wanted):
        size = width, min(_LONGEST, max(1, round(picture.height * width / picture.width)))
        made[width] = _smaller(min((each for each in made.values()), key=_width, default=picture), size)
    for width in wanted:
        yield made[width]


def _width(picture: Image.Image) -> int:
    return picture.width


def _smaller(picture: Image.Image, size: tuple[int, int]) -> Image.Image:
    if picture.size == size:
        return picture
    if picture.size == (2 * size[0], 2 * size[1]):
        return picture.reduce(2)
    # Not from much further than twice the size: what is skipped over would be lost, or cost much.
    gap = 2.0 if min(picture.size[0] // size[0], picture.size[1] // size[1]) >= 4 else None
    return picture.resize(size, Image.Resampling.BICUBIC, reducing_gap=gap)


def _webp(picture: Image.Image, encoding: Encoding) -> Resized:
    out = io.BytesIO()
    picture.save(out, "WEBP", quality=encoding.quality, method=encoding.effort)
    return Resized(out.getvalue(), picture.width, picture.height, ".webp")


def _fallback(picture: Image.Image, encoding: Encoding) -> Resized:
    out = io.BytesIO()
    if picture.mode == "RGBA":
        picture.save(out, "PNG", compress_level=6)
        return Resized(out.getvalue(), picture.width, picture.height, ".png")
    picture.save(out, "JPEG", quality=encoding.fallback_quality, optimize=True)
    return Resized(out.getvalue(), picture.width, picture.height, ".jpg")
