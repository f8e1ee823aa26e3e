"""Front matter to nodes: YAML events, our own walk over them, and all that YAML loses in silence.

Events instead of ``yaml.load``: they keep places and duplicate keys, leave every scalar as text,
and cost half as much. What the author meant and YAML would drop is named here as a problem.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import yaml

from tertial.text.events import Events
from tertial.text.mend import mended, stop_at
from tertial.text.nodes import STRAY, Listing, Mapping, Node, Pair, Scalar
from tertial.text.problem import Also, Problem, Severity
from tertial.text.recover import Draft
from tertial.text.source import Span

if TYPE_CHECKING:
    from tertial.text.source import SourceText

# An entry has three levels; a reader that never ends is no use to anyone.
_DEEPEST = 12
# What aliases may unfold to: some fifty times a long entry.
_MOST_NODES = 20_000
_MOST_FAULTS = 40

_BLANKS = re.compile(r"[ \t]++")
# Blanks that only look like those of the space bar, where YAML asks for these: before a key, and behind its colon.
# Behind an indentation that stands they do no harm, and to count them would shift the line.
_OTHER_BLANK = re.compile("[\xa0\u1680\u2000-\u200a\u202f\u205f\u3000]")
_BLANKS_OF_FORM = re.compile(
    rf"(?:\A|(?<=[\r\n]))(?:[ \t]?{_OTHER_BLANK.pattern}[^\S\r\n]*|[ \t]*+)(?:[A-Za-z][\w -]*:{_OTHER_BLANK.pattern}+)?"
)
_COLON = re.compile(r"\s*:")
_CUT = re.compile(r"[ \t]#[^\r\n]*")
_ITEM_WITHIN = re.compile(r"[\r\n][ \t]*+(-[ \t][^\r\n]*)")
_COMMENT_VALUE = re.compile(r"[ \t]#[^ \r\n][^\r\n]*")
_LITERAL_MEND = "write the phrases as a literal: the key, then |, then one line a phrase"


@dataclass(slots=True)
class _Walk:
    """One reading of one front matter."""

    source: SourceText
    base: int
    draft: Draft
    events: Events
    problems: list[Problem] = field(default_factory=list)
    anchors: dict[str, tuple[Node, int]] = field(default_factory=dict)
    unused: dict[str, Span] = field(default_factory=dict)
    spare: int = _MOST_NODES
    end: int = 0

    def top(self) -> Mapping:
        """Read the whole front matter; anything but keys and values at the top is a problem."""
        empty = Mapping((), Span(self.base, self.base))
        while isinstance(self.events.ahead, yaml.StreamStartEvent | yaml.DocumentStartEvent):
            self.events.take()
        if isinstance(self.events.ahead, yaml.StreamEndEvent):
            return empty
        node, _ = self.node(0)
        for anchor, span in self.unused.items():
            message = f"&{anchor} names a value to be repeated, and nothing repeats it; plain text was expected"
            self.say("yaml-extra", Severity.WARNING, span, message, "leave the sign out, or put the value in quotes")
        self.events.take()
        if isinstance(self.events.ahead, yaml.DocumentStartEvent):
            span = self.span(self.events.ahead)
            message = "a second YAML document begins here; one was expected"
            self.say("yaml-syntax", Severity.ERROR, span, message, "leave out this line and the one with ...")
        if isinstance(node, Mapping):
            return node
        if not (isinstance(node, Scalar) and node.is_empty):
            message = "the front matter holds no keys; the kind and name were expected (species: Hairy Woodpecker)"
            self.say("no-keys", Severity.ERROR, node.span, message, "write every line as key: value")
        return empty

    def span(self, event: Any) -> Span:
        start, end = event.start_mark.index, event.end_mark.index
        if not getattr(event, "style", None) and isinstance(event, yaml.ScalarEvent):
            end = start + len(self.draft.text[start:end].rstrip())
        own = self.draft.own_offset
        self.end = self.base + own(end)
        return Span(self.base + own(start), self.end)

    def say(self, word: str, severity: Severity, span: Span, message: str, mend: str, *also: Also) -> None:
        self.problems.append(Problem(word, severity, self.source, span, message, mend, also))

    def node(self, depth: int) -> tuple[Node, int]:
        """Read one node; give it with the number of nodes it unfolds to."""
        event = self.events.take()
        if isinstance(event, yaml.AliasEvent):
            return self._alias(event)
        span = self.span(event)
        if event.tag is not None and event.tag != "!":
            message = f"the tag {event.tag!r} gives a value a type; plain text was expected"
            self.say(
                "yaml-extra",
                Severity.WARNING,
                span,
                message,
                "leave the tag out; every value is read as text",
            )
        if isinstance(event, yaml.ScalarEvent):
            node: Node = Scalar(event.value, span, event.style or "")
            weight = 1
            self._silent_losses(event, span)
        elif depth > _DEEPEST:
            self._skip(event)
            message = f"values stand more than {_DEEPEST} levels deep; an entry needs three"
            self.say("yaml-extra", Severity.ERROR, span, message, "bring these values nearer to the margin")
            node, weight = Scalar("", span), 1
        elif isinstance(event, yaml.SequenceStartEvent):
            node, weight = self._listing(depth, span)
        else:
            node, weight = self._mapping(depth, span, flow=bool(event.flow_style))
        if event.anchor:
            self.anchors[event.anchor] = (node, weight)
            at = self.source.text.find(f"&{event.anchor}", span.start)
            self.unused[event.anchor] = Span(at, at + len(event.anchor) + 1)
        return node, weight

    def _alias(self, event: Any) -> tuple[Node, int]:
        span = self.span(event)
        node, weight = self.anchors.get(event.anchor, (None, 0))
        self.unused.pop(event.anchor, None)
        if node is None:
            message = f"*{event.anchor} refers to an anchor &{event.anchor} that is not set before it"
            self.say("yaml-extra", Severity.WARNING, span, message, "write the value out, or put it in quotes")
            return Scalar("", span), 1
        self.spare -= weight
        if self.spare < 0:
            message = f"with *{event.anchor} the entry unfolds to more than {_MOST_NODES} values"
            self.say("yaml-extra", Severity.ERROR, span, message, "write the values out where they are needed")
            return Scalar("", span), 1
        return node, weight

    def _listing(self, depth: int, span: Span) -> tuple[Listing, int]:
        items, weight = [], 1
        while not isinstance(self.events.ahead, yaml.SequenceEndEvent):
            item, cost = self.node(depth + 1)
            items.append(item)
            weight += cost
        return Listing(tuple(items), self._until(span, self.events.take())), weight

    def _mapping(self, depth: int, span: Span, *, flow: bool) -> tuple[Mapping, int]:
        pairs: dict[str, Pair] = {}
        weight = 1
        while not isinstance(self.events.ahead, yaml.MappingEndEvent):
            key, _ = self.node(depth + 1)
            colon = not flow or _COLON.match(self.source.text, key.span.end)
            value, cost = self.node(depth + 1)
            weight += cost + 1
            if not isinstance(key, Scalar):
                message = "a list or mapping stands where a key was expected"
                self.say("yaml-extra", Severity.WARNING, key.span, message, "write the key as plain text")
            elif key.text == "<<":
                message = "the merge key << copies keys from elsewhere; every key written out was expected"
                self.say("yaml-extra", Severity.WARNING, key.span, message, "write the keys out in this entry")
            elif not colon:
                message = f"the comma in braces cut {key.text!r} off from its phrase"
                self.say("cut-by-comma", Severity.WARNING, key.span, message, _LITERAL_MEND)
            elif key.text in pairs:
                first = Also(self.source, pairs[key.text].key.span, "first written here")
                message = f"the key {key.text!r} is written twice; the second is not read"
                self.say("key-twice", Severity.WARNING, key.span, message, "keep one of the two", first)
            else:
                pairs[key.text] = Pair(key, value)
        return Mapping(tuple(pairs.values()), self._until(span, self.events.take())), weight

    def _silent_losses(self, event: Any, span: Span) -> None:
        if event.style:
            return
        after = self._after(span.end)
        cut = (_CUT if event.value else _COMMENT_VALUE).match(after)
        if cut is not None:
            lost = Span(span.end + 1, span.end + len(cut.group().rstrip()))
            message = f"{cut.group().strip()[:30]!r} is a comment to YAML and is not read"
            mend = "put the value in quotes or in a literal; for a comment leave two blanks before #"
            self.say("cut-by-hash", Severity.WARNING, lost, message, mend)
        swallowed = _ITEM_WITHIN.search(self.source.text, span.start, span.end)
        if swallowed is not None:
            message = (
                f"{swallowed.group(1)[:30].rstrip()!r} is read as a part of the item above it, not as one of its own"
            )
            mend = "begin it at the same distance from the margin as the item above it"
            self.say("item-swallowed", Severity.WARNING, Span(*swallowed.span(1)), message, mend)
        if event.value in ("~", "null", "Null", "NULL"):
            message = f"{event.value!r} means nothing at all to YAML; a word was expected"
            mend = "leave the line out, or write of a mark unknown, not seen or does not apply"
            self.say("null-word", Severity.WARNING, span, message, mend)

    def _after(self, offset: int) -> str:
        """What stands after an offset of the author's text, on the same line."""
        found = re.compile(r"[^\r\n]*").match(self.source.text, offset)
        return found.group() if found else ""

    def _until(self, span: Span, end_event: Any) -> Span:
        start, end = end_event.start_mark.index, end_event.end_mark.index
        if start < end:  # a closing bracket; a block just ends, and comments may follow its last value
            self.end = self.base + self.draft.own_offset(end)
        text = self.source.text[span.start : self.end]
        return Span(span.start, max(span.start, span.start + len(text.rstrip())))

    def _skip(self, event: Any) -> None:
        level = 1
        while level:
            event = self.events.take()
            level += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)


