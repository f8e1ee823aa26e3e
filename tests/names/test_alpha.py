"""Codes by the published rules, and what is told about one."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tertial.names.alpha import RULES, code_in_force, explain_code, is_well_formed, natural_code
from tertial.names.birds import SCHEMES, load_names

NAMES = load_names()


@pytest.mark.parametrize(
    ("name", "code", "rule"),
    [
        # Klimkiewicz and Robbins 1978, North American Bird Bander 3:16-25, with their kinds of name.
        ("Dunlin", "DUNL", 1),
        ("Dovekie", "DOVE", 1),
        ("Gadwall", "GADW", 1),
        ("Ou", "OU", 1),
        ("American Wigeon", "AMWI", 2),
        ("Eastern Meadowlark", "EAME", 2),
        ("Mourning Dove", "MODO", 2),
        ("Wood Duck", "WODU", 2),
        ("Eastern Screech-Owl", "EASO", 3),
        ("Western Wood-Pewee", "WEWP", 3),
        ("Red-tailed Hawk", "RTHA", 4),
        ("Whip-poor-will", "WPWI", 4),
        ("Great Crested Flycatcher", "GCFL", 4),
        ("Black-capped Chickadee", "BCCH", 4),
        ("Black-crowned Night-Heron", "BCNH", 5),
        ("Northern Saw-whet Owl", "NSWO", 5),
        ("Black-and-white Warbler", "BAWW", 5),
        # Five words, in the list of the Institute for Bird Populations of 2024.
        ("Black-and-white Hawk-Eagle", "BAWH", 6),
        ("Black-and-yellow Silky-flycatcher", "BAYS", 6),
    ],
)
def test_published_examples(name: str, code: str, rule: int) -> None:
    """The codes and the rules behind them are those in print."""
    natural = natural_code(name)
    assert (natural.code, natural.rule) == (code, rule)


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("Cooper's Hawk", "COHA"),
        ("Cooper’s Hawk", "COHA"),
        ("LeConte's Thrasher", "LETH"),
        ("St. Lucia Wren", "SLWR"),
        ("Böhm's Bee-eater", "BOBE"),
        ("'Akiapola'au", "AKIA"),
        ("Black & White Warbler", "BAWW"),
        ("Anhinga (Darter)", "ANHI"),
        ("Anhinga (unclosed", "ANHI"),
        ("Western/Clark's Grebe", "WCGR"),
        ("Red‑tailed  hawk", "RTHA"),
        ("Kauai Oo", "KAOO"),
        ("El Oro Parakeet", "EOPA"),
        ("Twelve-wired Bird-of-paradise", "TWBO"),
        ("Red - tailed Hawk", "RTHA"),
        ("", ""),
        ("2026", ""),
        ("Чайка", ""),
    ],
)
def test_names_that_the_rules_do_not_spell_out(name: str, code: str) -> None:
    """Marks, brackets, short words, many words and names without Latin letters have their answer."""
    assert natural_code(name).code == code


def test_every_rule_is_said_in_words() -> None:
    """Rules stand at their number, and none takes more than four letters."""
    assert [rule.number for rule in RULES] == list(range(len(RULES)))
    assert all(sum(rule.letters) in {0, 4} for rule in RULES)
    assert natural_code("Wood Duck").sentence == "Two words give two letters each."


@settings(deadline=None)  # the first example reads the list
@given(st.text())
def test_any_text_gets_a_code_or_none(text: str) -> None:
    """A code is one to four capitals; rule 0 goes with no code and with nothing else."""
    natural = natural_code(text)
    assert re.fullmatch("[A-Z]{0,4}", natural.code)
    assert (natural.rule == 0) == (natural.code == "")
    assert len(explain_code(text, NAMES).codes) == len(SCHEMES)


def test_a_plain_code_is_told_plainly() -> None:
    """The list agrees with the rules, and nobody else comes near."""
    report = explain_code("hairy woodpecker", NAMES)
    assert [bird.english for bird in report.birds] == ["Hairy Woodpecker"]
    for answer in report.codes:
        assert answer.code == answer.listed == answer.natural.code == "HAWO"
        assert answer.rivals == ()


def test_each_list_is_asked_in_its_own_spelling() -> None:
    """AviList's Sand Martin is the Bank Swallow of both lists, and is coded as that."""
    answer = explain_code("Sand Martin", NAMES).by("IBP")
    assert (answer.name, answer.natural.code, answer.code) == ("Bank Swallow", "BASW", "BANS")


def test_a_bird_on_one_list_only() -> None:
    """BBL has no code for the Cackling Goose; CAGO, which the rules give, is the Canada Goose's."""
    report = explain_code(NAMES.find("Cackling Goose")[0], NAMES)
    assert report.by("IBP").code == "CACG"
    bbl = report.by("BBL")
    assert (bbl.listed, bbl.code) == ("", "CAGO")
    assert bbl.holder is not None
    assert bbl.holder.english == "Canada Goose"
    assert [bird.english for bird in bbl.rivals] == ["Canada Goose"]


