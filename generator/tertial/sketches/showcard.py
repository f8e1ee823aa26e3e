"""A picture that shows a page where only its address is given: drawings on paper with the names under them.

Drawn from sizes that are already developed, in the letters and colours of the pages.
"""

from __future__ import annotations

import io
from itertools import groupby
from typing import TYPE_CHECKING, Final

from PIL import Image, ImageChops, ImageDraw, ImageFont

from tertial.sketches.preview import SIZE, Column, Preview

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    Edges = tuple[int, int, int, int]

# Colours of layouts/style/20-paper-and-ink.css.
_PAPER: Final = "#f8f4ea"
_INK: Final = "#27221c"
_FAINT: Final = "#675c4d"
_HAIR: Final = "#cdc3b0"

_MARGIN: Final = 64
_GAP: Final = 48
_FOOT: Final = 92
_NAMES: Final = 118
"""Measures of the layout in pixels: our own choices."""

_TITLE: Final = 72
_NAME: Final = 50
_SMALL: Final = 28
_LEAST: Final = 20
_QUALITY: Final = 82


def draw(preview: Preview, letters: Path) -> bytes:
    """Draw a picture of ``SIZE``.

    :param letters: folder with the fonts of the pages.
    :returns: a JPEG.
    """
    (width, height), columns = SIZE, preview.columns
    upright, slanted = _Letters(letters, "normal"), _Letters(letters, "italic")
    sheet = Image.new("RGB", SIZE, _PAPER)
    pen = ImageDraw.Draw(sheet)
    inner = width - 2 * _MARGIN
    each = (inner - _GAP * (len(columns) - 1)) // max(1, len(columns))
    named = any(column.name for column in columns)
    floor = height - _FOOT if columns else (height + _TITLE) // 2
    name_size = _size(upright, [column.name for column in columns], each, _NAME)
    line_size = _size(slanted, [column.line for column in columns], each, _SMALL)
    for at, column in enumerate(columns):
        left = _MARGIN + at * (each + _GAP)
        middle = left + each // 2
        _lay(sheet, column, (left, _MARGIN // 2, left + each, floor - (_NAMES if named else _TITLE // 2)))
        upright.write(pen, column.name, (middle, floor - 62), each, name_size, _INK)
        slanted.write(pen, column.line, (middle, floor - 22), each, line_size, _FAINT)
    if named:
        pen.line((_MARGIN, floor, width - _MARGIN, floor), _HAIR, 2)
        size = _size(slanted, [preview.title], inner, _SMALL)
        slanted.write(pen, preview.title, (width // 2, floor + 54), inner, size, _FAINT)
    else:
        size = _size(upright, [preview.title], inner, _TITLE)
        upright.write(pen, preview.title, (width // 2, floor + 36), inner, size, _INK)
    out = io.BytesIO()
    sheet.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue()


def _lay(sheet: Image.Image, column: Column, box: Edges) -> None:
    """Lay a drawing into a box, its white becoming the paper."""
    left, upper, right, lower = box
    with Image.open(column.file) as picture:
        drawing = Image.new("RGB", picture.size, "white")
        clear = picture.convert("RGBA")
        drawing.paste(clear, mask=clear.getchannel("A"))
    scale = min((right - left) / drawing.width, (lower - upper) / drawing.height)
    size = max(1, round(drawing.width * scale)), max(1, round(drawing.height * scale))
    drawing = drawing.resize(size, Image.Resampling.BICUBIC, reducing_gap=2.0)
    paper = Image.new("RGB", size, _PAPER)
    where = left + (right - left - size[0]) // 2, upper + (lower - upper - size[1]) // 2
    sheet.paste(ImageChops.multiply(drawing, paper), where)


def _size(letters: _Letters, texts: Sequence[str], width: int, size: int) -> int:
    """Give the largest size up to one at which each text fits into a width."""
    while size > _LEAST and any(letters.width(text, size) > width for text in texts):
        size -= 2
    return size


class _Letters:
    """The fonts of the pages in one style.

    :param folder: where they lie.
    """

    def __init__(self, folder: Path, style: str) -> None:
        self._folder, self._style = folder, style
        self._fonts: dict[tuple[str, int], ImageFont.FreeTypeFont] = {}

    def width(self, text: str, size: int) -> float:
        """Give the width of a text in pixels; 0 for one that the fonts have no letters for."""
        return sum(self._font(subset, size).getlength(part) for part, subset in _runs(text))

    def write(
        self, pen: ImageDraw.ImageDraw, text: str, middle: tuple[int, int], width: int, size: int, colour: str
    ) -> None:
        """Write one line round the middle of its base line; nothing where it does not fit."""
        total = self.width(text, size)
        at = middle[0] - total / 2
        for part, subset in _runs(text) if total <= width else ():
            font = self._font(subset, size)
            pen.text((at, middle[1]), part, colour, font, anchor="ls")
            at += font.getlength(part)

    def _font(self, subset: str, size: int) -> ImageFont.FreeTypeFont:
        if (subset, size) not in self._fonts:
            file = self._folder / f"literata-{subset}-{self._style}.woff2"
            self._fonts[subset, size] = ImageFont.truetype(file, size)
        return self._fonts[subset, size]


def _runs(text: str) -> list[tuple[str, str]]:
    """Part a text by the font that has its letters; nothing where some sign is in neither.

    A line that is missing is better than one with empty boxes for letters.
    """
    parts = [(subset, "".join(signs)) for subset, signs in groupby(text, _subset)]
    return [(part, subset) for subset, part in parts if subset] if all(subset for subset, _ in parts) else []


def _subset(sign: str) -> str:
    # The ranges of the style sheet, as far as names of birds and guides need them.
    code = ord(sign)
    if code <= 0xFF or 0x2000 <= code <= 0x206F:
        return "latin"
    return "latin-ext" if code <= 0x2BA or 0x1E00 <= code <= 0x1EFF else ""
