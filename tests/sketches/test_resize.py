"""A picture as the author keeps it, turned upright, made smaller and brought to the colours of the web."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PIL import Image, ImageCms

from tertial.sketches.resize import Encoding, Made, resize
from tertial.sketches.sizes import MOST_PIXELS

if TYPE_CHECKING:
    from collections.abc import Callable

    Encode = Callable[..., bytes]
    Publish = Callable[..., list[Image.Image]]

RED, BLUE, GREY = (255, 0, 0), (0, 0, 255), (128, 128, 128)
OPPOSITE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}

# CIPA DC-008 (Exif 2.32), tag 274: for each value the side of the scene that the first row of the
# file shows, then the side that its first column shows.
ORIENTATION = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


def colour(picture: Image.Image, *sides: str) -> str:
    """Name the colour in the middle of the quarter between two sides."""
    x = picture.width // 4 if "left" in sides else picture.width * 3 // 4
    y = picture.height // 4 if "top" in sides else picture.height * 3 // 4
    red, green, blue = picture.convert("RGB").getpixel((x, y))  # type: ignore[misc]
    return "red" if red > 200 > green else "blue" if blue > 200 > green else "grey"


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
@pytest.mark.parametrize("flag", ORIENTATION)
def test_pictures_stand_upright(encode: Encode, publish: Publish, kind: str, flag: int) -> None:
    """Whichever way the camera was held, what was up is up, and left is left."""
    stored = Image.new("RGB", (160, 80), GREY)
    stored.paste(RED, (0, 0, 80, 40))
    stored.paste(BLUE, (80, 0, 160, 40))
    exif = Image.Exif()
    exif[0x0112] = flag
    (picture,) = publish(encode(stored, kind, exif=exif))
    first_row, first_column = ORIENTATION[flag]
    assert picture.size == ((80, 160) if flag > 4 else (160, 80))
    assert colour(picture, first_row, first_column) == "red"
    assert colour(picture, first_row, OPPOSITE[first_column]) == "blue"
    assert colour(picture, OPPOSITE[first_row], first_column) == "grey"
    assert colour(picture, OPPOSITE[first_row], OPPOSITE[first_column]) == "grey"


@pytest.mark.parametrize("flag", [0, 9, 65535])
def test_an_orientation_that_is_none_is_ignored(encode: Encode, publish: Publish, flag: int) -> None:
    """A number outside the standard leaves the picture as it is stored."""
    exif = Image.Exif()
    exif[0x0112] = flag
    (picture,) = publish(encode(Image.new("RGB", (16, 8), RED), "JPEG", exif=exif))
    assert picture.size == (16, 8)


@pytest.mark.parametrize(
    ("size", "widths", "expected"),
    [
        ((2000, 1000), (480, 960, 1600), [(480, 240), (960, 480), (1600, 800)]),
        ((1600, 900), (480, 960, 1600), [(480, 270), (960, 540), (1600, 900)]),
        ((1000, 1500), (480, 960, 1600), [(480, 720), (960, 1440), (1000, 1500)]),
        ((500, 300), (480, 960, 1600), [(480, 288), (500, 300)]),
        ((480, 480), (480, 960, 1600), [(480, 480)]),
        ((60, 40), (480, 960, 1600), [(60, 40)]),
        ((1, 1), (480, 960, 1600), [(1, 1)]),
        ((3000, 1), (480, 960, 1600), [(480, 1), (960, 1), (1600, 1)]),
        # WebP keeps a side in 14 bits, which is at most 16383 pixels: RFC 6386, section 9.1.
        ((100, 20000), (60, 480, 960), [(60, 12000), (81, 16200)]),
        ((1, 20000), (480, 960, 1600), [(1, 16383)]),
    ],
)
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_no_size_is_larger_than_the_picture(
    encode: Encode,
    publish: Publish,
    kind: str,
    size: tuple[int, int],
    widths: tuple[int, ...],
    expected: list[tuple[int, int]],
) -> None:
    """Each width that the picture has is made, in its own proportions, and nothing is enlarged."""
    pictures = publish(encode(Image.new("L", size, 90), kind), *widths)
    assert [picture.size for picture in pictures] == expected


@pytest.mark.parametrize(
    ("size", "expected"),
    [((2000, 1000), (240, 120)), ((300, 500), (240, 400)), ((240, 10), (240, 10)), ((60, 40), (60, 40))],
)
def test_what_stands_in_lists_is_half_of_the_narrowest_size(
    encode: Encode, size: tuple[int, int], expected: tuple[int, int]
) -> None:
    """It is never enlarged, and where the picture is no wider it is the picture."""
    made = resize(encode(Image.new("L", size, 90), "PNG"), (480, 960), MOST_PIXELS, Encoding(90, 0))
    assert isinstance(made, Made)
    assert (made.thumb.width, made.thumb.height) == expected
    assert (made.thumb in made.sizes) == (size[0] <= 240)


def swapped_profile() -> bytes:
    """A profile of its own, in which the red of sRGB and its green have changed places (ICC.1, tags rXYZ and gXYZ)."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return profile.replace(b"rXYZ", b"    ", 1).replace(b"gXYZ", b"rXYZ", 1).replace(b"    ", b"gXYZ", 1)


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "P"])
@pytest.mark.parametrize("kind", ["PNG", "TIFF", "WEBP", "JPEG"])
def test_colours_are_brought_to_those_of_the_web(encode: Encode, publish: Publish, mode: str, kind: str) -> None:
    """A picture in other colours than sRGB shows what its author saw, in every mode that its kind has."""
    fitting = {"PNG": mode, "TIFF": mode, "WEBP": "RGBA" if mode == "RGBA" else "RGB", "JPEG": "RGB"}[kind]
    red = Image.new("RGB", (8, 8), RED).convert(fitting)
    (plain,) = publish(encode(red, kind))
    (picture,) = publish(encode(red, kind, icc_profile=swapped_profile()))
    assert near(plain, (4, 4)) == (255, 0, 0)
    assert near(picture, (4, 4)) == (0, 255, 0)


