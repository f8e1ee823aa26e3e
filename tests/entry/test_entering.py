"""New entries: what stands in them, where they go, and when none is written."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tertial.cli import main
from tertial.entering import Refused, write_entry
from tertial.entries.load import KINDS, read_entry
from tertial.entries.species import SpeciesEntry
from tertial.loading import load_guide
from tertial.marks.families import habit_of, load_habits
from tertial.names.birds import SCHEMES, load_names
from tertial.schema import ENTRY_SCHEMA
from tertial.text.problem import Severity
from tertial.text.source import SourceText

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tertial.text.problem import Problem

    Enter = Callable[..., str]
    Ask = Callable[..., Refused]
    Check = Callable[[], list[Problem]]

TODAY = dt.date(2026, 3, 14)


def run(*words: str) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, words)
    return result.exit_code, result.stdout, result.stderr


def one_bird_each() -> dict[str, str]:
    """One bird for each group of the table, by its scientific name: the first that the group speaks for."""
    found: dict[str, str] = {}
    for bird in load_names():
        if bird.is_species:
            taxon = habit_of(bird.scientific.split()[0], bird.family, bird.order).taxon
            found.setdefault(taxon, bird.scientific)
    return found


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_bird_of_every_family_passes_check_without_a_warning(
    guide: Path, entered: Enter, worse_than_gaps: Check, scheme: str
) -> None:
    """Every skeleton is a sound entry before anything is filled in, by either list of codes."""
    (guide / "guide.yaml").write_text(f"codes: {scheme}\n", encoding="utf-8")
    birds = one_bird_each()
    # The table covers every family of some orders, whose own rows wait for families to come.
    assert {habit.taxon for habit in load_habits().values() if habit.taxon.endswith("idae")} <= set(birds)
    # Kept aside meanwhile, because every new entry begins with reading all others.
    aside = guide.parent / "aside"
    aside.mkdir()
    for name in birds.values():
        path = guide / entered(name)
        path.rename(aside / path.name)
    path.parent.rmdir()
    aside.rename(path.parent)
    assert len(load_guide(guide).species) == len(birds)
    assert worse_than_gaps() == []


@pytest.mark.parametrize("taxon", ["Scolopacidae", "Picidae", "Anatidae", "Branta", "Aves"])
def test_the_plumages_and_parts_of_the_family_stand_ready(guide: Path, entered: Enter, taxon: str) -> None:
    """Each plumage of the family has an empty literal, with the parts to look at on its line."""
    text = (guide / entered(one_bird_each()[taxon])).read_text(encoding="utf-8")
    habit = load_habits()[taxon]
    for plumage in habit.plumages:
        assert f"\n  {plumage}: |  # {', '.join(habit.parts_of(plumage))}\n" in text
    assert f"\nvoice: |  # below, one line a sound: {', '.join(habit.heard)}\n" in text


@pytest.mark.parametrize(
    "name",
    [
        "Hairy Woodpecker",
        "  hairy   WOODPECKER ",
        "hairy-woodpecker",
        "HAWO",
        "hawo",
        "Leuconotopicus villosus",
        "Pic chevelu",
    ],
)
def test_any_name_of_a_bird_leads_to_it(guide: Path, entered: Enter, name: str) -> None:
    """English in any spelling, code, scientific and French names give the same entry."""
    path = entered(name)
    assert path == "entries/species/hairy-woodpecker.md"
    entry, problems = read_entry(SourceText(path, (guide / path).read_text(encoding="utf-8")))
    assert isinstance(entry, SpeciesEntry)
    assert entry.name.value == "Hairy Woodpecker"
    assert entry.scientific is not None
    assert entry.scientific.value == "Leuconotopicus villosus"
    assert entry.code is not None
    assert entry.code.value == "HAWO"
    assert entry.written is not None
    assert entry.written.value == TODAY
    assert {problem.severity for problem in problems} == {Severity.GAP}


@pytest.mark.parametrize(("scheme", "name", "code"), [("IBP", "Gray Catbird", "GRCA"), ("BBL", "Gray Catbird", "GRCA")])
def test_name_and_code_are_those_of_the_list_in_force(guide: Path, scheme: str, name: str, code: str) -> None:
    """AviList writes Grey Catbird; both lists of codes write gray, and the entry follows them."""
    (guide / "guide.yaml").write_text(f"codes: {scheme}\n", encoding="utf-8")
    made = write_entry(guide, "species", "grey catbird", TODAY)
    assert not isinstance(made, Refused)
    text = made.read_text(encoding="utf-8")
    assert f"\nspecies: {name}\n" in text
    assert f"\ncode: {code}\n" in text


def test_a_code_on_which_the_lists_differ_goes_by_the_list_in_force(guide: Path) -> None:
    """A code that means two birds is no riddle where one of the lists is in force."""
    names = load_names()
    birds = next(
        (own, other)
        for own in names.listed("IBP")
        if (other := names.by_code(own.code_ibp, "BBL")) is not None
        and other != own
        and len(names.find(own.code_ibp)) > 1
    )
    code = birds[0].code_ibp
    for scheme, bird in zip(("IBP", "BBL"), birds, strict=True):
        (guide / "guide.yaml").write_text(f"codes: {scheme}\n", encoding="utf-8")
        made = write_entry(guide, "species", code, TODAY)
        assert not isinstance(made, Refused)
        name = bird.name_ibp if scheme == "IBP" else bird.name_bbl
        assert f"\nspecies: {name}\n" in made.read_text(encoding="utf-8")
        made.unlink()


def test_a_bird_outside_the_list_gets_a_code_that_is_nobody_s(
    guide: Path, entered: Enter, worse_than_gaps: Check
) -> None:
    """Where the natural code is another bird's, the last letter gives way, and check accepts it."""
    names = load_names()
    assert names.by_code("GRTI", "IBP") is not None, "Great Tit is no example any more"
    text = (guide / entered("Great Tit")).read_text(encoding="utf-8")
    assert "\ncode: GRTT\n" in text
    assert worse_than_gaps() == []


