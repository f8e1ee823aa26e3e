"""How fast tertial is, as ratios measured in one run: ``python tests/bench/bench.py [ENTRIES]``.

Every figure is the median of interleaved runs of whole processes, divided by that of a yardstick measured
in between, so that a slow or busy machine slows both. Beside each stands the same ratio of processor time,
which other work on the machine hardly moves. Nothing here is a test: figures are for reading.
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
from typing import TYPE_CHECKING, NamedTuple

from corpus import write_guide

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

HERE = Path(__file__).resolve().parent
MEMORY = Path("/dev/shm")
"""Where files are kept in memory, on systems that have it. On a disk a new file takes a time that hangs on what was
removed there in the last minutes, and a measurement removes thousands of files."""
ROOM = 2 << 30
"""Bytes that the largest guides take at most, with room to spare."""
ROUNDS = 5
SUFFIX = ", barred"


# What is imported is compiled once and kept, as on a reader's machine, whatever the settings of this one: or else
# every run of ours would compile the program anew, and no run of a library's.
SETTINGS = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def run(*words: str | Path, ends: tuple[int, ...] = (0,)) -> None:
    """Run a process to its end; only its failure is of interest."""
    done = subprocess.run([sys.executable, *map(str, words)], capture_output=True, check=False, env=SETTINGS)
    if done.returncode not in ends:
        sys.exit(done.stderr.decode())


def tertial(*words: str | Path) -> None:
    """Run a command of tertial, which may find problems in the guide."""
    run("-m", "tertial", *words, ends=(0, 1))


class Took(NamedTuple):
    """How long something took, in seconds."""

    wall: float
    """By the clock."""

    processor: float
    """Of all processors together."""


def processor_time() -> float:
    """Give the processor time of all processes that were run and have ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def medians(tasks: Mapping[str, tuple[Callable[[], None], Callable[[], None]]]) -> dict[str, Took]:
    """Time tasks in turn, each after its preparation, and give the medians of each."""
    found: dict[str, list[Took]] = {name: [] for name in tasks}
    for _ in range(ROUNDS):
        for name, (prepare, task) in tasks.items():
            prepare()
            begin, used = time.perf_counter(), processor_time()
            task()
            found[name].append(Took(time.perf_counter() - begin, processor_time() - used))
    return {name: Took(*map(statistics.median, zip(*each, strict=True))) for name, each in found.items()}


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


def remark(path: Path) -> Callable[[], None]:
    """Make a preparation that changes the first mark of one entry, to and fro."""

    def prepare() -> None:
        before, head, rest = path.read_text(encoding="utf-8").partition("  all: |\n")
        mark, _, rest = rest.partition("\n")
        changed = mark.removesuffix(SUFFIX) if mark.endswith(SUFFIX) else mark + SUFFIX
        path.write_text(f"{before}{head}{changed}\n{rest}", encoding="utf-8")

    return prepare


def figures(folder: Path, entries: int) -> dict[str, Took]:
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
            "one mark": (remark(guide / "entries" / "00007.md"), lambda: tertial("build", "--guide", guide)),
            "check": (nothing, lambda: tertial("check", "--guide", guide)),
            "python -c pass": (nothing, lambda: run("-c", "pass")),
            "three imports": (nothing, lambda: run("-c", "import yaml, jinja2, markdown_it")),
        }
    )
    print(f"\n{entries} entries, median of {ROUNDS} interleaved runs; seconds only to judge the machine by")
    for name, took in found.items():
        print(f"  {name:<34} {took.wall:8.3f} {took.processor:8.3f}")
    print("ratios: by the clock, of processor time")
    for name, task, yardstick in (
        ("full build / straight loop", "full build", "straight loop"),
        ("one entry / three imports", "one entry", "three imports"),
        ("one mark / three imports", "one mark", "three imports"),
        ("nothing changed / python -c pass", "nothing changed", "python -c pass"),
        ("check / straight loop", "check", "straight loop"),
    ):
        print_ratio(name, found[task], found[yardstick])
    return found


def print_ratio(name: str, took: Took, yardstick: Took) -> None:
    """Print how many times as long something took as its yardstick."""
    print(f"  {name:<34} {took.wall / yardstick.wall:8.2f} {took.processor / yardstick.processor:8.2f}")


def main(sizes: Sequence[int]) -> None:
    """Measure every size, and how time grows from the first to the last."""
    # A result must not hang on which processors a run happens to get.
    print(f"{os.cpu_count()} processors, Python {sys.version.split()[0]}")
    in_memory = os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free > ROOM
    print("files in memory" if in_memory else "files on the disk")
    with tempfile.TemporaryDirectory(dir=MEMORY if in_memory else None) as name:
        found = [figures(Path(name), size) for size in sizes]
    if len(sizes) > 1:
        print(f"\n{sizes[-1]} entries / {sizes[0]} entries")
        for task in ("full build", "one entry", "one mark"):
            print_ratio(task, found[-1][task], found[0][task])
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"peak memory of the largest process: {peak:.0f} MiB")


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or [1000, 5000])
