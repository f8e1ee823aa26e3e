"""The shipped tables of parts hold together, word by word."""

from __future__ import annotations

import re
from collections import Counter
from importlib.resources import files

import pytest

from tertial.marks.folding import fold, other_numbers
from tertial.marks.parts import Evidence, PartTable, load_parts
from tertial.marks.tables import read_table, split_cell

PARTS = read_table("parts.csv")
REGIONS = {row["region"] for row in read_table("regions.csv")}
VIEWS = {row["view"] for row in read_table("views.csv")}

LISTED = {
    "bill": "bill, upper mandible, lower mandible, culmen, gonys, tomia, gape, nostril, cere, nail, casque, "
    "frontal shield, bill tip",
    "eye": "iris, pupil, eye-ring, orbital ring",
    "face": "lores, supraloral, supercilium, eyeline, postocular stripe, spectacles, mask, ear coverts, cheek, "
    "moustachial stripe, submoustachial stripe, malar stripe, rictal bristles, facial disk, ear tufts",
    "head": "forehead, forecrown, hindcrown, crown, median crown stripe, lateral crown stripe, cap, crest, hood, "
    "half-hood, wattle, caruncle, comb, operculum",
    "neck": "nape, nuchal collar, chin, throat, foreneck, sides of neck",
    "upperparts": "mantle, back, scapulars, rump, uppertail coverts",
    "underparts": "breast, breast band, breast spot, sides, flanks, belly, vent, undertail coverts, thigh",
    "wing": "lesser coverts, median coverts, greater coverts, marginal coverts, primary coverts, carpal covert, "
    "alula, primaries, secondaries, tertials, remiges, wing bar, wing edging, wing panel, leading edge, "
    "trailing edge, bend of wing, wing tip, wing point, primary projection, emargination",
    "underwing": "wing linings, axillaries, carpal bar, patagial bar",
    "tail": "rectrices, tail corner, terminal band, subterminal band, outer tail feathers, tail spots, streamers",
    "leg": "tibia, tarsus, tibio-tarsal joint, spur",
    "foot": "toes, hallux, claws, webs, lobes",
    "bare parts": "bare parts",
    "habits": "habits, posture, flight, gait",
    "voice": "voice, call, song, drum",
}
"""The glossary's own parts by region, and the ones that need no glossary."""

SAME = {
    "bill": "beak, mandibles",
    "upper mandible": "maxilla, rhinotheca",
    "lower mandible": "mandible, gnathotheca",
    "culmen": "upper ridge",
    "gonys": "lower-mandible ridge, gonydeal angle",
    "tomia": "cutting edges, tomium",
    "gape": "commissure, rictus",
    "nostril": "nares, naris",
    "nail": "bean",
    "iris": "eye colour",
    "orbital ring": "orbital skin",
    "lores": "lore, loral area",
    "supraloral": "supraloral spot, supraloral stripe",
    "supercilium": "eyebrow, superciliary line, superciliary stripe",
    "eyeline": "eyestripe, eye line, transocular line",
    "ear coverts": "auriculars, ear patch",
    "moustachial stripe": "moustache, whisker",
    "malar stripe": "malar, lateral throat stripe, jaw stripe",
    "ear tufts": "horns",
    "forehead": "frons",
    "hindcrown": "occiput",
    "crown": "pileum",
    "median crown stripe": "coronal stripe",
    "crest": "tuft",
    "nape": "hindneck",
    "nuchal collar": "hind collar",
    "mantle": "upper back",
    "back": "lower back, saddle",
    "scapulars": "upper scapulars",
    "breast": "chest",
    "breast band": "pectoral band",
    "sides": "sides of breast",
    "belly": "abdomen",
    "vent": "cloacal area",
    "undertail coverts": "crissum",
    "thigh": "tibial feathering, trousers",
    "greater coverts": "greater secondary coverts",
    "primary coverts": "greater primary coverts",
    "alula": "alular quills, bastard wing",
    "tertials": "innermost flight feathers",
    "remiges": "flight feathers, remex",
    "wing panel": "panel",
    "bend of wing": "wrist, carpal joint, shoulder",
    "primary projection": "primary extension",
    "wing linings": "underwing coverts",
    "axillaries": "axillars, wingpit",
    "rectrices": "tail feathers, rectrix",
    "tibia": "tibiotarsus, drumstick",
    "tarsus": "tarsometatarsus, shank",
    "tibio-tarsal joint": "ankle, knee",
    "claws": "talons",
    "hallux": "hind toe",
    "legs": "leg",
    "feet": "foot",
}
"""What the glossary calls the same."""


