"""Every word of a page stands where its language is told: the author's, the page's, and the Latin of names.

The guide is the French one of ``foreign``, whose author's words have ``zq`` in them and whose people are called
``Azq``, with birds that the list names in English or Latin alone, and with everything that an author may name at will.
"""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Final
from xml.etree import ElementTree

import pytest
from PIL import Image
from selectolax.lexbor import LexborHTMLParser
from tests.build.conftest import tree_of
from tests.build.tongues import ENTRIES, is_english_name, is_theirs, told_on

from tertial.build import build_guide
from tertial.layouts import built_in_layouts
from tertial.marks.parts import load_parts
from tertial.marks.words import load_words
from tertial.names.birds import load_names
from tertial.wording.tables import read_wording

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Set

XML: Final = "{http://www.w3.org/XML/1998/namespace}"
TITLE: Final = "{http://www.w3.org/2005/Atom}title"


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, bytes]:
    """The files of the guide by their paths."""
    folder = tmp_path_factory.mktemp("tongues") / "guide"
    shutil.copytree(Path(__file__).resolve().parent / "foreign", folder)
    for name, text in ENTRIES.items():
        (folder / "entries" / name).write_text(text, "utf-8")
    Image.new("RGB", (400, 200), "white").save(folder / "entries/bird.png")
    build = build_guide(folder)
    assert build.pages, build.report.problems
    return tree_of(folder / "build")


@pytest.fixture(scope="module")
def pages(files: Mapping[str, bytes]) -> Mapping[str, bytes]:
    """The pages among them."""
    return {path: content for path, content in files.items() if path.endswith(".html")}


@pytest.fixture(scope="module")
def texts(pages: Mapping[str, bytes]) -> Set[tuple[str, str, str]]:
    """Every text of every page: the page, the language in force, and the text."""
    found = {
        (path, language, " ".join(text.split())) for path, page in pages.items() for text, language in told_on(page)
    }
    assert len({path for path, _, _ in found}) == len(pages) > 50
    return found


def test_words_of_the_author_stand_where_their_language_is_told(texts: Set[tuple[str, str, str]]) -> None:
    """Whatever an author wrote is marked, and nothing of the page is marked with it. Names of people are in none."""
    theirs = {each for each in texts if is_theirs(each[2])}
    assert len({text for _, _, text in theirs}) > 40
    assert sorted(each for each in theirs if each[1] != "en") == []


def test_words_of_the_page_stand_where_its_language_is_told(texts: Set[tuple[str, str, str]]) -> None:
    """Of what is marked as the author's, no word is one that French tables have and no English list does."""
    french = read_wording((built_in_layouts(),), "fr")
    told = (*french.phrases.values(), *french.several.values(), *(part.name for part in french.parts.values()))
    ours = {word for text in told for word in words_of(re.sub(r"%\(\w+\)s|<[^>]*>", " ", text))}
    ours -= {word for wording in load_words().lists.wordings for word in words_of(wording[0])}
    ours -= {word for part in load_parts() for name in part.words for word in words_of(name)}
    ours -= {word for text in french.phrases for word in words_of(text)}
    assert sum(bool(words_of(text) & ours) for _, _, text in texts) > 100
    assert sorted(each for each in texts if each[1] != "fr" and words_of(each[2]) & ours) == []


def test_names_in_latin_are_marked_as_such(texts: Set[tuple[str, str, str]]) -> None:
    """A binomen, a genus or a family that a page tells stands where Latin is told, and nothing else does."""
    birds = [bird for bird in load_names() if bird.is_species]
    latin = {word.lower() for bird in birds for word in (*bird.scientific.split(), bird.family)}
    names = {name for bird in birds for name in (bird.scientific, bird.scientific.split()[0], bird.family)}
    found = [(each, name) for each in texts for name in names_in(each[2]) if name in names]
    assert {name for _, name in found} >= {"Anser anser", "Anser", "Dryobates", "Anatidae", "Dryobates pubescens"}
    assert sorted(each for each, _ in found if each[1] != "la") == []
    assert sorted(each for each in texts if each[1] == "la" and not words_of(each[2]) <= latin) == []


