"""Pages to look things up in: the parts of a bird, the words of marks, and how the guide works."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial import __version__
from tertial.marks.measures import APART_IN_FIELD, Basis
from tertial.marks.verdicts import Threshold, Verdict, load_thresholds
from tertial.names.alpha import RULES
from tertial.pages.facts import recorded_parts
from tertial.pages.site import METHOD, PARTS, Link, Page, Site, account_path, part_id
from tertial.pages.words import constancy, words_page
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterator


class PartView(NamedTuple):
    """One part of a bird."""

    word: str
    id: str
    other_words: tuple[str, ...]
    meaning: str
    view: str
    """What an observer needs in order to judge it; '' where any view will do."""
    recorded: tuple[Link, ...]
    """Accounts that say something of it."""


class PartsView(NamedTuple):
    """Every part, by region."""

    regions: tuple[tuple[str, str, tuple[PartView, ...]], ...]
    """Region, what belongs to it, and its parts."""


class MethodView(NamedTuple):
    """How codes and inheritance work in this guide."""

    scheme: str
    rules: tuple[tuple[str, str], ...]
    """Each rule for codes: the letters it takes, and the rule in words."""
    has_list_birds: bool
    """Some account rests on the shipped name list, whose credit is then due."""
    version: str
    constancy: tuple[tuple[str, bool, str, tuple[str, ...]], ...]
    """Words of constancy, as the page of words has them."""
    verdicts: tuple[tuple[str, str, str, str], ...]
    """Each verdict's id and word, the least separation for it or '', and what it means."""
    bases: tuple[str, ...]
    """Where the spread of a measure may come from, the best first."""
    apart_in_field: str
    """Ratio of means from which a size can be seen."""


def reference_pages(site: Site) -> Iterator[Page]:
    """Give the pages of parts, of words, and of method and cautions."""
    description = site.say("Every part that the accounts name: where it is, what else it is called, how it is seen.")
    yield Page(PARTS, "parts.html", site.say("Parts of a bird"), description, partial(_parts, site))
    yield words_page(site)
    description = site.say("How this guide compares birds, where its codes come from, and how to watch without harm.")
    yield Page(METHOD, "method.html", site.say("Method and cautions"), description, partial(_method, site))


def _method(site: Site) -> MethodView:
    rules = tuple(
        ("+".join(str(count) for count in rule.letters), site.say(rule.sentence)) for rule in RULES if rule.letters
    )
    return MethodView(
        site.guide.scheme,
        rules,
        any(species.bird for species in site.guide.species),
        __version__,
        constancy(site),
        tuple(
            (verdict_id(row.verdict), site.say(row.verdict), _least(site, row), site.say(row.meaning))
            for row in load_thresholds()
        ),
        tuple(site.say(basis) for basis in Basis),
        site.wording.numbers(f"{APART_IN_FIELD:g}"),
    )


def verdict_id(verdict: Verdict) -> str:
    """The id of a verdict on the page of method."""
    return f"verdict-{slug_of(verdict)}"


def _least(site: Site, row: Threshold) -> str:
    if row.least is None:
        return ""
    if not row.least:
        return site.say("above 0")
    return site.say("%(least)s or more", least=site.wording.numbers(f"{row.least:g}"))


def _parts(site: Site) -> PartsView:
    recorded: dict[str, dict[str, Link]] = {}
    for species in site.guide.species:
        link = Link(species.code, account_path(species))
        for part in species.fact(recorded_parts):
            recorded.setdefault(part, {})[species.code] = link
    table, wording = site.guide.parts, site.wording
    return PartsView(
        tuple(
            (
                site.say(region.word),
                site.say(region.meaning),
                tuple(
                    PartView(
                        wording.part(part.word),
                        part_id(part.word),
                        part.words if wording.parts else part.words[1:],
                        wording.meaning(part.word) or part.meaning,
                        "" if part.view == table.views[0] else site.say(part.view.meaning),
                        tuple(recorded.get(part.word, {}).values()),
                    )
                    for part in table
                    if part.region == region
                ),
            )
            for region in table.regions
        )
    )
