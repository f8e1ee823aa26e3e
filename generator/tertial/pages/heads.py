"""Heads of look-alikes at one length, and the outlines of two over each other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.folding import fold
from tertial.marks.plumages import ALL
from tertial.pages.naming import named, plumage_as_written
from tertial.pages.pictures import FOLDER, fine_address
from tertial.pages.site import Link, Site, account_path, said
from tertial.sketches.heads import Head, bill_share, lay_heads, overlay
from tertial.sketches.tracing import kept_outline

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tertial.entries.pictures import Picture
    from tertial.guide import Species
    from tertial.sketches.heads import HeadStrip, Overlay, PlacedHead
    from tertial.sketches.sizes import PublishedPicture
    from tertial.wording import Wording

    Point = tuple[float, float]
    Edges = tuple[float, float, float, float]
    Shown = tuple[Species, Picture, PublishedPicture]

_TIP: Final = "billtip"
_BILL: Final = frozenset({_TIP, "bill", "tipofbill"})
_BASE: Final = frozenset({"billbase", "baseofbill", "gape"})
_EYE: Final = frozenset({"eye", "iris", "orbitalring", "eyering"})
"""Spots by which heads are set beside each other, as folded."""


class HeadView(NamedTuple):
    """A head in the strip."""

    picture: str
    """Address of a size of its sketch that has a pixel for each of a wide screen: a head is enlarged, and finer sizes
    come to half a megabyte."""

    width: int
    """Width of the published picture in pixels."""

    height: int
    placed: PlacedHead
    code: Link
    name: str
    shows: str
    """The plumage, or ''."""


class HeadsView(NamedTuple):
    """Heads at one length."""

    strip: HeadStrip
    heads: tuple[HeadView, ...]
    notes: tuple[str, ...]
    """How they were brought to one length, and what the bills measure by it."""

    words: str
    """The same as the strip, in words."""

    overlay: Overlay | None
    """Both outlines; None where one could not be traced."""

    lines: tuple[str, str] | None
    """Whose the lines are, the drawn out one first."""


def heads_of(site: Site, shown: Sequence[Shown], *, overlaid: bool = True) -> HeadsView | None:
    """Bring heads to one length; None where there are not two sketches with a head.

    :param overlaid: the first two are also laid over each other.
    """
    boxed = [(each, box) for each in shown if (box := _box(each)) is not None]
    if len({species.code for (species, _, _), _ in boxed}) < 2:
        return None
    heads = [_head(site, each, box) for each, box in boxed]
    # One bird that hides its bill must not keep the bills of all others from being compared.
    told = [at for at, head in enumerate(heads) if head.base is not None]
    left_out: dict[str, None] = {}
    if len({boxed[at][0][0].code for at in told}) > 1:
        left_out = dict.fromkeys(boxed[at][0][0].code for at in range(len(heads)) if at not in told)
        boxed, heads = [boxed[at] for at in told], [heads[at] for at in told]
    strip = lay_heads(heads)
    views = tuple(
        HeadView(
            fine_address(published, published.largest.width * placed.width / placed.window[2]),
            published.largest.width,
            published.largest.height,
            placed,
            Link(species.code, account_path(species)),
            named(site, species),
            _shows(site, picture),
        )
        for ((species, picture, published), _), placed in zip(boxed, strip.heads, strict=True)
    )
    over = overlay(heads[0], heads[1]) if overlaid else None
    lines = (_who(views[0]), _who(views[1])) if over else None
    names = f"{site.say(';')} ".join(
        dict.fromkeys(f"{view.name}{f', {view.shows}' if view.shows else ''}" for view in views)
    )
    notes = tuple(_notes(site.wording, strip, views, heads, tuple(left_out)))
    return HeadsView(strip, views, notes, site.say("Heads at one length: %(birds)s.", birds=names), over, lines)


def _who(view: HeadView) -> str:
    return f"{view.code.text} {view.shows}".strip()


def _notes(
    wording: Wording, strip: HeadStrip, views: Sequence[HeadView], heads: Sequence[Head], left_out: Sequence[str]
) -> Iterator[str]:
    if not strip.from_bill_base:
        yield wording.say(
            "Head and bill together are brought to one length, because the base of the bill is not known of each."
        )
        return
    yield wording.say("From the base of the bill to the back of the head, all are of one length.")
    shares: dict[str, float] = {}
    for view, head in zip(views, heads, strict=True):
        share = bill_share(head)
        if share is not None:
            shares.setdefault(view.code.text, share)
    if shares:
        told = ", ".join(f"{code} {wording.numbers(f'{share:.1f}')}" for code, share in shares.items())
        yield wording.say("The bill as drawn, in lengths of the head: %(lengths)s.", lengths=told)
    if left_out:
        yield wording.say(
            "Left out, because the base of the bill cannot be told from the sketch: %(birds)s.",
            birds=", ".join(left_out),
        )


def _shows(site: Site, picture: Picture) -> str:
    shows = said(picture.shows)
    return "" if shows == ALL.text else plumage_as_written(site, shows)


def _box(shown: Shown) -> Edges | None:
    """Give the box of the head in pixels of the published picture; None without one, or with one of no area."""
    _, picture, published = shown
    if picture.head is None:
        return None
    corner, opposite = picture.head.value.corner, picture.head.value.opposite
    first = published.spot(float(corner.x), float(corner.y), percent=corner.percent)
    second = published.spot(float(opposite.x), float(opposite.y), percent=opposite.percent)
    left, right = sorted((first[0], second[0]))
    upper, lower = sorted((first[1], second[1]))
    left, upper = max(0.0, left), max(0.0, upper)
    right, lower = min(float(published.largest.width), right), min(float(published.largest.height), lower)
    return (left, upper, right, lower) if right - left >= 1 and lower - upper >= 1 else None


def _head(site: Site, shown: Shown, box: Edges) -> Head:
    species, picture, published = shown
    spots = dict(reversed([*_spots(picture, published)]))
    tip = next((spots[name] for name in spots if name == _TIP), None) or _first(spots, _BILL)
    faces_left = tip is None or tip[0] <= (box[0] + box[2]) / 2
    file = site.file(f"{FOLDER}/{published.largest.name}")
    traced = kept_outline(file, box, faces_left=faces_left) if file else None
    shows = _shows(site, picture)
    return Head(
        (float(published.largest.width), float(published.largest.height)),
        box,
        faces_left,
        _first(spots, _BASE) or (traced.base if traced else None),
        _first(spots, _EYE),
        traced.line if traced else (),
        (species.code, *([shows] if shows else [])),
    )


def _spots(picture: Picture, published: PublishedPicture) -> Iterator[tuple[str, Point]]:
    """Give every named spot of a picture, those of its scale first."""
    named = [(each.value.name, each.value.spot) for each in picture.pointers]
    if picture.scale:
        scale = picture.scale.value
        named = [(scale.start_name, scale.start), (scale.end_name, scale.end), *named]
    for name, spot in named:
        yield fold(name), published.spot(float(spot.x), float(spot.y), percent=spot.percent)


def _first(spots: dict[str, Point], names: frozenset[str]) -> Point | None:
    return next((spot for name, spot in spots.items() if name in names), None)
