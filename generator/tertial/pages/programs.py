"""Templates as programs, with the three steps that they take a million times a build made short.

What they write is what Jinja would write. It makes a marked string of every piece only to join them all to a
plain one, and looks for marks on every function that it calls; on a guide's pages that is a third of the time.
"""

from __future__ import annotations

from collections import ChainMap
from functools import cache, lru_cache, partial
from types import FunctionType
from typing import TYPE_CHECKING, Any, Final

import jinja2
from jinja2.runtime import Context, Macro, Undefined
from markupsafe import Markup, escape

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, MutableMapping
    from types import CodeType

_KEPT: Final = 1 << 16
"""So many pieces of text are remembered with what they are once escaped; a guide repeats most of its own."""

_escaped_text = lru_cache(_KEPT)(escape)

_MARKED_BY: Final = "jinja_pass_arg"
"""Where Jinja notes on a function that it wants the context as well."""


def escaped(piece: object) -> str:
    """Escape a piece of a page, unless it is markup already."""
    if type(piece) is str:
        return _escaped_text(piece)
    if type(piece) is Markup:
        return piece
    # What a condition without an else comes to.
    return "" if type(piece) is Undefined else escape(piece)


_OURS: Final = {
    "escape": escaped,
    "Markup": partial(str.__new__, Markup),
    "Undefined": cache(Undefined),
}
"""What a program finds under the names of Jinja's. A condition without an else is always nothing in the same words."""


class _Context(Context):
    def call(self, called: Callable[..., Any], /, *words: Any, **named: Any) -> Any:
        """Call a macro or a plain function at once, anything else as Jinja does."""
        if type(called) is Macro:
            words = (self.eval_ctx, *words)
        elif type(called) is not FunctionType or hasattr(called, _MARKED_BY):
            return super().call(called, *words, **named)
        # What Jinja adds for functions that want the context.
        named.pop("_loop_vars", None)
        named.pop("_block_vars", None)
        return called(*words, **named)


class _Program(jinja2.Template):
    @classmethod
    def from_code(
        cls,
        environment: jinja2.Environment,
        code: CodeType,
        globals: MutableMapping[str, Any],
        uptodate: Callable[[], bool] | None = None,
    ) -> jinja2.Template:
        """Make a template of its program, which finds our functions under the names of Jinja's."""
        made = super().from_code(environment, code, globals, uptodate)
        made.root_render_func.__globals__.update(_OURS)
        return made

    def new_context(
        self,
        vars: dict[str, Any] | None = None,
        shared: bool = False,
        locals: Mapping[str, Any] | None = None,
    ) -> Context:
        """Make what a page is filled in from; Jinja would ask a chain of tables for one global name after another."""
        if not shared and isinstance(self.globals, ChainMap):
            first, second = self.globals.maps
            vars, shared = {**second, **first, **(vars or {})}, True
        return super().new_context(vars, shared, locals)


class Programs(jinja2.Environment):
    """Templates that are quick to fill in."""

    context_class = _Context
    template_class = _Program
