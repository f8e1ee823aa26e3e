"""What lies beside the pages: style sheet, scripts, fonts and icon; a guide's own before the built-in.

The style sheet is kept in parts, each a file of the folder ``style`` that can be read in one sitting, and
is joined here in the order of their names, so that a reader fetches one file. A guide replaces a part by
one of its name, adds one by another name, or replaces the whole by its own ``assets/guide.css``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from tertial.layouts import LAYOUTS, built_in_layouts

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

ASSETS: Final = "assets"
"""Folder of what is published as it is: in ``layouts`` and in the finished guide."""

STYLE: Final = "style"
"""Folder of the parts of the style sheet, in ``layouts``."""

SHEET: Final = f"{ASSETS}/guide.css"
"""Address of the style sheet."""

_REMARK: Final = re.compile(rb'("(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])*\')|/\*[^!].*?\*/', re.DOTALL)
_BLANK: Final = re.compile(
    rb'("(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])*\'|/\*.*?\*/)|(?<=:)\s+|\s*(?:;\s*(?=\})|([{};,\r\n]))\s*', re.DOTALL
)


def all_assets(folder: Path, may_show: Callable[[Path], bool] = lambda _: True) -> Iterator[tuple[str, bytes | Path]]:
    """Give what lies beside the pages by address; of two with one address the later holds.

    :param folder: the guide's folder.
    :param may_show: says whether a file may be published; one that may not is left out.
    """
    parts: dict[str, Path] = {}
    for layouts in (built_in_layouts(), folder / LAYOUTS):
        parts.update((path.name, path) for path in sorted((layouts / STYLE).glob("[!.]*.css")) if may_show(path))
    yield SHEET, b"".join(_bare(parts[name].read_bytes()) for name in sorted(parts))
    for layouts in (built_in_layouts(), folder / LAYOUTS):
        assets = layouts / ASSETS
        for path in sorted(assets.rglob("*")) if assets.is_dir() else ():
            inside = path.relative_to(assets)
            if path.is_file() and not any(part.startswith(".") for part in inside.parts) and may_show(path):
                yield f"{ASSETS}/{inside.as_posix()}", path


def _bare(style: bytes) -> bytes:
    """Leave out a fifth that is for maintainers only: blanks, and remarks but for licences (``/*!``)."""
    rules = _REMARK.sub(lambda found: found.group(1) or b"", style)

    def kept(found: re.Match[bytes]) -> bytes:
        between = found.group(2)
        return found.group(1) or (b"" if between is None else between.strip() or b" ")

    return _BLANK.sub(kept, rules).strip() + b"\n"
