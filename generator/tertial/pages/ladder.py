"""The page of sizes: every bird with a length on one scale, and the birds that the guide measures by among them."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.size import ladder
from tertial.pages.facts import body_length, drawn
from tertial.pages.naming import listed_name, measure_words, named
from tertial.pages.pictures import FINE, fine_address
from tertial.pages.plates import placeable, shown_sketches
from tertial.pages.site import LADDER, Link, Page, Site, account_path
from tertial.scales import scale_of
from tertial.sketches.ladder import Measured, size_ladder

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tertial.guide import Species
    from tertial.marks.size import Yardstick
    from tertial.pages.plate_notes import Chosen
    from tertial.sketches.ladder import Rung, SizeLadder
    from tertial.sketches.plate import Sketch


class RungView(NamedTuple):
    """A bird on the scale."""

    code: Link
    """Its code, and the way to its account where it has one."""

    name: str
    length: str
    """Its length as written."""

    yardstick: str
    """What it is called as a bird to measure by, or ''."""

    rung: Rung
    picture: str
    """Address of its sketch, or '' without one that has a scale."""

    width: int
    """Width of the published picture in pixels."""

    height: int


class UnmeasuredView(NamedTuple):
    """A bird of which no length is written."""

    code: Link
    name: str


class LadderView(NamedTuple):
    """All sizes."""

    ladder: SizeLadder | None
    """None where nothing has a length."""

    rungs: tuple[RungView, ...]
    """From the smallest bird to the largest."""

    approximate: bool
    """Some sketch rests on a length that changes with the posture."""

    unmeasured: tuple[UnmeasuredView, ...]


class _Bird(NamedTuple):
    code: str
    name: str
    text: str
    measured: Measured
    sketch: Chosen | None


def ladder_pages(site: Site) -> Iterator[Page]:
    """Give the page of sizes, if the guide has a species."""
    if site.guide.species:
        description = site.say("Every bird on one scale, from the smallest to the largest.")
        yield Page(LADDER, "ladder.html", site.say("Size"), description, partial(_ladder_view, site))


def _ladder_view(site: Site) -> LadderView:
    yardsticks = {each.code: each for each in ladder(code.value for code in site.guide.settings.yardsticks)}
    own = {species.code: _bird(site, species) for species in site.guide.species}
    birds = [bird for bird in own.values() if bird is not None]
    birds += [_well_known(site, each) for code, each in yardsticks.items() if own.get(code) is None]
    birds.sort(key=lambda bird: (bird.measured.middle, bird.code))
    made = size_ladder([bird.measured for bird in birds]) if birds else None
    rungs = tuple(
        _rung(site, bird, rung, yardsticks) for bird, rung in zip(birds, made.rungs if made else (), strict=True)
    )
    unmeasured = tuple(
        UnmeasuredView(Link(species.code, account_path(species)), named(site, species))
        for species in site.guide.species
        if own[species.code] is None and species.code not in yardsticks
    )
    return LadderView(made, rungs, any(bird.sketch for bird in birds), unmeasured)


def _bird(site: Site, species: Species) -> _Bird | None:
    """Give a species with its length; None where none is written."""
    written = species.fact(body_length)
    if not written:
        return None
    text, low, high = written
    chosen, sketch = species.sheet.silently(partial(_sketch, site, species)) if species.fact(drawn) else (None, None)
    return _Bird(species.code, named(site, species), measure_words(site, text), Measured(low, high, sketch), chosen)


def _sketch(site: Site, species: Species) -> tuple[Chosen, Sketch] | tuple[None, None]:
    found = ((each, scale) for each in shown_sketches(site, species) if (scale := scale_of(*each)) is not None)
    return next(((chosen, placeable(site, chosen, scale)) for chosen, scale in found), (None, None))


def _well_known(site: Site, yardstick: Yardstick) -> _Bird:
    name = listed_name(site, yardstick.code) or site.say(yardstick.word)
    length = yardstick.length
    return _Bird(
        yardstick.code,
        name,
        site.say("about %(amount)s", amount=site.wording.amount(f"{length:g}", "cm")),
        Measured(length, length),
        None,
    )


def _rung(site: Site, bird: _Bird, rung: Rung, yardsticks: Mapping[str, Yardstick]) -> RungView:
    yardstick = yardsticks.get(bird.code)
    published = bird.sketch.published if bird.sketch else None
    return RungView(
        site.code(bird.code),
        bird.name,
        bird.text,
        site.say(yardstick.word) if yardstick else "",
        rung,
        fine_address(published, FINE * rung.window.width) if published and rung.window else "",
        published.largest.width if published else 0,
        published.largest.height if published else 0,
    )
