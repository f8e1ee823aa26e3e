"""Rows of part and phrase under headings, as most pages of one account have them."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from tertial.entries.values import Phrase
    from tertial.pages.site import Link, Site


class Row(NamedTuple):
    """A line of a table: what it is about, and what is said."""

    part: Link
    """The part or matter."""

    said: tuple[Link, ...]
    """What is said of it."""

    id: str = ""
    """By which a pointer of a picture leads here, or ''."""


class Block(NamedTuple):
    """Rows under a heading."""

    heading: str
    """The heading."""

    rows: tuple[Row, ...]
    """The rows; never empty."""


def phrase_rows(site: Site, phrases: tuple[Phrase, ...]) -> tuple[Row, ...]:
    """Make rows of phrases."""
    return tuple(
        Row(site.part(each.part.value), site.words(each.text.value, site.mentions.phrases, each.part.value))
        for each in phrases
    )
