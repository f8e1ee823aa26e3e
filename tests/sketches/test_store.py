"""Published sizes kept from build to build: made once, found again, mended when a part is lost."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from PIL import Image
from tests.sketches.photographs import Circumstances, photograph, shapes

from tertial.sketches import resize as resizing
from tertial.sketches.developing import Choice
from tertial.sketches.sizes import WIDTHS, Original, PictureStore, PublishedPicture, Rendition
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Tree = dict[str, bytes]

PUBLISH = """
import json, sys
from pathlib import Path
from tertial.sketches.sizes import Original, PictureStore
picture, files = PictureStore(Path(sys.argv[1])).publish(Original(Path(sys.argv[2])))
print(json.dumps(["PIL" in sys.modules, {name: path.read_bytes().hex() for name, path in files.items()}]))
"""


@pytest.fixture
def original(tmp_path: Path) -> Path:
    """A picture of the author's."""
    path = tmp_path / "Hairy Männchen, 1.png"
    Image.radial_gradient("L").resize((1000, 500)).save(path)
    return path


@pytest.fixture
def store(tmp_path: Path) -> PictureStore:
    return PictureStore(tmp_path / "kept/pictures")


def published(store: PictureStore, original: Path) -> tuple[PublishedPicture, Tree]:
    found = store.publish(Original(original))
    assert not isinstance(found, Unreadable), found.reason
    return found[0], {name: path.read_bytes() for name, path in found[1].items()}


def kept_files(tmp_path: Path) -> list[Path]:
    return sorted(path for path in (tmp_path / "kept").rglob("*") if path.is_file())


def test_a_picture_gets_its_sizes_and_plain_names(store: PictureStore, original: Path) -> None:
    """Every size is a file, named after the author's in signs that any web host serves, with its content and width."""
    picture, files = published(store, original)
    digest = picture.smallest.name.removeprefix("hairy-m-nnchen-1-").partition("-")[0]
    assert len(digest) == 8
    assert [(size.name, size.width, size.height) for size in picture.renditions] == [
        (f"hairy-m-nnchen-1-{digest}-480.webp", 480, 240),
        (f"hairy-m-nnchen-1-{digest}-960.webp", 960, 480),
        (f"hairy-m-nnchen-1-{digest}-1000.webp", 1000, 500),
    ]
    assert picture.fallback == Rendition(f"hairy-m-nnchen-1-{digest}-960.jpg", 960, 480)
    assert picture.thumb == Rendition(f"hairy-m-nnchen-1-{digest}-240.webp", 240, 120)
    assert set(files) == {size.name for size in (*picture.renditions, picture.fallback, picture.thumb)}
    assert {data[:2] for data in files.values()} == {b"RI", b"\xff\xd8"}
    assert (picture.smallest, picture.largest) == (picture.renditions[0], picture.renditions[-1])
    assert WIDTHS == (480, 960, 1600)


def test_the_author_s_file_is_only_read(store: PictureStore, original: Path) -> None:
    """Publishing changes neither content nor time of the original, and puts nothing beside it."""
    before = (original.read_bytes(), original.stat().st_mtime_ns)
    published(store, original)
    assert (original.read_bytes(), original.stat().st_mtime_ns) == before
    assert {path.name for path in original.parent.iterdir()} == {original.name, "kept"}


def test_a_kept_picture_is_found_without_pillow(tmp_path: Path, original: Path) -> None:
    """The first run loads Pillow, the second does not, and both publish the same bytes."""
    command = [sys.executable, "-c", PUBLISH, str(tmp_path / "kept"), str(original)]
    once, again = (json.loads(subprocess.check_output(command)) for _ in range(2))
    assert (once[0], again[0]) == (True, False)
    assert once[1] == again[1]
    assert len(once[1]) == 5


