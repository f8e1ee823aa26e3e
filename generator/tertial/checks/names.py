"""Names and codes: of each account against the lists, and of the accounts among themselves."""

from __future__ import annotations

from collections import defaultdict
from itertools import permutations
from typing import TYPE_CHECKING, Final

from tertial.entries.counting import is_of_several
from tertial.entries.hybrid import parents_of
from tertial.names.alpha import is_well_formed, natural_code
from tertial.names.fold import fold
from tertial.names.scientific import Fault, read_scientific
from tertial.text.problem import Also, Problem, Severity
from tertial.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from tertial.entries.values import Written
    from tertial.guide import Guide, Species

_CHOOSE: Final = "write under code four letters that no bird of the guide uses"


def name_unlisted(guide: Guide) -> Iterator[Problem]:
    """A species whose name is on no list: a slip of the pen, or a bird of one's own."""
    for species in guide.species:
        if species.bird is not None:
            continue
        name = species.entry.name
        found = guide.names.find(name.value)
        if not found:
            # One parent of a hybrid would be near, and another bird.
            near = () if parents_of(name.value) else guide.names.near(name.value)
            scientific = species.entry.scientific
            if near and scientific and (birds := guide.names.find(scientific.value)):
                near = tuple(bird.english for bird in birds)
            message = (
                f"{name.value!r} is no name in the list of birds; an English, French or scientific name was expected"
            )
            mend = f"write {' or '.join(near)}" if near else "check the name; if it is right, nothing needs doing"
            if is_of_several(name.value):
                mend = "write the name of one species; birds that may be of several are counted in an outing"
            severity = Severity.WARNING if near or is_of_several(name.value) else Severity.REMARK
            yield Problem("name-unlisted", severity, species.entry.source, name.span, message, mend)
        elif len(found) > 1:
            message = f"{name.value!r} is the name of {' and of '.join(bird.english for bird in found)}"
            mend = f"write {found[0].english} or {found[1].english}"
            yield Problem("name-unlisted", Severity.WARNING, species.entry.source, name.span, message, mend)


def scientific_malformed(guide: Guide) -> Iterator[Problem]:
    """A scientific name that is not written as the zoological code asks."""
    for species, written in _scientific(guide):
        read = read_scientific(written.value)
        if isinstance(read, Fault):
            source = species.entry.source
            at = source.slice(written.span).find(read.word) if read.word else -1
            span = Span(written.span.start + at, written.span.start + at + len(read.word)) if at >= 0 else written.span
            message = f"{read.reason}; expected: {read.expected}"
            mend = (
                f"write {species.bird.scientific}"
                if species.bird
                else "write genus and species, as in Turdus migratorius"
            )
            yield Problem("scientific-malformed", Severity.WARNING, source, span, message, mend)


def scientific_differs(guide: Guide) -> Iterator[Problem]:
    """A scientific name that belongs to another bird than the English name."""
    for species, written in _scientific(guide):
        read = read_scientific(written.value)
        if isinstance(read, Fault) or species.bird is None or _same_epithet(guide, species, read.binomen):
            continue
        others = guide.names.find(read.binomen)
        whose = f"is {others[0].english}" if others else "is on no list"
        message = f"{written.value!r} {whose}; for {species.name} {species.bird.scientific!r} was expected"
        mend = f"write {species.bird.scientific}, or mend the English name"
        yield Problem("scientific-differs", Severity.WARNING, species.entry.source, written.span, message, mend)


def genus_differs(guide: Guide) -> Iterator[Problem]:
    """The right species under another genus: authorities differ, so this is only remarked."""
    for species, written in _scientific(guide):
        read = read_scientific(written.value)
        if isinstance(read, Fault) or species.bird is None or fold(read.binomen) == fold(species.bird.scientific):
            continue
        if _same_epithet(guide, species, read.binomen):
            message = f"the list of birds has this species as {species.bird.scientific!r}; authorities differ in genera"
            mend = "nothing needs doing; the account keeps the name as written"
            yield Problem("genus-differs", Severity.REMARK, species.entry.source, written.span, message, mend)


def code_malformed(guide: Guide) -> Iterator[Problem]:
    """A code that could not be one; another stands in for it."""
    for species in guide.species:
        code = species.entry.code
        if code is None or is_well_formed(code.value):
            continue
        message = (
            f"{code.value!r} is not an alpha code; two to four capitals were expected; "
            f"meanwhile {species.code!r} is in force"
        )
        is_free = is_well_formed(species.code) and not (
            _is_stand_in(guide, species) and _is_taken(guide, species, species.code)
        )
        mend = f"write {species.code}" if is_free else _CHOOSE
        yield Problem("code-malformed", Severity.WARNING, species.entry.source, code.span, message, mend)