@pytest.mark.parametrize("profile", [b"no profile", swapped_profile()[:200], b""])
def test_a_broken_profile_is_passed_over(encode: Encode, publish: Publish, profile: bytes) -> None:
    """Colours stay as they are where the profile says nothing that can be understood."""
    (picture,) = publish(encode(Image.new("RGB", (8, 8), RED), "PNG", icc_profile=profile))
    assert near(picture, (4, 4)) == (255, 0, 0)


def near(picture: Image.Image, spot: tuple[int, int]) -> tuple[int, ...]:
    """Give the colour of a spot, each part rounded to the nearest of 0, 64, 128, 191 and 255."""
    parts = picture.convert("RGB").getpixel(spot)
    assert isinstance(parts, tuple)
    return tuple(round(round(part / 255 * 4) * 255 / 4) for part in parts)


@pytest.mark.parametrize(
    ("mode", "value", "kind", "expected"),
    [
        ("1", 1, "PNG", (255, 255, 255)),
        ("L", 128, "PNG", (128, 128, 128)),
        ("LA", (128, 255), "PNG", (128, 128, 128)),
        ("RGB", (0, 128, 255), "BMP", (0, 128, 255)),
        ("RGBA", (0, 128, 255, 255), "PNG", (0, 128, 255)),
        # Ink in per cent of full: no cyan, full magenta and yellow, no black is red in any naive scheme.
        ("CMYK", (0, 255, 255, 0), "JPEG", (255, 0, 0)),
        ("CMYK", (0, 255, 255, 0), "TIFF", (255, 0, 0)),
        ("CMYK", (0, 0, 0, 255), "JPEG", (0, 0, 0)),
        # ISO/IEC 15948 (PNG), 13.12: a sample of 16 bits is 65535 for white; 32896 is as near to the middle as 128.
        ("I;16", 0, "PNG", (0, 0, 0)),
        ("I;16", 32896, "PNG", (128, 128, 128)),
        ("I;16", 65535, "PNG", (255, 255, 255)),
        ("I;16", 32896, "TIFF", (128, 128, 128)),
    ],
)
def test_every_mode_comes_out_in_its_colour(
    encode: Encode, publish: Publish, mode: str, value: int | tuple[int, ...], kind: str, expected: tuple[int, ...]
) -> None:
    """Greys of any depth, inks and palettes look on the page as they did on the author's screen."""
    (picture,) = publish(encode(Image.new(mode, (8, 8), value), kind))
    assert near(picture, (4, 4)) == expected


def test_a_grey_with_more_than_eight_bits_keeps_its_steps(encode: Encode, publish: Publish) -> None:
    """A scan in fine greys is not clipped to white, nor is a dark one stretched to be bright."""
    steps = Image.new("I;16", (4, 1))
    for x, value in enumerate((0, 16448, 32896, 49344)):
        steps.putpixel((x, 0), value)
    large = encode(steps.resize((64, 16), Image.Resampling.NEAREST), "PNG")
    (picture,) = publish(large)
    assert [near(picture, (8 + 16 * x, 8))[0] for x in range(4)] == [0, 64, 128, 191]


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P"])
def test_what_is_clear_stays_clear(encode: Encode, publish: Publish, mode: str) -> None:
    """A sketch without paper lies on the page, in light and in dark."""
    sketch = Image.new("RGBA", (80, 80), (0, 0, 0, 0))
    sketch.paste((0, 0, 0, 255), (0, 0, 40, 80))
    stored = sketch.quantize(8, Image.Quantize.FASTOCTREE) if mode == "P" else sketch.convert(mode)
    (picture,) = publish(encode(stored, "PNG"))
    assert picture.mode == "RGBA"
    assert [picture.getpixel((x, 40))[3] for x in (20, 60)] == [255, 0]  # type: ignore[index]


@pytest.mark.parametrize("profile", [None, swapped_profile()])
def test_a_colour_that_stands_for_clear_is_clear(encode: Encode, publish: Publish, profile: bytes | None) -> None:
    """A PNG may name one colour that is not to be seen (ISO/IEC 15948, 11.3.2.1); profiles do not undo that."""
    (picture,) = publish(encode(Image.new("RGB", (8, 8), RED), "PNG", transparency=RED, icc_profile=profile))
    assert picture.getpixel((4, 4))[3] == 0  # type: ignore[index]


@pytest.mark.parametrize("kind", ["GIF", "WEBP", "PNG", "TIFF", "MPO"])
def test_of_several_frames_the_first_is_shown(encode: Encode, publish: Publish, kind: str) -> None:
    """A moving picture, a burst or a file of many pages gives its first one, standing still."""
    frames = [Image.new("RGB", (8, 8), shade) for shade in (RED, BLUE)]
    (picture,) = publish(encode(frames[0], kind, save_all=True, append_images=frames[1:]))
    assert near(picture, (4, 4)) == (255, 0, 0)
    assert getattr(picture, "n_frames", 1) == 1


def test_the_same_picture_gives_the_same_bytes(encode: Encode) -> None:
    """Publishing again changes no byte."""
    data = encode(Image.radial_gradient("L").convert("RGB"), "PNG")
    once, again = (resize(data, (100, 200), MOST_PIXELS, Encoding(84, 4)) for _ in range(2))
    assert once == again
    assert isinstance(once, Made)
    assert all(size.data for size in (*once.sizes, once.fallback))
