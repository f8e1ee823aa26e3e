"""The subtler judgements of the checks, laid out as tables: when they speak, and when they hold back."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tertial.checks import pairs, places
from tertial.checks.every import check_guide
from tertial.checks.marks import claims
from tertial.loading import load_guide
from tertial.sketches.header import Header, read_header

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Make = Callable[[Mapping[str, str | bytes]], Path]
    Words = Callable[[Mapping[str, str]], list[str]]


@pytest.fixture
def words(make_guide: Make) -> Words:
    """Give the words that the checks say of some entries, each with the text that it points to."""

    def said(files: Mapping[str, str]) -> list[str]:
        guide = load_guide(make_guide({f"entries/{name}.md": f"---\n{text}\n---\n" for name, text in files.items()}))
        assert guide.problems == ()
        return [f"{each.word}: {each.source.slice(each.span)}" for each in check_guide(guide)]

    return said


@pytest.mark.parametrize(
    ("phrase", "stated", "denied"),
    [
        ("red", {"red"}, set()),
        ("red patch, often divided by black", {"red patch", "often divided by black"}, set()),
        ("black and white", {"black", "white"}, set()),
        ("no red", set(), {"red"}),
        ("without red; never white", set(), {"red", "white"}),
        ("always red", {"red"}, set()),
        ("red (never white in spring)", {"red"}, set()),
        ("red, or not red", {"red"}, {"red"}),
        ("red but never streaked", {"red"}, {"streaked"}),
        ("not always red", set(), set()),
        ("red, not only in spring", {"red"}, set()),
        ("usually red, sometimes not red", {"usually red", "sometimes not red"}, set()),
        ("Red", {"red"}, set()),
        ("northern", {"northern"}, set()),
        ("", set(), set()),
        (", ;", set(), set()),
    ],
)
def test_a_phrase_states_and_denies(phrase: str, stated: set[str], denied: set[str]) -> None:
    """Only what is plain counts: brackets, how often, and "not always" contradict nothing."""
    assert claims(phrase) == (stated, denied)


@pytest.mark.parametrize(
    ("phrase", "stated", "denied"),
    [
        ("red", set(), set()),
        ("no red", set(), set()),
        ("always red, streaked", {"red"}, set()),
        ("never red or orange", set(), {"red"}),
        ("not always red", set(), set()),
    ],
)
def test_only_always_and_never_bind_every_plumage(phrase: str, stated: set[str], denied: set[str]) -> None:
    """A plain statement on all birds leaves room for a plumage that differs."""
    assert claims(phrase, always=True) == (stated, denied)


@pytest.mark.parametrize(
    "text",
    [
        "44.97778, -93.26500",
        "44.97778,-93.26500",
        "44.977 -93.265",
        "44.97778/-93.26500",
        "44.97778° N, 93.26500° W",
        "44.97778 N 93.26500 W",
        "N 44.97778 W 93.26500",
        "44.97778N,93.26500W",
        "?lat=44.97778&lon=-93.26500",
        "44° 58.667' N, 93° 15.900' W",
        "44°58'40\"N 93°15'54\"W",
        "44°58\u203240\u2033 N, 93°15\u203254\u2033 W",
        "\u221233.868, 151.209",
    ],
)
def test_positions_are_known_in_many_forms(text: str) -> None:
    """Decimals, minutes, letters of the compass, a map's address: a hundred metres or closer."""
    assert places._POSITION.search(f"It sat at {text} until noon.")


@pytest.mark.parametrize(
    "text",
    [
        "44.9, -93.2",
        "44.98, -93.27",
        "bill 31.6, 30.9 and 32.1 mm",
        "mean 25.625 g",
        "2026-01-17, 08:10",
        "3.2 km in 140 minutes",
        "12.345 birds, then 6.789",
        "the file 1.234.567, 1.234.568",
        "at 44° in the shade, 93° in the sun",
        "1.5-2.25, 3.75",
    ],
)
def test_other_figures_are_no_positions(text: str) -> None:
    """Coarse degrees, measures, dates and temperatures are left alone."""
    assert places._POSITION.search(text) is None


@pytest.mark.parametrize(
    ("because", "limit"),
    [
        ("an owl roosts near the path", "0.1"),
        ("Nesting swallows", "0.1"),
        ("a colony on the island", "0.1"),
        ("kingfishers breed in the bank", "0.1"),
        ("a fox den", "0.1"),
        ("dense scrub", "0.01"),
        ("the honest owner wants no visitors", "0.01"),
        ("leks no more", "0.1"),
    ],
)
def test_reasons_set_the_limit(because: str, limit: str, words: Words) -> None:
    """Breeding, roosting and display ask for a tenth of a degree, any other reason for a hundredth."""
    place = f"place: Alder Bank\nposition: 44.9, -93.2\nbecause: {because}\nshown as: "
    assert words({"a": f"{place}{limit} degree"}) == []
    closer = {"0.1": "0.01 degree", "0.01": "0.001 degree"}[limit]
    assert words({"a": f"{place}{closer}"}) == [f"place-too-exact: {closer}"]


