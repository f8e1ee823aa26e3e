"""Files are followed: what is saved is read again, what is not is not, and whoever listens is told."""

from __future__ import annotations

import os
import queue
from typing import TYPE_CHECKING

import pytest
from tests.proof.reader import BROKEN, DOT, DOWNY, HAIRY, PATIENCE, Reader

from tertial.keeping import KeptEntries
from tertial.loading import load_guide
from tertial.proof.following import Follower

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

LONG_AGO = (1_700_000_000, 1_700_000_000)


def test_a_saved_entry_is_on_its_page(proof: Reader) -> None:
    """After the notice, the page shows what was saved and no longer the problem that was mended."""
    before = proof.checked()
    after = proof.save("entries/hairy.md", HAIRY.replace("nap:", "nape:").replace("mill", "weir"))
    page = proof.ask("/species/hairy-woodpecker.html").text
    assert after != before
    assert f'data-state="{after}"' in page
    assert "Met at the weir" in page
    assert "unknown-part" not in page


def test_an_entry_that_comes_goes_and_breaks_is_followed(proof: Reader) -> None:
    """A new entry has a page, a broken one is text, and one that is gone is gone."""
    address = "/species/pileated-woodpecker.html"
    assert proof.ask(address).status == 404
    proof.save("entries/deep/in/pileated.md", "---\nspecies: Pileated Woodpecker\n---\nAt last.\n")
    assert proof.ask(address).status == 200
    proof.save("entries/deep/in/pileated.md", BROKEN)
    assert "No page could be made of this file" in proof.ask(address).text
    assert proof.ask("/proof/text/entries/deep/in/pileated.md.html").status == 200
    news = proof.news()
    before = next(news)[1]
    (proof.folder / "entries/deep/in/pileated.md").unlink()
    assert next(state for _, state in news if state != before)
    assert proof.ask("/proof/text/entries/deep/in/pileated.md.html").status == 404


def test_settings_saved_by_renaming_are_followed_time_and_again(proof: Reader) -> None:
    """Editors that write beside a file and rename are followed as well as those that write into it."""
    for title in ("First light", "Second thoughts"):
        news = proof.news()
        before = next(news)[1]
        (proof.folder / ".guide.yaml.part").write_text(f"title: {title}\n", encoding="utf-8")
        (proof.folder / ".guide.yaml.part").replace(proof.folder / "guide.yaml")
        assert next(state for _, state in news if state != before)
        assert f"<title>{title}</title>" in proof.ask("/").text


def test_a_layout_that_comes_later_is_followed(proof: Reader) -> None:
    """A template of the guide's own takes the built-in one's place when it is saved, and gives it back."""
    proof.save("layouts/method.html", "{% extends 'base.html' %}{% block content %}My own way{% endblock %}")
    assert "My own way" in proof.ask("/method.html").text
    news = proof.news()
    before = next(news)[1]
    (proof.folder / "layouts/method.html").unlink()
    assert next(state for _, state in news if state != before)
    assert "Watching without harm" in proof.ask("/method.html").text


def test_a_picture_that_comes_later_is_followed(open_proof: Callable[..., Reader]) -> None:
    """A picture saved beside its entry is on the page, and the error is gone."""
    sketch = "sketches:\n  - file: dot.png\n    alt: A dot\n"
    proof = open_proof({"entries/hairy.md": HAIRY.replace("marks:", f"{sketch}marks:")})
    proof.checked()
    assert "picture-missing" in proof.ask("/species/hairy-woodpecker.html").text
    proof.save("entries/dot.png", DOT)
    page = proof.ask("/species/hairy-woodpecker.html").text
    assert "picture-missing" not in page
    assert 'alt="A dot"' in page


def test_entries_that_come_to_an_empty_guide_are_followed(open_proof: Callable[..., Reader]) -> None:
    """A guide may begin without a folder of entries."""
    proof = open_proof({})
    proof.save("entries/hairy.md", HAIRY)
    proof.save("entries/downy.md", DOWNY)
    assert proof.ask("/species/downy-woodpecker.html").status == 200


def test_a_line_tells_what_changed_and_how_things_stand(open_proof: Callable[..., Reader]) -> None:
    """Who watches the terminal reads the file's name and the number of problems."""
    lines: queue.Queue[str] = queue.Queue()
    proof = open_proof({"entries/hairy.md": HAIRY}, lines.put)
    assert lines.get(timeout=PATIENCE) == "1 entry read; 1 warning."
    proof.save("entries/downy.md", DOWNY)
    assert lines.get(timeout=PATIENCE) == "entries/downy.md changed; 2 entries read; 1 warning."


