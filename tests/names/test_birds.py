"""Looking birds up in the shipped list."""

from __future__ import annotations

import csv
import gzip
import re
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tertial.names import birds
from tertial.names.birds import FORM, GROUP, HYBRID, SCHEMES, SPECIES, Bird, NameList, load_names

NAMES = load_names()


def english(found: tuple[Bird, ...]) -> list[str]:
    return [bird.english for bird in found]


def row(sequence: str, english_name: str, code: str) -> list[str]:
    rank = "species" if sequence else "form"
    return [sequence, rank, "", "", "Avis prima", english_name, "", "", english_name, code, ""]


def test_the_whole_of_avilist_is_there() -> None:
    """AviList v2025 has 11,131 species; they come first and in its order."""
    sequences = [bird.sequence for bird in NAMES if bird.is_species]
    assert sequences == list(range(1, 11_132))
    assert all(bird.sequence is None for bird in list(NAMES)[11_131:])


def test_columns_are_the_fields_of_a_bird() -> None:
    """Fields are filled by position, so the header must say the same in the same order."""
    path = Path(birds.__file__).with_name("data") / "bird-names.csv.gz"
    with gzip.open(path, "rt", encoding="utf-8", newline="") as file:
        header = next(csv.reader(file))
    assert [column.removesuffix("_name") for column in header] == list(Bird._fields)


def test_packed_file_has_no_time_in_it() -> None:
    """Equal content must give equal bytes: bytes 4 to 7 of a gzip file are its time (RFC 1952)."""
    path = Path(birds.__file__).with_name("data") / "bird-names.csv.gz"
    assert path.read_bytes()[4:8] == bytes(4)


def test_list_is_read_once() -> None:
    """Every caller gets the same list."""
    assert load_names() is load_names()


@pytest.mark.parametrize(
    "text",
    [
        "Hairy Woodpecker",
        "hairy woodpecker",
        "HAIRY  WOODPECKER",
        "Hairy-Woodpecker",
        "Leuconotopicus villosus",
        "Pic chevelu",
        "HAWO",
        "hawo",
    ],
)
def test_one_bird_by_all_its_names(text: str) -> None:
    """English, scientific and French name and code lead to the same bird."""
    assert english(NAMES.find(text)) == ["Hairy Woodpecker"]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Gray Plover", "Grey Plover"),
        ("Black-bellied Plover", "Grey Plover"),
        ("Coopers Hawk", "Cooper's Hawk"),
        ("Cooper’s Hawk", "Cooper's Hawk"),
        ("Yellow Warbler", "American Yellow Warbler"),
        ("Eastern Screech-Owl", "Eastern Screech Owl"),
        ("eastern screechowl", "Eastern Screech Owl"),
        ("Ruppell's Vulture", "Rüppell's Vulture"),
        ("Mésange à tête noire", "Black-capped Chickadee"),
        ("mesange a tete noire", "Black-capped Chickadee"),
        ("OU", "Ou"),
    ],
)
def test_spellings_of_other_lists_and_authors(text: str, found: str) -> None:
    """The spelling of any list will do, with or without accents, hyphens and apostrophes."""
    assert english(NAMES.find(text)) == [found]


def test_species_hide_forms_of_the_same_name() -> None:
    """Colaptes auratus is the Northern Flicker, though the unspecified flicker of BBL is named so too."""
    assert english(NAMES.find("Colaptes auratus")) == ["Northern Flicker"]


def test_forms_are_found_where_no_species_is_meant() -> None:
    """A form with a code of its own can be looked up."""
    assert english(NAMES.find("Myrtle Warbler")) == ["Myrtle Warbler"]


def test_codes_of_two_birds_are_both_given() -> None:
    """BARG is the Barnacle Goose for IBP and the Bar-tailed Godwit for BBL."""
    assert english(NAMES.find("BARG")) == ["Barnacle Goose", "Bar-tailed Godwit"]
    by_scheme = {scheme: NAMES.by_code("BARG", scheme) for scheme in SCHEMES}
    assert {scheme: bird and bird.english for scheme, bird in by_scheme.items()} == {
        "IBP": "Barnacle Goose",
        "BBL": "Bar-tailed Godwit",
    }


@pytest.mark.parametrize("text", ["", " ", "Dusky Nothing", "ha", "HA WO", "ХАВО"])
def test_unknown_names_find_nothing(text: str) -> None:
    """No guess is made; that is for `near`."""
    assert NAMES.find(text) == ()


def test_codes_are_exact() -> None:
    """A code is asked for in capitals; anything else is nobody's."""
    assert NAMES.by_code("HAWO", "IBP") == NAMES.find("Hairy Woodpecker")[0]
    assert NAMES.by_code("hawo", "IBP") is None
    assert NAMES.holders("", "BBL") == ()


