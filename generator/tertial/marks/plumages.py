"""Which birds of a kind a statement is about, from whom a plumage inherits, and which are set side by side.

An author writes "juvenile male" or "male, breeding" over a block of phrases; everything that
compares birds asks by the value that is read here. Nothing is guessed: words that leave the age
open, such as a bare "basic", are not read, and ``near_plumages`` offers the full names.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from itertools import combinations, islice, product
from typing import TYPE_CHECKING, Final

from tertial.marks.folding import fold, likeness, tokens
from tertial.marks.plumage_words import Facets, load_plumage_words

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence

    from tertial.marks.plumage_words import Lexicon, PlumageWord

_LONGEST_RUN: Final = 4
_MOST_CHOICES: Final = 64
_SILENT: Final = frozenset({"plumage", "plumages", "bird", "birds", "in"})
_SIGNS: Final = str.maketrans(dict.fromkeys(".,;:/+&()?", " "))
_JOINT: Final = "[ ,_-]"
# Signs of two kinds are known not to be read: the other letters of Western Europe, and those of the sexes.
_LEFT_TO_THE_READER: Final = "[^ -~\u00c0-\u00ff\u2640\u2642]"


class Plumage(Facets):
    """A set of birds of one kind, by age, sex, season and morph; without any of them, all.

    A tuple, because plumages are looked up by the million. A sex or a season always comes with an age.
    """

    def __new__(cls, age: str = "", sex: str = "", season: str = "", morph: str = "") -> Plumage:
        """Make a plumage; ``ValueError`` for what no words name."""
        made = super().__new__(cls, age, sex, season, morph)
        if (sex or season) and not age:
            raise ValueError("a plumage with a sex or a season needs an age")
        naming = load_plumage_words().naming
        if not all(facets in naming for facets in made._apart):
            raise ValueError(f"no plumage word names {made._apart}")
        return made

    def __str__(self) -> str:
        return self.text

    @cached_property
    def text(self) -> str:
        """The normal form in words, which reads back as the same plumage."""
        return " ".join(self.words)

    @cached_property
    def words(self) -> tuple[str, ...]:
        """The words of the normal form; one of them may be a run of words, as ``first basic``."""
        naming = load_plumage_words().naming
        if self == Plumage():
            return (naming[Facets()].word,)
        named = [naming[facets] for facets in self._apart]
        sex_says_age = any(word.facets.sex and word.implies == self.age for word in named)
        return tuple(word.word for word in named if not (word.facets == Facets(age=self.age) and sex_says_age))

    @cached_property
    def order(self) -> tuple[int, int, int, int]:
        """A sort key: all birds first, then adults before the young, down to the downy ones."""
        ranks = load_plumage_words().ranks
        return (ranks.age[self.age], ranks.sex[self.sex], ranks.season[self.season], ranks.morph[self.morph])

    @property
    def _apart(self) -> tuple[Facets, ...]:
        """What each word of the normal form settles, in the order of the words."""
        cycle = Facets(age=self.age, season=self.season)
        known = self.age and self.season and cycle in load_plumage_words().naming
        apart = (
            Facets(morph=self.morph),
            *((cycle,) if known else (Facets(season=self.season), Facets(age=self.age))),
            Facets(sex=self.sex),
        )
        return tuple(facets for facets in apart if any(facets))


ALL: Final = Plumage()
"""Every bird of the kind."""


@lru_cache(maxsize=4096)
def read_plumage(text: str) -> Plumage | None:
    """Read the words for a plumage in any order; None if one is unknown or two contradict."""
    words = _words(text, load_plumage_words())
    if not words:
        return None
    settled: list[str] = []
    for values in zip(*(word.facets for word in words), strict=True):
        named = set(filter(None, values))
        if len(named) > 1:
            return None
        settled.append("".join(named))
    facets = Facets(*settled)
    age = facets.age or next((word.implies for word in words if word.implies), "")
    if (facets.sex or facets.season) and not age:
        return None
    return Plumage(age, facets.sex, facets.season, facets.morph)


@lru_cache(maxsize=4096)
def chain(plumage: Plumage) -> tuple[Plumage, ...]:
    """Give the plumages that may speak for this one, itself first and ``all`` last.

    The age never changes on the way. What names more of sex, season and morph comes before what
    names less; among those that name equally many, the morph is dropped first, then the season,
    then the sex. A morph written without an age holds for every age and comes last before ``all``.
    """
    named = [name for name in ("sex", "season", "morph") if getattr(plumage, name)]
    found = [
        Plumage(plumage.age, **{name: getattr(plumage, name) for name in kept})
        for count in range(len(named), -1, -1)
        for kept in combinations(named, count)
    ]
    return tuple(dict.fromkeys((*found, Plumage(morph=plumage.morph), ALL)))


def union_plumages(a: Iterable[Plumage], b: Iterable[Plumage]) -> tuple[Plumage, ...]:
    """Give the plumages written for either of two birds, in display order.

    ``all`` speaks through every other plumage already, so it stands only where it stands alone.
    """
    written = {*a, *b}
    return tuple(sorted(written - {ALL} or written, key=lambda plumage: plumage.order))


def near_plumages(text: str, limit: int = 3) -> tuple[str, ...]:
    """Give the normal forms that an unreadable text may have meant, the likeliest first."""
    lexicon = load_plumage_words()
    written = tokens(text.translate(_SIGNS))
    options = list(_options(written, lexicon))
    choices = islice(product(*options), _MOST_CHOICES) if options else ()
    meant = [read_plumage(" ".join(choice)) for choice in choices]
    found = dict.fromkeys(plumage.text for plumage in meant if plumage)
    if not found:
        found = dict.fromkeys(
            word.word
            for word in lexicon.words
            if written and set(written) <= set(tokens(word.word)) and read_plumage(word.word)
        )
    if not found:
        single = (read_plumage(choice) for several in options for choice in several)
        found = dict.fromkeys(plumage.text for plumage in single if plumage)
    if not found:
        scores = likeness(fold(text), lexicon.accepted, 0.6)
        ranked = sorted(scores, key=lambda word: (-scores[word], lexicon.accepted[word].order))
        whole = (read_plumage(lexicon.accepted[word].word) for word in ranked)
        found = dict.fromkeys(plumage.text for plumage in whole if plumage)
    return tuple(found)[:limit]


def plumage_pattern() -> str:
    """Give a regular expression (ECMA-262, without flags) that finds something in whatever ``read_plumage`` reads.

    It leaves to the reader what words say of each other (male against female, an age that is missing to a
    morph), and every text with a rare blank, dash or letter. Of other texts it fits those alone that are read.
    """
    lexicon = load_plumage_words()
    known = {*lexicon.accepted, *_SILENT}
    ageless = {
        text
        for text, word in lexicon.accepted.items()
        if (word.facets.sex or word.facets.season) and not (word.facets.age or word.implies)
    }
    besides = _any_of({*ageless, *_SILENT}, known)
    end = f"(?:{_JOINT}+|$)"
    return f"^(?!{_JOINT}*(?:{besides}{end})*$){_JOINT}*(?:{_any_of(known, known)}{end})+$|{_LEFT_TO_THE_READER}"


def _any_of(words: Collection[str], known: Collection[str]) -> str:
    return f"(?:{'|'.join(_spelled(word, known) for word in sorted(words))})"


def _spelled(word: str, known: Collection[str]) -> str:
    """Spell a folded word in letters of both cases with joints anywhere.

    Where it is made of two known words there is none between them: with one they are two, and what fits in
    two ways takes twice the time at each of its places.
    """
    cut = next((at for at in range(1, len(word)) if word[:at] in known and word[at:] in known), None)
    if cut:
        return _spelled(word[:cut], known) + _spelled(word[cut:], known)
    return f"{_JOINT}*".join(f"[{sign}{sign.upper()}]" if sign.isalpha() else sign for sign in word)


def _words(text: str, lexicon: Lexicon) -> tuple[PlumageWord, ...]:
    """Read a text as listed words, longest runs first; nothing if any stretch is unknown."""
    written = tokens(text.replace(",", " "))
    words: list[PlumageWord] = []
    start = 0
    while start < len(written):
        word, end = _longest(written, start, lexicon)
        if word:
            words.append(word)
        elif written[start] not in _SILENT:
            return ()
        start = end
    return tuple(words)


def _longest(written: Sequence[str], start: int, lexicon: Lexicon) -> tuple[PlumageWord | None, int]:
    """Find the longest known run of words from ``start``, with the place after it."""
    for end in range(min(len(written), start + _LONGEST_RUN), start, -1):
        if found := lexicon.accepted.get("".join(written[start:end])):
            return found, end
    return None, start + 1


def _options(written: Sequence[str], lexicon: Lexicon) -> Iterator[tuple[str, ...]]:
    """Give, for each stretch of a text, the listed words that it is or may have meant."""
    single = {token for word in lexicon.words for text in (word.word, *word.synonyms) for token in tokens(text)}
    start = 0
    while start < len(written):
        word, end = _longest(written, start, lexicon)
        if word:
            yield (" ".join(written[start:end]),)
        elif hinted := lexicon.hinted.get(written[start]):
            yield tuple(word.word for word in hinted)
        elif written[start] in single:
            yield (written[start],)
        elif scores := likeness(written[start], single):
            yield (max(sorted(scores), key=lambda token: scores[token]),)
        start = end
