"""How long from a save to the reloaded page of an open proof: ``python tests/bench/saving.py [ENTRIES]``.

A page of an account stands open in Chromium while words are added to its entry, and then while a mark is. What
is measured ends when the new words stand on the page. The yardstick is ``python -c pass``, run in between.
Nothing here is a test: figures are for reading.
"""

from __future__ import annotations

import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from corpus import write_guide
from playwright.sync_api import Page, sync_playwright

CHROMIUM = "/usr/bin/chromium"
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic"]
ROUNDS = 15
SETTLED = 1.5
"""Seconds between two saves, so that the checks of one do not stand in the way of the next."""


def saved(page: Page, entry: Path, kind: str, word: str) -> float:
    """Save an entry with a new word in it, and give the seconds until it stands on the page."""
    text = entry.read_text(encoding="utf-8")
    if kind == "text":
        text = f"{text.rstrip()}\n\nSeen again {word}.\n"
    else:
        text = re.sub(r"(  all: \|\n)(?:    rump: .*\n)?", rf"\1    rump: {word}\n", text, count=1)
    begin = time.perf_counter()
    entry.write_text(text, encoding="utf-8")
    page.wait_for_function("word => document.getElementById('content')?.textContent.includes(word)", arg=word)
    return time.perf_counter() - begin


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
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as proof, sync_playwright() as playwright:
            assert proof.stdout
            address = re.search(r"http://\S+/", proof.stdout.readline())
            assert address
            page = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET).new_page()
            name_of = re.search(r"^species: (.+)$", entry.read_text(encoding="utf-8"), re.MULTILINE)
            assert name_of
            page.goto(f"{address[0]}species/index.html")
            page.get_by_role("link", name=name_of[1], exact=True).first.click()
            page.wait_for_load_state("networkidle")
            took: dict[str, list[float]] = {"text": [], "mark": [], "pass": []}
            for at in range(ROUNDS):
                for kind in ("text", "mark"):
                    time.sleep(SETTLED)
                    took[kind].append(saved(page, entry, kind, f"{kind}{at:03}x"))
                took["pass"].append(yardstick())
            proof.terminate()
    middle = {kind: statistics.median(found) for kind, found in took.items()}
    print(f"{entries} entries, median of {ROUNDS}")
    for kind, words in (("text", "words of the text saved"), ("mark", "a mark saved")):
        figures = f"{middle[kind] * 1000:6.0f} ms, {middle[kind] / middle['pass']:5.1f} of python -c pass"
        print(f"  {words + ', to the page anew':<44} {figures}; longest {max(took[kind]) * 1000:.0f} ms")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
