"""What entries point to: pictures beside them, and places in other entries."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.links import follow
from tertial.loading import load_guide
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tertial.guide import Guide

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

FILES: dict[str, str | bytes] = {
    "entries/species/hairy.md": "---\nspecies: Hairy Woodpecker\n---\n## In the wood\n\n## At 50% off\n",
    "entries/species/downy & co #2.md": "---\nspecies: Downy Woodpecker\n---\n",
    "entries/flocks/wood.md": "---\nflock: Wood\n---\n## Who leads\n\n## Without [the bigger one][HAWO]\n",
    "entries/notes/outing.md": "---\nouting: 2026-01-17\n---\n",
    "entries/species/a.png": b"picture",
    "entries/b.png": b"picture",
    "private.txt": "private",
}


@pytest.fixture
def guide(make_guide: MakeGuide) -> Guide:
    return load_guide(make_guide(FILES))


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("a.png", "entries/species/a.png"),
        ("./a.png", "entries/species/a.png"),
        ("../b.png", "entries/b.png"),
        ("../species/../species/a.png", "entries/species/a.png"),
        ("a.png/", "entries/species/a.png"),
        ("b.png", None),
        ("A.png", None),
        ("", None),
        (".", None),
        ("..", None),
        ("a.png/b", None),
        ("a\0.png", None),
        ("x" * 5000, None),
    ],
)
def test_a_picture_is_looked_for_beside_its_entry(guide: Guide, name: str, found: str | None) -> None:
    """A name counts from the entry's own folder; what is no file there is not found, whatever its name."""
    path = guide.beside(guide.by_code["HAWO"].entry.source, name)
    if found is None:
        assert path is None
    else:
        assert path is not None
        assert path.samefile(guide.folder / found)


@pytest.mark.parametrize("way", ["dots", "absolute", "link", "folder link", "circle", "circle of folders"])
def test_a_picture_outside_the_guide_is_not_there(guide: Guide, way: str) -> None:
    """No way of naming a file leads out of the guide's folder, or round in a circle."""
    outside, beside = guide.folder.parent / "outside.png", guide.folder / "entries/species"
    outside.write_bytes(b"outside")
    name = {"dots": "../../../outside.png", "absolute": str(outside), "folder link": "door/outside.png"}.get(
        way, "door"
    )
    door = beside / "door"
    if way == "link":
        door.symlink_to(outside)
    elif way == "folder link":
        door.symlink_to(guide.folder.parent)
    elif way == "circle":
        door.symlink_to("door")
    elif way == "circle of folders":
        name = "door/door/a.png"
        door.symlink_to("other")
        (beside / "other").symlink_to("door")
    assert guide.beside(guide.by_code["HAWO"].entry.source, name) is None


def test_a_guide_may_be_reached_through_a_link(guide: Guide, tmp_path: Path) -> None:
    """Where the guide's own folder is a link, what is beside an entry is inside all the same."""
    (tmp_path / "shortcut").symlink_to(guide.folder)
    other = load_guide(tmp_path / "shortcut")
    assert other.beside(other.by_code["HAWO"].entry.source, "a.png") is not None


HAIRY, WOOD, DOWNY = "entries/species/hairy.md", "entries/flocks/wood.md", "entries/species/downy & co #2.md"


@pytest.mark.parametrize(
    ("target", "account", "fragment"),
    [
        ("../flocks/wood.md", WOOD, ""),
        ("../flocks/wood.md#who-leads", WOOD, "text-who-leads"),
        ("../flocks/wood.md#Who leads", WOOD, "text-who-leads"),
        ("../flocks/wood.md#Who%20leads", WOOD, "text-who-leads"),
        ("../flocks/wood.md#without-the-bigger-one", WOOD, "text-without-the-bigger-one"),
        ("../flocks/wood.md#", WOOD, ""),
        ("hairy.md", HAIRY, ""),
        ("./hairy.md#in-the-wood", HAIRY, "text-in-the-wood"),
        ("#in-the-wood", None, "text-in-the-wood"),
        ("#At 50%25 off", None, "text-at-50-off"),
        ("downy%20&%20co%20%232.md", DOWNY, ""),
    ],
)
def test_links_lead_to_entries_and_headings(guide: Guide, target: str, account: str | None, fragment: str) -> None:
    """A link names another entry's file from this one's folder, and in it a heading by its words."""
    entry = guide.by_code["HAWO"].entry
    found = follow(guide, entry.source, entry.body, target)
    assert found is not None
    assert (found.account, found.fragment, found.web) == (guide.by_path[account] if account else None, fragment, "")


