"""In which language a page tells each of its texts, and entries whose words tell whose they are.

The author's words have ``zq`` in them, and people are called ``Azq``, as in the guide of ``foreign``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from selectolax.lexbor import LexborHTMLParser

if TYPE_CHECKING:
    from collections.abc import Iterator

    from selectolax.lexbor import LexborNode

ENTRIES: Final = {
    "snow.md": """---
species: Snow Goose
written: 2026-01-05
when: all year
where: [lazqo]
how common: vezqi
size:
  class: vozqo
  length: 64-79 cm
measures:
  zqorph: |
    zqil: 17 mm
    bill: 51-62 mm
marks:
  all: |
    bill: always black
    zqip: zqup
  male: |
    zqip: black
    nape: red patch
  zqorph: |
    bill: yellow
    zqip: zquff
behaviour:
  zqoddle: mizqo
similar:
  DOWO: fozqe
  GRGO: gozqe
  ROGO:
  HAWO:
sketches:
  - {file: bird.png, shows: zqorph, alt: bizqo, scale: "bill tip 40,100 to tail tip 360,100", head: "30,40 to 140,130",
     pointers: ["60,100 bill", "90,60 zqip"]}
photos:
  - {file: bird.png, alt: fozqo, by: P. Azqi, shows: zqorph}
---
Snazqo.

![izqo](bird.png)
""",
    "ross.md": """---
species: Ross's Goose
size: {length: 53-66 cm}
marks:
  all: |
    bill: never black
    zqip: zqeff
  male: |
    nape: white
---
""",
    "own.md": """---
species: Mezqan Dazqot
code: MEDA
scientific: Anser indicus
marks: {all: "bill: never black"}
---
""",
    "flock-of-geese.md": """---
flock: Gezqo
members: [SNGO, GRGO, DOWO]
---
""",
    "count.md": """---
outing: 2026-03-01
place: zqiver zqend
weather: vezqo
counts: |
  SNGO: 2 male, 3 zqorph
  GRGO: 1 male
  SNGO/GRGO: 4
  SNGO x GRGO: 1
  Mezqi x SNGO: 1
  zqucks sp.: 3
---
""",
    "what.md": """---
unknown: Quazqi
seen: 2026-03-02
place: wizqe
marks: |
  bill: black
  zqip: zqup
  zqel: red
could be: [SNGO, GRGO, SNGO x GRGO]
not: |
  DOWO: bezqo
---
""",
    "settled.md": """---
unknown: Sezqi
seen: 2026-03-02
settled: GRGO
---
""",
}
"""With what an author may name at will, and birds that the list has in English alone."""

_UNMARKABLE: Final = frozenset({"head", "script", "style", "option"})
"""Elements that hold text alone, so that no language can be told within them."""


def told_on(page: bytes | str) -> Iterator[tuple[str, str]]:
    """Give every text of a page that is read out, with the tag of the language in force."""
    root = LexborHTMLParser(page).root
    assert root is not None
    return _told_in(root, "")


def _told_in(node: LexborNode, language: str) -> Iterator[tuple[str, str]]:
    language = node.attributes.get("lang") or language
    for child in node.iter(include_text=True):
        if child.tag == "-text":
            yield child.text(), language
        elif child.tag not in _UNMARKABLE and child.attributes.get("aria-hidden") != "true":
            yield from _told_in(child, language)


def is_theirs(text: str) -> bool:
    """Whether a text has a word of the author's, who wrote no name of a person in it."""
    return re.search(r"\b(?!Azq)\w*[zZ]q", text) is not None


def is_english_name(text: str) -> bool:
    """Whether a text has the name of a bird that the guide has in English, though it is in French."""
    return "Snow Goose" in text
