"""What of a photographed page is paper, and how bright and of which colour it is everywhere.

The paper is grown from the rim of the page over all that changes gradually: light that falls off and soft
shadows do, ink and the edge of a wash do not. Where something is drawn, the paper under it is what the paper
round it says. So a large pale wash is never taken for paper, and none of its colour is lost.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np
from PIL import Image

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.floating]
    Mask = NDArray[np.bool_]

GRID: Final = 200
"""Pixels on the longer side of the grid on which the paper is told."""

# Our own choices, in logarithms of brightness and of the ratios of colours, tried on the photos of the tests.
_DARKEST: Final = 0.02
_SHADE: Final = 1.9  # Paper in a shadow and in the dimmest corner keeps a seventh of the light.
_STEP: Final = 0.03  # A soft shadow falls by less from one pixel of the grid to the next.
_TINT: Final = 0.07  # Paper may look that much more blue or yellow in places.
_TINT_STEP: Final = 0.012
_SEED: Final = 0.1
_GRAINS: Final = 4.0
_ALIKE: Final = 0.03
_ROUNDS: Final = 3
_SOFT: Final = 6
_RIM: Final = 0.05
_LEAST_SHARE: Final = 0.12


class Paper(NamedTuple):
    """The paper of a page."""

    light: Pixels
    """Its brightness from 0 to 1, rows by columns by colours, also where something is drawn on it."""

    bare: Mask
    """Where nothing is drawn on it."""


def find_paper(pixels: Pixels, valid: Mask) -> Paper | None:
    """Find the paper of a page; None where there is too little of it to tell.

    :param pixels: the page, brightness from 0 to 1, rows by columns by three colours.
    :param valid: where there is a page at all.
    """
    logs = np.log(np.maximum(pixels, _DARKEST))
    light = logs.mean(axis=2)
    tint = np.stack([logs[..., 0] - logs[..., 1], logs[..., 2] - logs[..., 1]], axis=2)
    rim = _rim(valid)
    bright = _spread(np.where(valid, light, -9), max(pixels.shape[:2]) // 4)
    near_bright = rim & (light > bright - _SEED)
    if not near_bright.any():
        return None
    usual = np.median(tint[near_bright], axis=0)
    off = np.abs(tint - usual).max(axis=2)
    # The same noise weighs more where there is less light.
    noise = _GRAINS * np.exp(np.median(light[near_bright]) - light)
    steps, tint_steps = _steps(light[..., None]), _steps(tint)
    smooth = (steps < np.maximum(_STEP, noise * np.median(steps[near_bright]))) & (
        tint_steps < np.maximum(_TINT_STEP, noise * np.median(tint_steps[near_bright]))
    )
    passable = valid & smooth & (off < _TINT) & (light > bright.max() - _SHADE)
    bare = _grown(near_bright & passable & (off < _TINT / 2), passable)
    told = _told(logs, _shrunk(bare))
    # A drawn frame fences paper in: what looks as the paper outside foretells is paper too.
    for _ in range(_ROUNDS):
        alike = passable & (np.abs(logs - told).max(axis=2) < _ALIKE)
        bare = _grown(bare | alike, passable)
        told = _told(logs, _shrunk(bare))
    if bare.sum() < _LEAST_SHARE * valid.sum():
        return None
    # Nothing drawn is brighter than paper: where it seems to be, a shadow ends under it and there is more light.
    excess = _softened(np.where(bare, 0.0, np.maximum(0.0, (logs - told).max(axis=2))))
    return Paper(np.exp(told + excess[..., None]).astype(np.float32), bare)


def _rim(valid: Mask) -> Mask:
    wide = max(2, round(_RIM * max(valid.shape)))
    inner = valid.copy()
    for axis in (0, 1):
        for step in (-wide, wide):
            moved = np.roll(inner, step, axis)
            edge = [slice(None), slice(None)]
            edge[axis] = slice(None, wide) if step > 0 else slice(-wide, None)
            moved[tuple(edge)] = False
            inner = inner & moved
    return valid & ~inner


def _spread(values: Pixels, reach: int) -> Pixels:
    """Give for each pixel the largest value near it, along rows and then along columns."""
    for axis in (0, 1):
        done = 0
        while done < reach:
            step = min(max(1, done), reach - done)
            ahead = np.roll(values, step, axis)
            behind = np.roll(values, -step, axis)
            edge: list[slice] = [slice(None), slice(None)]
            edge[axis] = slice(None, step)
            ahead[tuple(edge)] = -9
            edge[axis] = slice(-step, None)
            behind[tuple(edge)] = -9
            values = np.maximum(values, np.maximum(ahead, behind))
            done += step
    return values


def _steps(values: Pixels) -> Pixels:
    """Give for each pixel by how much it differs from those beside it, at most, in any of its values."""
    found = np.zeros(values.shape[:2], np.float32)
    across = np.abs(np.diff(values, axis=1)).max(axis=2)
    down = np.abs(np.diff(values, axis=0)).max(axis=2)
    found[:, 1:] = across
    found[:, :-1] = np.maximum(found[:, :-1], across)
    found[1:] = np.maximum(found[1:], down)
    found[:-1] = np.maximum(found[:-1], down)
    return found


def _grown(seeds: Mask, passable: Mask) -> Mask:
    """Grow seeds over all that can be reached from them."""
    reached = seeds
    while True:
        grown = reached.copy()
        grown[1:] |= reached[:-1]
        grown[:-1] |= reached[1:]
        grown[:, 1:] |= reached[:, :-1]
        grown[:, :-1] |= reached[:, 1:]
        grown &= passable
        if (grown == reached).all():
            return reached
        reached = grown


def _shrunk(mask: Mask) -> Mask:
    """Leave out what touches what is not in a mask: such a pixel of the grid may hold some ink."""
    around = np.pad(mask, 1, constant_values=True)
    kept = mask.copy()
    for y in range(3):
        for x in range(3):
            kept &= around[y : y + mask.shape[0], x : x + mask.shape[1]]
    return kept if kept.any() else mask


def _softened(values: Pixels) -> Pixels:
    """Take the mean of each pixel and those near it, some times over."""
    for _ in range(_SOFT):
        around = np.pad(values, 1, mode="edge")
        lying = around[:, :-2] + around[:, 1:-1] + around[:, 2:]
        values = (lying[:-2] + lying[1:-1] + lying[2:]) / 9
    return values


def _told(logs: Pixels, known: Mask) -> Pixels:
    """Tell the light everywhere from where it is known.

    First a surface of the third degree, because light that falls off goes on doing so under a wash; what the
    surface misses, shadows above all, is filled in between.
    """
    height, width = known.shape
    y, x = np.mgrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j]
    terms = np.stack([x**across * y**down for across in range(4) for down in range(4 - across)], axis=2)
    sums = terms[known].T @ terms[known] + 1e-3 * np.eye(terms.shape[2])
    surface = terms @ np.linalg.solve(sums, terms[known].T @ logs[known])
    return surface + _filled((logs - surface).astype(np.float32), known)


def _filled(values: Pixels, known: Mask) -> Pixels:
    """Fill in what is not known from what is known round it, the nearer the closer."""
    height, width = known.shape
    weight = known.astype(np.float32)[..., None]
    if height < 2 or width < 2:
        total = max(1.0, float(weight.sum()))
        return np.broadcast_to((values * weight).sum(axis=(0, 1)) / total, values.shape).astype(np.float32)
    size = (width + 1) // 2, (height + 1) // 2
    share = _resized(weight, size)
    mean = _resized(values * weight, size) / np.maximum(share, 1e-6)
    # A coarse pixel is known if a quarter of it is; its own neighbours tell the others.
    coarse = _filled(mean, share[..., 0] > 0.25)
    smooth = _resized(coarse, (width, height))
    # One step of smoothing where it is known as well: grain of the paper is no light.
    return np.where(weight > 0, (values + smooth) / 2, smooth)


def _resized(values: Pixels, size: tuple[int, int]) -> Pixels:
    how = Image.Resampling.BOX if size[0] < values.shape[1] else Image.Resampling.BILINEAR
    layers = [Image.fromarray(np.ascontiguousarray(values[..., at])).resize(size, how) for at in range(values.shape[2])]
    return np.stack([np.asarray(layer) for layer in layers], axis=2)
