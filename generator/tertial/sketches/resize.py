"""Decoding and resizing with Pillow. The only module that imports it; see ``sizes`` for the store."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

if TYPE_CHECKING:
    from collections.abc import Iterator

# What authors have. Pillow knows many more kinds, and starts other programs for some of them.
_KINDS: Final = ("JPEG", "PNG", "WEBP", "TIFF", "GIF", "BMP")

_LONGEST: Final = 16383
"""Longest side that WebP can have, in pixels."""

_SRGB = ImageCms.createProfile("sRGB")


@dataclass(frozen=True, slots=True)
class Resized:
    """One size of a picture."""

    data: bytes
    """The file."""

    width: int
    """Width in pixels."""

    height: int
    """Height in pixels."""


@dataclass(frozen=True, slots=True)
class Failure:
    """A picture that could not be decoded."""

    reason: str
    """What was found and what was expected."""


def resize(
    data: bytes, widths: tuple[int, ...], most_pixels: int, quality: int, effort: int
) -> tuple[Resized, ...] | Failure:
    """Decode a picture and give it as WebP at several widths.

    :param data: a file of a kind that authors have; of several frames the first is taken.
    :param widths: widths in pixels, ascending; a width above the picture's own becomes its own.
    :param most_pixels: a picture with more is refused before it is decoded.
    :param quality: WebP quality from 0 to 100.
    :param effort: WebP method from 0 to 6.
    """
    try:
        with warnings.catch_warnings():
            # Size is judged below, from the header; other remarks on a file are of no use to its author.
            warnings.simplefilter("ignore")
            picture = Image.open(io.BytesIO(data), formats=_KINDS)
            if picture.width * picture.height > most_pixels:
                return _too_large(f"{picture.width} x {picture.height}", most_pixels)
            # JPEG decodes at a fraction of its size for a fraction of the cost.
            picture.draft("RGB", (2 * widths[-1], 2 * widths[-1]))
            upright = ImageOps.exif_transpose(picture)
            plain = _in_srgb(upright)
    except Image.DecompressionBombError:
        return _too_large("far too many", most_pixels)
    except UnidentifiedImageError:
        return Failure("the file is no picture of a known kind; JPEG, PNG, WebP or TIFF was expected")
    except (OSError, ValueError, SyntaxError, EOFError) as fault:
        return Failure(f"the picture is damaged ({fault}); a whole file was expected")
    return tuple(_encode(size, quality, effort) for size in _sizes(plain, widths))


def _too_large(found: str, most_pixels: int) -> Failure:
    return Failure(f"the picture has {found} pixels; at most {most_pixels // 1_000_000} million were expected")


def _in_srgb(picture: Image.Image) -> Image.Image:
    """Bring any mode and profile to RGB or RGBA in sRGB, without metadata."""
    profile = picture.info.get("icc_profile")
    if picture.mode.startswith("I") or picture.mode == "F":
        # Greys of 16 bits and more: Pillow would clip them to white. Only of 16 bits is the white known.
        high = 65535 if picture.mode.startswith("I;16") else picture.getextrema()[1]
        scale = 255 / high if isinstance(high, int | float) and high > 255 else 1
        picture = picture.convert("F").point(lambda value: value * scale).convert("L")
    alpha = picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info
    if picture.mode in ("P", "PA", "RGB", "RGBA"):
        picture = picture.convert("RGBA" if alpha else "RGB")
    if profile and picture.mode in ("RGB", "RGBA", "CMYK", "L"):
        mode = "RGBA" if picture.mode == "RGBA" else "RGB"
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            picture = ImageCms.profileToProfile(picture, source, _SRGB, outputMode=mode) or picture
        except (ImageCms.PyCMSError, OSError):
            # A broken profile says less than none.
            pass
    picture = picture.convert("RGBA" if alpha else "RGB")
    bare = Image.new(picture.mode, picture.size)
    bare.paste(picture)
    return bare


def _sizes(picture: Image.Image, widths: tuple[int, ...]) -> Iterator[Image.Image]:
    fitting = max(1, picture.width * _LONGEST // picture.height)
    wanted = sorted({min(width, picture.width, fitting) for width in widths})
    # From the largest down: a halving is then a cheap and exact reduction.
    made: dict[int, Image.Image] = {}
    for width in reversed(wanted):
        larger = min((w for w in made if w >= 2 * width), default=None)
        base = made[larger] if larger else picture
        size = width, min(_LONGEST, max(1, round(picture.height * width / picture.width)))
        made[width] = base if base.size == size else base.resize(size, Image.Resampling.LANCZOS)
    for width in wanted:
        yield made[width]


def _encode(picture: Image.Image, quality: int, effort: int) -> Resized:
    out = io.BytesIO()
    picture.save(out, "WEBP", quality=quality, method=effort)
    return Resized(out.getvalue(), picture.width, picture.height)
