"""What people install: the wheel, in an environment outside the checkout and without a network."""

from __future__ import annotations

import subprocess
import sys
import sysconfig
import venv
from dataclasses import dataclass
from pathlib import Path
from zipfile import ZipFile

import pytest

from tertial.pages.assets import SHEET, all_assets

REPOSITORY = Path(__file__).resolve().parent.parent.parent


def run(*words: str | Path, folder: Path) -> str:
    """Run a program, free of the settings of the one that runs the tests, and give what it says."""
    done = subprocess.run(
        [str(word) for word in words],
        cwd=folder,
        env={"PATH": "", "HOME": str(folder), "PIP_CONFIG_FILE": "", "PIP_DISABLE_PIP_VERSION_CHECK": "1"},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@dataclass(frozen=True, slots=True)
class Installed:
    """A fresh environment with the wheel in it."""

    wheel: Path
    """The wheel."""

    folder: Path
    """The environment."""

    @property
    def python(self) -> Path:
        """Its interpreter."""
        return self.folder / "bin/python"

    @property
    def tertial(self) -> Path:
        """Its command."""
        return self.folder / "bin/tertial"


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """Build the wheel and install it; what it depends on is borrowed from the environment of the tests."""
    top = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", top, REPOSITORY, folder=top)
    (wheel,) = top.glob("tertial-*.whl")
    there = Installed(wheel, top / "env")
    venv.create(there.folder, with_pip=False)
    install = ("-m", "pip", "--python", there.python, "install", "--no-deps", "--no-index", wheel)
    run(sys.executable, *install, folder=top)
    (packages,) = there.folder.glob("lib/python*/site-packages")
    # A folder that is named in a .pth file has its own .pth files left alone, so that the editable
    # install of the checkout is not borrowed with the rest.
    (packages / "borrowed.pth").write_text(sysconfig.get_paths()["purelib"] + "\n", encoding="utf-8")
    return there


def test_the_wheel_holds_the_program_and_nothing_else(installed: Installed) -> None:
    """The package with its data, templates and demo, the licences, and no file of the workshop."""
    names = ZipFile(installed.wheel).namelist()
    assert {name.partition("/")[0].partition("-")[0] for name in names} == {"tertial"}
    parts = {part for name in names for part in Path(name).parts}
    assert not {"build", "tests", ".tertial", ".git", "node_modules", "__pycache__"} & parts
    assert {"bird-names.csv.gz", "parts.csv", "species.html", "20-paper-and-ink.css", "guide.yaml", "LICENSE"} <= parts
    licences = {Path(name).name for name in names if "/licenses/" in name}
    assert {path.name for path in (REPOSITORY / "layouts/assets/fonts").glob("*.txt")} < licences


def test_every_template_entry_and_word_of_the_checkout_is_in_it(installed: Installed) -> None:
    """What the checkout reads from its own folders comes along, byte for byte; the drawings stay at home."""
    pairs = {"layouts": "tertial/layouts", "entries": "tertial/example/entries", "generator/tertial": "tertial"}
    with ZipFile(installed.wheel) as wheel:
        packed = {name: wheel.read(name) for name in wheel.namelist()}
    expected = {
        f"{inside}/{path.relative_to(REPOSITORY / folder).as_posix()}": path.read_bytes()
        for folder, inside in pairs.items()
        for path in (REPOSITORY / folder).rglob("*")
        if path.is_file() and not {"__pycache__", "drawings"} & set(path.parts)
    }
    assert len(expected) > 80
    assert {name for name, data in expected.items() if packed.get(name) != data} == set()


def test_the_program_runs_from_the_wheel(installed: Installed) -> None:
    """Package, templates and demo are found in the new environment, not in the checkout."""
    places = "tertial.__file__, tertial.layouts.built_in_layouts(), *sys.path"
    say = f"import sys, tertial.layouts; print({places}, sep=chr(10))"
    file, layouts, *path = run(installed.python, "-c", say, folder=installed.folder).splitlines()
    inside = installed.folder.resolve()
    assert Path(file).resolve().is_relative_to(inside)
    assert Path(layouts).resolve().is_relative_to(inside)
    assert not [each for each in path if Path(each) == REPOSITORY / "generator"]


def test_a_new_guide_is_started_and_built(installed: Installed, tmp_path: Path) -> None:
    """The first two commands of a newcomer give pages to open."""
    run(installed.tertial, "start", "my-guide", folder=tmp_path)
    assert "0 entries read" in run(installed.tertial, "build", "--guide", "my-guide", folder=tmp_path)
    build = tmp_path / "my-guide/build"
    assert "Nothing is written yet" in (build / "index.html").read_text(encoding="utf-8")
    sheet = (build / "assets/guide.css").read_bytes()
    assert sheet == dict(all_assets(tmp_path / "my-guide"))[SHEET]
    assert sheet.count(b"@font-face") > 5


def test_the_demo_is_started_and_built(installed: Installed, tmp_path: Path) -> None:
    """The demo comes with its pictures, and every account of it gets a page."""
    run(installed.tertial, "start", "other", "--demo", folder=tmp_path)
    run(installed.tertial, "build", folder=tmp_path / "other")
    entries = list((tmp_path / "other/entries/species").glob("*.md"))
    pages = {path.stem for path in (tmp_path / "other/build/species").glob("*.html")} - {"index"}
    assert pages == {path.stem for path in entries}
    assert len(pages) >= 6
    assert list((tmp_path / "other/build/pictures").glob("*-960.webp"))
