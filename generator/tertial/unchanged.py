"""The shortest answer of all: nothing has changed since the last build, so nothing needs doing.

Asked before anything else is imported, which is why this module uses no more than it does. It keeps
size and time of every file that a build read or wrote; a build is skipped only if all of them are as
they were, the program's own included. What was said then is said again.
"""

# ruff: noqa: PTH100, PTH105, PTH116, PTH118, PTH120, PTH123
# pathlib alone would cost more than the whole answer.

from __future__ import annotations

import marshal
import os
import sys

# The module that has this name costs as much as half the short answer.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable

State = dict[str, tuple[int, int]]
"""Size and time of change in nanoseconds by name of file."""

Seen = tuple[State, State]
"""The state of what a guide is made of, and that of the finished guide."""

_FILE = os.path.join(".tertial", "last-build")
_FORM = 2
_ALSO = "also "
_PROGRAM = os.path.dirname(os.path.abspath(__file__))
_SKIPPED = frozenset({"__pycache__", ".git"})


class Answer:
    """What the last build of a guide said.

    :param form: the form of its report.
    :param where: the guide's folder as the answer names it.
    :param seen: what there was to be seen of the guide.
    :param out: text for standard output.
    :param err: text for standard error.
    :param code: exit code.
    """

    __slots__ = ("code", "err", "form", "out", "seen", "where")

    def __init__(self, form: str, where: str, seen: Seen, out: str, err: str, code: int) -> None:
        self.form, self.where, self.seen, self.out, self.err, self.code = form, where, seen, out, err, code

    @property
    def also(self) -> tuple[str, ...]:
        """Paths of files that the guide was made of besides those that are always looked at."""
        return tuple(name.removeprefix(_ALSO) for name in self.seen[0] if name.startswith(_ALSO))


def last_answer(folder: str) -> Answer | None:
    """Read what the last build of a guide said, if it is known."""
    try:
        with open(os.path.join(folder, _FILE), "rb") as file:
            number, form, where, out, err, code, read, written = marshal.load(file)
    except (OSError, EOFError, ValueError, TypeError):
        return None
    return Answer(form, where, (read, written), out, err, code) if number == _FORM else None


def keep_answer(folder: str, answer: Answer) -> None:
    """Keep what a build said."""
    path = os.path.join(folder, _FILE)
    with open(path + ".part", "wb") as file:
        marshal.dump((_FORM, answer.form, answer.where, answer.out, answer.err, answer.code, *answer.seen), file)
    os.replace(path + ".part", path)


def see(folder: str, also: Iterable[str] = ()) -> Seen:
    """Look at every file that has a say in a guide, and at every file of the finished one."""
    return state(folder, also), output_state(folder)


def state(folder: str, also: Iterable[str] = ()) -> State:
    """Give the state of every file that has a say in the guide, the program's own included, and of its libraries.

    :param also: paths of further files, such as pictures that lie elsewhere.
    """
    found: State = {"python": (sys.hexversion, 0)}
    # A library that is put in or taken out changes the folder that it lies in; its files are too many to look at.
    for libraries in sys.path:
        if libraries.endswith("-packages"):
            _note(libraries, f"libraries {libraries}", found)
    _note(os.path.join(folder, "guide.yaml"), "guide.yaml", found)
    for name in ("entries", "layouts"):
        _walk(os.path.join(folder, name), name, found)
    _walk(_PROGRAM, "program", found)
    _walk(os.path.join(os.path.dirname(os.path.dirname(_PROGRAM)), "layouts"), "program layouts", found)
    return with_others(folder, found, also)


def with_others(folder: str, found: State, also: Iterable[str]) -> State:
    """Give a state with these files, and no others, besides those that are always looked at."""
    found = {name: stamp for name, stamp in found.items() if not name.startswith(_ALSO)}
    for path in also:
        _note(os.path.join(folder, path), _ALSO + path, found)
    return found


def output_state(folder: str) -> State:
    """Give the state of every file of the finished guide."""
    found: State = {}
    _walk(os.path.join(folder, "build"), "build", found)
    return found


def output_state_after(folder: str, before: State, touched: Iterable[str]) -> State:
    """Give the state of the finished guide from that before a build, and the files that it wrote or removed.

    Whatever else has changed meanwhile is noticed by the next build, because it is not taken in here.

    :param touched: their paths from the folder of the finished guide.
    """
    found = dict(before)
    for path in touched:
        name = f"build/{path}"
        found.pop(name, None)
        if os.path.lexists(os.path.join(folder, name)):
            _note(os.path.join(folder, name), name, found)
    return found


def _walk(folder: str, name: str, found: State) -> None:
    try:
        entries = os.scandir(folder)
    except OSError:
        return
    with entries:
        for entry in entries:
            if entry.name not in _SKIPPED:
                if entry.is_dir(follow_symlinks=False):
                    _walk(entry.path, f"{name}/{entry.name}", found)
                else:
                    _note(entry.path, f"{name}/{entry.name}", found)


def _note(path: str, name: str, found: State) -> None:
    try:
        stat = os.stat(path)
        found[name] = (stat.st_size, stat.st_mtime_ns)
    except OSError:
        found[name] = (-1, -1)