@pytest.mark.parametrize(
    "target",
    [
        "https://example.org/a?b#c",
        "http://example.org",
        "HTTPS://example.org",
        "mailto:watcher@example.org",
        "MAILTO:watcher@example.org",
    ],
)
def test_addresses_of_the_web_are_left_as_they_are(guide: Guide, target: str) -> None:
    """An address outside the guide is passed on unchanged."""
    entry = guide.by_code["HAWO"].entry
    found = follow(guide, entry.source, entry.body, target)
    assert found is not None
    assert (found.account, found.web) == (None, target)


@pytest.mark.parametrize(
    "target",
    [
        "",
        "#",
        "#nowhere",
        "nowhere.md",
        "hairy",
        "../flocks/wood.md#nowhere",
        "../../private.txt",
        "../../../../etc/hosts",
        "/entries/species/hairy.md",
        "a.png",
        "hairy.md?from=https://example.org",
        "//example.org/hairy.md",
        "ftp://example.org/",
    ],
)
def test_what_leads_nowhere_is_none(guide: Guide, target: str) -> None:
    """A link to a file or heading that is not there, or to no account, is for the checks to name."""
    entry = guide.by_code["HAWO"].entry
    assert follow(guide, entry.source, entry.body, target) is None


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("Hairy Woodpecker", "hairy-woodpecker"),
        ("Cooper's Hawk", "coopers-hawk"),
        ("Cooper\N{RIGHT SINGLE QUOTATION MARK}s Hawk", "coopers-hawk"),
        ("Épervier brun", "epervier-brun"),
        ("E\N{COMBINING ACUTE ACCENT}pervier  brun", "epervier-brun"),
        ("Black-crowned Night-Heron (1st year)", "black-crowned-night-heron-1st-year"),
        ("../../etc", "etc"),
        ("CON", "con"),
        ("鳥", "entry"),
        ("", "entry"),
    ],
)
def test_names_become_plain_file_names(name: str, slug: str) -> None:
    """Accents and apostrophes go, every other sign becomes a hyphen."""
    assert slug_of(name) == slug


@given(st.text())
def test_any_name_becomes_a_file_name(name: str) -> None:
    """Whatever is written, the file name has small letters, digits and single hyphens, and is not empty."""
    slug = slug_of(name)
    assert slug
    assert all(part.isascii() and part.isalnum() and part == part.lower() for part in slug.split("-"))
    assert slug_of(slug) == slug


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("wood " * 80, "-".join(["wood"] * 20)),
        ("o" * 400, "o" * 100),
        ("a" * 99 + " b", "a" * 99),
        ("a" * 100, "a" * 100),
    ],
)
def test_a_very_long_name_gives_its_first_words(name: str, slug: str) -> None:
    """A file system takes 255 bytes a name, and an ending has to have room."""
    assert slug_of(name) == slug


def test_names_that_differ_far_behind_have_pages_of_their_own(make_guide: MakeGuide) -> None:
    """What is left of two long names may be the same; then they are numbered, as any two of one name."""
    files = {f"entries/{end}.md": f"---\nflock: {'wood ' * 80}{end}\n---\n" for end in "ab"}
    guide = load_guide(make_guide(files))
    first, second = (flock.slug for flock in guide.flocks)
    assert (first, second) == ("-".join(["wood"] * 20), "-".join(["wood"] * 20) + "-2")
