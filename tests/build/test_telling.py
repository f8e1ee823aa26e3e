"""What the heads of pages tell other programs: descriptions, pictures of pages, and data."""

from __future__ import annotations

import json
import re
import shutil
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest
from PIL import Image
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide
from tertial.sketches import showcard

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    Make = Callable[[Mapping[str, str | bytes]], Path]
    Node = dict[str, Any]

BASE = "https://example.org/millrace/"
OWL = "Owl hollow"

# Words of schema.org by type, each with those of CreativeWork or Thing that are used here. Those of Taxon are as
# its page there lists them; the others are from memory.
_THING = {"@type", "name", "description", "url", "image", "alternateName"}
_WORK = _THING | {
    "author",
    "license",
    "inLanguage",
    "isPartOf",
    "about",
    "datePublished",
    "dateModified",
    "dateCreated",
}
TERMS = {
    "WebSite": _WORK,
    "WebPage": _WORK,
    "CreativeWork": _WORK,
    "Person": _THING,
    "ImageObject": _WORK | {"contentUrl", "thumbnailUrl", "width", "height", "creator", "creditText"},
    "Taxon": _THING | {"taxonRank", "parentTaxon"},
}
DARWIN_CORE = {"scientificName"}
"""Terms that the context of each page takes from Darwin Core (TDWG)."""


@pytest.fixture(scope="module", params=["demo", "hard"])
def build(request: pytest.FixtureRequest) -> Path:
    """A finished guide."""
    folder: Path = request.getfixturevalue(request.param)
    return folder / "build"


@pytest.fixture(scope="module")
def heads(build: Path) -> dict[str, LexborHTMLParser]:
    """Its pages with the frame that most have, by path."""
    return heads_of(build)


def heads_of(build: Path) -> dict[str, LexborHTMLParser]:
    found = {path.relative_to(build).as_posix(): path for path in build.rglob("*.html")}
    framed = {path: file for path, file in found.items() if not path.startswith("questions/")}
    return {path: LexborHTMLParser(file.read_text("utf-8")) for path, file in framed.items()}


def data_of(page: LexborHTMLParser) -> Node | None:
    blocks = page.css("head script[type='application/ld+json']")
    assert len(blocks) <= 1
    found: Node | None = json.loads(blocks[0].text()) if blocks else None
    return found


def nodes_in(value: object) -> Iterator[Node]:
    """Give every node of a page's data."""
    if isinstance(value, dict):
        if "@type" in value:
            yield value
        for each in value.values():
            yield from nodes_in(each)
    elif isinstance(value, list):
        for each in value:
            yield from nodes_in(each)


def attribute(page: LexborHTMLParser, where: str, name: str) -> str | None:
    found = page.css_first(where)
    return None if found is None else found.attributes[name]


def head_of(page: LexborHTMLParser) -> str:
    head = page.css_first("head")
    assert head is not None
    return head.html or ""


def meta(page: LexborHTMLParser, name: str) -> str | None:
    return attribute(page, f"meta[property='og:{name}']", "content")


def test_every_page_but_that_for_none_and_held_places_has_data(heads: dict[str, LexborHTMLParser]) -> None:
    """What a page is, by whom, in which guide, and under its own address."""
    data = {path: found for path, page in heads.items() if (found := data_of(page))}
    assert len(data) > len(heads) // 2
    assert "404.html" not in data
    for path, found in data.items():
        assert found["@type"] == ("WebSite" if path == "index.html" else found["@type"])
        assert found["url"].endswith(path)
        assert {"name", "description", "inLanguage"} <= found.keys()
        assert found["description"] == attribute(heads[path], "meta[name=description]", "content")


def test_data_are_in_the_words_of_their_standards(heads: dict[str, LexborHTMLParser]) -> None:
    """Every type exists, every word belongs to its type, and what a type is for is there."""
    seen = set()
    for path, page in heads.items():
        data = data_of(page) or {}
        assert data.get("@context", ["https://schema.org"])[0] == "https://schema.org"
        for node in nodes_in(data):
            kind = node["@type"]
            seen.add(kind)
            assert node.keys() - {"@context"} <= TERMS[kind] | DARWIN_CORE, path
            assert "" not in node.values()
            if kind == "ImageObject":
                assert {"contentUrl", "width", "height"} <= node.keys(), path
            else:
                assert node.get("name"), path
            if "license" in node:
                assert node["license"]["name"]
    assert {"WebSite", "CreativeWork", "WebPage", "Taxon"} <= seen


