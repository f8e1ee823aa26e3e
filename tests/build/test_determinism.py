"""One guide, one result: neither the machine, nor the day, nor the run before changes a byte."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tertial.build import build_guide
from tertial.stage import Outcome

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    Tree = Callable[[Path], dict[str, bytes]]
    Stamps = Callable[[Path], dict[str, tuple[int, int]]]

# Each stands in a file ``sitecustomize.py``, which the interpreter runs before anything else.
LATER = """
import datetime, time
AHEAD = 20 * 365.25 * 86400
def ahead(real, by):
    return lambda *args: real(*args) + by
time.time, time.time_ns = ahead(time.time, AHEAD), ahead(time.time_ns, int(AHEAD) * 10**9)
for name in ("localtime", "gmtime"):
    setattr(time, name, lambda at=None, real=getattr(time, name): real(time.time() if at is None else at))
class Date(datetime.date):
    @classmethod
    def today(cls):
        return cls.fromtimestamp(time.time())
class DateTime(datetime.datetime):
    @classmethod
    def now(cls, tz=None):
        return cls.fromtimestamp(time.time(), tz)
datetime.date, datetime.datetime = Date, DateTime
"""
BACKWARDS = """
import os
class Backwards:
    def __init__(self, folder="."):
        with REAL(folder) as found:
            self.left = iter(sorted(found, key=lambda each: each.name, reverse=True))
    def __iter__(self):
        return self.left
    def __next__(self):
        return next(self.left)
    def __enter__(self):
        return self
    def __exit__(self, *fault):
        pass
    close = __exit__
