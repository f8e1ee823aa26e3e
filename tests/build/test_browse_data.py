"""The data that pages for the reader's own choice look up in, from build to build."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from typing import TYPE_CHECKING

from tertial.build import build_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Tree = Callable[[Path], dict[str, bytes]]

ENTRY = "---\nspecies: {}\nmarks: |\n  bill: {}\n  nape: red\n---\n{}\n"
DOWNY = ("Downy Woodpecker", "short", "Seen.")
HAIRY = ("Hairy Woodpecker", "long", "Heard.")


def guide_of(make_guide: Callable[[Mapping[str, str | bytes]], Path], *birds: tuple[str, str, str]) -> Path:
    return make_guide({f"entries/{at}.md": ENTRY.format(*bird) for at, bird in enumerate(birds)})


def test_a_mark_that_is_changed_is_changed_in_all_data(
    tmp_path: Path, make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """A build after another gives the data that a first build gives, on every page that uses them."""
    folder = guide_of(make_guide, DOWNY, HAIRY)
    build_guide(folder)
    before = tree(folder / "build")
    guide_of(make_guide, DOWNY, (HAIRY[0], "long, usually black", HAIRY[2]))
    build_guide(folder)
    after = tree(folder / "build")
    shutil.copytree(folder / "entries", tmp_path / "clean/entries")
    shutil.copy(folder / "guide.yaml", tmp_path / "clean")
    build_guide(tmp_path / "clean")
    assert after == tree(tmp_path / "clean/build")
    changed = {path for path in after if after[path] != before.get(path)}
    assert {"data/marks.js", "data/sorting.js", "data/species/hairy-woodpecker.js", "sorting.html"} <= changed


def test_prose_that_is_changed_leaves_the_data_alone(
    make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """What is not compared costs no new data but of the words themselves."""
    folder = guide_of(make_guide, DOWNY, HAIRY)
    build_guide(folder)
    before = tree(folder / "build")
    guide_of(make_guide, DOWNY, (*HAIRY[:2], "Heard again."))
    build_guide(folder)
    after = tree(folder / "build")
    changed = {path for path in after if after[path] != before[path]}
    assert "species/hairy-woodpecker.html" in changed
    assert {path for path in changed if path.startswith("data/")} == {"data/words.js"}


def test_a_size_that_is_changed_is_changed_on_the_sheet(
    make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """The question of size is there once an account has a size, and follows it; loose words have no rung."""
    sized = "---\nspecies: Downy Woodpecker\nsize:\n  class: {}\nmarks: |\n  bill: short\n---\nSeen.\n"
    sheets = []
    for words in ("starling-sized", "kinglet-sized", "larger than a kinglet"):
        folder = make_guide({"entries/0.md": sized.format(words)})
        build_guide(folder)
        files = tree(folder / "build")
        found = re.search(rb'"sizes":(.*?),"fits"', files["data/sorting.js"])
        assert found
        sheets.append((found[1].decode(), b'id="beside"' in files["sorting.html"]))
    assert sheets == [('[[3,"starling-sized"]]', True), ('[[0,"kinglet-sized"]]', True), ("[null]", False)]


def test_parts_in_letters_of_no_id_have_ids_of_their_own(
    make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """Two words that only their author knows, and that no address can hold, are two on every page."""
    text = "---\nspecies: {}\nmarks: |\n  нос: {}\n  лоб: {}\n---\n"
    files = {"entries/a.md": text.format("Downy Woodpecker", "white", "black")}
    folder = make_guide({**files, "entries/b.md": text.format("Hairy Woodpecker", "black", "white")})
    build_guide(folder)
    pages = {path: data.decode() for path, data in tree(folder / "build").items() if path.endswith(".html")}
    twice = {
        path: [name for name, times in Counter(re.findall(r'\sid="([^"]*)"', text)).items() if times > 1]
        for path, text in pages.items()
    }
    assert not any(twice.values()), twice
    assert pages["sorting.html"].count('id="of-own-') == pages["colours.html"].count('<h2 id="own-') == 2
