"""One guide in both languages: in every file of the French there is no word of ours that is English.

The English guide is looked at too, since what finds nothing there would find nothing in the French.
"""

from __future__ import annotations

import datetime as dt
import re
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image, ImageDraw
from pypdf import PdfReader
from tests.build.conftest import tree_of
from tests.build.words_left import Known, known_words, left_in, left_in_book, texts_of_page

from tertial.build import WORK, build_guide
from tertial.loading import load_guide
from tertial.pages.pictures import FOLDER as PICTURES
from tertial.pages.previews import previews_of
from tertial.pages.site import Site
from tertial.pocket import FILE, OUTPUT, make_pocket_guide
from tertial.showing import develop
from tertial.stage import Outcome

if TYPE_CHECKING:
    from collections.abc import Mapping

PLACES = {
    "pages": r".*\.html",
    "feed": r"feed\.xml",
    "what scripts say": r"data/phrases\.js",
    "what scripts reckon with": r"data/(marks|sorting)\.js",
    "what the search tells": r"data/finding\.js",
    "accounts for scripts": r"data/species/.*",
}
"""Files in which English would stand, by kind."""

PHRASES = (
    "always black two white red patch no usually yellow none short gray not seen stripe with glean peck "
    "starling sized legs"
)
"""All that the author writes in English."""


_ILL_SET = re.compile(r"[^\s\u202f][;?!»]|[^\s\u202f\d]:|(?:^|[^\u202f]):(?!\d)|\d\.\d")
_FIXED = re.compile(r"CC BY 4\.0|License \d\.\d|tertial [\d.a-z]+|10\.2173/\S+|https?://\S+|v?2025")
"""Versions and addresses."""


@pytest.fixture(scope="module")
def guides(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Path]:
    """The guide in both languages, built and as a book, by the tag of the language."""
    return {tag: _made(tmp_path_factory.mktemp(tag) / "guide", tag) for tag in ("fr", "en")}


def _made(folder: Path, language: str) -> Path:
    shutil.copytree(Path(__file__).resolve().parent / "foreign", folder)
    settings = folder / "guide.yaml"
    settings.write_text(settings.read_text("utf-8").replace("language: fr", f"language: {language}"), "utf-8")
    picture = Image.new("RGB", (400, 200), "white")
    ImageDraw.Draw(picture).ellipse((40, 60, 360, 150), fill="#554433")
    picture.save(folder / "entries/bird.png")
    build = build_guide(folder)
    assert build.pages, build.report.problems
    book = make_pocket_guide(folder, dt.date(2026, 11, 1))
    assert isinstance(book.outcome, Outcome), book
    return folder


@pytest.fixture(scope="module")
def known(guides: Mapping[str, Path]) -> Known:
    """Words that may stand in the French guide."""
    return known_words(guides["fr"], PHRASES)


@pytest.fixture(scope="module")
def left(guides: Mapping[str, Path], known: Known) -> Mapping[str, Mapping[str, list[str]]]:
    """Words that are nobody's, by language and file; of files that have any."""
    found = {}
    for tag, folder in guides.items():
        files = {path: left_in(known, path, content) for path, content in tree_of(folder / "build").items()}
        found[tag] = {path: words for path, words in files.items() if words}
    return found


def test_no_word_of_the_finished_guide_is_left_in_english(left: Mapping[str, Mapping[str, list[str]]]) -> None:
    """Whatever a file tells is French, the author's, or a name."""
    assert left["fr"] == {}


@pytest.mark.parametrize("kind", PLACES)
def test_english_would_be_found(
    kind: str, left: Mapping[str, Mapping[str, list[str]]], guides: Mapping[str, Path]
) -> None:
    """In every file of a kind something is ours, so that in the English guide it is found."""
    files = [path for path in tree_of(guides["en"] / "build") if re.fullmatch(PLACES[kind], path)]
    assert files
    assert [path for path in files if path not in left["en"]] == []


def test_signs_and_numbers_are_set_as_french_sets_them(guides: Mapping[str, Path]) -> None:
    """A narrow space that breaks no line stands before tall signs, and a comma before decimals."""
    found = []
    for path, content in tree_of(guides["fr"] / "build").items():
        texts = texts_of_page(content) if path.endswith(".html") else ()
        told = [text for text, marked in texts if not marked]
        found += [f"{path}: {text}" for text in told if _ILL_SET.search(_FIXED.sub("", text))]
    assert found == [], found


def test_no_word_of_the_pocket_guide_is_left_in_english(guides: Mapping[str, Path], known: Known) -> None:
    """Its language is told for the whole, for the hyphenation and for being read out."""
    files = {tag: folder / OUTPUT / FILE for tag, folder in guides.items()}
    assert left_in_book(known, files["fr"]) == []
    assert len(set(left_in_book(known, files["en"]))) > 40
    root: Any = PdfReader(files["fr"]).root_object
    assert root["/Lang"] == "fr"


def test_preview_pictures_are_headed_in_french(guides: Mapping[str, Path], known: Known) -> None:
    """The words on them are names."""
    told = {}
    for tag, folder in guides.items():
        guide = load_guide(folder)
        shown = develop(guide, folder / WORK / PICTURES)
        files = {address.removeprefix(f"{PICTURES}/"): file for address, file in shown.files.items()}
        previews = [preview for _, preview in previews_of(Site(guide, shown.published), files)]
        told[tag] = [preview.title for preview in previews] + [each.name for one in previews for each in one.columns]
    assert [word for text in told["fr"] for word in known.left(text)] == []
    assert [word for text in told["en"] for word in known.left(text)] != []
