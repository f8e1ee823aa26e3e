"""What the search looks up: how large it is, what is in it, and what is left out."""

from __future__ import annotations

import json
import random
import runpy
from pathlib import Path
from typing import TYPE_CHECKING

from tertial.build import build_guide
from tertial.layouts import built_in_layouts
from tertial.loading import load_guide
from tertial.pages.browse_shelf import Shelf
from tertial.pages.finding_data import LAST, SIGNS, finding_data, packed, words_data
from tertial.pages.finding_words import plumage_terms, small_words, sorts
from tertial.pages.site import Site
from tertial.wording import PLAIN
from tertial.wording.tables import read_wording

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Tree = Callable[[Path], dict[str, bytes]]

CORPUS = Path(__file__).resolve().parent.parent / "bench/corpus.py"

MOST = 150 * 1024
"""The index of 500 species takes no more bytes."""

SYLLABLES = ("ka", "lo", "mi", "ster", "ing", "ra", "be", "tho", "un", "dle", "fe", "gra", "pon", "ish", "ver", "al")

ENTRY = """---
species: Hairy Woodpecker
where: [river wood]
marks:
  male: |
    nape: red patch, never white
    crown: black, zebraish
---
The bird of the far bank, [as before](secret/address.html), at 12 m.
"""


def test_the_index_of_five_hundred_species_is_small(tmp_path: Path) -> None:
    """Of invented accounts of 3 KB, with as many words as people use in a book, all data stay below the limit."""
    folder = tmp_path / "guide"
    runpy.run_path(str(CORPUS))["write_guide"](folder, 500)
    chance = random.Random(3)
    words = ["".join(chance.choices(SYLLABLES, k=chance.randint(2, 4))) for _ in range(9000)]
    # By Zipf's law: the tenth word in order is met a tenth as often as the first.
    shares = [1 / at for at in range(1, len(words) + 1)]
    for path in (folder / "entries").glob("*.md"):
        front = path.read_text(encoding="utf-8").rpartition("\n---\n")[0]
        text = " ".join(chance.choices(words, shares, k=230))
        path.write_text(f"{front}\n---\n{text}\n", encoding="utf-8")
    guide = load_guide(folder)
    shelf = Shelf(Site(guide, {}))
    written = [json.dumps(value, separators=(",", ":")) for value in (finding_data(shelf), words_data(guide))]
    assert len(guide.species) == 500
    assert 0.5 * MOST < sum(map(len, written)) <= MOST


def test_numbers_are_read_back_as_they_were() -> None:
    """Packed numbers of every length are taken apart again by the rule that the script follows."""
    numbers = [0, 1, 61, 62, 63, 1859, 1860, 1861, 55_799, 55_800, 1_000_000]
    found, number = [], 0
    for sign in packed(numbers):
        digit = SIGNS.index(sign)
        if digit < LAST:
            found.append(number * LAST + digit)
            number = 0
        else:
            number = number * (len(SIGNS) - LAST) + digit - LAST
    assert found == numbers


def test_the_index_has_what_is_said_and_not_what_is_denied(
    make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """Terms of marks, habitats and words are in it; what a bird never is, figures and addresses are not."""
    folder = make_guide({"entries/hairy.md": ENTRY})
    build_guide(folder)
    files = tree(folder / "build")
    names, words = (
        json.loads(files[f"data/{name}.js"].decode().partition(",")[2].rstrip().removesuffix(");"))
        for name in ("finding", "words")
    )
    assert [term[0] for term in names["terms"]] == ["black", "patched", "red"]
    assert [mark[0] for mark in names["marks"]] == ["crown", "nape"]
    assert [place[:2] for place in names["places"]] == [["in", "river wood"]]
    spelled, word = [], ""
    for coded in _coded(words["words"]):
        word = word[: ord(coded[0]) - ord("A")] + coded[1:]
        spelled.append(word)
    assert spelled == ["bank", "before", "bird", "far", "the", "zebraish"]


def _coded(text: str) -> list[str]:
    starts = [at for at, char in enumerate(text) if char.isupper()]
    return [text[start:end] for start, end in zip(starts, [*starts[1:], len(text)], strict=True)]


def test_a_sort_of_birds_goes_by_families_but_for_names_that_say_otherwise(
    make_guide: Callable[[Mapping[str, str | bytes]], Path],
) -> None:
    """A goose is no duck, and a wader may be called anything; what settles no age, sex or season is no such word."""
    names = ("Canada Goose", "Mallard", "Killdeer")
    folder = make_guide({f"entries/{name[:3]}.md": f"---\nspecies: {name}\n---\n" for name in names})
    species = load_guide(folder).species
    found = {words[0]: [species[at].name for at in places] for words, places in sorts(species, PLAIN)}
    assert found["duck"] == ["Mallard"]
    assert found["waterfowl"] == ["Canada Goose", "Mallard"]
    assert found["wader"] == found["plover"] == ["Killdeer"]
    assert {"female", "hen", "drake", "juvenile"} <= set(plumage_terms(PLAIN))
    assert not {"all", "brown", "white"} & set(plumage_terms(PLAIN))


def test_sorts_and_plumages_are_looked_for_in_the_language_of_the_guide_too(
    make_guide: Callable[[Mapping[str, str | bytes]], Path],
) -> None:
    """The French words lead, so that the reason that is told is French; words of plumages have no accents here."""
    folder = make_guide({"entries/a.md": "---\nspecies: Killdeer\n---\n"})
    french = read_wording((built_in_layouts(),), "fr")
    (words, _), *_ = sorts(load_guide(folder).species, french)
    assert words[:3] == ("limicole", "limicoles", "wader")
    assert {"male", "femelles", "juvenile", "nuptial", "hen"} <= set(plumage_terms(french))


def test_words_that_say_nothing_of_a_bird_are_no_words_of_plumages() -> None:
    """What a language tells plumages with is left out, and so is what the author's language needs."""
    french, english = (read_wording((built_in_layouts(),), tag) for tag in ("fr", "en"))
    told = {word for name in french.plumages.values() for text in name for word in text.split()}
    small = small_words(french)
    assert {"de", "en", "au"} <= set(small) & told
    assert not set(small) & set(plumage_terms(french))
    assert {"a", "de", "the"} <= set(small_words(french, english))
    assert not set(small_words(english)) & set(plumage_terms(english))


def test_an_empty_guide_has_nothing_to_find(
    make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """Without an account there is neither the page nor its data, and no page has the key."""
    folder = make_guide({})
    build_guide(folder)
    files = tree(folder / "build")
    assert not {"find.html", "data/finding.js", "data/words.js"} & files.keys()
    assert b"key.js" not in files["index.html"]
