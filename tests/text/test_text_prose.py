"""The author's text: codes that become links, links that are refused, and where every link stands."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from selectolax.lexbor import LexborHTMLParser

from tertial.text.prose import Segment, Ways, first_sentence, heading_id, headings, references, render, segments
from tertial.text.source import SourceText, Span

CODES = frozenset({"HAWO", "DOWO", "AB", "ABCDEF"})
HEAD = "---\nspecies: Hairy Woodpecker\n---\n"


def html(text: str) -> str:
    """The text with codes linked to ``CODE.html`` and everything else as it is."""
    return render(text, Ways(CODES, lambda code: f"{code}.html", lambda target: target, picture)).strip()


def picture(target: str, alt: str) -> str | None:
    """Markup for pictures that are there."""
    return f"<b>{target}|{alt}</b>" if target.endswith(".png") else None


def listed(text: str) -> list[tuple[str, str, str, int, int, str]]:
    """What the text points to: kind, target, words, line and column in the body, and what stands there."""
    source = SourceText("entry.md", HEAD + text)
    found = []
    for each in references(source, Span(len(HEAD), len(source.text)), CODES):
        place = source.position(each.span.start)
        found.append((each.kind, each.target, each.text, place.line - 3, place.column, source.slice(each.span)))
    return found


def code(word: str, words: str = "") -> str:
    """The link of a code, by itself or with words of its own."""
    return f'<a href="{word}.html">{words}</a>' if words else f'<a href="{word}.html" class="code">{word}</a>'


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("A HAWO and a DOWO.", f"<p>A {code('HAWO')} and a {code('DOWO')}.</p>"),
        ("HAWO/DOWO, HAWO's", f"<p>{code('HAWO')}/{code('DOWO')}, {code('HAWO')}'s</p>"),
        ("**HAWO** *DOWO*", f"<p><strong>{code('HAWO')}</strong> <em>{code('DOWO')}</em></p>"),
        ("AB ABCDEF ABC", f"<p>{code('AB')} {code('ABCDEF')} ABC</p>"),
        ("GPS, USGS, HAWOS, AHAWO, HAWO2, hawo, Hawo", "<p>GPS, USGS, HAWOS, AHAWO, HAWO2, hawo, Hawo</p>"),
        ("ÉHAWO HAWOÉ", "<p>ÉHAWO HAWOÉ</p>"),
        ("`HAWO` and\n\n    HAWO", "<p><code>HAWO</code> and</p>\n<pre><code>HAWO\n</code></pre>"),
        ("```\nHAWO\n```", "<pre><code>HAWO\n</code></pre>"),
        ("[the bigger one][HAWO]", f"<p>{code('HAWO', 'the bigger one')}</p>"),
        ("[*the* bigger one][HAWO]", f"<p>{code('HAWO', '<em>the</em> bigger one')}</p>"),
        ("[HAWO]", f"<p>{code('HAWO', 'HAWO')}</p>"),
        ("[HAWO][]", f"<p>{code('HAWO', 'HAWO')}</p>"),
        ("[HAWO][DOWO]", f"<p>{code('DOWO', 'HAWO')}</p>"),
        ("[the bigger one][hawo]", "<p>[the bigger one][hawo]</p>"),
        ("[the bigger one][Hawo]", "<p>[the bigger one][Hawo]</p>"),
        ("[the map][USGS]", "<p>[the map][USGS]</p>"),
        (r"\[x][HAWO]", f"<p>[x]{code('HAWO', 'HAWO')}</p>"),
        ("[HAWO](dowo.md)", '<p><a href="dowo.md">HAWO</a></p>'),
        ("[a HAWO *and DOWO*](dowo.md)", '<p><a href="dowo.md">a HAWO <em>and DOWO</em></a></p>'),
        ("[a [HAWO] b](dowo.md)", f"<p>[a {code('HAWO', 'HAWO')} b](dowo.md)</p>"),
        ("[a DOWO][HAWO]", f"<p>{code('HAWO', 'a DOWO')}</p>"),
        ("<https://e.org/HAWO>", '<p><a href="https://e.org/HAWO">https://e.org/HAWO</a></p>'),
        ("# HAWO", f'<h3 id="text-hawo">{code("HAWO")}</h3>'),
        ("- HAWO\n- [x][DOWO]", f"<ul>\n<li>{code('HAWO')}</li>\n<li>{code('DOWO', 'x')}</li>\n</ul>"),
    ],
)
def test_codes_become_links_in_exact_capitals_only(text: str, expected: str) -> None:
    """A code of the guide links by itself, as a label and in brackets; code spans, links and other capitals do not."""
    assert html(text) == expected


def test_a_definition_of_the_authors_does_not_take_a_code() -> None:
    """The codes of the guide come first; other labels work as everywhere (CommonMark 0.31, 4.7)."""
    text = "[x][HAWO] [y][map]\n\n[HAWO]: other.md\n[MAP]: map.md\n"
    assert html(text) == f'<p>{code("HAWO", "x")} <a href="map.md">y</a></p>'


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("<b onclick=alert(1)>x</b>", "<p>&lt;b onclick=alert(1)&gt;x&lt;/b&gt;</p>"),
        ("<script>alert(1)</script>", "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>"),
        ("<div>\nx\n</div>", "<p>&lt;div&gt;\nx\n&lt;/div&gt;</p>"),
        ("<!-- x -->", "<p>&lt;!-- x --&gt;</p>"),
        ("[x](javascript:alert(1))", "<p>[x](javascript:alert(1))</p>"),
        ("[x](JavaScript:alert)", "<p>[x](JavaScript:alert)</p>"),
        ("[x](javascript&#58;alert)", "<p>[x](javascript:alert)</p>"),
        ("[x](data:text/html,x)", "<p>[x](data:text/html,x)</p>"),
        ("![x](data:image/png;base64,AA)", "<p>![x](data:image/png;base64,AA)</p>"),
        ("[x](file:///etc)", "<p>[x](file:///etc)</p>"),
        ("<vbscript:x>", "<p>&lt;vbscript:x&gt;</p>"),
        ("[x]\n\n[x]: javascript:alert(1)", "<p>[x]</p>\n<p>[x]: javascript:alert(1)</p>"),
        ('[x](y.md "a&quot; onclick=b")', '<p><a href="y.md" title="a&quot; onclick=b">x</a></p>'),
        ("[x](mailto:a@e.org)", '<p><a href="mailto:a@e.org">x</a></p>'),
        ("[x](HTTPS://e.org)", '<p><a href="HTTPS://e.org">x</a></p>'),
        ("&lt;b&gt; &amp; \"q\"", "<p>&lt;b&gt; &amp; &quot;q&quot;</p>"),
    ],
)  # fmt: skip
def test_nothing_but_text_gets_through(text: str, expected: str) -> None:
    """Raw HTML is shown as it was typed, and only web and mail addresses and plain paths are links."""
    assert html(text) == expected


words = st.sampled_from(
    ["HAWO", "(y.md)", "(javascript:a)", "![a](b.png)", "[r]: ", "https://e.org", "data:", "onload="]
)
tags = st.sampled_from(
    ["<b onclick=a>", "<script>", "<!--", "-->", "<javascript:a>", "<", ">", "&", "&#58;", '"', "'", "="]
)
signs = st.sampled_from(["[x]", "[HAWO]", "![", "]", "[", "(", ")", "`", "*", "_", "#", " ", "\\", "/", "é"])
breaks = st.sampled_from(["\n", "\n\n", "\r\n", "\t", "- ", "> ", "---", "    ", "```"])
written = st.lists(words | tags | signs | breaks, max_size=14).map("".join)


@given(written)
def test_no_text_makes_markup_of_its_own(text: str) -> None:
    """Whatever is written, the page gets elements of CommonMark, and attributes that were foreseen."""
    page = LexborHTMLParser(html(text))
    assert page.body is not None
    allowed = {"p", "a", "em", "strong", "code", "pre", "ul", "ol", "li", "blockquote", "hr", "br", "b"}
    headings_allowed = {"h3", "h4", "h5", "h6"}
    for node in page.body.css("*"):
        assert node.tag in allowed | headings_allowed | {"body"}
        assert set(node.attributes) <= {"href", "id", "class", "title", "start"}
        address = node.attributes.get("href") or ""
        scheme = re.match(r"[a-z][a-z0-9+.-]*:", address, re.IGNORECASE)  # RFC 3986, 3.1
        assert scheme is None or scheme.group().lower() in ("http:", "https:", "mailto:")


@given(written | st.text())
def test_every_reference_stands_inside_the_text(text: str) -> None:
    """Whatever is written, a place lies in the body, and a target that is written plainly stands there."""
    source = SourceText("entry.md", HEAD + text)
    body = Span(len(HEAD), len(source.text))
    for each in references(source, body, CODES):
        assert each.body == body
        assert body.start <= each.span.start <= each.span.end <= body.end


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("# a\n\n## b\n\n### c", ["h3", "h3", "h4"]),
        ("#### a\n\n# b", ["h3", "h3"]),
        ("## a\n\n###### b\n\n###### c\n\n## d", ["h3", "h4", "h5", "h3"]),
        ("# a\n\n### b\n\n##### c\n\n###### d\n\n###### e", ["h3", "h4", "h5", "h6", "h6"]),
        ("a\n===\n\nb\n---\n\n> # c", ["h3", "h3", "h3"]),
    ],
)
def test_headings_never_skip_a_level(text: str, tags: list[str]) -> None:
    """The page has the first two levels; the author's begin at the third and go down one at a time."""
    page = LexborHTMLParser(html(text))
    assert [node.tag for node in page.css("h1, h2, h3, h4, h5, h6")] == tags


