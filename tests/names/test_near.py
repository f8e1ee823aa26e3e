"""Names proposed for a text that is none."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest

from tertial.names import birds
from tertial.names.birds import load_names
from tertial.names.near import NearNames

NAMES = load_names()


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("Hairy Woodpeker", "Hairy Woodpecker"),
        ("downy wodpecker", "Downy Woodpecker"),
        ("Greater Yelowlegs", "Greater Yellowlegs"),
        ("Black caped chickadee", "Black-capped Chickadee"),
        ("Cooper Hawk", "Cooper's Hawk"),
        ("Eastern Kingbrid", "Eastern Kingbird"),
        ("Myrtel Warbler", "Myrtle Warbler"),
        ("Black-bellied Plovr", "Black-bellied Plover"),
        ("Dunlni", "Dunlin"),
        ("Sorra", "Sora"),
        ("Turdus migratorus", "Turdus migratorius"),
        ("dryobates pubesens", "Dryobates pubescens"),
    ],
)
def test_slips_of_the_pen_are_seen_through(slip: str, meant: str) -> None:
    """The name that was meant comes first, as the list spells it."""
    assert NAMES.near(slip)[0] == meant


def test_a_sure_answer_stands_alone() -> None:
    """Names much less likely than the first are left out."""
    assert NAMES.near("Hairy Woodpeker") == ("Hairy Woodpecker",)


def test_close_rivals_stand_together() -> None:
    """Where two names are about as near, both are given."""
    assert NAMES.near("Estern Kingbird")[:2] == ("Eastern Kingbird", "Western Kingbird")


@pytest.mark.parametrize(
    ("code", "meant"),
    [
        ("YWAR", ("Yellow Warbler",)),
        ("TRSW", ("Trumpeter Swan", "Tree Swallow")),
        ("HAOW", ("Hairy Woodpecker",)),
        ("BCCHH", ("Black-capped Chickadee", "Blue-chested Hummingbird")),
    ],
)
def test_capitals_that_are_no_code_lead_to_birds(code: str, meant: tuple[str, ...]) -> None:
    """By the letters of their names, whoever's list has them so; and by a slip of the pen in a code."""
    assert NAMES.near(code) == meant


@pytest.mark.parametrize(
    ("word", "first"),
    [
        ("starling", ["European Starling"]),
        ("yellowlegs", ["Lesser Yellowlegs", "Greater Yellowlegs"]),
        ("robin", ["American Robin"]),
        ("cardinal", ["Northern Cardinal"]),
    ],
)
def test_a_word_of_a_name_leads_to_the_birds_of_both_lists_first(word: str, first: list[str]) -> None:
    """And only to names that hold it, where there are any; the kind of a bird stands last in its name."""
    found = NAMES.near(word)
    assert list(found[: len(first)]) == first
    assert all(word in name.casefold() for name in found)


def former() -> list[list[str]]:
    path = Path(birds.__file__).with_name("data") / "former-names.csv"
    return list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))[1:]


@pytest.mark.parametrize("row", former(), ids=lambda row: row[0])
def test_a_former_name_leads_to_what_the_bird_is_called_now(row: list[str]) -> None:
    """It is no name of the list itself, leads to species of it alone, in their order, and says where it changed."""
    name, now, source = row
    assert NAMES.find(name) == ()
    assert NAMES.near(name) == NAMES.near(name.upper().replace("A", "a")) == tuple(now.split("; "))
    assert all([bird.is_species for bird in NAMES.find(each)] == [True] for each in now.split("; "))
    assert re.fullmatch(r"C5|S\d{2}|M", source)


def test_no_name_is_better_than_a_far_one() -> None:
    """Nothing is proposed for what is like no name."""
    assert NAMES.near("xyzzy") == NAMES.near("") == NAMES.near("A" * 5000) == ()


def test_limit_is_kept() -> None:
    """No more names than asked for, whatever there would be."""
    assert len(NAMES.near("Rose Robbin", limit=1)) == 1
    assert NAMES.near("Rose Robbin", limit=0) == ()


def test_english_and_scientific_are_not_mixed() -> None:
    """All proposals are of the kind of the likeliest, even where another kind is as near."""
    near = NearNames(("Alba Alca", "Alba Alcas"), ("Alba alcu",))
    assert near.search("albaalca", 3) == ("Alba Alca", "Alba Alcas")
    assert near.search("albaalcu", 3) == ("Alba alcu",)


def test_equals_come_in_list_order() -> None:
    """The order depends on nothing but the list."""
    assert NearNames(("Blue Jay", "Blue Jaw", "Blue Jab"), ()).search("blueja", 3) == (
        "Blue Jay",
        "Blue Jaw",
        "Blue Jab",
    )


def test_spellings_that_fold_alike_are_given_once() -> None:
    """One bird is not proposed twice in two spellings."""
    assert NearNames(("Grey Heron", "Gray Heron"), ()).search("grayherron", 3) == ("Grey Heron",)