@pytest.mark.parametrize(("region", "words"), LISTED.items())
def test_every_listed_part_is_there(region: str, words: str) -> None:
    """Each part of the glossary is a preferred word, in the region where the glossary has it."""
    for word in words.split(", "):
        part = load_parts().find(word)
        assert part is not None, word
        assert (part.word, part.region.word) == (word, region)


@pytest.mark.parametrize(("word", "synonyms"), SAME.items())
def test_what_the_glossary_calls_the_same_is_the_same(word: str, synonyms: str) -> None:
    """Each synonym of the glossary leads to the preferred word."""
    for synonym in synonyms.split(", "):
        part = load_parts().find(synonym)
        assert part is not None, synonym
        assert part.word == word


@pytest.mark.parametrize("region", sorted(REGIONS))
def test_every_region_is_a_part_of_itself(region: str) -> None:
    """A region's word can head a phrase, and leads to a part of that very region."""
    part = load_parts().find(region)
    assert part is not None
    assert part.region.word == region


def test_no_word_leads_to_two_parts() -> None:
    """Preferred words, other numbers and synonyms are all different once folded."""
    words = Counter(fold(word) for part in load_parts() for word in part.words)
    assert len(words) > 500
    assert [word for word, count in words.items() if count > 1] == []


def test_no_regular_number_is_claimed_twice() -> None:
    """Even the number forms that nobody wrote down belong to one part each."""
    table = load_parts()
    written = {fold(word) for part in table for word in part.words}
    for part in table:
        for form in (form for word in part.synonyms for form in other_numbers(word)):
            if fold(form) not in written:
                assert table.find(form) == part, form


def test_columns_hold_listed_values_only() -> None:
    """Regions, views and sources come from closed lists, and no view or region is idle."""
    assert {row["region"] for row in PARTS} == REGIONS
    assert {row["view"] for row in PARTS} == VIEWS
    assert {key for row in PARTS for key in split_cell(row["source"])} == {"T1", "T2", "T3", "M"}
    assert all(row["source"] for row in PARTS)
    assert {row["evidence"] for row in read_table("regions.csv")} == {
        item.label for item in Evidence if item != Evidence.SEASON_AND_PLACE
    }


def test_meanings_are_short_sentences_of_their_own() -> None:
    """Each meaning is one sentence of 10 to 25 words, and no two are equal."""
    meanings = [row["meaning"] for row in PARTS]
    assert len(set(meanings)) == len(meanings) >= 190
    for meaning in meanings:
        assert 10 <= len(meaning.split()) <= 25, meaning
        assert re.fullmatch(r"[A-Z][^.!?]*\.", meaning), meaning


def test_cells_are_tidy() -> None:
    """No cell has double spaces, and lists of words are parted by a semicolon and one space."""
    for name in ("parts.csv", "regions.csv", "views.csv", "plumages.csv"):
        for row in read_table(name):
            assert not [cell for cell in row.values() if "  " in cell]
            for column in {"synonyms", "hints", "source"} & set(row):
                assert row[column] == "; ".join(split_cell(row[column]))


def test_rows_stand_in_display_order() -> None:
    """The table goes through the regions once, in their order."""
    places = [part.region.order for part in load_parts()]
    assert places == sorted(places)
    assert [region.word for region in load_parts().regions] == [row["region"] for row in read_table("regions.csv")]
    assert [view.word for view in load_parts().views] == [row["view"] for row in read_table("views.csv")]


def test_the_readme_names_every_column_and_source() -> None:
    """The page beside the tables explains each column and spells out each source."""
    text = files("tertial.marks").joinpath("data", "README.md").read_text(encoding="utf-8")
    for column in PARTS[0]:
        assert f"| {column} |" in text
    for column in read_table("plumages.csv")[0]:
        assert re.search(rf"^\| [a-z, ]*\b{column}\b[a-z, ]* \|", text, re.MULTILINE), column
    sources = {row["source"] for row in (*PARTS, *read_table("plumages.csv"))}
    for key in {key for cell in sources for key in split_cell(cell)}:
        assert f"* {key}: " in text


def test_a_table_with_an_ambiguous_word_does_not_load() -> None:
    """A word of two parts is our own fault, and stops the program instead of picking one."""
    crown, nape = load_parts().find("crown"), load_parts().find("nape")
    assert crown is not None
    assert nape is not None
    with pytest.raises(ValueError, match='"pileum" leads to both "crown" and "nape"'):
        PartTable((crown, nape._replace(synonyms=("pileum",))))
