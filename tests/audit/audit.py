"""What Lighthouse says of the finished demo: ``make audit``. On demand, and no test: its figures vary from run to run.

The guide in ``build/`` is served on this machine only, below the folder that its base address names, with text packed
and connections kept, as web hosts do. A page of each main kind is asked for three times, as a phone, and the best is
told, since other work on the machine only lowers it. A figure below 100 is printed with what lowered it.
"""

from __future__ import annotations

import gzip
import io
import json
import os
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Any, BinaryIO, Final
from urllib.parse import urlsplit

import yaml

if TYPE_CHECKING:
    from collections.abc import Iterator

HERE: Final = Path(__file__).resolve().parent
REPOSITORY: Final = HERE.parent.parent
PROGRAM: Final = HERE / "node_modules/.bin/lighthouse"
PAGES: Final = ("", "species/downy-woodpecker.html", "pairs/dowo-hawo.html", "groups/nuthatches.html", "find.html")
PACKED: Final = frozenset({".html", ".css", ".js", ".json", ".svg", ".webmanifest"})
TIMES: Final = 3
BROWSER: Final = (
    "--headless=new --no-sandbox --disable-gpu --disable-quic --disable-background-networking --disable-sync"
)


class Below(SimpleHTTPRequestHandler):
    """Files of the guide below the path of its base address, without a word in the log."""

    mount = "/"
    protocol_version = "HTTP/1.1"
    extensions_map = SimpleHTTPRequestHandler.extensions_map | {".webp": "image/webp", ".woff2": "font/woff2"}

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        """Answer with a file, packed where it is text."""
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if path.suffix not in PACKED or not path.is_file():
            return super().send_head()
        packed = gzip.compress(path.read_bytes(), mtime=0)
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(path))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(packed)))
        self.end_headers()
        return io.BytesIO(packed)

    def translate_path(self, path: str) -> str:
        """Lead an address below the mount to the file; any other to none."""
        below = urlsplit(path).path
        inside = below.removeprefix(self.mount) if below.startswith(self.mount) else "no such page"
        return super().translate_path(f"/{inside}")

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextmanager
def served(folder: Path, mount: str) -> Iterator[str]:
    """Serve a folder for as long as the block runs, and give the address of its front page."""
    handler = type("Mounted", (Below,), {"mount": mount})
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(handler, directory=str(folder))) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}{mount}"
        server.shutdown()


def best(address: str) -> dict[str, Any]:
    """Ask for one page several times; give the report with the highest figures."""
    reports = [asked(address) for _ in range(TIMES)]
    return max(reports, key=lambda report: sum(kind["score"] or 0 for kind in report["categories"].values()))


def asked(address: str) -> dict[str, Any]:
    """Ask for one page; give the whole report."""
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder, "report.json")
        words = ("--quiet", "--no-enable-error-reporting", "--output=json", f"--output-path={report}")
        environment = {"CHROME_PATH": "/usr/bin/chromium", **os.environ}
        subprocess.run([PROGRAM, address, *words, f"--chrome-flags={BROWSER}"], check=True, env=environment)
        found: dict[str, Any] = json.loads(report.read_text(encoding="utf-8"))
        return found


def main() -> None:
    """Print the four figures of each page, and what lowered them."""
    settings = yaml.safe_load((REPOSITORY / "guide.yaml").read_text(encoding="utf-8"))
    mount = urlsplit(settings.get("base address", "/")).path or "/"
    with served(REPOSITORY / "build", mount) as front:
        for page in PAGES:
            report = best(front + page)
            kinds = report["categories"].values()
            figures = ", ".join(f"{kind['title'].lower()} {100 * (kind['score'] or 0):.0f}" for kind in kinds)
            sys.stdout.write(f"{page or 'front page'}: {figures}\n")
            for kind in kinds:
                for each in kind["auditRefs"]:
                    audit = report["audits"][each["id"]]
                    if each["weight"] and audit["score"] is not None and audit["score"] < 1:
                        sys.stdout.write(f"    {audit['title']}: {audit.get('displayValue', audit['score'])}\n")


if __name__ == "__main__":
    main()
