"""What the proof shows: problems on the page they belong to, all of them on one, broken files as text."""

from __future__ import annotations

import errno
import re
from typing import TYPE_CHECKING

import pytest
from selectolax.lexbor import LexborHTMLParser
from tests.proof.reader import BROKEN, DOT, DOWNY, HAIRY, Reader

from tertial.sketches.sizes import PictureStore

if TYPE_CHECKING:
    import threading
    from collections.abc import Callable

    from tertial.sketches.sizes import Original, Published
    from tertial.sketches.unreadable import Unreadable

CONTRARY = """---
species: Hairy Woodpecker
size:
  length: 26-18 cm
marks:
  all: |
    nap: red patch
similar:
  DOWO: bill against head decides it
  PIWO: far larger
photos:
  - file: gone.png
---
Met at the mill.
"""


def panel(proof: Reader, target: str) -> LexborHTMLParser:
    """The slip above a page."""
    found = LexborHTMLParser(proof.ask(target).text).css_first("aside#proof")
    assert found is not None
    assert found.html is not None
    return LexborHTMLParser(found.html)


def texts(tree: LexborHTMLParser, selector: str) -> list[str]:
    return [" ".join(node.text().split()) for node in tree.css(selector)]


def test_a_page_tells_the_problems_of_its_file(proof: Reader) -> None:
    """Weight, place, message, mend and the word that explains it are all there, in words."""
    proof.checked()
    found = texts(panel(proof, "/species/hairy-woodpecker.html"), ".proof-warning")
    assert len(found) == 1
    for words in ("warning entries/hairy.md:5:5 'nap' is not a part", "mend: write nape", "tertial why unknown-part"):
        assert words in found[0]


def test_a_page_without_problems_says_so(proof: Reader) -> None:
    """The account of the other bird has nothing of its neighbour's problems."""
    proof.checked()
    slip = panel(proof, "/species/downy-woodpecker.html")
    assert texts(slip, ".proof-problems li") == []
    assert "entries/downy.md nothing to mend" in texts(slip, ".proof-line")[0]


def test_the_graver_comes_first_and_gaps_are_folded_away(open_proof: Callable[..., Reader]) -> None:
    """Errors stand before warnings in the open, gaps behind a fold that works without a script."""
    proof = open_proof({"entries/hairy.md": CONTRARY, "entries/downy.md": DOWNY})
    proof.checked()
    slip = panel(proof, "/species/hairy-woodpecker.html")
    weights = texts(slip, "aside > .proof-problems > li > p > b")
    assert set(weights) == {"error", "warning"}
    assert weights == sorted(weights)
    assert "gap" in texts(slip, "details b")


def test_a_pair_tells_the_problems_of_both_files(open_proof: Callable[..., Reader]) -> None:
    """A page made of two files shows the problems of either."""
    proof = open_proof({"entries/hairy.md": CONTRARY, "entries/downy.md": DOWNY.replace("nape:", "nap:")})
    proof.checked()
    places = " ".join(texts(panel(proof, "/pairs/dowo-hawo.html"), "a.code"))
    assert "entries/downy.md:5:5" in places
    assert "entries/hairy.md:7:5" in places


def test_the_front_page_tells_the_problems_of_the_settings(open_proof: Callable[..., Reader]) -> None:
    """What is wrong in guide.yaml is told where its title stands."""
    proof = open_proof({"guide.yaml": "title: Mill wood\ntitel: again\n"})
    proof.checked()
    assert "guide.yaml:2:1" in " ".join(texts(panel(proof, "/"), "a.code"))


@pytest.mark.parametrize("target", ["/", "/codes.html", "/species/hairy-woodpecker.html", "/nowhere.html"])
def test_every_page_leads_to_what_is_to_do(proof: Reader, target: str) -> None:
    """The page of all problems is one link away, and the link says how many there are."""
    proof.checked()
    link = panel(proof, target).css_first(".proof-line a[href$='to-do.html']")
    assert link is not None
    assert "1 error, 1 warning" in link.text()


