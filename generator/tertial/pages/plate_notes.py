"""What is to be known of a plate: how sure its scale is, and the same as the plate in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.pages.naming import measure_named, measure_words, named

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.entries.pictures import Picture
    from tertial.guide import Species
    from tertial.pages.site import Site
    from tertial.scales import DrawnScale
    from tertial.sketches.plate import ScalePlate
    from tertial.sketches.sizes import PublishedPicture

# Our own choices: from these on, a range or a posture is worth a remark.
_WIDE_RANGE: Final = 1.3
OTHER_POSTURE: Final = 35.0
"""Degrees by which a bird slopes otherwise than most from which on its size is less sure."""


class Chosen(NamedTuple):
    """A sketch that is to be shown beside others."""

    species: Species
    picture: Picture
    published: PublishedPicture


def measured(site: Site, scale: DrawnScale) -> str:
    """Name the measure that a scale rests on, and how much it is."""
    return f"{measure_named(site, scale.measure)} {measure_words(site, scale.text)}"


def notes(site: Site, every: Sequence[tuple[Chosen, DrawnScale]], plate: ScalePlate) -> Iterator[str]:
    """Tell what is to be known of a scale, a sentence each."""
    if any(scale.by_posture for _, scale in every):
        yield site.say("Approximate: the length of a bird is taken with it laid flat, and these sit, stand or swim.")
    odd = [each.species.code for each, scale in every if _is_odd(scale, every)]
    if odd:
        birds = ", ".join(dict.fromkeys(odd))
        yield site.say("In another posture than most, and so less sure in size: %(birds)s.", birds=birds)
    wide = {
        site.say(
            "%(bird)s %(measure)s, drawn at %(size)s",
            bird=each.species.code,
            measure=measure_words(site, scale.text),
            size=site.wording.amount(f"{scale.cm:g}", "cm"),
        )
        for each, scale in every
        if scale.spread >= _WIDE_RANGE
    }
    if wide:
        yield site.say(
            "Some vary much in %(measure)s: %(birds)s.",
            measure=measure_named(site, every[0][1].measure),
            birds=f"{site.say(';')} ".join(sorted(wide)),
        )
    if plate.held_back is not None:
        species = every[plate.held_back][0].species
        yield site.say(
            "Larger it cannot be shown, because the sketch of %(bird)s has no more pixels.", bird=species.code
        )


def _is_odd(scale: DrawnScale, every: Sequence[tuple[Chosen, DrawnScale]]) -> bool:
    leans = sorted(each.lean for _, each in every if each.lean is not None)
    usual = leans[(len(leans) - 1) // 2] if leans else 0.0
    return scale.lean is not None and abs(scale.lean - usual) > OTHER_POSTURE


def words(site: Site, every: Sequence[tuple[Chosen, DrawnScale]]) -> str:
    """Say how large each bird is, the smallest first, and how the smallest compares with the largest."""
    by_name = {named(site, each.species): scale for each, scale in every}
    ordered = sorted(by_name.items(), key=lambda item: (item[1].cm, item[0]))
    told = f"{site.say(';')} ".join(f"{name}, {measured(site, scale)}" for name, scale in ordered)
    (small, low), (large, high) = ordered[0], ordered[-1]
    if small == large or low.measure != high.measure:
        return site.say("At one scale: %(birds)s.", birds=told)
    ratio = high.cm / low.cm
    compared = site.say("All are about as long.")
    if ratio >= 1.05:
        times = site.wording.numbers(f"{ratio:.2g}")
        compared = site.say(
            "%(large)s is drawn %(times)s times as long as %(small)s.", large=large, times=times, small=small
        )
    return f"{site.say('At one scale, from the smallest: %(birds)s.', birds=told)} {compared}"
