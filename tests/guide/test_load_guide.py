"""From a folder to the guide: which files are read, in which order they come out, and what is said of the rest."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any

import pytest

from tertial.loading import find_guide, load_guide
from tertial.marks.plumages import ALL, Plumage
from tertial.text.problem import Severity

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from tertial.guide import Guide

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

NAMES = ("Downy Woodpecker", "Hairy Woodpecker", "House Finch", "Purple Finch", "Cooper's Hawk", "Made-up Bird")


def species(name: str, *lines: str) -> str:
    """Write an account of a species, with further lines of front matter."""
    return "\n".join(("---", f"species: {name}", *lines, "---", "Seen at the mill.", ""))


def problems(guide: Guide) -> list[tuple[str, str, Severity]]:
    """Give word, file and weight of everything that was said while loading."""
    return [(problem.word, problem.source.path, problem.severity) for problem in guide.problems]


def summary(guide: Guide) -> object:
    """Give all that later rooms see of the order of a guide."""
    return (
        [(each.name, each.code, each.slug, each.entry.source.path) for each in guide.species],
        [(each.entry.name.value, each.slug) for each in guide.flocks],
        [(type(each).__name__, each.slug, each.entry.source.path) for each in guide.accounts()],
        [(pair.first.code, pair.second.code, pair.slug) for pair in guide.pairs],
        problems(guide),
        dict(guide.by_code).keys(),
    )


def test_an_empty_folder_is_a_guide_without_entries(tmp_path: Path) -> None:
    """Neither settings nor entries need be there; nothing is wrong with that, and nothing is read."""
    guide = load_guide(tmp_path)
    assert (tuple(guide.accounts()), guide.pairs) == ((), ())
    assert (guide.files, guide.problems, guide.scheme) == (0, (), "IBP")
    assert list(tmp_path.iterdir()) == []


def test_settings_without_entries_are_read(make_guide: MakeGuide) -> None:
    """The file ``guide.yaml`` alone makes a guide."""
    guide = load_guide(make_guide({"guide.yaml": "title: Birds\ncodes: BBL\n"}))
    assert guide.settings.title is not None
    assert (guide.settings.title.value, guide.scheme, guide.files) == ("Birds", "BBL", 0)


def test_species_come_in_list_order_whatever_their_files(make_guide: MakeGuide) -> None:
    """The order is the checklist's, with the birds that it does not have last; folders and names do not count."""
    folder = make_guide({f"entries/{9 - at}/{at}.md": species(name) for at, name in enumerate(sorted(NAMES))})
    guide = load_guide(folder)
    listed = [each.bird.sequence for each in guide.species if each.bird]
    assert len(listed) == 5
    assert listed == sorted(listed, key=lambda number: number or 0)
    assert guide.species[-1].name == "Made-up Bird"


@pytest.mark.parametrize("backwards", [False, True])
def test_the_order_of_the_disk_does_not_matter(
    make_guide: MakeGuide, monkeypatch: pytest.MonkeyPatch, backwards: bool
) -> None:
    """Files that the disk gives in another order make the same guide, with the same problems in the same order."""
    files = {f"entries/{name}/{name[::-1]}.md": species(name, "similar: [DOWO, HOFI]", "colour: no") for name in NAMES}
    files |= {f"entries/x{at}.md": species("Downy Woodpecker", f"colour{at}: no") for at in "123"}
    files |= {"entries/b/y.md": species("Made-up Bird", "marks: [")}
    files |= {f"entries/{at}.md": f"---\nflock: Wood\n---\n{at}\n" for at in "123"}
    files |= {f"entries/n{at}.md": f"---\n{kind}: Mill\n---\n" for at, kind in enumerate(("place", "outing", "place"))}
    folder = make_guide(files)
    expected = summary(load_guide(folder))
    walk = os.walk

    def other_walk(*words: Any, **settings: Any) -> Iterator[tuple[str, list[str], list[str]]]:
        for where, folders, names in walk(*words, **settings):
            for each in (folders, names):
                each.sort(reverse=backwards)
            yield where, folders, names

    monkeypatch.setattr(os, "walk", other_walk)
    assert summary(load_guide(folder)) == expected


