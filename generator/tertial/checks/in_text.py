"""The checks that ask for an author's text, by themselves: a line of prose that has changed needs no other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.checks import links, pictures, places

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.guide import Account, Guide
    from tertial.text.problem import Problem

TEXT_CHECKS: tuple[tuple[str, Callable[[Guide], Iterator[Problem]]], ...] = (
    ("unknown-code", links.unknown_code),
    ("no-account", links.no_account),
    ("dead-link", links.dead_link),
    ("position-in-text", places.position_in_text),
    ("picture-missing", pictures.picture_missing),
    ("picture-unreadable", pictures.picture_unreadable),
    ("no-alt-text", pictures.no_alt_text),
    ("picture-has-position", pictures.picture_has_position),
)
"""Each with its word; all of them judge accounts one by one."""


def judge_text(guide: Guide, account: Account) -> tuple[Problem, ...]:
    """Run them on one account."""
    alone = guide.only(account)
    return tuple(problem for _, check in TEXT_CHECKS for problem in check(alone))
