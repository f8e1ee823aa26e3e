"""Whose words the files of a guide are made of: whatever is neither French, nor a name, nor its author's, is told.

The author of the guide that is looked at writes words with ``zq`` in them, which no language has, and phrases of
English in marks alone. So every other word has to come from the French tables or from the lists of names.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final
from xml.etree import ElementTree

from pypdf import PdfReader
from selectolax.lexbor import LexborHTMLParser

from tertial.layouts import built_in_layouts
from tertial.loading import load_guide
from tertial.pages.words import PLAIN
from tertial.wording.tables import read_wording

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from selectolax.lexbor import LexborNode

_WORD: Final = re.compile(r"[^\W\d_]{2,}")
_NOT_FRENCH: Final = re.compile(r'<(\w+) lang="en">(.*?)</\1>')
_FILLED: Final = re.compile(r"%\(\w+\)s|\{\w+\}|<[^>]*>")
_ADDRESS: Final = re.compile(r"\S*(?:://|\.html|/)\S*")
_TOLD: Final = frozenset({"alt", "title", "aria-label", "aria-description", "placeholder", "label"})
_TOLD_META: Final = frozenset({"description", "og:title", "og:description", "og:site_name", "og:image:alt"})
_ATOM: Final = "{http://www.w3.org/2005/Atom}"
_LETTER_SPACED: Final = re.compile(r"(?:\S{1,3} +)+\S{1,3}")
_BROKEN: Final = re.compile(r"[-\u00ad\u2010]\n")
_KEPT: Final = frozenset({"cm", "mm", "km", "kg", "mo", "tertial", "cc", "by", "ibp"})
"""Units, names of things, and what stands for itself."""

_NAMES_OF_TERMS: Final = frozenset({"@context", "@type", "@language", "taxonRank", "inLanguage"})
"""What of JSON-LD is no text, but terms of its vocabularies."""

UNTOLD: Final = re.compile(
    r"finding/(terms|plumages|small|signs|kinds/\d+/[12]|kinds/\d+/3/\d+/[1-9]|sorts/\d+/[1-9]|marks/\d+/1|places/\d+/[12])"
    r"|words/"
    r"|marks/(digits|implied|tables|striking|verdicts)"
    r"|sorting/(fits/|clauses|birds/\d+/account/phrases/\d+/0)"
    r"|[A-Z]{4}/phrases/\d+/0"
)
"""What of the data of scripts is not told as it stands there: packed numbers, what is looked up in the phrases, what
the author wrote, and what a search is made with."""


@dataclass
class Known:
    """Words that may stand in a French guide."""

    french: set[str] = field(default_factory=set)
    """Of the tables of French, the lists of names, and what stands for itself."""

    english: set[str] = field(default_factory=set)
    """Of the author's phrases, the word lists and English names: where they are marked as English."""

    headings: set[str] = field(default_factory=set)
    """Phrases of French, in capitals and without blanks."""

    def left(self, text: str, *, marked: bool = False) -> list[str]:
        """Give the words that are neither French, nor the author's, nor English where that may be."""
        found = _WORD.findall(_ADDRESS.sub(" ", _FILLED.sub(" ", text)))
        return [word for word in found if not self.has(word.lower(), marked=marked)]

    def has(self, word: str, *, marked: bool = False) -> bool:
        """Whether a word may stand there."""
        return "zq" in word or word in self.french or (marked and word in self.english)


def known_words(folder: Path, phrases: str) -> Known:
    """Gather the words that may stand in the guide in a folder.

    :param phrases: all that its author writes in English.
    """
    french = read_wording((built_in_layouts(),), "fr")
    told = [*french.phrases.values(), *french.several.values(), *french.rules.values()]
    told += [text for part in french.parts.values() for text in (part.said, part.several, part.meaning)]
    told += [text for name in (*french.plumages.values(), *french.sorts.values()) for text in name]
    known = Known({*_KEPT}, _words(phrases), {re.sub(r"\W", "", text).upper() for text in told})
    for text in told:
        known.french |= _words(_FILLED.sub(" ", _NOT_FRENCH.sub(" ", text)))
        known.english |= {word for _, quoted in _NOT_FRENCH.findall(text) for word in _words(quoted)}
    guide = load_guide(folder)
    written = "".join(file.read_text("utf-8") for file in (folder / "guide.yaml", *folder.glob("entries/*.md")))
    codes = {*re.findall(r"\b[A-Z]{4}\b", written), *(species.code for species in guide.species)}
    birds = [bird for code in codes if (bird := guide.names.by_code(code, guide.scheme))]
    assert len(birds) > 5
    for bird in birds:
        known.french |= _words(f"{bird.french} {bird.scientific} {bird.family} {bird.code_ibp}")
        known.english |= _words(f"{bird.english} {bird.name_ibp} {bird.name_bbl}")
    for wording, _ in guide.words.lists.wordings:
        known.english |= _words(wording) if wording != PLAIN else set()
    known.english |= {word for term in guide.words.lists.terms for word in _words(term[1])}
    known.english |= {word for part in guide.parts for name in part.words for word in _words(name)}
    return known