@given(st.lists(st.integers(1, 6), min_size=1))
def test_any_headings_make_a_whole_ladder(levels: list[int]) -> None:
    """No heading is more than one level deeper than the one before it, and none above the third."""
    page = LexborHTMLParser(html("\n\n".join(f"{'#' * level} x" for level in levels)))
    found = [int((node.tag or "")[1:]) for node in page.css("h3, h4, h5, h6")]
    assert len(found) == len(levels)
    assert all(after <= before + 1 for before, after in pairwise([2, *found]))


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("## Not decided", ["text-not-decided"]),
        ("## Wie *der* `Vogel` [singt](a.md)!", ["text-wie-der-vogel-singt"]),
        ("## Élan ß", ["text-élan-ss"]),
        ("## Song\n\n## Song\n\n## Song", ["text-song", "text-song-2", "text-song-3"]),
        ("## Song\n\n## Song\n\n## Song 2", ["text-song", "text-song-2", "text-song-2-2"]),
        ("## ?\n\n## !", ["text-", "text--2"]),
        ("two\nlines\n---", ["text-two-lines"]),
        ("## Beside [the bigger one][HAWO]", ["text-beside-the-bigger-one"]),
    ],
)
def test_every_heading_has_a_name_of_its_own(text: str, ids: list[str]) -> None:
    """The words make the name; words that come again get a number, so that no two are alike."""
    page = LexborHTMLParser(html(text))
    assert [node.attributes["id"] for node in page.css("h3, h4, h5, h6")] == ids
    assert headings(text, CODES) == frozenset(ids)


