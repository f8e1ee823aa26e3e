"""Scientific names by the International Code of Zoological Nomenclature, 4th edition."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.names.birds import load_names
from tertial.names.scientific import QUALIFIERS, Fault, ScientificName, read_scientific


def read(text: str) -> ScientificName:
    name = read_scientific(text)
    assert isinstance(name, ScientificName), name
    return name


def fault(text: str) -> Fault:
    found = read_scientific(text)
    assert isinstance(found, Fault), found
    return found


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        # Art. 5.1: a species has a binomen. Art. 5.2: a subspecies has a trinomen.
        ("Turdus migratorius", ("Turdus", "", "migratorius", "", "")),
        ("Turdus migratorius achrusterus", ("Turdus", "", "migratorius", "achrusterus", "")),
        # Art. 6.1: a subgenus stands in parentheses after the genus.
        ("Turdus (Planesticus) migratorius", ("Turdus", "Planesticus", "migratorius", "", "")),
        # Art. 22A.2: a comma between author and date.
        ("Turdus migratorius Linnaeus, 1766", ("Turdus", "", "migratorius", "", "Linnaeus, 1766")),
        # Art. 51.3: parentheses, for the species was described in another genus.
        ("Astur cooperii (Bonaparte, 1828)", ("Astur", "", "cooperii", "", "(Bonaparte, 1828)")),
        ("Dryobates pubescens (Linnaeus, 1766)", ("Dryobates", "", "pubescens", "", "(Linnaeus, 1766)")),
        # Art. 47: the nominotypical subspecies repeats the name of the species.
        ("Corvus corax corax", ("Corvus", "", "corax", "corax", "")),
        # Art. 32.5.2.4.3: a lone letter that describes the animal keeps its hyphen.
        ("Polygonia c-album", ("Polygonia", "", "c-album", "", "")),
        (
            "Busarellus nigricollis du Bus de Gisignies, 1838",
            ("Busarellus", "", "nigricollis", "", "du Bus de Gisignies, 1838"),
        ),
        ("  Corvus   corax  ", ("Corvus", "", "corax", "", "")),
    ],
)
def test_sound_names_are_taken_apart(text: str, parts: tuple[str, ...]) -> None:
    """Genus, subgenus, species, subspecies and authorship each go to their field."""
    assert read(text) == ScientificName(*parts)


@pytest.mark.parametrize(
    ("text", "word", "reason", "expected"),
    [
        ("", "", "empty", "genus and specific name"),
        ("Turdus", "Turdus", "stands alone", "Art. 5.1"),
        ("Turdus Linnaeus, 1758", "Turdus", "stands alone", "Art. 5.1"),
        ("turdus migratorius", "turdus", "capital in front", "'Turdus'"),
        ("TURDUS migratorius", "TURDUS", "capital in front", "'Turdus'"),
        ("Turdus Migratorius", "Migratorius", "has a capital", "'migratorius'"),
        ("T. migratorius", "T.", "shortened", "in full"),
        ("T migratorius", "T", "shortened", "in full"),
        ("Turdus (planesticus) migratorius", "(planesticus)", "not a subgenus", "Art. 6.1"),
        ("Turdus a", "a", "single letter", "Art. 11.9.1"),
        ("Sylvia rüppelli", "rüppelli", "'ü'", "Art. 11.2"),
        ("Sterna o'neilli", "o'neilli", '"\'"', "Art. 11.2"),
        ("Cyanoramphus novae-zelandiae", "novae-zelandiae", "hyphen", "'novaezelandiae'"),
        ("Turdus migratorius subsp. achrusterus", "subsp.", "subspecies should follow", "Art. 5.2"),
        ("Turdus migratorius achrusterus albus", "albus", "one word too many", "Art. 5.2"),
        ("Turdus migratorius Linnaeus 1766", "Linnaeus 1766", "no comma", "'Linnaeus, 1766'"),
        ("Turdus migratorius Linnaeus", "Linnaeus", "not an author with a year", "'Linnaeus, 1766'"),
        ("Turdus migratorius 1766", "1766", "not an author with a year", "'Linnaeus, 1766'"),
        ("Astur cooperii (Bonaparte), 1828", "(Bonaparte), 1828", "parentheses", "Art. 51.3"),
        ("Astur cooperii (Bonaparte, 1828", "(Bonaparte, 1828", "parentheses", "Art. 51.3"),
        ("Turdus migratorius Linnaeus, 1735", "1735", "before", "Art. 3.2"),
    ],
)
def test_faults_name_the_word_and_the_repair(text: str, word: str, reason: str, expected: str) -> None:
    """A fault says which word is wrong, why, and what should stand there."""
    found = fault(text)
    assert found.word == word
    assert reason in found.reason
    assert expected in found.expected


@pytest.mark.parametrize("qualifier", sorted(QUALIFIERS))
@pytest.mark.parametrize("form", ["Turdus {}. migratorius", "Turdus {}", "Turdus ({}.)"])
def test_qualifiers_are_no_part_of_a_name(qualifier: str, form: str) -> None:
    """Art. 5.3, with or without full stop, inside or at the end."""
    found = fault(form.format(qualifier))
    assert QUALIFIERS[qualifier] in found.reason
    assert "Art. 5.3" in found.expected


def test_a_question_mark_is_no_part_of_a_name() -> None:
    """Art. 5.3 names it with the qualifiers."""
    assert fault("Turdus ?migratorius").word == "?migratorius"


@pytest.mark.parametrize(
    "text",
    [
        "Anas platyrhynchos x rubripes",
        "Anas platyrhynchos X A. rubripes",
        "Anas acuta × A. crecca",
        "Sialia hybrid",
    ],
)
def test_hybrids_are_formulas(text: str) -> None:
    """A cross of two named birds is no name, however it is marked."""
    assert "hybrid" in fault(text).reason


def test_either_or_records_are_no_names() -> None:
    """A slash leaves the question open that a name answers."""
    assert "which of two" in fault("Aythya marila/affinis").reason


def test_every_species_of_avilist_is_sound() -> None:
    """All 11,131 binomina of AviList v2025 read as themselves."""
    species = [bird.scientific for bird in load_names() if bird.is_species]
    assert len(species) == 11_131
    assert [read(name).binomen for name in species] == species


def test_open_and_crossed_names_of_the_code_lists_are_refused() -> None:
    """Groups, crosses and either-or rows of the banding lists are no names; trinomina are."""
    others = [bird.scientific for bird in load_names() if not bird.is_species]
    refused = {name for name in others if isinstance(read_scientific(name), Fault)}
    marked = {name for name in others if {"x", "hybrid"} & set(name.split()) or set("/().") & set(name)}
    assert refused == marked
    assert len(refused) > 50


@given(st.text() | st.lists(st.sampled_from(["Turdus", "migratorius", "(", "A,", "1766", "-", "é"])).map(" ".join))
def test_any_text_gets_an_answer(text: str) -> None:
    """A name or a fault comes back, and a fault quotes what stands in the text."""
    found = read_scientific(text)
    if isinstance(found, Fault):
        assert found.word in text
        assert found.reason
        assert found.expected
    else:
        assert found.authorship in text
