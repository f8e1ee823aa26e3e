"""Fixtures that several groups of tests share."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

REPOSITORY = Path(__file__).resolve().parent.parent

# The smallest picture that is one: a grey dot in PNG (ISO/IEC 15948), made by hand once.
DOT = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c636800000082008177cd72b60000000049454e44ae426082"
)


@pytest.fixture
def repository() -> Path:
    """The checkout, which is itself a guide."""
    return REPOSITORY


@pytest.fixture
def make_guide(tmp_path: Path) -> Callable[[Mapping[str, str | bytes]], Path]:
    """Write the files of a guide, texts or bytes by path, and give its folder."""

    def make(files: Mapping[str, str | bytes]) -> Path:
        folder = tmp_path / "guide"
        for path, content in {"guide.yaml": "title: Test\n", **files}.items():
            target = folder / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        return folder

    return make
