"""Every page of a finished guide: the demo's, and those of a guide with names that are hard on templates."""

from __future__ import annotations

import posixpath
import re
from collections import Counter
from typing import TYPE_CHECKING
from urllib.parse import unquote, urlsplit

import pytest
from selectolax.lexbor import LexborHTMLParser

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from selectolax.lexbor import LexborNode

    Pages = dict[str, LexborHTMLParser]

# The policy of the design: nothing but the guide's own pictures, styles, fonts and scripts is ever loaded.
POLICY = {
    "default-src": "'none'",
    "img-src": "'self'",
    "style-src": "'self'",
    "font-src": "'self'",
    "script-src": "'self'",
    "connect-src": "'self'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
}
LOADED = ("src", "srcset", "poster", "data", "background", "action", "ping", "manifest")
"""Attributes by which HTML makes a browser load something; ``href`` is one on ``link`` alone."""


MOUNT = "/millrace/"
"""Path of the address at which both guides say that they are published."""


@pytest.fixture(scope="module", params=["demo", "hard"])
def build(request: pytest.FixtureRequest) -> Path:
    """A finished guide."""
    folder: Path = request.getfixturevalue(request.param)
    return folder / "build"


@pytest.fixture(scope="module")
def pages(build: Path) -> Pages:
    """Its pages by their paths."""
    found = {path.relative_to(build).as_posix(): path.read_text(encoding="utf-8") for path in build.rglob("*.html")}
    # A question to send is a file for itself, under rules of its own: see test_positions.py.
    found = {path: text for path, text in found.items() if not path.startswith("questions/")}
    assert len(found) > 10
    return {path: LexborHTMLParser(text) for path, text in found.items()}


def every_node(pages: Pages) -> Iterator[tuple[str, LexborNode]]:
    """Give every element with the path of its page."""
    for path, page in pages.items():
        yield from ((path, node) for node in page.css("*"))


def attributes(pages: Pages) -> Iterator[tuple[str, str, str, str]]:
    """Give page, element, name and value of every attribute."""
    for path, node in every_node(pages):
        yield from ((path, str(node.tag), name, value or "") for name, value in node.attributes.items())


def addresses(pages: Pages) -> Iterator[tuple[str, str, str]]:
    """Give page, element and address of everything that leads somewhere or is loaded."""
    for path, tag, name, value in attributes(pages):
        if name == "srcset":
            yield from ((path, tag, candidate.split()[0]) for candidate in value.split(","))
        elif name in LOADED or name == "href":
            yield path, tag, value


def test_every_page_forbids_what_it_does_not_need(pages: Pages) -> None:
    """The policy stands in the head of each page, before anything that it governs."""
    for path, page in pages.items():
        metas = page.css("head > meta[http-equiv='Content-Security-Policy']")
        assert len(metas) == 1, path
        policy = (part.split(maxsplit=1) for part in str(metas[0].attributes["content"]).split(";"))
        assert dict(policy) == POLICY
        before = page.css("head > *")
        assert [str(node.tag) for node in before[:2]] == ["meta", "meta"], path
        assert before[1].attributes.get("http-equiv"), path


def test_no_page_runs_or_styles_anything_by_itself(pages: Pages) -> None:
    """There is no script but in files, no style but the sheet, no frame and no form, in elements or attributes.

    A block of data is a ``script`` by its name only: no browser runs it (HTML, "prepare the script element").
    """
    tags = Counter(node.tag for _, node in every_node(pages))
    scripts = [node for _, node in every_node(pages) if node.tag == "script"]
    scripts = [node for node in scripts if node.attributes.get("type") != "application/ld+json"]
    assert [node.html for node in scripts if node.text() or not node.attributes["src"]] == []
    assert tags["p"] > 20
    forbidden = {"style", "iframe", "frame", "object", "embed", "form", "base", "template"}
    assert forbidden & set(tags) == set()
    names = {name for _, _, name, _ in attributes(pages)}
    assert {"class", "href", "alt"} <= names
    assert not {name for name in names if name == "style" or name.startswith("on")}


