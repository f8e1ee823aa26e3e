"""A photographed drawing to the drawing: light evened out, paper white, upright, cropped; ink and washes kept.

What is found out is found on a small copy; the picture itself is touched twice, by one turn or crop and by
one division by the light of the paper.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np
from PIL import Image

from tertial.sketches.affine import Affine, scaled, shifted, turned
from tertial.sketches.developing import Choice, Developing
from tertial.sketches.paper import GRID, Paper, find_paper
from tertial.sketches.straight import lean

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.floating]
    Mask = NDArray[np.bool_]
    Box = tuple[float, float, float, float]

# Our own choices; shares of a side, of brightness, and counts of standard deviations.
_SURVEY: Final = 800
_SMALLEST: Final = 160
_RING: Final = 0.03
_PLAIN: Final = 0.5
_WHITE: Final = 253
_TABLE: Final = 0.55
_TABLE_TINT: Final = 0.16
_DEEPEST_TABLE: Final = 0.35
_NEAR: Final = 6
_ABRUPT: Final = 0.15
_INSET: Final = 0.006
_MARGIN: Final = 0.04
_INK: Final = 0.05
_GRAIN: Final = 6.0
_BAND: Final = 128


def develop(picture: Image.Image, widest: int, choice: Choice) -> tuple[Image.Image, Affine, Developing]:
    """Develop a picture.

    :param picture: the picture, RGB or RGBA, upright; it is not changed.
    :param widest: width in pixels that is enough.
    :param choice: ``JUDGED`` leaves alone what looks finished; ``DRAWING`` does not.
    :returns: the picture made of it, the map from its pixels to those, and what was done.
    """
    why = "develop: drawing was written"
    if picture.mode == "RGBA":
        return picture, Affine(), Developing(done=False, why="parts of it are clear, so it has no paper")
    if choice is Choice.JUDGED:
        if min(picture.size) < _SMALLEST:
            return picture, Affine(), Developing(done=False, why="it is too small for a photographed page")
        if _is_plain(picture):
            return picture, Affine(), Developing(done=False, why="its rim is of one colour, as in a finished drawing")
        why = "it looks like a photographed page"
    survey = _survey(picture)
    if survey is None:
        return picture, Affine(), Developing(done=False, why="no even paper was found in it")
    made, to_made = _taken(picture, survey, widest)
    kept = made.width * made.height / (to_made.zoom**2 * picture.width * picture.height)
    return _whitened(made, survey), to_made, Developing(done=True, why=why, turned=survey.degrees, kept=min(1.0, kept))


class _Survey(NamedTuple):
    """What was found out on the small copy."""

    degrees: float
    """By how much the picture is to be turned clockwise."""

    upright: Affine
    """From pixels of the picture to those of the small copy when turned."""

    sheet: Box
    """The sheet on the small copy when turned: left, upper, right and lower edge."""

    crop: Box
    """What is to be kept of it."""

    paper: Paper
    """The paper of the sheet, on a grid of its own."""


def _survey(picture: Image.Image) -> _Survey | None:
    """Look at a small copy; None when there is no paper."""
    times = max(1, math.ceil(max(picture.size) / _SURVEY))
    small = picture.reduce(times)
    degrees = 0.0 - lean(np.asarray(small.convert("L"), np.float32) / 255)
    to_small = scaled(small.width / picture.width, small.height / picture.height)
    turn, size = _round_middle(small.size, degrees)
    if degrees:
        valid = Image.new("L", small.size, 255).transform(size, *_affine(turn), Image.Resampling.NEAREST)
        small = small.transform(size, *_affine(turn), Image.Resampling.BILINEAR)
        valid_pixels = np.asarray(valid) > 0
    else:
        valid_pixels = np.ones((small.height, small.width), np.bool_)
    pixels = np.asarray(small, np.float32) / 255
    left, upper, right, lower = sheet = _sheet(pixels, valid_pixels)
    inside = small.crop(sheet)
    valid_inside = valid_pixels[upper:lower, left:right]
    zoom = min(1.0, GRID / max(inside.size))
    grid = max(1, round(inside.width * zoom)), max(1, round(inside.height * zoom))
    coarse = np.asarray(inside.resize(grid, Image.Resampling.BOX), np.float32) / 255
    there = Image.fromarray(valid_inside.astype(np.uint8) * 255).resize(grid, Image.Resampling.BOX)
    paper = find_paper(coarse, np.asarray(there) == 255)
    if paper is None:
        return None
    lit = pixels[upper:lower, left:right] / _enlarged(paper.light, inside.size, (0.0, 0.0, grid[0], grid[1]))
    return _Survey(degrees, to_small.then(turn), sheet, _crop(lit, valid_inside, sheet), paper)


def _is_plain(picture: Image.Image) -> bool:
    """Tell whether the rim is mostly white, or of one exact colour: light on paper never is."""
    wide = max(1, round(_RING * min(picture.size)))
    width, height = picture.size
    boxes = (
        (0, 0, width, wide),
        (0, height - wide, width, height),
        (0, 0, wide, height),
        (width - wide, 0, width, height),
    )
    ring = np.concatenate([np.asarray(picture.crop(box)).reshape(-1, 3) for box in boxes]).astype(np.uint32)
    if (ring.min(axis=1) >= _WHITE).mean() >= _PLAIN:
        return True
    _, counts = np.unique(ring @ np.array([65536, 256, 1], np.uint32), return_counts=True)
    return bool(counts.max() >= _PLAIN * len(ring))


def _round_middle(size: tuple[int, int], degrees: float) -> tuple[Affine, tuple[int, int]]:
    """Give a turn round the middle and the size that holds all of it."""
    if not degrees:
        return Affine(), size
    turn = turned(degrees)
    corners = [turn.at(x, y) for x in (0, size[0]) for y in (0, size[1])]
    left, upper = min(x for x, _ in corners), min(y for _, y in corners)
    right, lower = max(x for x, _ in corners), max(y for _, y in corners)
    return turn.then(shifted(-left, -upper)), (math.ceil(right - left), math.ceil(lower - upper))


def _affine(forward: Affine) -> tuple[Image.Transform, tuple[float, ...]]:
    # Pillow asks for the way from the new picture to the old one.
    return Image.Transform.AFFINE, forward.inverse().numbers


def _sheet(pixels: Pixels, valid: Mask) -> tuple[int, int, int, int]:
    """Find the sheet on the table that it lies on; all of the picture where no table is to be seen."""
    height, width = valid.shape
    logs = np.log(np.maximum(pixels, 0.02))
    light = logs.mean(axis=2)
    middle = slice(height // 5, height - height // 5), slice(width // 5, width - width // 5)
    usual = np.percentile(light[middle], 85)
    whites = light[middle] > usual - 0.15
    tint = np.stack([logs[..., 0] - logs[..., 1], logs[..., 2] - logs[..., 1]], axis=2)
    off = np.abs(tint - np.median(tint[middle][whites], axis=0)).max(axis=2)
    like = (light > usual + math.log(_TABLE)) & (off < _TABLE_TINT)
    look = np.concatenate([light[..., None], tint], axis=2)
    left, upper, right, lower = 0, 0, width, height
    for _ in range(2):
        across = np.s_[:, left:right]
        upper, lower = _ends(like[across], valid[across], look[across], upper, lower)
        down = np.s_[:, upper:lower]
        left, right = _ends(like.T[down], valid.T[down], look.transpose(1, 0, 2)[down], left, right)
    return left, upper, right, lower


def _ends(like: Mask, valid: Mask, look: Pixels, start: int, end: int) -> tuple[int, int]:
    """Walk in from both ends for as long as there is table."""
    there = valid.sum(axis=1)
    share = (like & valid).sum(axis=1) / np.maximum(there, 1)
    share[there < 0.2 * there.max()] = 0.0
    size = len(share)
    plenty = float(np.median(share[size // 4 : size - size // 4]))
    inset = round(_INSET * size)
    rows = np.median(look, axis=1)

    def walked(shares: Pixels, rows: Pixels) -> int:
        if shares[: max(1, size // 100)].mean() >= 0.5 * plenty:
            return 0
        # A shadow comes gradually, the end of a sheet at once.
        for at in range(_NEAR, min(size - 2 * _NEAR, round(_DEEPEST_TABLE * size))):
            rise = shares[at : at + _NEAR].mean() - shares[at - _NEAR : at].mean()
            if rise > 0.3 * plenty and _change(rows, at) > _ABRUPT:
                return at + int(np.argmax([_change(rows, at + each) for each in range(_NEAR)])) + inset
        return 0

    return max(start, walked(share, rows)), min(end, size - walked(share[::-1], rows[::-1]))


def _change(rows: Pixels, at: int) -> float:
    """Tell by how much the rows from a place on differ from those before it; a drawn line does not count."""
    return float(np.abs(np.median(rows[at : at + _NEAR], axis=0) - np.median(rows[at - _NEAR : at], axis=0)).max())


def _crop(lit: Pixels, valid: Mask, sheet: tuple[int, int, int, int]) -> Box:
    """Find what is drawn, and give it a margin."""
    least = np.where(valid, _least(lit), 1.0)
    spread = 1.4826 * float(np.median(np.abs(least - np.median(least))))
    dark = np.pad(least < float(np.median(least)) - max(_INK, _GRAIN * spread), 1).astype(np.uint8)
    # A speck that stands alone is dust.
    around = sum(np.roll(dark, (y, x), (0, 1)) for y in (-1, 0, 1) for x in (-1, 0, 1))
    drawn = ((dark > 0) & (np.asarray(around) >= 3))[1:-1, 1:-1]
    left, upper, right, lower = sheet
    rows, columns = np.nonzero(drawn.any(axis=1))[0], np.nonzero(drawn.any(axis=0))[0]
    if not len(rows):
        return sheet
    margin = _MARGIN * max(rows[-1] - rows[0], columns[-1] - columns[0]) + 2
    return (
        max(float(left), left + columns[0] - margin),
        max(float(upper), upper + rows[0] - margin),
        min(float(right), left + columns[-1] + 1 + margin),
        min(float(lower), upper + rows[-1] + 1 + margin),
    )


def _taken(picture: Image.Image, survey: _Survey, widest: int) -> tuple[Image.Image, Affine]:
    """Turn and crop the picture itself, at no more than the size that is wanted."""
    left, upper, right, lower = survey.crop
    # The small copy is kept in proportion but for a fraction of a pixel.
    zoom = 1 / survey.upright.zoom
    width = max(1, min(widest, round((right - left) * zoom)))
    height = max(1, round(width * (lower - upper) / (right - left)))
    to_made = survey.upright.then(shifted(-left, -upper)).then(scaled(width / (right - left), height / (lower - upper)))
    if not survey.degrees:
        box = (*to_made.inverse().at(0, 0), *to_made.inverse().at(width, height))
        inside = max(0.0, box[0]), max(0.0, box[1]), min(picture.width, box[2]), min(picture.height, box[3])
        return picture.resize((width, height), Image.Resampling.BICUBIC, box=inside, reducing_gap=2.0), to_made
    # First smaller, with all pixels having their say, then turned at that size.
    size = round(picture.width * to_made.zoom), round(picture.height * to_made.zoom)
    smaller = picture.resize(size, Image.Resampling.BICUBIC, reducing_gap=2.0) if to_made.zoom < 1 else picture
    to_smaller = scaled(smaller.width / picture.width, smaller.height / picture.height)
    turn = to_smaller.inverse().then(to_made)
    # Beyond the picture's own corners there is nothing: white divided by any paper is white.
    white = (255, 255, 255)
    return smaller.transform((width, height), *_affine(turn), Image.Resampling.BICUBIC, fillcolor=white), to_made


def _whitened(made: Image.Image, survey: _Survey) -> Image.Image:
    """Divide by the light of the paper, and let what is paper be white."""
    paper, (left, upper, right, lower), sheet = survey.paper, survey.crop, survey.sheet
    rows, columns = paper.bare.shape
    across, down = columns / (sheet[2] - sheet[0]), rows / (sheet[3] - sheet[1])
    box = (left - sheet[0]) * across, (upper - sheet[1]) * down, (right - sheet[0]) * across, (lower - sheet[1]) * down
    light = _enlarged(paper.light, made.size, box)
    bare = _enlarged(paper.bare.astype(np.float32)[..., None], made.size, box)[..., 0] > 0.99
    pixels = np.asarray(made)
    white, grey = _white_point(pixels, light, bare)
    out = np.empty_like(pixels)
    for start in range(0, made.height, _BAND):
        band = slice(start, start + _BAND)
        ratio = pixels[band] / (255 * light[band])
        # By the least of its colours a pixel is paper or not: so paper becomes white, and a pale wash
        # keeps its colour, which would change if each colour were stretched by itself.
        share = np.clip((_least(ratio)[..., None] - grey) / (white - grey), 0.0, 1.0)
        share = share * share * (3 - 2 * share)
        out[band] = np.rint(255 * np.clip(ratio + (1 - ratio) * share, 0.0, 1.0)).astype(np.uint8)
    return Image.fromarray(out)


def _white_point(pixels: NDArray[np.uint8], light: Pixels, bare: Mask) -> tuple[float, float]:
    """Give from which share of the paper's light on all is white, and up to which nothing is changed."""
    rows, columns = np.nonzero(bare[::4, ::4])
    if len(rows) < 100:
        return 0.99, 0.95
    least = (pixels[::4, ::4][rows, columns] / (255 * light[::4, ::4][rows, columns])).min(axis=1)
    usual = float(np.median(least))
    spread = 1.4826 * float(np.median(np.abs(least - usual)))
    white = min(0.995, usual - 2.5 * spread)
    return white, white - max(0.02, 3 * spread)


def _least(values: Pixels) -> Pixels:
    """Give the least of the three colours of each pixel; ``min`` along so short an axis is slow."""
    found: Pixels = np.minimum(np.minimum(values[..., 0], values[..., 1]), values[..., 2])
    return found


def _enlarged(values: Pixels, size: tuple[int, int], box: Box) -> Pixels:
    """Give a part of the grid at a size in pixels, rows by columns by layers."""
    height, width = values.shape[:2]
    inside = max(0.0, box[0]), max(0.0, box[1]), min(float(width), box[2]), min(float(height), box[3])
    layers = [Image.fromarray(np.ascontiguousarray(values[..., at])) for at in range(values.shape[2])]
    return np.stack([np.asarray(each.resize(size, Image.Resampling.BILINEAR, box=inside)) for each in layers], axis=2)
