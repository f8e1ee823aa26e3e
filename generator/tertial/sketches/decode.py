"""A file of the author's to plain pixels: upright, in sRGB, without metadata, no larger than is of use."""

from __future__ import annotations

import io
import threading
import warnings
from contextlib import nullcontext
from typing import Final, NamedTuple

from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

from tertial.sketches.kinds import BROKEN, EXPECTED, open_picture
from tertial.sketches.unreadable import Unreadable

_SRGB = ImageCms.createProfile("sRGB")

_LYING: Final = (5, 6, 7, 8)
"""Orientations that turn a picture by a quarter (Exif 2.3, 4.6.4)."""

# Two threads develop pictures. Of those that cannot be decoded at a fraction, only one of this size at a time:
# so the largest decoded picture bounds the memory, and not twice that.
_HEAVY: Final = 30_000_000
_one_heavy_at_a_time = threading.Lock()


class Decoded(NamedTuple):
    """The pixels of a picture."""

    picture: Image.Image
    """The picture, RGB or RGBA."""

    width: int
    """Width of the original in pixels, held upright as viewers show it."""

    height: int
    """Height of the original."""


def decode(data: bytes, least: int, most_pixels: int) -> Decoded | Unreadable:
    """Decode a file.

    :param data: a file of a kind that authors have; of several frames the first is taken.
    :param least: width in pixels below which the picture is not to be made smaller while it is decoded.
    :param most_pixels: a picture with more is refused before it is decoded.
    """
    try:
        picture = open_picture(io.BytesIO(data))
        if picture.width * picture.height > most_pixels:
            return _too_large(f"{picture.width} x {picture.height}", most_pixels)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return _decoded(picture, least)
    except Image.DecompressionBombError:
        return _too_large("far too many", most_pixels)
    except UnidentifiedImageError:
        return Unreadable(f"the file is no picture of a known kind; {EXPECTED}")
    except BROKEN as fault:
        return Unreadable(f"the picture is damaged ({fault}); a whole file was expected")


def _decoded(picture: Image.Image, least: int) -> Decoded:
    width, height = picture.size
    # Of a TIFF, Pillow gives the upright size by itself.
    lying = picture.format != "TIFF" and picture.getexif().get(0x0112) in _LYING
    # JPEG decodes at a fraction of its size for a fraction of the cost. Both sides are asked for the
    # same: of a lying picture the height becomes the width.
    longest, shortest = (height, width) if lying else (width, height)
    across = least, max(1, least * shortest // longest)
    picture.draft("RGB", (across[1], across[0]) if lying else across)
    heavy = picture.width * picture.height > _HEAVY
    with _one_heavy_at_a_time if heavy else nullcontext():
        ImageOps.exif_transpose(picture, in_place=True)
        plain = _in_srgb(picture)
    return Decoded(plain, longest, shortest)


def _too_large(found: str, most_pixels: int) -> Unreadable:
    return Unreadable(f"the picture has {found} pixels; at most {most_pixels // 1_000_000} million were expected")


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
        picture = _as(picture, "RGBA" if alpha else "RGB")
    if profile and picture.mode in ("RGB", "RGBA", "CMYK", "L"):
        mode = "RGBA" if picture.mode == "RGBA" else "RGB"
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            picture = ImageCms.profileToProfile(picture, source, _SRGB, outputMode=mode) or picture
        except (ImageCms.PyCMSError, OSError):
            # A broken profile says less than none.
            pass
    picture = _as(picture, "RGBA" if alpha else "RGB")
    # What an encoder would write along.
    picture.info = {}
    return picture


def _as(picture: Image.Image, mode: str) -> Image.Image:
    """Give a picture in a mode; one that is in it already is not copied."""
    picture.load()
    return picture if picture.mode == mode and "transparency" not in picture.info else picture.convert(mode)
