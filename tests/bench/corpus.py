"""A made-up guide of any size for the benchmark: real names, invented marks, the same every time."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from tertial.marks.parts import load_parts
from tertial.names.birds import load_names

if TYPE_CHECKING:
    from pathlib import Path

_COLOURS = ("black", "white", "grey", "brown", "rufous", "buff", "olive", "yellow", "red", "blue", "chestnut")
_PATTERNS = ("streaked", "barred", "spotted", "plain", "mottled", "with pale edges", "with a dark tip")
_OFTEN = ("", "", "always ", "usually ", "often ", "sometimes ")
_SENTENCES = (
    "Two at the weir, on the far bank, and not for long.",
    "It came down to the third branch and looked at me sideways.",
    "Nothing of the tail was to be seen against the light.",
    "The call settled it, or would have, had the mill been still.",
    "By the end of the month there were fewer than on the first day.",
    "A heading wind, thin cloud, and the reservoir like slate.",
)


def write_guide(folder: Path, entries: int) -> None:
    """Write a guide of ``entries`` species accounts, about 3 KB each, half of them with a look-alike."""
    chance = random.Random(7)
    birds = [bird for bird in load_names() if bird.is_species][:entries]
    parts = [part.word for part in load_parts()][5:150]
    (folder / "entries").mkdir(parents=True)
    settings = "title: A guide for measuring\nauthor: A. Watcher\nbase address: https://example.org/\n"
    (folder / "guide.yaml").write_text(settings, encoding="utf-8")
    for at, bird in enumerate(birds):
        other = birds[at ^ 1] if at ^ 1 < len(birds) else None
        text = _entry(chance, bird.english, _code(at), parts, other.english if other else "", _code(at ^ 1), at)
        (folder / "entries" / f"{at:05}.md").write_text(text, encoding="utf-8")


def _code(at: int) -> str:
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    return "X" + letters[at // 676 % 26] + letters[at // 26 % 26] + letters[at % 26]


def _entry(chance: random.Random, name: str, code: str, parts: list[str], other: str, other_code: str, at: int) -> str:
    lines = ["---", f"species: {name}", f"code: {code}", "written: 2026-01-04", "when: March to October"]
    lines += ["where: [river wood, old orchard]", "size:", "  length: 14-18 cm", "  mass: 20-33 g", "marks:"]
    for plumage in ("all", "male", "female"):
        lines.append(f"  {plumage}: |")
        lines += [f"    {part}: {_phrase(chance)}" for part in sorted(chance.sample(parts, 13))]
    if at % 4 < 2 and other:
        lines += ["similar:", f"  {other_code}: the bill against the head decides it"]
    lines += ["sources:", '  - "made up for measuring"', "---"]
    for _ in range(4):
        sentences = " ".join(chance.choice(_SENTENCES) for _ in range(5))
        lines += [f"{sentences} A {other_code} kept near, and [the other][{code}] too.", ""]
    return "\n".join(lines)


def _phrase(chance: random.Random) -> str:
    words = [f"{chance.choice(_OFTEN)}{chance.choice(_COLOURS)}", chance.choice(_PATTERNS)]
    return ", ".join(words[: chance.randint(1, 2)])
