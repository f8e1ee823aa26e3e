"""Pages to look things up in: the parts of a bird, and how the guide works."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from tertial import __version__
from tertial.names.alpha import RULES
from tertial.pages.facts import recorded_parts
from tertial.pages.site import METHOD, PARTS, Link, Page, Site, account_path, part_id

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True, slots=True)
class PartView:
    """One part of a bird."""

    word: str
    id: str
    other_words: tuple[str, ...]
    meaning: str
    view: str
    """What an observer needs in order to judge it; '' where any view will do."""
    recorded: tuple[Link, ...]
    """Accounts that say something of it."""


@dataclass(frozen=True, slots=True)
class PartsView:
    """Every part, by region."""

    regions: tuple[tuple[str, str, tuple[PartView, ...]], ...]
    """Region, what belongs to it, and its parts."""


@dataclass(frozen=True, slots=True)
class MethodView:
    """How codes and inheritance work in this guide."""

    scheme: str
    rules: tuple[tuple[str, str], ...]
    """Each rule for codes: the letters it takes, and the rule in words."""
    has_list_birds: bool
    """Some account rests on the shipped name list, whose credit is then due."""
    version: str


def reference_pages(site: Site) -> Iterator[Page]:
    """Give the page of parts and the page of method and cautions."""
    description = "Every part that the accounts name: where it is, what else it is called, how it is seen."
    yield Page(PARTS, "parts.html", "Parts of a bird", description, partial(_parts, site))
    description = "How this guide compares birds, where its codes come from, and how to watch without harm."
    yield Page(METHOD, "method.html", "Method and cautions", description, partial(_method, site))


def _method(site: Site) -> MethodView:
    rules = tuple(("+".join(str(count) for count in rule.letters), rule.sentence) for rule in RULES if rule.letters)
    return MethodView(site.guide.scheme, rules, any(species.bird for species in site.guide.species), __version__)


def _parts(site: Site) -> PartsView:
    recorded: dict[str, dict[str, Link]] = {}
    for species in site.guide.species:
        link = Link(species.code, account_path(species))
        for part in species.fact(recorded_parts):
            recorded.setdefault(part, {})[species.code] = link
    table = site.guide.parts
    return PartsView(
        tuple(
            (
                region.word,
                region.meaning,
                tuple(
                    PartView(
                        part.word,
                        part_id(part.word),
                        part.words[1:],
                        part.meaning,
                        "" if part.view == table.views[0] else part.view.meaning,
                        tuple(recorded.get(part.word, {}).values()),
                    )
                    for part in table
                    if part.region == region
                ),
            )
            for region in table.regions
        )
    )
