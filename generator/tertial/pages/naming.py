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
from tertial.names.fold import fold
from tertial.pages.site import Link
from tertial.pages.tongues import LATIN, in_tongue, woven
from tertial.pages.units import shown_in
from tertial.wording import ENGLISH

if TYPE_CHECKING:
    from collections.abc import Sequence

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
    return _listed(site, species.bird) or _named_by_author(site, species)


def _named_by_author(site: Site, species: Species) -> str:
    """A name that an author took from the list is in that name's language, any other in the author's."""
    bird = species.bird
    if bird is None:
        return site.theirs(species.name)
    if species.name in (bird.english, bird.name_ibp, bird.name_bbl):
        return site.in_tongue(species.name, ENGLISH)
    languages = {fold(bird.french): _FRENCH, fold(bird.scientific): LATIN}
    return site.in_tongue(species.name, languages.get(fold(species.name), ENGLISH))


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
    english = bird.listed_name(site.guide.scheme) if site.wording.is_english else ""
    return _listed(site, bird) or english or in_tongue(bird.scientific, LATIN)


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
    first, second = (site.code(each.code) if each.code else Link(site.theirs(each.text)) for each in both)
    one, other = (listed_name(site, each.code) or site.theirs(each.text) for each in both)
    pair = site.comparisons(both[0].code).get(both[1].code)
    way = site.say("%(first)s and %(second)s side by side", first=first.text, second=second.text)
    name = woven(f"{one} × {other}", one, other)
    return Hybrid((first, Link(" × "), second), name, Link(way, pair) if pair else None)


def account_named(site: Site, account: Account) -> str:
    """Name an account of any kind."""
    if isinstance(account, Species):
        return named(site, account)
    return account.name if isinstance(account, Outing) else site.theirs(account.name)


def pair_named(site: Site, pair: Pair) -> str:
    """Name a pair by both birds."""
    return either_named(site, (named(site, pair.first), named(site, pair.second)))


def either_named(site: Site, names: Sequence[str]) -> str:
    """Name several birds of which it is one."""
    return woven(site.wording.either(names), *names)


def group_named(site: Site, group: Group) -> str:
    """Name a group as its author does, or by its genus."""
    if group.reason == "genus":
        genus = in_tongue(group.members[0].scientific.split()[0], LATIN)
        return woven(site.say("The genus %(genus)s", genus=genus), genus)
    return site.theirs(capitalised(group.name))


def capitalised(text: str) -> str:
    """Begin a text with a capital, and leave the rest alone."""
    return text[:1].upper() + text[1:]


def plumage_named(site: Site, plumage: Plumage) -> str:
    """Name a plumage."""
    return site.wording.plumage(plumage.words)


def bird_named(site: Site, species: Species, plumage: Plumage) -> str:
    """Name a bird with its plumage."""
    name = named(site, species)
    return name if plumage == ALL else woven(f"{name}, {plumage_named(site, plumage)}", name)


def plumage_as_written(site: Site, text: str) -> str:
    """Name a plumage that an author wrote; one that is not understood stays as written."""
    plumage = read_plumage(text)
    if plumage is None:
        return site.theirs(text)
    return text if site.wording.is_english else plumage_named(site, plumage)


def plumage_heading(site: Site, text: str) -> str:
    """Head a block by its plumage as the author names it."""
    if text == ALL.text:
        return site.say("All plumages")
    told = capitalised(plumage_as_written(site, text))
    return told if read_plumage(text) else site.theirs(told)


def part_named(site: Site, word: str) -> str:
    """Name a part as the author does, or in the language of the guide if it is a known one."""
    return site.part(word).text


def measure_named(site: Site, word: str) -> str:
    """Name a measure; one that has no name of its own is named as its part."""
    return site.say(word) if word in MEASURES else part_named(site, word)


def measure_words(site: Site, text: str) -> str:
    """Write a measure as the language does, by what it was read as, in the units of the guide; what is no measure as
    its author wrote it."""
    found = to_quantity(text)
    if not isinstance(found, Quantity):
        return site.theirs(site.wording.numbers(text))
    first, *other = (_quantity_words(site, each) for each in shown_in(site.guide.settings, found))
    return f"{first} ({other[0]})" if other else first


def _quantity_words(site: Site, found: Quantity) -> str:
    wording = site.wording
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
