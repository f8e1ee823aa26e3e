"""The author's text: CommonMark to HTML, and where its links stand.

Besides CommonMark there are two things of ours: words that the guide knows (its codes) become links
in running text, and are ready as reference labels, both in exact capitals only; and terms (``terms.py``)
become links where a section names them first. Raw HTML is shown as text. This module knows nothing of
birds: it is told the words and the terms.
"""

from __future__ import annotations

import re
from itertools import groupby, pairwise
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import unquote

from markdown_it.token import Token

from tertial.text.commonmark import SCHEMES, WORD_PREFIX, parser
from tertial.text.places import Place, definition, in_source
from tertial.text.terms import NONE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, MutableSet, Sequence

    from tertial.text.source import SourceText, Span
    from tertial.text.terms import Terms

_WORD = re.compile(r"(?<![^\W_])[A-Z]{2,6}(?![^\W_])")
_CAPITALS = re.compile("[A-Z]+")
_UNLINKED_LABEL = re.compile(r"\[[^\[\]]*\]\[([A-Za-z]{2,6})\]")
_REFUSED = re.compile(r"\]\(\s*<?([A-Za-z][A-Za-z0-9+.-]*:)")
_SLUG = re.compile(r"[^\w]+")
# Signs of an inline link or image, of a definition, of an address in angle brackets; labels of references.
_POINTING = re.compile(r"\]\(|\]:|!\[|<[A-Za-z]")
_LABELLED = re.compile(r"\]\[([^\]]*)\]")
_BLANK_LINES = re.compile(r"\n[ \t]*\n")
# A point behind three letters: not that of an initial, a title or a number.
_SENTENCE_END = re.compile(r"(?<=\w{3}[.!?])[\"'\u2019\u201d)]*(?=\s)")


class Reference(NamedTuple):
    """Something in the text that points elsewhere."""

    kind: str
    """``link``, ``image``, ``label`` for a reference that no word answers, ``scheme`` if refused."""

    target: str
    """Where it points, as written."""

    text: str
    """Its words; for an image the text that stands in for it."""

    span: Span
    """Where the target stands in the file."""

    body: Span
    """The body that it stands in."""


class Segment(NamedTuple):
    """A piece of a phrase."""

    text: str
    """Its characters."""

    word: str = ""
    """The known word that it is, or ''."""

    term: str = ""
    """What it stands for, or ''."""


def segments(
    text: str, words: frozenset[str], terms: Terms = NONE, seen: MutableSet[str] | None = None
) -> tuple[Segment, ...]:
    """Part a phrase at the words that the guide knows, and at what it mentions.

    :param seen: what was mentioned before and is passed over; what is found is added.
    """
    spans: list[tuple[int, int, str, str]] = []
    # To look for capitals alone is quick, and most texts name no bird.
    if not words.isdisjoint(_CAPITALS.findall(text)):
        spans += [(*match.span(), match.group(), "") for match in _WORD.finditer(text) if match.group() in words]
    spans += [(start, end, "", name) for start, end, name in terms.mentions(text, set() if seen is None else seen)]
    if not spans:
        return (Segment(text),) if text else ()
    found: list[Segment] = []
    at = 0
    # A term is never written in capitals throughout, so that none lies over a word.
    for start, end, word, term in sorted(spans):
        if start > at:
            found.append(Segment(text[at:start]))
        found.append(Segment(text[start:end], word, term))
        at = end
    if at < len(text):
        found.append(Segment(text[at:]))
    return tuple(found)


class Ways(NamedTuple):
    """Where the links of a text lead."""

    words: frozenset[str]
    """The words that become links."""

    word_address: Callable[[str], str]
    """Gives the address of such a word."""

    address: Callable[[str], str | None]
    """Gives the address for a link's target as written; None makes it plain text."""

    image: Callable[[str, str], str | None]
    """Gives the markup for an image (target, alternative text); None leaves the text."""

    terms: Terms = NONE
    """The terms that become links where a section, from a heading to the next, names them first."""

    term_address: Callable[[str], str] = str
    """Gives the address of what a term stands for."""


def render(text: str, ways: Ways) -> str:
    """Render an entry's body.

    :returns: HTML; headings begin at the third level and carry ids that begin with ``text-``.
    """
    tokens = parser().parse(text, {"words": ways.words})
    ids = _heading_ids(tokens)
    level = 2
    seen: set[str] = set()
    for at, token in enumerate(tokens):
        if token.type == "heading_open":
            level = min(max(int(token.tag[1:]) + 1, 3), level + 1, 6)
            token.tag = tokens[at + 2].tag = f"h{level}"
            token.attrSet("id", next(ids))
        elif token.type == "inline":
            is_heading = tokens[at - 1].type == "heading_open"
            seen = set() if is_heading else seen
            terms = NONE if is_heading else ways.terms
            token.children = list(_resolved(_joined(token.children or []), ways, terms, seen))
    return str(parser().renderer.render(tokens, parser().options, {}))


def first_sentence(text: str, words: frozenset[str]) -> str:
    """Give the bare words of the first sentence of a body; '' if it has none in a paragraph.

    A paragraph that only leads to what follows, as a salutation does, is passed over.

    :param words: the words that are links, as for ``render``.
    """
    # Parsing is dear, and only the blocks up to the first paragraph have to be.
    for block in _BLANK_LINES.split(text):
        for opening, inline in pairwise(parser().parse(block, {"words": words})):
            said = _said([child for child in inline.children or [] if child.type != "image"]).strip()
            if said and said[-1] not in ",:" and opening.type == "paragraph_open" and opening.level == 0:
                end = _SENTENCE_END.search(said)
                return " ".join((said[: end.end()] if end else said).split())
    return ""


