"""The proof's own small server: this machine only, reading only, and only what the edition knows."""

from __future__ import annotations

import contextlib
import hashlib
import socket
import threading
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, cast
from urllib.parse import unquote_to_bytes

from tertial.pages.site import FRONT
from tertial.proof.edition import PROOF_POLICY
from tertial.proof.views import FOLDER

if TYPE_CHECKING:
    from collections.abc import Callable

    from tertial.proof.desk import Desk

LOOPBACK: Final = "127.0.0.1"
NEWS: Final = f"{FOLDER}/news"
"""Address at which pages are told of changes (server-sent events, HTML standard)."""

_LONGEST: Final = 2000
"""Characters of the longest address that is looked up."""

_ALWAYS: Final = (
    ("X-Content-Type-Options", "nosniff"),
    ("X-Frame-Options", "DENY"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Referrer-Policy", "no-referrer"),
)


class ProofServer(ThreadingHTTPServer):
    """Serves what lies on a desk.

    :param port: the port wished for; where it is taken, a free one is found.
    :param say: is told of failures of our own.
    """

    daemon_threads = False

    def __init__(self, desk: Desk, port: int, say: Callable[[str], None]) -> None:
        self.desk = desk
        self.say = say
        self._open: set[socket.socket] = set()
        self._opening = threading.Lock()
        try:
            super().__init__((LOOPBACK, port), _Handler)
        except OSError:
            super().__init__((LOOPBACK, 0), _Handler)
        self._thread = threading.Thread(target=self.serve_forever, kwargs={"poll_interval": 0.1}, name="server")
        self._thread.start()

    @property
    def address(self) -> str:
        """Where the proof is to be seen."""
        return f"http://{LOOPBACK}:{self.server_port}/"

    @property
    def hosts(self) -> tuple[str, str]:
        """The names under which it answers, so that no other site's name can be led here."""
        return f"{LOOPBACK}:{self.server_port}", f"localhost:{self.server_port}"

    def close(self) -> None:
        """End every connection and thread, those that wait for news included."""
        self.desk.close()
        self.shutdown()
        with self._opening:
            for connection in self._open:
                with contextlib.suppress(OSError):
                    connection.shutdown(socket.SHUT_RDWR)
        self.server_close()
        self._thread.join()

    def process_request(self, request: Any, client_address: Any) -> None:
        """Begin a connection, and remember it."""
        with self._opening:
            self._open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request: Any) -> None:
        """End a connection, and forget it."""
        with self._opening:
            self._open.discard(request)
        super().shutdown_request(request)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say in a line what failed; a reader who went away is no failure."""
        import sys  # noqa: PLC0415 - only ever needed here

        fault = sys.exc_info()[1]
        if not isinstance(fault, ConnectionError | TimeoutError):
            self.say(f"a request could not be answered: {fault!r}")


class _Handler(BaseHTTPRequestHandler):
    timeout = 30

    @property
    def _proof(self) -> ProofServer:
        return cast("ProofServer", self.server)

    def do_GET(self) -> None:
        """Answer a request for a page or a file."""
        hosts = self.headers.get_all("Host", [])
        if len(hosts) != 1 or hosts[0].strip().lower() not in self._proof.hosts:
            self.send_error(HTTPStatus.FORBIDDEN)
            return
        address = _address(self.path)
        if address is None:
            self.send_error(HTTPStatus.REQUEST_URI_TOO_LONG if len(self.path) > _LONGEST else HTTPStatus.NOT_FOUND)
        elif address == NEWS:
            self._tell_news()
        else:
            self._answer(address)

    do_HEAD = do_GET  # noqa: N815 - the name that the base class calls

    def _answer(self, address: str) -> None:
        try:
            answer = self._proof.desk.edition.answer(address)
            body = answer.body.read_bytes() if isinstance(answer.body, Path) else answer.body
            tag = _tag(answer.body) if answer.keeps else ""
        except Exception as fault:
            # Whatever is wrong with one page, the others are still there.
            self._proof.say(f"{address} cannot be shown: {fault!r}")
            self.send_error(HTTPStatus.INTERNAL_SERVER_ERROR)
            return
        if tag and self.headers.get("If-None-Match") == tag:
            self._begin(HTTPStatus.NOT_MODIFIED, answer.kind, answer.policy, tag)
            self.end_headers()
            return
        self._begin(answer.status, answer.kind, answer.policy, tag)
        if answer.moved_to:
            self.send_header("Location", answer.moved_to)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def _tell_news(self) -> None:
        self._begin(HTTPStatus.OK, "text/event-stream; charset=utf-8", PROOF_POLICY)
        self.end_headers()
        if self.command == "HEAD":
            return
        for notice in self._proof.desk.notices():
            event = "checked" if notice and notice.checked else "state"
            said = f"event: {event}\ndata: {notice.state}\n\n" if notice else ": still here\n\n"
            said += f"event: pictures\ndata: {notice.pictures}\n\n" if notice and notice.pictures else ""
            self.wfile.write(said.encode("ascii"))

    def _begin(self, status: HTTPStatus, kind: str, policy: str, tag: str = "") -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Security-Policy", policy)
        # A font that is loaded anew at every save would let the page flicker.
        self.send_header("Cache-Control", "no-cache" if tag else "no-store")
        if tag:
            self.send_header("ETag", tag)
        for name, value in _ALWAYS:
            self.send_header(name, value)

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Refuse a request in plain words that repeat nothing of it."""
        status = HTTPStatus(code)
        if status is HTTPStatus.NOT_IMPLEMENTED:
            # The base class says so of a method that it does not know; here none but two is allowed.
            status = HTTPStatus.METHOD_NOT_ALLOWED
        body = f"{status.value} {status.phrase}\n".encode("ascii")
        self._begin(status, "text/plain; charset=utf-8", PROOF_POLICY)
        if status is HTTPStatus.METHOD_NOT_ALLOWED:
            self.send_header("Allow", "GET, HEAD")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        if getattr(self, "command", None) != "HEAD":
            self.wfile.write(body)

    def version_string(self) -> str:
        """Name the server without its parts and versions."""
        return "tertial"

    def log_message(self, format: str, *args: object) -> None:
        """Keep quiet: who writes has other things to read."""


def _tag(body: bytes | Path) -> str:
    """Tell one state of a file from another (entity tag, RFC 9110)."""
    if isinstance(body, bytes):
        return f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    found = body.stat()
    return f'"{found.st_mtime_ns:x}-{found.st_size:x}"'


def _address(target: str) -> str | None:
    """Turn the target of a request into an address that can be looked up; None if it cannot be one."""
    if not target.startswith("/") or len(target) > _LONGEST:
        return None
    try:
        address = unquote_to_bytes(target.partition("?")[0][1:]).decode("utf-8", errors="surrogateescape")
    except UnicodeError:
        return None
    return address + FRONT if not address or address.endswith("/") else address
