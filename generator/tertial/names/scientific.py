"""Whether a scientific name is written as the zoological code asks, without asking which bird it is.

Entries read their ``scientific:`` line with this; whether the name exists is for the name list.
Only the form can be judged here: that an adjective agrees with its genus, or that an author is
the right one, cannot.

Articles are those of the International Code of Zoological Nomenclature, 4th edition.
"""

from __future__ import annotations

import re
from typing import Final, NamedTuple


class ScientificName(NamedTuple):
    """The name of a species or subspecies, taken apart."""

    genus: str
    """Genus, with its capital."""

    subgenus: str
    """Subgenus without its parentheses, or ''."""

    species: str
    """Specific name, the second word."""

    subspecies: str
    """Subspecific name, the third word, or ''."""

    authorship: str
    """Author and year as written, with parentheses if the species was described in another genus; or ''."""

    @property
    def binomen(self) -> str:
        """Genus and specific name: what the lists go by."""
        return f"{self.genus} {self.species}"


class Fault(NamedTuple):
    """Why a text is not a scientific name."""

    reason: str
    """What is wrong with which word, as one clause without a full stop."""

    expected: str
    """What should stand there, with the repaired word wherever it is certain."""

    word: str
    """The offending stretch, exactly as it stands in the text; '' when there is none."""


QUALIFIERS: Final = {
    "aff": "akin to, but not, the species that follows",
    "agg": "an aggregate of species",
    "cf": "to be compared with the species that follows",
    "gen": "the genus is not settled",
    "indet": "cannot be told from what was seen",
    "nr": "near the species that follows",
    "prox": "near the species that follows",
    "sp": "the species is not settled",
    "spp": "several species of the genus",
    "stet": "not taken further",
}
"""Words that tell how sure a name is, with their usual sense (Bengtson 1988; Sigovini, Keppel and
Tagliapietra 2016). They are not part of the name even when they stand inside it (Art. 5.3)."""

_RANKS: Final = frozenset({"f", "form", "morph", "ssp", "subsp", "subspecies", "var"})

# An author's name may begin with a small letter; without these, "du Bus" would be a subspecies.
_PARTICLES: Final = frozenset({"da", "de", "del", "della", "den", "der", "di", "du", "la", "le", "van", "von", "zu"})

_FIRST_YEAR: Final = 1758
"""No zoological name is older (Art. 3.2)."""

_GENUS = re.compile(r"[A-Z][a-z]+")
_SUBGENUS = re.compile(r"\(([A-Z][a-z]+)\)")
# The one hyphen that stays: a letter that describes the animal, as in c-album (Art. 32.5.2.4.3).
_EPITHET = re.compile(r"[a-z]{2,}|[a-z]-[a-z]{2,}")
_AUTHOR_AND_YEAR = re.compile(r"([^()]*?)(,?)\s*(\d{4})")
_SIGNS = re.compile(r"[.,;()\[\]]+")


def read_scientific(text: str) -> ScientificName | Fault:
    """Read a binomen or trinomen, with or without subgenus and authorship, or say what is wrong.

    Identifications that are no names (qualifiers, hybrid formulas, either-or records) are refused
    first, for they belong in other fields; of other faults the leftmost is given.
    """
    words = text.split()
    if not words:
        return Fault("the name is empty", "genus and specific name, as in Turdus migratorius", "")
    genus, *rest = words
    subgenus = _SUBGENUS.fullmatch(rest[0]) if rest else None
    rest = rest[1:] if subgenus else rest
    end = next((at for at, word in enumerate(rest) if at and _begins_authorship(word)), len(rest))
    epithets = rest[:end]
    taken = len(words) - len(rest) + end
    authorship = " ".join(text.split(maxsplit=taken)[taken:]).rstrip()
    return (
        _no_name(words)
        or _genus_fault(genus)
        or _missing_epithet(genus, rest)
        or next(filter(None, map(_epithet_fault, epithets)), None)
        or _surplus_epithet(epithets)
        or _authorship_fault(authorship)
        or ScientificName(
            genus,
            subgenus[1] if subgenus else "",
            epithets[0],
            epithets[1] if len(epithets) == 2 else "",
            authorship,
        )
    )


