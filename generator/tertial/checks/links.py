"""What leads from one account to another: look-alikes, members, groups, and links in the text."""

from __future__ import annotations

import posixpath
from difflib import get_close_matches
from typing import TYPE_CHECKING
from urllib.parse import unquote

from tertial.entries.hybrid import parents_of
from tertial.entries.values import Written
from tertial.links import follow, parents
from tertial.marks.folding import slips
from tertial.text.problem import Also, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tertial.guide import Guide, Species
    from tertial.text.prose import Reference
    from tertial.text.source import SourceText


def similar_to_itself(guide: Guide) -> Iterator[Problem]:
    """A species that is given as its own look-alike."""
    for species in guide.species:
        for similar in species.entry.similar:
            if similar.code.value == species.code:
                message = f"{similar.code.value!r} is this species itself; the code of a look-alike was expected"
                mend = "write the code of the other bird, or take the line out"
                yield Problem(
                    "similar-to-itself",
                    Severity.WARNING,
                    species.entry.source,
                    similar.code.span,
                    message,
                    mend,
                )


def similar_one_sided(guide: Guide) -> Iterator[Problem]:
    """A look-alike whose own account does not name this bird."""
    for species in guide.species:
        for similar in species.entry.similar:
            other = guide.by_code.get(similar.code.value)
            if other is None or other.code == species.code:
                continue
            named = other.head.similar
            if species.code not in named and not any(_is_meant(guide, each, species) for each in named):
                also = Also(species.entry.source, similar.code.span, f"{species.name} names it here")
                message = f"{species.code!r} names {other.code!r} as similar, but {other.code!r} does not name it back"
                mend = f"add under similar: {species.code}: and the difference as seen from this bird"
                yield Problem(
                    "similar-one-sided",
                    Severity.WARNING,
                    other.entry.source,
                    other.entry.name.span,
                    message,
                    mend,
                    (also,),
                )


def _is_meant(guide: Guide, written: str, species: Species) -> bool:
    """Whether what stands in place of a code is meant for this bird: its name, its code in the list, or a slip."""
    if written in guide.by_code:
        return False
    birds = (guide.names.by_code(written, guide.scheme), *guide.names.find(written))
    return slips(written.upper(), species.code) == 1 or (species.bird is not None and species.bird in birds)


def unknown_code(guide: Guide) -> Iterator[Problem]:
    """A code that is neither in the guide nor in the list in force."""
    for source, code in _codes(guide):
        if code.value in guide.by_code or guide.names.by_code(code.value, guide.scheme):
            continue
        birds = guide.names.find(code.value)
        capital = code.value.upper()
        if capital in guide.by_code or guide.names.by_code(capital, guide.scheme):
            mend = f"write {capital}"
        elif bird := next((bird for bird in birds if bird.listed_code(guide.scheme)), None):
            mend = f"write {bird.listed_code(guide.scheme)} for {bird.listed_name(guide.scheme)}"
        elif near := _near_codes(guide, code.value):
            mend = f"write {' or '.join(near)}"
        else:
            mend = 'write the code that tertial code "NAME OF THE BIRD" gives'
        message = f"{code.value!r} is no code of this guide nor of the {guide.scheme} list"
        yield Problem("unknown-code", Severity.WARNING, source, code.span, message, mend)
    for source, hybrid in _hybrids(guide):
        for parent in parents(guide, hybrid.value):
            if not parent.is_known:
                message = f"{parent.text!r}, a parent of this hybrid, is no code nor name of a bird"
                near = _near_codes(guide, parent.text) or guide.names.near(parent.text)
                mend = f"write {' or '.join(near)}" if near else "write the codes or the names of both parents"
                yield Problem("unknown-code", Severity.WARNING, source, hybrid.span, message, mend)


def _near_codes(guide: Guide, code: str) -> tuple[str, ...]:
    """Give codes of accounts that are one slip of the pen away; of the whole list too many would be."""
    return tuple(known for known in sorted(guide.by_code) if slips(code.upper(), known) == 1)[:3]


def no_account(guide: Guide) -> Iterator[Problem]:
    """A look-alike, or a bird linked to, that has no account yet: people write in that order."""
    named = [
        (species.entry.source, similar.code.value, similar.code.span)
        for species in guide.species
        for similar in species.entry.similar
    ]
    named += [(source, each.target, each.span) for source, each in guide.references() if each.kind == "label"]
    # A bird whose account has another code than the list gives is told by code-differs.
    described = {species.bird for species in guide.species}
    for source, code, span in named:
        bird = guide.names.by_code(code, guide.scheme)
        if code not in guide.by_code and bird is not None and bird not in described:
            message = f"{bird.english} ({code}) is named here but has no account yet"
            mend = "write its account when there is something to say; links and comparison follow by themselves"
            yield Problem("no-account", Severity.GAP, source, span, message, mend)