def test_a_code_taken_from_outside_its_own_names() -> None:
    """PROW is free by the rules and still not to be had: the Prothonotary Warbler was given it."""
    answer = explain_code("Puerto Rican Owl", NAMES).by("BBL")
    assert answer.natural.code == "PROW"
    assert answer.sharers == ()
    assert answer.holder is not None
    assert answer.holder.english == "Prothonotary Warbler"
    assert answer.rivals == (answer.holder,)


def test_a_name_on_no_list_is_coded_and_compared() -> None:
    """A new name learns that its code is another bird's."""
    report = explain_code("Soot-brown Sparrow", NAMES)
    assert report.birds == ()
    assert [(answer.listed, answer.code) for answer in report.codes] == [("", "SBSP"), ("", "SBSP")]
    assert explain_code("Sooty Sparrow", NAMES).by("IBP").rivals


def test_look_alikes_of_a_first_guide_have_their_natural_codes() -> None:
    """The codes of a usual set of look-alike pairs are the natural ones."""
    guide = {
        "DOWO": "Downy Woodpecker",
        "HAWO": "Hairy Woodpecker",
        "GRYE": "Greater Yellowlegs",
        "LEYE": "Lesser Yellowlegs",
        "SSHA": "Sharp-shinned Hawk",
        "COHA": "Cooper's Hawk",
        "HOFI": "House Finch",
        "PUFI": "Purple Finch",
        "CAFI": "Cassin's Finch",
        "BCCH": "Black-capped Chickadee",
        "CACH": "Carolina Chickadee",
        "GRSC": "Greater Scaup",
        "LESC": "Lesser Scaup",
        "SESA": "Semipalmated Sandpiper",
        "WESA": "Western Sandpiper",
        "LESA": "Least Sandpiper",
        "SBDO": "Short-billed Dowitcher",
        "LBDO": "Long-billed Dowitcher",
        "COTE": "Common Tern",
        "FOTE": "Forster's Tern",
        "SOSP": "Song Sparrow",
        "LISP": "Lincoln's Sparrow",
        "TUTI": "Tufted Titmouse",
        "WBNU": "White-breasted Nuthatch",
        "RBNU": "Red-breasted Nuthatch",
        "BRCR": "Brown Creeper",
        "GCKI": "Golden-crowned Kinglet",
    }
    assert [natural_code(name).code for name in guide.values()] == list(guide)


@pytest.mark.parametrize(
    ("written", "listed", "name", "code"),
    [
        # A code that could be one is its author's to choose, whatever the list has.
        ("HAWP", "HAWO", "Hairy Woodpecker", "HAWP"),
        ("HAW", "HAWO", "Hairy Woodpecker", "HAW"),
        ("HA", "", "Mill Mongrel", "HA"),
        # Every other gives way to the list.
        ("HAW0", "HAWO", "Hairy Woodpecker", "HAWO"),
        ("hawo", "HAWO", "Hairy Woodpecker", "HAWO"),
        ("dowo", "HAWO", "Hairy Woodpecker", "HAWO"),
        ("H", "HAWO", "Hairy Woodpecker", "HAWO"),
        ("HAWOS", "HAWO", "Hairy Woodpecker", "HAWO"),
        ("HA WO", "HAWO", "Hairy Woodpecker", "HAWO"),
        ("HÄWO", "HAWO", "Hairy Woodpecker", "HAWO"),
        ("HAWO\n", "HAWO", "Hairy Woodpecker", "HAWO"),
        # Without a list small letters tell what was meant, and nothing else does.
        ("mand", "", "Mandarin Duck", "MAND"),
        ("Mm", "", "Mill Mongrel", "MM"),
        ("M1MO", "", "Mill Mongrel", "MIMO"),
        ("mongrel", "", "Mill Mongrel", "MIMO"),
        # Without any code there is the list's, or that of the rules.
        ("", "BARS", "Barn Swallow", "BARS"),
        ("", "", "Mill Mongrel", "MIMO"),
        # Where the rules give none, two birds would share the code that neither has.
        ("\u30a2\u30aa", "", "\u30a2\u30aa\u30b5\u30ae", "\u30a2\u30aa"),
        ("", "", "\u30a2\u30aa\u30b5\u30ae", ""),
    ],
)
def test_a_malformed_code_gives_way(written: str, listed: str, name: str, code: str) -> None:
    """To the list, to what its letters mean, to the rules, in this order."""
    assert code_in_force(written, listed, name) == code


@given(st.text(max_size=6) | st.text("ABab0- ", max_size=6))
def test_a_code_counts_exactly_if_it_could_be_one(written: str) -> None:
    """What the check calls malformed is what gives way, whatever is written."""
    assert (code_in_force(written, "LIST", "Mill Mongrel") == written) == is_well_formed(written)
