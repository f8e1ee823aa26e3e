"""Photograph the demo's drawings: ``python -m tests.demo.photograph [NAME ...]``, all of them if none is named.

A drawing of ``entries/drawings/`` is rendered with Chromium, laid on a page of paper by a window (``paper``) and
written as ``NAME.jpg`` beside the entry that lists it. The sketch lines of that entry (scale, head, pointers)
are made anew from the drawing's named spots (``spots``). With ``--look`` plain pictures of the drawings are
written to a folder instead, and no entry is touched.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PIL import Image
from tests.demo.paper import framing, photograph
from tests.demo.spots import Affine, lines_of, read_drawing, told

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tests.demo.spots import Drawing

REPOSITORY: Final = Path(__file__).resolve().parent.parent.parent
ENTRIES: Final = REPOSITORY / "entries"
DRAWINGS: Final = ENTRIES / "drawings"

CHROMIUM: Final = (
    "chromium",
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
)
"""The browser, quiet and without a network of its own."""


def render(svg: Path, drawing: Drawing, scale: float) -> Image.Image:
    """Render a drawing on white.

    :param scale: pixels a unit of its view box.
    :raises subprocess.CalledProcessError: when the browser fails.
    """
    with tempfile.TemporaryDirectory() as folder:
        shot = Path(folder, "shot.png")
        words = (
            f"--user-data-dir={folder}/profile",
            f"--force-device-scale-factor={scale:.6f}",
            f"--window-size={round(drawing.width)},{round(drawing.height)}",
            f"--screenshot={shot}",
            svg.resolve().as_uri(),
        )
        subprocess.run([*CHROMIUM, *words], check=True, capture_output=True)
        with Image.open(shot) as picture:
            return picture.convert("RGB")


def entry_of(name: str) -> Path | None:
    """Find the entry that lists a sketch of that name, whatever its suffix."""
    for entry in sorted(ENTRIES.glob("*/*.md")):
        if any(
            line.startswith(f"  - file: {name}.") and "." not in line.removeprefix(f"  - file: {name}.")
            for line in entry.read_text(encoding="utf-8").split("\n")
        ):
            return entry
    return None


def take(name: str) -> str:
    """Photograph one drawing and renew its lines; give what there is to report."""
    svg = DRAWINGS / f"{name}.svg"
    drawing = read_drawing(svg.read_text(encoding="utf-8"))
    to_pixels, size = framing(name, drawing.width, drawing.height)
    scale = round((to_pixels.a**2 + to_pixels.d**2) ** 0.5, 6)
    rendered = render(svg, drawing, scale)
    a, b, d, e = (value / scale for value in (to_pixels.a, to_pixels.b, to_pixels.d, to_pixels.e))
    data = photograph(name, rendered, Affine(a, b, to_pixels.c, d, e, to_pixels.f), size)
    lines = lines_of(drawing, to_pixels)
    entry = entry_of(name)
    target = (entry.parent if entry else ENTRIES / "species") / f"{name}.jpg"
    target.write_bytes(data)
    if entry:
        text = entry.read_text(encoding="utf-8")
        entry.write_text(told(text, target.name, lines), encoding="utf-8", newline="\n")
    where = entry.relative_to(REPOSITORY) if entry else "no entry lists it"
    return "\n".join([f"{target.name}: {size[0]} x {size[1]}, {len(data) // 1000} kB, {where}", *lines])


def main(words: Sequence[str]) -> None:
    """Photograph, or only look."""
    parser = argparse.ArgumentParser(prog="photograph", description="Photograph the drawings of the demo.")
    parser.add_argument("names", nargs="*", metavar="NAME", help="a drawing, without its suffix")
    parser.add_argument("--look", type=Path, metavar="FOLDER", help="write plain pictures there, change no entry")
    asked = parser.parse_args(words)
    for name in asked.names or sorted(path.stem for path in DRAWINGS.glob("*.svg")):
        if asked.look:
            svg = DRAWINGS / f"{name}.svg"
            render(svg, read_drawing(svg.read_text(encoding="utf-8")), 1).save(asked.look / f"{name}.png")
        else:
            sys.stdout.write(f"{take(name)}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