def test_forms_with_a_code_of_their_own_can_have_an_entry(guide: Path, entered: Enter, worse_than_gaps: Check) -> None:
    """What is no species has no scientific name in its entry, because lists write it in no fixed way."""
    text = (guide / entered("Myrtle Warbler")).read_text(encoding="utf-8")
    assert "\ncode: MYWA\n" in text
    assert "scientific:" not in text
    assert worse_than_gaps() == []


def test_a_name_that_is_none_is_answered_with_near_ones(refused: Ask) -> None:
    """A slip of the pen writes nothing and names what was likely meant."""
    answer = refused("hary woodpeker")
    assert "'hary woodpeker' is no name" in answer.reason
    assert "Hairy Woodpecker" in answer.mend
    assert refused("xyzzy").mend == "write its English, French or scientific name, or its code"


def test_a_word_of_names_that_is_a_code_too_writes_nothing(guide: Path, refused: Ask, entered: Enter) -> None:
    """Small letters most likely mean the wrens, not the one bird whose code they make; capitals mean the code."""
    answer = refused("wren")
    assert answer.reason == "'wren' is the code of Wrentit, and a word of other names"
    assert answer.mend.startswith("write WREN for Wrentit, or a whole name: ")
    assert "Canyon Wren" in answer.mend
    assert entered("WREN") == "entries/species/wrentit.md"
    assert entered("sora") == "entries/species/sora.md"


def test_a_name_of_two_birds_is_answered_with_both(refused: Ask) -> None:
    """The one French name that two birds share leads to neither of them."""
    names = load_names()
    shared = next(bird.french for bird in names if bird.french and len(names.find(bird.french)) > 1)
    answer = refused(shared)
    assert all(bird.english in answer.reason and bird.scientific in answer.mend for bird in names.find(shared))


@pytest.mark.parametrize(
    "front",
    ["species: Hairy Woodpecker", "species: hairy woodpecker", "species: Wood Knocker\ncode: HAWO"],
    ids=["the name", "another spelling", "the code"],
)
def test_a_bird_with_an_account_elsewhere_gets_no_second_one(guide: Path, refused: Ask, front: str) -> None:
    """Name or code decide, wherever the account lies, and the answer says where."""
    (guide / "entries/old").mkdir()
    (guide / "entries/old/knocker.md").write_text(f"---\n{front}\n---\n", encoding="utf-8")
    assert "entries/old/knocker.md" in refused("HAWO").reason


def test_a_file_that_cannot_be_read_as_an_entry_is_not_written_over(guide: Path, refused: Ask) -> None:
    """Whatever lies where the entry would go stays."""
    (guide / "entries/species").mkdir()
    (guide / "entries/species/hairy-woodpecker.md").write_bytes(b"\xff notes")
    assert refused("HAWO").reason == "entries/species/hairy-woodpecker.md is already there"