def test_only_entries_are_read(make_guide: MakeGuide) -> None:
    """Hidden files and folders, backups and files of other kinds are passed over; what looks like an entry is told."""
    good = species("Downy Woodpecker")
    passed_over = (".hidden.md", ".drafts/a.md", "a.md~", ".a.md.txt", "#a.md#", "picture.png", "md", "._a.md")
    folder = make_guide({"entries/read.md": good, "entries/deep/er/too.markdown": "---\nflock: Wood\n---\n"})
    make_guide({f"entries/{name}": good for name in passed_over})
    make_guide({"outside.md": good, "outside.txt": good, "build/entries/a.md": good, "entries/a.txt": "the wren?\n"})
    guide = load_guide(folder)
    assert set(guide.by_path) == {"entries/read.md", "entries/deep/er/too.markdown"}
    assert (guide.files, guide.problems) == (2, ())


@pytest.mark.parametrize("text", [species("House Finch"), "\ufeff" + species("House Finch").replace("\n", "\r\n"), ""])
def test_an_entry_under_another_ending_is_named(make_guide: MakeGuide, text: str) -> None:
    """What an editor has named, and the system does not show, would be missing without a word."""
    folder = make_guide({"entries/deep/a.md.txt": text, "entries/b.MD": text, "entries/c.md": species("Blue Jay")})
    guide = load_guide(folder)
    assert problems(guide) == [
        ("not-read", "entries/b.MD", Severity.WARNING),
        ("not-read", "entries/deep/a.md.txt", Severity.WARNING),
    ]
    assert [problem.mend for problem in guide.problems] == ["name it b.md", "name it a.md"]
    assert (set(guide.by_path), guide.files) == ({"entries/c.md"}, 1)


def test_files_that_are_named_as_proposed_take_no_other_s_name(make_guide: MakeGuide) -> None:
    """Who follows every proposal has as many files as before, and all of them are read."""
    names = ("A.md", "a.md.txt", "a.txt", "a-2.MD", "b.md.txt", "b.markdown.txt", "b.TXT", "c.txt", "c.md/d.md")
    folder = make_guide({f"entries/{name}": f"---\nflock: {name}\n---\n" for name in names})
    for problem in load_guide(folder).problems:
        file = folder / problem.source.path
        free = file.with_name(problem.mend.rpartition(" ")[2])
        assert not free.exists()
        file.rename(free)
    guide = load_guide(folder)
    assert ([flock.name for flock in guide.flocks], guide.problems) == (sorted(names), ())


def test_a_file_that_is_no_text_is_named_with_its_byte(make_guide: MakeGuide) -> None:
    """A file in another encoding is an error at the byte in question, and the others are read all the same."""
    latin = species("Épervier brun").encode("latin-1")
    guide = load_guide(make_guide({"entries/a.md": latin, "entries/b.md": species("Downy Woodpecker")}))
    assert problems(guide) == [("not-text", "entries/a.md", Severity.ERROR)]
    (problem,) = guide.problems
    assert (problem.source.position(problem.span.start).line, "0xc9" in problem.message) == (2, True)
    assert ([each.code for each in guide.species], guide.files) == (["DOWO"], 2)


@pytest.mark.parametrize("path", ["entries/a.md", "guide.yaml"])
def test_a_file_that_cannot_be_read_is_named(make_guide: MakeGuide, monkeypatch: pytest.MonkeyPatch, path: str) -> None:
    """A file that the system withholds is an error of that file, not the end of the run."""
    folder = make_guide({"entries/a.md": species("Hairy Woodpecker"), "entries/b.md": species("Downy Woodpecker")})
    read = type(folder).read_bytes

    def withheld(self: Path) -> bytes:
        if self == folder / path:
            raise PermissionError(13, "Permission denied", str(self))
        return read(self)

    monkeypatch.setattr(type(folder), "read_bytes", withheld)
    guide = load_guide(folder)
    assert problems(guide) == [("not-text", path, Severity.ERROR)]
    assert "Permission denied" in guide.problems[0].message
    assert "DOWO" in guide.by_code


def test_a_folder_that_cannot_be_read_ends_the_run(make_guide: MakeGuide, monkeypatch: pytest.MonkeyPatch) -> None:
    """Entries that cannot be listed must not count as deleted: the system's failure is passed on."""
    folder = make_guide({"entries/a.md": species("Hairy Woodpecker"), "entries/deep/b.md": species("House Finch")})
    scan = os.scandir

    def withheld(path: str) -> object:
        if str(path).endswith("deep"):
            raise PermissionError(13, "Permission denied", str(path))
        return scan(path)

    monkeypatch.setattr(os, "scandir", withheld)
    with pytest.raises(PermissionError):
        load_guide(folder)


