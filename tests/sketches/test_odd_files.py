"""Files that are no pictures, or no longer: each is answered with a reason, none with an exception."""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageFile

from tertial.sketches.resize import Encoding, Resized, resize
from tertial.sketches.sizes import MOST_PIXELS, WIDTHS
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Callable

    Encode = Callable[..., bytes]

KINDS = ("JPEG", "PNG", "WEBP", "TIFF", "GIF", "BMP")


def reason(data: bytes) -> str:
    """Give the reason for which a file cannot be published."""
    result = resize(data, WIDTHS, MOST_PIXELS, Encoding(84, 0))
    assert isinstance(result, Unreadable)
    return result.reason


def header_only(width: int, height: int) -> bytes:
    """A PNG that claims a size and holds no picture (ISO/IEC 15948, 5.3 and 11.2.2)."""

    def chunk(name: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("width", "height", "found"),
    [
        (12_000, 10_001, "12000 x 10001 pixels"),
        (13_000, 13_000, "13000 x 13000 pixels"),
        (100_000, 100_000, "far too many pixels"),
        (2**31 - 1, 2**31 - 1, "far too many pixels"),
    ],
)
def test_a_picture_that_claims_too_much_is_refused_unread(
    monkeypatch: pytest.MonkeyPatch, width: int, height: int, found: str
) -> None:
    """Judged by its header alone, a picture of more pixels than a computer can bear is never decoded."""
    monkeypatch.setattr(ImageFile.ImageFile, "load", lambda _: pytest.fail("the picture was decoded"))
    assert reason(header_only(width, height)) == f"the picture has {found}; at most 120 million were expected"


def test_a_picture_of_the_largest_size_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """The limit itself is within bounds: that file is opened, and then found to be empty."""
    loaded: list[tuple[int, int]] = []

    def load(picture: ImageFile.ImageFile) -> None:
        loaded.append(picture.size)
        raise OSError("nothing in it")

    monkeypatch.setattr(ImageFile.ImageFile, "load", load)
    assert reason(header_only(12_000, 10_000)).startswith("the picture is damaged")
    assert loaded == [(12_000, 10_000)]


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_a_picture_that_breaks_off_is_named_so(encode: Encode, kind: str) -> None:
    """Half a file, as a broken download leaves it, is damaged and not unknown."""
    data = encode(Image.effect_noise((200, 100), 80).convert("RGB"), kind)
    assert reason(data[: len(data) // 2]).startswith("the picture is damaged (")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\x00",
        b"species: Hairy Woodpecker\n",
        b"<!doctype html><title>Not found</title>",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"%PDF-1.7\n",
        b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic",
        b"RIFF\x00\x00\x00\x00WAVEfmt ",
        b"\xff\xd8\xff",
        b"\x89PNG\r\n\x1a\n",
        b"GIF89a",
        b"BM",
        b"II*\x00",
    ],
    ids=["empty", "zero", "text", "page", "SVG", "PDF", "HEIC", "sound", "JPEG", "PNG", "GIF", "BMP", "TIFF"],
)
def test_what_is_no_picture_is_answered_with_a_reason(data: bytes) -> None:
    """A file of another kind, or the first bytes of one, says what was expected instead."""
    assert reason(data).endswith("was expected")


@pytest.mark.parametrize("kind", ["EPS", "ICO", "JPEG2000", "PCX", "PPM", "TGA"])
def test_kinds_that_no_author_has_are_refused(encode: Encode, kind: str) -> None:
    """Seldom kinds are not read, above all PostScript, for which another program would be started."""
    assert "HEIC or SVG was expected" in reason(encode(Image.new("RGB", (8, 8)), kind))


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(changes=st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=6), kept=st.floats(0, 2))
def test_no_damage_raises_an_exception(
    encode: Encode, kind: str, changes: list[tuple[float, int]], kept: float
) -> None:
    """Whatever bytes of a picture are changed or lost, there are sizes to publish or a reason why not."""
    exif = Image.Exif()
    exif[0x0112] = 6
    whole = encode(Image.radial_gradient("L").resize((24, 16)).convert("RGB"), kind, exif=exif)
    data = bytearray(whole)
    for place, value in changes:
        data[int(place * (len(data) - 1))] = value
    result = resize(bytes(data[: int(kept * len(data))]), (8, 16), MOST_PIXELS, Encoding(84, 0))
    if isinstance(result, Unreadable):
        assert result.reason.endswith("expected")
    else:
        assert all(isinstance(size, Resized) and 1 <= size.width <= 16 for size in result.sizes)