def _no_name(words: list[str]) -> Fault | None:
    """Find what makes the text an identification, or a cross, instead of a name."""
    for word in words:
        if "×" in word or word.lower() in {"x", "hybrid"}:
            return Fault(
                f"'{word}' makes this the formula of a hybrid, which is no name",
                "the name of one species; the cross in words elsewhere",
                word,
            )
        if "/" in word:
            return Fault(
                f"'{word}' leaves open which of two it is",
                "the name of one species, or an entry of the kind unknown",
                word,
            )
        if "?" in word:
            return Fault(
                f"'{word}' doubts the name inside the name",
                "the name without its question mark, and the doubt in words elsewhere (Art. 5.3)",
                word,
            )
        for part in _SIGNS.split(word.lower()):
            if part in QUALIFIERS:
                mark = word.strip("()[],;")
                return Fault(
                    f"'{mark}' is no part of a name; it says: {QUALIFIERS[part]}",
                    "the name of one species, and the doubt in words elsewhere (Art. 5.3)",
                    mark,
                )
    return None


def _genus_fault(word: str) -> Fault | None:
    if _GENUS.fullmatch(word):
        return None
    if len(word.rstrip(".")) == 1 or word.endswith("."):
        return Fault(f"the genus '{word}' is shortened", "the genus in full", word)
    if word.isascii() and word.isalpha():
        return Fault(
            f"the genus '{word}' is not written with one capital in front",
            f"'{word.capitalize()}' (Art. 5.1)",
            word,
        )
    return _letters_fault("genus", word)


def _missing_epithet(genus: str, rest: list[str]) -> Fault | None:
    """Judge what follows the genus and a sound subgenus; a comma gives an author away."""
    if not rest or rest[0].endswith(","):
        return Fault(
            f"'{genus}' stands alone, and a genus is not yet a species",
            "a specific name after it, in small letters (Art. 5.1)",
            genus,
        )
    if rest[0].startswith("("):
        return Fault(
            f"'{rest[0]}' is not a subgenus",
            "a subgenus with its capital in parentheses, or the specific name (Art. 6.1)",
            rest[0],
        )
    return None


def _surplus_epithet(epithets: list[str]) -> Fault | None:
    if len(epithets) <= 2:
        return None
    return Fault(
        f"'{epithets[2]}' is one word too many after genus, species and subspecies",
        "at most three words, then author and year (Art. 5.2)",
        epithets[2],
    )


def _epithet_fault(word: str) -> Fault | None:
    """Judge a specific or subspecific name."""
    if word.rstrip(".") in _RANKS:
        return Fault(
            f"'{word}' stands where the subspecies should follow",
            "the three words of a subspecies with no rank between them (Art. 5.2)",
            word,
        )
    if _EPITHET.fullmatch(word):
        return None
    if len(word) == 1 and word.isalpha():
        return Fault(f"'{word}' is a single letter", "a word of two letters or more (Art. 11.9.1)", word)
    if word.isascii() and word.replace("-", "").isalpha():
        whole = word.replace("-", "").lower()
        if "-" in word:
            return Fault(f"'{word}' has a hyphen", f"'{whole}' in one word (Art. 32.5.2)", word)
        return Fault(f"'{word}' has a capital", f"'{whole}' in small letters (Art. 5.1, 5.2)", word)
    return _letters_fault("word", word)


def _letters_fault(noun: str, word: str) -> Fault:
    foreign = next(sign for sign in word if not (sign.isascii() and sign.isalpha()))
    return Fault(
        f"the {noun} '{word}' has {foreign!r} in it",
        "the 26 Latin letters only, without marks, figures or apostrophes (Art. 11.2)",
        word,
    )


def _begins_authorship(word: str) -> bool:
    return not word[0].islower() or word in _PARTICLES or word.startswith(("d'", "d’"))


def _authorship_fault(authorship: str) -> Fault | None:
    """Judge author and year, the form of which is Art. 22A.2 and 51.3."""
    if not authorship:
        return None
    opened, closed = authorship.startswith("("), authorship.endswith(")")
    inner = authorship[opened : len(authorship) - closed]
    if opened != closed or "(" in inner or ")" in inner:
        return Fault(
            f"the parentheses of '{authorship}' do not take in author and year together",
            "both or none inside one pair, as in '(Bonaparte, 1828)' (Art. 51.3)",
            authorship,
        )
    read = _AUTHOR_AND_YEAR.fullmatch(inner)
    if not read or not read[1]:
        return Fault(
            f"'{authorship}' is not an author with a year",
            "as in 'Linnaeus, 1766', or nothing; a subspecies is written in small letters",
            authorship,
        )
    if not read[2]:
        return Fault(
            f"'{authorship}' has no comma before the year",
            f"'{read[1].strip()}, {read[3]}' (Art. 22A.2)",
            authorship,
        )
    if int(read[3]) < _FIRST_YEAR:
        return Fault(
            f"the year {read[3]} is before the first zoological names",
            f"a year from {_FIRST_YEAR} on (Art. 3.2)",
            read[3],
        )
    return None