def test_a_heading_is_found_by_its_words() -> None:
    """A link may name a heading as it is written or with hyphens."""
    assert heading_id("Not decided") == heading_id("not-decided") == "text-not-decided"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("![a nest](nest.png)", "<p><b>nest.png|a nest</b></p>"),
        ("![a *red* `nest`](my%20nest.png)", "<p><b>my nest.png|a red nest</b></p>"),
        ("![](<my nest.png>)", "<p><b>my nest.png|</b></p>"),
        ("![zaunkönig](zaunkönig.png)", "<p><b>zaunkönig.png|zaunkönig</b></p>"),
        ("![a HAWO](gone.jpg)", "<p>a HAWO</p>"),
        ("![a ![b](c.png) d](e.png)", "<p><b>e.png|a b d</b></p>"),
        ("[![a](b.png)](c.md)", '<p><a href="c.md"><b>b.png|a</b></a></p>'),
        ("![a][r]\n\n[r]: b.png", "<p><b>b.png|a</b></p>"),
    ],
)
def test_a_picture_is_asked_for_by_the_name_of_its_file(text: str, expected: str) -> None:
    """The caller gets the file's name and bare words (CommonMark 0.31, 6.4); without markup the words remain."""
    assert html(text) == expected


def test_a_link_that_leads_nowhere_leaves_its_words() -> None:
    """Where the caller knows no address, the text is plain."""
    ways = Ways(CODES, str, lambda at: None if "gone" in at else "x/", picture)
    text = render("[a *b*](gone.md) [c](here.md)", ways)
    assert text == '<p>a <em>b</em> <a href="x/">c</a></p>\n'


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("see other.md in [x](other.md)", [("link", "other.md", "x", 1, 21, "other.md")]),
        ("`[x](a.md)` [y](a.md)", [("link", "a.md", "y", 1, 17, "a.md")]),
        ("*a* **b** [c *d*](a.md)", [("link", "a.md", "c d", 1, 19, "a.md")]),
        ("[x](a.md) [y](a.md)", [("link", "a.md", "x", 1, 5, "a.md"), ("link", "a.md", "y", 1, 15, "a.md")]),
        ("- a\n- b [x](c.md)\n", [("link", "c.md", "x", 2, 9, "c.md")]),
        ("1. a\n\n   [x](b.md)\n", [("link", "b.md", "x", 3, 8, "b.md")]),
        ("- a\n\n\t[x](b.md)\n", [("link", "b.md", "x", 3, 6, "b.md")]),
        ("> a\n> [x](b.md)\n", [("link", "b.md", "x", 2, 7, "b.md")]),
        ("> a\nlazy [y](c.md)", [("link", "c.md", "y", 2, 10, "c.md")]),
        ("> - a\r\n>   [x](b.md)\r\n", [("link", "b.md", "x", 2, 9, "b.md")]),
        ("one\r\n\r\ntwo [x](b.md)\r\n", [("link", "b.md", "x", 3, 9, "b.md")]),
        ("one\rtwo [x](b.md)\r", [("link", "b.md", "x", 2, 9, "b.md")]),
        ("one\u2028two\x0c [x](b.md)", [("link", "b.md", "x", 1, 14, "b.md")]),
        ("# a [x](b.md) #\n", [("link", "b.md", "x", 1, 9, "b.md")]),
        ("a [x](b.md)\n===\n", [("link", "b.md", "x", 1, 7, "b.md")]),
        ("a [x](\n  b.md\n  'c') d", [("link", "b.md", "x", 2, 3, "b.md")]),
        ("[x](<b c.md> (t))", [("link", "b%20c.md", "x", 1, 6, "b c.md")]),
        ("[x](a(b).md)", [("link", "a(b).md", "x", 1, 5, "a(b).md")]),
        ("[x](a&amp;b.md)", [("link", "a&b.md", "x", 1, 5, "a&amp;b.md")]),
        ("[x](#at-the-feeder)", [("link", "#at-the-feeder", "x", 1, 5, "#at-the-feeder")]),
        ("[x]()", [("link", "", "x", 1, 5, "")]),
        ("<https://e.org>", [("link", "https://e.org", "https://e.org", 1, 2, "https://e.org")]),
        ("<a@e.org>", [("link", "mailto:a@e.org", "a@e.org", 1, 2, "a@e.org")]),
        ("[x][r]\n\n[r]: <b.md> 't'\n", [("link", "b.md", "x", 3, 7, "b.md")]),
        ("[r]: b.md\n\n[r] b.md", [("link", "b.md", "r", 1, 6, "b.md")]),
        ("a ![x *y*](p.png)", [("image", "p.png", "x y", 1, 12, "p.png")]),
        ("![](my%20nest.png)", [("image", "my nest.png", "", 1, 5, "my%20nest.png")]),
        ("[![a](b.png)](c.md)", [("link", "c.md", "a", 1, 15, "c.md"), ("image", "b.png", "a", 1, 7, "b.png")]),
        ("[x][HAWO] HAWO [y][hawo]", [("label", "hawo", "[y][hawo]", 1, 20, "hawo")]),
        ("hawo [the *big* one][hawo]", [("label", "hawo", "[the big one][hawo]", 1, 22, "hawo")]),
        ("[x][NO] [y][NO]", [("label", "NO", "[x][NO]", 1, 5, "NO"), ("label", "NO", "[y][NO]", 1, 13, "NO")]),
        ("a [x](javascript:b)", [("scheme", "javascript:", "](javascript:", 1, 7, "javascript:")]),
        ("[x](<data:b>)", [("scheme", "data:", "](<data:", 1, 6, "data:")]),
        ("[x](https://e org)", []),
        ("[x][HAWO] [HAWO] HAWO", []),
        ("nothing here", []),
    ],
)  # fmt: skip
def test_everything_that_points_elsewhere_has_its_place(text: str, expected: list[object]) -> None:
    """In lists, quotes and headings, after emphasis, over line ends of every kind: the target is where it was typed."""
    assert listed(text) == expected


