"""Blocks of phrases: two ways of writing them, and three kinds of nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.entries.load import read_entry
from tertial.entries.species import SpeciesEntry
from tertial.text.problem import Severity
from tertial.text.source import SourceText

if TYPE_CHECKING:
    from tertial.entries.values import Phrase
    from tertial.text.problem import Problem

LITERAL = """\
  male: |
    nape: red patch, often divided by black
    outer tail feathers: white

    crown: not seen
  female: |-
    nape: black and white
"""
MAPPING = """\
  male:
    nape: red patch, often divided by black
    outer tail feathers: white
    crown: not seen
  female:
    nape: black and white
"""
BRACES = """\
  male: {nape: "red patch, often divided by black", 'outer tail feathers': white, crown: not seen}
  female: {nape: black and white}
"""


def read(lines: str) -> tuple[SpeciesEntry, tuple[Problem, ...]]:
    """Read a species account with these lines."""
    entry, problems = read_entry(SourceText("entries/hairy.md", f"---\nspecies: Hairy Woodpecker\n{lines}\n---\n"))
    assert isinstance(entry, SpeciesEntry)
    return entry, problems


def plain(phrases: tuple[Phrase, ...]) -> list[tuple[str, str]]:
    """Parts and phrases without their places."""
    return [(phrase.part.value, phrase.text.value) for phrase in phrases]


@pytest.mark.parametrize("block", [LITERAL, MAPPING, BRACES], ids=["literal", "mapping", "braces"])
def test_marks_are_the_same_however_they_are_written(block: str) -> None:
    """A literal, a plain mapping and braces with quotes give the same phrases at their own places."""
    entry, problems = read(f"marks:\n{block}")
    assert problems == ()
    assert [(each.plumage.value, plain(each.phrases)) for each in entry.marks] == [
        (
            "male",
            [
                ("nape", "red patch, often divided by black"),
                ("outer tail feathers", "white"),
                ("crown", "not seen"),
            ],
        ),
        ("female", [("nape", "black and white")]),
    ]
    for each in entry.marks:
        for phrase in each.phrases:
            assert entry.source.slice(phrase.part.span).strip("\"'") == phrase.part.value
            assert entry.source.slice(phrase.text.span).strip("\"'") == phrase.text.value


@pytest.mark.parametrize("key", ["voice", "behaviour"])
@pytest.mark.parametrize("head", ["|", "|-", "|+", ">", "|2", ""])
def test_other_blocks_are_the_same_however_they_are_written(key: str, head: str) -> None:
    """Whatever sign begins a literal, or none, the phrases are its lines."""
    entry, problems = read(f"{key}: {head}\n  call: sharp, high\n  at rest: silent")
    assert problems == ()
    phrases = entry.voice if entry.behaviour is None else entry.behaviour.notes
    assert plain(phrases) == [("call", "sharp, high"), ("at rest", "silent")]


@pytest.mark.parametrize("line", ["nape:  red   patch", "nape:\tred patch", "nape : red patch", "nape: red patch  "])
def test_blanks_between_words_make_no_difference(line: str) -> None:
    """Part and phrase are the same in a literal and in a mapping, and their places leave out the blanks at the ends."""
    literal, problems = read(f"voice: |\n  {line}")
    mapping, more = read(f"voice:\n  {line}")
    assert problems == more == ()
    assert plain(literal.voice) == plain(mapping.voice) == [("nape", "red patch")]
    assert literal.source.slice(literal.voice[0].part.span) == "nape"
    assert " ".join(literal.source.slice(literal.voice[0].text.span).split()) == "red patch"


words = st.text(st.sampled_from("abc,-()/é'"), min_size=1).filter(
    lambda text: text.strip("'-") != "" and text[0] in "abc"
)


@given(st.dictionaries(words, st.lists(words, min_size=1).map(" ".join), min_size=1))
def test_any_phrases_are_the_same_in_a_literal_and_in_a_mapping(phrases: dict[str, str]) -> None:
    """What means nothing to YAML may be written either way."""
    lines = "".join(f"  {part}: {phrase}\n" for part, phrase in phrases.items())
    literal, problems = read(f"voice: |\n{lines}")
    mapping, more = read(f"voice:\n{lines}")
    assert problems == more == ()
    assert plain(literal.voice) == plain(mapping.voice) == list(phrases.items())


def test_only_the_first_colon_with_a_blank_parts_a_line() -> None:
    """In a literal colons, quotes, brackets and number signs belong to the phrase."""
    entry, problems = read('voice: |\n  call: "peek": sharp [x] {y} #2 at 7:30\n  part of day: e.g.: dawn')
    assert problems == ()
    assert plain(entry.voice) == [
        ("call", '"peek": sharp [x] {y} #2 at 7:30'),
        ("part of day", "e.g.: dawn"),
    ]


def test_a_block_without_plumages_counts_for_all() -> None:
    """Marks and measures may be written straight below their key."""
    entry, problems = read("marks: |\n  bill: black\nmeasures: |\n  bill: 32 mm")
    assert problems == ()
    assert [(block.plumage.value, plain(block.phrases)) for block in entry.marks] == [("all", [("bill", "black")])]
    assert entry.source.slice(entry.marks[0].plumage.span) == "marks"
    assert [(block.plumage.value, block.measures[0].part.value) for block in entry.measures] == [("all", "bill")]


def test_a_single_sentence_of_behaviour_is_a_note() -> None:
    """Without keys the whole is one note."""
    entry, problems = read("behaviour: works the trunk")
    assert problems == ()
    assert entry.behaviour is not None
    assert plain(entry.behaviour.notes) == [("notes", "works the trunk")]


@pytest.mark.parametrize(
    ("phrase", "unknown", "not_applicable"),
    [
        ("unknown", True, False),
        ("Unknown", True, False),
        ("not seen", True, False),
        ("not noted", True, False),
        ("does not apply", False, True),
        ("not applicable", False, True),
        ("none", False, False),
        ("no red", False, False),
        ("not seen well", False, False),
        ("unknown colour", False, False),
    ],
)
@pytest.mark.parametrize("head", [" |", ""], ids=["literal", "mapping"])
def test_looked_for_and_does_not_apply_are_kept_apart(
    phrase: str, unknown: bool, not_applicable: bool, head: str
) -> None:
    """What was looked for and not settled is one thing, what cannot be there another; the rest is a phrase."""
    entry, problems = read(f"marks:\n  male:{head}\n    crown: {phrase}")
    assert problems == ()
    (found,) = entry.marks[0].phrases
    assert (found.is_unknown, found.is_not_applicable) == (unknown, not_applicable)
    assert found.text.value == phrase


def test_what_was_not_written_is_not_there() -> None:
    """The third kind of nothing is the absence of a line."""
    entry, problems = read("marks:\n  male: |\n    nape: red")
    assert problems == ()
    assert [phrase.part.value for block in entry.marks for phrase in block.phrases] == ["nape"]
    assert entry.voice == ()
    assert entry.size is None


@pytest.mark.parametrize("head", [" |", ""], ids=["literal", "mapping"])
def test_a_part_with_nothing_behind_it_is_a_gap(head: str) -> None:
    """The part is named, the phrase is not made up, and the others are read."""
    entry, (problem,) = read(f"marks:\n  male:{head}\n    crown:\n    nape: red")
    assert (problem.word, problem.severity) == ("empty-value", Severity.GAP)
    assert entry.source.slice(problem.span) == "crown"
    assert [plain(block.phrases) for block in entry.marks] == [[("nape", "red")]]


@pytest.mark.parametrize("word", ["~", "null"])
def test_a_word_for_nothing_is_told_and_left_out(word: str) -> None:
    """In a mapping YAML reads it as nothing; the author meant a word."""
    entry, (problem,) = read(f"marks:\n  male:\n    crown: {word}\n    nape: red")
    assert (problem.word, entry.source.slice(problem.span)) == ("null-word", word)
    assert [plain(block.phrases) for block in entry.marks] == [[("nape", "red")]]


@pytest.mark.parametrize("word", ["~", "null", "?", "-", "\u2013", '""', "...", "n/a", "NA", "n.a.", "tbd"])
def test_signs_for_nothing_in_a_literal_are_told_and_left_out(word: str) -> None:
    """Three findings are meant by one sign: nobody can tell which, and nothing could be compared."""
    entry, (problem,) = read(f"marks:\n  male: |\n    crown: {word}\n    nape: red")
    assert (problem.word, entry.source.slice(problem.span)) == ("null-word", word)
    assert [plain(block.phrases) for block in entry.marks] == [[("nape", "red")]]


@pytest.mark.parametrize("words", ["none", "no", "2", "red?", "buff - white", "nape", "\u2642 red"])
def test_few_letters_are_words_too(words: str) -> None:
    """What says anything at all stays."""
    entry, problems = read(f"marks:\n  male: |\n    crown: {words}")
    assert problems == ()
    assert [plain(block.phrases) for block in entry.marks] == [[("crown", words)]]


@pytest.mark.parametrize(
    ("phrase", "note", "mend"),
    [
        ("long # not sure", "# not sure", "put it in brackets: (not sure)"),
        ("long   ##see plate", "##see plate", "put it in brackets: (see plate)"),
        ("long #", "#", "take the sign out"),
    ],
)
def test_a_comment_in_a_literal_is_told(phrase: str, note: str, mend: str) -> None:
    """There it is text, and would be printed; the phrase stays as it was written."""
    entry, (problem,) = read(f"marks:\n  male: |\n    crown: {phrase}")
    assert (problem.word, entry.source.slice(problem.span), problem.mend) == ("comment-in-literal", note, mend)
    assert [plain(block.phrases) for block in entry.marks] == [[("crown", " ".join(phrase.split()))]]


@pytest.mark.parametrize("phrase", ["as in plate #2", "a#b", 'call "pik # pik"'])
def test_a_number_sign_that_begins_no_comment_is_text(phrase: str) -> None:
    """Before figures, within a word and in quotes it means something else."""
    _, problems = read(f"marks:\n  male: |\n    crown: {phrase}")
    assert problems == ()


def test_lines_without_a_plumage_are_of_all() -> None:
    """A typical first entry: said once with the repair for all of its lines, and read on as it was meant."""
    entry, (problem,) = read("marks:\n  bill: short\n  male: |\n    nape: red\n  legs: grey")
    assert (problem.word, entry.source.slice(problem.span)) == ("unknown-plumage", "bill")
    assert problem.mend == "write all: |, and below it, from column 5 on, the lines of bill, legs"
    assert [(block.plumage.value, plain(block.phrases)) for block in entry.marks] == [
        ("all", [("bill", "short"), ("legs", "grey")]),
        ("male", [("nape", "red")]),
    ]
    assert read("marks:\n  all: |\n    bill: short\n    legs: grey\n  male: |\n    nape: red")[1] == ()


def test_a_line_without_a_plumage_gives_way_to_all() -> None:
    """Of a part written twice the first counts: the one that stands where it belongs."""
    entry, (problem,) = read("marks:\n  bill: short\n  all: |\n    bill: long")
    assert problem.mend == "set the line of bill below all: |, from column 5 on"
    assert [plain(block.phrases) for block in entry.marks] == [[("bill", "long")], [("bill", "short")]]


@pytest.mark.parametrize("key", ["marks", "measures"])
def test_a_plumage_with_nothing_under_it_is_a_gap(key: str) -> None:
    """A plumage that was begun and left is a good intention, and is named as one."""
    entry, (problem,) = read(f"{key}:\n  male:\n  female: |\n    bill: 32 mm")
    assert (problem.word, problem.severity) == ("empty-value", Severity.GAP)
    assert entry.source.slice(problem.span) == "male"


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("similar:\n  DOWO: bill\n  NUWO:", [("DOWO", "bill"), ("NUWO", None)]),
        ("similar: |\n  DOWO: bill\n  NUWO:", [("DOWO", "bill"), ("NUWO", None)]),
        ("similar: [DOWO, NUWO]", [("DOWO", None), ("NUWO", None)]),
        ("similar:\n  - DOWO\n  - NUWO", [("DOWO", None), ("NUWO", None)]),
        ("similar: DOWO", [("DOWO", None)]),
        ("similar: DOWO, NUWO", [("DOWO", None), ("NUWO", None)]),
    ],
)
def test_look_alikes_may_be_listed_or_remarked_on(lines: str, expected: list[tuple[str, str | None]]) -> None:
    """Every way of writing gives the same codes, each at its place."""
    entry, problems = read(lines)
    assert problems == ()
    found = [(each.code.value, each.remark.value if each.remark else None) for each in entry.similar]
    assert found == expected
    assert [entry.source.slice(each.code.span) for each in entry.similar] == [code for code, _ in expected]


def test_a_part_written_twice_in_a_literal_names_both_places() -> None:
    """The first is kept, as in a mapping."""
    literal, (problem,) = read("voice: |\n  call: a\n  song: b\n  call: c")
    mapping, (same,) = read("voice:\n  call: a\n  song: b\n  call: c")
    assert plain(literal.voice) == plain(mapping.voice) == [("call", "a"), ("song", "b")]
    assert problem.word == same.word == "key-twice"
    places = [literal.source.position(span.start) for span in (problem.span, problem.also[0].span)]
    assert [(place.line, place.column) for place in places] == [(6, 3), (4, 3)]
