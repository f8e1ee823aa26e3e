"""Front matter that nobody foresaw: sound YAML of every style, and growth that stays in proportion."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from tertial.text import events
from tertial.text.nodes import Listing, Mapping, Node, Scalar
from tertial.text.recover import Draft, Repair, blank
from tertial.text.source import SourceText, Span
from tertial.text.yamlread import read_front


def plain(node: Node) -> Any:
    """The same as texts, lists and dictionaries."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return {pair.key.text: plain(pair.value) for pair in node.pairs}


def nodes(node: Node) -> list[Node]:
    """A node and all below it, keys included."""
    if isinstance(node, Scalar):
        return [node]
    if isinstance(node, Listing):
        return [node, *(below for item in node.items for below in nodes(item))]
    return [node, *(below for pair in node.pairs for each in (pair.key, pair.value) for below in nodes(each))]


# Signs that only YAML 1.1 takes for line ends are read as blanks, on purpose, and named, and so are other blanks than
# that of the space bar, where they indent; so they stay out here.
letters = st.characters(exclude_categories=["Cs", "Zs"], exclude_characters="\x85\u2028\u2029\ufeff")
texts = st.text(letters | st.just(" "), max_size=40) | st.sampled_from(
    ["no", "~", "null", "1:30", "a: b", "a #b", "- a", "{a}", "[b]", "'", '"', "*x", "&x", "!x", "%x", "@x", "|", ">"]
)  # fmt: skip
keys = texts.filter(lambda text: text != "<<")
values = st.recursive(
    texts, lambda each: st.lists(each, max_size=4) | st.dictionaries(keys, each, max_size=4), max_leaves=8
)
fronts = st.dictionaries(keys, values, min_size=1, max_size=5)
parsers = st.sampled_from([events.parser_class, events.SlowParser])


@given(
    front=fronts,
    flow=st.sampled_from([None, False, True]),
    style=st.sampled_from([None, "'", '"', "|", ">"]),
    width=st.sampled_from([1, 20, 80, 10_000]),
    indent=st.integers(2, 6),
    unicode=st.booleans(),
    end=st.sampled_from(["\n", "\r\n"]),
    parser=parsers,
)
def test_sound_yaml_of_any_style_reads_as_another_reader_reads_it(
    front: dict[str, Any],
    flow: bool | None,
    style: str | None,
    width: int,
    indent: int,
    unicode: bool,
    end: str,
    parser: type,
) -> None:
    """Outside check: what PyYAML writes (YAML 1.1) we read as its BaseLoader does, which keeps scalars as text."""
    text = yaml.safe_dump(
        front,
        default_flow_style=flow,
        default_style=style,
        width=width,
        indent=indent,
        allow_unicode=unicode,
        line_break=end,
    )
    source = SourceText("entry.md", text)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(events, "parser_class", parser)
        top, problems = read_front(source, Span(0, len(text)))
    assert plain(top) == yaml.load(text, Loader=yaml.BaseLoader)
    # What looks cut off is in quotes where it was meant; one comma in braces is no loss either.
    assert problems == ()
    for node in nodes(top):
        assert 0 <= node.span.start <= node.span.end <= len(text)
        if isinstance(node, Scalar) and not node.style:
            assert " ".join(source.slice(node.span).split()) == " ".join(node.text.split())


words = st.sampled_from(
    ["a", "key", "é", "\U0001f426", "~", "null", "<<", "---", "...", "\n---\n", "\n...\n", "%YAML 1.1\n"]
)
signs = st.sampled_from(
    [": ", ":", " ", "- ", "[", "]", "{", "}", ",", '"', "'", "|", ">", "#", " #", "? ", "%", "@", "`"]
)
sharp = st.sampled_from(
    ["&a ", "*a", "!t ", "!<", "\\", "\t", "|2", "|9-", "\n", "\n  ", "\n    ", "\r\n", "\r", "\x00", "\x85"]
)
broken = st.lists(words | signs | sharp, max_size=30).map("".join) | st.text()


