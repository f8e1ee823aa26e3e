"""Facts: small values, each made of one entry alone, that pages which show many entries are made of.

A fact is of plain values (texts, numbers, tuples), so that it can be kept from build to build: the page
of a thousand species then costs no reading of a thousand files. Pages ask for one as
``account.fact(recorded_parts)``. Every fact stands in ``FACTS``, because a build makes them all of an
entry that it reads, and holds them against those of the build before.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from tertial.account_values import measured, phrases, quantities
from tertial.guide import Flock, Outing, Place, Species, Unsolved
from tertial.names.fold import fold_all, latin
from tertial.pages.pictures import PlainPicture, picture_view, plain_picture
from tertial.scales import centimetres, grams
from tertial.text.prose import references

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from tertial.entries.values import Phrase
    from tertial.guide import Account
    from tertial.pages.pictures import PictureView
    from tertial.pages.site import Site
    from tertial.text.source import Span

    Fact: TypeAlias = Callable[[Any], Any]

_WORD: Final = re.compile("[a-z]{3,}")
_TARGET: Final = re.compile(r"\]\([^)]*\)|<[^>]*>|^\[[^\]]*\]:.*$", re.MULTILINE)
"""What of a text is no word of the author's: targets of links, addresses, definitions."""


def first_sketch(account: Account) -> PlainPicture | tuple[()]:
    """Give the first sketch, or nothing."""
    sketches = account.entry.sketches
    return plain_picture(sketches[0]) if sketches else ()


def sketch_view(site: Site, account: Account) -> PictureView | None:
    """Gather the first sketch of an account as pages show it; None if there is none to show."""
    sketch = account.fact(first_sketch)
    return picture_view(site, account, sketch) if sketch else None


def named_pictures(account: Account) -> tuple[tuple[str, str, bool], ...]:
    """Give every picture that the entry lists or shows in its text: see ``pictures_in``."""
    return tuple(named for named, _ in pictures_in(account))


def pictures_in(account: Account) -> Iterator[tuple[tuple[str, str, bool], Span]]:
    """Give every picture that the entry lists or shows in its text, and where it is named.

    A picture is its file as written, what is asked of developing, and whether it is taken as a photo.
    """
    entry = account.entry
    for picture in (*entry.sketches, *entry.photos):
        asked = picture.develop.value if picture.develop else ""
        yield (picture.file.value, asked, picture.is_photo), picture.file.span
    # Parsing is dear, and most texts show no picture.
    passage = account.passage
    if "![" in passage.words:
        for each in references(*passage, frozenset()):
            if each.kind == "image":
                yield (each.target, "", True), each.span


def recorded_parts(account: Account) -> tuple[str, ...]:
    """Give the parts that a species account says something of, each once."""
    if not isinstance(account, Species):
        return ()
    return tuple(dict.fromkeys(part for phrases in account.records.values() for part in phrases))


def compared(account: Account) -> tuple[tuple[Any, ...], tuple[Any, ...]]:
    """Give what a species is compared by: for each plumage its parts with their phrases, then for each its
    measures with their texts and the fields of ``Measured``."""
    if not isinstance(account, Species):
        return (), ()
    return (
        tuple(
            (plumage.text, tuple((part, text.value) for part, text in said.items()))
            for plumage, said in phrases(account).items()
        ),
        tuple(
            (
                plumage.text,
                tuple((word, each.text, *measured(word, each)) for word, each in found.items()),
            )
            for plumage, found in quantities(account).items()
        ),
    )


def remarks(account: Account) -> tuple[tuple[str, str], ...]:
    """Give each look-alike of a species with the remark on the difference, or ''."""
    if not isinstance(account, Species):
        return ()
    return tuple((each.code.value, each.remark.value if each.remark else "") for each in account.entry.similar)


def counted(account: Account) -> tuple[str, ...]:
    """Give the codes that an outing counted birds of, each once, of species or not: see ``pages.counts``."""
    if not isinstance(account, Outing):
        return ()
    codes = dict.fromkeys(count.counted.value.code for count in account.entry.counts if count.total)
    return tuple(code for code in codes if code)


def length(account: Account) -> tuple[int, str]:
    """Give how long an outing was, in minutes, and on the ground, as written; 0 and '' for what is not."""
    if not isinstance(account, Outing):
        return 0, ""
    entry = account.entry
    return entry.minutes.value if entry.minutes else 0, entry.distance.value.text if entry.distance else ""


