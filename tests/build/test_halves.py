"""Two processes build what one would: each does its half, and one does all when the other fails."""

from __future__ import annotations

import os
import shutil
from itertools import chain
from typing import TYPE_CHECKING

import pytest

from tertial import parallel, working
from tertial.build import build_guide
from tertial.checks import every
from tertial.names.birds import load_names
from tertial.parallel import Halves
from tertial.report import full

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    Tree = Callable[[Path], dict[str, bytes]]

THINGS = [f"thing {number}" for number in range(parallel.FEWEST + 1)]


@pytest.fixture(autouse=True)
def two_processors(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every machine have two processors."""
    monkeypatch.setattr(os, "cpu_count", lambda: 2)


def test_each_process_does_its_half_and_both_know_of_all() -> None:
    """What came of both halves is the same in both processes, and the last step ends the second one."""
    with Halves(len(THINGS)) as halves:
        known = halves.both({thing: os.getpid() for thing in halves.half(THINGS)})
        told = halves.gather({str(os.getpid()): sorted(known)})
    assert set(known) == set(THINGS)
    assert len(set(known.values())) == 2
    assert list(told.values()) == [sorted(THINGS)] * 2


def test_little_to_do_is_done_alone() -> None:
    """Below a certain number no second process is made."""
    with Halves(parallel.FEWEST - 1) as halves:
        assert halves.is_alone
        assert halves.half(THINGS) == THINGS
        assert halves.both({"a": 1}) == halves.gather({"a": 1}) == {"a": 1}


def test_the_twin_is_made_when_enough_is_found_to_do() -> None:
    """What is to do is known step by step; a twin that there is already does for all later ones."""
    with Halves(1) as halves:
        halves.divide(parallel.FEWEST - 1)
        assert halves.is_alone
        halves.divide(len(THINGS))
        halves.divide(len(THINGS))
        told = halves.gather({str(os.getpid()): halves.half(THINGS)})
    assert sorted(chain.from_iterable(told.values())) == sorted(THINGS)
    assert len(told) == 2


def test_a_process_whose_twin_fails_goes_on_alone() -> None:
    """The other half is missing once, and from then on everything is one's own."""
    with Halves(len(THINGS)) as halves:
        if halves.is_twin:
            os._exit(3)
        assert halves.both({"mine": 1}) == {"mine": 1}
        assert halves.is_alone
        halves.divide(len(THINGS))
        assert halves.half(THINGS) == THINGS


def test_two_who_begin_at_either_end_take_everything() -> None:
    """Each thing is taken, at most the one at which they meet by both; who is held up leaves the rest to the other."""
    ready, go = os.pipe()
    with Halves(len(THINGS)) as halves:
        taken = []
        for thing in halves.from_both_ends(THINGS):
            taken.append(thing)
            if halves.is_twin:
                os.read(ready, 1)
        os.write(go, b"x" * len(THINGS))
        told = halves.gather({str(halves.is_twin): taken})
    mine, theirs = told["False"], told["True"]
    assert mine == THINGS[: len(mine)]
    assert theirs == THINGS[::-1][: len(theirs)]
    assert set(mine) | set(theirs) == set(THINGS)
    assert len(theirs) <= 1


def entries() -> Iterator[tuple[str, str]]:
    """Give entries enough for two processes, each a look-alike of the next, and some with a fault."""
    birds = [bird for bird in load_names() if bird.code_ibp and bird.is_species][: parallel.FEWEST + 20]
    for at, bird in enumerate(birds):
        other = birds[at - 1].code_ibp
        fault = "colour: grey\n" * (at % 7 == 0)
        front = f"species: {bird.english}\n{fault}marks: |\n  bill: length {at}\nsimilar: [{other}]"
        yield f"entries/{at:03}.md", f"---\n{front}\n---\nNear {other}.\n"


@pytest.mark.parametrize("step", ["nowhere", "judge_front", "read_sheet"])
def test_two_processes_make_the_guide_that_one_makes(
    make_guide: Callable[[Mapping[str, str]], Path], tree: Tree, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    """Pages and report are the same from one process, from two, and from two of which one fails on the way."""
    # With an address, pages also name pictures that one process alone has looked at.
    folder, first = make_guide({"guide.yaml": "base address: https://example.org/\n", **dict(entries())}), os.getpid()
    room = every if step == "judge_front" else working
    real: Callable[..., object] = getattr(room, step, tuple)

    def failing(*words: object) -> object:
        if os.getpid() != first:
            os._exit(1)
        return real(*words)

    if step != "nowhere":
        monkeypatch.setattr(room, step, failing)
    two = build_guide(folder)
    pages = tree(folder / "build")
    for path in (folder / ".tertial").iterdir():
        if path.is_file():
            path.unlink()
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    one = build_guide(folder)
    assert (full(two.report), two.pages) == (full(one.report), one.pages)
    assert tree(folder / "build") == pages
    assert two.pages > 200


@pytest.mark.parametrize("change", ["one mark", "a new entry"])
def test_what_makes_much_due_is_worked_on_by_two(
    make_guide: Callable[[Mapping[str, str]], Path], tree: Tree, monkeypatch: pytest.MonkeyPatch, change: str
) -> None:
    """One entry is read by one process; what it makes due of others, as the data of all accounts, two make."""
    written = dict(entries())
    folder = make_guide(written)
    build_guide(folder)
    path, text = next(iter(written.items()))
    if change == "one mark":
        (folder / path).write_text(text.replace("length 0", "length 1, hooked"), encoding="utf-8")
    else:
        new = "---\nspecies: Northern Cardinal\nmarks: |\n  bill: hooked\n---\n"
        (folder / "entries" / "new.md").write_text(new, encoding="utf-8")
    forks, fork = [], os.fork

    def counted() -> int:
        forks.append(path)
        return fork()

    monkeypatch.setattr(os, "fork", counted)
    again = build_guide(folder)
    assert len(forks) == 1
    pages = tree(folder / "build")
    assert any(b"hooked" in page for path, page in pages.items() if path.startswith("data/"))
    shutil.rmtree(folder / ".tertial")
    clean = build_guide(folder)
    assert tree(folder / "build") == pages
    assert full(again.report) == full(clean.report)