def test_a_species_is_told_as_a_taxon_with_its_family_and_its_pictures(demo: Path) -> None:
    """Name, code, scientific name and rank; the dates of the entry; whose the drawings are and their licence."""
    data = data_of(heads_of(demo / "build")["species/downy-woodpecker.html"])
    assert data is not None
    (taxon,) = data["about"]
    assert (taxon["name"], taxon["scientificName"], taxon["taxonRank"]) == (
        "Downy Woodpecker",
        "Dryobates pubescens",
        "species",
    )
    assert "DOWO" in taxon["alternateName"]
    assert taxon["parentTaxon"] == {"@type": "Taxon", "name": "Picidae", "taxonRank": "family"}
    assert (data["datePublished"], data["dateModified"]) == ("2026-01-04", "2026-02-22")
    assert data["author"] == {"@type": "Person", "name": "A. Watcher"}
    assert len(data["image"]) == 4
    for image in data["image"]:
        assert image["creator"] == data["author"]
        assert image["creditText"] == "A. Watcher"
        assert image["license"]["url"] == "https://creativecommons.org/licenses/by/4.0/"
        assert (demo / "build" / image["contentUrl"].removeprefix(BASE)).is_file()
        assert (demo / "build" / image["thumbnailUrl"].removeprefix(BASE)).is_file()


def test_every_page_has_its_address_and_a_picture_of_the_right_size(demo: Path) -> None:
    """Canonical address and that of Open Graph agree; the picture exists; pages of birds have their own."""
    heads = heads_of(demo / "build")
    pictures = {}
    for path, page in heads.items():
        if path == "404.html":
            assert not page.css("link[rel=canonical], meta[property]")
            continue
        assert attribute(page, "link[rel=canonical]", "href") == meta(page, "url") == BASE + path
        assert all(meta(page, name) for name in ("title", "description", "image:alt"))
        pictures[path] = str(meta(page, "image"))
        file = demo / "build" / pictures[path].removeprefix(BASE)
        with Image.open(file) as picture:
            assert (picture.format, picture.size) == ("JPEG", (1200, 630))
            assert (meta(page, "image:width"), meta(page, "image:height")) == ("1200", "630")
            assert not picture.getexif()
    general = pictures["index.html"]
    own = {path for path, picture in pictures.items() if picture != general}
    assert {path.split("/")[0] for path in own} == {"species", "pairs", "groups", "flocks"}
    assert len({pictures[path] for path in own if path.startswith("species/")}) == len(
        [path for path in own if path.startswith("species/")]
    )


def held(shown: str) -> dict[str, str | bytes]:
    """Make a guide with a place that is told so, and what happened there."""
    return {
        "guide.yaml": f"title: T\nauthor: A. Watcher\nbase address: {BASE}\n",
        "entries/owl.md": f"---\nplace: {OWL}\nid: hollow\nposition: 42.5, -74.5\n{shown}"
        "habitat: [hollow ash]\n---\nAt the barn at night.\n",
        "entries/outing.md": "---\nouting: 2026-05-02\nplace: hollow\ncounts: |\n  BCCH: 4\n---\nAt the barn.\n",
        "entries/unknown.md": "---\nunknown: Falcon\nplace: hollow\nmarks: |\n  tail: barred\n"
        "sketches:\n  - file: a.png\n    alt: It\n---\nAt the barn.\n",
    }


