"""Rendering on two processors: a process made by ``fork`` shares the loaded guide for nothing.

Half of the pages is rendered there and comes back through a pipe. Where there is no ``fork``, or only one
processor, or few pages, everything is rendered here; the pages are the same either way.
"""

from __future__ import annotations

import os
import pickle
from typing import TYPE_CHECKING, Final, TypeAlias

from tertial.text.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from tertial.pages.render import Renderer
    from tertial.pages.site import Page

FEWEST: Final = 100
"""Below so many pages a second process costs what it saves."""

Rendered: TypeAlias = tuple[str, bytes | Problem]
"""Path of a page, and its bytes or what kept it from being rendered."""


def rendered_pages(renderer: Renderer, pages: Sequence[Page]) -> Iterator[Rendered]:
    """Render pages, on two processors where that pays; in the order given."""
    if len(pages) < FEWEST or not hasattr(os, "fork") or (os.cpu_count() or 1) < 2:
        yield from _render(renderer, pages)
        return
    # The pages of one kind stand together, so that every second one makes two halves of like weight.
    ours, theirs = pages[::2], pages[1::2]
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        _answer(renderer, theirs, reading, writing)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        results = list(_render(renderer, ours))
        answer = pipe.read()
    _, status = os.waitpid(child, 0)
    # A second process that failed costs time, not pages.
    results += pickle.loads(answer) if status == 0 else _render(renderer, theirs)
    by_path = dict(results)
    for page in pages:
        yield page.path, by_path[page.path]


def _answer(renderer: Renderer, pages: Sequence[Page], reading: int, writing: int) -> None:
    """Render in the second process, write the result to the pipe, and end without a trace."""
    code = 1
    try:
        os.close(reading)
        with os.fdopen(writing, "wb") as pipe:
            pickle.dump(list(_render(renderer, pages)), pipe, protocol=pickle.HIGHEST_PROTOCOL)
        code = 0
    finally:
        os._exit(code)


def _render(renderer: Renderer, pages: Iterable[Page]) -> Iterator[Rendered]:
    return ((page.path, renderer.render(page)) for page in pages)
