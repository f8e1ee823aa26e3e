"""Pages to bytes, through the templates of ``layouts``. The only module that imports Jinja."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

import jinja2
from markupsafe import Markup

from tertial.links import follow
from tertial.pages.pictures import body_image
from tertial.pages.site import Frame, Page, Site, account_path
from tertial.text.problem import Problem, Severity
from tertial.text.prose import render
from tertial.text.source import SourceText, Span

if TYPE_CHECKING:
    from tertial.pages.accounts import BodyView

LAYOUTS = "layouts"
"""Folder of templates: of the program, and of a guide that replaces some of them by name."""


def built_in_layouts() -> Path:
    """Find the program's own layouts: beside the package in a wheel, else in the checkout."""
    package = Path(__file__).resolve().parent.parent
    shipped = package / LAYOUTS
    return shipped if shipped.is_dir() else package.parent.parent / LAYOUTS


Templates: TypeAlias = jinja2.Environment
"""Templates as they are kept between pages."""


def templates(*folders: Path) -> Templates:
    """Give the templates of some folders; one in an earlier folder replaces that of its name in a later."""
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader([str(folder) for folder in folders]),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )


class Renderer:
    """Renders the pages of one guide.

    :param frame: what stands round every page, if not what the guide itself says.
    :param kept: templates that an earlier renderer has read, if not those of the guide and the program.
    """

    def __init__(self, site: Site, frame: Frame | None = None, kept: Templates | None = None) -> None:
        self._site = site
        self._frame = frame or site.frame()
        self._folders = (site.guide.folder / LAYOUTS, built_in_layouts())
        self._jinja = kept or templates(*self._folders)

    def render(self, page: Page) -> bytes | Problem:
        """Render one page; a fault in a template is a problem that names the template's line."""

        def body(view: BodyView) -> Markup:
            return self._body(view, page.root)

        view = page.view()
        try:
            template = self._jinja.get_template(page.template)
            text = template.render(page=page, root=page.root, frame=self._frame, view=view, body=body)
        except (jinja2.TemplateError, ArithmeticError, LookupError, TypeError, ValueError) as fault:
            return self._template_problem(fault, page)
        return text.encode("utf-8")

    def _body(self, view: BodyView, root: str) -> Markup:
        guide = self._site.guide
        picture = self._jinja.get_template("parts/body-picture.html")

        def image(target: str, alt: str) -> str | None:
            found = body_image(self._site, view.source, target, alt)
            return picture.render(picture=found, root=root) if found else None

        html = render(
            view.source.slice(view.span),
            guide.codes,
            lambda code: root + account_path(guide.by_code[code]),
            lambda target: _address(self._site, view, target, root),
            image,
        )
        return Markup(html)

    def _template_problem(self, fault: Exception, page: Page) -> Problem:
        name, line = page.template, 1
        if isinstance(fault, jinja2.TemplateSyntaxError):
            name, line = fault.name or name, fault.lineno
        else:
            trace = fault.__traceback__
            while trace is not None:
                file = Path(trace.tb_frame.f_code.co_filename)
                for folder in self._folders:
                    if file.is_relative_to(folder):
                        name, line = file.relative_to(folder).as_posix(), trace.tb_lineno
                trace = trace.tb_next
        source = SourceText(f"{LAYOUTS}/{name}", self._template_text(name))
        message = f"the template cannot be used for {page.path}: {fault}"
        mend = "mend this line of the template, or remove the file to use the built-in one"
        span = source.line_span(line) if source.line(line) else Span(0, 0)
        return Problem("layout-fault", Severity.ERROR, source, span, message, mend)

    def _template_text(self, name: str) -> str:
        try:
            loader = self._jinja.loader
            return loader.get_source(self._jinja, name)[0] if loader else ""
        except jinja2.TemplateError:
            return ""


def _address(site: Site, view: BodyView, target: str, root: str) -> str | None:
    """Write down where a link of the author's text leads, as seen from a page with this root."""
    found = follow(site.guide, view.source, view.span, target)
    if found is None:
        return None
    if found.web:
        return found.web
    fragment = f"#{found.fragment}" if found.fragment else ""
    return (root + account_path(found.account) if found.account else "") + fragment
