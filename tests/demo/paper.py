"""How a drawing looks on a page of a sketchbook that was photographed by a window.

Values of light, paper and noise are our own, chosen by eye. Everything random comes from a name, so that the
same drawing gives the same photograph.
"""

from __future__ import annotations

import hashlib
import io
import math
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image
from tests.demo.spots import Affine, turned

if TYPE_CHECKING:
    import numpy.typing as npt

    Field = npt.NDArray[np.float32]

LONGEST: Final = 2000
"""Longer side of a photograph, in pixels."""

MARGIN: Final = 0.05
"""Paper shown on each side of the drawing, as a share of its longer side."""

MOST_SKEW: Final = 3.0
"""Largest turn of the page, in degrees."""

MOST_BYTES: Final = 220_000
"""Largest file; a fine texture is saved a little coarser until it fits."""

QUALITIES: Final = (82, 78, 74, 70, 66, 62)
"""JPEG qualities, the first one wanted."""

PAPER: Final = (240, 233, 218)
"""Colour of the paper in full light, sRGB."""

INK: Final = 0.07
"""Light that the blackest wash still gives back, as a share of the paper's."""


def dice(name: str) -> np.random.Generator:
    """Give the random numbers that belong to a name."""
    return np.random.default_rng(int.from_bytes(hashlib.sha256(name.encode()).digest()[:8], "big"))


def framing(name: str, width: float, height: float) -> tuple[Affine, tuple[int, int]]:
    """Say how the photograph is taken.

    :param width: of the drawing, in its own units; ``height`` likewise.
    :returns: the map from units of the drawing to pixels, and the size of the photograph in pixels. The whole
        drawing is within it.
    """
    roll = dice(f"{name} framing")
    margin = MARGIN * max(width, height)
    scale = LONGEST / (max(width, height) + 2 * margin)
    size = round(scale * (width + 2 * margin)), round(scale * (height + 2 * margin))
    # A page that lies straight by chance would show nothing of what is asked of its reader.
    degrees = float(roll.uniform(0.6, MOST_SKEW)) * (1 if roll.random() < 0.5 else -1)
    off = roll.uniform(-0.1, 0.1, 2) * margin * scale
    to = size[0] / 2 + float(off[0]), size[1] / 2 + float(off[1])
    return turned((width / 2, height / 2), scale, degrees, to), size


def photograph(name: str, drawing: Image.Image, from_drawing: Affine, size: tuple[int, int]) -> bytes:
    """Photograph a drawing.

    :param drawing: rendered on white.
    :param from_drawing: the map from its pixels to those of the photograph.
    :param size: width and height of the photograph in pixels.
    :returns: a JPEG file without metadata.
    """
    roll = dice(f"{name} light")
    undo = from_drawing.back()
    # Pillow counts pixels by their corners here, as drawings do: half a pixel is taken care of.
    laid = drawing.convert("RGB").transform(
        size,
        Image.Transform.AFFINE,
        (undo.a, undo.b, undo.c, undo.d, undo.e, undo.f),
        resample=Image.Resampling.BICUBIC,
        fillcolor=(255, 255, 255),
    )
    pigment = np.asarray(laid, dtype=np.float32) / 255
    tooth = _tooth(roll, size)[..., None]
    # Washes settle in the hollows of the paper: the darker, the more of its texture they show.
    covered = INK + (1 - INK) * pigment
    covered *= 1 - 0.16 * tooth * (1 - pigment)
    page = covered * (np.array(PAPER, dtype=np.float32) * (1 + 0.010 * tooth)) * _light(roll, size)
    page += _noise(roll, size)
    return _jpeg(Image.fromarray(np.clip(np.rint(page), 0, 255).astype(np.uint8)))


def _light(roll: np.random.Generator, size: tuple[int, int]) -> Field:
    """Light falls off from a window on one side; a soft warm-edged shadow lies over one corner. 1 is full light."""
    width, height = size
    x = np.linspace(-1, 1, width, dtype=np.float32)[None, :]
    y = np.linspace(-1, 1, height, dtype=np.float32)[:, None]
    turn = float(roll.uniform(0, 2 * math.pi))
    along = (x * math.cos(turn) + y * math.sin(turn)) / math.sqrt(2)
    light = 0.95 + 0.06 * along - 0.03 * (x * x + y * y)
    towards = turn + math.pi + float(roll.uniform(-0.6, 0.6))
    across = x * math.cos(towards) + y * math.sin(towards)
    edge = 0.70 + 0.10 * np.sin(2.1 * (y * math.cos(towards) - x * math.sin(towards)) + float(roll.uniform(0, 6)))
    shade = 1 / (1 + np.exp(-(across - edge) / 0.13))
    # What a shadow keeps is sky light: it takes more of the red than of the blue.
    taken = np.array([0.17, 0.16, 0.14], dtype=np.float32) * float(roll.uniform(0.75, 1.1))
    return np.asarray(light[..., None] * (1 - shade[..., None] * taken), dtype=np.float32)


def _tooth(roll: np.random.Generator, size: tuple[int, int]) -> Field:
    """Give the height of cold-pressed paper at each pixel, about -1 to 1."""
    tooth = np.zeros((size[1], size[0]), dtype=np.float32)
    for grain, share in ((5, 0.6), (13, 0.3), (90, 0.3)):
        few = roll.standard_normal((size[1] // grain + 2, size[0] // grain + 2)).astype(np.float32)
        tooth += share * np.asarray(Image.fromarray(few).resize(size, Image.Resampling.BICUBIC))
    return tooth


def _noise(roll: np.random.Generator, size: tuple[int, int]) -> Field:
    """Give the noise of a good sensor after its own smoothing, in steps of 255: mostly of brightness."""
    fine = roll.standard_normal((size[1], size[0], 1)).astype(np.float32)
    return np.asarray(1.3 * fine, dtype=np.float32)


def _jpeg(picture: Image.Image) -> bytes:
    data = b""
    for quality in QUALITIES:
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=quality, optimize=True, subsampling="4:2:0")
        data = out.getvalue()
        if len(data) <= MOST_BYTES:
            break
    return data
