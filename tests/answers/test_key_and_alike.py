"""``tertial key`` and ``tertial alike``: a way to one of several birds, and the birds that look alike."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner, Result

from tertial.answers.keying import find_group
from tertial.cli import main
from tertial.loading import load_guide
from tertial.report import cells

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Ask = Callable[..., Result]
    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]


@pytest.fixture
def ask_demo(repository: Path) -> Ask:
    """Put a command to the demo, in a terminal of the width given."""

    def put(*words: str, columns: int = 80) -> Result:
        return CliRunner().invoke(main, [*words, "--guide", str(repository)], env={"COLUMNS": str(columns)})

    return put


def test_a_key_asks_for_a_mark_in_the_words_of_the_authors(ask: Ask) -> None:
    """Each couplet has a number, the part that it asks for, and two answers."""
    done = ask("key", "DOWO", "hairy woodpecker")
    assert (done.exit_code, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines[0] == "A key to DOWO Downy Woodpecker, HAWO Hairy Woodpecker"
    at = lines.index("  1  bill; view: side")
    leads = [line.partition(":")[0] for line in lines[at + 1 :] if line.startswith("     - ")]
    assert leads[:2] == ["     - yellow", "     - black"]


def test_what_nothing_parts_ends_together(ask: Ask) -> None:
    """Both plumages of one bird that differ in nothing recorded stand at one end."""
    assert "not parted: Hairy Woodpecker, male; Hairy Woodpecker, female" in " ".join(
        ask("key", "DOWO", "HAWO").stdout.split()
    )


def test_programs_get_the_couplets(ask: Ask) -> None:
    """Leads, phrases and ends stand in fields of their own."""
    answer = json.loads(ask("key", "DOWO", "HAWO", "--json").stdout)
    first = answer["couplets"][0]
    assert (first["number"], first["from"], first["part"]) == (1, None, "bill")
    assert {tuple(lead["phrases"]) for lead in first["leads"]} == {("black",), ("yellow",)}
    ends = {name for end in answer["ends"] for name in end["plumages"]}
    assert "Downy Woodpecker, juvenile" in ends
    assert [bird["code"] for bird in answer["birds"]] == ["DOWO", "HAWO"]


@pytest.mark.parametrize(
    ("group", "codes"),
    [
        ("nuthatches", ["RBNU", "WBNU"]),
        ("Nuthatches", ["RBNU", "WBNU"]),
        ("the genus Tringa", ["GRYE", "LEYE", "SOSA"]),
        ("Tringa", ["GRYE", "LEYE", "SOSA"]),
        ("dryobates", ["DOWO", "HAWO"]),
        ("The genus Sitta", ["RBNU", "WBNU"]),
    ],
)
def test_a_group_of_the_guide_can_be_named(ask_demo: Ask, group: str, codes: list[str]) -> None:
    """A name in any capitals leads to all birds of a chosen group, of a flock or of a genus, two included."""
    answer = json.loads(ask_demo("key", group, "--json").stdout)
    assert sorted(bird["code"] for bird in answer["birds"]) == codes


def test_a_group_is_known_by_its_name_in_any_letters(make_guide: MakeGuide) -> None:
    """Names that have no Latin letters are not taken for one another."""
    birds = ("Mallard", "American Black Duck", "Downy Woodpecker", "Hairy Woodpecker")
    files = {f"entries/{bird[0]}.md": f"---\nspecies: {bird}\n---\n" for bird in birds}
    settings = "groups:\n  утки: [MALL, ABDU]\n  дятлы: [DOWO, HAWO]\n"
    guide = load_guide(make_guide({"guide.yaml": settings, **files}))
    found = [[bird.code for bird in find_group(guide, name)] for name in ("утки", "Дятлы", "совы")]
    assert [sorted(codes) for codes in found] == [["ABDU", "MALL"], ["DOWO", "HAWO"], []]


def test_the_likest_birds_come_first(ask_demo: Ask) -> None:
    """Each pair has its figure, the plumages, the marks it rests on, and whether the guide compares it."""
    answer = json.loads(ask_demo("alike", "--json").stdout)
    values = [pair["likeness"] for pair in answer["pairs"]]
    assert values == sorted(values, reverse=True)
    assert 5 < len(values) <= 20
    assert all(pair["shared marks"] >= answer["least shared marks"] == 8 for pair in answer["pairs"])
    assert {pair["compared"] for pair in answer["pairs"]} == {True, False}
    text = " ".join(ask_demo("alike").stdout.split())
    assert "LISP Lincoln's Sparrow" in text
    assert "marks; compared" in text
    assert "neither account names the other" in text


def test_one_bird_can_be_asked_for(ask_demo: Ask) -> None:
    """All pairs are then those of this bird."""
    answer = json.loads(ask_demo("alike", "least sandpiper", "--json").stdout)
    assert len(answer["pairs"]) > 1
    assert all("LESA" in (pair["first"]["code"], pair["second"]["code"]) for pair in answer["pairs"])


def test_a_measure_of_one_morph_leaves_the_size_of_all(make_guide: MakeGuide) -> None:
    """A wing that was measured of dark birds alone hides nothing of how large the bird is."""
    marks = ("bill: pink", "legs: pink", "crown: grey", "nape: grey", "back: grey", "tail: white", "eye: dark")
    under = "".join(f"    {mark}\n" for mark in (*marks, "belly: white"))
    text = "---\nspecies: {}\nwhen: all year\nsize:\n  mass: 2 kg\n{}marks:\n  all: |\n" + under + "---\n"
    morph = "measures:\n  dark morph: |\n    wing: 400 mm\n"
    files = {"entries/a.md": text.format("Snow Goose", morph), "entries/b.md": text.format("Ross's Goose", "")}
    answer = CliRunner().invoke(main, ["alike", "--json", "--guide", str(make_guide(files))])
    assert [pair["shared marks"] for pair in json.loads(answer.stdout)["pairs"]] == [9]


def test_without_enough_marks_nothing_is_called_alike(ask: Ask) -> None:
    """The answer says why it is empty."""
    done = ask("alike")
    assert done.exit_code == 0
    assert "none can be called alike yet" in " ".join(done.stdout.split())


@pytest.mark.parametrize("columns", [40, 60, 100])
@pytest.mark.parametrize("words", [("alike",), ("key", "LESA", "SESA", "LEYE")], ids=["alike", "key"])
def test_lines_fit_the_terminal(ask_demo: Ask, words: tuple[str, ...], columns: int) -> None:
    """However narrow it is, no line is wider."""
    done = ask_demo(*words, columns=columns)
    assert max(map(cells, done.stdout.splitlines())) <= columns


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("DOWO", "'DOWO' is one account, DOWO Downy Woodpecker; name two or more, or a group"),
        ("baeolophus", "'baeolophus' is a genus with one account; name two or more"),
        ("waders", "'waders' has no account in this guide, and is no group"),
    ],
)
def test_one_word_that_is_no_group_is_told_what_it_is(ask_demo: Ask, word: str, said: str) -> None:
    """A key to one bird leads nowhere."""
    done = ask_demo("key", word)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in " ".join(done.stderr.split())


def test_a_mistyped_group_is_answered_with_the_groups(ask_demo: Ask) -> None:
    """What the guide has is named, so that nothing needs looking up."""
    done = ask_demo("key", "small woodpeker")
    assert done.exit_code == 2
    assert "is no group; the groups are small woodpeckers, yellowlegs" in " ".join(done.stderr.split())


@pytest.mark.parametrize("words", [("alike", "XXXX"), ("key", "DOWO", "XXXX"), ("key",)])
def test_a_bird_without_account_is_wrong_use(ask: Ask, words: tuple[str, ...]) -> None:
    """Nothing is answered, and the exit code is 2."""
    done = ask(*words)
    assert (done.exit_code, done.stdout) == (2, "")