def read_front(
    source: SourceText, span: Span, tops: frozenset[str] = frozenset()
) -> tuple[Mapping, tuple[Problem, ...]]:
    """Read the front matter of a file.

    :param source: the file.
    :param span: where its front matter stands.
    :param tops: keys that stand at the margin, by which a line with a faulty indentation is told.
    :returns: the top mapping (empty when there is none) and every problem; all places are offsets
        in ``source``. Never raises for what an author may write; takes linear time.
    """
    raw = source.slice(span)
    problems: list[Problem] = []
    plain = _with_plain_blanks(source, span, _without_strays(source, span, raw, problems), problems)
    draft = Draft.of(_without_tabs(plain), tops)
    for _ in range(_MOST_FAULTS):
        walk = _Walk(source, span.start, draft, Events(draft.text))
        try:
            top = walk.top()
        except yaml.MarkedYAMLError as fault:
            problem, draft = mended(source, span.start, draft, stop_at(draft, fault, walk.events.ahead))
            problems.append(problem)
        else:
            return top, (*problems, *walk.problems)
    message = f"more than {_MOST_FAULTS} lines of the front matter cannot be read; the rest is left unread"
    mend = "mend the lines named above first"
    problems.append(Problem("yaml-syntax", Severity.ERROR, source, Span(span.start, span.start), message, mend))
    return Mapping((), span), tuple(problems)