@given(broken, parsers, st.sampled_from(["", "---\n", "é\r\n"]))
def test_anything_is_read_without_a_word_from_the_parser(text: str, parser: type, head: str) -> None:
    """Whatever stands there is read; every place lies in the front matter, and no fault is told twice."""
    source = SourceText("entry.md", head + text)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(events, "parser_class", parser)
        top, problems = read_front(source, Span(len(head), len(source.text)))
    assert isinstance(top, Mapping)
    places = [each.span for each in (*nodes(top), *problems, *(also for problem in problems for also in problem.also))]
    assert all(len(head) <= span.start <= span.end <= len(source.text) for span in places)
    told = [(problem.word, problem.span, problem.message) for problem in problems]
    assert len(told) == len(set(told))
    assert all(problem.message and problem.mend for problem in problems)


class Counted:
    """Counts how often a parser is made, and how many events it gives."""

    made = 0
    events = 0

    def __init__(self, text: str) -> None:
        type(self).made += 1
        self._parser: Any = events.SlowParser(text)

    def get_event(self) -> Any:
        """Pass on an event."""
        type(self).events += 1
        return self._parser.get_event()


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> type[Counted]:
    """A parser that counts, in force for one test."""

    class Fresh(Counted):
        """Counts from nothing."""

    monkeypatch.setattr(events, "parser_class", Fresh)
    return Fresh


def effort(counted: type[Counted], text: str) -> tuple[int, int]:
    """Read a text and tell how many parsers were made and how many events they gave."""
    counted.made = counted.events = 0
    read_front(SourceText("entry.md", text), Span(0, len(text)))
    return counted.made, counted.events


def test_a_sound_file_is_parsed_once(counted: type[Counted]) -> None:
    """Twice the keys are twice the events, from one parser."""
    one, two = (effort(counted, "".join(f"key {n}: [a, b]\n" for n in range(count))) for count in (100, 200))
    assert one[0] == two[0] == 1
    assert two[1] < 2 * one[1]


@pytest.mark.parametrize(
    "fault",
    ["{n}: a: b\n", '{n}: "a\n', "{n}: [a\n", "k{n}:a\n", "k{n} a\n", "\tk{n}: a\n", "k{n}: @a\n", "  : {n}\n"],
)  # fmt: skip
def test_every_fault_costs_the_same(counted: type[Counted], fault: str) -> None:
    """The number of readings grows with the number of faults by a constant, and that is a small one."""
    made = [
        effort(counted, "first: one\n" + "".join(fault.format(n=n) for n in range(count)))[0] for count in range(1, 12)
    ]
    steps = {after - before for before, after in pairwise(made[3:])}
    assert len(steps) == 1
    assert 1 <= steps.pop() <= 12


def test_aliases_are_read_in_proportion_to_the_text(counted: type[Counted]) -> None:
    """What unfolds to a billion values gives no more events than the text has characters."""
    levels = ["a0: &a0 [x, x]"] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    text = "\n".join(levels)
    assert effort(counted, text)[0] == 1
    assert counted.events < len(text)


def test_depth_is_read_in_proportion_to_the_text(counted: type[Counted]) -> None:
    """A thousand brackets are stepped over one by one."""
    assert effort(counted, "a: " + "[" * 1000 + "]" * 1000 + "\n") == (1, 2007)


@given(st.lists(st.text(st.sampled_from("ab :"), max_size=8), min_size=1, max_size=6), st.data())
def test_a_repaired_line_maps_back_to_the_authors(lines: list[str], data: st.DataObject) -> None:
    """Whatever is repaired, and however often, offsets of the lines left alone lead back to the same characters."""
    text = "".join(line + data.draw(st.sampled_from(["\n", "\r\n"])) for line in lines)
    draft, kept = Draft.of(text), set(range(len(lines)))
    for number in data.draw(st.lists(st.sampled_from(range(len(lines))), max_size=4)):
        line = draft.line(number)
        longer = Repair(f"'{line}'", (0, *range(len(line) + 1), len(line)))
        draft = draft.with_repair(number, data.draw(st.sampled_from([blank(line), longer])))
        kept.discard(number)
    for number in kept:
        start, own_start = draft.starts[number], draft.own_starts[number]
        assert draft.lines[number] == draft.own[number]
        assert all(draft.own_offset(start + at) == own_start + at for at in range(len(draft.lines[number])))
    back = [draft.own_offset(offset) for offset in range(len(draft.text))]
    assert back == sorted(back)
    assert all(0 <= offset <= len(text) for offset in back)
