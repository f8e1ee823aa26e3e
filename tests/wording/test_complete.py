"""French is complete: every word of the pages has its row, every row its word, and nothing stands outside."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import TYPE_CHECKING

from tertial.layouts import built_in_layouts
from tertial.marks.parts import load_parts
from tertial.marks.plumage_words import load_plumage_words
from tertial.pages.browse import COUNTED_BY_SCRIPTS, SAID_BY_SCRIPTS

if TYPE_CHECKING:
    from tertial.wording import Wording

_LOOKED_UP = re.compile(r"""\{#.*?#\}|\{%-?\s*trans.*?endtrans\s*-?%\}|\{\{.*?\}\}|\{%.*?%\}""", re.DOTALL)
_UNTOLD = re.compile(r"<(script|style|pre)\b.*?</\1>|<!doctype[^>]*>", re.DOTALL)
_TOLD_ATTRIBUTE = re.compile(r'\b(?:aria-label|alt|title|placeholder)="([^"]*)"')
_TAG = re.compile(r"<[^>]*>")
_MACRO_OF_ATTRIBUTES = re.compile(r'^ href="[^>\n]*$', re.MULTILINE)
_TITLE = re.compile(r'<span lang="en">.*?</span>')
_LETTERS = re.compile(r"[A-Za-z]{2}")


def test_every_phrase_has_its_french_and_every_row_is_asked_for(asked: dict[str, str], french: Wording) -> None:
    """A word added to a page without its row would stand in English among the French."""
    assert len(asked) > 450
    assert sorted(set(asked) - set(french.phrases)) == []
    assert sorted(set(french.phrases) - set(asked)) == []


def test_phrases_with_a_number_have_both_forms(asked: dict[str, str], french: Wording) -> None:
    """What has a phrase for several in English has one in French, and nothing else has."""
    assert {phrase for phrase, several in asked.items() if several} == set(french.several)


def test_every_part_and_plumage_word_has_its_french(french: Wording) -> None:
    """The names of parts and plumages stand in tables of their own, with a sentence for each part."""
    assert list(french.parts) == [part.word for part in load_parts()]
    assert all(name.name and name.several and name.meaning.endswith(".") for name in french.parts.values())
    assert set(french.plumages) == {word.word for word in load_plumage_words().naming.values()}


def test_every_sort_of_birds_has_its_french(french: Wording) -> None:
    """What the search knows a sort of birds by; its script takes no word apart."""
    table = files("tertial.pages").joinpath("data", "sorts.csv").read_text(encoding="utf-8")
    assert list(french.sorts) == [re.split("[;,]", line)[0] for line in table.splitlines()[1:]]
    assert all(word.isalpha() for words in french.sorts.values() for word in words)


def test_no_two_parts_are_called_alike(french: Wording) -> None:
    """Rows of two parts must not read as one."""
    names = [part.name for part in french.parts.values()]
    assert sorted(names) == sorted(set(names))


def test_no_row_of_french_is_at_fault(french: Wording) -> None:
    """No place of a phrase is misspelt, and no sign of per cent stands where a place would begin."""
    assert french.faults == ()


def test_french_is_set_as_french_is(french: Wording) -> None:
    """Tall signs keep to their word by a thin space, quotes too, and apostrophes are curved."""
    told = [*french.phrases.values(), *french.several.values(), *(part.meaning for part in french.parts.values())]
    plain = [_TAG.sub("", _TITLE.sub("", text)).replace("%(", "(") for text in told]
    assert [text for text in plain if re.search(r"[^\u202f][;?!»]|[^\u202f\d]:(?!\d)|«[^\u202f]|'", text)] == []
    assert len(plain) > 600


def test_no_word_of_a_layout_stands_outside_the_catalogue() -> None:
    """What a reader is told is looked up: text and told attributes of every template but the proof's own."""
    layouts = built_in_layouts()
    files = [file for file in sorted(layouts.rglob("*.html")) if "proof" not in file.parts]
    found = []
    for file in files:
        text = _LOOKED_UP.sub("", _UNTOLD.sub("", file.read_text(encoding="utf-8")))
        text = _MACRO_OF_ATTRIBUTES.sub("", text)
        told = [*_TOLD_ATTRIBUTE.findall(text), *_TAG.sub("\n", text).splitlines()]
        found += [f"{file.name}: {line.strip()}" for line in told if _LETTERS.search(line)]
    assert len(files) > 25
    assert found == []


def _outside(template: str) -> list[str]:
    """Give the text that a template of the typesetter shows as it stands: what brackets hold, without code in them."""
    text, found = re.sub(r'"[^"\n]*"', '""', re.sub("//.*", "", template)), []
    while held := re.search(r"\[([^\[\]]*)\]", text):
        text, inner = text[: held.start()] + text[held.end() :], held[1]
        while (shorter := re.sub(r"(?<=[\w-])\([^()]*\)", "", inner)) != inner:
            inner = shorter
        found.append(re.sub(r"#(?:if|else|for)\b[^#]*|#[\w-]+(?:\.[\w-]+)*", "", inner).strip())
    return found


def test_no_word_of_the_pocket_guide_stands_outside_the_catalogue() -> None:
    """Its template says what it says by the function that looks phrases up."""
    found = _outside((built_in_layouts() / "pocket.typ").read_text(encoding="utf-8"))
    assert len(found) > 20
    assert [text for text in found if _LETTERS.search(text)] == []
    assert _outside('#let a = if b [ (from #each.origin)] else { say("c d") }') == ["(from )"]


def test_scripts_look_up_only_what_they_are_given() -> None:
    """Each phrase of a script is in its data, and none is there for nothing."""
    assets = built_in_layouts() / "assets"
    text = "".join((assets / name).read_text(encoding="utf-8") for name in ("compare.js", "sorting.js"))
    said = set(re.findall(r'say\(\s*"([^"]+)"', text)) | set(re.findall(r'"([A-Z][a-z]+ bird)"', text))
    counted = dict(re.findall(r'count\("([^"]+)", "([^"]+)"', text))
    # Verdicts and fits are looked up by the words that the data have for them.
    assert said <= set(SAID_BY_SCRIPTS)
    assert {phrase for phrase in SAID_BY_SCRIPTS if phrase not in said and f'"{phrase}"' not in text} <= {
        "diagnostic",
        "strong",
        "helpful",
        "weak",
        "shared",
    }
    assert counted == COUNTED_BY_SCRIPTS