def _without_strays(source: SourceText, span: Span, raw: str, problems: list[Problem]) -> str:
    """Blank out characters that have no place here, so that one stray byte does not cost the entry."""
    found = STRAY.search(raw)
    if found is None:
        return raw
    spot = Span(span.start + found.start(), span.start + found.end())
    message = f"the character U+{ord(found.group()):04X} cannot stand in front matter; it is read as a blank"
    problems.append(
        Problem(
            "stray-character",
            Severity.WARNING,
            source,
            spot,
            message,
            "delete the character, or write it out",
        )
    )
    return STRAY.sub(" ", raw)


def _with_plain_blanks(source: SourceText, span: Span, raw: str, problems: list[Problem]) -> str:
    """Read blanks that were pasted from a page or a word processor as blanks where they make the form."""
    if _OTHER_BLANK.search(raw) is None:
        return raw
    runs = [run for run in _BLANKS_OF_FORM.finditer(raw) if _OTHER_BLANK.search(run.group())]
    if not runs:
        return raw
    first = _OTHER_BLANK.search(raw, runs[0].start())
    at = span.start + (first.start() if first else 0)
    lines = f"{len(runs)} lines" if runs[1:] else "one line"
    message = (
        f"U+{ord(source.text[at]):04X}, which only looks like a blank, parts or indents {lines}; blanks were expected"
    )
    mend = "copy it into the search of your editor, and replace all of them by blanks"
    problems.append(Problem("stray-character", Severity.WARNING, source, Span(at, at + 1), message, mend))
    return _BLANKS_OF_FORM.sub(lambda run: _OTHER_BLANK.sub(" ", run.group()), raw)


def _without_tabs(text: str) -> str:
    """Read tabs as blanks where they do not indent; YAML allows them there, but its parsers stumble."""

    def even(run: re.Match[str]) -> str:
        start, end = run.span()
        begins_line = start == 0 or text[start - 1] in "\r\n"
        ends_line = end == len(text) or text[end] in "\r\n"
        return run.group() if begins_line and not ends_line else run.group().replace("\t", " ")

    return _BLANKS.sub(even, text) if "\t" in text else text