REAL, os.scandir = os.scandir, Backwards
LIST, os.listdir = os.listdir, lambda folder=".": sorted(LIST(folder), reverse=True)
"""
MODULES = (
    "import sys; from tertial.cli import main\ntry:\n    main(sys.argv[1:])\nfinally:\n    print('PIL' in sys.modules)"
)


def environment(folder: Path, customize: str = "", **settings: str) -> dict[str, str]:
    """Give the variables for another interpreter, and write what it shall run first."""
    early = folder / "early"
    early.mkdir()
    (early / "sitecustomize.py").write_text(customize, encoding="utf-8")
    return {**os.environ, "PYTHONPATH": str(early), **settings}


def run(code: str, *words: str, cwd: Path, env: dict[str, str], umask: int = -1) -> str:
    """Run code in another interpreter, and give the last line that it prints."""
    command = [sys.executable, "-c", code, *words]
    done = subprocess.run(
        command, cwd=cwd, env=env, umask=umask, capture_output=True, text=True, encoding="utf-8", check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()[-1]


def copy_backwards(guide: Path, target: Path, *, keep: bool) -> None:
    """Copy a guide file by file, the last first, so that folders and times are not those of the original."""
    left_out = ("build",) if keep else ("build", ".tertial")
    files = [path for path in guide.rglob("*") if path.is_file() and path.relative_to(guide).parts[0] not in left_out]
    for path in sorted(files, reverse=True):
        copy = target / path.relative_to(guide)
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, copy)


def test_the_shifted_clock_shifts(tmp_path: Path) -> None:
    """The clock that the next test sets ahead is ahead for every way of asking it."""
    ask = (
        "import json, time, datetime as d; print(json.dumps([time.gmtime().tm_year, time.localtime().tm_year, "
        "d.date.today().year, d.datetime.now().year, d.datetime.now(d.timezone.utc).year, "
        "time.gmtime(time.time()).tm_year]))"
    )
    now = json.loads(run(ask, cwd=tmp_path, env=dict(os.environ)))
    later = json.loads(run(ask, cwd=tmp_path, env=environment(tmp_path, LATER)))
    assert min(later) >= max(now) + 19


@pytest.mark.parametrize(
    ("customize", "settings", "umask"),
    [
        ("", {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati"}, 0o022),
        ("", {"PYTHONHASHSEED": "4242", "TZ": "America/Adak"}, 0o077),
        ("", {"LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"}, 0o022),
        ("", {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONIOENCODING": "utf-8"}, 0o022),
        (LATER, {}, 0o022),
        (BACKWARDS, {}, 0o022),
    ],
    ids=["seed and zone", "other seed and zone", "locale", "plain ASCII", "clock", "order of the disk"],
)
def test_nothing_around_the_guide_changes_a_byte(
    tmp_path: Path,
    demo: Path,
    demo_pages: dict[str, bytes],
    tree: Tree,
    customize: str,
    settings: dict[str, str],
    umask: int,
) -> None:
    """The demo comes out the same in another environment."""
    copy_backwards(demo, tmp_path / "guide", keep=True)
    env = environment(tmp_path, customize, **settings)
    run(MODULES, "build", "--guide", "guide", cwd=tmp_path, env=env, umask=umask)
    assert tree(tmp_path / "guide/build") == demo_pages


def test_nothing_kept_from_earlier_changes_a_byte(
    tmp_path: Path, demo: Path, demo_pages: dict[str, bytes], tree: Tree
) -> None:
    """The demo comes out the same when every picture is made anew, from a sub-folder, with all else changed too."""
    guide = tmp_path / "guide"
    copy_backwards(demo, guide, keep=False)
    env = environment(tmp_path, LATER + BACKWARDS, PYTHONHASHSEED="7", TZ="Asia/Kathmandu", LC_ALL="C")
    assert run(MODULES, "build", cwd=guide / "entries/species", env=env, umask=0o027) == "True"
    assert tree(guide / "build") == demo_pages


ENTRY = "---\nspecies: Hairy Woodpecker\nsketches:\n  - file: {0}.png\n    alt: a bird\n---\n![again]({0}.png)\n"


def test_a_picture_s_former_name_leaves_no_trace(
    tmp_path: Path, make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """A picture that is renamed is published as if it had never had another name."""
    folder, clean = make_guide({"entries/a.md": ENTRY.format("private")}), tmp_path / "clean"
    Image.linear_gradient("L").save(folder / "entries/private.png")
    build_guide(folder)
    assert [path for path in tree(folder / "build") if "private" in path]
    make_guide({"entries/a.md": ENTRY.format("public")})
    (folder / "entries/private.png").rename(folder / "entries/public.png")
    build_guide(folder)
    copy_backwards(folder, clean, keep=False)
    build_guide(clean)
    assert [path for path in tree(folder / "build") if "public" in path]
    assert tree(folder / "build") == tree(clean / "build")
    assert not [path for path, data in tree(folder / "build").items() if "private" in path or b"private" in data]


def test_builds_at_the_same_time_do_each_other_no_harm(
    tmp_path: Path, make_guide: Callable[[Mapping[str, str | bytes]], Path], tree: Tree
) -> None:
    """Three runs on one guide, with all pictures still to be made, end well and leave what one run leaves."""
    names = [f"p{number}" for number in range(4)]
    folder = make_guide({"entries/a.md": ENTRY.format("p0") + "".join(f"![x]({name}.png)\n" for name in names)})
    for angle, name in enumerate(names):
        Image.radial_gradient("L").resize((700, 500)).rotate(10 * angle).save(folder / f"entries/{name}.png")
    copy_backwards(folder, tmp_path / "clean", keep=False)
    build_guide(tmp_path / "clean")
    command = [sys.executable, "-m", "tertial", "build", "--guide", str(folder)]
    runs = [subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) for _ in range(3)]
    assert [run.wait() for run in runs] == [0, 0, 0]
    assert tree(folder / "build") == tree(tmp_path / "clean/build")
    assert {path.suffix for path in (folder / ".tertial").rglob("*") if path.is_file()} == {
        "",
        ".jpg",
        ".json",
        ".webp",
    }


def test_a_second_build_writes_nothing_and_opens_no_picture(tmp_path: Path, demo: Path, stamps: Stamps) -> None:
    """Where nothing changed, no file is touched and Pillow is not even loaded."""
    copy_backwards(demo, tmp_path / "guide", keep=True)
    build_guide(tmp_path / "guide")
    before = stamps(tmp_path / "guide/build")
    env = environment(tmp_path)
    assert run(MODULES, "build", "--guide", "guide", cwd=tmp_path, env=env) == "False"
    assert stamps(tmp_path / "guide/build") == before
    outcome = build_guide(tmp_path / "guide").outcome
    assert isinstance(outcome, Outcome)
    assert (outcome.written, outcome.removed, outcome.unchanged) == ((), (), len(before) - 1)
