"""The feed of what is new, held to RFC 4287 (Atom) and read by a feed reader's parser."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from urllib.parse import urlsplit
from xml.etree import ElementTree as ET

import feedparser  # type: ignore[import-untyped]
import pytest

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Make = Callable[[Mapping[str, str | bytes]], Path]

ATOM = "{http://www.w3.org/2005/Atom}"
BASE = "https://example.org/millrace/"
# RFC 3339, section 5.6, with the capitals that RFC 4287, section 3.3, asks for.
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)")

SETTINGS = f"title: Birds of the Millrace & weir\nauthor: A. Watcher\nbase address: {BASE}\nlicence: CC BY 4.0\n"
ENTRIES = {
    "entries/hairy.md": "---\nspecies: Hairy Woodpecker\nwritten: 2026-01-04\nchanged: 2026-02-11\n---\n",
    "entries/downy.md": "---\nspecies: Downy Woodpecker\nwritten: 2026-01-04\n---\n",
    "entries/creeper.md": "---\nspecies: Brown Creeper\n---\n",
    "entries/flock.md": "---\nflock: Flock <of> the alders\nmembers: [BCCH]\nwritten: 2025-12-30\n---\n",
    "entries/weir.md": "---\nplace: Upper Weir\nid: upper-weir\n---\n",
    "entries/morning.md": "---\nouting: 2026-01-17\nstart: 8:10\nplace: upper-weir\n---\n",
    "entries/evening.md": "---\nouting: 2026-01-17\nstart: 16:10\n---\n",
    "entries/duck.md": "---\nunknown: Brown duck, far out\nseen: 2026-01-17\n---\n",
    "entries/owl.md": "---\nunknown: Owl\nseen: 2026-01-18\nsettled: LEOW\n---\n",
}


def feed_of(folder: Path) -> ET.Element:
    build = build_guide(folder)
    assert build.pages > 3, build.report.problems
    return ET.fromstring((folder / "build" / "feed.xml").read_bytes())


@pytest.fixture
def folder(make_guide: Make) -> Path:
    return make_guide({"guide.yaml": SETTINGS, **ENTRIES})


def texts(feed: ET.Element, name: str) -> list[str]:
    return [(found.text or "") if (found := entry.find(ATOM + name)) is not None else "" for entry in entries(feed)]


def links(feed: ET.Element) -> list[str]:
    return [
        (found.get("href") or "") if (found := entry.find(ATOM + "link")) is not None else "" for entry in entries(feed)
    ]


def entries(feed: ET.Element) -> list[ET.Element]:
    return feed.findall(f"{ATOM}entry")


def test_a_reader_understands_it(folder: Path) -> None:
    """A parser that reads feeds finds no fault, and every title as its author wrote it."""
    feed_of(folder)
    found = feedparser.parse((folder / "build" / "feed.xml").read_bytes())
    assert not found.bozo
    assert found.version == "atom10"
    assert found.feed.title == "Birds of the Millrace & weir"
    assert found.feed.author == "A. Watcher"
    assert found.feed.rights == "CC BY 4.0"
    assert len(found.entries) == 7
    assert {entry.title for entry in found.entries} >= {"Hairy Woodpecker", "Brown duck, far out"}
    assert all(entry.link.startswith(BASE) for entry in found.entries)


def test_titles_are_plain_text(folder: Path) -> None:
    """Signs of markup in a name are escaped once, and no more."""
    assert "Flock <of> the alders" in texts(feed_of(folder), "title")


def test_the_feed_has_what_the_standard_asks_for(folder: Path) -> None:
    """One id, title and moment each, an author for all, and a way to itself (RFC 4287, section 4.1.1)."""
    feed = feed_of(folder)
    assert feed.tag == f"{ATOM}feed"
    for name in ("id", "title", "updated", "author"):
        assert len(feed.findall(ATOM + name)) == 1
    assert feed.findtext(f"{ATOM}id") == BASE
    assert feed.findtext(f"{ATOM}author/{ATOM}name") == "A. Watcher"
    ways = {link.get("rel"): link.get("href") for link in feed.findall(f"{ATOM}link")}
    assert ways == {"self": f"{BASE}feed.xml", "alternate": f"{BASE}index.html"}
    allowed = {"id", "title", "subtitle", "updated", "author", "rights", "link", "entry"}
    assert {child.tag.removeprefix(ATOM) for child in feed} <= allowed


def test_every_entry_has_what_the_standard_asks_for(folder: Path) -> None:
    """One id, title and moment each, and a page that exists (RFC 4287, section 4.1.2)."""
    feed = feed_of(folder)
    assert len(entries(feed)) == 7
    for entry in entries(feed):
        for name in ("id", "title", "updated", "published", "summary"):
            assert len(entry.findall(ATOM + name)) == 1
            assert (entry.findtext(ATOM + name) or "").strip()
        (link,) = entry.findall(f"{ATOM}link")
        href = link.get("href") or ""
        assert link.get("rel") == "alternate"
        assert (folder / "build" / href.removeprefix(BASE)).is_file()


def test_ids_are_absolute_and_unique(folder: Path) -> None:
    """No two things share an id, and each is an IRI in full (RFC 4287, section 4.2.6)."""
    feed = feed_of(folder)
    ids = [feed.findtext(f"{ATOM}id"), *texts(feed, "id")]
    assert len(ids) == len(set(ids)) == 8
    assert all(urlsplit(each or "").scheme == "https" for each in ids)


def test_moments_are_those_of_the_author(folder: Path) -> None:
    """Dates of the entries as RFC 3339 writes them; the feed is as new as its newest entry."""
    feed = feed_of(folder)
    moments = [*texts(feed, "updated"), *texts(feed, "published"), feed.findtext(f"{ATOM}updated") or ""]
    assert [moment for moment in moments if not MOMENT.fullmatch(moment)] == []
    by_title = dict(
        zip(texts(feed, "title"), zip(texts(feed, "published"), texts(feed, "updated"), strict=True), strict=True)
    )
    assert by_title["Hairy Woodpecker"] == ("2026-01-04T00:00:00Z", "2026-02-11T00:00:00Z")
    assert by_title["Downy Woodpecker"] == ("2026-01-04T00:00:00Z", "2026-01-04T00:00:00Z")
    assert feed.findtext(f"{ATOM}updated") == max(texts(feed, "updated"))


def test_the_latest_comes_first(folder: Path) -> None:
    """By date, then by title, whatever the names of the files."""
    feed = feed_of(folder)
    moments = texts(feed, "updated")
    assert moments == sorted(moments, reverse=True)
    titles = texts(feed, "title")
    assert titles[:2] == ["Hairy Woodpecker", "Owl"]
    same_day = [title for title, moment in zip(titles, moments, strict=True) if moment.startswith("2026-01-17")]
    assert len(same_day) == 3
    assert same_day == sorted(same_day)
    assert titles[-2:] == ["Downy Woodpecker", "Flock <of> the alders"]


def ids_by_title(folder: Path) -> dict[str, str]:
    return dict(zip(texts(feed := feed_of(folder), "title"), texts(feed, "id"), strict=True))


def test_ids_stay_when_the_guide_grows(folder: Path) -> None:
    """What was told once keeps its id when other things are added or changed."""
    before = ids_by_title(folder)
    (folder / "entries" / "new.md").write_text("---\nspecies: Carolina Wren\nwritten: 2026-03-01\n---\n", "utf-8")
    hairy = folder / "entries" / "hairy.md"
    hairy.write_text(hairy.read_text("utf-8").replace("2026-02-11", "2026-03-02"), "utf-8")
    (folder / "guide.yaml").write_text(SETTINGS.replace("weir", "mill"), "utf-8")
    assert ids_by_title(folder) == {**before, "Carolina Wren": f"{BASE}entries/new.md"}


@pytest.mark.parametrize(
    ("file", "before", "after"),
    [
        ("flock.md", "Flock <of> the alders", "Flock of the birches"),
        ("duck.md", "unknown: Brown duck, far out", "unknown: Brown duck, near by"),
        ("downy.md", "Downy Woodpecker", "Downy Woodpecker (Eastern)"),
        ("hairy.md", "Hairy", "Pileated"),
        ("morning.md", "8:10", "17:30"),
        ("evening.md", "2026-01-17", "2026-01-16"),
    ],
)
def test_ids_stay_whatever_is_mended(folder: Path, file: str, before: str, after: str) -> None:
    """Another name, another hour or another day of one thing is no other thing (RFC 4287, section 4.2.6)."""
    ids = sorted(texts(feed_of(folder), "id"))
    entry = folder / "entries" / file
    entry.write_text(entry.read_text("utf-8").replace(before, after), "utf-8")
    assert sorted(texts(feed_of(folder), "id")) == ids


def test_a_second_of_its_name_takes_over_nothing(make_guide: Make) -> None:
    """An earlier walk of the same day, and a flock of the same name, leave ids and pages of those before them."""
    first = {
        "entries/2026-03-01.md": "---\nouting: 2026-03-01\nstart: 9:00\nplace: weir\n---\n",
        "entries/mixed-flock.md": "---\nflock: Mixed flock\nmembers: [BCCH]\nwritten: 2026-03-01\n---\n",
        "entries/weir.md": "---\nplace: Weir\n---\n",
    }
    folder = make_guide({"guide.yaml": SETTINGS, **first})
    told = dict(zip(texts(feed := feed_of(folder), "id"), links(feed), strict=True))
    assert set(told.values()) == {f"{BASE}outings/2026-03-01.html", f"{BASE}flocks/mixed-flock.html"}
    second = {
        "entries/2026-03-01-2.md": "---\nouting: 2026-03-01\nstart: 7:00\n---\n",
        "entries/a.md": "---\nouting: 2026-03-01\n---\n",
        "entries/another.md": "---\nflock: Mixed flock\nmembers: [TUTI]\nwritten: 2026-03-02\n---\n",
    }
    for path, text in second.items():
        (folder / path).write_text(text, "utf-8")
    after = dict(zip(texts(feed := feed_of(folder), "id"), links(feed), strict=True))
    assert after.items() >= told.items()
    assert after[f"{BASE}entries/2026-03-01-2.md"] == f"{BASE}outings/2026-03-01-2.html"
    assert len(set(after.values())) == len(after) == 5


def test_ids_are_written_as_addresses_are(make_guide: Make) -> None:
    """A blank, a per cent sign and a letter of another alphabet in the name of a file make no broken id."""
    name = "H\u00f6he 100% #1.md"
    folder = make_guide({"guide.yaml": SETTINGS, f"entries/{name}": ENTRIES["entries/downy.md"]})
    assert texts(feed_of(folder), "id") == [f"{BASE}entries/H%C3%B6he%20100%25%20%231.md"]


def test_a_long_guide_has_a_short_feed(make_guide: Make) -> None:
    """Only the latest things are told, so that a reader need not fetch a whole guide each day."""
    files = {f"entries/{day}.md": f"---\nouting: 2026-{day // 28 + 1:02}-{day % 28 + 1:02}\n---\n" for day in range(60)}
    feed = feed_of(make_guide({"guide.yaml": SETTINGS, **files}))
    assert 20 <= len(entries(feed)) <= 50
    assert feed.findtext(f"{ATOM}updated") == "2026-03-04T00:00:00Z"


def test_pages_tell_of_the_feed(folder: Path) -> None:
    """Every page leads readers to it."""
    feed_of(folder)
    page = (folder / "build" / "species" / "hairy-woodpecker.html").read_text(encoding="utf-8")
    assert re.search(r'<link[^>]+type="application/atom\+xml"[^>]+href="\.\./feed\.xml"', page)


@pytest.mark.parametrize(
    ("settings", "files"),
    [
        ("title: T\n", ENTRIES),
        (
            SETTINGS,
            {"entries/creeper.md": ENTRIES["entries/creeper.md"], "entries/weir.md": ENTRIES["entries/weir.md"]},
        ),
        (SETTINGS.replace(BASE, "example.org"), ENTRIES),
    ],
    ids=["no address", "no dates", "no address that can be used"],
)
def test_no_feed_without_address_or_dates(settings: str, files: Mapping[str, str | bytes], make_guide: Make) -> None:
    """Half an address or no date makes no feed, and no page speaks of one."""
    folder = make_guide({"guide.yaml": settings, **files})
    assert build_guide(folder).pages > 3
    pages = list((folder / "build").rglob("*.html"))
    assert not (folder / "build" / "feed.xml").exists()
    assert len(pages) > 3
    assert [page for page in pages if b"feed.xml" in page.read_bytes()] == []
