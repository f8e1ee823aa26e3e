"""Putting finished files into ``build/``: whole or not at all, and never over what is not ours.

Everything new is first written beside the guide, then a journal says what is to happen, then the
files are renamed into place one by one. A run killed before the journal leaves the former guide as
it was; one killed after it is finished by the next run. Which files are ours stands in a list in
``build/`` itself, with their digests: a file that someone else put there, or changed, is left
alone and named. This module knows files only; what is in them is ``build``'s matter.
"""

from __future__ import annotations

import hashlib
import json
import os
import posixpath
import shutil
import stat
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

# Thousands of files are asked for, and objects of pathlib cost more than the answers.
# ruff: noqa: PTH105, PTH110, PTH114, PTH123
from tertial.locking import alone

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

OWN_LIST: Final = ".made-by-tertial"
"""The list of our files, in ``build/``: a digest and a path a line, as checksum tools write it."""

# A file name may hold bytes that are no UTF-8.
_ODD_NAMES: Final = "surrogateescape"

_MANY: Final = 200
"""From so many files on a second thread gains more than it costs."""

_JOURNAL: Final = "journal.json"

_NOT_FOREIGN: Final = frozenset({OWN_LIST, ".gitignore"})


V = TypeVar("V")


class Outcome(NamedTuple):
    """What putting files into place came to."""

    written: tuple[str, ...]
    """Files that are new or changed."""

    unchanged: int
    """Number of files that were already there, byte for byte; they are not touched."""

    removed: tuple[str, ...]
    """Files of ours that the guide no longer has."""

    foreign: tuple[str, ...]
    """Files in the folder that are not ours; they are left alone."""


class InTheWay(NamedTuple):
    """Files that are not ours stand where ours should go; nothing was changed."""

    paths: tuple[str, ...]
    """The paths, from the folder."""


class Stored(NamedTuple):
    """What is known of a file of ours."""

    digest: str
    """SHA-256 of its content, in hexadecimal."""

    length: int
    """Its length in bytes."""


