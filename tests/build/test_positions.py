"""Nothing of a position, or of the reason to hold it back, reaches the finished guide beyond what is allowed.

Every byte of every file is searched, and what is packed inside: pictures in the questions to send, and the
metadata of published pictures.
"""

from __future__ import annotations

import base64
import io
import re
import struct
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from PIL import Image

from tertial.build import build_guide

# Exif 2.3, 4.6.3: the tag that leads to position data. Invented degrees, minutes and seconds.
GPS = 0x8825
SECONDS = (41.0137, 57.0291)
BECAUSE = "merlins nest in the crooked spruce"


@dataclass(frozen=True)
class Held:
    """A place and what may be told of it."""

    name: str
    latitude: str
    longitude: str
    shown: str
    """What stands under ``shown as``; '' for nothing."""
    told: tuple[str, str] | None
    """Latitude and longitude that the page may hold."""


# Each has degrees of its own, so that what is found can belong to one place only; the exact one is first.
PLACES = (
    Held("Exact bridge", "41.1357913", "-81.2468024", "exact", ("41.1357913", "-81.2468024")),
    Held("Thousandth bank", "42.3571928", "-82.4681937", "0.001 degree", ("42.3575", "-82.4685")),
    Held("Hundredth pond", "43.5719364", "-83.6819475", "0.01 degree", ("43.575", "-83.685")),
    Held("Tenth wood", "44.7193628", "-84.8194736", "0.1 degree", ("44.75", "-84.85")),
    Held("Whole marsh", "45.9362817", "-85.1947382", "1 degree", ("45.5", "-85.5")),
    Held("Withheld spruces", "46.3628174", "-86.9473826", "withheld", None),
    Held("Unsaid meadow", "47.6281745", "-87.4738261", "", None),
    Held("Mistaken ford", "48.2817456", "-88.7382614", "5 km", None),
)

each_place = pytest.mark.parametrize("place", PLACES, ids=lambda place: place.name)


def slug(place: Held) -> str:
    return place.name.lower().replace(" ", "-")


def place_entry(place: Held) -> str:
    shown = f"shown as: {place.shown}\n" if place.shown else ""
    # A place that is told exactly has nothing to hide; every other one has a reason that must stay at home.
    because = "" if place.shown == "exact" else f"because: {BECAUSE}\n"
    return (
        f"---\nplace: {place.name}\nposition: {place.latitude}, {place.longitude}\n{shown}{because}"
        f"# paced out from {place.latitude}, {place.longitude}\nhabitat: river wood\nphotos:\n"
        f"  - file: phone.jpg\n    alt: {place.name} in spring\n---\nQuiet there.\n\n![Again](phone.jpg)\n"
    )


def outing_entry(at: int, place: Held) -> str:
    return f"---\nouting: 2026-05-{at:02}\nplace: {slug(place)}\ncounts: |\n  BCCH: 4\n---\nWet.\n"


def unknown_entry(at: int, place: Held) -> str:
    return (
        f"---\nunknown: Falcon {at}\nseen: 2026-05-{at:02}\nplace: {slug(place)}\nmarks: |\n  tail: banded\n"
        f"photos:\n  - file: phone.jpg\n    alt: A falcon on a post\n---\nGone at once.\n"
    )


def phone_photo() -> bytes:
    exif = Image.Exif()
    exif[0x010F] = "Some phone"
    exif[GPS] = {1: "N", 2: (44.0, 58.0, SECONDS[0]), 3: "W", 4: (93.0, 15.0, SECONDS[1])}
    # The same position in the block of words that some programs write (XMP, ISO 16684-1).
    words = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><g exif:GPSLatitude="44,58.6836N"/></x:xmpmeta>'
    out = io.BytesIO()
    Image.effect_noise((700, 500), 60).save(out, "JPEG", exif=exif, xmp=words)
    return out.getvalue()


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Every file of a guide with all these places, an outing and an unknown bird at each."""
    folder = tmp_path_factory.mktemp("positions") / "guide"
    texts: dict[str, str] = {
        "guide.yaml": "title: Held back\nauthor: A. Watcher\nbase address: https://example.org/held/\n"
    }
    for at, place in enumerate(PLACES, 1):
        texts[f"entries/place-{at}.md"] = place_entry(place)
        texts[f"entries/outing-{at}.md"] = outing_entry(at, place)
        texts[f"entries/unknown-{at}.md"] = unknown_entry(at, place)
    for path, text in texts.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    (folder / "entries" / "phone.jpg").write_bytes(phone_photo())
    build = build_guide(folder)
    assert build.pages > 3 * len(PLACES), build.report.problems
    found = (path for path in (folder / "build").rglob("*") if path.is_file())
    return {path.relative_to(folder / "build").as_posix(): path.read_bytes() for path in found}


def unpacked(files: dict[str, bytes]) -> dict[str, bytes]:
    """Add what is packed into pages: the pictures of questions."""
    inside = {
        f"{path} picture {at}": base64.b64decode(packed)
        for path, data in files.items()
        for at, packed in enumerate(re.findall(rb"data:image/webp;base64,([A-Za-z0-9+/=]+)", data))
    }
    assert len(inside) >= len(PLACES)
    return {**files, **inside}


def forms_of(degrees: str) -> set[str]:
    """Give every way to write degrees with two decimals or more: cut off, or rounded."""
    value = Decimal(degrees.lstrip("-"))
    steps = [Decimal(1).scaleb(-digits) for digits in range(2, 8)]
    return {str(value.quantize(step, how)) for step in steps for how in (ROUND_DOWN, ROUND_HALF_UP)}


def holding(files: dict[str, bytes], text: str) -> list[str]:
    return [path for path, data in files.items() if text.encode() in data]


@each_place
def test_no_digit_is_told_beyond_those_allowed(place: Held, files: dict[str, bytes]) -> None:
    """A held position is in no byte of the guide, cut off or rounded, but for the cell's own centre."""
    everything = unpacked(files)
    for held, told in zip((place.latitude, place.longitude), place.told or ("", ""), strict=True):
        for form in forms_of(held) - {told.lstrip("-")[:end] for end in range(len(told) + 1)}:
            assert holding(everything, form) == [], form


