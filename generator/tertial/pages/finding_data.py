"""What the search looks up: names of everything that has a page, the marks that are understood, places, and words.

All of it is numbered by the rows of names. Which rows have a mark, a place or a word is written as gaps between
their numbers, in as few signs as they take; a guide of 500 species has to do with 150 KB. A script may load
nothing but scripts from a disk, so the two values are scripts like other data.
"""

from __future__ import annotations

from collections import defaultdict
from functools import cache, lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from tertial.guide import Outing
from tertial.languages import words_of_author
from tertial.marks.statements import ABSENT, PRESENT
from tertial.pages.facts import counted, habitats, worded
from tertial.pages.finding_names import kinds, with_tongues
from tertial.pages.finding_words import COUNTED_AT, HABITAT, SAID_BY_SEARCH, plumage_terms, small_words, sorts
from tertial.pages.naming import part_named

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from tertial.guide import Account, Guide
    from tertial.marks.statements import Statement
    from tertial.marks.words import Words
    from tertial.pages.browse_shelf import Json, Shelf

SIGNS: Final = "".join(chr(at) for at in range(33, 127) if chr(at) not in '"\\')
"""The 92 signs of packed numbers: printable, and none that JSON writes as two."""

LAST: Final = 62
"""So many of the signs, the first, end a number; the others lead one that is too large for a single sign."""

_ALLOWED: Final = (20_000, 70)
"""Signs that words of the text may take: at least so many, else so many for each account. Names and marks of 500
species take up to 115 KB."""

_COMMON: Final = (20, 4)
"""In a guide of so many accounts, a word that one account in so many has tells none from another."""


def finding_data(shelf: Shelf) -> Json:
    """Give names, marks and places.

    ``written`` and ``english`` are the languages of the author and of terms, if not that of the pages. ``kinds``
    are as in ``Kind``. ``terms`` have other wordings after the preferred. ``marks`` has for each part its word and,
    packed, for each term said of it: how far on in ``terms`` it stands, and the accounts. ``places`` are a relation,
    a name, and the accounts. ``sorts`` are words and species, ``plumages`` and ``small`` words.
    """
    guide, found = shelf.guide, _marks(shelf)
    terms = {term: at for at, term in enumerate(sorted({term for said in found.values() for term in said}))}
    others = _wordings(guide.words, terms)
    marks = []
    for part in guide.parts_in_order(found):
        numbers: list[int] = []
        before = 0
        for term, accounts in sorted(found[part].items()):
            numbers += (terms[term] - before, *_gaps(accounts))
            before = terms[term]
        marks.append([with_tongues(part_named(shelf.site, part)), packed(numbers)])
    return {
        "words": {phrase: shelf.site.say(phrase) for phrase in SAID_BY_SEARCH},
        "english": "" if shelf.site.wording.is_english else "en",
        "written": "" if shelf.site.written_in == shelf.site.wording.tag else shelf.site.written_in,
        "signs": SIGNS,
        "last": LAST,
        "kinds": [[kind.heading, kind.before, kind.after, kind.rows] for kind in kinds(shelf.site)],
        "terms": [[term, *others.get(term, ())] for term in terms],
        "marks": marks,
        "places": [
            [shelf.site.say(how), name, packed(_gaps(accounts))]
            for (how, name), accounts in sorted(_places(guide).items())
        ],
        "sorts": [[*words, packed(_gaps(birds))] for words, birds in sorts(guide.species, shelf.site.wording)],
        "plumages": list(plumage_terms(shelf.site.wording)),
        "small": list(small_words(shelf.site.wording, words_of_author(guide.settings, guide.folder))),
    }


def _wordings(words: Words, terms: Collection[str]) -> Mapping[str, Iterable[str]]:
    """Give other wordings of terms, the author's own and those of terms that are taken for the same among them."""
    found: defaultdict[str, dict[str, None]] = defaultdict(dict)
    for wording, sense in (*words.own, *words.lists.wordings):
        if sense.word in terms and wording != sense.word:
            found[sense.word][wording] = None
    for (aspect, word), term in words.lists.terms.items():
        for (other_aspect, other), near in words.lists.terms.items() if word in terms and term.near else ():
            if (aspect, word) != (other_aspect, other) and aspect is other_aspect and term.near & near.near:
                found[word][other] = None
    return found