def dead_link(guide: Guide) -> Iterator[Problem]:
    """A link of the author's text that leads nowhere."""
    for source, reference in guide.references():
        target = reference.target
        if reference.kind == "label" and not guide.names.by_code(target, guide.scheme):
            capital = target.upper()
            known = capital in guide.by_code or guide.names.by_code(capital, guide.scheme)
            message = f"no account has the code {target!r}, so {reference.text!r} is no link"
            mend = f"write [{capital}] in capitals" if known else "use the code of an account, or plain words"
            if near := () if known else _near_codes(guide, target):
                mend = f"write {' or '.join(f'[{code}]' for code in near)}"
        elif reference.kind == "scheme":
            message = f"links of the kind {target!r} are not followed; https: or mailto: was expected"
            mend = "link to a web address, or take the brackets out"
        elif reference.kind == "link" and follow(guide, source, reference.body, target) is None:
            expected, mend = _right_way(guide, source, reference)
            message = f"the link to {unquote(target)!r} leads nowhere; {expected} expected"
        else:
            continue
        yield Problem("dead-link", Severity.WARNING, source, reference.span, message, mend)


def settled_stranger(guide: Guide) -> Iterator[Problem]:
    """An unknown bird that could be, or proved to be, one that its own entry rules out."""
    for bird in guide.unsolved:
        entry = bird.entry
        ruled_out = {phrase.part.value: phrase.part.span for phrase in entry.ruled_out}
        told = "take it out of not:, and tell in the text what changed your mind"
        named = [(code, "this bird could be", "keep it under could be: or under not: alone") for code in entry.could_be]
        named += [(code, "this bird is settled as", told) for code in (entry.settled,) if code]
        for code, what, mend in named:
            if code.value in ruled_out:
                also = Also(entry.source, ruled_out[code.value], "ruled out here")
                message = f"{what} {code.value}, which the same entry rules out"
                yield Problem("settled-stranger", Severity.WARNING, entry.source, code.span, message, mend, (also,))


def _right_way(guide: Guide, source: SourceText, reference: Reference) -> tuple[str, str]:
    """Tell what a link that leads nowhere should have been, and how to write it."""
    name, sign, _ = reference.target.partition("#")
    if sign and (not name or follow(guide, source, reference.body, name)):
        mend = "write the words of a heading with hyphens between them, as in #at-the-feeder"
        return "the words of a heading after # were", mend
    files = {posixpath.basename(path): path for path in guide.by_path}
    near = get_close_matches(posixpath.basename(unquote(name)), files, n=1, cutoff=0.8)
    if near:
        way = posixpath.relpath(files[near[0]], posixpath.dirname(source.path))
        mend = f"write {way}, or [words][CODE]"
    else:
        mend = "write the path of the entry's file from this file's folder, or [words][CODE]"
    return "an entry's file, a code or a web address was", mend


def _candidates(guide: Guide) -> Iterator[tuple[SourceText, Written[str]]]:
    """Give what unsolved birds could be, are not, or proved to be."""
    for bird in guide.unsolved:
        yield from ((bird.entry.source, code) for code in bird.entry.could_be)
        yield from ((bird.entry.source, phrase.part) for phrase in bird.entry.ruled_out)
        if bird.entry.settled:
            yield bird.entry.source, bird.entry.settled


def _hybrids(guide: Guide) -> Iterator[tuple[SourceText, Written[str]]]:
    for outing in guide.outings:
        for count in outing.entry.counts:
            if count.counted.value.parents:
                yield outing.entry.source, Written(count.counted.value.text, count.counted.span)
    yield from ((source, code) for source, code in _candidates(guide) if parents_of(code.value))


def _codes(guide: Guide) -> Iterator[tuple[SourceText, Written[str]]]:
    for species in guide.species:
        yield from ((species.entry.source, similar.code) for similar in species.entry.similar)
    for flock in guide.flocks:
        yield from ((flock.entry.source, code) for code in flock.entry.members)
        if flock.entry.leader:
            yield flock.entry.source, flock.entry.leader
    for outing in guide.outings:
        source = outing.entry.source
        for count in outing.entry.counts:
            span = count.counted.span
            yield from ((source, Written(code, span)) for code in count.counted.value.codes)
        for seen in outing.entry.flocks:
            yield from ((source, member.code) for member in seen.members)
            yield from ((source, code) for code in seen.scan)
    yield from ((source, code) for source, code in _candidates(guide) if not parents_of(code.value))
    if not guide.judges_settings:
        return
    settings = guide.settings
    yield from ((settings.source, code) for code in settings.yardsticks)
    for _, codes in settings.groups:
        yield from ((settings.source, code) for code in codes)
