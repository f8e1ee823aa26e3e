"""A run that dies at any moment: the former guide can still be read, and the next run makes up for it."""

from __future__ import annotations

import json
import random
import shutil
import subprocess
import sys
import time
from typing import TYPE_CHECKING

from PIL import Image

from tertial.build import build_guide
from tertial.stage import OWN_LIST, Outcome, put

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Tree = Callable[[Path], dict[str, bytes]]

OLD = {"index.html": b"old front", "gone/a.html": b"old a", "gone/b.html": b"old b", "kept.html": b"kept"}
NEW = {"index.html": b"new front", "new/c.html": b"new c", "new/d.css": b"new d", "kept.html": b"kept"}
NEWEST = {"index.html": b"newest front", "new/c.html": b"newest c"}

# Each change to a file below a folder passes through a hook, which ends the process, as a power cut
# would, when as many have passed as it was told. Every moment gets a process of its own.
DYING = """
import io, json, os, signal, sys
from pathlib import Path
from tertial.stage import put
from tertial.cli import main
from tertial.names.birds import load_names
import tertial.build, tertial.sketches.resize

load_names()
changing = {"os.mkdir", "os.rename", "os.remove", "os.rmdir"}
passed = 0

def die_after(folder, steps):
    def hook(event, args):
        global passed
        opened = event == "open" and args[2] & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
        if (opened or event in changing) and str(args[0]).startswith(folder):
            passed += 1
            if passed > steps:
                os.kill(os.getpid(), signal.SIGKILL)
    sys.addaudithook(hook)

for folder, steps in json.loads(sys.argv[1]):
    child = os.fork()
    if not child:
        if steps < 0:
            # So many microseconds on the clock, wherever that finds the run.
            signal.setitimer(signal.ITIMER_REAL, -steps / 1e6)
        else:
            die_after(folder, steps)
        if sys.argv[2] == "build":
            # Only how it ends is told; the report would come between.
            sys.stdout = io.StringIO()
            try:
                main(["build", "--guide", folder])
            except SystemExit as end:
                assert end.code in (None, 0), end
        else:
            files = {name: text.encode() for name, text in json.loads(sys.argv[2]).items()}
            put(Path(folder, "build"), Path(folder, "work"), files)
    else:
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))
        continue
    print(passed, file=sys.__stdout__, flush=True)
    os._exit(0)
"""
KILLED = "-9"
OUT_OF_TIME = "-14"
MOMENTS = 200


def die(moments: list[tuple[Path, int]], what: str) -> list[str]:
    """Write or build in each folder until so many changes have passed; tell how each run ended.

    A run that came to its end gives the number of its changes, then 0.
    """
    told = json.dumps([(str(folder), steps) for folder, steps in moments])
    command = [sys.executable, "-c", DYING, told, what]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def moment(folder: Path) -> str:
    """Tell how far a writing of ``NEW`` over ``OLD`` had come that ended here."""
    build, journal = folder / "build", folder / "work/journal.json"
    moved = sum((build / path).is_file() and (build / path).read_bytes() == NEW[path] for path in NEW) - 1
    if not journal.exists():
        return "after the journal" if moved else "before the journal"
    removed = sum(not (build / path).exists() for path in OLD)
    listed = ", listed" if "new/c.html" in (build / OWN_LIST).read_text(encoding="utf-8") else ""
    return f"{moved} moved, {removed} removed{listed}"


