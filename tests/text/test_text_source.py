"""Lines, columns and bytes: the only count of places that every report rests on."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.text.source import Position, SourceText, Span, Undecodable, decode_source, read_source

if TYPE_CHECKING:
    from pathlib import Path

# Ordinary letters, every sign that some reader takes for a line end, and signs of two and four bytes.
texts = st.text(st.sampled_from("ab \n\r\t\x0b\x0c\x1c\x1d\x1e\x85\u2028\u2029\ufeffé\U0001f426"))


@pytest.mark.parametrize(
    ("text", "offset", "line", "column"),
    [
        ("bill: black\nnape: red", 0, 1, 1),
        ("bill: black\nnape: red", 10, 1, 11),
        ("bill: black\nnape: red", 11, 1, 12),
        ("bill: black\nnape: red", 12, 2, 1),
        ("a\r\nb", 1, 1, 2),
        ("a\r\nb", 2, 1, 3),
        ("a\r\nb", 3, 2, 1),
        ("a\rb", 2, 2, 1),
        ("a\n\rb", 3, 3, 1),
        ("a\r\r\nb", 2, 2, 1),
        ("", 0, 1, 1),
        ("a\n", 2, 2, 1),
        ("é\U0001f426b", 2, 1, 3),
    ],
)
def test_a_place_is_line_and_column_from_one(text: str, offset: int, line: int, column: int) -> None:
    """LF, CR and CRLF end a line, and columns count characters, never bytes."""
    assert SourceText("entry.md", text).position(offset) == Position(line, column)


@pytest.mark.parametrize("sign", ["\x0b", "\x0c", "\x1c", "\x1d", "\x1e", "\x85", "\u2028", "\u2029"])
def test_no_other_sign_ends_a_line(sign: str) -> None:
    """What Python, or YAML 1.1, takes for a line end besides LF, CR and CRLF is a character like any other."""
    source = SourceText("entry.md", f"bill{sign}black\nnape")
    assert source.position(len("bill.black")) == Position(1, 11)
    assert source.line(1) == f"bill{sign}black"
    assert source.line(2) == "nape"


@pytest.mark.parametrize("offset", [3, 4, 1000])
def test_a_place_past_the_end_is_the_end(offset: int) -> None:
    """A reader that ran too far still gets a place in the file."""
    assert SourceText("entry.md", "a\nb").position(offset) == Position(2, 2)


def test_a_place_before_the_beginning_is_the_beginning() -> None:
    """A negative offset never counts from the end."""
    assert SourceText("entry.md", "a\nb").position(-1) == Position(1, 1)


@pytest.mark.parametrize("number", [0, -1, 3])
def test_a_line_outside_the_file_is_empty(number: int) -> None:
    """A report may ask for a line that is not there."""
    assert SourceText("entry.md", "a\nb").line(number) == ""


@given(texts)
def test_a_place_is_the_inverse_of_counting(text: str) -> None:
    """Line start plus column leads back to every offset."""
    source = SourceText("entry.md", text)
    for offset in range(len(text) + 1):
        place = source.position(offset)
        assert source.line_span(place.line).start + place.column - 1 == offset


@given(texts)
def test_a_line_span_slices_back_to_its_line(text: str) -> None:
    """The span of a line covers the line without its end, and nothing else."""
    source = SourceText("entry.md", text)
    for number in range(1, source.position(len(text)).line + 1):
        assert source.slice(source.line_span(number)) == source.line(number)


@given(texts)
def test_the_lines_are_those_of_the_bytes(text: str) -> None:
    """Outside check: Python's bytes, unlike its text, break at LF, CR and CRLF only (bytes.splitlines)."""
    source = SourceText("entry.md", text)
    last = source.position(len(text)).line
    lines = [source.line(number) for number in range(1, last + 1)]
    expected = [line.decode() for line in text.encode().splitlines()]
    # After a final line end there is one more, empty line to stand on.
    assert (lines[:-1] if lines[-1] == "" else lines) == expected


def test_a_byte_order_mark_is_dropped() -> None:
    """The mark is no part of the text, so that columns are those of the editor."""
    source = decode_source(b"\xef\xbb\xbfspecies: Sora\n", "entry.md")
    assert isinstance(source, SourceText)
    assert source.text == "species: Sora\n"
    assert source.position(9) == Position(1, 10)


def test_only_one_byte_order_mark_is_dropped() -> None:
    """A second mark is a character of the text, which the reader of the front matter names."""
    source = decode_source(b"\xef\xbb\xbf\xef\xbb\xbfa", "entry.md")
    assert isinstance(source, SourceText)
    assert source.text == "\ufeffa"


@pytest.mark.parametrize(
    ("data", "line", "column", "reason"),
    [
        (b"a\xff", 1, 2, "byte 0xff at offset 1 is not UTF-8"),
        (b"caf\xe9\nbar", 1, 4, "byte 0xe9 at offset 3 is not UTF-8"),
        (b"ab\r\n\xc3(", 2, 1, "byte 0xc3 at offset 4 is not UTF-8"),
        ("é\n".encode() + b"x\x80", 2, 2, "byte 0x80 at offset 4 is not UTF-8"),
        (b"\xef\xbb\xbfab\xfe", 1, 3, "byte 0xfe at offset 5 is not UTF-8"),
        (b"end\xe2\x80", 1, 4, "byte 0xe2 at offset 3 is not UTF-8"),
        (b"\xff\xfea\x00", 1, 1, "byte 0xff at offset 0 is not UTF-8"),
    ],
)
def test_bytes_that_are_no_text_are_named_with_their_place(data: bytes, line: int, column: int, reason: str) -> None:
    """The first byte that is not UTF-8 is told by its number in the file, and shown in the text."""
    found = decode_source(data, "entry.md")
    assert isinstance(found, Undecodable)
    assert found.source.position(found.span.start) == Position(line, column)
    assert found.source.slice(found.span) == "\ufffd"
    assert (found.path, found.reason) == ("entry.md", reason)


@given(st.binary() | texts.map(str.encode))
def test_any_bytes_give_a_text_or_a_place(data: bytes) -> None:
    """Bytes are a text exactly when Python's own strict decoder takes them."""
    found = decode_source(data, "entry.md")
    if isinstance(found, SourceText):
        assert found.text.encode() == data.removeprefix(b"\xef\xbb\xbf")
    else:
        with pytest.raises(UnicodeDecodeError):
            data.decode()
        assert found.source.slice(found.span) == "\ufffd"


def test_a_file_is_read_with_its_line_ends(tmp_path: Path) -> None:
    """Nothing is translated on the way in: offsets count what is on the disk."""
    file = tmp_path / "sora.md"
    file.write_bytes(b"a\r\nb\rc\n")
    source = read_source(file, "entries/sora.md")
    assert isinstance(source, SourceText)
    assert (source.path, source.text) == ("entries/sora.md", "a\r\nb\rc\n")


def test_a_file_that_is_not_there_is_the_callers_matter(tmp_path: Path) -> None:
    """The room of texts passes on what the system says."""
    with pytest.raises(FileNotFoundError):
        read_source(tmp_path / "none.md", "none.md")


def test_a_spot_between_characters_covers_nothing() -> None:
    """An empty span slices to nothing."""
    assert SourceText("entry.md", "ab").slice(Span(1, 1)) == ""