def test_links_that_run_in_circles_do_no_harm(make_guide: MakeGuide) -> None:
    """A folder that is a link is named and not followed, and a file that is a link to itself is named."""
    folder = make_guide({"entries/a.md": species("Hairy Woodpecker")})
    (folder / "entries/round").symlink_to(folder / "entries", target_is_directory=True)
    (folder / "entries/b.md").symlink_to("b.md")
    guide = load_guide(folder)
    assert problems(guide) == [
        ("not-read", "entries/round", Severity.WARNING),
        ("not-text", "entries/b.md", Severity.ERROR),
    ]
    assert ([each.code for each in guide.species], guide.files) == (["HAWO"], 2)


@pytest.mark.parametrize(
    ("lines", "code"),
    [
        ((), "HAWO"),
        (("code: HAIR",), "HAIR"),
        (("code: ''",), "HAWO"),
    ],
)
def test_the_author_s_code_comes_before_the_list_s(make_guide: MakeGuide, lines: tuple[str, ...], code: str) -> None:
    """A code that is written is in force; otherwise it is that of the list."""
    guide = load_guide(make_guide({"entries/a.md": species("Hairy Woodpecker", *lines)}))
    assert ([each.code for each in guide.species], set(guide.codes)) == ([code], {code})


@pytest.mark.parametrize(
    ("name", "scheme", "code"),
    [
        # Institute for Bird Populations, list of 2024: for Bank Swallow and Barn Swallow the rules give the same.
        ("Bank Swallow", "IBP", "BANS"),
        ("Barn Swallow", "IBP", "BARS"),
        ("Épervier brun", "IBP", "SSHA"),
        ("Accipiter striatus", "BBL", "SSHA"),
        # On no list: by the rules of Klimkiewicz and Robbins 1978.
        ("Made-up Bird", "IBP", "MUBI"),
    ],
)
def test_a_name_finds_its_code(make_guide: MakeGuide, name: str, scheme: str, code: str) -> None:
    """English, French and scientific names lead to the list's code; a bird of one's own gets one by the rules."""
    guide = load_guide(make_guide({"guide.yaml": f"codes: {scheme}\n", "entries/a.md": species(name)}))
    assert [each.code for each in guide.species] == [code]


def test_two_accounts_of_one_name_both_stand(make_guide: MakeGuide) -> None:
    """Each has a page of its own, and the code leads to the first by its path; the checks say what is wrong."""
    text = species("Hairy Woodpecker")
    guide = load_guide(make_guide({"entries/b.md": text, "entries/a.md": text, "entries/c.md": text}))
    assert [(each.entry.source.path, each.slug) for each in guide.species] == [
        ("entries/a.md", "hairy-woodpecker"),
        ("entries/b.md", "hairy-woodpecker-2"),
        ("entries/c.md", "hairy-woodpecker-3"),
    ]
    assert guide.by_code["HAWO"] is guide.species[0]


def test_pages_of_one_kind_never_share_a_name(make_guide: MakeGuide) -> None:
    """Names that differ only in signs, and one that is the list's own, get addresses of their own."""
    names = ("Alder Bird", "Alder-Bird", "Älder Bird", "alder bird 2", "Index", "…", "鳥")
    files = {f"entries/{at}.md": species(name, f"code: XX{'ABCDEFG'[at]}") for at, name in enumerate(names)}
    files |= {f"entries/flock-{at}.md": f"---\nflock: {name}\n---\n" for at, name in enumerate(names)}
    guide = load_guide(make_guide(files))
    for slugs in ([each.slug for each in guide.species], [each.slug for each in guide.flocks]):
        assert len(set(slugs)) == len(names)
        assert "index" not in slugs


@pytest.mark.parametrize(
    ("hairy", "downy"),
    [("[DOWO]", "[]"), ("[]", "[HAWO]"), ("[DOWO]", "[HAWO]"), ("{DOWO: larger}", "{HAWO: smaller}")],
)
def test_either_of_two_makes_them_a_pair(make_guide: MakeGuide, hairy: str, downy: str) -> None:
    """One pair comes of it, the first in list order first, whoever named the other."""
    files = {
        "entries/a.md": species("Hairy Woodpecker", f"similar: {hairy}"),
        "entries/b.md": species("Downy Woodpecker", f"similar: {downy}"),
        "entries/c.md": species("House Finch", "similar: [HOFI, PUFI, hawo]"),
    }
    guide = load_guide(make_guide(files))
    assert [(pair.first.code, pair.second.code, pair.slug) for pair in guide.pairs] == [("DOWO", "HAWO", "dowo-hawo")]