@pytest.mark.parametrize(
    ("others", "home"),
    [
        ([], "entries/species"),
        (["entries/downy.md"], "entries"),
        (["entries/birds/downy.md", "entries/birds/flicker.md"], "entries/birds"),
        (["entries/birds/downy.md", "entries/old/flicker.md"], "entries/species"),
    ],
    ids=["none yet", "at the top", "in one folder", "in several"],
)
def test_an_entry_goes_where_the_others_of_its_kind_lie(
    guide: Path, entered: Enter, others: list[str], home: str
) -> None:
    """The habit of the guide counts, if it has one."""
    for path, name in zip(others, ("Downy Woodpecker", "Northern Flicker"), strict=False):
        (guide / path).parent.mkdir(exist_ok=True)
        (guide / path).write_text(f"---\nspecies: {name}\n---\n", encoding="utf-8")
    path = entered("HAWO")
    assert path == f"{home}/hairy-woodpecker.md"
    modeline = (guide / path).read_text(encoding="utf-8").splitlines()[1]
    schema = modeline.removeprefix("# yaml-language-server: $schema=")
    assert ((guide / path).parent / schema).resolve() == (guide / ENTRY_SCHEMA).resolve()


@pytest.mark.parametrize(
    ("kind", "name", "path", "lines"),
    [
        ("flock", "Winter wood flock", "entries/flocks/winter-wood-flock.md", ["written: 2026-03-14", "members:"]),
        ("outing", "2026-01-17", "entries/outings/2026-01-17.md", ["outing: 2026-01-17", "counts: |", "# flocks:"]),
        ("outing", "", "entries/outings/2026-03-14.md", ["outing: 2026-03-14"]),
        (
            "place",
            "Upper Weir",
            "entries/places/upper-weir.md",
            ["place: Upper Weir", "id: upper-weir", "position:", "shown as: withheld"],
        ),
        ("unknown", "Brown duck, far out", "entries/unknown/brown-duck-far-out.md", ["seen: 2026-03-14", "marks: |"]),
    ],
)
def test_every_other_kind_has_its_skeleton(
    guide: Path, entered: Enter, worse_than_gaps: Check, kind: str, name: str, path: str, lines: list[str]
) -> None:
    """Flocks, outings, places and unknown birds begin as sound entries too."""
    assert entered(name, kind) == path
    written = [line.partition("  #")[0] for line in (guide / path).read_text(encoding="utf-8").splitlines()]
    assert set(lines) <= set(written)
    assert worse_than_gaps() == []


@pytest.mark.parametrize("kind", ["flock", "place", "unknown"])
def test_a_name_is_taken_once_within_its_kind(guide: Path, entered: Enter, refused: Ask, kind: str) -> None:
    """The same name in another spelling is the same thing, wherever its entry lies."""
    first = guide / entered("Upper Weir", kind)
    moved = first.rename(guide / "entries/elsewhere.md")
    assert moved.name in refused("upper WEIR", kind).reason


def test_a_day_may_have_several_outings(guide: Path, entered: Enter, worse_than_gaps: Check) -> None:
    """The second outing of a day gets a file of its own."""
    assert [entered("2026-01-17", "outing") for _ in range(3)] == [
        "entries/outings/2026-01-17.md",
        "entries/outings/2026-01-17-2.md",
        "entries/outings/2026-01-17-3.md",
    ]
    assert worse_than_gaps() == []


def test_an_outing_of_the_same_day_leaves_the_others_their_addresses(
    guide: Path, entered: Enter, worse_than_gaps: Check
) -> None:
    """Files that do not bear their day have addresses by it, and none of these is given to a new outing."""
    paths = [f"entries/walks/{name}.md" for name in ("mill", "weir", "2026-01-17-4", "2026-01-18")]
    (guide / "entries/walks").mkdir()
    for path in paths:
        (guide / path).write_text("---\nouting: 2026-01-17\n---\n", encoding="utf-8")
    before = {path: load_guide(guide).by_path[path].slug for path in paths}
    assert entered("2026-01-17", "outing") == "entries/walks/2026-01-17-5.md"
    after = {path: account.slug for path, account in load_guide(guide).by_path.items()}
    assert after == {**before, "entries/walks/2026-01-17-5.md": "2026-01-17-5"}
    assert worse_than_gaps() == []


