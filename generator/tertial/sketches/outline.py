"""The outline of a head, and what of a page is drawn on: told from the pixels of a developed picture.

What is not paper is drawn. Paper is what can be reached from before and above the head without crossing a line, so
that a white cheek within its outline belongs to the head. A bird whose head cannot be told from what it clings to
has no outline.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image, ImageFilter

from tertial.sketches.heads import Traced

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Mask = NDArray[np.bool_]
    Point = tuple[float, float]
    Edges = tuple[float, float, float, float]
    Line = NDArray[np.floating]

# Our own choices, tried on the drawings of the demo: shares of white and of the side of the region, pixels of it.
_PAPER: Final = 0.93
_LONGEST: Final = 420
_GROWN: Final = 0.04
_BRIDGED: Final = 5
_SMOOTH: Final = 3.0
_TOLERANCE: Final = 0.6
_FREE: Final = 0.1
_DEEP: Final = 0.42
_HAIR: Final = 5
_SLOPING: Final = 25.0  # Degrees.
_LEAST: Final = 0.1


def drawn_edges(picture: Image.Image) -> Edges:
    """Give left, upper, right and lower edge of what is drawn, in pixels; of an empty page, those of the page."""
    dark = _dark(picture)
    around = np.pad(dark, 1).astype(np.uint8)
    height, width = dark.shape
    # A speck that stands alone is dust.
    near = sum(around[y : y + height, x : x + width] for y in range(3) for x in range(3))
    kept = dark & (np.asarray(near) >= 3)
    rows, columns = np.nonzero(kept.any(axis=1))[0], np.nonzero(kept.any(axis=0))[0]
    if not len(rows):
        return 0.0, 0.0, float(width), float(height)
    return float(columns[0]), float(rows[0]), float(columns[-1] + 1), float(rows[-1] + 1)


def trace_head(picture: Image.Image, box: Edges, *, faces_left: bool) -> Traced | None:
    """Trace the outline of a head.

    :param picture: the developed picture.
    :param box: left, upper, right and lower edge of the head in pixels.
    :param faces_left: which way it looks.
    :returns: the outline, or None where the head cannot be told from what is round it.
    """
    grown = _GROWN * (box[2] - box[0])
    left, upper = max(0, round(box[0] - grown)), max(0, round(box[1] - grown))
    right, lower = min(picture.width, round(box[2] + grown)), min(picture.height, round(box[3]))
    if right - left < 8 or lower - upper < 8:
        return None
    region = picture.convert("RGB").crop((left, upper, right, lower))
    zoom = min(1.0, _LONGEST / max(region.size))
    size = max(1, round(region.width * zoom)), max(1, round(region.height * zoom))
    small = region.resize(size, Image.Resampling.BOX)
    if not faces_left:
        small = small.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    mask = _silhouette(_dark(small))
    if mask is None:
        return None
    line = _simple(_smooth(_contour(mask)))
    base = _bill_base(mask, (box[3] - box[1]) * zoom)

    def placed(point: Point) -> Point:
        x = point[0] if faces_left else size[0] - point[0]
        return round(left + x * region.width / size[0], 1), round(upper + point[1] * region.height / size[1], 1)

    return Traced(tuple(placed((float(x), float(y))) for x, y in line), placed(base) if base else None)


def _dark(picture: Image.Image) -> Mask:
    least = np.asarray(picture.convert("RGB")).min(axis=2).astype(np.float32)
    white = float(np.percentile(least, 98))
    found: Mask = least < _PAPER * white
    return found


def _silhouette(dark: Mask) -> Mask | None:
    """Give the pixels of the head, what is enclosed by its lines with them."""
    # Small gaps in a line are bridged: what is widened before is narrowed again by as much after.
    wide = _widened(dark)
    seeds = np.zeros_like(wide)
    seeds[0, :] = seeds[:, 0] = True
    outside = _reached(seeds & ~wide, ~wide)
    mask = ~_widened(outside)
    height, width = mask.shape
    middle = np.zeros_like(mask)
    middle[height // 4 : height - height // 4, width // 2 : width - width // 5] = True
    # What is thinner than a hair stands out from the outline and is no part of it.
    thick = Image.fromarray(mask.astype(np.uint8) * 255).filter(ImageFilter.MinFilter(_HAIR))
    firm = mask & (np.asarray(thick.filter(ImageFilter.MaxFilter(_HAIR))) > 0)
    firm = _reached(firm & middle, firm)
    # Only the tip of the bill, before all that is firm, may be as thin as that.
    columns = np.nonzero(firm.any(axis=0))[0]
    if len(columns):
        firm[:, : columns[0]] |= mask[:, : columns[0]]
    head = _reached(firm & middle, firm)
    # What reaches the edge before the bill is no head alone, and what fills the region has no outline.
    if head.mean() < _LEAST or head[:, :2].any() or not outside[:, 0].mean() > _FREE:
        return None
    return head


def _widened(mask: Mask) -> Mask:
    image = Image.fromarray(mask.astype(np.uint8) * 255)
    return np.asarray(image.filter(ImageFilter.MaxFilter(_BRIDGED))) > 0


def _reached(seeds: Mask, passable: Mask) -> Mask:
    """Grow seeds over all that can be reached, run by run along rows and columns."""
    reached = seeds & passable
    while True:
        grown = _along(_along(reached, passable).T, passable.T).T
        if (grown == reached).all():
            return reached
        reached = grown


def _along(reached: Mask, passable: Mask) -> Mask:
    """Fill each run of a row that has been reached anywhere."""
    runs = np.cumsum(~passable, axis=1) + np.arange(len(passable))[:, None] * (passable.shape[1] + 1)
    hit = np.zeros(int(runs.max()) + 1, np.bool_)
    hit[runs[reached]] = True
    found: Mask = hit[runs] & passable
    return found


def _contour(mask: Mask) -> Line:
    """Follow the edges between the pixels of a mask and others, and cut them where the region is cut."""
    height, width = mask.shape
    padded = np.pad(mask, 1)
    # Each edge of a pixel leads on with the mask at its right.
    ways: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for (down, across), start, end in (
        ((-1, 0), (0, 0), (1, 0)),
        ((0, 1), (1, 0), (1, 1)),
        ((1, 0), (1, 1), (0, 1)),
        ((0, -1), (0, 1), (0, 0)),
    ):
        beside = padded[1 + down : 1 + down + height, 1 + across : 1 + across + width]
        for y, x in np.argwhere(mask & ~beside).tolist():
            ways.setdefault((x + start[0], y + start[1]), []).append((x + end[0], y + end[1]))
    loops: list[list[tuple[int, int]]] = []
    while ways:
        first = min(ways)
        loop, at = [first], ways[first].pop()
        while at != first:
            loop.append(at)
            at = ways[at].pop()
        ways = {spot: left for spot, left in ways.items() if left}
        loops.append(loop)
    return _open(max(loops, key=len), width, height)


def _open(loop: list[tuple[int, int]], width: int, height: int) -> Line:
    """Give the longest run of a loop that is not on an edge where the body goes on; a free loop stays closed."""
    cut = [x >= width or y >= height or y <= 0 for x, y in loop]
    if not any(cut):
        return np.array([*loop, loop[0]], np.float64)
    start = cut.index(True)
    runs: list[list[tuple[int, int]]] = [[]]
    for at in range(len(loop)):
        here = (start + at) % len(loop)
        if cut[here]:
            runs.append([])
        else:
            runs[-1].append(loop[here])
    # The edges lead clockwise, from the throat over the bill to the crown.
    return np.array(max(runs, key=len)[::-1], np.float64)


def _mean(line: Line) -> Line:
    """Take the weighted mean along a line, so that no pixel's corner shows; its ends stay."""
    reach = int(4 * _SMOOTH)
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / _SMOOTH) ** 2)
    weights /= weights.sum()
    if len(line) <= 2 * reach:
        return line
    ends = (2 * line[0] - line[reach:0:-1], line, 2 * line[-1] - line[-2 : -reach - 2 : -1])
    if (line[0] == line[-1]).all():
        ends = (line[-reach - 1 : -1], line, line[1 : reach + 1])
    longer = np.concatenate(ends)
    return np.stack([np.convolve(longer[:, axis], weights, "valid") for axis in (0, 1)], axis=1)