def test_the_to_do_page_lists_everything_the_gravest_file_first(open_proof: Callable[..., Reader]) -> None:
    """Files come by their gravest problem, problems within a file by weight, gaps last."""
    gappy = DOWNY.replace("marks:", "similar:\n  PIWO: far larger\nmarks:")
    proof = open_proof({"entries/b.md": BROKEN, "entries/a.md": gappy, "entries/c.md": HAIRY})
    proof.checked()
    page = LexborHTMLParser(proof.ask("/proof/to-do.html").text)
    assert texts(page, "h2.proof-file") == ["entries/b.md", "entries/c.md", "entries/a.md"]
    weights = texts(page, "main .proof-problems b")
    assert weights == sorted(weights, key=["error", "warning", "gap", "remark"].index)
    assert weights[-1] == "gap"


def test_a_broken_entry_is_shown_as_text_with_its_problems_in_place(proof: Reader) -> None:
    """The to-do page leads to the file as it was written: numbered, marked, and harmless."""
    proof.checked()
    to_do = LexborHTMLParser(proof.ask("/proof/to-do.html").text)
    link = to_do.css_first("section[aria-labelledby=unread] a")
    assert link is not None
    assert link.attributes["href"] == "../proof/text/entries/broken.md.html"
    answer = proof.ask("/proof/text/entries/broken.md.html")
    page = LexborHTMLParser(answer.text)
    assert answer.status == 200
    assert texts(page, ".proof-lines > li > .proof-text") == [line.strip() for line in BROKEN.splitlines()]
    assert texts(page, "mark") == ["colour"]
    assert "begins with 'colour'" in texts(page, "#line-2 .proof-error")[0]
    assert "<by the weir>" not in answer.text


@pytest.mark.parametrize(
    ("broken", "line", "words"),
    [
        (HAIRY.replace("species:", "- species"), 2, "- species Hairy Woodpecker"),
        (HAIRY.removeprefix("---\n"), 1, "species: Hairy Woodpecker"),
        (HAIRY.replace("Hairy Woodpecker", ""), 2, "species:"),
    ],
    ids=["no key", "no fence", "no name"],
)
def test_an_open_page_whose_entry_breaks_becomes_its_text(proof: Reader, broken: str, line: int, words: str) -> None:
    """At the address of an account, and of a pair with it, stand the file and its problems until it is mended."""
    similar = DOWNY.replace("marks:", "similar:\n  HAWO: bill against head\nmarks:")
    proof.save("entries/downy.md", similar)
    targets = ("/species/hairy-woodpecker.html", "/pairs/dowo-hawo.html")
    assert [proof.ask(target).status for target in targets] == [200, 200]
    proof.save("entries/hairy.md", broken)
    for target in targets:
        answer = proof.ask(target)
        page = LexborHTMLParser(answer.text)
        assert answer.status == 200
        assert texts(page, "h1") == ["entries/hairy.md"]
        assert texts(page, f"#line-{line} > .proof-text") == [words]
        assert texts(page, f"#line-{line} .proof-error") != []
        assert page.css_first("link[href='../proof/proof.css']") is not None
    proof.save("entries/hairy.md", HAIRY)
    assert texts(LexborHTMLParser(proof.ask(targets[0]).text), "h1") == ["Hairy Woodpecker"]


def test_an_open_page_whose_entry_gets_another_name_leads_to_it(proof: Reader) -> None:
    """The page of the same file stands elsewhere then; that of a file that has gone is nowhere."""
    assert proof.ask("/species/hairy-woodpecker.html").status == 200
    proof.save("entries/hairy.md", HAIRY.replace("species: Hairy Woodpecker", "unknown: A woodpecker"))
    answer = proof.ask("/species/hairy-woodpecker.html")
    assert (answer.status, answer.header("Location")) == (302, "/unsolved/a-woodpecker.html")
    assert proof.ask("/unsolved/a-woodpecker.html").status == 200
    news = proof.news()
    next(news)
    (proof.folder / "entries/hairy.md").unlink()
    next(news)
    assert proof.ask("/species/hairy-woodpecker.html").status == 404