def test_an_outing_offers_the_places_of_the_guide(guide: Path, entered: Enter) -> None:
    """The hint for the place names the ids that there are."""
    entered("Mill Yard", "place")
    assert "\nplace:  # id of the place: mill-yard\n" in (guide / entered("", "outing")).read_text(encoding="utf-8")


@pytest.mark.parametrize("day", ["yesterday", "17.1.2026", "2026-02-30"])
def test_a_day_that_is_none_is_refused(refused: Ask, day: str) -> None:
    """An outing has a day of the calendar, written as everywhere else."""
    assert day in refused(day, "outing").reason


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.text(st.characters(codec="utf-8"), min_size=1, max_size=40).filter(str.strip))
def test_any_name_is_read_back_as_it_was_given(guide: Path, worse_than_gaps: Check, name: str) -> None:
    """Colons, quotes, number signs and words that YAML takes for others survive; what cannot be printed is refused."""
    made = write_entry(guide, "unknown", name, TODAY)
    if isinstance(made, Refused):
        assert not " ".join(name.split()).isprintable()
        return
    try:
        (bird,) = load_guide(guide).unsolved
        assert bird.entry.name.value == " ".join(name.split())
        assert worse_than_gaps() == []
    finally:
        made.unlink()


@pytest.mark.parametrize("name", ["no", "null", "Duck: brown", "duck #2", "'quoted'", "- dash", "12:30", "{a, b}", "~"])
def test_hard_names_are_read_back_as_they_were_given(guide: Path, entered: Enter, name: str) -> None:
    """The texts that YAML would change are quoted."""
    entered(name, "unknown")
    assert [bird.entry.name.value for bird in load_guide(guide).unsolved] == [name]


@pytest.mark.parametrize("order", [("all", "male"), ("male", "all"), ("female", "all")], ids=" then ".join)
def test_marks_can_be_filled_in_from_any_end(guide: Path, entered: Enter, order: tuple[str, str]) -> None:
    """Lines set below any of the plumages are read as its marks; the hints are in nobody's way."""
    path = guide / entered("HAWO")
    for plumage in order:
        lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
        at = next(at for at, line in enumerate(lines) if line.startswith(f"  {plumage}: |"))
        lines[at + 1 : at + 1] = ["    bill: black\n", "    nape: white, no red\n"]
        path.write_text("".join(lines), encoding="utf-8")
    (species,) = load_guide(guide).species
    filled = {block.plumage.value: [phrase.part.value for phrase in block.phrases] for block in species.entry.marks}
    assert {plumage: parts for plumage, parts in filled.items() if parts} == {
        plumage: ["bill", "nape"] for plumage in order
    }


def test_the_command_prints_the_path(guide: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The path is told from where one stands, or whole where that is elsewhere."""
    monkeypatch.chdir(guide)
    assert run("entry", "HAWO") == (0, "entries/species/hairy-woodpecker.md\n", "")
    monkeypatch.chdir(guide.parent)
    path = guide / "entries/species/downy-woodpecker.md"
    assert run("entry", "DOWO", "--guide", "guide") == (0, f"{path.relative_to(guide.parent)}\n", "")
    code, out, _ = run("entry", "--outing", "--guide", str(guide))
    assert code == 0
    assert (guide.parent / out.strip()).parent == guide / "entries/outings"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["hary woodpeker"], 1, "no entry written: 'hary woodpeker' is no name in the list of birds\n    mend: "),
        ([], 2, "the entry has no name"),
        (["--place"], 2, "the entry has no name"),
        (["Winter flock", "--flock", "--place"], 2, "two kinds"),
    ],
    ids=["unknown name", "no name", "no name for a place", "two kinds"],
)
def test_what_cannot_be_written_is_said(guide: Path, words: list[str], code: int, said: str) -> None:
    """A name that leads nowhere is answered with 1, a wrong use with 2; nothing comes on standard output."""
    exit_code, out, err = run("entry", *words, "--guide", str(guide))
    assert (exit_code, out) == (code, "")
    assert said in err


def test_every_kind_has_a_skeleton_that_begins_with_it(guide: Path, entered: Enter) -> None:
    """The kinds of the reader and those of the command are the same."""
    for kind in KINDS:
        name = {"species": "HAWO", "outing": "2026-01-17"}.get(kind, "Some name")
        lines = (guide / entered(name, kind)).read_text(encoding="utf-8").splitlines()
        assert lines[2].startswith(f"{kind}: ")
