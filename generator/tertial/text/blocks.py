"""The author's text as plain values, for what is no HTML: a tree of blocks and of the pieces of their lines.

Every node is a mapping with its ``kind``; the kinds are those of CommonMark's syntax tree, and ``word`` for a word
that the guide knows. What links point to is kept for addresses of the web only.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeAlias

from tertial.text.commonmark import WORD_PREFIX, parser
from tertial.text.prose import segments

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from markdown_it.token import Token

Node: TypeAlias = dict[str, Any]
"""``kind``; ``text`` of what has letters of its own; ``items``, the nodes inside; ``word`` or ``web`` of a link;
``level`` of a heading from 1; ``start`` of a numbered list."""


def blocks(text: str, words: frozenset[str]) -> list[Node]:
    """Read an entry's body.

    :param text: CommonMark.
    :param words: the words that the guide knows.
    :returns: its blocks in order.
    """
    return _tree(parser().parse(text, {"words": words}), words)


def _tree(tokens: Iterable[Token], words: frozenset[str]) -> list[Node]:
    found: list[Node] = []
    around = [found]
    for token in tokens:
        if token.nesting < 0:
            around.pop()
        elif token.nesting > 0:
            node = {"kind": token.type.removesuffix("_open"), "items": [], **_marked(token)}
            around[-1].append(node)
            around.append(node["items"])
        elif token.type == "inline":
            around[-1].extend(_tree(token.children or [], words))
        elif token.type == "text":
            around[-1].extend(_words(token.content, words))
        elif token.type == "image":
            around[-1].append({"kind": "text", "text": token.content})
        else:
            around[-1].append({"kind": token.type, "text": token.content})
    return found


def _marked(token: Token) -> Node:
    if token.type == "link_open":
        target = str(token.attrGet("href"))
        if target.startswith(WORD_PREFIX):
            return {"word": target.removeprefix(WORD_PREFIX)}
        return {"web": target} if ":" in target else {}
    if token.type == "heading_open":
        return {"level": int(token.tag[1:])}
    return {"start": int(token.attrGet("start") or 1)} if token.type == "ordered_list_open" else {}


def _words(text: str, words: frozenset[str]) -> Iterator[Node]:
    for piece in segments(text, words):
        yield {"kind": "word" if piece.word else "text", "text": piece.text}
