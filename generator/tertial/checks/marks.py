"""Words of the trade in entries: parts and plumages."""

from __future__ import annotations

import re
from itertools import combinations
from typing import TYPE_CHECKING, Final

from tertial.entries.values import Written
from tertial.marks.measures import MEASURES
from tertial.marks.plumages import ALL, Plumage, chain, near_plumages, read_plumage
from tertial.marks.reading import read_phrase
from tertial.marks.separation import by_facet, separate
from tertial.text.problem import Also, Problem, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide, Species
    from tertial.marks.statements import Statement
    from tertial.text.source import SourceText

MALE: Final = Plumage(age="adult", sex="male")
FEMALE: Final = Plumage(age="adult", sex="female")

# Only what is plain: descriptors between commas, "or" and "and"; "no" before one, "always" and "never".
_PIECES: Final = re.compile(r"\s*[,;]\s*(?:(?:and|or|but)\s+)?|\s+(?:and|or|but)\s+")
_BRACKETS: Final = re.compile(r"\([^)]*\)")
_COMMAS: Final = re.compile(r"\s*[,;]\s*")
_ALWAYS: Final = re.compile(r"always (.+)", re.IGNORECASE)
_CONSTANT: Final = frozenset({"always", "never"})
_NEGATIVE: Final = re.compile(r"(?:no|not|without)\s+")
# "Not always" says less than either word alone.
_DENYING: Final = re.compile(r"\b(?:no|not|without|never|always)\b", re.IGNORECASE)
_LOOSE: Final = re.compile(r"not (?:always|only|quite|all)\b")


def unknown_part(guide: Guide) -> Iterator[Problem]:
    """A part that the table of parts does not have: shown, but never compared."""
    for source, part in _parts(guide):
        if guide.parts.find(part.value) is None:
            near = " or ".join(guide.parts.near(part.value))
            message = f"{part.value!r} is not a part that tertial knows, so it is shown but never compared"
            mend = (
                f"write {near}" if near else "see the page of parts, or add the word under words: part: in guide.yaml"
            )
            yield Problem("unknown-part", Severity.WARNING, source, part.span, message, mend)
    for source, part, meant in (*_signs(guide), *_pointed(guide)):
        message = f"{part.value!r} is not a part that tertial knows, so it is shown as your own word"
        yield Problem("unknown-part", Severity.GAP, source, part.span, message, f"write {meant}")


def _signs(guide: Guide) -> Iterator[tuple[SourceText, Written[str], str]]:
    """Give the signs of flocks that are slips of the pen: any word may be a sign, and none is compared."""
    for flock in guide.flocks:
        for part in (phrase.part for phrase in flock.entry.marks):
            if meant := guide.parts.slip_for(part.value):
                yield flock.entry.source, part, meant


def _pointed(guide: Guide) -> Iterator[tuple[SourceText, Written[str], str]]:
    """Give what pointers name by a slip of the pen, with the part that was meant; words of one's own are none."""
    for entry, picture in guide.pictures():
        for pointer in picture.pointers:
            name = pointer.value.name
            if meant := guide.parts.slip_for(name):
                at = entry.source.text.rfind(name, pointer.span.start, pointer.span.end)
                span = Span(at, at + len(name)) if at >= 0 else pointer.span
                yield entry.source, Written(name, span), meant


def unknown_plumage(guide: Guide) -> Iterator[Problem]:
    """A plumage that cannot be read: its phrases are shown, but never compared."""
    for source, plumage in _plumages(guide):
        if read_plumage(plumage.value) is None:
            near = near_plumages(plumage.value)
            message = f"{plumage.value!r} is not a plumage that tertial knows, so it is shown but never compared"
            mend = f"write {' or '.join(near)}" if near else "write all, male, female, juvenile male or the like"
            if guide.parts.find(plumage.value):
                mend = f"write all: | in its place, and below it, further in, {plumage.value}: and its phrase"
            yield Problem("unknown-plumage", Severity.WARNING, source, plumage.span, message, mend)


def part_twice(guide: Guide) -> Iterator[Problem]:
    """One part under two of its names in one plumage, or one plumage in two blocks."""
    for species in guide.species:
        seen: dict[tuple[object, str], Written[str]] = {}
        for block in species.entry.marks:
            plumage = read_plumage(block.plumage.value)
            for phrase in block.phrases if plumage else ():
                part = guide.parts.find(phrase.part.value)
                if part is None:
                    continue
                again = phrase.part
                first = seen.setdefault((plumage, part.word), again)
                if first is not again:
                    source = species.entry.source
                    also = Also(source, first.span, "first written here; this one is compared")
                    message = f"{again.value!r} is another word for {first.value!r}, which this plumage already has"
                    if again.value == first.value:
                        message = f"{again.value!r} is written in two blocks of one plumage"
                    mend = "join the two phrases with a comma where the first one stands"
                    yield Problem("part-twice", Severity.WARNING, source, again.span, message, mend, (also,))