def test_no_code_stands_twice_in_a_list() -> None:
    """A list of codes is of no use otherwise; a wrong join would show here."""
    for scheme in SCHEMES:
        codes = [bird.listed_code(scheme) for bird in NAMES if bird.listed_code(scheme)]
        assert len(codes) > 1000
        assert [bird.listed_code(scheme) for bird in NAMES.listed(scheme)] == codes
        assert all(len(NAMES.holders(code, scheme)) == 1 for code in codes)


def test_ranks_are_what_the_names_of_a_row_say() -> None:
    """A cross is a hybrid, a stroke or an open name a group; of three words, both are of one species."""
    signs = {
        bird.english: HYBRID if re.search(" x |hybrid", bird.scientific) else GROUP
        for bird in NAMES
        if not bird.is_species and re.search("[/(.]| x |hybrid", bird.scientific)
    }
    ranks = {bird.english: bird.rank for bird in NAMES if not bird.is_species}
    assert Counter(ranks.values()) == {FORM: 100, HYBRID: 22, GROUP: 41}
    told = dict.fromkeys(ranks, FORM) | signs
    assert {name: rank for name, rank in ranks.items() if told[name] != rank} == {
        "Black X Atlantic Brant Intergrade": FORM,
        "Thayer's/Kumlien's Gull": FORM,
        # Either of two by its name alone: the list gives the scientific name of one.
        "Small Canada/Cackling Goose": GROUP,
    }
    assert {bird.rank for bird in NAMES} == {SPECIES, FORM, HYBRID, GROUP}


def test_what_calls_itself_so_is_no_species() -> None:
    """The English names say the same: no species is a hybrid, unidentified or either of two by its name."""
    said = [bird for bird in NAMES if re.search(r"Hybrid| [xX] |/|Unidentified", bird.english)]
    assert len(said) > 50
    assert {bird.english for bird in said if bird.rank not in (HYBRID, GROUP)} == {
        "Black X Atlantic Brant Intergrade",
        "Thayer's/Kumlien's Gull",
    }


def test_two_holders_of_a_code_are_both_given() -> None:
    """A faulty list does not lose a bird."""
    names = NameList([row("1", "Plain Finch", "PLFI"), row("2", "Pleated Finch", "PLFI")])
    assert english(names.holders("PLFI", "IBP")) == ["Plain Finch", "Pleated Finch"]


def test_same_epithet_under_another_genus() -> None:
    """Hairy Woodpecker is Dryobates villosus for many authorities and is listed as Leuconotopicus."""
    assert NAMES.find("Dryobates villosus") == ()
    assert "Hairy Woodpecker" in english(NAMES.find_epithet("Dryobates villosus"))


def test_epithet_may_agree_with_another_gender() -> None:
    """Art. 31.2 of the zoological code makes Parus atricapillus and Poecile atricapilla one epithet."""
    assert "Black-capped Chickadee" in english(NAMES.find_epithet("Parus atricapilla"))
    assert "Black-capped Chickadee" in english(NAMES.find_epithet("parus atricapillus"))


def test_own_genus_is_no_other_genus() -> None:
    """A name that the list has under this very genus is not among the candidates."""
    assert "American Robin" not in english(NAMES.find_epithet("Turdus migratorius"))


@pytest.mark.parametrize("text", ["", "Turdus", "  "])
def test_no_epithet_no_candidates(text: str) -> None:
    """A genus alone says nothing about other genera."""
    assert NAMES.find_epithet(text) == ()


def test_empty_list_answers() -> None:
    """A list without birds has nothing and knows it."""
    names = NameList([])
    assert len(names) == 0
    assert names.find("Emu") == names.find_epithet("Casuarius casuarius") == tuple(names) == ()
    assert names.near("Emu") == ()


def test_every_name_of_every_bird_finds_it() -> None:
    """Whatever name stands in a row leads to that row, unless a species of that name goes first."""
    for bird in NAMES:
        for name in (bird.english, bird.name_bbl, bird.name_ibp, bird.scientific):
            found = NAMES.find(name) if name else (bird,)
            assert bird in found or (not bird.is_species and found[0].is_species), name


@settings(deadline=None)  # the first example builds the indexes
@given(st.text())
def test_any_text_gets_an_answer(text: str) -> None:
    """What authors write never breaks a look-up."""
    assert isinstance(NAMES.find(text), tuple)
    assert isinstance(NAMES.find_epithet(text), tuple)
    assert len(NAMES.near(text)) <= 3