@pytest.mark.parametrize(
    ("shown", "is_told"),
    [
        ("shown as: exact\n", True),
        ("shown as: 0.1 degree\n", True),
        ("shown as: 0.1 degree\nbecause: owls\n", False),
        ("shown as: withheld\n", False),
        ("", False),
    ],
)
def test_no_program_is_told_of_a_place_that_is_held_back(shown: str, is_told: bool, make_guide: Make) -> None:
    """Heads have its name on its own page alone; no text, habitat, picture or data of it or of what was seen there."""
    folder = make_guide(held(shown))
    Image.linear_gradient("L").save(folder / "entries/a.png")
    assert build_guide(folder).pages > 5
    heads = heads_of(folder / "build")
    for path in ("places/hollow.html", "outings/2026-05-02.html", "unsolved/falcon.html"):
        head = head_of(heads[path])
        assert ("At the barn" in head) == is_told, path
        assert (data_of(heads[path]) is not None) == is_told, path
        assert "42.5" not in head
    assert ("hollow ash" in head_of(heads["places/hollow.html"])) == is_told
    pictures = {path: attribute(page, "meta[property='og:image']", "content") for path, page in heads.items()}
    assert (pictures["unsolved/falcon.html"] != pictures["index.html"]) == is_told
    for path, page in heads.items():
        if not path.startswith("places/"):
            assert OWL not in head_of(page)


@pytest.mark.parametrize("later", ["shown as: withheld\n", "shown as: exact\n"])
def test_what_is_held_back_later_leaves_no_picture_behind(
    later: str, make_guide: Make, tree: Callable[[Path], dict[str, bytes]]
) -> None:
    """Every picture of a page is named by its head, and a place that is opened or closed changes both."""
    sooner = "shown as: exact\n" if "withheld" in later else "shown as: withheld\n"
    folder = make_guide(held(sooner))
    Image.linear_gradient("L").save(folder / "entries/a.png")
    build_guide(folder)
    (folder / "entries/owl.md").write_text(str(held(later)["entries/owl.md"]), encoding="utf-8")
    build_guide(folder)
    pages = tree(folder / "build")
    pictures = {attribute(page, "meta[property='og:image']", "content") for page in heads_of(folder / "build").values()}
    assert {BASE + path for path in pages if "/preview-" in path} == pictures - {None}
    shutil.rmtree(folder / ".tertial")
    shutil.rmtree(folder / "build")
    build_guide(folder)
    assert tree(folder / "build") == pages


_SCRIPT = "</script><script>alert(1)</script>."
SKETCHED = {
    "entries/tit.md": f"---\nspecies: Tufted Titmouse\nsketches:\n  - file: a.png\n---\nHi {_SCRIPT}\n",
}


@pytest.fixture
def sketched(make_guide: Make) -> Path:
    """A guide with one sketch and a base address."""
    folder = make_guide({"guide.yaml": f"title: T\nbase address: {BASE}\n", **SKETCHED})
    Image.linear_gradient("L").save(folder / "entries/a.png")
    return folder


def test_a_page_is_drawn_once(sketched: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second build of everything, with the pictures kept, draws none."""
    assert build_guide(sketched).pages
    first = {path.name: path.read_bytes() for path in (sketched / "build/pictures").glob("preview-*")}
    assert len(first) == 2
    (sketched / ".tertial/kept").unlink()
    monkeypatch.setattr(showcard, "draw", lambda *_: pytest.fail("it was drawn again"))
    assert build_guide(sketched).pages
    assert {path.name: path.read_bytes() for path in (sketched / "build/pictures").glob("preview-*")} == first


def test_nothing_is_drawn_for_a_guide_without_address(sketched: Path) -> None:
    """Pictures of pages are asked for by whole addresses only, so that there are none without."""
    (sketched / "guide.yaml").write_text("title: T\n", "utf-8")
    assert build_guide(sketched).pages
    assert list((sketched / "build/pictures").glob("preview-*")) == []
    for page in heads_of(sketched / "build").values():
        assert not page.css("meta[property], link[rel=canonical]")
    data = data_of(heads_of(sketched / "build")["species/tufted-titmouse.html"])
    assert data is not None
    assert not urlsplit(data["url"]).scheme
    assert (sketched / "build/species" / data["image"][0]["contentUrl"]).is_file()


def test_signs_of_markup_do_not_end_the_data(sketched: Path) -> None:
    """What an author writes stays data."""
    assert build_guide(sketched).pages
    text = (sketched / "build/species/tufted-titmouse.html").read_text("utf-8")
    (block,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', text)
    assert "<" not in block
    assert "</script>" in json.loads(block)["description"]
