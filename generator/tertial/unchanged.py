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

State = dict[str, tuple[int, int]]
"""Size and time of change in nanoseconds by name of file."""

_FILE = os.path.join(".tertial", "last-build")
_FORM = 1
_PROGRAM = os.path.dirname(os.path.abspath(__file__))
_SKIPPED = frozenset({"__pycache__", ".git"})


def last_answer(folder: str, form: str) -> tuple[str, str, int] | None:
    """Give what the last build of a guide said, if nothing has changed since.

    :param folder: the guide's folder.
    :param form: the form of report that is asked for.
    :returns: text for standard output, text for standard error, exit code; or None.
    """
    try:
        with open(os.path.join(folder, _FILE), "rb") as file:
            number, kept_form, out, err, code, read, written = marshal.load(file)
    except (OSError, EOFError, ValueError, TypeError):
        return None
    if (number, kept_form) != (_FORM, form) or written != output_state(folder) or read != state(folder):
        return None
    return out, err, code


def keep_answer(folder: str, form: str, seen: tuple[State, State], out: str, err: str, code: int) -> None:
    """Keep what a build said.

    :param seen: the state of what the build read and that of what it wrote.
    """
    path = os.path.join(folder, _FILE)
    with open(path + ".part", "wb") as file:
        marshal.dump((_FORM, form, out, err, code, *seen), file)
    os.replace(path + ".part", path)


def state(folder: str) -> State:
    """Size and time of change of every file that has a say in the guide, the program's own included."""
    found: State = {"python": (sys.hexversion, 0)}
    _note(os.path.join(folder, "guide.yaml"), "guide.yaml", found)
    for name in ("entries", "layouts"):
        _walk(os.path.join(folder, name), name, found)
    _walk(_PROGRAM, "program", found)
    _walk(os.path.join(os.path.dirname(os.path.dirname(_PROGRAM)), "layouts"), "program layouts", found)
    return found


def output_state(folder: str) -> State:
    """Size and time of change of every file of the finished guide."""
    found: State = {}
    _walk(os.path.join(folder, "build"), "build", found)
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
