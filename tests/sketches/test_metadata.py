"""Nothing but the picture is published: not where it was taken, by what, or when."""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING

import pytest
from PIL import Image, ImageCms
from PIL.PngImagePlugin import PngInfo

from tertial.sketches.resize import Encoding, resize
from tertial.sketches.sizes import MOST_PIXELS
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

SECRET = "the owl by the upper weir"
XMP = f"<x:xmpmeta xmlns:x='adobe:ns:meta/'><rdf>{SECRET}</rdf></x:xmpmeta>".encode()
PROFILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
TRACES = (SECRET.encode(), b"GPS", b"Exif", b"2026:01", b"adobe", b"acsp")


def position() -> Image.Exif:
    """Metadata as a phone writes it: make, time, remark, and a position in the GPS directory (Exif 2.32, 4.6.6)."""
    exif = Image.Exif()
    exif[0x010E] = exif[0x010F] = exif[0x9286] = SECRET
    exif[0x0132] = "2026:01:17 08:10:00"
    exif.get_ifd(0x8825).update({1: "N", 2: (44.0, 58.0, 40.008), 3: "W", 4: (93.0, 15.0, 54.0)})
    return exif


def chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Give the chunks of a WebP file (RFC 9649, section 2.3)."""
    assert (data[:4], data[8:12]) == (b"RIFF", b"WEBP")
    at = 12
    while at < len(data):
        name, length = struct.unpack_from("<4sI", data, at)
        yield name, data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2


def files(encode: Callable[..., bytes], mode: str) -> dict[str, bytes]:
    """The same picture in every kind of file that can hold metadata, all of it filled."""
    picture = Image.radial_gradient("L").convert(mode)
    info = PngInfo()
    info.add_text("Comment", SECRET)
    info.add_itxt("XML:com.adobe.xmp", XMP.decode())
    exif = position()
    png = {"PNG": encode(picture, "PNG", exif=exif, pnginfo=info, icc_profile=PROFILE)}
    webp = {"WEBP": encode(picture, "WEBP", exif=exif, xmp=XMP, icc_profile=PROFILE)}
    tiff = {"TIFF": encode(picture, "TIFF", exif=exif, description=SECRET, icc_profile=PROFILE)}
    if mode == "RGBA":
        return png | webp | tiff
    jpeg = encode(picture, "JPEG", exif=exif, comment=SECRET, xmp=XMP, icc_profile=PROFILE)
    return png | webp | tiff | {"JPEG": jpeg, "GIF": encode(picture, "GIF", comment=SECRET.encode())}


@pytest.mark.parametrize(
    ("mode", "kind"),
    [("RGB", kind) for kind in ("JPEG", "PNG", "WEBP", "TIFF", "GIF")]
    + [("RGBA", kind) for kind in ("PNG", "WEBP", "TIFF")],
)
@pytest.mark.parametrize("width", [100, 256])
def test_no_metadata_is_published(encode: Callable[..., bytes], mode: str, kind: str, width: int) -> None:
    """Of position, time, make, remarks and profile nothing is left, made smaller or not."""
    data = files(encode, mode)[kind]
    assert SECRET.encode() in data
    results = resize(data, (width,), MOST_PIXELS, Encoding(84, 0))
    assert not isinstance(results, Unreadable), results.reason
    for result in (*results.sizes, results.fallback):
        assert not [trace for trace in TRACES if trace in result.data]
    for result in results.sizes:
        assert {name for name, _ in chunks(result.data)} <= {b"VP8 ", b"VP8L", b"VP8X", b"ALPH"}
        for name, content in chunks(result.data):
            # Flags for profile, Exif, XMP and animation: RFC 9649, section 2.7.
            assert name != b"VP8X" or not content[0] & 0b00101110


def test_the_position_is_there_to_begin_with(encode: Callable[..., bytes]) -> None:
    """The test above would hold for anything if the pictures made for it had no position."""
    for data in files(encode, "RGBA").values():
        assert len(data) > 1000
    assert position().get_ifd(0x8825)[2] == (44.0, 58.0, 40.008)
    assert b"Exif" in files(encode, "RGB")["JPEG"]