def body_length(account: Account) -> tuple[str, float, float] | tuple[()]:
    """Give the length of a species as written with its limits in centimetres, or nothing."""
    size = account.entry.size if isinstance(account, Species) else None
    written = size.length.value if size and size.length else None
    limits = centimetres(written) if written else None
    return (written.text, *limits) if written and limits else ()


def sized(account: Account) -> tuple[str, float | None, float | None, str]:
    """Give how large a species is: in words, its mass in grams and length in centimetres, and a measure as written.

    Of a range it is the geometric mean, because sizes are told by how many times one is the other.
    """
    size = account.entry.size if isinstance(account, Species) else None
    if size is None:
        return "", None, None, ""
    mass, length = (each.value if each else None for each in (size.mass, size.length))
    text = next((each.text for each in (mass, length) if each), "")
    words = size.size_class.value if size.size_class else ""
    return words, _middle(grams(mass) if mass else None), _middle(centimetres(length) if length else None), text


def _middle(ends: tuple[float, float] | None) -> float | None:
    return (ends[0] * ends[1]) ** 0.5 if ends else None


def drawn(account: Account) -> tuple[Any, ...]:
    """Give all that plates take from a species with sketches: what each sketch shows, spots in it, and the measures."""
    sketches = account.entry.sketches if isinstance(account, Species) else ()
    if not isinstance(account, Species) or not sketches:
        return ()
    told = ((each.file, each.develop, each.shows, each.scale, each.head, *each.pointers) for each in sketches)
    return (
        tuple(tuple(repr(value.value) if value else "" for value in values) for values in told),
        tuple(
            (plumage.text, word, repr(each))
            for plumage, found in quantities(account).items()
            for word, each in found.items()
        ),
    )


def habitats(account: Account) -> tuple[str, ...]:
    """Give the habitats that an account names."""
    if isinstance(account, Species | Flock):
        return tuple(each.value for each in account.entry.where)
    return tuple(each.value for each in account.entry.habitat) if isinstance(account, Place) else ()


def worded(account: Account) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Give the words of the text of an account, and those of its phrases; of both what its page publishes.

    They are folded, each once, sorted. Words of fewer than three letters and figures are left out, so that
    no position can be among them.
    """
    return _words(_prose(account)), _words(_phrases(account))


def _words(texts: Iterable[str]) -> tuple[str, ...]:
    whole = "\n".join(texts)
    plain = latin((_TARGET.sub("]", whole) if "<" in whole or "]" in whole else whole).replace("'", ""))
    return tuple(sorted(set(fold_all(set(_WORD.findall(plain))))))


def _prose(account: Account) -> Iterator[str]:
    entry = account.entry
    yield account.passage.words
    for picture in (*entry.sketches, *entry.photos):
        yield picture.caption.value if picture.caption else ""
    if isinstance(account, Species):
        yield from (each.remark.value for each in account.entry.similar if each.remark)
        yield account.entry.how_common.value if account.entry.how_common else ""


def _phrases(account: Account) -> Iterator[str]:
    found: list[Phrase] = []
    if isinstance(account, Species):
        found += (phrase for block in account.entry.marks for phrase in block.phrases)
        found += account.entry.voice
    if isinstance(account, Flock | Unsolved):
        found += account.entry.marks
    behaviour = account.entry.behaviour if isinstance(account, Species | Flock) else None
    if behaviour:
        found += behaviour.notes
        yield from (way.value for way in behaviour.foraging)
    yield from (f"{phrase.part.value} {phrase.text.value}" for phrase in found)


def is_held_back(account: Account) -> bool:
    """Tell whether a place is held back: withheld, for a reason told no closer, or with no word on its position."""
    if not isinstance(account, Place):
        return False
    entry = account.entry
    if entry.shown_as is None:
        return entry.position is not None or entry.because is not None
    return entry.because is not None or entry.shown_as.value.degrees is None


FACTS: tuple[Fact, ...] = (
    first_sketch,
    named_pictures,
    recorded_parts,
    compared,
    remarks,
    counted,
    length,
    body_length,
    sized,
    drawn,
    habitats,
    worded,
    is_held_back,
)
"""Every fact."""

FACTS_OF_TEXT: tuple[Fact, ...] = (named_pictures, worded)
"""Those that ask for the text below the front matter; the others hold as long as the front matter does."""
