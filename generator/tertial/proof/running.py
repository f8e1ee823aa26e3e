"""The proof from its first word to its last: opens what belongs to it, and closes it in order."""

from __future__ import annotations

import signal
import threading
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING

from tertial.proof.desk import Desk
from tertial.proof.following import Follower
from tertial.proof.server import ProofServer

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path


@contextmanager
def opened(folder: Path, port: int, say: Callable[[str], None] = lambda _: None) -> Iterator[ProofServer]:
    """Show a guide for as long as the context lasts.

    :param port: the port wished for; where it is taken, a free one is found.
    :param say: is told in a line what happens.
    """
    with ExitStack() as closing:
        desk = Desk(folder, say)
        closing.callback(desk.close)
        server = ProofServer(desk, port, say)
        closing.callback(server.close)
        follower = Follower(folder, desk.take_up, say)
        closing.callback(follower.close)
        if not follower.wait_ready():
            say("changes are not followed yet; this disk is slow to watch")
        # What was saved between the loading and the watching.
        desk.take_up()
        yield server


def run(folder: Path, port: int, announce: Callable[[str], None], say: Callable[[str], None]) -> None:
    """Show a guide until Ctrl-C.

    :param announce: is told the address, once.
    :param say: is told in a line what happens.
    """
    # What is half open could not be closed in order: a Ctrl-C that comes early is heeded when everything stands.
    early: list[int] = []
    signal.signal(signal.SIGINT, lambda number, _: early.append(number))
    with opened(folder, port, say) as server:
        try:
            signal.signal(signal.SIGINT, signal.default_int_handler)
            if not early:
                announce(server.address)
                threading.Event().wait()
        except KeyboardInterrupt:
            pass
        # A second Ctrl-C must not tear the closing.
        signal.signal(signal.SIGINT, signal.SIG_IGN)