def put(
    folder: Path,
    work: Path,
    files: Mapping[str, bytes | Path],
    settled: Collection[str] = (),
    last: Callable[[Mapping[str, Stored]], Mapping[str, bytes]] = lambda _: {},
    standing: Mapping[str, int] | None = None,
) -> Outcome | InTheWay:
    """Bring a folder to hold exactly these files of ours.

    :param folder: the folder of the finished guide; made if missing.
    :param work: a folder on the same disk for staging and the journal.
    :param files: content by path from ``folder``; a ``Path`` is a file to copy.
    :param settled: paths of further files of ours that are known to stand as they should.
    :param last: makes the last files, of what is known of all others; it has to leave out those that it makes.
    :param standing: size in bytes of every file in the folder, if somebody has just looked.
    :returns: what was done, or what stood in the way. ``OSError`` is raised as it comes: before
        the journal with the former guide untouched, after it with the rest left to the next run.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with alone(work):
        heal(folder, work)
        before = _own_files(folder)
        digests = {path: before[path] for path in settled if path in before}
        digests.update(_side_by_side(lambda path: (path, _sha256(files[path])), tuple(files)))
        sizes = standing or {}
        made = last({path: Stored(digest, _length(folder, path, files, sizes)) for path, digest in digests.items()})
        digests.update((path, _sha256(content)) for path, content in made.items())
        files = {**files, **made}
        changed, in_the_way = _changed(folder, before, files)
        stale = [
            path for path in sorted(before.keys() - files.keys() - digests.keys()) if _is_ours(folder, path, before)
        ]
        if in_the_way:
            return InTheWay(tuple(in_the_way))
        own_list = "".join(f"{digests[path]}  {path}\n" for path in sorted(digests))
        if changed or stale or own_list != _read(folder / OWN_LIST):
            _stage(work, {path: files[path] for path in changed})
            _write_journal(work, sorted(changed, key=_last_pages), stale, own_list)
            heal(folder, work)
        there = _there(folder) if standing is None else sorted(standing.keys() - {*stale})
        foreign = tuple(path for path in there if path not in digests and path not in _NOT_FOREIGN)
        return Outcome(tuple(sorted(changed)), len(digests) - len(changed), tuple(stale), foreign)


def is_unfinished(work: Path) -> bool:
    """Whether a run was killed while files were put into place."""
    return (work / _JOURNAL).exists()


def heal(folder: Path, work: Path) -> None:
    """Finish what a journal says, or clear what was staged without one. Does nothing twice."""
    stage, journal = work / "stage", work / _JOURNAL
    if journal.exists():
        plan = json.loads(journal.read_text(encoding="utf-8"))
        known: dict[str, bool] = {}
        made: set[str] = set()
        for path in plan["moves"]:
            staged = f"{stage}/{path}"
            if _stays(folder, path, known) and os.path.exists(staged):
                _make_room(folder, path, made)
                os.replace(staged, f"{folder}/{path}")
        for path in plan["removes"]:
            if _stays(folder, path):
                (folder / path).unlink(missing_ok=True)
                _drop_empty(folder, (folder / path).parent)
        # Whoever found half a guide may have deleted it.
        folder.mkdir(parents=True, exist_ok=True)
        _write_whole(folder / OWN_LIST, plan["own list"], work)
        journal.unlink()
    if stage.exists():
        shutil.rmtree(stage)


def _changed(folder: Path, before: Mapping[str, str], files: Mapping[str, bytes | Path]) -> tuple[list[str], list[str]]:
    """Find the files to write, and the strangers that stand in their place."""
    changed: list[str] = []
    in_the_way: set[str] = set()
    checked: set[str] = set()
    for path, content in files.items():
        where = posixpath.dirname(path)
        while where and where not in checked:
            checked.add(where)
            mode = _mode(folder, where)
            if mode and not stat.S_ISDIR(mode):
                in_the_way.add(where)
            where = posixpath.dirname(where)
        mode = _mode(folder, path)
        if mode and not stat.S_ISREG(mode):
            in_the_way.add(path)
        elif not mode:
            changed.append(path)
        elif (folder / path).read_bytes() != _data(content):
            changed.append(path)
            if not _is_ours(folder, path, before):
                in_the_way.add(path)
    return changed, sorted(in_the_way)


def _mode(folder: Path, path: str) -> int:
    """Give the kind of what stands there; a link is one by itself; 0 where nothing is."""
    try:
        return os.lstat(f"{folder}/{path}").st_mode
    except (FileNotFoundError, NotADirectoryError):
        return 0


def _is_ours(folder: Path, path: str, before: Mapping[str, str]) -> bool:
    """Tell whether a file stands as we left it; one cut to nothing by a lost disk counts too."""
    target = folder / path
    if path not in before or not _stays(folder, path) or not target.is_file():
        return False
    return target.stat().st_size == 0 or _sha256(target) == before[path]


def _stays(folder: Path, path: str, known: dict[str, bool] | None = None) -> bool:
    """Tell whether a path stays in the folder, by dots and links too: our lists lie where anyone can write.

    :param known: answers for the folders of paths asked before.
    """
    where, name = posixpath.split(path)
    answers = {} if known is None else known
    if where not in answers:
        root, real = Path(os.path.realpath(folder)), Path(os.path.realpath(folder / where))
        answers[where] = real.is_relative_to(root) and real.relative_to(root) == Path(where)
    return answers[where] and name not in ("", ".", "..") and not os.path.islink(f"{folder}/{path}")


def _stage(work: Path, files: Mapping[str, bytes | Path]) -> None:
    made: set[str] = set()
    for path in files:
        _make_room(work / "stage", path, made)
    _side_by_side(lambda path: _write(f"{work}/stage/{path}", _data(files[path])), tuple(files))


def _side_by_side(do: Callable[[str], V], paths: Sequence[str]) -> list[V]:
    """Do something with each path, where there are many on two threads: the disk and digests let the other one run."""
    if len(paths) < _MANY:
        return [do(path) for path in paths]
    from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415 - small builds do without

    middle = len(paths) // 2
    with ThreadPoolExecutor(1) as pool:
        rest = pool.submit(lambda: [do(path) for path in paths[middle:]])
        return [do(path) for path in paths[:middle]] + rest.result()


def _write(path: str, data: bytes) -> None:
    """Write a file; pathlib takes twice as long for it."""
    with open(path, "wb") as file:
        file.write(data)


def _make_room(folder: Path, path: str, made: set[str]) -> None:
    """Make the folder of a path, unless it is among those that were made already."""
    where = posixpath.dirname(path)
    if where not in made:
        made.add(where)
        (folder / where).mkdir(parents=True, exist_ok=True)


def _write_journal(work: Path, moves: list[str], removes: list[str], own_list: str) -> None:
    plan = {"moves": moves, "removes": removes, "own list": own_list}
    _write_whole(work / _JOURNAL, json.dumps(plan), work)


def _write_whole(path: Path, text: str, work: Path) -> None:
    """Write a file so that it is there whole or not at all."""
    part = work / "part"
    with part.open("wb") as file:
        file.write(text.encode("utf-8", _ODD_NAMES))
        file.flush()
        os.fsync(file.fileno())
    part.replace(path)


def _last_pages(path: str) -> tuple[int, str]:
    """Order of renaming: what pages need, then pages, then the front page that leads to them."""
    return (2 if path == "index.html" else int(path.endswith(".html")), path)


def _own_files(folder: Path) -> dict[str, str]:
    lines = _read(folder / OWN_LIST).split("\n")
    return {path: digest for digest, _, path in (line.partition("  ") for line in lines) if path}


def _read(path: Path) -> str:
    return path.read_bytes().decode("utf-8", _ODD_NAMES) if path.is_file() else ""


def _data(content: bytes | Path) -> bytes:
    return content if isinstance(content, bytes) else content.read_bytes()


def _sha256(content: bytes | Path) -> str:
    return hashlib.sha256(_data(content)).hexdigest()


def _length(folder: Path, path: str, files: Mapping[str, bytes | Path], standing: Mapping[str, int]) -> int:
    content = files.get(path)
    if content is None:
        return standing[path] if path in standing else (folder / path).stat().st_size
    return len(content) if isinstance(content, bytes) else content.stat().st_size


def _there(folder: Path) -> Iterator[str]:
    """Give every file in a folder, in order."""
    top = str(folder)
    for where, folders, names in os.walk(top):
        folders.sort()
        inside = f"{where[len(top) + 1 :].replace(os.sep, '/')}/".removeprefix("/")
        yield from (inside + name for name in sorted(names))


def _drop_empty(folder: Path, where: Path) -> None:
    while where != folder and where.is_dir() and not any(where.iterdir()):
        where.rmdir()
        where = where.parent