def test_genera_and_species_slant_and_families_stand_upright(pages: Mapping[str, bytes]) -> None:
    """As the Code of Zoological Nomenclature would have it (ICZN, appendix B6)."""
    told = {(node.tag, node.text()) for page in pages.values() for node in LexborHTMLParser(page).css("[lang=la]")}
    assert {name for tag, name in told if tag == "span"} == {"Anatidae", "Picidae", "Sittidae"}
    assert {("i", "Anser"), ("i", "Anser anser"), ("i", "Anser caerulescens")} <= told
    assert {tag for tag, _ in told} == {"i", "span"}


def names_in(text: str) -> Iterator[str]:
    """Give what a text has that may be a name in Latin, of one word or two."""
    for found in re.finditer(r"\b([A-Z][a-z]+)( [a-z]+)?\b", text):
        yield from {found[0], found[1]}


def words_of(text: str) -> set[str]:
    """Give the words of a text in small letters."""
    return {word.lower() for word in re.findall(r"[^\W\d_]{2,}", text)}


def test_english_names_of_birds_are_marked_as_such(texts: Set[tuple[str, str, str]]) -> None:
    """A bird that the list has no French name of keeps its author's, also in what is made of several names."""
    found = [each for each in texts if is_english_name(each[2]) or "Ross's Goose" in each[2]]
    assert len({path for path, _, _ in found}) > 20
    assert sorted(each for each in found if each[1] != "en") == []


def test_words_in_place_of_pictures_tell_their_language(pages: Mapping[str, bytes]) -> None:
    """An image has the language of the words that its author gave it."""
    images = [
        (path, image.attributes.get("lang") or "")
        for path, page in pages.items()
        for image in LexborHTMLParser(page).css("img")
        if re.fullmatch(r"\w*zqo", image.attributes.get("alt") or "")
    ]
    assert len(images) > 10
    assert sorted(path for path, language in images if language != "en") == []


def test_a_feed_tells_the_language_of_titles(files: Mapping[str, bytes]) -> None:
    """A title that is the author's throughout has its language; one of both has that of the feed."""
    titles = {each.text: each.get(f"{XML}lang", "fr") for each in ElementTree.fromstring(files["feed.xml"]).iter(TITLE)}
    assert titles["Snow Goose"] == titles["Bazqo"] == titles["Lazqu Mezqa"] == "en"
    assert titles["Pic mineur"] == titles["24 janvier 2026, Tazq muzqo"] == "fr"


def test_what_other_programs_are_told_of_a_bird_has_the_language_of_its_name(pages: Mapping[str, bytes]) -> None:
    """As JSON-LD 1.1 has it: a name with its language where that is not the page's."""
    script = LexborHTMLParser(pages["pairs/sngo-dowo.html"]).css_first("script[type='application/ld+json']")
    assert script is not None
    names = [bird["name"] for bird in json.loads(script.text())["about"]]
    assert names == [{"@value": "Snow Goose", "@language": "en"}, "Pic mineur"]


def test_a_name_that_an_author_took_from_another_language_is_marked(
    make_guide: Callable[[Mapping[str, str | bytes]], Path],
) -> None:
    """In an English guide a bird may be called by its scientific or French name, as the list has them."""
    names = {"anser anser": '<i lang="la">anser anser</i>', "Pic mineur": '<span lang="fr">Pic mineur</span>'}
    names["Snow Goose"] = "Snow Goose"
    folder = make_guide({f"entries/{name[:3]}.md": f"---\nspecies: {name}\n---\n" for name in names})
    assert build_guide(folder).pages
    pages = (LexborHTMLParser(page.read_bytes()) for page in (folder / "build/species").glob("*-*.html"))
    headings = [page.css_first("h1") for page in pages]
    assert {heading.inner_html for heading in headings if heading} == set(names.values())
