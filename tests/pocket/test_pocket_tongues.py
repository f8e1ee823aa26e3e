"""The language of each word of a pocket guide: a tag carries it, for being read out and for the hyphens."""

from __future__ import annotations

import datetime as dt
import shutil
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image
from pypdf import PdfReader
from pypdf.generic import ContentStream, NameObject
from tests.build.tongues import ENTRIES, is_theirs
from tests.pocket.conftest import REPOSITORY

from tertial.pocket import FILE, OUTPUT, make_pocket_guide
from tertial.stage import Outcome

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

LATIN = ("Anser anser", "Anser caerulescens", "Dryobates", "Dryobates pubescens", "Anatidae", "Picidae")
"""Names of its birds."""

SHOWS = {"Tj", "TJ", "'", '"'}
"""Operators that show text (ISO 32000-1, 9.4.3)."""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, str]:
    """All that a French book of an English author tells, by language."""
    folder = tmp_path_factory.mktemp("tongues") / "guide"
    shutil.copytree(REPOSITORY / "tests/build/foreign", folder)
    for name, text in ENTRIES.items():
        (folder / "entries" / name).write_text(text, "utf-8")
    Image.new("RGB", (400, 200), "white").save(folder / "entries/bird.png")
    made = make_pocket_guide(folder, dt.date(2026, 11, 1))
    assert isinstance(made.outcome, Outcome), made
    return {language: " ".join(_told_in(folder / OUTPUT / FILE, language).split()) for language in ("fr", "en", "la")}


def _told_in(file: Path, language: str) -> str:
    """Read a book of which all text in other languages was taken out."""
    book = PdfReader(file)
    root: Any = book.root_object
    tagged: dict[Any, str] = dict(_by_tag(root["/StructTreeRoot"]["/K"], root["/Lang"], None))
    pages = []
    for page in book.pages:
        assert page.indirect_reference is not None
        number = page.indirect_reference.idnum
        content, kept, inside = ContentStream(page.get_contents(), book, "bytes"), [], [""]
        for operands, operator in content.operations:
            if operator in (b"BDC", b"BMC"):
                marked = operands[1] if len(operands) > 1 and isinstance(operands[1], dict) else {}
                tag = tagged.get((number, marked.get("/MCID")), inside[-1])
                own = marked.get("/Lang")
                inside.append(own.decode() if own else tag)
            elif operator == b"EMC":
                inside.pop()
            if operator.decode() not in SHOWS or inside[-1] == language:
                kept.append((operands, operator))
        content.operations = kept
        page[NameObject("/Contents")] = content
        pages.append(page.extract_text())
    return "\n".join(pages)


def _by_tag(element: Any, language: str, page: int | None) -> Iterator[tuple[tuple[int | None, int], str]]:
    """Give the language of all marked content of the tree of tags, by page and number."""
    element = element.get_object() if hasattr(element, "get_object") else element
    if isinstance(element, list):
        for each in element:
            yield from _by_tag(each, language, page)
    elif isinstance(element, int):
        yield (page, int(element)), language
    else:
        page = element.raw_get("/Pg").idnum if "/Pg" in element else page
        if "/MCID" in element:
            yield (page, int(element["/MCID"])), language
        elif "/K" in element:
            yield from _by_tag(element["/K"], str(element.get("/Lang", language)), page)


def test_names_are_told_in_their_language(told: Mapping[str, str]) -> None:
    """Scientific names, genera and families are Latin, and a name that the list has in English alone is English."""
    assert {"Anser anser", "Anser caerulescens", "Dryobates pubescens", "Anatidae"} <= {
        name for name in LATIN if name in told["la"]
    }
    assert [name for name in LATIN if name in told["fr"] + told["en"]] == []
    assert "Snow Goose" in told["en"]
    assert "Snow" not in told["fr"]


def test_words_of_the_author_are_told_in_theirs_and_no_others(told: Mapping[str, str]) -> None:
    """Phrases, names that the author gave and running text are English, sentences of the book are French."""
    assert {"Snazqo.", "Zqorph", "zqip", "zqorph", "vozqo", "Grozqi"} <= set(told["en"].split())
    assert not is_theirs(told["fr"] + told["la"])
    assert {"Clés", "Partie", "nuque", "Mâle"} <= set(told["fr"].split())
    assert not {"Clés", "Partie", "nuque", "Mâle", "bec", "ou", "mâle"} & set(told["en"].split())
