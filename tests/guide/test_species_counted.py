"""For which species a bird under a code is counted: a code alone does not make one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tertial.links import rank_of, species_of
from tertial.loading import load_guide
from tertial.names.birds import FORM, GROUP, HYBRID, SPECIES, load_names

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

ACCOUNTS = {
    "Lawrence's Warbler": "",
    "Oregon Junco": "",
    "Mill Mongrel": "MIMO",
    # The author's own code is not the list's bird: here a hybrid warbler and an unidentified duck.
    "Brown Watchman": "BRWA",
    "Black-capped Chickadee": "UNDU",
    "Mallard x Northern Pintail": "MNPH",
}


@pytest.mark.parametrize(
    ("codes", "code", "rank", "species"),
    [
        ("IBP", "MALL", SPECIES, "Anas platyrhynchos"),
        ("IBP", "MBDH", HYBRID, ""),
        ("IBP", "HYTO", HYBRID, ""),
        ("IBP", "SUWA", HYBRID, ""),
        ("IBP", "BCTE", GROUP, ""),
        ("IBP", "TRFL", GROUP, ""),
        ("IBP", "UNBI", GROUP, ""),
        ("IBP", "SCJU", FORM, "Junco hyemalis"),
        ("IBP", "FLIN", FORM, "Colaptes auratus"),
        ("IBP", "TKGU", FORM, "Larus glaucoides"),
        # One code, and another bird in the other list.
        ("IBP", "UNFL", GROUP, ""),
        ("BBL", "UNFL", FORM, "Colaptes auratus"),
        ("IBP", "SCGO", FORM, "Branta canadensis"),
        ("BBL", "SCGO", GROUP, ""),
        # No bird of the other list is known by its code.
        ("BBL", "MBDH", SPECIES, "MBDH"),
        ("IBP", "XXXX", SPECIES, "XXXX"),
        # Accounts of the guide.
        ("IBP", "LAWA", HYBRID, ""),
        ("IBP", "ORJU", FORM, "Junco hyemalis"),
        ("IBP", "MIMO", SPECIES, "MIMO"),
        ("IBP", "BRWA", SPECIES, "BRWA"),
        ("IBP", "UNDU", SPECIES, "Poecile atricapillus"),
        ("IBP", "MNPH", HYBRID, ""),
    ],
)
def test_a_code_counts_for_what_it_stands_for(
    make_guide: MakeGuide, codes: str, code: str, rank: str, species: str
) -> None:
    """The account of the guide tells, else the list in force; hybrids and groups are of no species."""
    files = {
        f"entries/{at}.md": f"---\nspecies: {name}\n{f'code: {own}' if own else ''}\n---\n"
        for at, (name, own) in enumerate(ACCOUNTS.items())
    }
    guide = load_guide(make_guide({"guide.yaml": f"title: Test\ncodes: {codes}\n", **files}))
    assert len(guide.species) == len(ACCOUNTS)
    assert (rank_of(guide, code), species_of(guide, code)) == (rank, species)


@pytest.mark.parametrize("codes", ["IBP", "BBL"])
def test_every_code_of_a_list_is_of_its_species_or_of_none(make_guide: MakeGuide, codes: str) -> None:
    """Every species counts for itself, and no form, hybrid or group for a species under its own name of three words."""
    guide = load_guide(make_guide({"guide.yaml": f"title: Test\ncodes: {codes}\n"}))
    listed = {bird: species_of(guide, bird.listed_code(guide.scheme)) for bird in load_names().listed(guide.scheme)}
    assert len(listed) > 1000
    assert all(found == bird.scientific for bird, found in listed.items() if bird.is_species)
    assert all((found == "") == (bird.rank in (HYBRID, GROUP)) for bird, found in listed.items())
    others = [found for bird, found in listed.items() if found and not bird.is_species]
    assert len(others) > 50
    assert all(len(found.split()) == 2 for found in others)
