"""Pictures made for the tests of this room, and published sizes read back."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image

from tertial.sketches.resize import Encoding, resize
from tertial.sketches.sizes import MOST_PIXELS
from tertial.sketches.unreadable import Unreadable

if TYPE_CHECKING:
    from collections.abc import Callable


def encode_picture(picture: Image.Image, kind: str, **settings: Any) -> bytes:
    """Give a picture as the bytes of a file."""
    out = io.BytesIO()
    picture.save(out, kind, **settings)
    return out.getvalue()


def publish_bytes(data: bytes, *widths: int) -> list[Image.Image]:
    """Give the published sizes of a file, decoded; the file is expected to be a good one."""
    results = resize(data, widths or (480,), MOST_PIXELS, Encoding(90, 0))
    assert not isinstance(results, Unreadable), results.reason
    pictures: list[Image.Image] = [Image.open(io.BytesIO(result.data)) for result in results.sizes]
    assert [picture.size for picture in pictures] == [(result.width, result.height) for result in results.sizes]
    assert {picture.format for picture in pictures} == {"WEBP"}
    return pictures


@pytest.fixture(scope="session")
def encode() -> Callable[..., bytes]:
    """Write a picture into a file of some kind."""
    return encode_picture


@pytest.fixture(scope="session")
def publish() -> Callable[..., list[Image.Image]]:
    """Publish a file at some widths, and read the results."""
    return publish_bytes
