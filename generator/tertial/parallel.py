"""One work on two processors: a process and its twin, made by ``fork``, take the same steps.

At each step both do their half, and tell each other what came of it. Where there is no ``fork``, or one
processor, or too little to do, a process is alone and does everything; what comes out is the same.
"""

from __future__ import annotations

import marshal
import mmap
import os
import signal
from typing import TYPE_CHECKING, Any, Final, Literal, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from types import TracebackType

V = TypeVar("V")

_COUNT: Final = 8
"""Bytes of a count that both processes see."""

FEWEST: Final = 100
"""Below so many things to do a second process costs what it saves."""


class Halves:
    """A process and its twin, once there is enough to do. The twin ends where the ``with`` block ends.

    :param number: how much there is to do.
    """

    def __init__(self, number: int = 0) -> None:
        self._child = -1
        self._pipes: tuple[int, int] | None = None
        self._counts: memoryview[int]
        self.is_twin = False
        """Whether this is the second process, whose only use is what it tells the first."""
        self.divide(number)

    def divide(self, number: int) -> None:
        """Make the twin, if there is none yet and enough to do for two; one that has failed is not made again."""
        if self._child != -1 or number < FEWEST or not hasattr(os, "fork") or (os.cpu_count() or 1) < 2:
            return
        self._counts = memoryview(mmap.mmap(-1, 2 * _COUNT)).cast("Q")
        down, up = os.pipe(), os.pipe()
        self._child = os.fork()
        self.is_twin = self._child == 0
        ours, theirs = ((down[0], up[1]), (down[1], up[0])) if self.is_twin else ((up[0], down[1]), (up[1], down[0]))
        for each in theirs:
            os.close(each)
        self._pipes = ours

    @property
    def is_alone(self) -> bool:
        """Whether there is no twin to do the other half."""
        return self._pipes is None

    def half(self, things: Sequence[V]) -> Sequence[V]:
        """Give this process's half of the things to do; all of them if it is alone."""
        if self._pipes is None:
            return things
        middle = len(things) // 2
        return things[middle:] if self.is_twin else things[:middle]

    def from_both_ends(self, names: Sequence[str]) -> Iterator[str]:
        """Give names from the front, and to the twin from the back, until the two meet: who is faster does more.

        Each tells the other how far it is; where both look up at once, one name is given to both.
        """
        if self._pipes is None:
            yield from names
            return
        ours, theirs = (1, 0) if self.is_twin else (0, 1)
        # Only its own count is written by each: nothing has to be locked.
        for name in reversed(names) if self.is_twin else names:
            if self._counts[ours] + self._counts[theirs] >= len(names):
                return
            self._counts[ours] += 1
            yield name

    def both(self, mine: Mapping[str, V]) -> dict[str, V]:
        """Tell the other what came of one half, by name, and give what came of both.

        The values are plain. When the other has failed its half is missing, and it is asked no more.
        """
        result = dict(mine)
        if self._pipes is not None:
            try:
                if self.is_twin:
                    self._send(result)
                    result.update(self._receive())
                else:
                    theirs = self._receive()
                    self._send(result)
                    result.update(theirs)
            except (OSError, EOFError, ValueError, TypeError):
                if self.is_twin:
                    os._exit(1)
                self._part()
        return result

    def gather(self, mine: Mapping[str, V]) -> dict[str, V]:
        """Like ``both``, as the last step: only the first process gets an answer, the twin ends."""
        result = dict(mine)
        if self.is_twin:
            self._send(result)
            os._exit(0)
        if self._pipes is not None:
            try:
                result.update(self._receive())
            except (OSError, EOFError, ValueError, TypeError):
                self._part()
        return result

    def __enter__(self) -> Halves:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> Literal[False]:
        if self.is_twin:
            os._exit(kind is not None)
        self._part()
        return False

    def _part(self) -> None:
        """Go on alone."""
        if self._pipes is not None:
            for each in self._pipes:
                os.close(each)
            self._pipes = None
            os.kill(self._child, signal.SIGKILL)
            os.waitpid(self._child, 0)

    def _send(self, value: dict[str, Any]) -> None:
        if self._pipes is not None:
            data = marshal.dumps(value)
            with os.fdopen(self._pipes[1], "wb", closefd=False) as pipe:
                pipe.write(len(data).to_bytes(8, "big") + data)

    def _receive(self) -> dict[str, Any]:
        if self._pipes is None:
            return {}
        with os.fdopen(self._pipes[0], "rb", buffering=0, closefd=False) as pipe:
            length = int.from_bytes(_whole(pipe, 8), "big")
            received: dict[str, Any] = marshal.loads(_whole(pipe, length))
        return received


def _whole(pipe: Any, length: int) -> bytearray:
    """Read so many bytes; ``EOFError`` if the other end closes before."""
    data = bytearray(length)
    view, at = memoryview(data), 0
    while at < length:
        count = pipe.readinto(view[at:])
        if not count:
            raise EOFError
        at += count
    return data
