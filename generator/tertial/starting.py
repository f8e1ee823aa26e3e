"""Making a new guide. Nothing that is already there is ever overwritten."""

from __future__ import annotations

from pathlib import Path, PurePosixPath
from typing import Final, NamedTuple

from tertial.loading import ENTRIES_FOLDER, ENTRY_SUFFIXES, SETTINGS_FILE
from tertial.schema import ENTRY_SCHEMA, GUIDE_SCHEMA, modeline, schema_files

_SETTINGS: Final = """\
title: My birds
author:                         # your name, as it shall stand on the pages
region:                         # where these birds are met
language: en
codes: IBP                      # the list that codes come from; or BBL
units: metric                   # or both: inches, feet, ounces and pounds as well
base address:                   # where the guide is published, if anywhere
licence:                        # for instance CC BY 4.0
"""
_IGNORE: Final = "# What tertial makes; only it writes there.\n/build/\n/pocket/\n/.tertial/\n"


class Occupied(NamedTuple):
    """A folder in which a guide cannot be started."""

    reason: str
    """What is there already."""


def start_guide(folder: Path, *, demo: bool) -> tuple[Path, ...] | Occupied:
    """Make a guide.

    :param folder: where; made if missing.
    :param demo: fill it with the demo's entries and settings.
    :returns: the files made, or what stood in the way. ``OSError`` is raised as it comes.
    """
    if (folder / SETTINGS_FILE).exists():
        return Occupied(f"{folder} already holds a guide.yaml; choose another folder")
    if folder.exists() and not folder.is_dir():
        return Occupied(f"{folder} is a file; the name of a folder was expected")
    files = {Path(".gitignore"): _IGNORE.encode()}
    if demo:
        files.update(_demo())
    else:
        files[Path(SETTINGS_FILE)] = _SETTINGS.encode()
    files[Path(SETTINGS_FILE)] = modeline(GUIDE_SCHEMA).encode() + files[Path(SETTINGS_FILE)]
    files.update({Path(path): data for path, data in schema_files().items()})
    taken = [path for path in files if (folder / path).exists() and path != Path(".gitignore")]
    if taken:
        return Occupied(f"{folder / taken[0]} is already there; choose another folder")
    made = []
    (folder / ENTRIES_FOLDER).mkdir(parents=True, exist_ok=True)
    for path, data in files.items():
        target = folder / path
        if not target.exists():
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)
            made.append(target)
    return tuple(made)


def _demo() -> dict[Path, bytes]:
    """Gather the demo: beside the package in a wheel, else the checkout itself."""
    package = Path(__file__).resolve().parent
    root = package / "example"
    if not root.is_dir():
        root = package.parent.parent
    files = sorted((root / ENTRIES_FOLDER).rglob("*"))
    found = {path.relative_to(root): path.read_bytes() for path in (root / SETTINGS_FILE, *files) if path.is_file()}
    return {path: _led(path, data) if path.suffix in ENTRY_SUFFIXES else data for path, data in found.items()}


def _led(path: Path, data: bytes) -> bytes:
    """Give an entry with the comment that leads editors to its schema, as ``tertial entry`` writes it."""
    fence, end, rest = data.partition(b"\n")
    up = [".."] * len(path.parent.parts)
    return fence + end + modeline(PurePosixPath(*up, ENTRY_SCHEMA)).encode() + rest
