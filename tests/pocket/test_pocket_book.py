"""The pocket guide as a document: its paper, its tags, its fonts, and the words of the site in it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import pytest
from selectolax.lexbor import LexborHTMLParser
from tests.pocket.conftest import REPOSITORY

from tertial.grouping import groups
from tertial.loading import load_guide
from tertial.marks.sentences import pair_sentences
from tertial.side_by_side import compare_plumages

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from pypdf import PdfReader

    from tertial.guide import Guide

# ISO 216: A6 is 105 by 148 millimetres.
A6 = (105, 148)
UA = "{http://www.aiim.org/pdfua/ns/id/}part"


@pytest.fixture(scope="module")
def guide() -> Guide:
    """The demo, read."""
    return load_guide(REPOSITORY)


@pytest.fixture(scope="module")
def text(book: PdfReader) -> str:
    """All letters of the book: without blanks and hyphens, since lines are broken inside of words."""
    return squeezed("".join(page.extract_text() for page in book.pages))


def squeezed(text: str) -> str:
    """Leave out what the breaking of lines adds."""
    return re.sub(r"[\s\u00ad\u2010-]", "", text)


def test_every_page_is_a6(book: PdfReader) -> None:
    """Every page has the same measures, and there are more pages than accounts."""
    assert len(book.pages) > 24
    sizes = {tuple(round(float(each) * 25.4 / 72) for each in page.mediabox[2:]) for page in book.pages}
    assert sizes == {A6}


def test_the_book_says_that_it_is_tagged_and_keeps_to_the_standard(book: PdfReader) -> None:
    """PDF/UA-1 (ISO 14289-1) asks for its mark, a title to be shown, a language, and for tags."""
    root: Any = book.root_object
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"].value
    assert root["/ViewerPreferences"]["/DisplayDocTitle"].value
    assert book.metadata is not None
    assert book.metadata.title == "Birds of the Millrace"
    metadata = ElementTree.fromstring(root["/Metadata"].get_object().get_data())
    assert [each.text for each in metadata.iter(UA)] == ["1"]


def tags(element: Any) -> Iterator[Any]:
    """Give every element of the tree of tags."""
    element = element.get_object()
    if isinstance(element, list):
        for each in element:
            yield from tags(each)
    elif isinstance(element, dict):
        if "/S" in element:
            yield element
        if "/K" in element:
            yield from tags(element["/K"])


def test_every_picture_has_words_in_place_of_it(book: PdfReader, guide: Guide) -> None:
    """A figure among the tags has its words, and all sketches are figures; headings are tagged as such."""
    found = [*tags(book.root_object["/StructTreeRoot"])]
    kinds = {each["/S"] for each in found}
    assert {"/H1", "/H2", "/L", "/Table", "/TH", "/Figure"} <= kinds
    figures = [each for each in found if each["/S"] == "/Figure"]
    assert len(figures) >= sum(len(species.entry.sketches) for species in guide.species)
    assert [each for each in figures if not str(each.get("/Alt", "")).strip()] == []


def test_all_fonts_are_in_the_book(book: PdfReader) -> None:
    """Each font is embedded, and the site's own are those that are used."""
    names, missing = set(), []
    for page in book.pages:
        resources: Any = page["/Resources"]
        for font in resources.get("/Font", {}).values():
            whole = font.get_object()
            (inner,) = whole["/DescendantFonts"]
            descriptor = inner.get_object()["/FontDescriptor"].get_object()
            names.add(whole["/BaseFont"].partition("+")[2].partition("-")[0])
            if not {"/FontFile2", "/FontFile3"} & descriptor.keys():
                missing.append(whole["/BaseFont"])
    assert missing == []
    assert {"IBMPlexMono"} < names
    assert {name for name in names if not name.startswith(("Literata", "IBMPlexMono"))} == set()


def test_names_codes_and_deciding_sentences_are_those_of_the_site(text: str, guide: Guide) -> None:
    """Every account is there with name, code and marks, every pair with all it comes to, every key."""
    assert len(guide.species) > 20
    for species in guide.species:
        assert squeezed(species.name) in text
        assert species.code in text
        for phrases in species.records.values():
            for phrase in phrases.values():
                assert squeezed(phrase.text.value) in text, species.name
    assert len(guide.pairs) > 5
    for pair in guide.pairs:
        assert squeezed(f"{pair.first.name} or {pair.second.name}") in text
        for sentence in pair_sentences(compare_plumages(guide, pair.first, pair.second)):
            assert squeezed(sentence.text) in text
    for group in groups(guide):
        assert squeezed(group.name).casefold() in text.casefold()


def test_the_index_leads_to_the_pages(book: PdfReader, guide: Guide) -> None:
    """The numbers behind a name and a code are those of the pages on which account and pairs begin."""
    pages = [page.extract_text() for page in book.pages]
    names = next(at for at, page in enumerate(pages) if page.startswith("Index of names"))
    index = "\n".join(pages[names:])
    for species in guide.species:
        (by_name,) = re.findall(rf"^{re.escape(species.name)}\s+([\d, ]+)$", index, re.MULTILINE)
        (by_code,) = re.findall(rf"^{species.code}\s+([\d, ]+)$", index, re.MULTILINE)
        assert by_name == by_code
        first, *rest = map(int, by_name.split(","))
        assert species.scientific in pages[first - 1]
        assert len(rest) == sum(species in (pair.first, pair.second) for pair in guide.pairs)
        for number in rest:
            assert squeezed(species.name) in squeezed(pages[number - 1])


def test_cautions_are_those_of_the_site(demo: Path) -> None:
    """What the book says of watching without harm stands word for word on the page of method."""
    source = (REPOSITORY / "layouts/method.html").read_text(encoding="utf-8")
    page = LexborHTMLParser(re.sub(r"{%-? (?:end)?trans -?%}", "", source))
    site = {each.text(strip=False) for each in page.css("section[aria-labelledby=care] li")}
    template = (demo / ".tertial/pocket/page/pocket.typ").read_text(encoding="utf-8")
    ours = {re.sub("</?b>", "", said) for said in re.findall(r'say\("(<b>.+)"\)', template)}
    assert len(ours) > 4
    assert ours <= site
