"""How long from a save to the reloaded page of an open proof: ``python tests/bench/saving.py [ENTRIES]``.

A page of an account stands open in Chromium while words are added to its entry, and then while a mark is. The
page's own clock tells when the document with the new words stands, and when it is first drawn. The yardstick is
``python -c pass``, run in between. Nothing here is a test: figures are for reading.
"""

from __future__ import annotations

import re
import statistics
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from corpus import write_guide
from playwright.sync_api import Page, sync_playwright

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

CHROMIUM = "/usr/bin/chromium"
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic"]
ROUNDS = 15
SETTLED = 1.5
"""Seconds between two saves, so that the checks of one do not stand in the way of the next."""


TIMES = """() => {
  const [loaded] = performance.getEntriesByType("navigation");
  const [drawn] = performance.getEntriesByName("first-contentful-paint");
  return [loaded.domInteractive, drawn ? drawn.startTime : NaN].map((each) => performance.timeOrigin + each);
}"""
"""When the document stood, and when it was drawn, in milliseconds of the epoch."""


def saved(page: Page, entry: Path, kind: str, word: str) -> tuple[float, ...]:
    """Save an entry with a new word in it, and give the seconds until the document stands, and until it is drawn."""
    text = entry.read_text(encoding="utf-8")
    if kind == "text":
        text = f"{text.rstrip()}\n\nSeen again {word}.\n"
    else:
        text = re.sub(r"(  all: \|\n)(?:    rump: .*\n)?", rf"\1    rump: {word}\n", text, count=1)
    begin = time.time()
    entry.write_text(text, encoding="utf-8")
    page.wait_for_function("word => document.getElementById('content')?.textContent.includes(word)", arg=word)
    page.wait_for_function("() => performance.getEntriesByName('first-contentful-paint').length")
    return tuple(each / 1000 - begin for each in page.evaluate(TIMES))


@contextmanager
def closing_with(end: Callable[[], object]) -> Iterator[None]:
    """Do something at the end, whatever went wrong before it."""
    try:
        yield
    finally:
        end()


def yardstick() -> float:
    """Give the seconds of a Python that does nothing."""
    begin = time.perf_counter()
    subprocess.run([sys.executable, "-c", "pass"], check=True)
    return time.perf_counter() - begin


def main(entries: int) -> None:
    """Measure, and print medians."""
    with tempfile.TemporaryDirectory() as name:
        guide = Path(name) / "guide"
        write_guide(guide, entries)
        entry = guide / "entries" / "00007.md"
        command = [sys.executable, "-m", "tertial", "proof", "--guide", str(guide), "--port", "0"]
        with (
            subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as proof,
            sync_playwright() as playwright,
            closing_with(proof.terminate),
        ):
            assert proof.stdout
            address = re.search(r"http://\S+/", proof.stdout.readline())
            assert address
            page = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET).new_page()
            name_of = re.search(r"^species: (.+)$", entry.read_text(encoding="utf-8"), re.MULTILINE)
            assert name_of
            page.goto(f"{address[0]}species/index.html")
            page.get_by_role("link", name=name_of[1], exact=True).first.click()
            page.wait_for_load_state("networkidle")
            took: dict[str, list[tuple[float, ...]]] = {"text": [], "mark": []}
            passes = []
            for at in range(ROUNDS):
                for kind, each in took.items():
                    time.sleep(SETTLED)
                    each.append(saved(page, entry, kind, f"{kind}{at:03}x"))
                passes.append(yardstick())
    nothing = statistics.median(passes)
    print(f"{entries} entries, median of {ROUNDS}")
    for kind, words in (("text", "words of the text saved"), ("mark", "a mark saved")):
        stands, drawn = (statistics.median(each) for each in zip(*took[kind], strict=True))
        figures = f"{stands * 1000:4.0f} ms, {stands / nothing:4.1f} of python -c pass; drawn: {drawn * 1000:.0f} ms"
        print(f"  {words + ', the page anew':<38} {figures}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
