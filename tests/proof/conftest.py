"""Fixtures that show the proof of a guide for as long as a test runs."""

from __future__ import annotations

import threading
from contextlib import ExitStack
from typing import TYPE_CHECKING

import pytest
from tests.proof.reader import BROKEN, DOWNY, HAIRY, PATIENCE, Reader

from tertial.proof.running import opened
from tertial.sketches.sizes import PictureStore

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from tertial.sketches.sizes import Original, Published
    from tertial.sketches.unreadable import Unreadable


@pytest.fixture
def open_proof(
    make_guide: Callable[[Mapping[str, str | bytes]], Path],
) -> Iterator[Callable[..., Reader]]:
    """Show the proof of a guide with these files until the test is over."""
    with ExitStack() as closing:

        def open_it(files: Mapping[str, str | bytes], say: Callable[[str], None] = lambda _: None) -> Reader:
            folder = make_guide(files)
            return Reader(closing.enter_context(opened(folder, 0, say)).server_port, folder)

        yield open_it


@pytest.fixture
def proof(open_proof: Callable[..., Reader]) -> Reader:
    """The proof of two woodpeckers and a file that is no entry."""
    return open_proof({"entries/hairy.md": HAIRY, "entries/downy.md": DOWNY, "entries/broken.md": BROKEN})


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """Hold every picture back until this is set."""
    gate, publish = threading.Event(), PictureStore.publish

    def held(store: PictureStore, original: Original) -> Published | Unreadable:
        gate.wait(PATIENCE)
        return publish(store, original)

    monkeypatch.setattr(PictureStore, "publish", held)
    return gate