def _words(text: str) -> set[str]:
    return {word.lower() for word in _WORD.findall(text)}


def left_in(known: Known, path: str, content: bytes) -> list[str]:
    """Give the words of a file that are nobody's; nothing of one that tells no words."""
    return [word for text, marked in _told_in(path, content) for word in known.left(text, marked=marked)]


def _told_in(path: str, content: bytes) -> Iterator[tuple[str, bool]]:
    """Give what a file tells, and whether it is marked as of another language than French."""
    if path.endswith(".html"):
        yield from texts_of_page(content)
    elif path.endswith(".xml"):
        told = (each.text or "" for each in ElementTree.fromstring(content).iter() if each.tag in _FEED_TELLS)
        yield from ((text, False) for text in told)
    elif path.endswith(".webmanifest"):
        read = json.loads(content)
        yield from ((read.get(name, ""), False) for name in ("name", "short_name", "description"))
    elif path.startswith("data/"):
        kept = _KEPT_DATA.fullmatch(content.decode())
        assert kept is not None, path
        top = kept[1] if path.startswith("data/species/") else path.removeprefix("data/").removesuffix(".js")
        yield from ((text, False) for at, text in _of_data(json.loads(kept[2]), top) if not UNTOLD.match(at))
    elif path.endswith(".svg"):
        yield from ((each.text or "", False) for each in ElementTree.fromstring(content).iter())
    elif path.endswith(".css"):
        yield from ((text, False) for text in re.findall(r'content:\s*"([^"]*)"', content.decode()))


_KEPT_DATA: Final = re.compile(r'guide\.keep\("(\S+)", (.*)\);\s*', re.DOTALL)
_FEED_TELLS: Final = frozenset(_ATOM + name for name in ("title", "subtitle", "summary", "content", "rights"))


def _of_data(value: Any, at: str) -> Iterator[tuple[str, str]]:
    """Give every text of plain values with the way to it. Names of values are keys, but for measures."""
    if isinstance(value, str):
        yield at, value
    elif isinstance(value, dict):
        for key, each in value.items():
            if at.endswith("/measures"):
                yield at, key
            yield from _of_data(each, f"{at}/{key}")
    elif isinstance(value, list):
        for number, each in enumerate(value):
            yield from _of_data(each, f"{at}/{number}")


def texts_of_page(content: bytes) -> Iterator[tuple[str, bool]]:
    """Give every text that a page tells, and whether it is marked as of another language than French."""
    root = LexborHTMLParser(content).root
    assert root is not None
    yield from _of_node(root, "")


def _of_node(node: LexborNode, lang: str) -> Iterator[tuple[str, bool]]:
    lang = node.attributes.get("lang") or lang
    marked = lang not in ("", "fr")
    for name, value in node.attributes.items():
        is_told = name in _TOLD or (name.startswith("data-") and " " in (value or ""))
        meta = name == "content" and bool({node.attributes.get("name"), node.attributes.get("property")} & _TOLD_META)
        if value and (is_told or meta):
            yield value, marked
    if node.tag == "script":
        if node.attributes.get("type") == "application/ld+json":
            yield from _of_linked(json.loads(node.text()), marked=False)
        return
    for child in node.iter(include_text=True):
        if child.tag == "-text":
            yield child.text(), marked
        elif child.tag != "style":
            yield from _of_node(child, lang)


def _of_linked(value: Any, *, marked: bool) -> Iterator[tuple[str, bool]]:
    if isinstance(value, str):
        yield value, marked
    elif isinstance(value, dict):
        marked = value.get("@language", "fr") != "fr"
        for key in value.keys() - _NAMES_OF_TERMS:
            yield from _of_linked(value[key], marked=marked)
    elif isinstance(value, list):
        for each in value:
            yield from _of_linked(each, marked=marked)


def left_in_book(known: Known, file: Path) -> list[str]:
    """Give the words of a pocket guide that are nobody's. Where its author's begin is not to be seen in its text."""
    book = PdfReader(file)
    found = []
    for line in _BROKEN.sub("\N{HYPHEN}", "\n".join(page.extract_text() for page in book.pages)).splitlines():
        letters = re.sub(r"\W", "", line)
        if _LETTER_SPACED.fullmatch(line) and letters.isupper():
            found += [] if letters in known.headings else [letters]
            continue
        for word in re.findall(r"[^\W\d_]{2,}(?:\u2010[^\W\d_]+)*", line):
            parts = word.lower().split("\N{HYPHEN}")
            if not known.has("".join(parts), marked=True) and not all(known.has(each, marked=True) for each in parts):
                found.append(word)
    return found
