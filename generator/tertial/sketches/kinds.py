"""Which kinds of picture are read, and how such a file is opened without being decoded."""

from __future__ import annotations

import warnings
from typing import IO, Final

from PIL import Image

# What authors have. Pillow knows many more kinds, and starts other programs for some of them.
_KINDS: Final = ("JPEG", "PNG", "WEBP", "TIFF", "GIF", "BMP", "AVIF")

# ISO/IEC 14496-12, 4.3: a file of this family begins with its brand; ISO/IEC 23008-12, 10: those of HEVC pictures.
_BRANDS: Final = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"})

BROKEN: Final = (OSError, ValueError, SyntaxError, EOFError, RuntimeError)
"""What Pillow and its plugins raise on a damaged file."""

EXPECTED: Final = "JPEG, PNG, WebP, TIFF, AVIF, HEIC or SVG was expected"
"""What a file should have been, in words for its author."""


def open_picture(file: IO[bytes]) -> Image.Image:
    """Open a picture and read its header.

    :param file: the file, at its beginning.
    :returns: the picture, not decoded; of several frames the first. What is no picture of a known
        kind raises ``UnidentifiedImageError``, what is damaged one of ``BROKEN``,
        and what is far too large ``DecompressionBombError``, as Pillow does.
    """
    start = file.read(12)
    file.seek(0)
    heif = start[4:8] == b"ftyp" and start[8:12] in _BRANDS
    if heif:
        from pillow_heif import register_heif_opener  # noqa: PLC0415 - a heavy library that few guides need

        register_heif_opener(thumbnails=False)
    with warnings.catch_warnings():
        # How large is too large is said by whoever asks; other remarks on a file are of no use to its author.
        warnings.simplefilter("ignore")
        return Image.open(file, formats=("HEIF", "AVIF") if heif else _KINDS)
