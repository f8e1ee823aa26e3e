"""Pages to bytes, through the templates of ``layouts``."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from markupsafe import Markup

from tertial.layouts import layout_folders
from tertial.links import follow
from tertial.pages.frame import frame_of
from tertial.pages.pictures import body_image
from tertial.pages.site import NOT_FOUND, Frame, Page, Site, account_path, part_path
from tertial.pages.telling import telling
from tertial.pages.templates import Templates, layout_fault, templates
from tertial.text.prose import Ways, render
from tertial.wording import ENGLISH, Wording

if TYPE_CHECKING:
    from collections.abc import Callable

    from tertial.text.problem import Problem
    from tertial.text.source import Passage


class Renderer:
    """Renders the pages of one guide.

    :param frame: what stands round every page, if not what the guide itself says.
    :param kept: templates that an earlier renderer has read, if not those of the guide and the program.
    """

    def __init__(self, site: Site, frame: Frame | None = None, kept: Templates | None = None) -> None:
        self._site = site
        self._frame = frame or frame_of(site)
        self._folders = layout_folders(site.guide.folder)
        self._jinja = kept or templates(*self._folders)
        _speak(self._jinja, site)

    def render(self, page: Page) -> bytes | Problem:
        """Render one page; a fault in a template is a problem that names the template's line."""
        root = self._root(page)

        def body(view: Passage) -> Markup:
            return self._body(view, root)

        view, told = page.view(), telling(self._site, self._frame, page)
        page = page._replace(description=told.description)
        try:
            template = self._jinja.get_template(page.template)
            text = template.render(page=page, root=Markup(root), frame=self._frame, view=view, told=told, body=body)
        except Exception as fault:
            problem = layout_fault(fault, self._folders, page.template, page.path)
            if problem is None:
                raise
            return problem
        return text.encode("utf-8")

    def _root(self, page: Page) -> str:
        # A web host shows the not-found page at any depth: only a whole path leads home from there.
        whole = urlsplit(self._frame.base_address).path if page.path == NOT_FOUND else ""
        return whole or page.root

    def _body(self, view: Passage, root: str) -> Markup:
        guide = self._site.guide
        picture = self._jinja.get_template("parts/body-picture.html")

        def image(target: str, alt: str) -> str | None:
            found = body_image(self._site, view.source, target, alt)
            return picture.render(picture=found, root=root) if found else None

        ways = Ways(
            guide.codes,
            lambda code: root + account_path(guide.by_code[code]),
            lambda target: _address(self._site, view, target, root),
            image,
            self._site.mentions.running,
            lambda part: root + part_path(part),
        )
        return Markup(render(view.words, ways))


def _speak(jinja: Templates, site: Site) -> None:
    """Let templates speak the language of a guide: ``_`` and ``{% trans %}`` look their phrases up.

    ``theirs``, ``ours`` and ``english`` are ``lang`` attributes: of the author's words, of the pages' words
    within those, and of words that are English in every language. They are empty where they would say what
    the page says as a whole.
    """
    wording, written_in = site.wording, site.written_in
    if jinja.globals.get("spoken") == (wording, written_in):
        return
    # Macros keep the functions that they were first imported with.
    if jinja.cache is not None:
        jinja.cache.clear()
    jinja.install_gettext_callables(wording.say, wording.form, newstyle=True)  # type: ignore[attr-defined]
    is_apart = written_in != wording.tag
    jinja.globals.update(
        _=_saying(wording),
        spoken=(wording, written_in),
        theirs=_lang(written_in) if is_apart else Markup(),
        ours=_lang(wording.tag) if is_apart or not wording.is_english else Markup(),
        english=Markup() if wording.is_english else _lang(ENGLISH),
    )


def _saying(wording: Wording) -> Callable[..., Markup]:
    """Make the function that says a phrase: what Jinja's own does in two calls through its context, a hundred
    times a page."""
    known: dict[str, Markup] = {}

    def say(phrase: str, /, **values: object) -> Markup:
        said = known.get(phrase)
        if said is None:
            said = known[phrase] = Markup(wording.say(phrase))
        return said % values if values else said

    return say


def _lang(tag: str) -> Markup:
    return Markup(' lang="{}"').format(tag)


def _address(site: Site, view: Passage, target: str, root: str) -> str | None:
    """Write down where a link of the author's text leads, as seen from a page with this root."""
    found = follow(site.guide, view.source, view.span, target)
    if found is None:
        return None
    if found.web:
        return found.web
    fragment = f"#{found.fragment}" if found.fragment else ""
    return (root + account_path(found.account) if found.account else "") + fragment
