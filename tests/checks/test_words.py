"""Every word that a problem can have is explained, and the examples of its explanation are true.

Three things cannot stand in an example as they are, so the examples follow three conventions:

* a picture has an empty frame: a small one is put in its place, and for a ``.jpg`` one in falling light, whose
  file says where it was taken (an invented spot);
* ``\N{REPLACEMENT CHARACTER}`` stands for a byte that is not UTF-8, an ``\N{LATIN SMALL LETTER E WITH ACUTE}``
  in the encoding ISO 8859-1;
* ``\N{SYMBOL FOR FORM FEED}`` and its neighbours in Unicode (control pictures, U+2400 to U+241F) stand for
  the control characters that they are pictures of.
"""

from __future__ import annotations

import ast
import io
import re
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tertial.checks.every import CHECKS, DATED_CHECKS, LONG_CHECKS
from tertial.checks.words import WordText, all_words, explain
from tertial.text.problem import Severity

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tertial.report import Report

WORD = re.compile(r"[a-z]+(?:-[a-z]+)+")
SAYERS = frozenset({"say", "Problem", "Fault"})
# Exif 2.3, 4.6.3 and 4.6.6: the tag that leads to position data, and what stands there.
GPS = 0x8825
POSITION = {1: "N", 2: (44.0, 54.0, 0.0), 3: "W", 4: (93.0, 12.0, 0.0)}
CONTROLS = {0x2400 + code: code for code in range(0x20)}

each_word = pytest.mark.parametrize("text", all_words(), ids=lambda text: text.word)


def example_files(text: WordText, kind: str) -> Mapping[str, bytes]:
    return {path: example_file(path, content) for path, content in text.example(kind).items()}


def example_file(path: str, content: str) -> bytes:
    if path.endswith((".png", ".jpg")) and not content:
        exif = Image.Exif()
        if path.endswith(".jpg"):
            exif.get_ifd(GPS).update(POSITION)
        picture = io.BytesIO()
        light = Image.linear_gradient("L").point(lambda value: 128 + value // 3).resize((240, 180))
        plain = Image.new("L", (4, 3), 128)
        kind, shown = ("PNG", plain) if path.endswith(".png") else ("JPEG", light)
        shown.save(picture, kind, exif=exif)
        return picture.getvalue()
    return content.translate(CONTROLS).encode("utf-8").replace("\N{REPLACEMENT CHARACTER}".encode(), b"\xe9")


def said_words(package: Path) -> list[tuple[str, str]]:
    """Read from the syntax trees which module gives which word to ``say``, ``Problem`` or ``Fault``."""
    found = []
    for module in sorted(package.rglob("*.py")):
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
                name = getattr(node.func, "id", getattr(node.func, "attr", ""))
                word = node.args[0].value
                # The reader of scientific names has a Fault of its own, which begins with a sentence.
                if name in SAYERS and isinstance(word, str) and WORD.fullmatch(word):
                    found.append((module.name, word))
    return found


@each_word
def test_the_bad_example_gives_the_word(
    text: WordText,
    make_guide: Callable[[Mapping[str, bytes]], Path],
    report_on: Callable[[Path, str], Report],
) -> None:
    """What an explanation shows as bad is reported with the word that it explains."""
    report = report_on(make_guide(example_files(text, "bad")), text.word)
    assert text.word in {problem.word for problem in report.problems}


@each_word
def test_the_good_example_gives_nothing_to_mend(
    text: WordText,
    make_guide: Callable[[Mapping[str, bytes]], Path],
    report_on: Callable[[Path, str], Report],
) -> None:
    """What an explanation shows as good has neither the word nor any error or warning."""
    files = example_files(text, "good")
    report = report_on(make_guide(files), text.word)
    assert files
    assert [p.message for p in report.problems if p.word == text.word or p.severity <= Severity.WARNING] == []


@each_word
def test_examples_differ_in_little(text: WordText) -> None:
    """Good and bad example are about the same file, so that the eye finds what changed."""
    assert text.example("bad").keys() & text.example("good").keys()
    assert text.example("bad") != text.example("good")


@each_word
def test_an_explanation_has_a_title_and_paragraphs(text: WordText) -> None:
    """The title is one sentence without a full stop; two or three paragraphs of some length follow."""
    head, title, body = re.fullmatch(r"(# )([^\n]+)\n\n(.+)", text.text, re.DOTALL).groups()  # type: ignore[union-attr]
    paragraphs = body[: body.index("```bad")].strip().split("\n\n")
    assert head + title == f"# {text.title}"
    assert title[0].isupper()
    assert title[-1].isalnum()
    assert 1 <= len(paragraphs) <= 3
    assert 120 <= sum(map(len, paragraphs)) <= 1000


@each_word
def test_every_frame_of_an_explanation_is_an_example(text: WordText) -> None:
    """No frame is lost to a slip in its first line, and no two good or bad ones are of one file."""
    frames = re.findall(r"^```\S+.*$", text.text, re.MULTILINE)
    assert len(frames) == len(text.example("bad")) + len(text.example("good"))
    assert len(frames) * 2 == len(re.findall(r"^```", text.text, re.MULTILINE))


def test_titles_are_all_different() -> None:
    """A list of the titles alone tells the words apart."""
    titles = [text.title for text in all_words()]
    assert len(titles) == len(set(titles))


def test_words_in_the_code_and_explanations_are_the_same(repository: Path) -> None:
    """Whatever the program can say is explained, and nothing is explained that it never says."""
    said = said_words(repository / "generator" / "tertial")
    assert len({module for module, _ in said}) >= 18
    assert len({word for _, word in said}) >= 65
    known = {word for _, word in said} | {word for word, _ in (*CHECKS, *LONG_CHECKS, *DATED_CHECKS)}
    assert known == {text.word for text in all_words()}


def test_each_check_is_named_after_its_word() -> None:
    """From a word one finds the function that gives it, and no word has two."""
    checks = (*CHECKS, *LONG_CHECKS, *DATED_CHECKS)
    names = [check.__name__ for _, check in checks]
    assert names == [word.replace("-", "_") for word, _ in checks]
    assert len(names) == len(set(names)) >= 40


def test_a_word_is_found_by_its_name() -> None:
    """A known word leads to its explanation, any other to none."""
    found = explain("similar-one-sided")
    assert found is not None
    assert found.title == "One account names a look-alike that does not name it back"
    assert explain("similar-two-sided") is None