@pytest.fixture
def followed(make_guide: MakeGuide) -> Iterator[tuple[Path, queue.Queue[frozenset[str]]]]:
    """A guide that is followed, and what was told of it."""
    folder = make_guide({"entries/hairy.md": HAIRY, "layouts/own.txt": "", "build/index.html": "", ".tertial/x": ""})
    told: queue.Queue[frozenset[str]] = queue.Queue()
    follower = Follower(folder, told.put)
    assert follower.wait_ready(PATIENCE)
    yield folder, told
    follower.close()


def test_what_is_not_the_authors_is_not_followed(followed: tuple[Path, queue.Queue[frozenset[str]]]) -> None:
    """Builds, stores, hidden files and safety copies of editors are nobody's news."""
    folder, told = followed
    for path in ("build/index.html", ".tertial/x", ".git/HEAD", "entries/.hairy.md.swp", "entries/hairy.md~", "x.txt"):
        (folder / path).parent.mkdir(exist_ok=True)
        (folder / path).write_text("other", encoding="utf-8")
    (folder / "entries/hairy.md").write_text(DOWNY, encoding="utf-8")
    paths: set[str] = set()
    while "entries/hairy.md" not in paths:
        paths |= told.get(timeout=PATIENCE)
    assert paths == {"entries/hairy.md"}


def test_a_file_is_read_again_only_when_it_changed(make_guide: MakeGuide) -> None:
    """Entries that stayed as they were are the very same, read and linked once."""
    folder = make_guide({"entries/hairy.md": HAIRY, "entries/downy.md": DOWNY})
    for path in (folder / "entries").iterdir():
        os.utime(path, LONG_AGO)
    kept = KeptEntries()
    before = load_guide(folder, kept).by_path
    (folder / "entries/hairy.md").write_text(HAIRY.replace("mill", "weir"), encoding="utf-8")
    after = load_guide(folder, kept).by_path
    assert after["entries/downy.md"].entry is before["entries/downy.md"].entry
    assert after["entries/hairy.md"].entry is not before["entries/hairy.md"].entry
    assert "weir" in after["entries/hairy.md"].entry.source.text


def test_two_saves_in_one_tick_of_the_clock_are_two(make_guide: MakeGuide) -> None:
    """A file saved this very moment is read again, because another save of its length could look the same."""
    folder = make_guide({"entries/hairy.md": HAIRY})
    path = folder / "entries/hairy.md"
    kept = KeptEntries()
    load_guide(folder, kept)
    time = path.stat().st_mtime_ns
    path.write_text(HAIRY.replace("mill", "weir"), encoding="utf-8")
    os.utime(path, ns=(time, time))
    assert "weir" in load_guide(folder, kept).by_path["entries/hairy.md"].entry.source.text


def test_own_words_in_the_settings_link_every_account_anew(make_guide: MakeGuide) -> None:
    """What an account knows of parts follows the settings, although its own file did not change."""
    folder = make_guide({"entries/hairy.md": HAIRY})
    os.utime(folder / "entries/hairy.md", LONG_AGO)
    kept = KeptEntries()
    before = load_guide(folder, kept)
    (folder / "guide.yaml").write_text("title: Test\nwords:\n  part:\n    nap: nape\n", encoding="utf-8")
    after = load_guide(folder, kept)
    assert [sorted(parts) for parts in before.species[0].records.values()] == [["nap"]]
    assert [sorted(parts) for parts in after.species[0].records.values()] == [["nape"]]


def test_a_code_that_comes_or_goes_is_news_to_the_texts_that_name_it(make_guide: MakeGuide) -> None:
    """A label leads somewhere as long as its account is there, although the text that bears it did not change."""
    folder = make_guide({"entries/hairy.md": f"{HAIRY}\nBeside [the other one][DOWO] and [a third][ZZZ].\n"})
    os.utime(folder / "entries/hairy.md", LONG_AGO)
    others = {"entries/downy.md": DOWNY, "entries/z.md": "---\nspecies: Zaza bird\ncode: ZZZ\n---\n"}
    kept = KeptEntries()

    def labels() -> list[str]:
        return [each.target for _, each in load_guide(folder, kept).references() if each.kind == "label"]

    assert labels() == ["DOWO", "ZZZ"]
    make_guide(others)
    assert labels() == []
    (folder / "entries/downy.md").unlink()
    assert labels() == ["DOWO"]


def test_a_guide_loaded_with_and_without_memory_is_the_same(make_guide: MakeGuide) -> None:
    """What is kept between loads changes nothing but the time that they take."""
    folder = make_guide({"entries/hairy.md": HAIRY, "entries/downy.md": DOWNY, "entries/broken.md": BROKEN})
    kept = KeptEntries()
    load_guide(folder, kept)
    warm, cold = load_guide(folder, kept), load_guide(folder)
    assert [(each.code, each.slug, each.records) for each in warm.species] == [
        (each.code, each.slug, each.records) for each in cold.species
    ]
    assert [each.sort_key() for each in warm.problems] == [each.sort_key() for each in cold.problems]
