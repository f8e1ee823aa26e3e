"""What a reader's device is told to keep: every file with its digest, of each picture one width, no more."""

from __future__ import annotations

import hashlib
import json
import re
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Make = Callable[[Mapping[str, str | bytes]], Path]
    Listed = dict[str, tuple[str, int]]

LEFT_OUT = {"satchel.js", "satchel.json", "feed.xml", ".made-by-tertial"}


def listed(build: Path) -> Listed:
    """Give digest and length of every file that is kept, by path."""
    rows = json.loads((build / "satchel.json").read_bytes())
    found = {path: (digest, length) for path, digest, length in rows}
    assert len(found) == len(rows)
    return found


def edition(build: Path) -> str:
    """Give the digest by which the script knows its list."""
    (digest,) = re.findall(r'DIGEST = "(\w+)"', (build / "satchel.js").read_text("utf-8"))
    return str(digest)


def test_every_file_is_listed_as_it_is(demo: Path, demo_pages: dict[str, bytes]) -> None:
    """Whatever is no picture is kept, under the digest of its bytes and with their number."""
    kept = listed(demo / "build")
    for path, (digest, length) in kept.items():
        assert hashlib.sha256(demo_pages[path]).hexdigest().startswith(digest), path
        assert len(demo_pages[path]) == length, path
        assert len(digest) == 16
    rest = {path for path in demo_pages.keys() - kept.keys() if not path.startswith("pictures/")}
    assert rest == LEFT_OUT
    assert list(kept) == sorted(kept)


def test_of_each_picture_one_width_is_kept(demo: Path, demo_pages: dict[str, bytes]) -> None:
    """None is missing, and those that only other programs ask for are not among them."""

    def widthless(path: str) -> str:
        return path.rpartition("-")[0]

    published = [path for path in demo_pages if path.startswith("pictures/") and "/preview-" not in path]
    kept = [path for path in listed(demo / "build") if path.startswith("pictures/")]
    assert len(kept) > 30
    assert len({widthless(path) for path in kept}) == len(kept)
    assert {widthless(path) for path in kept} == {widthless(path) for path in published}
    assert all(path.endswith("-960.webp") for path in kept)


def test_the_script_knows_its_list_by_its_digest(demo: Path) -> None:
    """So that a browser, which compares scripts, learns of a new edition."""
    digest = hashlib.sha256((demo / "build/satchel.json").read_bytes()).hexdigest()
    assert edition(demo / "build") == digest[:16]


@pytest.fixture
def guide(make_guide: Make) -> Path:
    """A small guide with a sketch, built."""
    files = {
        "entries/tit.md": "---\nspecies: Tufted Titmouse\nsketches:\n  - file: a.png\n    alt: a tit\n---\nHere.\n",
        "entries/weir.md": "---\nplace: The weir\n---\nQuiet.\n",
    }
    folder = make_guide(files)
    Image.linear_gradient("L").resize((1000, 700)).save(folder / "entries/a.png")
    assert build_guide(folder).pages > 5
    return folder


def test_an_edition_is_one_of_content(guide: Path) -> None:
    """A build of the same makes the same; an edit changes what it changes, and taken back it changes nothing."""
    before, first = listed(guide / "build"), edition(guide / "build")
    weir = guide / "entries/weir.md"
    text = weir.read_text("utf-8")
    weir.write_text(text.replace("Quiet", "Loud"), "utf-8")
    build_guide(guide)
    changed = {path for path, known in listed(guide / "build").items() if before.get(path) != known}
    assert changed == {"places/the-weir.html", "data/words.js"}
    assert edition(guide / "build") != first
    weir.write_text(text, "utf-8")
    build_guide(guide)
    assert (listed(guide / "build"), edition(guide / "build")) == (before, first)


def test_a_script_of_the_author_s_own_is_taken(guide: Path) -> None:
    """As any layout, it is replaced by one of its name."""
    (guide / "layouts").mkdir()
    (guide / "layouts/satchel.js").write_text('var DIGEST = "DIGEST-OF-THE-LIST";\n', "utf-8")
    build_guide(guide)
    digest = hashlib.sha256((guide / "build/satchel.json").read_bytes()).hexdigest()[:16]
    assert (guide / "build/satchel.js").read_text("utf-8") == f'var DIGEST = "{digest}";\n'


def test_the_home_screen_is_told_the_title_and_the_icons(demo: Path, demo_pages: dict[str, bytes]) -> None:
    """Everything the manifest leads to is there, and lies in its scope (Web Application Manifest, W3C)."""
    manifest = json.loads(demo_pages["manifest.webmanifest"])
    assert manifest["name"] == "Birds of the Millrace"
    assert (manifest["start_url"], manifest["scope"]) == ("index.html", "./")
    assert {icon["src"] for icon in manifest["icons"]} < demo_pages.keys()
    assert b"manifest" not in demo_pages["index.html"].partition(b"<body>")[0].replace(b"manifest-src", b"")
