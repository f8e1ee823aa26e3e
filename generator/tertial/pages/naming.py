"""What birds, plumages, parts, measures and months are called in the language of the guide.

Words that an entry is keyed by (parts, plumages, measures, months) belong to the guide and are told in its
language; the author's phrases stay as they are. In English every word stays as its author wrote it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.entries.convert import to_quantity
from tertial.entries.values import Quantity
from tertial.guide import Outing, Species
from tertial.links import parents
from tertial.marks.measures import MEASURES
from tertial.marks.plumages import ALL, read_plumage
from tertial.pages.site import Link

if TYPE_CHECKING:
    from tertial.entries.values import Months, Written
    from tertial.grouping import Group
    from tertial.guide import Account, Pair
    from tertial.marks.plumages import Plumage
    from tertial.names.birds import Bird
    from tertial.pages.site import Site

_FRENCH: Final = "fr"
"""The language of the list's other names."""


def named(site: Site, species: Species) -> str:
    """Give the name of a species in the language of the guide, where the list has one; else the author's."""
    return _listed(site, species.bird) or species.name


def _listed(site: Site, bird: Bird | None) -> str:
    return bird.french if bird and site.wording.rules.get("bird names") == "french" else ""


def other_name(site: Site, species: Species) -> tuple[str, str]:
    """Give the name that stands beside the heading, and its language; '' for none."""
    bird = species.bird
    if bird is None:
        return "", ""
    if not _listed(site, bird):
        return bird.french, _FRENCH
    return bird.listed_name(site.guide.scheme) or bird.english, "en"


def listed_name(site: Site, code: str) -> str:
    """Give the name that the guide or the code list has for a code, or ''.

    A bird that the list names in English alone has its scientific name in a guide of another language.
    """
    species = site.guide.by_code.get(code)
    if species is not None:
        return named(site, species)
    bird = site.guide.names.by_code(code, site.guide.scheme)
    if bird is None:
        return ""
    return _listed(site, bird) or (bird.listed_name(site.guide.scheme) if site.wording.is_english else bird.scientific)


class Hybrid(NamedTuple):
    """A hybrid as pages tell it."""

    codes: tuple[Link, ...]
    """Both parents by code, with a cross between them."""

    name: str
    """Both parents by name."""

    pair: Link | None
    """The way to the page that sets the parents side by side."""


def hybrid_of(site: Site, text: str) -> Hybrid | None:
    """Tell a hybrid by its parents; None where a text names none."""
    both = parents(site.guide, text)
    if not both:
        return None
    first, second = (site.code(each.code) if each.code else Link(each.text) for each in both)
    one, other = (listed_name(site, each.code) or each.text for each in both)
    pair = site.comparisons(both[0].code).get(both[1].code)
    way = site.say("%(first)s and %(second)s side by side", first=first.text, second=second.text)
    return Hybrid((first, Link(" × "), second), f"{one} × {other}", Link(way, pair) if pair else None)


def account_named(site: Site, account: Account) -> str:
    """Name an account of any kind."""
    return named(site, account) if isinstance(account, Species) else account.name


def is_named_by_author(account: Account) -> bool:
    """Whether the name of an account is the author's own words: a bird's is the list's, and an outing's its day."""
    return not isinstance(account, Species | Outing)


def pair_named(site: Site, pair: Pair) -> str:
    """Name a pair by both birds."""
    return site.wording.either((named(site, pair.first), named(site, pair.second)))


def group_named(site: Site, group: Group) -> str:
    """Name a group as its author does, or by its genus."""
    if group.reason == "genus":
        return site.say("The genus %(genus)s", genus=group.members[0].scientific.split()[0])
    return capitalised(group.name)


def capitalised(text: str) -> str:
    """Begin a text with a capital, and leave the rest alone."""
    return text[:1].upper() + text[1:]


def plumage_named(site: Site, plumage: Plumage) -> str:
    """Name a plumage."""
    return site.wording.plumage(plumage.words)


def bird_named(site: Site, species: Species, plumage: Plumage) -> str:
    """Name a bird with its plumage."""
    name = named(site, species)
    return name if plumage == ALL else f"{name}, {plumage_named(site, plumage)}"


def plumage_as_written(site: Site, text: str) -> str:
    """Name a plumage that an author wrote; one that is not understood stays as written."""
    plumage = None if site.wording.is_english else read_plumage(text)
    return plumage_named(site, plumage) if plumage else text


def plumage_heading(site: Site, text: str) -> str:
    """Head a block by its plumage as the author names it."""
    return site.say("All plumages") if text == ALL.text else capitalised(plumage_as_written(site, text))


def part_named(site: Site, word: str) -> str:
    """Name a part as the author does, or in the language of the guide if it is a known one."""
    if site.wording.is_english:
        return word
    part = site.guide.parts.find(word)
    return site.wording.part(part.word) if part else word


def measure_named(site: Site, word: str) -> str:
    """Name a measure; one that has no name of its own is named as its part."""
    return site.say(word) if word in MEASURES else part_named(site, word)


def measure_words(site: Site, text: str) -> str:
    """Write a measure as the language does, by what it was read as; what is no measure as its author wrote it."""
    wording = site.wording
    found = to_quantity(text)
    if not isinstance(found, Quantity):
        return wording.numbers(text)
    if found.mean is None:
        written = f"{found.low}" if found.low == found.high else f"{found.low}\N{EN DASH}{found.high}"
        amount = wording.amount(written, found.unit)
        return wording.say("about %(amount)s", amount=amount) if found.about else amount
    told = [wording.say("mean %(amount)s", amount=wording.amount(f"{found.mean}", found.unit))]
    if found.sd is not None:
        told.append(wording.say("standard deviation %(amount)s", amount=wording.amount(f"{found.sd}", found.unit)))
    if found.n is not None:
        told.append(f"n\N{NO-BREAK SPACE}=\N{NO-BREAK SPACE}{wording.numbers(str(found.n))}")
    return ", ".join(told)


def months_words(site: Site, when: Written[Months] | None) -> str:
    """Name the months in which a bird is met; in English as the author wrote them; '' for none."""
    if when is None:
        return ""
    return when.value.text if site.wording.is_english else site.wording.months(when.value.numbers)
