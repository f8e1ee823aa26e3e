"""The author's text is CommonMark: without codes it reads as any CommonMark reader renders it.

Outside check: the examples follow the rules of CommonMark 0.31.2, section by section, and the expected
HTML is that of the parser's own ``commonmark`` preset with raw HTML and closing slashes off, except for
headings, which are moved down and named on purpose.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from tertial.text.prose import Ways, render

EXAMPLES = {
    "2.2 tabs": "- one\n\n\ttwo\n",
    "2.4 backslash escapes": r"\*not emphasis\* \[nor link](a.md) \# nor heading" + "\n",
    "2.5 character references": "&amp; &copy; &#35; &#x22; &nosuch;\n",
    "4.1 thematic breaks": "one\n\n***\n\ntwo\n\n- - -\n",
    "4.4 indented code": "    a <b>\n      c\n\n    d\n",
    "4.5 fenced code": "~~~ yaml x\nbill: black\n```\n~~~\n",
    "4.5 open fence": "```\nnever closed\n",
    "4.7 definitions": "[Map] and [that one][map]\n\n[map]: /a%20b 'T'\n[map]: /second\n",
    "4.8 paragraphs": "  one\ntwo   \n\n\n   three\n",
    "5.1 quotes": "> one\ntwo\n>\n> > three\n",
    "5.2 items": "10) ten\n\n    more\n11) eleven\n- other\n",
    "5.2 item with code": "-     code\n\n  text\n",
    "5.3 tight list": "- a\n- b\n  - c\n",
    "5.3 loose list": "1. a\n\n2. b\n",
    "5.3 list breaks paragraph": "text\n- a\n\n1. not two\n",
    "6.1 code spans": "``a ` b`` ` c ` `` ` `` `d\ne`\n",
    "6.2 emphasis": "*a* _b_ **c** __d__ ***e*** a*b*c a_b_c\n",
    "6.2 emphasis and blanks": "* a * **b ** *c**d*\n",
    "6.2 nested emphasis": "*a **b** c* **a *b* c** *a _b_*\n",
    "6.3 links": "[a](b.md) [c](<d e.md>) [f](g.md 'h') [i]() [j](<>)\n",
    "6.3 links and brackets": "[a [b] c](d.md) [a](b(c)d) [a](b\\)c) [x](y z)\n",
    "6.3 links in links": "[a [b](c.md) d](e.md)\n",
    "6.3 reference links": "[a][B] [b][] [b] [*c*][b]\n\n[b]: d.md (t)\n",
    "6.5 autolinks": "<https://e.org/?a=b&c> <a@e.org> <not a link> <x>\n",
    "6.6 raw html as text": "a <b class='c'>d</b> <!-- e --> <br/>\n\n<div>\n*f*\n</div>\n",
    "6.7 hard breaks": "a  \nb\\\nc\n",
    "6.8 soft breaks": "a\n b\n",
    "6.9 textual content": "hello $.;'there — žluť 𝄞\n",
}
reader = MarkdownIt("commonmark", {"html": False, "xhtmlOut": False})
HEADING = re.compile(r"<(/?)h[1-6](?: id=\"[^\"]*\")?>")


def ours(text: str) -> str:
    """The text in a guide without codes, in which every link leads where it says."""
    return render(text, Ways(frozenset(), str, lambda target: target, lambda target, alt: f"<{target}|{alt}>"))


@pytest.mark.parametrize("text", EXAMPLES.values(), ids=EXAMPLES)
def test_a_text_without_codes_is_plain_commonmark(text: str) -> None:
    """Every construct gives the HTML of the parser's own preset."""
    assert ours(text) == reader.render(text)


@pytest.mark.parametrize(
    "text", ["# a *b*\n", "## a ##\n", "a\nb\n===\n", "a\n---\n", "#nospace\n", "####### seven\n", "> ###### a\n"]
)
def test_headings_differ_in_level_and_name_only(text: str) -> None:
    """What is a heading, and what stands in it, is as everywhere (CommonMark 0.31.2, 4.2 and 4.3)."""
    assert HEADING.sub(r"<\1h>", ours(text)) == HEADING.sub(r"<\1h>", reader.render(text))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("*foo bar*\n", "<p><em>foo bar</em></p>\n"),
        ("_a `b`_\n", "<p><em>a <code>b</code></em></p>\n"),
        ("> a\n- b\n", "<blockquote>\n<p>a</p>\n</blockquote>\n<ul>\n<li>b</li>\n</ul>\n"),
        ("***\n---\n___\n", "<hr>\n<hr>\n<hr>\n"),
        ("a  \nb\n", "<p>a<br>\nb</p>\n"),
        ("1986\\. A year\n", "<p>1986. A year</p>\n"),
        ("[a](b 't&quot;')\n", '<p><a href="b" title="t&quot;">a</a></p>\n'),
        ("3. a\n4. b\n", '<ol start="3">\n<li>a</li>\n<li>b</li>\n</ol>\n'),
    ],
)
def test_the_html_is_what_the_rules_say(text: str, expected: str) -> None:
    """The same, written out by hand from the rules, so that not only two readers agree."""
    assert ours(text) == expected


signs = st.sampled_from(
    ["a", "b c", "*", "**", "_", "`", "[", "]", "(", ")", "<", ">", "!x", "\\", "&amp;", "- ", "1. "]
)
blocks = st.sampled_from(["\n", "\n\n", "    ", "> ", "```", "---", "\t", "[r]: x.md\n", "[r]", "<b>", "https://e.org"])


@given(st.lists(signs | blocks, max_size=16).map("".join))
def test_any_text_without_codes_is_plain_commonmark(text: str) -> None:
    """However the signs fall, the two renderings are the same but for headings and pictures."""
    assert HEADING.sub(r"<\1h>", ours(text)) == HEADING.sub(r"<\1h>", reader.render(text))
