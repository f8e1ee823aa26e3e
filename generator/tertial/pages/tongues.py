"""Texts of which pages can tell what is in which language: names of birds, and what an author named.

To everything but a template such a text is a text. A template marks its runs by the filter ``tongued``. Where no mark
can stand, in an attribute or a title, the text is put as it is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

LATIN: Final = "la"
"""The language of scientific names, as BCP 47 writes it."""


class Tongued(str):
    """A text, some of it or all in another language than the page that it stands on."""

    __slots__ = ("runs",)

    runs: tuple[tuple[str, str], ...]
    """Its runs in order, each with the tag of its language; '' for that of the page."""

    def __new__(cls, *runs: tuple[str, str]) -> Tongued:
        """Put a text together of its runs."""
        made = super().__new__(cls, "".join(text for text, _ in runs))
        made.runs = runs
        return made


def in_tongue(text: str, language: str) -> str:
    """Tell the language of a text; '' for that of the page, in which there is nothing to tell."""
    return Tongued((text, language)) if text and language else text


def woven(text: str, *names: str) -> str:
    """Tell the languages of names in a text that was made of them.

    :param names: in the order in which they stand in it.
    """
    runs: list[tuple[str, str]] = []
    rest = text
    for name in names:
        if isinstance(name, Tongued):
            before, _, rest = rest.partition(name)
            runs += [(before, ""), *name.runs]
    return Tongued(*(run for run in (*runs, (rest, "")) if run[0])) if runs else text


def language_of(text: str) -> str:
    """Give the language of a whole text; '' for that of the page, or for more than one."""
    (_, language), *others = runs_of(text)
    return "" if others else language


def runs_of(text: str) -> Sequence[tuple[str, str]]:
    """Give the runs of any text with their languages."""
    return text.runs if isinstance(text, Tongued) else ((text, ""),)
