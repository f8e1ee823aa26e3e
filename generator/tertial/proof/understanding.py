"""What was understood of the marks on a page: shown under each while it is written, never published."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tertial.guide import Species, Unsolved
from tertial.marks.meaning import left_words, says_nothing, told
from tertial.marks.reading import read_phrase

if TYPE_CHECKING:
    from tertial.entries.values import Phrase
    from tertial.guide import Account, Guide


class MarkRead(NamedTuple):
    """What was understood of one mark."""

    told: tuple[tuple[str, str], ...]
    """Each respect with its states and their weights."""

    left: tuple[tuple[str, str], ...]
    """Words that were not understood, each with known ones that it may have meant, or ''."""

    is_compared: bool
    """Something of it counts in comparisons."""


def understood(guide: Guide, account: Account | None, block: int) -> tuple[MarkRead, ...]:
    """Give what was understood of each mark of a block, in the order of its rows.

    :param account: the account that the page is made of, if it is one with marks.
    :param block: the place from 0 of the block among those with phrases.
    """
    return tuple(_read(guide, phrase) for phrase in _phrases(account, block))


def _phrases(account: Account | None, block: int) -> tuple[Phrase, ...]:
    if isinstance(account, Species):
        written = [each.phrases for each in account.entry.marks if each.phrases]
        return written[block] if block < len(written) else ()
    return account.entry.marks if isinstance(account, Unsolved) else ()


def _read(guide: Guide, phrase: Phrase) -> MarkRead:
    part = guide.parts.find(phrase.part.value)
    if part is None:
        return MarkRead((), (), is_compared=False)
    reading = read_phrase(phrase.text.value, guide.words, part.word)
    left = tuple((word, ", ".join(near)) for word, near in left_words(reading))
    return MarkRead(tuple(told(reading)), left, is_compared=not says_nothing(reading))
