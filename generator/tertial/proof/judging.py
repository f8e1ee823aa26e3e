"""Every problem of a state of the guide, found behind the pages and given up when a newer state is there."""

from __future__ import annotations

import datetime as dt
from functools import partial
from typing import TYPE_CHECKING

from tertial.checks.every import CHECKS, DATED_CHECKS, LONG_CHECKS
from tertial.showing import listed_pictures, picture_problems

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.guide import Guide
    from tertial.proof.pictures import Pictures
    from tertial.text.problem import Problem


def judged(guide: Guide, pictures: Pictures, is_over: Callable[[], bool]) -> tuple[Problem, ...] | None:
    """Find every problem: of reading, of the checks, and of pictures that cannot be developed.

    :param is_over: is asked again and again whether to give up.
    :returns: the problems, or None when given up.
    """
    found = list(guide.problems)
    today = dt.date.today()
    judges: list[Callable[[Guide], Iterator[Problem | None]]] = [check for _, check in CHECKS]
    judges += [partial(_dated, dated, today) for _, dated in DATED_CHECKS]
    judges.append(partial(_developed, pictures))
    judges += [check for _, check in LONG_CHECKS]
    for judge in judges:
        if is_over():
            return None
        try:
            for problem in judge(guide):
                if problem is not None:
                    found.append(problem)
                if is_over():
                    return None
        except OSError:
            # A file went away while it was looked at: a newer state is on its way.
            continue
    return tuple(found)


def _dated(
    check: Callable[[Guide, dt.date], Iterator[Problem]], today: dt.date, guide: Guide
) -> Iterator[Problem | None]:
    yield from check(guide, today)


def _developed(pictures: Pictures, guide: Guide) -> Iterator[Problem | None]:
    """Develop every picture, and tell what there is to say of it; None after each."""
    for original, source, span in listed_pictures(guide):
        yield from picture_problems(original, pictures.look(original), source, span)
        yield None
