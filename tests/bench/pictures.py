"""What pictures cost, as ratios measured in one run: ``python tests/bench/pictures.py``.

The yardstick is the naive way for one picture: decode all of it, make each width from that with the best filter,
and write WebP with the usual effort. Photographs are made up; nothing here is a test.
"""

from __future__ import annotations

import io
import statistics
import subprocess
import sys
import tempfile
import time
from functools import partial
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from tertial.sketches.developing import Choice
from tertial.sketches.resize import Encoding, Made, resize
from tertial.sketches.sizes import MOST_PIXELS, WIDTHS, Original, PictureStore

SIZE = (4032, 3024)
ROUNDS = 3
FILES = 8
ENCODING = Encoding(84, 2)

_STROKES = ((700, 3200), (600, 2400), (-90, 90), (-90, 90))
"""Where strokes begin, and how far they go."""


def photo(drawn: bool, seed: int = 1) -> bytes:
    """Twelve million pixels in JPEG: a page with strokes in falling light, or a picture full of detail."""
    chance = np.random.default_rng(seed)
    across, down = np.meshgrid(np.linspace(0, 1, SIZE[0]), np.linspace(0, 1, SIZE[1]))
    light = 235 - 90 * (0.7 * across + 0.3 * down)
    if drawn:
        page = Image.fromarray(light.astype(np.uint8)).convert("RGB")
        pen = ImageDraw.Draw(page)
        pen.ellipse((1200, 900, 2700, 2100), fill=(170, 120, 80))
        for _ in range(900):
            left, top, wide, high = (int(chance.integers(*limits)) for limits in _STROKES)
            pen.line((left, top, left + wide, top + high), fill=(70, 66, 60), width=5)
        pixels = np.asarray(page).astype(np.float32)
    else:
        coarse = Image.fromarray(chance.integers(0, 255, (190, 252, 3)).astype(np.uint8))
        pixels = np.asarray(coarse.resize(SIZE, Image.Resampling.BICUBIC)).astype(np.float32)
    pixels = pixels + chance.normal(0, 3, pixels.shape).astype(np.float32)
    out = io.BytesIO()
    Image.fromarray(pixels.clip(0, 255).astype(np.uint8)).save(out, "JPEG", quality=88)
    return out.getvalue()


def naive(data: bytes) -> None:
    """The yardstick."""
    whole = Image.open(io.BytesIO(data)).convert("RGB")
    for width in WIDTHS:
        size = width, round(whole.height * width / whole.width)
        whole.resize(size, Image.Resampling.LANCZOS).save(io.BytesIO(), "WEBP", quality=ENCODING.quality, method=4)


def ours(data: bytes, choice: Choice) -> None:
    """What a build does with one picture."""
    made = resize(data, WIDTHS, MOST_PIXELS, ENCODING, choice)
    assert isinstance(made, Made)
    assert made.developing.done == (choice is not Choice.NONE)


def main() -> None:
    """Print the figures."""
    if sys.argv[1:]:
        kind, name = sys.argv[1:]
        ours(Path(name).read_bytes(), Choice(kind))
        # The peak of this process alone; what getrusage tells begins with that of its parent.
        print(int(Path("/proc/self/status").read_text().partition("VmHWM:")[2].split()[0]) // 1024)
        return
    for drawn, choice, words in ((False, Choice.NONE, "photo"), (True, Choice.JUDGED, "photographed drawing")):
        data = photo(drawn)
        seconds: dict[str, list[float]] = {"naive": [], "ours": []}
        for _ in range(ROUNDS):
            for name, task in (("naive", partial(naive, data)), ("ours", partial(ours, data, choice))):
                begin = time.perf_counter()
                task()
                seconds[name].append(time.perf_counter() - begin)
        each = {name: statistics.median(found) for name, found in seconds.items()}
        with tempfile.NamedTemporaryFile(suffix=".jpg") as file:
            file.write(data)
            file.flush()
            command = [sys.executable, __file__, str(choice), file.name]
            peak = subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()
        print(f"{words}: {each['ours']:.2f} s, {each['ours'] / each['naive']:.2f} of naive, at most {peak} MiB")
    with tempfile.TemporaryDirectory() as folder:
        originals = []
        for at in range(FILES):
            path = Path(folder) / f"{at}.jpg"
            path.write_bytes(photo(at % 2 == 1, at))
            originals.append(Original(path, Choice.JUDGED if at % 2 else Choice.NONE))
        times = []
        for _ in range(2):
            begin = time.perf_counter()
            list(PictureStore(Path(folder) / "kept").publish_all(originals))
            times.append(time.perf_counter() - begin)
        print(f"{FILES} pictures: {times[0]:.2f} s the first time, {times[1] / times[0]:.1%} of that the second time")


if __name__ == "__main__":
    main()
