"""What the header of a picture file tells, without decoding it: for checks, which come before any build."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

_GPS = 0x8825  # The tag of Exif 2.3, 4.6.3, that leads to position data.


@dataclass(frozen=True, slots=True)
class Header:
    """Size and secrets of a picture."""

    width: int
    """Width in pixels, as the file holds it."""

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
                return Header(picture.width, picture.height, bool(picture.getexif().get_ifd(_GPS)))
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError, EOFError):
        return None
