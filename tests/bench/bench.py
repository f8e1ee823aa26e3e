"""How fast tertial is, as ratios measured in one run: ``python tests/bench/bench.py [ENTRIES]``.

Every figure is the median of interleaved runs of whole processes, divided by that of a yardstick measured
in between, so that a slow or busy machine slows both. Nothing here is a test: figures are for reading.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

from corpus import write_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

HERE = Path(__file__).resolve().parent
ROUNDS = 5


def run(*words: str | Path) -> None:
    """Run a process to its end; only its failure is of interest."""
    done = subprocess.run([sys.executable, *map(str, words)], capture_output=True, check=False)
    if done.returncode not in (0, 1):
        sys.exit(done.stderr.decode())


def tertial(*words: str | Path) -> None:
    """Run a command of tertial."""
    run("-m", "tertial", *words)


def medians(tasks: Mapping[str, tuple[Callable[[], None], Callable[[], None]]]) -> dict[str, float]:
    """Time tasks in turn, each after its preparation, and give the median seconds of each."""
    seconds: dict[str, list[float]] = {name: [] for name in tasks}
    for _ in range(ROUNDS):
        for name, (prepare, task) in tasks.items():
            prepare()
            begin = time.perf_counter()
            task()
            seconds[name].append(time.perf_counter() - begin)
    return {name: statistics.median(each) for name, each in seconds.items()}


def clear(*folders: Path) -> Callable[[], None]:
    """Make a preparation that empties folders."""

    def prepare() -> None:
        for folder in folders:
            shutil.rmtree(folder, ignore_errors=True)

    return prepare


def nothing() -> None:
    """Prepare nothing."""


def touch(path: Path) -> Callable[[], None]:
    """Make a preparation that changes one entry."""

    def prepare() -> None:
        text = path.read_text(encoding="utf-8").rstrip("\n")
        path.write_text(f"{text} Again.\n", encoding="utf-8")

    return prepare


def figures(folder: Path, entries: int) -> dict[str, float]:
    """Measure one size of guide."""
    guide, target = folder / f"guide-{entries}", folder / f"straight-{entries}"
    write_guide(guide, entries)
    built = (guide / "build", guide / ".tertial")
    straight = HERE / "straight.py"
    found = medians(
        {
            "straight loop": (clear(target), lambda: run(straight, guide, target)),
            "full build": (clear(*built), lambda: tertial("build", "--guide", guide)),
            "nothing changed": (nothing, lambda: tertial("build", "--guide", guide)),
            "one entry": (touch(guide / "entries" / "00007.md"), lambda: tertial("build", "--guide", guide)),
            "check": (nothing, lambda: tertial("check", "--guide", guide)),
            "python -c pass": (nothing, lambda: run("-c", "pass")),
            "three imports": (nothing, lambda: run("-c", "import yaml, jinja2, markdown_it")),
        }
    )
    print(f"\n{entries} entries, median of {ROUNDS} interleaved runs; seconds only to judge the machine by")
    for name, seconds in found.items():
        print(f"  {name:<16} {seconds:8.3f} s")
    for name, task, yardstick in (
        ("full build / straight loop", "full build", "straight loop"),
        ("one entry / three imports", "one entry", "three imports"),
        ("nothing changed / python -c pass", "nothing changed", "python -c pass"),
        ("check / straight loop", "check", "straight loop"),
    ):
        print(f"  {name:<34} {found[task] / found[yardstick]:6.2f}")
    return found


def main(sizes: Sequence[int]) -> None:
    """Measure every size, and how time grows from the first to the last."""
    # A result must not hang on which processors a run happens to get.
    print(f"{os.cpu_count()} processors, Python {sys.version.split()[0]}")
    with tempfile.TemporaryDirectory() as name:
        found = [figures(Path(name), size) for size in sizes]
    if len(sizes) > 1:
        growth = found[-1]["full build"] / found[0]["full build"]
        print(f"\nfull build of {sizes[-1]} / of {sizes[0]}: {growth:.2f}")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"peak memory of the largest process: {peak:.0f} MiB")


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or [1000, 5000])
