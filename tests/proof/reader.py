"""A small guide for tests of the proof, and a reader that asks with plain sockets and waits for news."""

from __future__ import annotations

import re
import socket
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

PATIENCE = 60
"""Seconds after which a test gives up; a slow machine must not fail it."""

# The smallest picture that is one: a grey dot in PNG (ISO/IEC 15948), made by hand once.
DOT = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c636800000082008177cd72b60000000049454e44ae426082"
)
HAIRY = """---
species: Hairy Woodpecker
marks:
  all: |
    nap: red patch
---
Met at the mill, twice the size of the DOWO.
"""
DOWNY = "---\nspecies: Downy Woodpecker\nmarks:\n  all: |\n    nape: red patch\n---\nOn the thin twigs by the weir.\n"
BROKEN = "---\ncolour: red\nseen: <by the weir>\n---\nNobody knows what this was.\n"


@dataclass(frozen=True, slots=True)
class Response:
    """What came back, as it came."""

    status: int
    head: str
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode("utf-8")

    def header(self, name: str) -> str | None:
        found = re.search(rf"^{name}: (.*?)\r?$", self.head, re.MULTILINE | re.IGNORECASE)
        return found.group(1) if found else None


class Reader:
    """Asks a proof for what a test wants to see."""

    def __init__(self, port: int, folder: Path) -> None:
        self.port = port
        self.folder = folder
        self.address = f"http://127.0.0.1:{port}/"

    def send(self, request: bytes) -> Response:
        """Send bytes as they are."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE) as connection:
            connection.sendall(request)
            answer = b"".join(iter(lambda: connection.recv(65536), b""))
        head, _, body = answer.partition(b"\r\n\r\n")
        return Response(int(head.split()[1]), head.decode("latin-1"), body)

    def ask(self, target: str, method: str = "GET", host: str | None = None) -> Response:
        """Send a request that is whole but for what the test makes of it."""
        said = f"127.0.0.1:{self.port}" if host is None else host
        return self.send(f"{method} {target} HTTP/1.1\r\nHost: {said}\r\n\r\n".encode())

    def news(self) -> Iterator[tuple[str, str]]:
        """Give each notice as it comes: what it is, and the mark of the state."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE) as connection:
            connection.sendall(f"GET /proof/news HTTP/1.1\r\nHost: 127.0.0.1:{self.port}\r\n\r\n".encode())
            with connection.makefile("r", encoding="utf-8") as lines:
                for line in lines:
                    if line.startswith("event: "):
                        yield line.removeprefix("event: ").strip(), next(lines).removeprefix("data: ").strip()

    def checked(self) -> str:
        """Wait until the state in force is checked, and give its mark."""
        return next(state for kind, state in self.news() if kind == "checked")

    def pictures(self) -> int:
        """Wait until pictures have come that a page had to do without, and give how many times they have."""
        return next(int(said) for kind, said in self.news() if kind == "pictures")

    def save(self, path: str, content: str | bytes) -> str:
        """Save a file of the guide, wait until the new state is checked, and give its mark."""
        news = self.news()
        before = next(news)[1]
        target = self.folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        return next(state for kind, state in news if kind == "checked" and state != before)
