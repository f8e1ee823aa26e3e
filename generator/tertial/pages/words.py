"""The page of words: every word of a mark that is understood, with what is taken for the same."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from tertial.marks.lexicon import Kind
from tertial.marks.meaning import facet_named
from tertial.marks.statements import ABSENT, PRESENT, Aspect
from tertial.pages.site import WORDS, Page, Site
from tertial.text.slugs import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tertial.marks.lexicon import Term
    from tertial.marks.words import Words

PLAIN: Final = "plain statement"
"""Under this word the table of weights has what no word of constancy stands beside."""

_PRESENCE: Final = {Kind.PRESENCE: PRESENT, Kind.ABSENCE: ABSENT}


class TermView(NamedTuple):
    """One term."""

    word: str
    """Its preferred word."""

    id: str
    """Its id on the page."""

    hex: str
    """Of a colour, its sRGB reference as ``#rrggbb``; else ''."""

    other_words: tuple[str, ...]
    """Other wordings of it, the author's own among them."""

    near: tuple[str, ...]
    """Terms that are taken for the same."""


class FacetView(NamedTuple):
    """Terms that are about one thing, so that they exclude each other."""

    name: str
    """What they are about."""

    is_scale: bool
    """They stand on a scale, in the order given."""

    terms: tuple[TermView, ...]
    """The terms, on a scale from its low end."""


class AspectView(NamedTuple):
    """One respect."""

    name: str
    id: str
    facets: tuple[FacetView, ...]


class WordsView(NamedTuple):
    """All words."""

    aspects: tuple[AspectView, ...]
    """The respects, in the order of rows."""

    constancy: tuple[tuple[str, bool, str, tuple[str, ...]], ...]
    """Words of constancy, whether they are told in the language of the page, with their weights and other wordings, the
    most constant first."""


def words_page(site: Site) -> Page:
    """Give the page of words."""
    description = site.say(
        "Every word of a mark that is understood, what is taken for the same, and how much often is."
    )
    return Page(WORDS, "words.html", site.say("Words for marks"), description, partial(_view, site))


def _view(site: Site) -> WordsView:
    words = site.guide.words
    others = _other_words(words)
    aspects = []
    for aspect in Aspect:
        facets = tuple(_presence(site, others)) if aspect is Aspect.PRESENCE else tuple(_facets(site, aspect, others))
        aspects.append(AspectView(site.say(aspect), f"words-{slug_of(aspect)}", facets))
    return WordsView(tuple(aspects), constancy(site, others))


def constancy(
    site: Site, others: Mapping[tuple[str, str], tuple[str, ...]] | None = None
) -> tuple[tuple[str, bool, str, tuple[str, ...]], ...]:
    """Give the words of constancy, each with whether it is told in the language of the page, with its weight and its
    other wordings; the plain statement among them, which is no word."""
    words = site.guide.words
    known = _other_words(words) if others is None else others
    ranked = sorted(words.lists.weights.items(), key=lambda pair: -pair[1])
    return tuple(
        (
            site.say("plain statement") if word == PLAIN else word,
            word == PLAIN,
            site.wording.numbers(f"{weight:g}"),
            known.get(("", word), ()),
        )
        for word, weight in ranked
    )


def _other_words(words: Words) -> dict[tuple[str, str], tuple[str, ...]]:
    """Give the wordings of each term by aspect and preferred word; words of constancy have no aspect."""
    found: dict[tuple[str, str], dict[str, None]] = {}
    for wording, sense in (*words.lists.wordings, *words.own):
        if sense.aspect or sense.kind is Kind.CONSTANCY:
            found.setdefault((sense.aspect or "", sense.word), {})[wording] = None
        elif sense.kind in _PRESENCE:
            found.setdefault((Aspect.PRESENCE, _PRESENCE[sense.kind]), {})[wording] = None
    return {key: tuple(wording for wording in each if wording != key[1]) for key, each in found.items()}


def _presence(site: Site, others: Mapping[tuple[str, str], tuple[str, ...]]) -> Iterator[FacetView]:
    terms = [(word, others.get((Aspect.PRESENCE, word), ())) for word in (PRESENT, ABSENT)]
    yield FacetView(
        site.say("presence"),
        False,
        tuple(TermView(word, f"word-presence-{word}", "", said, ()) for word, said in terms),
    )


def _facets(site: Site, aspect: Aspect, others: Mapping[tuple[str, str], tuple[str, ...]]) -> Iterator[FacetView]:
    words = site.guide.words
    facets: dict[str, dict[str, Term]] = {}
    for (of, word), term in words.lists.terms.items():
        if of is aspect:
            facets.setdefault(term.facet, {})[word] = term
    for name, terms in facets.items():
        rungs = {word: term.rung for word, term in terms.items() if term.rung is not None}
        ordered = sorted(terms, key=lambda word: (word not in rungs, rungs.get(word, 0)))
        # Lengths against a part are worded in a hundred ways each, which nobody would read.
        is_worded = not name.startswith("against ")
        yield FacetView(
            facet_named(site.wording, name),
            len(rungs) > 1,
            tuple(
                TermView(
                    word,
                    f"word-{slug_of(aspect)}-{slug_of(word)}",
                    terms[word].hex,
                    others.get((aspect, word), ()) if is_worded else (),
                    tuple(other for other, term in terms.items() if other != word and term.near & terms[word].near),
                )
                for word in ordered
            ),
        )