def heading_id(text: str) -> str:
    """The id that a heading of a body gets."""
    return "text-" + _SLUG.sub("-", text.casefold()).strip("-")


def headings(text: str, words: frozenset[str]) -> frozenset[str]:
    """The ids of all headings of a body.

    :param words: the words that are links, as for ``render``: the label of one is no word of its heading.
    """
    return frozenset(_heading_ids(parser().parse(text, {"words": words})))


def _heading_ids(tokens: Sequence[Token]) -> Iterator[str]:
    """Give the id of every heading in turn; one that is written again gets a number."""
    given: set[str] = set()
    for at, token in enumerate(tokens):
        if token.type == "heading_open":
            first = found = heading_id(_plain(tokens[at + 1]))
            number = 1
            while found in given:
                number += 1
                found = f"{first}-{number}"
            given.add(found)
            yield found


def references(source: SourceText, body: Span, words: frozenset[str]) -> tuple[Reference, ...]:
    """List what the body points to, with places."""
    text = source.slice(body)
    # Parsing is the dearest step of all, and most texts point nowhere but to codes that are known.
    if not _POINTING.search(text) and all(label in words for label in _LABELLED.findall(text)):
        return ()
    first_line = source.position(body.start).line
    found: list[Reference] = []
    for token in parser().parse(text, {"words": words}):
        if token.type != "inline" or token.map is None:
            continue
        for kind, target, said, place in _targets(token):
            defined = definition(source, body, target) if place.apart else None
            span = defined or in_source(source, first_line + token.map[0], token.content, place)
            found.append(Reference(kind, target, said, span, body))
    return tuple(found)


def _targets(inline: Token) -> Iterator[tuple[str, str, str, Place]]:
    """Give kind, target, words and place of everything that points elsewhere."""
    children = inline.children or []
    for at, child in enumerate(children):
        if child.type == "link_open":
            target = str(child.attrGet("href"))
            if not target.startswith(WORD_PREFIX):
                end = next(i for i, later in enumerate(children) if i > at and later.type == "link_close")
                yield "link", target, _said(children[at + 1 : end]), child.meta["place"]
        elif child.type == "image":
            yield "image", unquote(str(child.attrGet("src"))), _said(child.children or []), child.meta["place"]
    plain = "".join(child.content for child in children if child.type == "text")
    for kind, pattern in (("label", _UNLINKED_LABEL), ("scheme", _REFUSED)):
        at = 0
        for match in pattern.finditer(plain):
            target = match.group(1)
            if kind == "label" or target.rstrip(":").lower() not in SCHEMES:
                # The words before the bracket may hold emphasis, which the plain text has lost.
                around = match.group()[match.group().rindex("](" if kind == "scheme" else "][") :]
                found = inline.content.find(around, at)
                at = found + around.index(target) if found >= 0 else at
                yield kind, target, match.group(), Place(at, at + len(target) if found >= 0 else at)


def _joined(children: Sequence[Token]) -> Iterator[Token]:
    """Join lines that follow each other, so that what stands on two of them is one wording."""
    for is_text, run in groupby(children, lambda child: child.type in ("text", "softbreak")):
        if is_text:
            # A soft break is rendered as the end of a line, which text may hold as well.
            yield _text("".join(child.content or "\n" * (child.type == "softbreak") for child in run))
        else:
            yield from run


def _resolved(children: Iterable[Token], ways: Ways, terms: Terms, seen: MutableSet[str]) -> Iterator[Token]:
    in_link, dropped = False, False
    for child in children:
        if child.type == "link_open":
            target = str(child.attrGet("href"))
            word = target.removeprefix(WORD_PREFIX) if target.startswith(WORD_PREFIX) else ""
            new = ways.word_address(word) if word else ways.address(target)
            in_link, dropped = True, new is None
            if new is not None:
                child.attrSet("href", new)
                yield child
        elif child.type == "link_close":
            if not dropped:
                yield child
            in_link = False
        elif child.type == "image":
            said = _said(child.children or [])
            markup = ways.image(unquote(str(child.attrGet("src"))), said)
            yield _raw(markup) if markup is not None else _text(said)
        elif child.type == "text" and not in_link:
            for piece in segments(child.content, ways.words, terms, seen):
                if piece.word:
                    yield from _link(piece.text, ways.word_address(piece.word), "code")
                elif piece.term:
                    yield from _link(piece.text, ways.term_address(piece.term), "term")
                else:
                    yield _text(piece.text)
        else:
            yield child


def _link(text: str, address: str, style: str) -> Iterator[Token]:
    yield Token("link_open", "a", 1, attrs={"href": address, "class": style})
    yield _text(text)
    yield Token("link_close", "a", -1)


def _text(content: str) -> Token:
    return Token("text", "", 0, content=content)


def _raw(markup: str) -> Token:
    # The renderer writes the content of this type as it stands; the parser itself never makes one.
    return Token("html_inline", "", 0, content=markup)


def _plain(inline: Token) -> str:
    return _said(inline.children or [])


def _said(children: Sequence[Token]) -> str:
    """The bare words; those of an image are the text that stands in for it."""
    words = (
        _plain(child) if child.type == "image" else child.content or " " * child.type.endswith("break")
        for child in children
    )
    return "".join(words)
