"""Birds that could not be named: what was seen, who thinks what, and the question to send to a friend."""

from __future__ import annotations

import base64
import hashlib
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from tertial.layouts import layout_text
from tertial.pages.accounts import months_strip
from tertial.pages.fitting import FittingView, fitting_view
from tertial.pages.naming import either_named, hybrid_of, listed_name, months_words
from tertial.pages.pictures import PictureView, picture_views
from tertial.pages.rows import Row, phrase_rows
from tertial.pages.site import UNSOLVED, Link, Page, Site, account_path, said

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from tertial.entries.values import Phrase
    from tertial.guide import Unsolved
    from tertial.text.source import Passage

QUESTION_STYLE = "question.css"
"""Style sheet of the questions to send, in ``layouts``; it goes into each of them whole."""

QUESTIONS = "questions"
"""Folder of the questions."""


class Candidate(NamedTuple):
    """A bird that it could be, or is not."""

    codes: tuple[Link, ...]
    """Its code, or those of a hybrid's parents with a cross between them."""
    name: str
    pair: Link | None
    """Of a hybrid, the way to the page with its parents side by side, if there is one."""
    reason: tuple[Link, ...]
    """Why it is ruled out, or nothing."""
    fitting: FittingView | None
    """What was seen beside its account; None without one."""


class UnsolvedView(NamedTuple):
    """A bird that could not be named."""

    name: str
    settled: Candidate | None
    """What it proved to be."""
    seen: str
    """The day, or ''."""
    circumstances: tuple[tuple[str, tuple[Link, ...]], ...]
    """Where, and how well."""
    months: tuple[tuple[str, bool], ...]
    months_text: str
    marks: tuple[Row, ...]
    could_be: tuple[Candidate, ...]
    ruled_out: tuple[Candidate, ...]
    asked: tuple[str, ...]
    opinions: tuple[Row, ...]
    sketches: tuple[PictureView, ...]
    photos: tuple[PictureView, ...]
    body: Passage
    question: str
    """Address of the question to send, or '' once it is settled."""


class UnsolvedListView(NamedTuple):
    """All such birds."""

    open: tuple[tuple[Link, str, str, str], ...]
    """Name, day, candidates and question's address, of those still unnamed."""
    settled: tuple[tuple[Link, str, Candidate], ...]
    """Name and day of those that were settled, and what they proved to be."""


class QuestionView(NamedTuple):
    """The question to send: one file that needs nothing else."""

    bird: UnsolvedView
    style: str
    """Its style sheet."""
    style_hash: str
    """Digest by which the policy of the page allows that style and no other."""
    pictures: tuple[tuple[str, int, int, str], ...]
    """Pictures as data addresses, each with width, height and its words."""
    author: str


def unsolved_pages(site: Site) -> Iterator[Page]:
    """Give the page of every unknown bird, the question to send of each open one, and their list."""
    for bird in site.guide.unsolved:
        name = bird.name
        yield Page(account_path(bird), "unsolved-bird.html", name, "", partial(_view, site, bird), bird)
        if not bird.head.settled:
            question = partial(_question, site, bird)
            asking = site.say("What is this bird? %(name)s, as a question to send.", name=name)
            yield Page(_question_path(bird), "question.html", name, asking, question)
    if site.guide.unsolved:
        description = site.say("Birds that could not be named, and those that were settled later.")
        yield Page(UNSOLVED, "unsolved.html", site.say("Unsolved birds"), description, partial(_list, site))


def _question_path(bird: Unsolved) -> str:
    return f"{QUESTIONS}/{bird.slug}.html"


def _view(site: Site, bird: Unsolved) -> UnsolvedView:
    entry, source = bird.entry, bird.entry.source
    circumstances = (
        (site.say("Place"), _place(bird)),
        (site.say("Light"), site.words(said(entry.light))),
        (site.say("View"), site.words(said(entry.view))),
    )
    return UnsolvedView(
        entry.name.value,
        _named(site, entry.settled.value) if entry.settled else None,
        site.wording.day(entry.seen.value if entry.seen else None),
        tuple((name, words) for name, words in circumstances if words),
        months_strip(site, entry.when),
        months_words(site, entry.when),
        phrase_rows(site, entry.marks),
        tuple(_candidate(site, code.value, entry.marks) for code in entry.could_be),
        tuple(_candidate(site, phrase.part.value, entry.marks, phrase) for phrase in entry.ruled_out),
        tuple(each.value for each in entry.asked),
        tuple(
            Row(Link(each.part.value), site.words(each.text.value, site.mentions.running)) for each in entry.opinions
        ),
        picture_views(site, source, entry.sketches),
        picture_views(site, source, entry.photos),
        bird.passage,
        "" if entry.settled else _question_path(bird),
    )


def _place(bird: Unsolved) -> tuple[Link, ...]:
    if bird.place:
        return (Link(bird.place.name, account_path(bird.place)),)
    return (Link(bird.entry.place.value),) if bird.entry.place else ()


def _named(site: Site, code: str) -> Candidate:
    """Name a bird, or a hybrid; no account is asked for it."""
    if hybrid := hybrid_of(site, code):
        return Candidate(hybrid.codes, hybrid.name, hybrid.pair, (), None)
    return Candidate((site.code(code),), listed_name(site, code), None, (), None)


def _candidate(site: Site, code: str, seen: tuple[Phrase, ...], ruled_out: Phrase | None = None) -> Candidate:
    reason = site.words(ruled_out.text.value, site.mentions.running) if ruled_out else ()
    return _named(site, code)._replace(reason=reason, fitting=fitting_view(site, seen, code))


def _list(site: Site) -> UnsolvedListView:
    open_birds, settled = [], []
    for bird in site.guide.unsolved:
        entry, link = bird.entry, Link(bird.name, account_path(bird))
        seen = site.wording.day(entry.seen.value) if entry.seen else ""
        if entry.settled:
            settled.append((link, seen, _named(site, entry.settled.value)))
        else:
            names = [_named(site, code.value).name or code.value for code in entry.could_be]
            open_birds.append((link, seen, either_named(site, names), _question_path(bird)))
    return UnsolvedListView(tuple(open_birds), tuple(settled))


def _question(site: Site, bird: Unsolved) -> QuestionView:
    style = layout_text(site.guide.folder, QUESTION_STYLE).strip()
    view = _view(site, bird)
    digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
    pictures = tuple(_carried(picture, site.files) for picture in (*view.sketches, *view.photos))
    return QuestionView(view, style, f"sha256-{digest}", pictures, said(site.guide.settings.author))


def _carried(picture: PictureView, files: Mapping[str, bytes | Path]) -> tuple[str, int, int, str]:
    """Take a picture along in its middle size: large enough to judge by, small enough to send."""
    address, width = picture.sizes[len(picture.sizes) // 2]
    height = round(picture.height * width / picture.width)
    kind = "svg+xml" if address.endswith(".svg") else "webp"
    return _data_address(kind, files[address]), width, height, picture.alt


def _data_address(kind: str, content: bytes | Path) -> str:
    data = content if isinstance(content, bytes) else content.read_bytes()
    return f"data:image/{kind};base64,{base64.b64encode(data).decode('ascii')}"