def test_pairs_of_codes_alike_have_pages_of_their_own(make_guide: MakeGuide) -> None:
    """Codes that differ only in signs give addresses of their own, inside the folder of pairs."""
    # Of birds without letters, for which nothing but the code as written is there.
    codes = ("XX", "../xx", "x-x", "x x")
    files = {
        f"entries/{at}.md": species("鳥" * (at + 1), f"code: {code}", "similar: [YY]") for at, code in enumerate(codes)
    }
    guide = load_guide(make_guide({**files, "entries/y.md": species("Other Bird", "code: YY")}))
    slugs = [pair.slug for pair in guide.pairs]
    assert len(set(slugs)) == len(codes)
    assert all(slug.replace("-", "").isalnum() for slug in slugs)


@pytest.mark.parametrize(
    ("settings", "codes", "pages"),
    [
        ("", ["CANG", "HADU", "MIMO", "MM"], {"cang-hadu", "hadu-mimo", "mimo-mm"}),
        ("codes: BBL\n", ["CAGO", "HARD", "MIMO", "MM"], {"cago-hard", "hard-mimo", "mimo-mm"}),
    ],
)
def test_a_malformed_code_is_nowhere_in_force(
    make_guide: MakeGuide, settings: str, codes: list[str], pages: set[str]
) -> None:
    """The list in force, or the rules, stand in for it in codes, links, pairs and their addresses."""
    goose, duck, mongrel, other = codes
    files = {
        "guide.yaml": f"title: Test\n{settings}",
        "entries/a.md": species("Canada Goose", "code: C4NG", f"similar: [{duck}]"),
        "entries/b.md": species("Harlequin Duck", "code: hard", f"similar: [{goose}, {mongrel}]"),
        "entries/c.md": species("Mill Mongrel", "code: MONGREL", f"similar: [{other}]"),
        "entries/d.md": species("Millpond Mongrel", "code: mm"),
    }
    guide = load_guide(make_guide(files))
    assert [each.code for each in guide.species] == codes
    assert guide.codes == guide.by_code.keys() == set(codes)
    assert {pair.slug for pair in guide.pairs} == pages


def test_own_words_for_parts_lead_to_the_known_ones(make_guide: MakeGuide) -> None:
    """A part under the author's own word is recorded under the known one, and compared with it."""
    settings = "words:\n  part: {face stripe: supercilium, beak tooth: nonesuch, bill: nape}\n"
    text = species("Hairy Woodpecker", "marks:", "  male: |", "    face stripe: white", "    gizmo: odd")
    guide = load_guide(make_guide({"guide.yaml": settings, "entries/a.md": text}))
    (bird,) = guide.species
    (plumage,) = bird.records
    assert (plumage.sex, set(bird.records[plumage])) == ("male", {"supercilium", "gizmo"})
    assert [(word, source) for word, source, _ in problems(guide)] == [("unknown-part", "guide.yaml")] * 2
    assert "'nonesuch'" in guide.problems[0].message
    assert "'bill'" in guide.problems[1].message


def test_phrases_are_recorded_by_plumage_and_part(make_guide: MakeGuide) -> None:
    """Two words for one plumage or part make one record, the first phrase counts; unknown plumages have none."""
    text = species(
        "Hairy Woodpecker",
        "measures: |",
        "  bill: 30 mm",
        "  Length: 20 cm",
        "marks:",
        "  all: |",
        "    bill: long",
        "    beak: short",
        "  adult male: |",
        "    nape: red",
        "  male: |",
        "    nape: black",
        "  blue phase of the moon: |",
        "    nape: blue",
    )
    (bird,) = load_guide(make_guide({"entries/a.md": text})).species
    records = {
        plumage: {part: phrase.text.value for part, phrase in under.items()} for plumage, under in bird.records.items()
    }
    assert records == {ALL: {"bill": "long"}, Plumage("adult", "male"): {"nape": "red"}}
    assert [(plumage, *under) for plumage, under in bird.measures.items()] == [(ALL, "bill", "length")]


def test_a_guide_is_found_from_any_folder_in_it(make_guide: MakeGuide) -> None:
    """The nearest folder with a ``guide.yaml``, this one or above, is the guide; without one there is none."""
    folder = make_guide({"entries/species/a.md": species("Hairy Woodpecker"), "other/guide.yaml": "title: Inner\n"})
    assert find_guide(folder) == folder
    assert find_guide(folder / "entries/species") == folder
    assert find_guide(folder / "other/entries") == folder / "other"
    assert find_guide(folder.parent) is None
