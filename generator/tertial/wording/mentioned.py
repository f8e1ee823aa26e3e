"""How a language tells that a word of running text names a part of a bird; explained in ``layouts/words/README.md``."""

from __future__ import annotations

from typing import Final, NamedTuple

ANY: Final = "any"
NEVER: Final = "never"
SORTS: Final = (ANY, "shape", "which", "colour", "whose", NEVER)
"""What has to be told of a word before it names a part of a bird."""

TELLING: Final = ("which", "somebody's", "whose", "colour", "shape", "where")
"""What a word may tell of the one behind it."""


class Naming(NamedTuple):
    """What tells that a word of running text names a part of a bird."""

    behind: str
    """What has to be told of it by the word before it, one of ``SORTS``."""

    reason: str
    """What else it may mean."""


class Telling(NamedTuple):
    """What a word tells of a part that stands beside it."""

    before: str
    """Standing before, one of ``TELLING``."""

    behind: str
    """Standing behind: ``another's``, or ''."""
