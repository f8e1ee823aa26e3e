"""A new entry: a skeleton filled with what the lists know, written where its like are kept.

The skeletons are files of the folder ``skeletons``, one a kind. Blocks of phrases in them are empty
literals, and a hint stands on the line that opens one: a comment inside would be text, and one
between two lines that are filled in would end the block. No file is ever written over.
"""

from __future__ import annotations

import re
from importlib.resources import files
from itertools import chain
from pathlib import Path, PurePosixPath
from string import Template, ascii_uppercase
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.entries.convert import to_date
from tertial.entries.counting import is_of_several
from tertial.entries.values import Fault
from tertial.guide import Flock, Outing, Place, Species, Unsolved
from tertial.loading import ENTRIES_FOLDER, load_guide
from tertial.marks.families import habit_of
from tertial.marks.size import ladder
from tertial.names.alpha import natural_code
from tertial.names.birds import SCHEMES
from tertial.names.fold import fold
from tertial.schema import ENTRY_SCHEMA, modeline, refresh_schemas
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Iterator, Mapping

    from tertial.guide import Account, Guide
    from tertial.names.birds import Bird

# Texts that YAML reads back as they are, without quotes. Words that YAML takes for something else are none.
_PLAIN: Final = re.compile(r"[^\W\d_](?:[\w ,.()'’/-]*[\w.)])?")
_MOST_NAMES: Final = 8
"""How many names are offered for a word of names."""
_NO_TEXT: Final = frozenset({"null", "true", "false", "yes", "no", "on", "off", "y", "n"})


class Refused(NamedTuple):
    """Why no entry was written."""

    reason: str
    """What stands in the way."""

    mend: str
    """What to do instead, in one line."""


class _Filling(NamedTuple):
    """What goes into a skeleton."""

    stem: str
    """File name of the entry, without ending."""

    slots: Mapping[str, str]
    """Text by the name of the slot."""

    may_repeat: bool = False
    """Whether there may be several of the same name; the later ones get a number."""


def write_entry(folder: Path, kind: str, name: str, today: dt.date) -> Path | Refused:
    """Write a new entry.

    :param folder: the guide's folder.
    :param kind: one of ``entries.load.KINDS``.
    :param name: what it is about; of an outing the day, or '' for today.
    :param today: the day to be written into it.
    :returns: the file written, or why there is none. ``OSError`` is raised as it comes.
    """
    name = " ".join(name.split())
    if not name.isprintable():
        return Refused(f"{name!r} holds a character that cannot be printed", "write the name in plain letters")
    guide = load_guide(folder)
    filling = _FILLINGS[kind](guide, name, today)
    if isinstance(filling, Refused):
        return filling
    path = _path(guide, kind, filling)
    if path.exists():
        there = path.relative_to(folder).as_posix()
        return Refused(f"{there} is already there", f"write on in {there}, or choose another name")
    refresh_schemas(folder)
    slots = {**filling.slots, "today": today.isoformat(), "modeline": ""}
    if (folder / ENTRY_SCHEMA).is_file():
        up = len(path.parent.relative_to(folder).parts)
        slots["modeline"] = modeline(PurePosixPath(*[".."] * up, ENTRY_SCHEMA))
    text = Template((files("tertial") / "skeletons" / f"{kind}.md").read_text(encoding="utf-8")).substitute(slots)
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("x", encoding="utf-8", newline="\n") as file:
        file.write(text)
    return path


def _species(guide: Guide, name: str, today: dt.date) -> _Filling | Refused:
    birds = guide.names.find(name)
    listed = guide.names.by_code(name.upper(), guide.scheme)
    if len(birds) > 1 and listed in birds:
        birds = (listed,)
    if not birds:
        near = guide.names.near(name)
        mend = (
            f"the list has {', '.join(near)}" if near else "write its English, French or scientific name, or its code"
        )
        if is_of_several(name):
            mend = f'count it in an outing, or keep the bird with tertial entry --unknown "{name}"'
        return Refused(f"{name!r} is no name in the list of birds", mend)
    if len(birds) > 1:
        reason = f"{name!r} is the name of {' and of '.join(bird.english for bird in birds)}"
        return Refused(reason, f"write {' or '.join(bird.scientific for bird in birds)}")
    bird = birds[0]
    if others := _named_so(guide, bird, name):
        reason = f"{name!r} is the code of {bird.english}, and a word of other names"
        return Refused(reason, f"write {name.upper()} for {bird.english}, or a whole name: {', '.join(others)}")
    spelling = _spelling(guide, bird)
    code = bird.listed_code(guide.scheme) or _free_code(guide, spelling)
    for species in guide.species:
        if species.bird == bird or species.code == code or fold(species.name) == fold(spelling):
            return _has_account(species, f"{spelling} ({code})")
    habit = habit_of(bird.scientific.partition(" ")[0], bird.family, bird.order)
    marks = (f"  {plumage}: |  # {', '.join(habit.parts_of(plumage))}\n" for plumage in habit.plumages)
    rungs = ladder(each.value for each in guide.settings.yardsticks)
    slots = {
        "name": _scalar(spelling),
        "scientific": f"scientific: {bird.scientific}\n" if bird.is_species else "",
        "code": _scalar(code),
        "yardstick": rungs[0].word,
        "yardsticks": ", ".join(rung.word for rung in rungs[1:]),
        "marks": "".join(marks),
        "sounds": ", ".join(habit.heard or ("call",)),
    }
    return _Filling(slug_of(spelling), slots)


