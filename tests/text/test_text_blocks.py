"""The author's text as a tree of plain values."""

from __future__ import annotations

from tertial.text.blocks import Node, blocks

CODES = frozenset({"DOWO"})


def words(text: str) -> Node:
    return {"kind": "text", "text": text}


def test_words_of_the_guide_are_told_from_others() -> None:
    """A code that the guide has is a node of its own, and a reference to one knows its word."""
    (paragraph,) = blocks("The DOWO, GPS and [it][DOWO].", CODES)
    assert paragraph == {
        "kind": "paragraph",
        "items": [
            words("The "),
            {"kind": "word", "text": "DOWO"},
            words(", GPS and "),
            {"kind": "link", "word": "DOWO", "items": [words("it")]},
            words("."),
        ],
    }


def test_links_of_the_web_keep_their_address_and_others_only_their_words() -> None:
    """On paper a way to another file leads nowhere."""
    (paragraph,) = blocks("[web](https://example.org/) [file](weir.md) ![a bird](bird.png)", CODES)
    web, _, file, _, picture = paragraph["items"]
    assert (web["web"], web["items"]) == ("https://example.org/", [words("web")])
    assert file == {"kind": "link", "items": [words("file")]}
    assert picture == words("a bird")


def test_blocks_hold_what_is_in_them() -> None:
    """Headings keep their level, numbered lists their start, and nothing is taken for HTML."""
    heading, numbered, quoted, fence = blocks("## *Two*\n\n3. three\n\n> <b>\n\n```\ncode\n```\n", CODES)
    assert (heading["kind"], heading["level"]) == ("heading", 2)
    assert heading["items"] == [{"kind": "em", "items": [words("Two")]}]
    assert (numbered["kind"], numbered["start"]) == ("ordered_list", 3)
    assert [each["kind"] for each in numbered["items"]] == ["list_item"]
    assert quoted["items"][0]["items"] == [words("<b>")]
    assert fence == {"kind": "fence", "text": "code\n"}
