"""From bytes to an entry, whatever the bytes: no traceback, and every place inside the file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given
from hypothesis import strategies as st

from tertial.entries.load import FIELD_TABLES, KINDS, read_entry
from tertial.entries.settings import FIELDS, read_settings
from tertial.text.source import SourceText, Span, Undecodable, decode_source

if TYPE_CHECKING:
    from tertial.text.problem import Problem

keys = [field.key for table in (*FIELD_TABLES.values(), FIELDS) for field in table] + list(KINDS)
inner = [
    "file",
    "alt",
    "scale",
    "head",
    "pointers",
    "taken",
    "length",
    "mass",
    "class",
    "male",
    "all",
    "foraging",
    "notes",
]
words = st.sampled_from(
    [*keys, *inner, "bill", "DOWO", "unknown", "2026-01-04", "18-26 cm", "mean 3 n 2 mm", "all year"]
)
values = st.sampled_from(
    ["1,2 to 3,4", "1% 2% bill", "[a, b]", "{a: b, c}", "|", ">-", "~", "''", "*x", "&x", "!t", "é\U0001f426"]
)
signs = st.sampled_from(
    [": ", ":", "\n", "\n  ", "\n    ", "\n  - ", "- ", " #", '"', "'", "[", "]", "{", "}", ",", "\t", "\r\n"]
)
front = st.lists(words | values | signs, max_size=40).map("".join)
body = st.sampled_from(["", "Text.\n", "[x](y.md) ![](z.png)\n", "# HAWO\n\n---\n", "\x00\u2028"])
fence = st.sampled_from(["---\n", "---\r\n", "--- \n", "", "----\n", "\ufeff---\n"])
kind = st.sampled_from([*(f"{kind}: Sora\n" for kind in KINDS), "species: ", ""])
files = st.tuples(fence, kind, front, st.just("\n"), fence, body).map("".join)


def problems_of(data: bytes, path: str) -> tuple[SourceText, tuple[Problem, ...]]:
    """Read bytes as an entry or as settings."""
    source = decode_source(data, path)
    if isinstance(source, Undecodable):
        return source.source, ()
    return source, (read_settings if path == "guide.yaml" else read_entry)(source)[1]


def assert_in_place(source: SourceText, problems: tuple[Problem, ...]) -> None:
    """Every problem has its words, and every place lies in the file."""
    for problem in problems:
        assert problem.source is source
        assert problem.word
        assert problem.message
        assert problem.mend
        for span in (problem.span, *(also.span for also in problem.also)):
            assert 0 <= span.start <= span.end <= len(source.text)


def spans(value: object) -> list[Span]:
    """All places that an entry holds, at any depth."""
    if isinstance(value, Span):
        return [value]
    if isinstance(value, tuple):
        return [span for each in value for span in spans(each)]
    if isinstance(value, SourceText):
        return []
    return [span for name in getattr(type(value), "__dataclass_fields__", ()) for span in spans(getattr(value, name))]


@given(files)
def test_any_file_gives_an_entry_or_reasons(text: str) -> None:
    """Texts of keys, values and signs in any order: an entry, or an error that says why there is none."""
    source = SourceText("entries/x.md", text)
    entry, problems = read_entry(source)
    assert_in_place(source, problems)
    assert entry is not None or problems
    assert all(0 <= span.start <= span.end <= len(text) for span in spans(entry))


@given(front)
def test_any_settings_are_read(text: str) -> None:
    """The same for the settings of the guide, which always give something."""
    source = SourceText("guide.yaml", text)
    found, problems = read_settings(source)
    assert_in_place(source, problems)
    assert all(0 <= span.start <= span.end <= len(text) for span in spans(found))


@given(st.binary(max_size=200) | files.map(str.encode) | files.map(lambda text: text.encode("utf-16")), st.booleans())
def test_any_bytes_are_read(data: bytes, entry: bool) -> None:
    """Bytes of any kind, from a picture to another encoding, never stop the program."""
    source, problems = problems_of(data, "entries/x.md" if entry else "guide.yaml")
    assert_in_place(source, problems)


def test_spans_are_found_at_any_depth() -> None:
    """The walk above sees every place of a nested entry."""
    text = "---\nspecies: Sora\nmarks:\n  male: |\n    bill: yellow\n---\n"
    entry, _ = read_entry(SourceText("entries/x.md", text))
    assert [text[span.start : span.end] for span in spans(entry)] == ["", "Sora", "male", "bill", "yellow"]
