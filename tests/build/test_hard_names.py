"""What authors write reaches the reader as they wrote it: no name breaks a page, no position gets out."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser

if TYPE_CHECKING:
    from collections.abc import Callable

HERE = Path(__file__).resolve().parent / "hard"
MARK = re.compile(r"<script>[\w-]+</script>")
SOURCES = {path.relative_to(HERE).as_posix(): path.read_text(encoding="utf-8") for path in sorted(HERE.rglob("*.*"))}
MARKS = sorted({mark for text in SOURCES.values() for mark in MARK.findall(text)})
SHOWN = [mark for mark in MARKS if "unpublished" not in mark]

# A word of the file's own, so that a page tells by its text which entry it is.
HAWK = "species/coopers-hawk.html"


@pytest.fixture(scope="module")
def pages(hard: Path) -> dict[str, LexborHTMLParser]:
    build = hard / "build"
    return {
        path.relative_to(build).as_posix(): LexborHTMLParser(path.read_text(encoding="utf-8"))
        for path in build.rglob("*.html")
    }


@pytest.fixture(scope="module")
def readable(pages: dict[str, LexborHTMLParser]) -> str:
    """All that a reader can read or be read to: the text of every page, and its texts in place of pictures."""
    said = []
    for page in pages.values():
        said.append(page.root.text() if page.root else "")
        said.extend(str(node.attributes["alt"]) for node in page.css("[alt]"))
        said.extend(str(node.attributes["content"]) for node in page.css("meta[content]"))
    return "\n".join(said)


def links(page: LexborHTMLParser, within: str) -> list[tuple[str, str]]:
    """Give words and address of the links within a part of a page."""
    return [(node.text(), str(node.attributes["href"])) for node in page.css(f"{within} a")]


def test_every_field_of_every_kind_holds_a_mark() -> None:
    """The tests below examine as many fields as there are marks."""
    assert len(SHOWN) > 35
    assert len(MARKS) == sum(len(MARK.findall(text)) for text in SOURCES.values())


@pytest.mark.parametrize("mark", SHOWN)
def test_what_looks_like_markup_is_shown_as_text(readable: str, hard: Path, mark: str) -> None:
    """A field with signs of HTML in it is read on some page just as written, and stands as markup on none."""
    assert mark in readable
    assert not [path for path in (hard / "build").rglob("*.html") if mark in path.read_text(encoding="utf-8")]


@pytest.mark.parametrize(
    "text",
    [
        "Cooper's Hawk",
        "Épervier brun",
        "L'épervier, « à l'œil orange »",
        "'Bird' of the \"Weir\"",
        "& 'hooked', \"strongly\"",
        "\"in quotes\", 'and more'",
        'Birds of <script>title</script> & "elsewhere"',
        '<b onclick="alert(1)">Raw</b>',
        "donaudampfschifffahrtsgesellschaftskapitaensmuetzenabzeichenhalterungsschraubenschluesselaufbewahrungskasten",
    ],
)
def test_quotes_accents_and_long_words_stay_as_they_are(readable: str, text: str) -> None:
    """Signs that HTML, YAML or a file name would trip over reach the reader unchanged."""
    assert text in readable


@pytest.mark.parametrize("number", ["44.97778", "93.26500", "44.97", "93.26"])
def test_a_position_in_front_matter_is_published_nowhere(hard: Path, number: str) -> None:
    """No file of the finished guide holds a coordinate that an entry keeps in its front matter."""
    files = [path for path in (hard / "build").rglob("*") if path.is_file()]
    assert len([text for text in SOURCES.values() if number in text]) == 4
    assert {b"<!doctype html>"} <= {path.read_bytes()[:15] for path in files}
    assert [path for path in files if number.encode() in path.read_bytes()] == []


def test_entries_with_a_position_have_their_pages_all_the_same(readable: str) -> None:
    """Name and text of each are published, so that the test above read what was published of them."""
    for words in ("Upper Weir", "Park at the mill", "Brown duck", "It dived", "17 January 2026", "over the ice"):
        assert words in readable


def test_unpublished_words_are_published_nowhere(readable: str) -> None:
    """What is kept for later comparison, such as the scale of a sketch, is on no page, nor is a malformed code."""
    assert "unpublished" in "".join(MARKS)
    assert "unpublished" not in readable


def test_codes_in_the_text_are_links(pages: dict[str, LexborHTMLParser]) -> None:
    """In running text and as a label a code leads to its account; in code, or within a longer word, it does not."""
    found = links(pages[HAWK], ".prose")
    assert found == [
        ("SSHA", "../species/epervier-brun.html"),
        ("the small one", "../species/epervier-brun.html"),
        ("SSHA", "../species/epervier-brun.html"),
        ("the flock", "../flocks/olearys-script-flock-script-company.html#text-who-follows"),
        ("below", "#text-what-a-day"),
        ("far away", "https://example.org/?a=1&b=%222%22"),
    ]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ("bill", [("bill", "../parts.html#part-bill"), ("SSHA", "../species/epervier-brun.html")]),
        ("nape", [("nape", "../parts.html#part-nape")]),
        ("<script>part</script>", []),
    ],
)
def test_codes_and_parts_in_phrases_are_links(
    pages: dict[str, LexborHTMLParser], row: str, expected: list[tuple[str, str]]
) -> None:
    """A row leads from its part to the page of parts, and from codes to accounts; other capitals stay plain."""
    rows = [
        node for node in pages[HAWK].css("table.sheet-of-marks tr") if [th.text() for th in node.css("th")] == [row]
    ]
    assert [[(a.text(), a.attributes["href"]) for a in node.css("a")] for node in rows] == [expected]


def test_addresses_that_do_harm_are_no_links(pages: dict[str, LexborHTMLParser]) -> None:
    """A link of a kind that runs code is shown as text, and one out of the guide loses its address."""
    addresses = [str(node.attributes["href"]) for page in pages.values() for node in page.css("a[href]")]
    assert len(addresses) > 100
    assert not [address for address in addresses if "javascript" in address or "guide.yaml" in address]


def test_no_name_leads_out_of_the_finished_guide(hard: Path, tree: Callable[[Path], dict[str, bytes]]) -> None:
    """A code with dots and slashes in it makes a page beside the others, and no file anywhere else."""
    assert "code: ../<script>own-code</script>" in SOURCES["entries/species/bird.md"]
    assert (hard / "build/pairs/coha-script-own-code-script.html").is_file()
    outside = {path for path in tree(hard) if not path.startswith(("build/", ".tertial/"))}
    assert outside == {*SOURCES, "entries/species/dot.png", "entries/species/dôt 1.png"}


def test_pictures_in_the_text_are_found_by_their_own_names(pages: dict[str, LexborHTMLParser]) -> None:
    """A name with blanks and accents, written as CommonMark asks, leads to the picture beside the entry."""
    (picture,) = pages[HAWK].css(".prose img")
    assert str(picture.attributes["src"]).startswith("../pictures/d-t-1-")


def test_names_make_plain_file_names(hard: Path) -> None:
    """Accents, apostrophes and signs are left out of addresses, so that any web host serves them."""
    names = [path.relative_to(hard / "build").as_posix() for path in (hard / "build").rglob("*.html")]
    assert "species/epervier-brun.html" in names
    assert [name for name in names if not re.fullmatch(r"[a-z0-9/-]+\.html", name)] == []