def _smooth(line: Line) -> Line:
    """Smooth a line, and once more what that took from it, so that the tip of a bill is not lost (Tukey 1977)."""
    once = _mean(line)
    return once + _mean(line - once)


def _simple(line: Line) -> Line:
    """Leave out points that the line passes near enough without them (Douglas and Peucker 1973)."""
    kept = {0, len(line) - 1}
    spans = [(0, len(line) - 1)]
    while spans:
        start, end = spans.pop()
        if end - start < 2:
            continue
        way = line[end] - line[start]
        far = line[start + 1 : end] - line[start]
        length = float(np.hypot(*way))
        off = np.abs(far[:, 0] * way[1] - far[:, 1] * way[0]) / length if length else np.hypot(far[:, 0], far[:, 1])
        at = start + 1 + int(np.argmax(off))
        if off[at - start - 1] > _TOLERANCE:
            kept.add(at)
            spans += [(start, at), (at, end)]
    return line[sorted(kept)]


def _bill_base(mask: Mask, deep: float) -> Point | None:
    """Find the base of the bill; a head that is held up or down is turned level first."""
    rows, columns = np.nonzero(mask)
    tip_x = int(columns.min())
    tip_y = float(rows[columns == tip_x].mean())
    slope = math.degrees(math.atan2(float(rows.mean()) - tip_y, float(columns.mean()) - tip_x))
    if abs(slope) < _SLOPING:
        return _walked(mask, deep)
    room = max(mask.shape)
    centre = tip_x + room, tip_y + room
    image = Image.fromarray(np.pad(mask, room).astype(np.uint8) * 255)
    base = _walked(np.asarray(image.rotate(slope, center=centre)) > 0, deep)
    if base is None:
        return None
    turn = math.radians(slope)
    x, y = base[0] - centre[0], base[1] - centre[1]
    return tip_x + x * math.cos(turn) - y * math.sin(turn), tip_y + x * math.sin(turn) + y * math.cos(turn)


def _walked(mask: Mask, deep: float) -> Point | None:
    """Walk from the tip of the bill backwards until the head is nearly half as deep as its box."""
    columns = np.nonzero(mask.any(axis=0))[0]
    tip = int(columns[0])
    rows = np.nonzero(mask[:, tip])[0]
    top, bottom = int(rows[0]), int(rows[-1])
    middle: list[float] = []
    for x in range(tip, mask.shape[1]):
        column = mask[:, x]
        inside = np.nonzero(column[top : bottom + 1])[0]
        if not len(inside):
            return None
        # Of what is in this column, the run that hangs together with that of the one before.
        at = top + int(inside[0])
        top = at - int(np.argmin(column[: at + 1][::-1])) + 1 if not column[: at + 1].all() else 0
        below = column[at:]
        bottom = at + (int(np.argmin(below)) if not below.all() else len(below)) - 1
        if bottom - top + 1 >= _DEEP * deep:
            before = middle[-3] if len(middle) > 2 else (top + bottom + 1) / 2
            return float(x), before
        middle.append((top + bottom + 1) / 2)
    return None
