"""Words that lead on from running text: where they are meant, and where they are left alone."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tertial.text.prose import Segment, Ways, render, segments
from tertial.text.terms import NONE, Terms, Wordings

NAMES = {
    "bill": "bill",
    "wing": "wing",
    "wing bar": "wing bar",
    "wing mirror": "",
    "supercilium": "supercilium",
    "outer tail feathers": "outer tail feathers",
    "tail": "tail",
    "pointe de l\u2019aile": "wing tip",
    "aile": "wing",
}
TOLD = frozenset({"which", "colour"})
TERMS = Terms(
    Wordings.of(NAMES),
    {"bill": TOLD, "wing": TOLD, "tail": TOLD, "aile": TOLD},
    {"the": "which", "mallard's": "which", "l'": "which", "white": "colour", "brown": "colour", "on": "where"},
    frozenset({"of"}),
)


def found(text: str) -> list[str]:
    """The words of a text that lead on."""
    return [text[start:end] for start, end, _ in TERMS.mentions(text, set())]


def html(text: str) -> str:
    """The text with what leads on linked to ``#NAME``."""
    ways = Ways(
        frozenset({"HAWO"}), str, lambda target: target, lambda target, alt: None, TERMS, lambda name: f"#{name}"
    )
    return render(text, ways).strip()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("the bill and a bill", ["bill"]),
        ("Bill paid the Bill. bill", []),
        ("white bill, chestnut-brown tail", ["bill", "tail"]),
        ("the mallard\u2019s bill", ["bill"]),
        ("the, bill", []),
        ("the wing of the house", []),
        ("the wing, of course", ["wing"]),
        ("a supercilium of white", ["supercilium"]),
        ("Supercilium and SUPERCILIUM", ["Supercilium"]),
        ("a wing bar, then the wing", ["wing bar", "wing"]),
        ("wingbar", ["wingbar"]),
        ("wing-bar", ["wing-bar"]),
        ("outer\ntail feathers", ["outer\ntail feathers"]),
        ("outer, tail feathers", []),
        ("the wing mirror", []),
        ("the tail-end, the tails, the taillight", []),
        ("the tail's end", ["tail"]),
        ("l\u2019aile et la pointe de l'aile", ["aile", "pointe de l'aile"]),
        ("https://example.org/the tail.html the bill/ @supercilium supercilium2", []),
        ("the tail.", ["tail"]),
        ("on bill", []),
    ],
)
def test_what_is_meant_leads_on_and_nothing_else(text: str, expected: list[str]) -> None:
    """Whole words, the longest first, told by the word before and not turned by the one behind."""
    assert found(text) == expected


def test_what_was_mentioned_is_passed_over() -> None:
    """Each thing is mentioned once, whatever it is called."""
    seen = {"tail"}
    assert [each.name for each in TERMS.mentions("the tail, the bill, the wing, l'aile, white bill", seen)] == [
        "bill",
        "wing",
    ]
    assert seen == {"tail", "bill", "wing"}


def test_without_terms_nothing_leads_on() -> None:
    """The empty table finds nothing."""
    assert list(NONE.mentions("the bill", set())) == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("the bill", '<p>the <a href="#bill" class="term">bill</a></p>'),
        ("the\nbill, the bill", '<p>the\n<a href="#bill" class="term">bill</a>, the bill</p>'),
        ("the *bill*", "<p>the <em>bill</em></p>"),
        ("*the bill*", '<p><em>the <a href="#bill" class="term">bill</a></em></p>'),
        ("`the bill`", "<p><code>the bill</code></p>"),
        ("[the bill](x)", '<p><a href="x">the bill</a></p>'),
        ("<https://the.bill>", '<p><a href="https://the.bill">https://the.bill</a></p>'),
        (
            "HAWO has the bill",
            '<p><a href="HAWO" class="code">HAWO</a> has the <a href="#bill" class="term">bill</a></p>',
        ),
        (
            "- the bill\n- the bill",
            '<ul>\n<li>the <a href="#bill" class="term">bill</a></li>\n<li>the bill</li>\n</ul>',
        ),
    ],
)
def test_running_text_leads_on_outside_links_and_code(text: str, expected: str) -> None:
    """A line's end is a space, emphasis is none, and what is a link already stays what it is."""
    assert html(text) == expected


def test_every_section_begins_anew_and_headings_have_none() -> None:
    """A part is linked at its first mention between two headings."""
    section = "### The bill\n\nthe bill, the bill\n"
    assert html(section + section).count('<a href="#bill"') == 2
    assert ">The bill</h3>" in html(section)


@given(st.lists(st.sampled_from([*NAMES, "the", "of", "HAWO", " ", "-", "'", ".", "\n", "é"]), max_size=12))
def test_pieces_are_the_text(pieces: list[str]) -> None:
    """Nothing is lost or changed by being parted."""
    text = " ".join(pieces)
    parted = segments(text, frozenset({"HAWO"}), TERMS)
    assert "".join(each.text for each in parted) == text
    assert all(isinstance(each, Segment) and not (each.word and each.term) for each in parted)
