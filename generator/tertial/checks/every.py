"""All checks in one table, and what is run of them when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tertial.checks import dates, links, marks, measures, names, outings, pairs, phrases, pictures, places
from tertial.checks.in_text import TEXT_CHECKS

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Iterator

    from tertial.guide import Account, Guide
    from tertial.text.problem import Problem

    Check = Callable[[Guide], Iterator[Problem]]
    DatedCheck = Callable[[Guide, dt.date], Iterator[Problem]]

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
    ("mark-against-itself", marks.mark_against_itself),
    ("part-only-there", marks.part_only_there),
    ("plumage-undescribed", marks.plumage_undescribed),
    ("size-differs", measures.size_differs),
    ("size-unknown", measures.size_unknown),
    ("measure-impossible", measures.measure_impossible),
    ("source-missing", measures.source_missing),
    ("changed-before-written", dates.changed_before_written),
    ("similar-to-itself", links.similar_to_itself),
    ("similar-one-sided", links.similar_one_sided),
    ("settled-stranger", links.settled_stranger),
    ("counts-exceed", outings.counts_exceed),
    ("outings-overlap", outings.outings_overlap),
    ("flock-not-counted", outings.flock_not_counted),
    ("scan-stranger", outings.scan_stranger),
    ("unknown-place", places.unknown_place),
    ("same-place", places.same_place),
    ("place-too-exact", places.place_too_exact),
    ("position-unsaid", places.position_unsaid),
    ("spot-outside", pictures.spot_outside),
    ("picture-uncredited", pictures.picture_uncredited),
    *TEXT_CHECKS,
)
"""Every check with its word, in the order in which they run."""


LONG_CHECKS: tuple[tuple[str, Check], ...] = (
    ("word-not-understood", phrases.word_not_understood),
    ("mark-decides-nothing", pairs.mark_decides_nothing),
    ("pair-undecided", pairs.pair_undecided),
    ("look-alike-unlisted", pairs.look_alike_unlisted),
)
"""Checks that read and compare phrases of the whole guide; a build does not wait for them."""

TOGETHER = frozenset({"same-species", "same-code", "outings-overlap", "same-place"})
"""Checks that hold all accounts against each other. Every other goes through the accounts one by one: it finds
of an account what it finds of the guide narrowed to that account, whatever it looks up elsewhere."""


DATED_CHECKS: tuple[tuple[str, DatedCheck], ...] = (("date-ahead", dates.date_ahead),)
"""Checks that ask for today; a build does not run them, because the clock must not change it."""


def check_guide(guide: Guide, today: dt.date | None = None) -> tuple[Problem, ...]:
    """Run the checks.

    :param today: the day on which dates are judged; without it, as in a build, the checks of dates and
        those that take long are left out.
    """
    found = [problem for _, check in CHECKS for problem in check(guide)]
    if today is not None:
        found.extend(problem for _, check in LONG_CHECKS for problem in check(guide))
        found.extend(problem for _, dated in DATED_CHECKS for problem in dated(guide, today))
    return tuple(found)


def judge_front(guide: Guide, account: Account) -> tuple[Problem, ...]:
    """Run on one account the checks that judge accounts one by one, but for those that ask for its text."""
    alone = guide.only(account)
    return tuple(problem for _, check in _ONE_BY_ONE for problem in check(alone))


def judge_together(guide: Guide) -> tuple[Problem, ...]:
    """Run the checks that judge accounts together, and the others on the settings."""
    settings = guide.only(None)
    return tuple(problem for word, check in CHECKS for problem in check(guide if word in TOGETHER else settings))


_ONE_BY_ONE = tuple(row for row in CHECKS if row[0] not in TOGETHER and row not in TEXT_CHECKS)
