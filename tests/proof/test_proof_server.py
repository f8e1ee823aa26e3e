"""What the proof's server refuses: whatever is asked, nothing but the guide's own addresses is answered."""

from __future__ import annotations

import socket
import threading
from typing import TYPE_CHECKING

import pytest
from tests.proof.reader import DOT, HAIRY, PATIENCE, Reader

from tertial.proof.running import opened

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

SECRET = "the key under the third flowerpot"
POLICY = (
    "default-src 'none'; img-src 'self'; style-src 'self'; font-src 'self'; script-src 'self'; "
    "base-uri 'none'; form-action 'none'; connect-src 'self'"
)

NOWHERE = (
    "/secret.txt",
    "/../secret.txt",
    "/species/../../secret.txt",
    "/assets/../../../secret.txt",
    "/pictures/../secret.txt",
    "/proof/text/../../secret.txt",
    "/proof/text/secret.txt.html",
    "/proof/text/../secret.txt.html",
    "/%2e%2e/secret.txt",
    "/%2e%2e%2fsecret.txt",
    "/..%2fsecret.txt",
    "/assets/%2E%2E%2F%2E%2E%2Fsecret.txt",
    "/%252e%252e%252fsecret.txt",
    "/..\\secret.txt",
    "/..%5csecret.txt",
    "/%2f{folder}/secret.txt",
    "/{folder}/secret.txt",
    "//{folder}/secret.txt",
    "{folder}/secret.txt",
    "file://{folder}/secret.txt",
    "http://127.0.0.1:{port}/index.html",
    "/index.html%00",
    "/index.html\0",
    "/secret.txt%00.html",
    "/index.html/../secret.txt",
    "/.",
    "/..",
    "*",
    "/%",
    "/%ff%fe",
    "/guide.yaml",
    "/entries/hairy.md",
    "/layouts/base.html",
    "/layouts/proof/proof.js",
    "/build/index.html",
    "/.tertial/pictures",
    "/assets",
    "/proof",
)


@pytest.fixture
def guarded(open_proof: Callable[..., Reader]) -> Reader:
    """A proof with something worth stealing beside its pages, and above its folder."""
    proof = open_proof({"entries/hairy.md": HAIRY, "secret.txt": SECRET, "build/index.html": SECRET})
    (proof.folder.parent / "secret.txt").write_text(SECRET, encoding="utf-8")
    return proof


def test_what_the_guide_has_is_answered(guarded: Reader) -> None:
    """The table below would prove nothing if every address were refused."""
    for target in ("/", "/index.html", "/index.html?again=1", "/species/", "/assets/guide.css", "/proof/proof.js"):
        assert guarded.ask(target).status == 200, target


@pytest.mark.parametrize("target", NOWHERE)
def test_no_way_of_writing_an_address_leads_to_a_file(guarded: Reader, target: str) -> None:
    """Climbing, escaping, absolute and cut-off addresses all lead nowhere."""
    answer = guarded.ask(target.format(folder=guarded.folder.parent, port=guarded.port))
    assert answer.status == 404
    assert SECRET not in answer.head + answer.text


@pytest.mark.parametrize("length", [2001, 65_000, 70_000])
def test_an_address_too_long_to_be_one_is_refused(guarded: Reader, length: int) -> None:
    """A very long address is refused before it is looked up."""
    head = f"GET /{'../' * (length // 3)}secret.txt HTTP/1.1\r\nHost: 127.0.0.1:{guarded.port}\r\n\r\n"
    # One byte more than is read would end the connection before the answer is.
    assert guarded.send(head.encode()[:65_537] if length > 65_536 else head.encode()).status == 414


@pytest.mark.parametrize(
    "host",
    [
        "",
        "example.org",
        "example.org:{port}",
        "127.0.0.1",
        "localhost",
        "127.0.0.1:1",
        "localhost.example.org:{port}",
        "127.0.0.1:{port}.example.org",
        "reader@127.0.0.1:{port}",
        "127.0.0.1:{port}\r\nHost: 127.0.0.1:{port}",
        "127.0.0.1:{port}, example.org",
        "[::1]:{port}",
    ],
)
def test_another_host_name_is_refused(guarded: Reader, host: str) -> None:
    """A foreign name that was led to this machine reads nothing of the guide."""
    answer = guarded.ask("/index.html", host=host.format(port=guarded.port))
    assert (answer.status, answer.body) == (403, b"403 Forbidden\n")


@pytest.mark.parametrize("request_line", ["GET /index.html HTTP/1.1", "GET /index.html HTTP/1.0"])
def test_a_request_without_a_host_is_refused(guarded: Reader, request_line: str) -> None:
    """No name at all is no better than a foreign one."""
    answer = guarded.send(f"{request_line}\r\nAccept: text/html\r\n\r\n".encode())
    assert answer.status == 403


@pytest.mark.parametrize("host", ["127.0.0.1:{port}", "localhost:{port}", "LocalHost:{port}"])
def test_both_names_of_this_machine_are_answered(guarded: Reader, host: str) -> None:
    """The address that is printed works, and so does its everyday name."""
    assert guarded.ask("/index.html", host=host.format(port=guarded.port)).status == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "CONNECT", "FLY"])
def test_other_methods_are_refused(guarded: Reader, method: str) -> None:
    """A proof is only read, and says how."""
    answer = guarded.ask("/index.html", method)
    assert (answer.status, answer.header("Allow")) == (405, "GET, HEAD")


