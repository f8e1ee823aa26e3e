"""Several birds at once: how alike they are, and a key to their plumages."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from tertial.marks.key import Item, Key, Question, Record, make_key
from tertial.marks.likeness import Likeness, Mark, Profile, likeness
from tertial.marks.plumages import ALL, union_plumages
from tertial.marks.separation import separate
from tertial.side_by_side import described

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from tertial.guide import Guide, Species
    from tertial.marks.describe import Described
    from tertial.marks.plumages import Plumage
    from tertial.marks.statements import Key as Respect
    from tertial.marks.statements import Statement

    State = Mapping[Respect, Statement]
    GroupKey = Key[str, State]


def plumages_of(*birds: Species) -> tuple[Plumage, ...]:
    """Give the plumages in which birds are described, in display order; ``all`` where the grown ones have none."""
    written: set[Plumage] = set()
    for each in birds:
        written.update(each.records)
    found = union_plumages(written, ())
    grown = any(plumage == ALL or plumage.age == "adult" for plumage in found)
    return found if grown else (ALL, *found)


def profile(bird: Described) -> Profile:
    """Give a described plumage in the form that likeness compares."""
    statements = {Mark(part, key): told.statement for part, keys in bird.told.items() for key, told in keys.items()}
    means = {word: measured.centre for word, (measured, _) in bird.measures.items()}
    return Profile(statements, {word: mean for word, mean in means.items() if mean})


def _profile(guide: Guide, species: Species, plumage: Plumage) -> Profile:
    return species.sheet.once(f"profile as {plumage.text}", lambda: profile(described(guide, species, plumage)))


def likenesses(guide: Guide, members: Iterable[Species]) -> Mapping[tuple[str, str], tuple[Likeness, Plumage]]:
    """Give for each two birds, by code, how alike they are in the plumage in which they are most alike.

    A likeness that rests on too few marks for a rank gives way to one that does not.
    """
    found: dict[tuple[str, str], tuple[Likeness, Plumage]] = {}
    for first, second in combinations(tuple(members), 2):
        plumages = _of_both(first, second)
        each = [
            (
                likeness(_profile(guide, first, plumage), _profile(guide, second, plumage), guide.words.agreement),
                plumage,
            )
            for plumage in plumages
        ]
        found[first.code, second.code] = max(
            each, key=lambda pair: (pair[0].ranked, pair[0].value or 0.0, [-place for place in pair[1].order])
        )
    return found


def _of_both(first: Species, second: Species) -> tuple[Plumage, ...]:
    """Give the plumages that both have; failing that, the grown ones of either."""
    common = set(plumages_of(first)) & set(plumages_of(second))
    either = plumages_of(first, second)
    grown = {plumage for plumage in either if plumage == ALL or plumage.age == "adult"}
    return tuple(plumage for plumage in either if plumage in (common or grown))


def _label(species: Species, plumage: Plumage) -> str:
    return species.name if plumage == ALL else f"{species.name}, {plumage.text}"


def key_to(guide: Guide, members: Iterable[Species], label: Callable[[Species, Plumage], str] = _label) -> GroupKey:
    """Make the key to every plumage of some birds.

    A couplet asks for a part in all respects at once: its leads show whole phrases, and whoever reads them
    holds the bird against all that they say.

    :param label: names a bird in a plumage.
    """
    items: list[Item[str, State]] = []
    for species in members:
        for plumage in plumages_of(species):
            name = f"{species.code} {plumage.order} {plumage.text}"
            items.append(Item(name, label(species, plumage), _records(described(guide, species, plumage))))
    parts = {part for item in items for part in item.records}
    ordered = sorted(parts, key=lambda part: (*_evidence(guide, part), part))
    questions = [Question(part, *_view(guide, part)) for part in ordered]

    def decides(_: str, first: State, second: State) -> bool:
        # Plumages take most over from one another, and a bird is not told from itself.
        shared = (key for key in first if key in second) if first is not second else ()
        return any(separate(first[key], second[key], guide.words).verdict.settles for key in shared)

    return make_key(items, questions, decides)


def _records(bird: Described) -> Mapping[str, Record[State]]:
    """Give what is written of each part closest to the plumage; a part that was looked at in vain has no record.

    What the plumage takes over beside it is left out: a lead has to show all that it rests on, and the words
    of two plumages in one line would read as two birds.
    """
    closest = {part: said[0][0] for part, said in bird.said.items()}
    return {
        part: Record(reading.text, {each.key: each for each in reading.statements})
        for part, reading in closest.items()
        if reading.statements
    }


def _evidence(guide: Guide, word: str) -> tuple[int, int]:
    part = guide.parts.find(word)
    return part.evidence_order if part else (99, 0)


def _view(guide: Guide, word: str) -> tuple[str, int]:
    part = guide.parts.find(word)
    return (part.view.word, part.view.order) if part else ("", 99)
