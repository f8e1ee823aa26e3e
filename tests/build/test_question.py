"""The question to send: one file that needs nothing else, and lets nothing else in."""

from __future__ import annotations

import base64
import hashlib
import io
import re
from typing import TYPE_CHECKING

import pytest
from PIL import Image
from selectolax.lexbor import LexborHTMLParser

from tertial.build import build_guide

if TYPE_CHECKING:
    from pathlib import Path

# HTML's attributes that make a browser fetch or go somewhere.
LEADING = ("src", "srcset", "href", "data", "poster", "action", "formaction", "background", "ping", "manifest", "cite")

ENTRIES = {
    "guide.yaml": "title: Reservoir & weir\nauthor: A. Watcher\nbase address: https://example.org/weir/\n",
    "entries/least.md": "---\nspecies: Least Sandpiper\n---\nSee [SESA] and https://example.org/.\n",
    "entries/weir.md": "---\nplace: Upper Weir\nid: upper-weir\n---\n",
    "entries/open.md": """---
unknown: Small <wader> on the mud
seen: 2026-08-17
place: upper-weir
marks: |
  legs: yellowish, unlike LESA & others
could be: [LESA, SESA]
not: |
  WESA: bill too short
opinions: |
  R. Friend: LESA, see https://example.org/wader
photos:
  - file: wader.png
    alt: The bird "half" hidden
sketches:
  - file: wader.png
    alt: Head and bill
---
Text with ![a picture](wader.png) and a [link](least.md).
""",
    "entries/bare.md": "---\nunknown: Just a shadow\n---\n",
    "entries/no.md": "---\nunknown: No sandpiper\nnot: |\n  WESA: legs too long\n---\n",
    "entries/settled.md": "---\nunknown: A third one\nsettled: LESA\n---\n",
}


@pytest.fixture(scope="module")
def build(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A finished guide with an open question, a bare one and a settled one."""
    folder = tmp_path_factory.mktemp("question") / "guide"
    for path, text in ENTRIES.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    Image.effect_noise((1200, 800), 60).save(folder / "entries" / "wader.png")
    assert build_guide(folder).pages > 5
    return folder / "build"


@pytest.fixture(scope="module", params=["small-wader-on-the-mud", "just-a-shadow"])
def page(build: Path, request: pytest.FixtureRequest) -> str:
    """The text of a question."""
    return (build / "questions" / f"{request.param}.html").read_text(encoding="utf-8")


def test_only_open_birds_are_asked_about(build: Path) -> None:
    """A settled bird has a page, but no question."""
    asked = ["just-a-shadow", "no-sandpiper", "small-wader-on-the-mud"]
    assert sorted(path.stem for path in (build / "questions").iterdir()) == asked
    assert (build / "unsolved" / "a-third-one.html").is_file()


def test_it_leads_nowhere(page: str) -> None:
    """Every attribute that could fetch or lead holds its data itself, and no style or script reaches out."""
    parser = LexborHTMLParser(page)
    nodes = parser.css("*")
    assert len(nodes) > 15
    leading = [
        (str(node.tag), name, (value or "")[:40])
        for node in nodes
        for name, value in node.attributes.items()
        if name in LEADING and not (value or "").startswith("data:")
    ]
    assert leading == []
    assert parser.css("script, iframe, object, embed, form, base") == []
    assert [name for node in nodes for name in node.attributes if name.startswith("on") or name == "style"] == []
    (style,) = re.findall("<style>(.*?)</style>", page, re.DOTALL)
    assert not re.search(r"url\(|@import|expression|image-set", style)


def test_its_policy_allows_its_own_style_alone(page: str) -> None:
    """The digest in the policy is that of the style as it stands in the file.

    Outside check: the hash source of Content Security Policy Level 3, section 2.3.1.
    """
    (policy,) = re.findall('http-equiv="Content-Security-Policy" content="([^"]*)"', page)
    (style,) = re.findall("<style>(.*?)</style>", page, re.DOTALL)
    rules = {name: value for name, _, value in (rule.strip().partition(" ") for rule in policy.split(";"))}
    digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
    assert style.strip()
    assert rules == {
        "default-src": "'none'",
        "img-src": "data:",
        "style-src": f"'sha256-{digest}'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }


def test_it_carries_its_pictures(build: Path) -> None:
    """Each picture of the entry is in the file, at a size to judge by, with its words."""
    page = LexborHTMLParser((build / "questions" / "small-wader-on-the-mud.html").read_text(encoding="utf-8"))
    pictures = page.css("img")
    assert [picture.attributes["alt"] for picture in pictures] == ["Head and bill", 'The bird "half" hidden']
    for picture in pictures:
        kind, _, packed = (picture.attributes["src"] or "").partition(";base64,")
        assert kind == "data:image/webp"
        with Image.open(io.BytesIO(base64.b64decode(packed, validate=True))) as opened:
            opened.load()
            assert 480 <= opened.width <= 1200


def test_it_tells_what_is_ruled_out_where_nothing_else_is_known(build: Path) -> None:
    """A friend is spared the bird that was thought of and dismissed, with the reason."""
    page = (build / "questions/no-sandpiper.html").read_text(encoding="utf-8")
    assert "legs too long" in page


def test_it_asks_with_everything_that_was_seen(build: Path) -> None:
    """Circumstances, marks, candidates, reasons and opinions are there, as the author wrote them."""
    page = LexborHTMLParser((build / "questions" / "small-wader-on-the-mud.html").read_text(encoding="utf-8"))
    text = " ".join(page.body.text().split()) if page.body else ""
    for words in (
        "Small <wader> on the mud",
        "Reservoir & weir, A. Watcher",
        "Upper Weir",
        "yellowish, unlike LESA & others",
        "Least Sandpiper (LESA)",
        "Semipalmated Sandpiper (SESA)",
        "not Western Sandpiper (WESA): bill too short",
        "R. Friend: LESA, see https://example.org/wader",
    ):
        assert words in text
