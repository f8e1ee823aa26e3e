"""Photographs of known drawings, made up for tests: light that falls off, a shadow, a lean, grain, a table."""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from PIL import Image, ImageDraw, ImageFilter
from tests.demo.photograph import DRAWINGS, render
from tests.demo.spots import read_drawing

from tertial.sketches.affine import Affine, scaled, shifted, turned

if TYPE_CHECKING:
    from numpy.typing import NDArray

WASH = (238, 226, 190)
"""A pale wash, lighter than the paper of most sketch books in poor light."""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph of a drawing."""

    picture: Image.Image
    """The photograph."""

    taken: Affine
    """From pixels of the drawing to those of the photograph."""


@dataclass(frozen=True, slots=True)
class Circumstances:
    """How a photograph is taken."""

    lean: float = 0.0
    """By how many degrees the sheet is turned clockwise."""

    table: int = 0
    """Pixels of a dark table round the sheet."""

    dim: float = 0.45
    """How much darker the dimmest corner is than the brightest."""

    shadow: float = 0.25
    """How dark a soft shadow across a corner is."""

    grain: float = 0.012
    """Standard deviation of the sensor's noise."""

    texture: float = 0.012
    """Standard deviation of the paper's own unevenness."""

    paper: tuple[float, float, float] = (0.93, 0.90, 0.83)
    """Colour of paper and light."""


def photograph(drawing: Image.Image, size: tuple[int, int], how: Circumstances, seed: int = 1) -> Photo:
    """Photograph a drawing that lies in the middle of a sheet.

    :param size: width and height of the photograph in pixels.
    """
    random_numbers = np.random.default_rng(seed)
    width, height = size
    sheet = width - 2 * how.table, height - 2 * how.table
    zoom = 0.8 * min(sheet[0] / drawing.width, sheet[1] / drawing.height)
    middle = shifted(-drawing.width / 2, -drawing.height / 2).then(scaled(zoom, zoom)).then(turned(how.lean))
    taken = middle.then(shifted(width / 2, height / 2))
    ink = _laid(drawing.convert("RGB"), taken, size, (255, 255, 255)).astype(np.float32) / 255
    page: NDArray[np.floating] = np.ones((height, width, 3)) * np.array(how.paper)
    page *= 1 + how.texture * _blurred(random_numbers, size, 2)[..., None]
    page = page * ink
    if how.table:
        on_sheet = Image.new("RGB", sheet, (255, 255, 255))
        placed = shifted(-sheet[0] / 2, -sheet[1] / 2).then(turned(how.lean)).then(shifted(width / 2, height / 2))
        inside = _laid(on_sheet, placed, size, (0, 0, 0)).astype(np.float32) / 255
        wood = np.array((0.34, 0.22, 0.13)) * (1 + 0.15 * _blurred(random_numbers, size, 9)[..., None])
        page = page * inside + wood * (1 - inside)
    x, y = np.meshgrid(np.linspace(0, 1, width), np.linspace(0, 1, height))
    light = 1 - how.dim * (0.7 * x + 0.3 * y) ** 1.3
    # The shadow of a hand, with a soft edge of some hundredths of the width.
    light *= 1 - how.shadow / (1 + np.exp(-((x - 0.55) * 0.8 + (y - 0.6)) / 0.035))
    page = page * light[..., None] + how.grain * random_numbers.standard_normal(page.shape)
    return Photo(Image.fromarray((255 * np.clip(page, 0, 1)).astype(np.uint8)), taken)


def _laid(drawing: Image.Image, there: Affine, size: tuple[int, int], rest: tuple[int, int, int]) -> NDArray[np.uint8]:
    back = there.inverse().numbers
    smooth = Image.Resampling.BICUBIC
    return np.asarray(drawing.transform(size, Image.Transform.AFFINE, back, smooth, fillcolor=rest))


def _blurred(random_numbers: np.random.Generator, size: tuple[int, int], radius: int) -> NDArray[np.floating]:
    noise = (127 + 60 * random_numbers.standard_normal((size[1], size[0]))).clip(0, 255).astype(np.uint8)
    soft = np.asarray(Image.fromarray(noise).filter(ImageFilter.GaussianBlur(radius)), np.float32)
    found: NDArray[np.floating] = (soft - soft.mean()) / soft.std()
    return found


def shapes(size: tuple[int, int] = (1200, 900), framed: bool = False) -> Image.Image:
    """A drawing of simple shapes: pencil strokes, a dark form, two washes, the larger a very pale one."""
    width, height = size
    drawing = Image.new("RGB", (2 * width, 2 * height), (255, 255, 255))
    pen = ImageDraw.Draw(drawing)
    pen.ellipse((width * 0.25, height * 0.3, width * 1.55, height * 1.5), fill=WASH)
    pen.ellipse(
        (width * 0.5, height * 0.5, width * 1.2, height * 1.1), fill=(196, 120, 74), outline=(60, 50, 45), width=8
    )
    pen.polygon(
        [(width * 1.2, height * 0.7), (width * 1.6, height * 0.8), (width * 1.2, height * 0.9)], fill=(40, 38, 36)
    )
    chance = random.Random(7)
    for _ in range(120):
        x, y = chance.uniform(0.3, 1.6) * width, chance.uniform(0.3, 1.7) * height
        grey = chance.randrange(90, 190)
        pen.line((x, y, x + chance.uniform(-90, 90), y + chance.uniform(20, 120)), fill=(grey, grey, grey), width=5)
    if framed:
        pen.rectangle((width * 0.08, height * 0.08, width * 1.92, height * 1.92), outline=(90, 90, 90), width=6)
    return drawing.resize(size, Image.Resampling.LANCZOS)


@lru_cache
def of_the_demo(name: str) -> Image.Image:
    """One of the demo's own drawings, as the browser renders it: what its photograph was taken of."""
    svg = DRAWINGS / f"{name}.svg"
    return render(svg, read_drawing(svg.read_text(encoding="utf-8")), 1)