def _parts(guide: Guide) -> Iterator[tuple[SourceText, Written[str]]]:
    for species in guide.species:
        entry = species.entry
        for marks in entry.marks:
            yield from ((entry.source, phrase.part) for phrase in marks.phrases)
        for measures in entry.measures:
            yield from ((entry.source, measure.part) for measure in measures.measures if not _is_whole(measure.part))
        yield from ((entry.source, phrase.part) for phrase in entry.voice)


def _is_whole(part: Written[str]) -> bool:
    """Measures of the whole bird are no parts of it."""
    return part.value.casefold() in MEASURES


def _plumages(guide: Guide) -> Iterator[tuple[SourceText, Written[str]]]:
    for outing in guide.outings:
        source = outing.entry.source
        for count in outing.entry.counts:
            for number in count.by_plumage:
                at = source.text.find(number.plumage, count.numbers.span.start, count.numbers.span.end)
                span = Span(at, at + len(number.plumage)) if at >= 0 else count.numbers.span
                yield source, Written(number.plumage, span)
    for species in guide.species:
        entry = species.entry
        yield from ((entry.source, block.plumage) for block in entry.marks)
        yield from ((entry.source, block.plumage) for block in entry.measures)
        for picture in (*entry.sketches, *entry.photos):
            if picture.shows:
                yield entry.source, picture.shows


def mark_against_itself(guide: Guide) -> Iterator[Problem]:
    """A mark that is stated and denied, in one phrase or between a plumage and ``all``."""
    for species in guide.species:
        source = species.entry.source
        general = species.records.get(ALL, {})
        for plumage, phrases in species.records.items():
            for part, phrase in phrases.items():
                # Most phrases deny nothing and stand beside none that binds: they cannot contradict.
                of_all = general[part].text.value if part in general else ""
                if not _DENYING.search(phrase.text.value) and not _DENYING.search(of_all):
                    continue
                stated, denied = claims(phrase.text.value)
                if both := sorted(stated & denied):
                    message = f"{phrase.part.value!r} of {plumage.text} is both {both[0]!r} and not; one was expected"
                    mend = "keep one of the two, or write usually or sometimes"
                    yield Problem("mark-against-itself", Severity.WARNING, source, phrase.text.span, message, mend)
                elif pair := _both_always(guide, part, phrase.text.value):
                    message = f"{phrase.part.value!r} of {plumage.text} is always {pair[0]!r} and always {pair[1]!r}"
                    mend = "keep one of the two, write usually or sometimes, or and where it has both at once"
                    yield Problem("mark-against-itself", Severity.WARNING, source, phrase.text.span, message, mend)
                elif plumage != ALL and part in general:
                    stated_of_all, denied_of_all = claims(of_all, always=True)
                    if both := sorted((stated & denied_of_all) | (denied & stated_of_all)):
                        also = Also(source, general[part].text.span, "said of all here")
                        message = (
                            f"{phrase.part.value!r} of {plumage.text} goes against what is always or never so "
                            f"of all: {both[0]!r}"
                        )
                        mend = "mend one of the two, or take always or never out of all"
                        yield Problem(
                            "mark-against-itself", Severity.WARNING, source, phrase.text.span, message, mend, (also,)
                        )


def _both_always(guide: Guide, part: str, text: str) -> tuple[str, str] | None:
    """Give two terms that are each said to hold always, and exclude each other."""
    pieces = [found[1] for piece in _COMMAS.split(_BRACKETS.sub("", text)) if (found := _ALWAYS.fullmatch(piece))]
    if len(pieces) < 2:
        return None
    terms = [(piece, only) for piece in pieces if (only := _only_statement(guide, part, piece))]
    for (one, first), (other, second) in combinations(terms, 2):
        if first.key == second.key and separate(first, second, guide.words).value == 1:
            return one, other
    return None


def _only_statement(guide: Guide, part: str, piece: str) -> Statement | None:
    """Give what one always is said to be, where that is one term and nothing else."""
    reading = read_phrase(f"always {piece}", guide.words, part)
    stated = [each for each in reading.statements if not each.implied]
    if reading.left or len(stated) != 1 or [len(claim.qualities) for claim in stated[0].claims] != [1]:
        return None
    return by_facet(stated[0], guide.words)[0]