def test_a_text_without_brackets_points_nowhere() -> None:
    """Most texts hold no link, and are not even parsed."""
    assert listed("A HAWO at the weir.\n\nAnother.") == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("lower than DOWO", [Segment("lower than ", ""), Segment("DOWO", "DOWO")]),
        ("DOWO, HAWO", [Segment("DOWO", "DOWO"), Segment(", ", ""), Segment("HAWO", "HAWO")]),
        ("GPS only", [Segment("GPS only", "")]),
        ("", []),
    ],
)
def test_a_phrase_is_parted_at_its_codes(text: str, expected: list[Segment]) -> None:
    """Pieces with a code and pieces without take turns."""
    assert list(segments(text, CODES)) == expected


@given(st.lists(st.sampled_from(["HAWO", "DOWO", "GPS", " ", ",", "a", "É", "_"])).map("".join))
def test_the_pieces_of_a_phrase_make_the_phrase(text: str) -> None:
    """Nothing is lost or moved, and no two plain pieces stand side by side."""
    pieces = segments(text, CODES)
    assert "".join(piece.text for piece in pieces) == text
    assert all(a.word or b.word for a, b in pairwise(pieces))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("It sings. Then it goes.", "It sings."),
        ("Bigger than [the *other* one][HAWO] in\nevery way! And shyer.", "Bigger than the other one in every way!"),
        ("# Heading\n\n- a list.\n\n![a picture](a.png)\n\nAt last.", "At last."),
        ("Dear R.,\n\nit is back.", "it is back."),
        ("R. Friend saw no. 3 of it. I did not.", "R. Friend saw no. 3 of it. I did not."),
        ("“Never again.” He went.", "“Never again.”"),
        ("> quoted.\n\n1. counted.", ""),
        ("", ""),
    ],
)
def test_the_first_sentence_is_bare_words(text: str, sentence: str) -> None:
    """Headings, lists, pictures and salutations are passed over; a point behind one or two letters ends nothing."""
    assert first_sentence(text, CODES) == sentence