@pytest.mark.parametrize("target", ["/index.html", "/assets/guide.css", "/nowhere.html", "/proof/news"])
def test_head_gives_the_head_alone(guarded: Reader, target: str) -> None:
    """HEAD answers as GET would, without the content."""
    answer = guarded.ask(target, "HEAD")
    assert answer.status == (404 if target == "/nowhere.html" else 200)
    assert answer.body == b""


@pytest.mark.parametrize("target", ["/", "/species/hairy-woodpecker.html", "/proof/to-do.html", "/nowhere/at/all.html"])
def test_every_page_bears_the_policy_twice(guarded: Reader, target: str) -> None:
    """The policy stands in the head of the answer and in the page, and allows a page to ask for news besides."""
    answer = guarded.ask(target)
    assert answer.header("Content-Security-Policy") == POLICY
    assert f'http-equiv="Content-Security-Policy" content="{POLICY}"' in answer.text


def test_a_question_keeps_its_own_narrower_policy(open_proof: Callable[..., Reader]) -> None:
    """A question to send is shown as it will be sent: no script, nothing to load."""
    proof = open_proof({"entries/stranger.md": "---\nunknown: Bird at the weir\n---\nGrey, and gone.\n"})
    answer = proof.ask("/questions/bird-at-the-weir.html")
    assert answer.status == 200
    assert "script-src" not in (answer.header("Content-Security-Policy") or "script-src")
    assert "<script" not in answer.text


def test_links_that_lead_out_of_the_guide_are_not_followed(
    make_guide: Callable[[Mapping[str, str | bytes]], Path], tmp_path: Path
) -> None:
    """A link in entries or layouts to a file elsewhere shows nothing of that file; one within shows its file."""
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.md").write_text(f"---\nspecies: Downy Woodpecker\n---\n{SECRET}\n", encoding="utf-8")
    (outside / "note.md").write_text(SECRET, encoding="utf-8")
    (outside / "dot.png").write_bytes(DOT)
    entry = HAIRY.replace("Met", "![a dot](dot.png) Met")
    folder = make_guide({"entries/hairy.md": entry, "layouts/assets/own.txt": "mine"})
    (folder / "entries/downy.md").symlink_to(outside / "secret.md")
    (folder / "entries/note.md").symlink_to(outside / "note.md")
    (folder / "entries/dot.png").symlink_to(outside / "dot.png")
    (folder / "layouts/assets/leak.txt").symlink_to(outside / "secret.md")
    (folder / "layouts/assets/far").symlink_to(outside, target_is_directory=True)
    (folder / "layouts/assets/near.txt").symlink_to("own.txt")
    (folder / "layouts/style").mkdir()
    (folder / "layouts/style/leak.css").symlink_to(outside / "secret.md")
    with opened(folder, 0) as server:
        proof = Reader(server.server_port, folder)
        proof.checked()
        for target in ("/assets/leak.txt", "/assets/far/secret.md", "/species/downy-woodpecker.html"):
            assert proof.ask(target).status == 404, target
        for target in ("/proof/text/entries/downy.md.html", "/proof/text/entries/note.md.html", "/proof/to-do.html"):
            assert SECRET not in proof.ask(target).text, target
        assert "<img" not in proof.ask("/species/hairy-woodpecker.html").text
        assert "leads out of the guide" in proof.ask("/proof/to-do.html").text
        assert proof.ask("/assets/near.txt").body == b"mine"
        assert SECRET not in proof.ask("/assets/guide.css").text


def test_a_file_that_did_not_change_is_not_sent_again(guarded: Reader) -> None:
    """The reader's copy of a font or style sheet is confirmed by its tag."""
    tag = guarded.ask("/assets/guide.css").header("ETag")
    request = f"GET /assets/guide.css HTTP/1.1\r\nHost: 127.0.0.1:{guarded.port}\r\nIf-None-Match: {tag}\r\n\r\n"
    answer = guarded.send(request.encode())
    assert (answer.status, answer.body) == (304, b"")


def test_two_proofs_wish_for_one_port_and_get_two(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """Where the wished port is taken, a free one is found."""
    folder = make_guide({"entries/hairy.md": HAIRY})
    with opened(folder, 0) as first, opened(folder, first.server_port) as second:
        assert first.server_port != second.server_port
        assert (
            Reader(first.server_port, folder).ask("/").status
            == Reader(second.server_port, folder).ask("/").status
            == 200
        )
        assert second.address == f"http://127.0.0.1:{second.server_port}/"


def test_only_this_machine_is_listened_to(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """The server is bound to the loopback address and no other."""
    with opened(make_guide({}), 0) as server:
        assert server.socket.getsockname() == ("127.0.0.1", server.server_port)


def test_closing_ends_every_thread_and_connection(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """Pages that wait for news, and connections that say nothing, hold up nobody."""
    before = set(threading.enumerate())
    folder = make_guide({"entries/hairy.md": HAIRY})
    with opened(folder, 0) as server:
        reader = Reader(server.server_port, folder)
        silent = socket.create_connection(("127.0.0.1", server.server_port), timeout=PATIENCE)
        news = reader.news()
        next(news)
        assert set(threading.enumerate()) > before
    assert set(threading.enumerate()) == before
    assert list(news)[1:] == []
    with silent:
        assert silent.recv(1) == b""


def test_build_is_never_touched(guarded: Reader) -> None:
    """What lies in build/ stays, and nothing comes to it."""
    guarded.checked()
    guarded.ask("/species/hairy-woodpecker.html")
    build = guarded.folder / "build"
    assert [path.name for path in build.iterdir()] == ["index.html"]
    assert (build / "index.html").read_text(encoding="utf-8") == SECRET