def outing(start: str, minutes: int, day: str = "2026-05-02") -> str:
    return f"outing: {day}\nstart: {start}\nminutes: {minutes}"


@pytest.mark.parametrize(
    ("outings", "said"),
    [
        ([outing("8:00", 60), outing("9:00", 60)], []),
        ([outing("8:00", 61), outing("9:00", 60)], ["9:00"]),
        ([outing("9:00", 60), outing("8:00", 61)], ["9:00"]),
        ([outing("8:00", 240), outing("8:30", 10), outing("11:00", 5)], ["8:30", "11:00"]),
        ([outing("8:00", 60), outing("8:00", 60)], ["8:00"]),
        ([outing("23:30", 60), outing("0:29", 5, "2026-05-03")], ["0:29"]),
        ([outing("23:30", 60), outing("0:30", 5, "2026-05-03")], []),
        ([outing("8:00", 60), outing("8:00", 60, "2026-05-03")], []),
        ([outing("8:00", 1440, "9999-12-31")], []),
        ([outing("8:00", 60), "outing: 2026-05-02\nminutes: 90"], []),
        ([outing("8:00", 60), "outing: 2026-05-02\nstart: 8:59", "outing: 2026-05-02\nstart: 9:00"], ["8:59"]),
        (["outing: 2026-05-02\nstart: 8:00", outing("8:01", 60)], []),
    ],
    ids=[
        "touching",
        "a minute over",
        "whatever the order of files",
        "a long one over two",
        "the same hour",
        "past midnight",
        "touching past midnight",
        "another day",
        "past the last year",
        "without hours",
        "without minutes, in it and at its end",
        "after one without minutes",
    ],
)
def test_outings_overlap_by_the_minute(outings: list[str], said: list[str], words: Words) -> None:
    """Two outings may touch; one that lasts is held against every one that begins in it."""
    found = words({f"outing-{at}": text for at, text in enumerate(outings)})
    assert found == [f"outings-overlap: {start}" for start in said]


@pytest.mark.parametrize(
    ("counts", "members", "said"),
    [
        ("BCCH: 9", "BCCH 9", []),
        ("BCCH: 8", "BCCH 9", ["BCCH"]),
        ("BCCH: 2 male, 1 female", "BCCH 3", []),
        ("BCCH: 5, 2 male", "BCCH 5", []),
        ("BCCH: about 8", "BCCH 9", []),
        ("BCCH: at least 5", "BCCH 9", []),
        ("BCCH: 1", "BCCH", []),
        ("LESC: 2\n  GRSC/LESC: 5", "LESC 7", []),
        ("LESC: 2\n  GRSC/LESC: 5", "LESC 8", ["LESC"]),
        ("GRSC/LESC: 5", "LESC 3, GRSC 5", []),
        ("duck sp.: 30", "MALL 3", ["MALL"]),
        ("TUTI: 1", "BCCH 9, TUTI 1, WBNU", ["BCCH", "WBNU"]),
        ("BCCH: 11", "BCCH 9, BCCH 4", ["BCCH"]),
        ("BCCH: 13", "BCCH 9, BCCH 4\n  - members: BCCH 9", []),
    ],
)
def test_flocks_are_held_against_the_counts(counts: str, members: str, said: list[str], words: Words) -> None:
    """An either/or bird may be either, an estimate leaves room, a group is no species."""
    text = f"outing: 2026-05-02\ncounts: |\n  {counts}\nflocks:\n  - members: {members}"
    assert words({"a": text}) == [f"flock-not-counted: {code}" for code in said]


def test_flocks_without_counts_stand_alone(words: Words) -> None:
    """Who wrote down no counts has not forgotten a bird in them."""
    assert words({"a": "outing: 2026-05-02\nflocks:\n  - members: BCCH 9, TUTI 4"}) == []


@pytest.mark.parametrize(
    ("numbers", "exceeds"),
    [
        ("3, 2 male, 1 female", False),
        ("3, 2 male, 2 female", True),
        ("4, 1 male", False),
        ("2 male, 2 female", False),
        ("about 3, 2 male, 2 female", False),
        ("at least 3, 2 male, 2 female", True),
        ("0, 1 male", True),
        ("0", False),
    ],
)
def test_plumages_are_some_of_all(numbers: str, exceeds: bool, words: Words) -> None:
    """Their sum may stay below the total, which leaves birds unsexed, and may be above an estimate."""
    found = words({"a": f"outing: 2026-05-02\ncounts: |\n  DOWO: {numbers}"})
    assert found == [f"counts-exceed: {numbers}"] * exceeds