def test_bytes_that_are_no_text_are_shown_as_far_as_they_go(open_proof: Callable[..., Reader]) -> None:
    """A file in another encoding and a file with signs that no page may hold are shown all the same."""
    proof = open_proof({"entries/a.md": b"---\nspecies: caf\xe9\n---\n", "entries/b.md": "---\nno: \x01\x00\n---\n"})
    proof.checked()
    page = LexborHTMLParser(proof.ask("/proof/text/entries/a.md.html").text)
    assert texts(page, "#line-2 .proof-text") == ["species: caf\N{REPLACEMENT CHARACTER}"]
    page = LexborHTMLParser(proof.ask("/proof/text/entries/b.md.html").text)
    assert texts(page, "#line-2 .proof-text") == ["no: \N{SYMBOL FOR START OF HEADING}\N{SYMBOL FOR NULL}"]


@pytest.mark.parametrize("name", ["a b.md", "a%20b.md", "what?.md", "no#1.md", "höhe.md", "a&b.md"])
def test_a_file_is_found_whatever_its_name(open_proof: Callable[..., Reader], name: str) -> None:
    """The link to a file as text leads there, however its name is written."""
    proof = open_proof({f"entries/{name}": BROKEN})
    link = LexborHTMLParser(proof.ask("/proof/to-do.html").text).css_first("section[aria-labelledby=unread] a")
    assert link is not None
    address = str(link.attributes["href"]).removeprefix("..")
    page = LexborHTMLParser(proof.ask(address).text)
    assert texts(page, "h1") == [f"entries/{name}"]


def test_a_guide_with_nothing_but_errors_is_shown(open_proof: Callable[..., Reader]) -> None:
    """The front page is there whatever else is not."""
    proof = open_proof({"guide.yaml": "title: [\n", "entries/a.md": BROKEN, "entries/b.md": b"\xff\xfe"})
    proof.checked()
    assert proof.ask("/").status == 200
    assert len(texts(LexborHTMLParser(proof.ask("/proof/to-do.html").text), "h2.proof-file")) == 3


@pytest.mark.parametrize(
    ("template", "place", "words"),
    [
        ("species.html", "layouts/species.html:2:1", "nothing"),
        ("base.html", "layouts/base.html:2:1", "nothing"),
        ("parts/words.html", "layouts/parts/words.html:2:1", "nothing"),
    ],
)
def test_a_fault_in_a_template_is_a_page_that_names_the_line(
    open_proof: Callable[..., Reader], template: str, place: str, words: str
) -> None:
    """Whichever template is at fault, even the frame of all, its line is shown, and no trace of the program's."""
    proof = open_proof({"entries/hairy.md": HAIRY, f"layouts/{template}": "<p>\n{{ nothing.at_all }}\n"})
    answer = proof.ask("/species/hairy-woodpecker.html")
    page = LexborHTMLParser(answer.text)
    assert answer.status == 500
    assert place in texts(page, "main .code")
    assert words in texts(page, "main")[0]
    assert "Traceback" not in answer.text
    assert texts(page, "#line-2 .proof-text") == ["{{ nothing.at_all }}"]


@pytest.mark.parametrize("line", ["{% if %}", "{{ 1 / 0 }}", "{{ 'a' + 1 }}", "{{ [] | first | upper | nosuch }}"])
def test_any_kind_of_fault_in_a_template_is_told_the_same_way(open_proof: Callable[..., Reader], line: str) -> None:
    """Broken syntax, arithmetic and unknown filters are faults of the template, not of the program."""
    proof = open_proof({"entries/hairy.md": HAIRY, "layouts/species.html": f"<p>\n{line}\n"})
    answer = proof.ask("/species/hairy-woodpecker.html")
    assert answer.status == 500
    assert "layouts/species.html:2:1" in answer.text


