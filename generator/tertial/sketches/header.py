"""What the header of a picture file tells, without decoding it: for checks, which come before any build."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

# Tags of Exif 2.3: orientation (4.6.4), the way to position data (4.6.3), and latitude in it (4.6.6).
_ORIENTATION = 0x0112
_GPS = 0x8825
_LATITUDE = 2
_FIRST_LYING = 5  # Orientations from here on are turned by a quarter.


@dataclass(frozen=True, slots=True)
class Header:
    """Size and secrets of a picture."""

    width: int
    """Width in pixels, of the picture held upright as viewers show it."""

    height: int
    """Height in pixels."""

    has_position: bool
    """The file says where it was taken."""


def read_header(path: Path) -> Header | None:
    """Read a picture's header; None when the file is no picture that can be read."""
    from PIL import Image, UnidentifiedImageError  # noqa: PLC0415 - guides without pictures never need it

    try:
        with warnings.catch_warnings():
            # How large is too large is for the build to say; here only numbers are read.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(path) as picture:
                # The method of PNG itself would decode the whole picture to look for Exif at its end.
                exif = Image.Image.getexif(picture)
                # Of a TIFF, Pillow gives the upright size by itself.
                lying = picture.format != "TIFF" and exif.get(_ORIENTATION, 1) >= _FIRST_LYING
                width, height = reversed(picture.size) if lying else picture.size
                return Header(width, height, _LATITUDE in exif.get_ifd(_GPS))
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError, EOFError):
        return None
