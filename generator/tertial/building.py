"""A build as the command line has it: done, said, and remembered for the next time.

It stands by itself, and needs nothing of the library that reads the words of a command: who saves and
builds all evening would wait for that each time.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from tertial.build import OUTPUT, build_guide
from tertial.report import failure, in_form
from tertial.stage import InTheWay
from tertial.text.events import FAST, SLOW
from tertial.unchanged import Answer, keep_answer

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tertial.stage import Outcome
    from tertial.unchanged import Seen


def run_build(folder: Path, form: str, seen: Seen | None = None) -> int:
    """Build the guide in a folder and say what came of it.

    :param form: the form of the report.
    :param seen: what was just seen of the guide, if anything.
    :returns: the exit code.
    """
    try:
        result = build_guide(folder, progress(), seen)
    except OSError as fault:
        sys.stderr.write(failure(fault))
        return 2
    out, err = in_form(result.report, form)
    if not FAST:
        err = f"{SLOW}\n{err}"
    sys.stdout.write(out)
    sys.stderr.write(err)
    outcome = result.outcome
    if outcome is None:
        sys.stderr.write(f"{OUTPUT}/ is left as it was.\n")
    elif isinstance(outcome, InTheWay):
        sys.stderr.write(f"{OUTPUT}/ is left as it was: these files in it are not tertial's, or changed by hand:\n")
        sys.stderr.writelines(f"    {path}\n" for path in outcome.paths)
        sys.stderr.write("    mend: move them elsewhere, or delete them\n")
        return 2
    else:
        index = folder / OUTPUT / "index.html"
        sys.stderr.write(outcome_text(result.pages, outcome, index))
        settled = outcome._replace(written=(), removed=(), unchanged=len(outcome.written) + outcome.unchanged)
        if result.seen is not None:
            again = err + outcome_text(result.pages, settled, index)
            keep_answer(str(folder), Answer(form, str(folder), result.seen, out, again, result.report.exit_code))
    return result.report.exit_code


def outcome_text(pages: int, outcome: Outcome, index: Path) -> str:
    """Say what a build wrote."""
    left = "".join(f"left alone, not tertial's: {index.parent.name}/{path}\n" for path in outcome.foreign)
    written, removed = len(outcome.written), len(outcome.removed)
    counts = f"{written} files written, {outcome.unchanged} unchanged, {removed} removed"
    return f"{left}{pages} pages; {counts}. Open {index}\n"


def progress() -> Callable[[str], None]:
    """Say what is going on, when a person is watching."""
    if not sys.stderr.isatty():
        return lambda _: None

    def say(what: str) -> None:
        sys.stderr.write(f"{what} ...\n")
        sys.stderr.flush()

    return say