@pytest.mark.parametrize("place", PLACES[1:], ids=lambda place: place.name)
def test_the_last_digits_are_nowhere(place: Held, files: dict[str, bytes]) -> None:
    """Nor do the digits behind the point stand anywhere by themselves, in whatever notation the degrees were."""
    everything = unpacked(files)
    for held in (place.latitude, place.longitude):
        digits = held.partition(".")[2]
        assert len(digits) == 7
        assert holding(everything, digits[:5]) == []
        assert holding(everything, digits[2:]) == []


@each_place
def test_what_is_allowed_is_told_on_the_page_of_the_place_alone(place: Held, files: dict[str, bytes]) -> None:
    """The centre of the cell, or the position itself where it is shown exactly; or that it is withheld."""
    path = f"places/{slug(place)}.html"
    page = files[path].decode()
    if place.told is None:
        assert "The position is withheld." in page
    else:
        assert f"{place.told[0]}, {place.told[1]} (latitude, longitude)" in page
        assert "withheld" not in page
        assert holding(files, place.told[0]) == [path]
        assert holding(files, place.told[1]) == [path]


def test_the_reason_is_nowhere(files: dict[str, bytes]) -> None:
    """Why a position is held back is itself a clue, so no word of it is published."""
    everything = unpacked(files)
    for clue in (BECAUSE, "crooked s", "spruce in", "merlin", "Merlin", "paced out"):
        assert holding(everything, clue) == []


def test_published_pictures_carry_no_metadata(files: dict[str, bytes]) -> None:
    """Neither Exif nor XMP is in any of them, nor in those inside the questions."""
    pictures = {path: data for path, data in unpacked(files).items() if data[:4] == b"RIFF" and data[8:12] == b"WEBP"}
    assert len(pictures) >= 2 + len(PLACES)
    for path, data in pictures.items():
        assert chunks(data) <= {b"VP8 ", b"VP8X", b"VP8L", b"ALPH"}, path
        with Image.open(io.BytesIO(data)) as picture:
            assert dict(picture.getexif()) == {}
            assert not {"exif", "xmp", "icc_profile"} & picture.info.keys()


def chunks(data: bytes) -> set[bytes]:
    """Give the names of the chunks of a WebP file (RFC 9649)."""
    names, at = set(), 12
    while at < len(data):
        name, length = struct.unpack_from("<4sI", data, at)
        names.add(name)
        at += 8 + length + length % 2
    return names


def test_no_byte_of_the_photo_s_position_is_left(files: dict[str, bytes]) -> None:
    """The numbers of its Exif, in either order of bytes, and its XMP are in no file."""
    original = phone_photo()
    with Image.open(io.BytesIO(original)) as picture:
        seconds = [picture.getexif().get_ifd(GPS)[key][2] for key in (2, 4)]
    packed = [struct.pack(order, value.numerator, value.denominator) for value in seconds for order in ("<II", ">II")]
    assert sum(number in original for number in packed) == 2
    assert b"GPSLatitude" in original
    everything = unpacked(files)
    for clue in (*packed, b"GPSLatitude", b"58.6836", b"Some phone", b"Exif\0\0"):
        assert [path for path, data in everything.items() if clue in data] == []


def test_nothing_of_the_authors_folder_is_copied(files: dict[str, bytes]) -> None:
    """Entries, settings and original pictures stay at home."""
    kinds = {Path(path).suffix for path in files}
    assert not kinds & {".md", ".yaml", ".jpeg"}
    assert phone_photo() not in files.values()
    assert phone_photo() not in files.values()