def test_a_writing_that_dies_at_any_step_is_made_up_for(tmp_path: Path, tree: Tree) -> None:
    """At every step pages are whole, and the next run, with the same files or newer ones, sets everything right."""
    for name, files in (("same", NEW), ("newer", NEWEST)):
        put(tmp_path / name / "build", tmp_path / name / "work", files)
    folders = [tmp_path / str(step) for step in range(60)]
    for folder in folders:
        put(folder / "build", folder / "work", OLD)
    text = json.dumps({path: data.decode() for path, data in NEW.items()})
    ends = die([(folder, step) for step, folder in enumerate(folders)], text)
    killed = ends.index("0") - 1
    assert ends[:killed] == [KILLED] * killed
    assert ends[killed] == str(killed)
    moments = {moment(folder) for folder in folders[:killed]}
    for folder in folders[:killed]:
        for path, data in tree(folder / "build").items():
            assert path == OWN_LIST or data in (OLD.get(path), NEW.get(path))
        assert (folder / "build/kept.html").read_bytes() == b"kept"
        shutil.copytree(folder, folder / "again", symlinks=True)
        for name, where, files in (("newer", folder / "again", NEWEST), ("same", folder, NEW)):
            assert isinstance(put(where / "build", where / "work", files), Outcome)
            assert tree(where / "build") == tree(tmp_path / name / "build")
            assert tree(where / "work") == {"lock": b""}
            assert not [path for path in where.rglob("*") if path.is_dir() and not any(path.iterdir())]
    assert moments == {
        "before the journal",
        "0 moved, 0 removed",
        "1 moved, 0 removed",
        "2 moved, 0 removed",
        "3 moved, 0 removed",
        "3 moved, 1 removed",
        "3 moved, 2 removed",
        "3 moved, 2 removed, listed",
        "after the journal",
    }


def test_a_build_that_is_killed_is_made_up_for(
    tmp_path: Path, make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """Twenty moments, from the first picture to the last page: the next build equals one that was never killed."""
    account = "---\nspecies: {}\nsimilar: [{}]\nsketches:\n  - file: {}.png\n    alt: a bird\n---\n{}\n"
    folder = make_guide(
        {
            "entries/a.md": account.format("Hairy Woodpecker", "BRCR, DOWO", "a", "On the trunk."),
            "entries/b.md": account.format("Downy Woodpecker", "HAWO", "a", "On the twigs."),
        }
    )
    grey = Image.linear_gradient("L").resize((600, 400))
    grey.save(folder / "entries/a.png")
    build_guide(folder)
    former = tree(folder / "build")
    (folder / "entries/b.md").unlink()
    grey.transpose(Image.Transpose.ROTATE_90).save(folder / "entries/c.png")
    make_guide({"entries/c.md": account.format("Brown Creeper", "HAWO", "c", "Up the trunk.")})

    def copies(names: range) -> list[Path]:
        return [shutil.copytree(folder, tmp_path / f"copy-{name}") for name in names]

    (clean,) = copies(range(1))
    *_, changes, ended = die([(clean, 10_000)], "build")
    assert ended == "0"
    assert int(changes) > 40
    finished = tree(clean / "build")
    guides = copies(range(1, 21))
    steps = [number * (int(changes) - 1) // 19 for number in range(20)]
    assert die(list(zip(guides, steps, strict=True)), "build") == [KILLED] * 20
    assert len({len(tree(guide / "build").keys() & finished.keys()) for guide in guides}) > 3
    for guide in guides:
        for path, data in tree(guide / "build").items():
            assert path == OWN_LIST or data in (former.get(path), finished.get(path))
        build_guide(guide)
        assert tree(guide / "build") == finished


def test_a_build_that_dies_at_any_moment_is_made_up_for(
    tmp_path: Path, make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """Two hundred moments by the clock, at random: the next build equals one that was never killed."""
    account = "---\nspecies: {}\nsimilar: [{}]\n---\n{}\n"
    folder = make_guide({"entries/a.md": account.format("Hairy Woodpecker", "DOWO", "On the trunk.")})
    build_guide(folder)
    former = tree(folder / "build")
    make_guide({"entries/b.md": account.format("Downy Woodpecker", "HAWO", "On the twigs.")})
    clean = shutil.copytree(folder, tmp_path / "clean")
    begin = time.perf_counter()
    assert die([(clean, 10_000)], "build")[-1] == "0"
    longest = int((time.perf_counter() - begin) * 1e6)
    finished = tree(clean / "build")
    guides = [shutil.copytree(folder, tmp_path / f"copy-{number}") for number in range(MOMENTS)]
    chance = random.Random(2026)
    ends = die([(guide, -chance.randint(1, longest)) for guide in guides], "build")
    assert ends.count(OUT_OF_TIME) > MOMENTS // 10
    for guide in guides:
        for path, data in tree(guide / "build").items():
            assert path == OWN_LIST or data in (former.get(path), finished.get(path))
        build_guide(guide)
        assert tree(guide / "build") == finished
