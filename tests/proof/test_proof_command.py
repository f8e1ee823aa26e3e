"""The command as a person runs it: it says where, stays quiet for programs, and ends when told to."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from typing import TYPE_CHECKING

from click.testing import CliRunner
from tests.proof.reader import DOWNY, HAIRY, PATIENCE, Reader

from tertial.cli import main

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path


def test_ctrl_c_ends_it_cleanly(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> None:
    """The address is printed once; with a page open, Ctrl-C gives exit code 0 and not a word of failure."""
    folder = make_guide({"entries/hairy.md": HAIRY})
    command = [sys.executable, "-m", "tertial", "proof", "--guide", str(folder), "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        first = running.stdout.readline()
        address = re.search(r"http://127\.0\.0\.1:(\d+)/", first)
        assert address is not None, first
        reader = Reader(int(address.group(1)), folder)
        assert reader.ask("/").status == 200
        reader.save("entries/downy.md", DOWNY)
        news = reader.news()
        next(news)
        running.send_signal(signal.SIGINT)
        assert running.wait(PATIENCE) == 0
        assert list(news)[1:] == []
        assert (running.stdout.read(), running.stderr.read()) == ("", "")


def test_ctrl_c_before_anything_is_shown_ends_it_cleanly() -> None:
    """While a large guide is read nothing is torn: what was begun is closed, and no address is told."""
    program = """
import contextlib, time
from pathlib import Path
from tertial.proof import running

@contextlib.contextmanager
def slow(folder, port, say):
    print("opening", flush=True)
    time.sleep(1)
    yield None
    print("closed", flush=True)

running.opened = slow
running.run(Path(), 0, print, print)
"""
    with subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        assert running.stdout.readline() == b"opening\n"
        running.send_signal(signal.SIGINT)
        assert running.wait(PATIENCE) == 0
        assert (running.stdout.read(), running.stderr.read()) == (b"closed\n", b"")


def test_a_folder_without_a_guide_is_wrong_use(tmp_path: Path) -> None:
    """There must be something to show."""
    done = CliRunner().invoke(main, ["proof", "--guide", str(tmp_path)])
    assert done.exit_code == 2
    assert "no guide.yaml" in done.output
