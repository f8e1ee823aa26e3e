"""One run at a time: what works on a folder keeps the others waiting."""

from __future__ import annotations

import contextlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@contextlib.contextmanager
def alone(work: Path, lock: str = "lock") -> Iterator[bool]:
    """Keep two runs from working on one guide at once; the second waits.

    :param work: the folder in which the lock lies; made if missing.
    :param lock: name of the lock.
    :returns: for the ``with`` block, whether another run had to be waited for.
    """
    work.mkdir(parents=True, exist_ok=True)
    try:
        import fcntl  # noqa: PLC0415 - not on every system
    except ImportError:  # pragma: no cover - there, one person at one machine has to do
        yield False
        return
    with (work / lock).open("w") as file:
        waited = False
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            fcntl.flock(file, fcntl.LOCK_EX)
            waited = True
        yield waited