def code_differs(guide: Guide) -> Iterator[Problem]:
    """A code that the list in force does not give to this bird."""
    for species in guide.species:
        code = species.entry.code
        if code is None or not is_well_formed(code.value) or species.bird is None:
            continue
        listed = species.bird.listed_code(guide.scheme)
        expected = listed or natural_code(species.name).code
        # Where another bird of the list owns what the rules give, the author has to choose: see code-clash.
        if code.value == expected or (not listed and _is_taken(guide, species, expected)):
            continue
        holder = guide.names.by_code(code.value, guide.scheme)
        whose = f", where {code.value!r} is {holder.english}" if holder else ""
        origin = f"the {guide.scheme} list has {expected!r}" if listed else f"the rules give {expected!r}"
        message = f"for {species.name} {origin}{whose}; {code.value!r} was found"
        mend = f"write {expected}, or leave the line out"
        yield Problem("code-differs", Severity.WARNING, species.entry.source, code.span, message, mend)


def _is_taken(guide: Guide, species: Species, code: str) -> bool:
    """Whether a code that the rules give is another bird's, so that one has to be chosen."""
    holders = (guide.names.by_code(code, guide.scheme), guide.by_code.get(code))
    return any(holder not in (None, species.bird, species) for holder in holders)


def _is_stand_in(guide: Guide, species: Species) -> bool:
    """Whether a code is neither chosen nor listed, but stands in for a malformed one: whose it is, is not asked yet."""
    code = species.entry.code
    if code is None or is_well_formed(code.value):
        return False
    return not (species.bird and species.bird.listed_code(guide.scheme))


def code_clash(guide: Guide) -> Iterator[Problem]:
    """A code made by the rules for a bird on neither list, when the list gives it to another."""
    for species in guide.species:
        if species.bird is not None and species.bird.listed_code(guide.scheme):
            continue
        holder = guide.names.by_code(species.code, guide.scheme)
        # A name that is most likely a slip gets its code when it is mended: see name-unlisted.
        is_settled = species.bird or not (guide.names.find(species.name) or guide.names.near(species.name))
        if holder is not None and holder != species.bird and is_settled and not _is_stand_in(guide, species):
            at = species.entry.code or species.entry.name
            message = f"the code {species.code!r} belongs to {holder.english} in the {guide.scheme} list"
            yield Problem("code-clash", Severity.WARNING, species.entry.source, at.span, message, _CHOOSE)


def same_species(guide: Guide) -> Iterator[Problem]:
    """Two accounts of one species."""
    groups: dict[object, list[Species]] = defaultdict(list)
    for species in guide.species:
        groups[species.bird or fold(species.name)].append(species)
    for twins in groups.values():
        yield from _twins("same-species", twins, lambda each: each.entry.name, "is described in another file too")


def same_code(guide: Guide) -> Iterator[Problem]:
    """Two accounts with one code, so that a link could not tell which is meant."""
    groups: dict[str, list[Species]] = defaultdict(list)
    for species in guide.species:
        groups[species.code].append(species)
    for code, sharers in groups.items():
        if not _are_several(sharers):
            continue
        twins = [each for each in sharers if not _is_stand_in(guide, each)]
        if _are_several(twins):
            yield from _twins(
                "same-code",
                twins,
                lambda each: each.entry.code or each.entry.name,
                f"has the code {code!r} of another",
                "has it",
                lambda one, other: (
                    _slip(guide, one, other) or _listed(guide, one, other) or "give one of them another code"
                ),
            )


def _are_several(species: list[Species]) -> bool:
    return len({each.bird or fold(each.name) for each in species}) > 1


def _listed(guide: Guide, *twins: Species) -> str:
    """Tell the repair where the list has other codes for one or both of two; '' where it has none."""
    listed = [(each.bird.listed_code(guide.scheme) if each.bird else "", each) for each in twins]
    named = [f"{code} for {each.name}" for code, each in listed if code not in ("", each.code)]
    return f"write {', and '.join(named)}" if named else ""


def _slip(guide: Guide, *twins: Species) -> str:
    """Tell the repair where the name of one of two is a slip of the pen for that of the other; '' where none is."""
    for one, other in permutations(twins):
        if one.bird is None and other.bird and fold(other.name) in map(fold, guide.names.near(one.name)):
            return f"write {other.name} for {one.name}, and join the two files; or give one of them another code"
    return ""


def _twins(
    word: str,
    twins: list[Species],
    where: object,
    what: str,
    does: str = "stands",
    mend_of: Callable[[Species, Species], str] = lambda *_: "join the two files, or mend the name",
) -> Iterator[Problem]:
    first, *others = sorted(twins, key=lambda each: each.path)
    for other in others:
        mend = mend_of(first, other)
        at, also_at = where(other), where(first)  # type: ignore[operator]
        also = Also(first.entry.source, also_at.span, f"{first.name} {does} here")
        yield Problem(word, Severity.ERROR, other.entry.source, at.span, f"{other.name!r} {what}", mend, (also,))


def _scientific(guide: Guide) -> Iterable[tuple[Species, Written[str]]]:
    return ((species, species.entry.scientific) for species in guide.species if species.entry.scientific)


def _same_epithet(guide: Guide, species: Species, binomen: str) -> bool:
    if species.bird is None:
        return False
    return fold(binomen) == fold(species.bird.scientific) or species.bird in guide.names.find_epithet(binomen)