def test_pictures_are_developed_for_the_page_that_shows_them(open_proof: Callable[..., Reader]) -> None:
    """A page comes before its pictures; then it names the sizes of each, which can be fetched."""
    sketch = "sketches:\n  - file: dot.png\n    alt: A dot\n"
    proof = open_proof({"entries/hairy.md": HAIRY.replace("marks:", f"{sketch}marks:"), "entries/dot.png": DOT})
    first = proof.ask("/species/hairy-woodpecker.html").text
    if "<img" not in first:
        assert "data-developing" in first
        proof.pictures()
    page = proof.ask("/species/hairy-woodpecker.html").text
    found = re.search(r'srcset="\.\./(pictures/dot-[0-9a-f]{8}-1\.webp) 1w"', page)
    assert found is not None
    picture = proof.ask(f"/{found.group(1)}")
    assert (picture.status, picture.header("Content-Type"), picture.body[8:12]) == (200, "image/webp", b"WEBP")


@pytest.mark.parametrize(
    "way", ["sketches:\n  - file: dot.png\n    alt: A dot\nmarks:", "marks:"], ids=["listed", "text"]
)
def test_a_page_waits_for_no_picture(open_proof: Callable[..., Reader], gate: threading.Event, way: str) -> None:
    """While a picture is being developed its page is there and says so; then the page is told, and has the picture."""
    entry = HAIRY.replace("marks:", way) + "\n![A dot](dot.png)\n"
    proof = open_proof({"entries/hairy.md": entry, "entries/dot.png": DOT})
    before = proof.ask("/species/hairy-woodpecker.html").text
    assert "<img" not in before
    assert "Pictures are being developed" in texts(LexborHTMLParser(before), "#proof .proof-waiting")[-1]
    gate.set()
    assert proof.pictures() == 1
    after = proof.ask("/species/hairy-woodpecker.html").text
    assert "<img" in after
    assert 'data-pictures="1"' in after
    assert "data-developing" not in after


def test_a_picture_that_cannot_be_kept_is_told_and_not_tried_for_ever(
    open_proof: Callable[..., Reader], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk leaves the page without its picture, with the reason, and at rest."""

    def full(store: PictureStore, original: Original) -> Published | Unreadable:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(PictureStore, "publish", full)
    sketch = "sketches:\n  - file: dot.png\n    alt: A dot\n"
    proof = open_proof({"entries/hairy.md": HAIRY.replace("marks:", f"{sketch}marks:"), "entries/dot.png": DOT})
    assert proof.ask("/species/hairy-woodpecker.html").status == 200
    proof.pictures()
    assert "data-developing" not in proof.ask("/species/hairy-woodpecker.html").text


def test_a_picture_that_cannot_be_developed_is_told_on_its_page(open_proof: Callable[..., Reader]) -> None:
    """A damaged picture is an error beside the account, which is shown without it."""
    sketch = "sketches:\n  - file: dot.png\n    alt: A dot\n"
    damaged = {"entries/hairy.md": HAIRY.replace("marks:", f"{sketch}marks:"), "entries/dot.png": DOT[:40]}
    proof = open_proof(damaged)
    proof.checked()
    assert "tertial why picture-unreadable" in texts(panel(proof, "/species/hairy-woodpecker.html"), "aside")[0]
    assert "<img" not in proof.ask("/species/hairy-woodpecker.html").text


def test_a_proof_is_not_kept_on_the_device(proof: Reader) -> None:
    """It would go on being shown after the proof has ended."""
    assert "keeping" not in proof.ask("/species/hairy-woodpecker.html").text
    assert proof.ask("/satchel.js").status == 404
