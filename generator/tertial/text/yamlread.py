"""Front matter to nodes: YAML events, our own walk over them, and all that YAML loses in silence.

Events instead of ``yaml.load``: they keep places and duplicate keys, leave every scalar as text,
and cost half as much. What the author meant and YAML would drop is named here as a problem.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import yaml

from tertial.text.nodes import Listing, Mapping, Node, Pair, Scalar
from tertial.text.problem import Also, Problem, Severity
from tertial.text.recover import Draft, blank, explain, faulty_offset, is_glued, repairs
from tertial.text.source import Span

try:
    from yaml._yaml import CParser as _Parser

    FAST = True
    """Whether libyaml does the reading; without it the same work takes some twenty times as long."""
except ImportError:  # pragma: no cover - the wheels of every common system carry libyaml
    from yaml.parser import Parser
    from yaml.reader import Reader
    from yaml.scanner import Scanner

    class _Parser(Reader, Scanner, Parser):  # type: ignore[no-redef]
        def __init__(self, text: str) -> None:
            Reader.__init__(self, text)
            Scanner.__init__(self)
            Parser.__init__(self)

    FAST = False

if TYPE_CHECKING:
    from tertial.text.source import SourceText

# An entry has three levels; a reader that never ends is no use to anyone.
_DEEPEST = 12
# What aliases may unfold to: some fifty times a long entry.
_MOST_NODES = 20_000
_MOST_FAULTS = 40

_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_CUT = re.compile(r" #[^\r\n]*")
_COMMENT_VALUE = re.compile(r" #[^ \r\n][^\r\n]*")
_LITERAL_MEND = "write the phrases as a literal: the key, then |, then one line a phrase"


class _Events:
    """The events of one text, with one of them in view."""

    def __init__(self, text: str) -> None:
        self._get = _Parser(text).get_event
        self.ahead: Any = self._get()

    def take(self) -> Any:
        event, self.ahead = self.ahead, self._get()
        return event


@dataclass(slots=True)
class _Walk:
    """One reading of one front matter."""

    source: SourceText
    base: int
    draft: Draft
    events: _Events
    problems: list[Problem] = field(default_factory=list)
    anchors: dict[str, tuple[Node, int]] = field(default_factory=dict)

    def top(self) -> Mapping:
        """Read the whole front matter; anything but keys and values at the top is a problem."""
        empty = Mapping((), Span(self.base, self.base))
        while isinstance(self.events.ahead, yaml.StreamStartEvent | yaml.DocumentStartEvent):
            self.events.take()
        if isinstance(self.events.ahead, yaml.StreamEndEvent):
            return empty
        node, _ = self.node(0)
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
        return Span(self.base + own(start), self.base + own(end))

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
        return node, weight

    def _alias(self, event: Any) -> tuple[Node, int]:
        span = self.span(event)
        node, weight = self.anchors.get(event.anchor, (None, 0))
        if node is None:
            message = f"*{event.anchor} refers to an anchor &{event.anchor} that is not set before it"
            self.say("yaml-extra", Severity.WARNING, span, message, "write the value out, or put it in quotes")
            return Scalar("", span), 1
        if weight > _MOST_NODES:
            message = f"*{event.anchor} unfolds to more than {_MOST_NODES} values"
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
            colon = not flow or self._after(key.span.end).lstrip()[:1] == ":"
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
        if event.value in ("~", "null", "Null", "NULL"):
            message = f"{event.value!r} means nothing at all to YAML; a word was expected"
            mend = "write unknown, not seen or does not apply; or leave the line out"
            self.say("null-word", Severity.WARNING, span, message, mend)

    def _after(self, offset: int) -> str:
        """What stands after an offset of the author's text, on the same line."""
        found = re.compile(r"[^\r\n]*").match(self.source.text, offset)
        return found.group() if found else ""

    def _until(self, span: Span, end_event: Any) -> Span:
        end = self.base + self.draft.own_offset(end_event.end_mark.index)
        text = self.source.text[span.start : end]
        return Span(span.start, max(span.start, span.start + len(text.rstrip())))

    def _skip(self, event: Any) -> None:
        level = 1
        while level:
            event = self.events.take()
            level += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)


def read_front(source: SourceText, span: Span) -> tuple[Mapping, tuple[Problem, ...]]:
    """Read the front matter of a file.

    :param source: the file.
    :param span: where its front matter stands.
    :returns: the top mapping (empty when there is none) and every problem; all places are offsets
        in ``source``. Never raises for what an author may write; takes linear time.
    """
    raw = source.slice(span)
    problems: list[Problem] = []
    text = _without_forbidden(source, span, raw, problems)
    draft = Draft.of(text)
    for _ in range(_MOST_FAULTS):
        try:
            walk = _Walk(source, span.start, draft, _Events(draft.text))
            top = walk.top()
        except yaml.MarkedYAMLError as fault:
            problem, draft = _mended(source, span.start, draft, fault)
            problems.append(problem)
            continue
        return top, (*problems, *walk.problems)
    message = f"more than {_MOST_FAULTS} lines of the front matter cannot be read; the rest is left unread"
    mend = "mend the lines named above first"
    problems.append(Problem("yaml-syntax", Severity.ERROR, source, Span(span.start, span.start), message, mend))
    return Mapping((), span), tuple(problems)


def _without_forbidden(source: SourceText, span: Span, raw: str, problems: list[Problem]) -> str:
    """Blank out characters that YAML forbids, so that one stray byte does not cost the entry."""
    found = _FORBIDDEN.search(raw)
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
    return _FORBIDDEN.sub(" ", raw)


def _mended(source: SourceText, base: int, draft: Draft, fault: yaml.MarkedYAMLError) -> tuple[Problem, Draft]:
    """Name a syntax fault, and give a draft whose next reading gets past it."""
    number = _faulty_line(draft, fault)
    line, shown = draft.line(number), ""
    what, expected = explain(fault.context or "", fault.problem or "")
    message = f"{what}; {expected}"
    mended = draft.with_repair(number, blank(line))
    for repair in repairs(line):
        tried = draft.with_repair(number, repair)
        next_fault = _first_fault(tried)
        if next_fault is None or _faulty_line(tried, next_fault) > number:
            mended, shown, message = tried, repair.text.strip(), repair.fault or message
            break
    start, own = draft.own_line(number)
    indent = len(own) - len(own.lstrip())
    span = Span(base + start + indent, base + start + max(len(own.rstrip()), indent))
    if not shown:
        mend = "write the line as key: value, or put the value in quotes"
    elif shown == own.strip():
        mend = f"indent the line with blanks, as its neighbours are: {shown}"
    else:
        mend = f"write: {shown}"
    return Problem("yaml-syntax", Severity.ERROR, source, span, message, mend), mended


def _faulty_line(draft: Draft, fault: yaml.MarkedYAMLError) -> int:
    context_index = fault.context_mark.index if fault.context_mark else None
    problem_index = fault.problem_mark.index if fault.problem_mark else None
    number = draft.line_of(faulty_offset(fault.context or "", context_index, problem_index))
    while number > 0 and not draft.line(number).strip():
        number -= 1
    # ``bill:black`` runs on into the next line, and only that one fails; the fault is above it.
    glued = number > 0 and "mapping values" in (fault.problem or "") and is_glued(draft.line(number - 1))
    return number - 1 if glued else number


def _first_fault(draft: Draft) -> yaml.MarkedYAMLError | None:
    try:
        events = _Events(draft.text)
        while events.ahead is not None:
            events.take()
    except yaml.MarkedYAMLError as fault:
        return fault
    return None
