"""The first code that runs. It answers a build in which nothing changed by itself; all else is ``cli``'s."""

from __future__ import annotations

import gc
import io
import os  # pathlib costs more than the whole answer
import sys

# ruff: noqa: PTH109, PTH113, PTH118
from tertial.unchanged import last_answer, see

# The module that has these names costs as much as half the short answer.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

    from tertial.unchanged import Seen

_FORMS = {(): "full", ("--brief",): "brief", ("--json",): "json"}


def main() -> None:
    """Run the command ``tertial``."""
    words = sys.argv[1:]
    # Most commands make few objects that die, and end before that matters.
    gc.disable()
    for stream in (sys.stdout, sys.stderr):
        # Names and quoted lines hold any sign; one that is not to be had there must not end the command.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    if words[:1] == ["build"]:
        folder, rest = _folder(words[1:])
        form = _FORMS.get(tuple(rest))
        if form and folder:
            answer, where = last_answer(folder), os.getcwd() if folder == "." else folder
            seen = see(folder, answer.also if answer else ())
            try:
                if answer is None or (answer.form, answer.where, answer.seen) != (form, where, seen):
                    _end(_build(where, form, seen))
                sys.stdout.write(answer.out)
                sys.stderr.write(answer.err)
                _end(answer.code)
            except BrokenPipeError:
                # Whoever reads has seen enough, as ``head`` has after ten lines.
                os._exit(1)
    from tertial.cli import main as run  # noqa: PLC0415 - after the short answer

    try:
        run(prog_name="tertial")
    except SystemExit as end:
        if end.code is None or isinstance(end.code, int):
            _end(end.code or 0)
        raise


def _build(folder: str, form: str, seen: Seen) -> int:
    from pathlib import Path  # noqa: PLC0415 - after the short answer

    from tertial.building import run_build  # noqa: PLC0415

    return run_build(Path(folder), form, seen)


def _end(code: int) -> NoReturn:
    """End at once: nothing is left to close, and taking down a million objects in order takes a while."""
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


def _folder(words: list[str]) -> tuple[str, list[str]]:
    """Find the guide's folder among the words of a build; '' when ``cli`` has to find it, or to say what is wrong."""
    folder = "."
    if "--guide" in words[:-1]:
        at = words.index("--guide")
        folder, words = words[at + 1], words[:at] + words[at + 2 :]
    return (folder if os.path.isfile(os.path.join(folder, "guide.yaml")) else ""), words