def _marks(shelf: Shelf) -> Mapping[str, Mapping[str, set[int]]]:
    """Give for each part, and each term that some account says of it in some plumage, the accounts."""
    found: dict[str, dict[str, set[int]]] = {}
    numbers = {species.path: at for at, species in enumerate(shelf.guide.species)}
    # A statement is hashed with all that it claims; most are the very ones of another account, and asked for so.
    known: dict[int, tuple[str, ...]] = {}
    for bird in shelf.birds:
        number = numbers[bird.species.path]
        for described in bird.plumages:
            for part, keys in described.told.items():
                for each in keys.values():
                    statement = each.statement
                    said = known.get(id(statement))
                    if said is None:
                        said = known[id(statement)] = affirmed(statement)
                    for term in said:
                        found.setdefault(part, {}).setdefault(term, set()).add(number)
    return found


@lru_cache(maxsize=65536)
def affirmed(statement: Statement) -> tuple[str, ...]:
    """Give every term that a statement claims, however seldom; nothing that it denies."""
    claimed = (quality for claim in statement.claims if not claim.negative for quality in claim.qualities)
    return tuple(
        term for quality in claimed if quality.word not in (PRESENT, ABSENT) for term in (*quality.shades, quality.word)
    )


def _places(guide: Guide) -> Mapping[tuple[str, str], set[int]]:
    """Give the accounts by where they are at home, and by where they were counted."""
    found: defaultdict[tuple[str, str], set[int]] = defaultdict(set)
    numbers = {account.path: at for at, account in enumerate(guide.accounts())}
    for account in guide.accounts():
        for habitat in account.fact(habitats):
            found[HABITAT, habitat].add(numbers[account.path])
    for outing in guide.outings:
        for code in outing.fact(counted):
            if outing.place and code in guide.by_code:
                found[COUNTED_AT, outing.place.name].add(numbers[guide.by_code[code].path])
    return found


def words_data(guide: Guide) -> Json:
    """Give the words of all that accounts say.

    ``words`` has each word by a capital that tells how many letters it shares with the one before (A for none),
    and the rest; ``found`` is packed and has the accounts of each.
    """
    accounts = tuple(guide.accounts())
    parts = {word for part in guide.parts for name in part.words for word in name.split()}
    found: defaultdict[str, list[int]] = defaultdict(list)
    understood = cache(lambda word: word in parts or bool(guide.words.find(word)))
    for at, account in enumerate(accounts):
        prose, phrases = account.fact(worded)
        # Of phrases only what is not understood: the rest is found as a mark, part and term together.
        left = (word for word in phrases if not understood(word))
        for word in {*prose, *left, *_codes(account)}:
            found[word].append(at)
    kept = sorted(_worth_keeping(found, len(accounts)))
    numbers = [number for word in kept for number in _gaps(found[word])]
    return {"words": "".join(_front_coded(kept)), "found": packed(numbers)}


def _codes(account: Account) -> Iterable[str]:
    return sorted(code.lower() for code in account.fact(counted)) if isinstance(account, Outing) else ()


def _worth_keeping(found: Mapping[str, Sequence[int]], accounts: int) -> Iterator[str]:
    """Give the words that there is room for, those of more accounts first: each sign then finds the most."""
    few, share = _COMMON
    room = max(_ALLOWED[0], _ALLOWED[1] * accounts)
    for word in sorted(found, key=lambda word: (-len(found[word]), word)):
        if accounts < few or len(found[word]) * share <= accounts:
            room -= len(word) + 1 + len(packed(_gaps(found[word])))
            if room < 0:
                return
            yield word


def _front_coded(words: Sequence[str]) -> Iterator[str]:
    for before, word in pairwise(("", *words)):
        shared = next((at for at, (a, b) in enumerate(zip(before, word, strict=False)) if a != b), len(before))
        shared = min(shared, len(word), 25)
        yield chr(ord("A") + shared) + word[shared:]


def _gaps(numbers: Iterable[int]) -> list[int]:
    """Give how many numbers there are, the first, and how much each is larger than the one before, less one."""
    listed = sorted(numbers)
    return [len(listed), *(number - before - 1 for before, number in pairwise((-1, *listed)))]


def packed(numbers: Iterable[int]) -> str:
    """Write numbers as signs: each ends with one of the first ``LAST``, and what leads it is told by the others."""
    found = []
    for number in numbers:
        rest, last = divmod(number, LAST)
        signs = SIGNS[last]
        while rest:
            rest, digit = divmod(rest, len(SIGNS) - LAST)
            signs = SIGNS[LAST + digit] + signs
        found.append(signs)
    return "".join(found)
