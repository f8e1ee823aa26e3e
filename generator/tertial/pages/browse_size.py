"""The question of size on the sorting-out sheet: beside which known bird a bird was judged, and how large it looked.

Each bird that the guide measures by has a line to tick. What an account's size says to it is worked out here, by the
rungs of the ladder, as letters for the script to look up.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.marks.size import Beside, fit_beside, is_loose, ladder, nearest, rung_named
from tertial.pages.facts import sized
from tertial.pages.naming import measure_words
from tertial.pages.tongues import language_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.guide import Species
    from tertial.marks.fitting import Fit
    from tertial.marks.size import Yardstick
    from tertial.pages.browse_shelf import Json, Shelf
    from tertial.pages.site import Site


class SizeLine(NamedTuple):
    """A known bird to judge by."""

    key: int
    """Its number on the sheet, behind those of the parts."""

    named: str
    """What people call it."""


class SizeQuestion(NamedTuple):
    """The known birds, and what may be ticked beside each."""

    lines: tuple[SizeLine, ...]
    """From the smallest bird to the largest."""

    states: tuple[str, ...]
    """How large the bird looked."""


def size_question(site: Site, shelf: Shelf) -> SizeQuestion | None:
    """Give the question; None where no account says how large its bird is."""
    if not any(sizes_of(site, shelf)):
        return None
    lines = (SizeLine(key, site.say(rung.word)) for key, rung in enumerate(rungs_of(site), len(shelf.keys)))
    return SizeQuestion(tuple(lines), tuple(site.say(state) for state in Beside))


def size_fits(site: Site, sign: Callable[[Fit], str]) -> list[list[str]]:
    """Give for each known bird and state a letter for every rung that an account may be on."""
    rungs = range(len(rungs_of(site)))
    return [["".join(sign(fit_beside(state, rung, known)) for rung in rungs) for state in Beside] for known in rungs]


def sizes_of(site: Site, shelf: Shelf) -> Iterator[Json]:
    """Give for each bird of the shelf its rung, the words that say so, and their language, if not that of the page;
    None where its size is not written."""
    rungs = rungs_of(site)
    for species in shelf.species:
        rung, words = _sized(site, rungs, species)
        yield None if rung is None else [rung, words, *filter(None, [language_of(words)])]


def rungs_of(site: Site) -> tuple[Yardstick, ...]:
    """Give the birds that the guide measures by, from the smallest to the largest."""
    return ladder(code.value for code in site.guide.settings.yardsticks)


def _sized(site: Site, rungs: tuple[Yardstick, ...], species: Species) -> tuple[int | None, str]:
    """Figures decide before words, which may say only on which side of a rung a bird lies."""
    words, mass, length, text = species.fact(sized)
    rung = nearest(rungs, mass, length)
    if rung is not None:
        return rung, measure_words(site, text)
    return (None, "") if is_loose(words) else (rung_named(rungs, words), site.theirs(words))