@pytest.mark.parametrize(
    ("here", "there", "missing"),
    [
        ("bill: short", "bill: long", []),
        ("bill: short", "bill: long\n    nape: red", ["nape"]),
        ("tail: black", "tail: black\n    outer tail feathers: white", []),
        ("outer tail feathers: white", "tail: black", []),
        ("bill: short", "bill: long\n    nape: not seen", []),
        ("bill: short", "bill: long\n    nape: does not apply", []),
        ("bill: short\n    nape: not seen", "bill: long\n    nape: red", []),
        ("bill: short", "bill: long\n    nap: red", []),
    ],
)
def test_a_gap_is_what_could_be_compared(here: str, there: str, missing: list[str], make_guide: Make) -> None:
    """Wider parts stand in for narrower ones, and what nobody could see asks for nothing."""
    files: dict[str, str | bytes] = {
        f"entries/{name}.md": f"---\nspecies: {species}\nsimilar: [{other}]\nmarks:\n  all: |\n    {marks}\n---\n"
        for name, species, other, marks in (
            ("downy", "Downy Woodpecker", "HAWO", here),
            ("hairy", "Hairy Woodpecker", "DOWO", there),
        )
    }
    found = check_guide(load_guide(make_guide(files)))
    assert [each.message.partition(": ")[2] for each in found if each.source.path == "entries/downy.md"] == missing


def photo(orientation: int | None, gps: Mapping[int, object], kind: str = "JPEG") -> bytes:
    exif = Image.Exif()
    exif[0x010F] = "A camera"
    if orientation:
        exif[0x0112] = orientation
    exif.get_ifd(0x8825).update(gps)
    out = io.BytesIO()
    Image.new("L", (16, 12), 128).save(out, kind, exif=exif)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
@pytest.mark.parametrize(
    ("orientation", "size"),
    [(None, (16, 12)), (1, (16, 12)), (3, (16, 12)), (4, (16, 12)), (5, (12, 16)), (6, (12, 16)), (8, (12, 16))],
)
def test_a_picture_is_measured_upright(
    orientation: int | None, size: tuple[float, float], kind: str, tmp_path: Path
) -> None:
    """Width and height are those that viewers show, and that spots are read from.

    Outside check: the values of the orientation tag in Exif 2.3, 4.6.4.
    """
    path = tmp_path / "picture"
    path.write_bytes(photo(orientation, {}, kind))
    header = read_header(path)
    assert isinstance(header, Header)
    assert (header.width, header.height) == size
    assert not header.has_position


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_only_a_latitude_is_a_position(kind: str, tmp_path: Path) -> None:
    """Cameras without a receiver write an empty block, which tells nothing."""
    path = tmp_path / "picture"
    path.write_bytes(photo(None, {1: "N", 2: (44.0, 54.0, 0.0), 3: "W", 4: (93.0, 12.0, 0.0)}, kind))
    header = read_header(path)
    assert isinstance(header, Header)
    assert header.has_position
    path.write_bytes(photo(None, {0: b"\x02\x03\x00\x00"}, kind))
    header = read_header(path)
    assert isinstance(header, Header)
    assert not header.has_position


def test_a_header_is_read_without_the_picture(tmp_path: Path) -> None:
    """A picture that is cut off after its header still has a size: checks decode nothing."""
    path = tmp_path / "picture"
    whole = io.BytesIO()
    Image.effect_noise((640, 480), 90).save(whole, "PNG")
    path.write_bytes(whole.getvalue()[:400])
    header = read_header(path)
    assert isinstance(header, Header)
    assert (header.width, header.height) == (640, 480)


@pytest.mark.parametrize("accounts", [2, 251])
def test_look_alikes_are_looked_for_in_a_guide_of_some_size_only(make_guide: Make, accounts: int) -> None:
    """Two birds recorded alike are named, but not in a guide so large that every check would wait for it."""
    marks = "bill nape crown back breast belly rump throat flanks wing tail legs iris supercilium eyeline lores chin"
    alike = "when: May\nsize:\n  length: 15-17 cm\n  source: invented\nmarks:\n  all: |\n" + "\n".join(
        f"    {part}: white" for part in marks.split()
    )
    files = {"song": f"species: Song Sparrow\n{alike}", "lincolns": f"species: Lincoln's Sparrow\n{alike}"}
    files |= {f"other-{number}": f"species: Invented Bird {number}" for number in range(accounts - 2)}
    guide = load_guide(make_guide({f"entries/{name}.md": f"---\n{text}\n---\n" for name, text in files.items()}))
    found = list(pairs.look_alike_unlisted(guide))
    assert len(found) == (1 if accounts == 2 else 0)
