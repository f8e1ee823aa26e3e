"""Every kind of file that authors have comes out as the same picture."""

from __future__ import annotations

import io
import struct
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from PIL import Image, ImageFile
from pillow_heif import register_heif_opener

from tertial.sketches.developing import Choice
from tertial.sketches.header import Header, read_header
from tertial.sketches.sizes import Original, PictureStore
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Encode = Callable[..., bytes]
    Publish = Callable[..., list[Image.Image]]


def halves(mode: str = "RGB") -> Image.Image:
    """Red on the left and blue on the right."""
    picture = Image.new("RGB", (64, 32), (220, 30, 30))
    picture.paste((30, 30, 220), (32, 0, 64, 32))
    return picture.convert(mode)


def heif(picture: Image.Image, **settings: bytes) -> bytes:
    register_heif_opener()
    out = io.BytesIO()
    picture.save(out, "HEIF", quality=95, **settings)
    return out.getvalue()


def deep_tiff() -> bytes:
    """A TIFF with 16 bits for each of three colours (TIFF 6.0, sections 2 and 6), which Pillow does not write."""
    pixels = b"".join(struct.pack("<H", value * 257) for value in halves().tobytes())
    tags = [(256, 3, 1, 64), (257, 3, 1, 32), (258, 3, 3, 8 + 2 + 10 * 12 + 4), (259, 3, 1, 1), (262, 3, 1, 2)]
    tags += [
        (273, 4, 1, 8 + 2 + 10 * 12 + 4 + 6),
        (277, 3, 1, 3),
        (278, 3, 1, 32),
        (279, 4, 1, len(pixels)),
        (284, 3, 1, 1),
    ]
    head = struct.pack("<2sHIH", b"II", 42, 8, len(tags))
    return (
        head + b"".join(struct.pack("<HHII", *tag) for tag in tags) + bytes(4) + struct.pack("<3H", 16, 16, 16) + pixels
    )


def kinds(encode: Encode) -> dict[str, bytes]:
    return {
        **{kind: encode(halves(), kind) for kind in ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "AVIF")},
        "palette": encode(halves().quantize(4), "PNG"),
        "inks": encode(halves("CMYK"), "TIFF"),
        "clear": encode(halves("RGBA"), "PNG"),
        "deep": deep_tiff(),
        "HEIF": heif(halves()),
    }


@pytest.mark.parametrize(
    "kind", ["JPEG", "PNG", "WEBP", "TIFF", "BMP", "AVIF", "palette", "inks", "clear", "deep", "HEIF"]
)
def test_every_kind_shows_the_same(encode: Encode, publish: Publish, kind: str, tmp_path: Path) -> None:
    """Left is red, right is blue, and the header knows the size beforehand."""
    data = kinds(encode)[kind]
    (picture,) = publish(data)
    assert picture.size == (64, 32)
    for x, expected in ((12, (220, 30, 30)), (52, (30, 30, 220))):
        found = picture.convert("RGB").getpixel((x, 16))
        assert isinstance(found, tuple)
        assert max(abs(a - b) for a, b in zip(found, expected, strict=True)) < 24
    (tmp_path / "a").write_bytes(data)
    assert read_header(tmp_path / "a") == Header(64, 32, has_position=False)


def test_a_lying_heif_stands_upright(tmp_path: Path, publish: Publish) -> None:
    """The orientation that a phone writes holds for this kind too, for the picture and for its header."""
    exif = Image.Exif()
    exif[0x0112] = 6
    data = heif(halves(), exif=exif.tobytes())
    (picture,) = publish(data)
    (tmp_path / "a.heic").write_bytes(data)
    assert picture.size == (32, 64)
    assert read_header(tmp_path / "a.heic") == Header(32, 64, has_position=False)


def test_the_library_for_heif_is_loaded_for_such_files_alone(tmp_path: Path, encode: Encode) -> None:
    """Whoever has other pictures never waits for it."""
    (tmp_path / "a.png").write_bytes(encode(halves(), "PNG"))
    (tmp_path / "b.heic").write_bytes(heif(halves()))
    ask = "import sys; from pathlib import Path; from tertial.sketches.header import read_header as r;"
    for name, loaded in (("a.png", "False"), ("b.heic", "True")):
        say = f"{ask} assert r(Path({str(tmp_path / name)!r})).width == 64; print('pillow_heif' in sys.modules)"
        assert subprocess.check_output([sys.executable, "-c", say], text=True).strip() == loaded


def test_a_second_look_decodes_nothing(tmp_path: Path, encode: Encode, monkeypatch: pytest.MonkeyPatch) -> None:
    """Several pictures are decoded once each, by two threads, and never again."""
    decoded: list[str] = []
    load = ImageFile.ImageFile.load

    def counted(picture: ImageFile.ImageFile) -> object:
        if picture.tile:
            decoded.append(str(picture.format))
        return load(picture)

    monkeypatch.setattr(ImageFile.ImageFile, "load", counted)
    originals = []
    for at in range(5):
        path = tmp_path / f"{at}.png"
        path.write_bytes(encode(Image.new("RGB", (40 + at, 30), (at, 200, 90)), "PNG"))
        originals.append(Original(path, Choice.JUDGED))
    first = list(PictureStore(tmp_path / "kept").publish_all(originals))
    assert len(decoded) == 5
    second = list(PictureStore(tmp_path / "kept").publish_all(originals))
    assert len(decoded) == 5
    assert first == second
    widths = [each[0].largest.width for each in first if not isinstance(each, Unreadable)]
    assert widths == [40, 41, 42, 43, 44]
