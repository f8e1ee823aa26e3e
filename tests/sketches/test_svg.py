"""Drawings in SVG: what draws is kept, what would run, fetch or lead elsewhere is refused by name."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest

from tertial.sketches.header import Header, looks_like_svg, read_header
from tertial.sketches.sizes import Original, PictureStore
from tertial.sketches.unreadable import Unreadable
from tertial.sketches.vector import Drawing, read_svg

if TYPE_CHECKING:
    from pathlib import Path

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 60 40"'
SVG = "{http://www.w3.org/2000/svg}"


def drawing(inside: str, more: str = "") -> Drawing | Unreadable:
    return read_svg(f"{HEAD} {more}>{inside}</svg>".encode())


@pytest.mark.parametrize(
    ("inside", "named"),
    [
        ("<script>alert(1)</script>", "'script'"),
        ('<x:script xmlns:x="urn:x">alert(1)</x:script>', "'script'"),
        ('<html xmlns="http://www.w3.org/1999/xhtml"/>', "'html'"),
        ('<path onclick="alert(1)"/>', "'onclick'"),
        ("<foreignObject/>", "'foreignObject'"),
        ('<a href="https://example.org"><path/></a>', "'a'"),
        ('<use href="other.svg#a"/>', "'other.svg#a'"),
        ('<use xlink:href="https://example.org/a.svg#b"/>', "'https://example.org/a.svg#b'"),
        ('<image href="data:image/png;base64,AAAA"/>', "'image'"),
        ("<animate/>", "'animate'"),
        ("<style>@import 'a.css';</style>", "'@'"),
        ("<style>path { fill: url(a.svg#b) }</style>", "'url('"),
        ("<style>path { fill: u\\72l(a.svg#b) }</style>", "fetch"),
        ('<path style="fill:url( https://example.org/#a)"/>', "'url( '"),
        ('<path fill="url(https://example.org/#a)"/>', "'url('"),
        ('<path xml:base="https://example.org/"/>', "'xml:base'"),
        ("<?xml-stylesheet href='a.css'?>", "'xml-stylesheet'"),
    ],
)
def test_what_does_more_than_draw_is_refused_by_name(inside: str, named: str) -> None:
    """Scripts, handlers, foreign objects, references outside and styles that fetch are each named."""
    found = drawing(inside)
    assert isinstance(found, Unreadable)
    assert named in found.reason
    assert found.reason.endswith("was expected") or found.reason.endswith("were expected")


@pytest.mark.parametrize(
    "declaration",
    [
        "<!DOCTYPE svg>",
        '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>',
        '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///secret">]>',
    ],
)
def test_no_document_type_is_read(declaration: str) -> None:
    """Entities could grow without end or fetch files (XML 1.0, 4.2), so none is ever declared."""
    found = read_svg(f"{declaration}{HEAD}><text>&a;</text></svg>".encode())
    assert isinstance(found, Unreadable)
    assert "document type declaration" in found.reason


def test_what_draws_is_kept_and_what_editors_add_is_not() -> None:
    """Shapes, texts, gradients and references within stay; what nobody sees goes: comments, titles, editors' notes."""
    found = drawing(
        "<title>owl at 44.93127</title><desc>owl <b xmlns='http://www.w3.org/1999/xhtml'>nest</b></desc>"
        '<!-- owl --><metadata>owl</metadata><e:view xmlns:e="urn:editor" e:x="owl"/>'
        '<defs><linearGradient id="g"><stop offset="0"/></linearGradient></defs>'
        '<path d="M0 0L9 9" fill="url(#g)" data-at="owl" aria-label="owl" e:label="owl" xmlns:e="urn:editor"/>'
        '<use xlink:href="#g"/>'
        "<style>path { stroke: #333 }</style><text>a &lt; b</text>"
    )
    assert isinstance(found, Drawing), found.reason
    root = ElementTree.fromstring(found.data)
    assert [each.tag.removeprefix(SVG) for each in root.iter()] == [
        "svg", "defs", "linearGradient", "stop", "path", "use", "style", "text",
    ]  # fmt: skip
    assert root.find(f"{SVG}path").attrib == {"d": "M0 0L9 9", "fill": "url(#g)"}  # type: ignore[union-attr]
    assert root.findtext(f"{SVG}text") == "a < b"
    assert b"owl" not in found.data


@pytest.mark.parametrize(
    ("more", "size"),
    [
        ("", (60, 40)),
        ('width="120" height="80"', (120, 80)),
        ('width="120px"', (120, 80)),
        ('width="100%" height="100%"', (60, 40)),
        ('width="1in" height="2.54cm"', (96, 96)),
    ],
)
def test_the_size_of_a_drawing_is_known(more: str, size: tuple[float, float]) -> None:
    """Width and height come from the root or its box (CSS Values 4, 6.2), and are written out."""
    found = drawing("<path/>", more)
    assert isinstance(found, Drawing)
    assert (found.width, found.height) == pytest.approx(size)
    root = ElementTree.fromstring(found.data)
    assert (float(root.attrib["width"]), float(root.attrib["height"])) == pytest.approx(size)
    assert root.attrib["viewBox"] == "0 0 60 40"


@pytest.mark.parametrize(
    "data",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"<svg viewBox='0 0 6 4'/>",
        b"<note/>",
        b"<svg",
        b"<",
        b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 6 4'><g></svg>",
        b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 1e300 4'/>",
        b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 6 4'>" + b"<g>" * 300 + b"</g>" * 300 + b"</svg>",
    ],
)
def test_a_drawing_that_cannot_be_shown_says_why(data: bytes) -> None:
    """XML of another kind, without a size, broken or far too deep gives a reason."""
    assert looks_like_svg(data)
    assert isinstance(read_svg(data), Unreadable)


def test_a_drawing_is_published_as_it_is_drawn(tmp_path: Path) -> None:
    """One file of its own kind, with its size, found again the second time; spots lie where they were."""
    path = tmp_path / "Head of a bird.svg"
    path.write_text(f'{HEAD} width="120" height="80"><path d="M0 0"/></svg>', encoding="utf-8")
    store = PictureStore(tmp_path / "kept")
    once, again = store.publish(Original(path)), store.publish(Original(path))
    assert once == again
    assert not isinstance(once, Unreadable)
    picture, files = once
    assert picture.fallback == picture.largest == picture.smallest
    assert (picture.largest.width, picture.largest.height) == (120, 80)
    assert [name.rpartition(".")[2] for name in files] == ["svg"]
    assert picture.spot(30, 20) == (30, 20)
    assert picture.spot(50, 25, percent=True) == (60, 20)
    assert read_header(path) == Header(120, 80, has_position=False)
