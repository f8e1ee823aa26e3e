"""The first code that runs. It answers a build in which nothing changed by itself; all else is ``cli``'s."""

from __future__ import annotations

import gc
import os  # pathlib costs more than the whole answer
import sys

# ruff: noqa: PTH110
from tertial.unchanged import last_answer

# The module that has these names costs as much as half the short answer.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

_FORMS = {(): "full", ("--brief",): "brief", ("--json",): "json"}


def main() -> None:
    """Run the command ``tertial``."""
    words = sys.argv[1:]
    if words[:1] == ["build"]:
        folder, rest = _folder(words[1:])
        form = _FORMS.get(tuple(rest))
        answer = last_answer(folder, form) if folder and form else None
        if answer is not None:
            out, err, code = answer
            sys.stdout.write(out)
            sys.stderr.write(err)
            _end(code)
    # Most commands make few objects that die, and end before that matters.
    gc.disable()
    from tertial.cli import main as run  # noqa: PLC0415 - after the short answer

    try:
        run(prog_name="tertial")
    except SystemExit as end:
        if end.code is None or isinstance(end.code, int):
            _end(end.code or 0)
        raise


def _end(code: int) -> NoReturn:
    """End at once: nothing is left to close, and taking down a million objects in order takes a while."""
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


def _folder(words: list[str]) -> tuple[str, list[str]]:
    """Find the guide's folder among the words of a build; '' when it is for ``cli`` to find."""
    if "--guide" in words[:-1]:
        at = words.index("--guide")
        return words[at + 1], words[:at] + words[at + 2 :]
    return ("." if os.path.exists("guide.yaml") else ""), words
