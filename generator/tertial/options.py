"""What the commands share: options, the guide's folder, and failures of the system as one line."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

if TYPE_CHECKING:
    from collections.abc import Callable

# Rooms are imported where they are used: `tertial --help` should not wait for what it does not need.
# ruff: noqa: PLC0415

T = TypeVar("T")

GUIDE = click.option(
    "--guide",
    "folder",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="The guide's folder; without it, this folder or the nearest one above with a guide.yaml.",
)
"""Which guide is meant."""

JSON = click.option("--json", "as_json", is_flag=True, help="Write the answer as JSON, for programs.")
"""Whether a program asks."""


def guide_folder(folder: Path | None) -> Path:
    """Find the folder of the guide that is meant; without one, the use is wrong."""
    from tertial.loading import SETTINGS_FILE, find_guide

    found = find_guide(Path.cwd()) if folder is None else folder
    if found is None or not (found / SETTINGS_FILE).is_file():
        where = folder or Path.cwd()
        raise click.UsageError(f"there is no guide.yaml in {where}; make a guide with: tertial start FOLDER")
    return found


def slow_yaml() -> None:
    """Say when entries are read without the fast library."""
    from tertial.text.events import FAST, SLOW

    if not FAST:
        click.echo(SLOW, err=True)


def guarded(work: Callable[[], T]) -> T:
    """Turn a failure of disk or system into one line and exit code 2."""
    try:
        return work()
    except OSError as fault:
        from tertial.report import failure

        click.echo(failure(fault), nl=False, err=True)
        sys.exit(2)
