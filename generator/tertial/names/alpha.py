"""Four-letter codes by the published rules, and what the two lists make of them.

The rules alone are not enough: one species in five of the longer list shares the code they give with
another, and then the lists decide. So every answer names both, the code of the rules and the code
of the list, and who else lays claim to it.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final, NamedTuple

from tertial.names.birds import SCHEMES, Bird, NameList, Scheme
from tertial.names.fold import latin


class Rule(NamedTuple):
    """One rule: how many letters each word of a name gives."""

    number: int
    """Number of the rule, 1 to 5 as published; 0 and 6 are ours, for what the rules leave open."""

    letters: tuple[int, ...]
    """Letters taken from the front of each word, word by word; words past the end give none."""

    sentence: str
    """The rule in words, for a reader who asks why."""


RULES: Final = (
    Rule(0, (), "The name has no letters of the Latin alphabet, so it gives no code."),
    Rule(1, (4,), "One word gives its first four letters, or all it has."),
    Rule(2, (2, 2), "Two words give two letters each."),
    Rule(3, (2, 1, 1), "Three words, only the last two joined by a hyphen, give two letters, one and one."),
    Rule(4, (1, 1, 2), "Any other three words give one letter, one and two."),
    Rule(5, (1, 1, 1, 1), "Four words give one letter each."),
    Rule(6, (1, 1, 1, 1), "Of five or more words the first four give one letter each."),
)
"""Rules by number. 1 to 5 after Klimkiewicz and Robbins 1978, North American Bird Bander 3:16-25;
6 is read off the two five-word names of the IBP list (BAWH, BAYS), which the paper does not treat."""

_WELL_FORMED = re.compile(r"[A-Z]{2,4}")
_BRACKETED = re.compile(r"[(\[][^)\]]*[)\]]?")
_NO_LETTER = re.compile(r"[^a-z/ -]")


class NaturalCode(NamedTuple):
    """The code that the rules give to a name, whether or not another name gives the same."""

    code: str
    """One to four capitals; '' for a name without Latin letters."""

    rule: int
    """Number of the rule in `RULES`."""

    @property
    def sentence(self) -> str:
        """The rule in words."""
        return RULES[self.rule].sentence


def natural_code(name: str) -> NaturalCode:
    """Give the code of an English name by the published rules (see `RULES`).

    Spaces, hyphens and slashes part words; apostrophes and full stops do not, so LeConte's and St.
    are one word each. Accents are dropped, ``&`` is read as "and", and what stands in brackets is a
    remark and no part of the name. Any text gets an answer.
    """
    plain = _BRACKETED.sub(" ", latin(" ".join(name.split()))).replace("&", " and ")
    tokens = (re.findall("[a-z]+", token) for token in _NO_LETTER.sub("", plain).split())
    joined = [token for token in tokens if token]
    words = [word for token in joined for word in token]
    if len(words) == 3:
        number = 3 if len(joined[0]) == 1 and len(joined) == 2 else 4
    else:
        number = (0, 1, 2, 3, 5, 6)[min(len(words), 5)]
    letters = zip(words, RULES[number].letters, strict=False)
    return NaturalCode("".join(word[:count] for word, count in letters).upper(), number)


def is_well_formed(code: str) -> bool:
    """Whether a text could be an alpha code: four capitals, or two or three for a code of one's own."""
    return _WELL_FORMED.fullmatch(code) is not None


def code_in_force(written: str, listed: str, name: str) -> str:
    """Give the code by which a guide calls a bird.

    A code that could not be one gives way, so that a slip in it misleads nobody else: to the list, which
    is right whatever was meant; for a bird outside it to the same letters in capitals, if those are a code,
    and else to the rules. Only a name to which the rules give none leaves it in force.

    :param written: the code that the author gives, or ''.
    :param listed: the code in the list in force, or ''.
    :param name: the name that the rules are put to.
    """
    if is_well_formed(written):
        return written
    capitals = written.upper() if is_well_formed(written.upper()) else ""
    return listed or capitals or natural_code(name).code or written


class ListedCode(NamedTuple):
    """What one list says about the code of a bird, beside what the rules say."""

    scheme: Scheme
    """The list."""

    name: str
    """The name that the rules were put to: the list's own spelling, or the name asked for."""

    listed: str
    """The code in the list, or '' when the bird is not on it."""

    natural: NaturalCode
    """The code by the rules."""

    sharers: tuple[Bird, ...]
    """Other birds on the list to which the rules give the same code, in list order."""

    holder: Bird | None
    """The other bird that has this natural code in the list; with it, nobody else may use it."""

    @property
    def code(self) -> str:
        """The code to use: the listed one, else the natural one, clash or no clash."""
        return self.listed or self.natural.code

    @property
    def rivals(self) -> tuple[Bird, ...]:
        """Everyone on the list who has or would have the natural code, its holder first."""
        first = () if self.holder is None else (self.holder,)
        return tuple(dict.fromkeys(first + self.sharers))


class CodeReport(NamedTuple):
    """The codes of one name in every list, with their reasons."""

    name: str
    """The name asked for, or the list spelling of the bird asked for."""

    birds: tuple[Bird, ...]
    """The birds of that name; empty when the list has none, several when the name is ambiguous."""

    codes: tuple[ListedCode, ...]
    """One answer a list, in the order of `SCHEMES`; about the first of `birds`."""

    def by(self, scheme: Scheme) -> ListedCode:
        """Give the answer of one list."""
        return self.codes[SCHEMES.index(scheme)]


def explain_code(subject: str | Bird, names: NameList) -> CodeReport:
    """Tell which code a bird or a name has in each list, which one the rules give, and who clashes.

    A name that the list does not have is coded as it is written and held against the list all the
    same: that is how a new entry learns that its code is taken.
    """
    birds = (subject,) if isinstance(subject, Bird) else names.find(subject)
    name = subject.english if isinstance(subject, Bird) else subject
    bird = birds[0] if birds else None
    return CodeReport(name, birds, tuple(_listed(name, bird, names, scheme) for scheme in SCHEMES))


def _listed(name: str, bird: Bird | None, names: NameList, scheme: Scheme) -> ListedCode:
    listed = bird.listed_code(scheme) if bird else ""
    if bird:
        name = bird.listed_name(scheme) or bird.english
    natural = natural_code(name)
    sharers = _claims(names, scheme).get(natural.code, ())
    holder = names.by_code(natural.code, scheme)
    return ListedCode(
        scheme,
        name,
        listed,
        natural,
        tuple(other for other in sharers if other != bird),
        None if holder == bird else holder,
    )


@lru_cache(maxsize=4)
def _claims(names: NameList, scheme: Scheme) -> dict[str, tuple[Bird, ...]]:
    """Gather the birds of a list by natural code, on the list's own spelling."""
    claims: dict[str, tuple[Bird, ...]] = {}
    for bird in names.listed(scheme):
        code = natural_code(bird.listed_name(scheme)).code
        claims[code] = (*claims.get(code, ()), bird)
    return claims