def part_only_there(guide: Guide) -> Iterator[Problem]:
    """A part recorded of the look-alike and not of this bird, or not of its plumage: nothing to compare it with."""
    for pair in guide.pairs:
        for here, there in ((pair.first, pair.second), (pair.second, pair.first)):
            recorded = _recorded(here)
            covered = {part.region.word for word in recorded if (part := guide.parts.find(word))}
            missing = guide.parts_in_order(
                word for word in _stated(there) - recorded if not _is_covered(guide, word, recorded, covered)
            )
            if not recorded:
                continue
            labels = [*missing, *(f"{part} of the {plumage.text}" for part, plumage in _not_of(guide, here, there))]
            if labels:
                named = ", ".join(labels[:4]) + (" and more" if len(labels) > 4 else "")
                message = f"recorded of {there.name}, but not of {here.name}: {named}"
                mend = "write these parts down at the next chance, or not seen, or does not apply"
                yield Problem("part-only-there", Severity.GAP, here.entry.source, here.entry.name.span, message, mend)


def _not_of(guide: Guide, here: Species, there: Species) -> Iterator[tuple[str, Plumage]]:
    """Give parts that both accounts have, but only one for a plumage that both describe.

    What is written of such a plumage tells it from others of its kind; where the other bird has nothing
    that holds for it, the two cannot be compared in it.
    """
    for plumage in sorted(there.records.keys() & here.records.keys() - {ALL}, key=lambda each: each.order):
        held = {word for origin in chain(plumage) for word in here.records.get(origin, {})}
        regions = {part.region.word for word in held if (part := guide.parts.find(word))}
        stated = {
            word
            for word, phrase in there.records[plumage].items()
            if not phrase.is_unknown and not phrase.is_not_applicable
        }
        for word in guide.parts_in_order(stated & _recorded(here) - held):
            if not _is_covered(guide, word, held, regions):
                yield word, plumage


def plumage_undescribed(guide: Guide) -> Iterator[Problem]:
    """A plumage that a picture shows, or one sex of two, of which nothing is written."""
    for species in guide.species:
        if not species.records:
            continue
        entry = species.entry
        for picture in (*entry.sketches, *entry.photos):
            shown = read_plumage(picture.shows.value) if picture.shows else None
            if picture.shows and shown and not any(species.records.get(each) for each in chain(shown)):
                message = f"a picture shows {shown.text}, but no mark is written that holds for it"
                mend = f"write {shown.text}: | and its marks under marks:"
                yield Problem("plumage-undescribed", Severity.GAP, entry.source, picture.shows.span, message, mend)
        sexes = {plumage.sex for plumage, phrases in species.records.items() if phrases and plumage.age == MALE.age}
        for sex, other in ((MALE, FEMALE), (FEMALE, MALE)):
            if species.records.get(sex) and other.sex not in sexes:
                message = f"the {sex.text} is described, but nothing is written of the {other.text} alone"
                mend = f"write {other.text}: | and what differs, or the same marks again"
                yield Problem("plumage-undescribed", Severity.GAP, entry.source, entry.name.span, message, mend)


def _recorded(species: Species) -> set[str]:
    return {part for phrases in species.records.values() for part in phrases}


def _stated(species: Species) -> set[str]:
    """Parts of which more is known than that nobody could tell, or that there are none."""
    return {
        part
        for phrases in species.records.values()
        for part, phrase in phrases.items()
        if not phrase.is_unknown and not phrase.is_not_applicable
    }


def _is_covered(guide: Guide, word: str, recorded: set[str], regions: set[str]) -> bool:
    """Whether a part is compared by a wider one, a region by one of its parts, or an unknown word never."""
    part = guide.parts.find(word)
    return part is None or part.region.word in recorded or word in regions


def claims(text: str, *, always: bool = False) -> tuple[set[str], set[str]]:
    """Give the descriptors that a phrase states and those that it denies.

    :param always: only those that are said to hold always or never.
    """
    stated: set[str] = set()
    denied: set[str] = set()
    for piece in _PIECES.split(_BRACKETS.sub("", text.casefold())):
        words = piece.split()
        constancy = {word for word in words if word in _CONSTANT}
        rest = " ".join(word for word in words if word not in _CONSTANT)
        negative = _NEGATIVE.match(rest)
        if _LOOSE.match(" ".join(words)) or (always and not constancy):
            continue
        if negative or "never" in constancy:
            denied.add(_NEGATIVE.sub("", rest))
        elif rest:
            stated.add(rest)
    return stated - {""}, denied - {""}