def test_nothing_is_loaded_from_elsewhere(build: Path, pages: Pages) -> None:
    """Pages and style sheets load the guide's own files only; the canonical address is no loading."""
    canonical = {str(node.attributes["href"]) for page in pages.values() for node in page.css("link[rel=canonical]")}
    loaded = [
        address for path, tag, address in addresses(pages) if tag not in ("a", "area") and address not in canonical
    ]
    assert len(loaded) > 2 * len(pages)
    for sheet in build.rglob("*.css"):
        text = sheet.read_text(encoding="utf-8")
        loaded += [address.strip("\"' ") for address in re.findall(r"url\(([^)]*)\)", text)]
        assert "@import" not in text
    assert [address for address in loaded if urlsplit(address).scheme or urlsplit(address).netloc] == []


def test_every_link_is_relative_and_leads_somewhere(build: Path, pages: Pages) -> None:
    """From any folder, by double click or through a web host, each link finds its file and its place in it.

    The page for none is shown at any depth, so its links begin at the path of the guide's own address.
    """
    files = {path.relative_to(build).as_posix() for path in build.rglob("*") if path.is_file()}
    ids = {path: {str(node.attributes["id"]) for node in page.css("[id]")} for path, page in pages.items()}
    examined, fragments, broken = 0, 0, []
    for path, _, address in addresses(pages):
        parts = urlsplit(address)
        if parts.scheme in ("http", "https", "mailto"):
            continue
        assert not parts.scheme, address
        assert address.startswith("/") == (path == "404.html" and not address.startswith("#")), address
        examined += 1
        way = posixpath.join(posixpath.dirname(path), unquote(parts.path).removeprefix(MOUNT))
        target = posixpath.normpath(way) if parts.path else path
        if target not in files:
            broken.append((path, address))
        elif parts.fragment:
            fragments += 1
            if unquote(parts.fragment) not in ids[target]:
                broken.append((path, address))
    assert broken == []
    assert examined > 150
    assert fragments > 50


def test_every_page_can_be_reached_from_the_front(pages: Pages) -> None:
    """Following links from the front page leads to each page but the one for none."""
    leads: dict[str, set[str]] = {path: set() for path in pages}
    for path, tag, address in addresses(pages):
        if tag == "a" and not urlsplit(address).scheme:
            leads[path].add(posixpath.normpath(posixpath.join(posixpath.dirname(path), urlsplit(address).path or path)))
    seen, ahead = set(), {"index.html"}
    while ahead:
        seen |= ahead
        ahead = {target for path in ahead for target in leads[path] if target in pages} - seen
    assert set(pages) - seen == {"404.html"}


def test_ids_are_unique_and_labels_name_one(pages: Pages) -> None:
    """No page has an id twice, and whatever is labelled by an id finds it on the same page."""
    labels = 0
    for path, page in pages.items():
        ids = Counter(node.attributes["id"] for node in page.css("[id]"))
        assert [name for name, times in ids.items() if times > 1] == [], path
        for node in page.css("[aria-labelledby]"):
            labels += 1
            assert node.attributes["aria-labelledby"] in ids, path
    assert labels > 10


def test_every_nav_leads_somewhere(pages: Pages) -> None:
    """The first and only of its kind has no way to a neighbour, and no rule for one."""
    navs = [(path, nav) for path, page in pages.items() for nav in page.css("nav")]
    assert len(navs) > len(pages) / 2
    assert [path for path, nav in navs if nav.css_first("a") is None] == []


def test_every_picture_has_a_word_for_it_and_its_size(pages: Pages) -> None:
    """A picture says what it shows, or is marked as one to pass over, and the page keeps its place free."""
    pictures = [node for _, node in every_node(pages) if node.tag == "img"]
    assert len(pictures) >= 2
    for node in pictures:
        assert node.attributes.get("alt") or "thumb" in str(node.attributes.get("class"))
        assert int(str(node.attributes["width"])) > 0
        assert int(str(node.attributes["height"])) > 0


def test_every_page_has_a_title_and_a_description_of_its_own(pages: Pages) -> None:
    """No two pages look the same in a list of results or in a row of tabs."""
    titles = [page.css_first("title") for page in pages.values()]
    said = [page.css_first("meta[name=description]") for page in pages.values()]
    assert len({node.text() for node in titles if node}) == len(pages)
    assert len({node.attributes["content"] for node in said if node}) == len(pages)
