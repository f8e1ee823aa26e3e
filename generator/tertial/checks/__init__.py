"""The checks: one function, one word, one line in ``CHECKS``.

A check gets the whole guide and gives problems; it changes nothing and reads no file. What is
wrong inside one file alone is found while reading it and needs no check here. Every word, of checks
and of reading, is explained in ``words/``; a test fails on one that is not.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.checks import links, marks, names, pictures

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.guide import Guide
    from tertial.text.problem import Problem

    Check = Callable[[Guide], Iterator[Problem]]

CHECKS: tuple[tuple[str, Check], ...] = (
    ("name-unlisted", names.name_unlisted),
    ("scientific-malformed", names.scientific_malformed),
    ("scientific-differs", names.scientific_differs),
    ("genus-differs", names.genus_differs),
    ("code-malformed", names.code_malformed),
    ("code-differs", names.code_differs),
    ("code-clash", names.code_clash),
    ("same-species", names.same_species),
    ("same-code", names.same_code),
    ("unknown-part", marks.unknown_part),
    ("unknown-plumage", marks.unknown_plumage),
    ("part-twice", marks.part_twice),
    ("similar-to-itself", links.similar_to_itself),
    ("similar-one-sided", links.similar_one_sided),
    ("unknown-code", links.unknown_code),
    ("no-account", links.no_account),
    ("dead-link", links.dead_link),
    ("picture-missing", pictures.picture_missing),
    ("no-alt-text", pictures.no_alt_text),
)
"""Every check with its word, in the order in which they run."""


def check_guide(guide: Guide) -> tuple[Problem, ...]:
    """Run every check."""
    return tuple(problem for _, check in CHECKS for problem in check(guide))
