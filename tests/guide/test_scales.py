"""How large a sketch is drawn, told from an account: which measure, in which unit, of which plumage."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tertial.loading import load_guide
from tertial.marks.spans import span_between
from tertial.scales import plumage_of, scale_of
from tertial.sketches.affine import Affine
from tertial.sketches.developing import AS_IT_IS
from tertial.sketches.sizes import PublishedPicture, Rendition

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tertial.scales import DrawnScale

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

ACCOUNT = """---
species: Hairy Woodpecker
size: {{length: {length}}}
measures:
  all: |
    bill: mean 32 n 11 mm
    wing: 5 in
    height: 20 cm
    mass: 60 g
  male: |
    bill: 4 cm
sketches:
  - file: hairy.png
    shows: {shows}
    {scale}
---
"""


def published(zoom: float = 1.0) -> PublishedPicture:
    """Give a picture of which the largest size is so many times as large as the original."""
    size = Rendition("a.webp", round(1000 * zoom), round(1000 * zoom))
    return PublishedPicture((size,), size, size, 1000, 1000, Affine(a=zoom, e=zoom), AS_IT_IS)


@pytest.fixture
def told(make_guide: MakeGuide) -> Callable[..., DrawnScale | None]:
    """Tell the scale of the one sketch of an account."""

    def tell(scale: str, length: str = "20 cm", shows: str = "female", zoom: float = 1.0) -> DrawnScale | None:
        line = f"scale: {scale}" if scale else ""
        text = ACCOUNT.format(scale=line, length=length, shows=shows)
        (species,) = load_guide(make_guide({"entries/hairy.md": text})).species
        return scale_of(species, species.entry.sketches[0], published(zoom))

    return tell


@pytest.mark.parametrize(
    ("spots", "cm"),
    [
        ("bill tip 100,100 to tail tip 400,500", 20),
        ("tail tip 400,500 to bill tip 100,100", 20),
        ("Bill tip 100,100 to bill base 400,500", 3.2),
        ("wing bend 100,100 to wing tip 400,500", 12.7),
        ("crown 100,100 to feet 400,500", 20),
        ("bill tip 10% 10% to tail tip 40% 50%", 20),
    ],
)
def test_a_scale_is_told_by_the_measure_between_its_spots(
    told: Callable[..., DrawnScale | None], spots: str, cm: float
) -> None:
    """500 pixels by the measure, in millimetres, centimetres or inches, give the pixels of one centimetre."""
    scale = told(spots)
    assert scale is not None
    assert scale.per_cm == pytest.approx(500 / cm, rel=0.01)
    assert scale.cm == pytest.approx(cm, rel=0.01)


@pytest.mark.parametrize(
    ("length", "cm", "spread"),
    [
        ("18-26 cm", 22, 26 / 18),
        ("about 8 in", 20.32, 1),
        ("0.2 m", 20, 1),
        ("mean 210 sd 8 n 9 mm", 21, 1),
        ("7-9 in", 20.32, 9 / 7),
    ],
)
def test_the_middle_of_a_range_is_taken_and_its_width_told(
    told: Callable[..., DrawnScale | None], length: str, cm: float, spread: float
) -> None:
    """A range is drawn at its middle; a mean stands for itself; the author's words are kept."""
    scale = told("bill tip 100,100 to tail tip 400,500", length=length)
    assert scale is not None
    assert scale.cm == pytest.approx(cm)
    assert scale.spread == pytest.approx(spread)
    assert scale.per_cm == pytest.approx(500 / cm, rel=0.01)
    assert scale.text == length


@pytest.mark.parametrize(("shows", "cm"), [("male", 4), ("juvenile male", 3.2), ("female", 3.2), ("all", 3.2)])
def test_the_measure_of_the_plumage_shown_comes_first(
    told: Callable[..., DrawnScale | None], shows: str, cm: float
) -> None:
    """A male is scaled by the male's bill; a young male inherits nothing from him and is scaled by all birds'."""
    scale = told("bill tip 100,100 to bill base 400,500", shows=shows)
    assert scale is not None
    assert scale.cm == pytest.approx(cm)


def test_the_scale_is_that_of_the_published_picture(told: Callable[..., DrawnScale | None]) -> None:
    """Of a picture published at half its size a centimetre has half the pixels."""
    scale = told("bill tip 100,100 to tail tip 400,500", zoom=0.5)
    assert scale is not None
    assert scale.per_cm == pytest.approx(12.5)


@pytest.mark.parametrize(
    ("spots", "loose"), [("bill tip 1,1 to tail tip 9,9", True), ("bill tip 1,1 to bill base 9,9", False)]
)
def test_only_what_changes_with_the_posture_is_approximate(
    told: Callable[..., DrawnScale | None], spots: str, *, loose: bool
) -> None:
    """A length is that of a bird laid flat; a bill is as long in every posture."""
    scale = told(spots)
    assert scale is not None
    assert scale.by_posture is loose
    assert (scale.lean is not None) is loose


@pytest.mark.parametrize(
    "spots", ["", "eye 100,100 to knee 400,500", "tail base 1,1 to tail tip 9,9", "bill tip 5,5 to tail tip 5,5"]
)
def test_what_cannot_be_scaled_has_no_scale(told: Callable[..., DrawnScale | None], spots: str) -> None:
    """No spots, spots with no measure between them, a measure not written, or one spot twice give nothing."""
    assert told(spots) is None


def test_spots_are_named_in_any_spelling_and_order() -> None:
    """Spaces, hyphens, case and order make no difference; unknown names lead nowhere."""
    spans = {span_between(*pair) for pair in (("bill tip", "tail tip"), ("Tail-tip", "billtip"))}
    assert [span.measure for span in spans if span] == ["length"]
    assert span_between("bill tip", "elbow") is None


def test_a_sketch_that_says_nothing_shows_all(make_guide: MakeGuide) -> None:
    """Without readable words for the plumage a sketch stands for every bird."""
    text = ACCOUNT.format(scale="", length="20 cm", shows="spotted-ish")
    (species,) = load_guide(make_guide({"entries/hairy.md": text})).species
    assert plumage_of(species.entry.sketches[0]).text == "all"
