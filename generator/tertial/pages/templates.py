"""Where templates come from, and whose fault it is when one cannot be used."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, TypeAlias

import jinja2

from tertial.layouts import LAYOUTS
from tertial.pages.programs import Programs
from tertial.pages.tongues import Tongued
from tertial.text.problem import Problem, Severity
from tertial.text.source import SourceText, Span

# Jinja names the kind of value by its place in the program, which says nothing to an author.
_KIND = re.compile(r"'tertial\.(?:\w+\.)+(\w+) object'")


Templates: TypeAlias = jinja2.Environment
"""Templates as they are kept between pages."""


def templates(*folders: Path, kept: Path | None = None) -> Templates:
    """Give the templates of some folders, everything escaped and nothing undefined let through.

    One in an earlier folder replaces that of its name in a later.

    :param kept: a folder for what is made of templates, so that it is made once.
    """
    if kept is not None:
        kept.mkdir(parents=True, exist_ok=True)
    jinja = Programs(
        loader=jinja2.FileSystemLoader([str(folder) for folder in folders]),
        autoescape=True,
        # A name has no ending: what lies there is no file for anyone to open.
        bytecode_cache=jinja2.FileSystemBytecodeCache(str(kept), "%s") if kept else None,
        undefined=jinja2.StrictUndefined,
        # Asking the disk at every page costs more than a small page; who follows edits makes new templates.
        auto_reload=False,
        extensions=["jinja2.ext.i18n"],
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    jinja.filters["tongued"] = _tongued
    return jinja


@jinja2.pass_environment
def _tongued(jinja: Templates, text: str, *, upright: bool = False) -> str:
    """Mark the runs of a text that are in another language than the page; Latin slants, if not told to be upright."""
    if not isinstance(text, Tongued):
        return text
    module: Any = jinja.get_template("parts/tongued.html").module
    return module.tongued(text.runs, upright)  # type: ignore[no-any-return]


def layout_fault(fault: Exception, folders: tuple[Path, ...], template: str, page: str) -> Problem | None:
    """Turn what went wrong while rendering into a problem of the template's line.

    :param fault: the exception, with its traceback.
    :param folders: where templates are looked for.
    :param template: the template that was to be used.
    :param page: the page that was to be made.
    :returns: the problem; None where no template had a part in it, so that the fault is our own.
    """
    where = _place(fault, folders, template)
    if where is None:
        return None
    name, line = where
    source = SourceText(f"{LAYOUTS}/{name}", _text(folders, name))
    words = _KIND.sub(r"\1", str(fault)) or type(fault).__name__
    message = f"the template cannot be used for {page}: {words}"
    mend = "mend this line of the template, or remove the file to use the built-in one"
    whole = source.line_span(line) if source.line(line) else Span(0, 0)
    shown = source.slice(whole)
    span = Span(whole.start + len(shown) - len(shown.lstrip()), whole.end)
    return Problem("layout-fault", Severity.ERROR, source, span, message, mend)


def _place(fault: Exception, folders: tuple[Path, ...], template: str) -> tuple[str, int] | None:
    """Find the template and line: the last that the traceback passes through."""
    if isinstance(fault, jinja2.TemplateSyntaxError):
        return fault.name or template, fault.lineno
    found = (template, 1) if isinstance(fault, jinja2.TemplateError | UnicodeDecodeError) else None
    trace = fault.__traceback__
    while trace is not None:
        file = Path(trace.tb_frame.f_code.co_filename)
        for folder in folders:
            if file.is_relative_to(folder):
                found = (file.relative_to(folder).as_posix(), trace.tb_lineno)
        trace = trace.tb_next
    return found


def _text(folders: tuple[Path, ...], name: str) -> str:
    files = (folder / name for folder in folders)
    file = next((file for file in files if file.is_file()), None)
    return file.read_bytes().decode("utf-8", errors="replace") if file else ""
