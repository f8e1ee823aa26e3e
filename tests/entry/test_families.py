"""The table of families: every word of it is known, and every family is one of the list of birds."""

from __future__ import annotations

import pytest

from tertial.marks.families import habit_of, load_habits
from tertial.marks.parts import Evidence, load_parts
from tertial.marks.plumages import ALL, read_plumage
from tertial.names.birds import load_names

TAXA = tuple(load_habits())


@pytest.mark.parametrize("taxon", TAXA)
def test_every_part_is_a_preferred_word(taxon: str) -> None:
    """A new account offers parts by the words under which they are compared, each once."""
    habit = load_habits()[taxon]
    for words in (habit.parts, habit.differing):
        assert words
        assert len(set(words)) == len(words)
        for word in words:
            part = load_parts().find(word)
            assert part is not None, word
            assert part.word == word


@pytest.mark.parametrize("taxon", TAXA)
def test_every_plumage_can_be_read_and_all_comes_first(taxon: str) -> None:
    """The plumages offered are different ones, after what holds for all."""
    plumages = [read_plumage(word) for word in load_habits()[taxon].plumages]
    assert plumages[0] == ALL
    assert len(plumages) > 1
    assert None not in plumages
    assert len(set(plumages)) == len(plumages)


@pytest.mark.parametrize("taxon", TAXA)
def test_sounds_are_parted_from_what_is_seen(taxon: str) -> None:
    """The parts of a family are what is seen and what is heard, nothing lost; plumages differ to the eye only."""
    habit = load_habits()[taxon]
    assert set(habit.seen) | set(habit.heard) == set(habit.parts)
    voices = {part.word for part in load_parts() if part.region.evidence is Evidence.VOICE}
    assert voices.isdisjoint((*habit.seen, *habit.differing))
    assert voices.issuperset(habit.heard)


def test_every_taxon_is_one_of_the_list_of_birds() -> None:
    """A taxon spelt otherwise than in the list would never be found."""
    birds = [bird for bird in load_names() if bird.is_species]
    known = {word for bird in birds for word in (bird.order, bird.family, bird.scientific.split()[0])}
    assert set(TAXA) - known == {"Aves"}


def test_the_table_says_why_and_where_from() -> None:
    """Each row has a reason; all of it is common practice, no source."""
    assert all(habit.reason for habit in load_habits().values())
    assert {habit.source for habit in load_habits().values()} == {"M"}


@pytest.mark.parametrize(
    ("taxa", "found"),
    [
        (("Branta", "Anatidae", "Anseriformes"), "Branta"),
        (("Anas", "Anatidae", "Anseriformes"), "Anatidae"),
        (("Anhima", "Anhimidae", "Anseriformes"), "Anseriformes"),
        (("Struthio", "Struthionidae", "Struthioniformes"), "Aves"),
        (("", "", ""), "Aves"),
    ],
    ids=["genus", "family", "order", "none of them", "a form without a family"],
)
def test_the_narrowest_group_speaks(taxa: tuple[str, str, str], found: str) -> None:
    """A bird is looked up by genus, then family, then order; every bird gets an answer."""
    assert habit_of(*taxa).taxon == found
