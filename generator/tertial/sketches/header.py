"""What the header of a picture file tells, without decoding it: for checks, which come before any build."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from pathlib import Path

# Tags of Exif 2.3: orientation (4.6.4), the way to position data (4.6.3), and latitude in it (4.6.6).
_ORIENTATION = 0x0112
_GPS = 0x8825
_LATITUDE = 2
_FIRST_LYING = 5  # Orientations from here on are turned by a quarter.


class Header(NamedTuple):
    """Size and secrets of a picture."""

    width: float
    """Width in pixels, of the picture held upright as viewers show it; whole but for an SVG."""

    height: float
    """Height in pixels."""

    has_position: bool
    """The file says where it was taken."""


def looks_like_svg(start: bytes) -> bool:
    """Tell from its first bytes whether a file is written in XML, in any encoding that begins like ASCII or UTF-16."""
    plain = start.replace(b"\0", b"").removeprefix(b"\xef\xbb\xbf").removeprefix(b"\xff\xfe").removeprefix(b"\xfe\xff")
    return plain.lstrip().startswith(b"<") and not plain.lstrip().lower().startswith(b"<!doctype html")


def read_header(path: Path) -> Header | Unreadable:
    """Read a picture's header, or say why the file is no picture that can be read."""
    try:
        with path.open("rb") as file:
            if looks_like_svg(file.read(1024)):
                from tertial.sketches.vector import read_svg  # noqa: PLC0415 - drawings need it, photographs do not

                drawing = read_svg(path.read_bytes())
                if isinstance(drawing, Unreadable):
                    return drawing
                return Header(drawing.width, drawing.height, has_position=False)
    except OSError as fault:
        return Unreadable(f"the file cannot be read ({fault.strerror})")
    return _raster_header(path)


def _raster_header(path: Path) -> Header | Unreadable:
    from PIL import Image, UnidentifiedImageError  # noqa: PLC0415 - guides without pictures never need it

    from tertial.sketches.kinds import BROKEN, EXPECTED, open_picture  # noqa: PLC0415 - imports Pillow

    try:
        with path.open("rb") as file, open_picture(file) as picture:
            # The method of PNG itself would decode the whole picture to look for Exif at its end.
            exif = Image.Image.getexif(picture)
            # Of a TIFF, Pillow gives the upright size by itself.
            lying = picture.format != "TIFF" and exif.get(_ORIENTATION, 1) >= _FIRST_LYING
            width, height = reversed(picture.size) if lying else picture.size
            return Header(width, height, _LATITUDE in exif.get_ifd(_GPS))
    except (UnidentifiedImageError, Image.DecompressionBombError, *BROKEN):
        return Unreadable(f"no picture can be read from it; {EXPECTED}")
