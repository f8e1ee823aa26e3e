"""Draw the icons for home screens from ``layouts/assets/icon.svg``: ``python -m tests.demo.icons``."""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path
from typing import Final

from tests.demo.photograph import CHROMIUM, REPOSITORY

ASSETS: Final = REPOSITORY / "layouts" / "assets"
SIZES: Final = (192, 512)
"""Widths in pixels that home screens ask for: common practice, no source."""

# A home screen may cut anything outside a circle of four fifths of the width (Web Application Manifest, W3C, "masks").
PAGE: Final = """<!doctype html><style>
body {{ margin: 0; display: grid; place-items: center; height: {size}px; background: #f8f4ea }}
img {{ width: 56% }}
</style><img src="{icon}" alt="">"""


def main() -> None:
    """Draw them; ``subprocess.CalledProcessError`` when the browser fails."""
    for size in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            page = Path(folder, "icon.html")
            page.write_text(PAGE.format(size=size, icon=(ASSETS / "icon.svg").as_uri()), encoding="utf-8")
            words = f"--user-data-dir={folder}/profile", f"--window-size={size},{size}", page.as_uri()
            shot = f"--screenshot={ASSETS / f'icon-{size}.png'}"
            subprocess.run([*CHROMIUM, shot, *words], check=True, capture_output=True)


if __name__ == "__main__":
    main()