def _named_so(guide: Guide, bird: Bird, name: str) -> tuple[str, ...]:
    """Give the names that hold a word which, written small, is also the code of a bird: a riddle, unlike capitals."""
    own = (bird.english, bird.name_bbl, bird.name_ibp, bird.french, bird.scientific)
    if name.isupper() or " " in name or fold(name) in map(fold, own):
        return ()
    return tuple(
        each for each in guide.names.near(name, _MOST_NAMES) if fold(name) in map(fold, re.split(r"[ -]", each))
    )


def _flock(guide: Guide, name: str, today: dt.date) -> _Filling | Refused:
    return _named(guide.flocks, name) or _Filling(slug_of(name), {"name": _scalar(name)})


def _outing(guide: Guide, name: str, today: dt.date) -> _Filling | Refused:
    day = to_date(name) if name else today
    if isinstance(day, Fault):
        return Refused(day.reason, day.mend)
    slots = {"name": day.isoformat(), "places": _places(guide)}
    return _Filling(day.isoformat(), slots, may_repeat=True)


def _place(guide: Guide, name: str, today: dt.date) -> _Filling | Refused:
    slug = slug_of(name)
    twin = next((place for place in guide.places if place.slug == slug), None)
    if twin is not None:
        return _has_account(twin, f"the id {slug}")
    return _named(guide.places, name) or _Filling(slug, {"name": _scalar(name), "id": slug})


def _unknown(guide: Guide, name: str, today: dt.date) -> _Filling | Refused:
    slots = {"name": _scalar(name), "places": _places(guide)}
    return _named(guide.unsolved, name) or _Filling(slug_of(name), slots)


_FILLINGS: Final[dict[str, Callable[[Guide, str, dt.date], _Filling | Refused]]] = {
    "species": _species,
    "flock": _flock,
    "outing": _outing,
    "place": _place,
    "unknown": _unknown,
}
_HOMES: Final[dict[str, tuple[type[Account], str]]] = {
    "species": (Species, "species"),
    "flock": (Flock, "flocks"),
    "outing": (Outing, "outings"),
    "place": (Place, "places"),
    "unknown": (Unsolved, "unknown"),
}
"""Where a kind is kept when the guide does not yet show another habit."""


def _path(guide: Guide, kind: str, filling: _Filling) -> Path:
    """Choose the file: in the one folder where all others of the kind lie, else in the usual one.

    Where a number is given, none is taken by which the page of another is called: it would lose its address to
    the file that bears it.
    """
    type_, usual = _HOMES[kind]
    others = [each for each in guide.accounts() if isinstance(each, type_)]
    folders = {PurePosixPath(each.path).parent for each in others}
    home = folders.pop() if len(folders) == 1 else PurePosixPath(ENTRIES_FOLDER, usual)
    addresses = {each.slug for each in others}
    path = guide.folder / home / f"{filling.stem}.md"
    number = 1
    while filling.may_repeat and (path.exists() or path.stem in addresses):
        number += 1
        path = path.with_name(f"{filling.stem}-{number}.md")
    return path


def _named(accounts: tuple[Flock | Place | Unsolved, ...], name: str) -> Refused | None:
    twin = next((each for each in accounts if fold(each.entry.name.value) == fold(name)), None)
    return _has_account(twin, repr(name)) if twin is not None else None


def _has_account(account: Account, what: str) -> Refused:
    path = account.entry.source.path
    return Refused(f"{what} already has an entry, in {path}", f"write on in {path}")


def _spelling(guide: Guide, bird: Bird) -> str:
    """Give the name by the list in force; where that is another bird's too, one that is not."""
    spellings = (bird.listed_name(guide.scheme), bird.english, *map(bird.listed_name, SCHEMES), bird.scientific)
    return next((each for each in spellings if each and guide.names.find(each) == (bird,)), bird.english)


def _free_code(guide: Guide, name: str) -> str:
    """Give a bird outside the list the code of the rules, or one near it where that is another's.

    Only the last letter changes, to a later one of the name if it can be: common practice, no source.
    """
    natural = natural_code(name).code
    letters = dict.fromkeys(
        chain((each for each in reversed(name.upper()) if each in ascii_uppercase), ascii_uppercase)
    )
    return next((code for code in _candidates(natural, letters) if _is_free(guide, code)), natural)


def _candidates(natural: str, letters: Mapping[str, None]) -> Iterator[str]:
    yield natural
    yield from (natural[:3] + letter for letter in letters)


def _is_free(guide: Guide, code: str) -> bool:
    return code not in guide.codes and guide.names.by_code(code, guide.scheme) is None


def _places(guide: Guide) -> str:
    return ", ".join(place.slug for place in guide.places) or "upper-weir"


def _scalar(text: str) -> str:
    """Write a text so that YAML reads it back, in quotes only where it has to be."""
    if _PLAIN.fullmatch(text) and text.casefold() not in _NO_TEXT:
        return text
    return "'" + text.replace("'", "''") + "'"