def test_the_map_of_a_developed_picture_is_of_plain_numbers(store: PictureStore, tmp_path: Path) -> None:
    """When it is made as when it is found: a number of numpy's rounds a half in another way."""
    path = tmp_path / "photo.png"
    photograph(shapes(framed=True), (1500, 1125), Circumstances(lean=2.0)).picture.save(path)
    for _ in range(2):
        found = store.publish(Original(path, Choice.DRAWING))
        assert not isinstance(found, Unreadable)
        picture, _ = found
        assert picture.developing.turned
        assert {type(number) for number in picture.to_published.numbers} == {float}


def test_another_content_is_another_picture(store: PictureStore, original: Path) -> None:
    """A picture that was changed gets new names, so that no browser shows its former self."""
    _, before = published(store, original)
    Image.linear_gradient("L").resize((1000, 500)).save(original)
    _, after = published(store, original)
    assert set(before).isdisjoint(after)


def test_one_content_under_two_names_is_made_once(
    store: PictureStore, original: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A copy or a renamed file is published under its own name, from what is kept."""
    _, before = published(store, original)
    monkeypatch.setattr(resizing, "resize", lambda *_: pytest.fail("the picture was made again"))
    copy = tmp_path / "copy.png"
    copy.write_bytes(original.read_bytes())
    _, after = published(store, copy)
    assert list(before.values()) == list(after.values())
    assert all(name.startswith("copy-") for name in after)


@pytest.mark.parametrize("harm", ["removed", "emptied", "cut short"])
def test_what_is_lost_of_the_kept_is_made_again(store: PictureStore, original: Path, tmp_path: Path, harm: str) -> None:
    """Whichever kept file is missing, empty or cut short, what is published is whole."""
    picture, files = published(store, original)
    kept = kept_files(tmp_path)
    assert len(kept) == 6
    for path in kept:
        if harm == "removed":
            path.unlink()
        else:
            path.write_bytes(path.read_bytes()[: 0 if harm == "emptied" else -1])
        assert published(store, original) == (picture, files)
    assert kept_files(tmp_path) == kept


def test_a_file_that_is_no_picture_is_kept_nowhere(store: PictureStore, original: Path, tmp_path: Path) -> None:
    """What cannot be published gives a reason and leaves nothing behind."""
    original.write_bytes(b"no picture")
    found = store.publish(Original(original))
    assert isinstance(found, Unreadable)
    assert "JPEG, PNG, WebP, TIFF, AVIF, HEIC or SVG was expected" in found.reason
    assert kept_files(tmp_path) == []


def test_a_file_that_cannot_be_read_gives_the_reason(store: PictureStore, tmp_path: Path) -> None:
    """A file that is gone, or a folder, is the author's to mend."""
    for path, reason in ((tmp_path / "gone.png", "No such file"), (tmp_path, "Is a directory")):
        found = store.publish(Original(path, Choice.DRAWING))
        assert isinstance(found, Unreadable)
        assert reason in found.reason


def test_a_store_that_cannot_be_written_is_no_fault_of_the_picture(original: Path, tmp_path: Path) -> None:
    """When the place for results is taken, the system's own failure is passed on."""
    (tmp_path / "kept").write_bytes(b"a file")
    with pytest.raises(NotADirectoryError):
        PictureStore(tmp_path / "kept/pictures").publish(Original(original))


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        (".png", "png"),
        ("???.png", "picture"),
        ("鳥.png", "picture"),
        ("...png", "picture"),
        ("A  b__C.d.png", "a-b-c-d"),
        ("x" * 90 + ".png", "x" * 40),
    ],
)
def test_any_name_gives_a_plain_one(
    store: PictureStore, tmp_path: Path, name: str, plain: str, encode: Callable[..., bytes]
) -> None:
    """Signs that an address cannot hold are left out, and a name of nothing else becomes a word."""
    path = tmp_path / name
    path.write_bytes(encode(Image.new("L", (2, 2)), "PNG"))
    picture, _ = published(store, path)
    assert picture.smallest.name.rsplit("-", 2)[0] == plain
