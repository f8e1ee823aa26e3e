"""The CommonMark parser with the one rule of ours, and with places for what its links point to.

Labels of known words are a rule of their own and not entries of the parser's reference table, because
labels there ignore case and ``[x][hawo]`` must be no link.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Final

from markdown_it import MarkdownIt, rules_inline

from tertial.text.places import Place

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import TypeAlias

    from markdown_it.rules_inline import StateInline

    InlineRule: TypeAlias = Callable[[StateInline, bool], bool]

WORD_PREFIX: Final = "word:"
"""What the address of a known word begins with, until it is given its true one."""

_SCHEME = re.compile(r"([A-Za-z][A-Za-z0-9+.-]*):")
SCHEMES: Final = frozenset({"http", "https", "mailto"})
"""Kinds of address that may be followed."""

_INLINE_LINK = re.compile(r"""!?\[.*\]\(\s*<?([^<>\n]*?)>?(?:\s+(?:"[^"]*"|'[^']*'|\([^()]*\)))?\s*\)""", re.DOTALL)
_LABEL = re.compile(r"\[([A-Z]{2,6})\]")
_LABEL_ALONE = re.compile(r"\[([A-Z]{2,6})\](?:\[\]|(?![\[(]))")


@cache
def parser() -> MarkdownIt:
    """Give the parser. Parsing takes the known words as ``words`` in its environment."""
    made = MarkdownIt("commonmark", {"html": False, "xhtmlOut": False})
    made.inline.ruler.before("link", "known_word", _known_word)
    for name, rule in (("link", rules_inline.link), ("image", rules_inline.image), ("autolink", rules_inline.autolink)):
        made.inline.ruler.at(name, _placed(rule))
    made.validateLink = _is_allowed  # type: ignore[method-assign, assignment]
    return made


def _placed(rule: InlineRule) -> InlineRule:
    """Let a rule's token remember where its target stands in the content of the block."""

    def placed(state: StateInline, silent: bool) -> bool:
        start, count = state.pos, len(state.tokens)
        if not rule(state, silent):
            return False
        if not silent:
            token = next(token for token in state.tokens[count:] if token.type in ("link_open", "image"))
            found = _INLINE_LINK.fullmatch(state.src, start, state.pos)
            start, end = found.span(1) if found else (start + 1, state.pos - 1)
            token.meta["place"] = Place(start, end, apart=found is None and token.markup != "autolink")
        return True

    return placed


def _is_allowed(address: str) -> bool:
    scheme = _SCHEME.match(address)
    return scheme is None or scheme.group(1).lower() in SCHEMES


def _known_word(state: StateInline, silent: bool) -> bool:
    """Inline rule: ``[text][WORD]``, ``[WORD][]`` and ``[WORD]`` for the words of the guide, in exact capitals."""
    if state.src[state.pos] != "[":
        return False
    end = state.md.helpers.parseLinkLabel(state, state.pos, True)
    if end < 0:
        return False
    label = _LABEL.match(state.src, end + 1)
    text_start, text_end = state.pos + 1, end
    if label is None:
        label = _LABEL_ALONE.match(state.src, state.pos)
    if label is None or label.group(1) not in state.env["words"]:
        return False
    if not silent:
        old_max, state.posMax = state.posMax, text_end
        state.pos = text_start
        token = state.push("link_open", "a", 1)
        token.attrs = {"href": WORD_PREFIX + label.group(1)}
        state.linkLevel += 1
        state.md.inline.tokenize(state)
        state.linkLevel -= 1
        state.push("link_close", "a", -1)
        state.posMax = old_max
    state.pos = label.end()
    return True
