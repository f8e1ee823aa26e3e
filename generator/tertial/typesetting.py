"""From plain values and a template to a tagged PDF, by libraries that only this needs and that may be missing.

The template is a document of Typst. It finds the values in ``book.json`` beside it and reads no other file but the
pictures; no package is fetched. Fonts are those of the site, unpacked to the form that the typesetter reads.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from typing import TYPE_CHECKING, Any, Final, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

STANDARD: Final = "ua-1"
"""PDF/UA-1 (ISO 14289-1): the typesetter refuses a document that does not keep to it."""

TEMPLATE: Final = "pocket.typ"
"""Name of the template, in ``layouts``."""


class Unset(NamedTuple):
    """Why a book was not set."""

    reason: str
    """What is wrong, a line or more."""

    mend: str
    """What to do."""

    strange: tuple[str, ...] = ()
    """The letters and signs that no font has, where these are what is wrong."""


def typeset(
    work: Path,
    template: Path,
    book: Mapping[str, Any],
    pictures: Mapping[str, Path],
    fonts: Iterable[Path],
    built_in: Path,
) -> bytes | Unset:
    """Set a book.

    :param work: a folder for what the typesetter reads; its content is replaced, but for fonts already unpacked.
    :param template: the document.
    :param book: plain values.
    :param pictures: the files that the values speak of, by address.
    :param built_in: the program's own document, for which no author is to blame.
    :param fonts: WOFF2 files; one without the letters of plain English has ``Ext`` after the name of its family.
    :returns: the bytes of a PDF, the same for the same input. ``OSError`` is raised as it comes.
    """
    try:
        import brotli  # noqa: F401, PLC0415 - what fontTools reads WOFF2 with, and imports too late to ask
        import typst  # noqa: PLC0415
        from fontTools.ttLib import TTFont  # noqa: PLC0415
    except ImportError as fault:
        return Unset(f"the typesetter is not installed (no module {fault.name!r})", "pip install 'tertial[pdf]'")

    def unpack(font: Path, target: Path) -> None:
        with TTFont(font, recalcTimestamp=False) as opened:
            opened.flavor = None
            if ord("a") not in opened.getBestCmap():
                for name in opened["name"].names:
                    if name.nameID in _FAMILY_NAMES:
                        name.string = f"{name.toUnicode()} Ext"
            part = target.with_suffix(".part")
            opened.save(part)
            part.replace(target)

    page = work / "page"
    shutil.rmtree(page, ignore_errors=True)
    for address, file in pictures.items():
        (page / address).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, page / address)
    page.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(template, page / TEMPLATE)
    (page / "book.json").write_text(json.dumps(book, ensure_ascii=False), encoding="utf-8")
    unpacked = work / "fonts"
    unpacked.mkdir(exist_ok=True)
    wanted = {unpacked / f"{font.stem}-{_digest(font)}.ttf": font for font in fonts}
    for stranger in set(unpacked.iterdir()) - wanted.keys():
        stranger.unlink()
    for target, font in wanted.items():
        if not target.exists():
            unpack(font, target)
    try:
        found = typst.compile(
            str(page / TEMPLATE),
            root=str(page),
            font_paths=[str(unpacked)],
            ignore_system_fonts=True,
            pdf_standards=[STANDARD],
        )
    except typst.TypstError as fault:
        mend = f"mend layouts/{template.name} of the guide, or remove it to use the built-in one"
        if template == built_in:
            mend = "no file of yours is wrong: a newer tertial has to mend its own template"
        reason = "\n".join((fault.diagnostic or fault.message, *fault.hints)).strip()
        return Unset(reason, mend, tuple(dict.fromkeys(_NO_LETTER.findall(reason))))
    assert isinstance(found, bytes)
    return found


_NO_LETTER: Final = re.compile(r'the text `"(.+?)"` could not be displayed')
"""How the typesetter names what no font has: a tagged document may hold nothing that is not to be seen."""

_FAMILY_NAMES: Final = frozenset({1, 16})
"""Numbers of the family's names in a font's table of names (OpenType)."""


def _digest(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()[:12]
