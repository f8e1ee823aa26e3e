"""What ``guide.yaml`` says about the guide as a whole."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from tertial.entries import shared
from tertial.entries.fields import LIST, SCALAR, TEXT, Field, Form, Reading, converted, one_of, read_fields, text
from tertial.entries.pictures import DEVELOP
from tertial.entries.values import Fault, Written
from tertial.text.nodes import Listing, Mapping, Pair, Scalar
from tertial.text.source import SourceText, Span
from tertial.text.yamlread import read_front

if TYPE_CHECKING:
    from tertial.text.problem import Problem

CODE_LISTS = ("IBP", "BBL")
"""The published lists of alpha codes that a guide may follow."""

# Of the host letters of any script, digits, points and hyphens: what else looks like one may be no address at all.
_ADDRESS = re.compile(r"https?://[\w.-]+(:\d+)?(/[^\s?#]*)?")


class Settings(NamedTuple):
    """The guide as a whole."""

    source: SourceText
    """The file ``guide.yaml``; empty when there is none."""

    title: Written[str] | None = None
    """Title on every page."""

    author: Written[str] | None = None
    """Who keeps the guide."""

    region: Written[str] | None = None
    """Where its birds are met."""

    language: Written[str] | None = None
    """Language of the guide, as BCP 47 writes it."""

    written_in: Written[str] | None = None
    """Language of the entries, where it is another than that of the guide."""

    codes: Written[str] | None = None
    """The list that codes come from; IBP when not given."""

    units: Written[str] | None = None
    """``metric`` or ``both``: inches, feet, ounces and pounds as well; without it, what was written."""

    base_address: Written[str] | None = None
    """Address of the published guide, ending in a slash."""

    licence: Written[str] | None = None
    """Licence of text and pictures."""

    develop: Written[str] | None = None
    """How sketches are developed that say nothing of it: one of ``pictures.DEVELOP``."""

    yardsticks: tuple[Written[str], ...] = ()
    """Codes of the birds that others are measured by."""

    groups: tuple[tuple[Written[str], tuple[Written[str], ...]], ...] = ()
    """Look-alikes to be compared together: a name and its codes."""

    words: tuple[tuple[Written[str], tuple[tuple[Written[str], Written[str]], ...]], ...] = ()
    """The author's own words by kind: each beside the known word it stands for."""

    @property
    def code_list(self) -> str:
        """The code list in force."""
        return self.codes.value if self.codes else CODE_LISTS[0]

    def own_words(self, kind: str) -> dict[str, str]:
        """The author's words of one kind, own word to known word."""
        return {own.value: known.value for name, pairs in self.words if name.value == kind for own, known in pairs}


def _address(value: str) -> str | Fault:
    if _ADDRESS.fullmatch(value):
        return value if value.endswith("/") else value + "/"
    reason = f"{value!r} cannot be the address of a guide; https://, a host and a path were expected"
    whole = f"https://{value}"
    mend = f"write {whole}" if _ADDRESS.fullmatch(whole) else "write it as in https://example.org/millrace/"
    return Fault("not-an-address", reason, mend)


def _language(value: str) -> str | Fault:
    if re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", value):
        return value
    reason = f"{value!r} is not a language tag; one such as en or fr was expected"
    return Fault("not-a-choice", reason, "write the tag of BCP 47, for instance en")


def _groups(reading: Reading, pair: Pair) -> object:
    if not isinstance(pair.value, Mapping):
        reading.wrong_shape(pair.value, "group names with codes", "write a name, then its codes: [DOWO, HAWO]")
        return None
    return tuple((Written(g.key.text, g.key.span), shared.codes(reading, g) or ()) for g in pair.value.pairs)


def _words(reading: Reading, pair: Pair) -> object:
    if not isinstance(pair.value, Mapping):
        reading.wrong_shape(pair.value, "kinds of words", "write colour:, then biscuit: buff below it")
        return None
    found = []
    for kind in pair.value.pairs:
        if not isinstance(kind.value, Mapping):
            reading.wrong_shape(kind.value, "own words beside known ones", "write biscuit: buff")
            continue
        words = tuple(
            (Written(word.key.text, word.key.span), known)
            for word in kind.value.pairs
            if isinstance(word.value, Scalar | Mapping | Listing) and (known := text(reading, word)) is not None
        )
        found.append((Written(kind.key.text, kind.key.span), words))
    return tuple(found)


_GROUPS = Form(_groups, {"type": "object", "additionalProperties": LIST})
_WORDS = Form(_words, {"type": "object", "additionalProperties": {"type": "object", "additionalProperties": SCALAR}})


def _field(key: str, attribute: str, form: Form, about: str, example: str) -> Field:
    # Every key of guide.yaml may be left empty: a new guide begins with all of them there to fill in.
    return Field(key, attribute, form, about, example, may_be_empty=True)


FIELDS = (
    _field("title", "title", TEXT, "Title on every page.", "Birds of the Millrace"),
    _field("author", "author", TEXT, "Who keeps the guide.", "A. Watcher"),
    _field("region", "region", TEXT, "Where its birds are met.", "the river Alder"),
    _field("language", "language", converted(_language), "Language of the guide.", "en"),
    _field("written in", "written_in", converted(_language), "Language of the entries, if another.", "en"),
    _field("codes", "codes", one_of(*CODE_LISTS), "The list that codes come from.", "IBP"),
    _field("units", "units", one_of("metric", "both"), "Units of sizes and measures.", "metric"),
    _field("base address", "base_address", converted(_address), "Where it is published.", "https://example.org/"),
    _field("licence", "licence", TEXT, "Licence of text and pictures.", "CC BY 4.0"),
    _field("develop", "develop", one_of(*DEVELOP), "How sketches are developed.", "drawing"),
    _field("yardsticks", "yardsticks", shared.CODES, "Birds that others are measured by.", "[BCCH, EUST, MALL]"),
    _field("groups", "groups", _GROUPS, "Look-alikes to compare together.", "yellowlegs: [GRYE, LEYE]"),
    _field("words", "words", _WORDS, "Own words beside known ones.", "colour: {biscuit: buff}"),
)


def read_settings(source: SourceText) -> tuple[Settings, tuple[Problem, ...]]:
    """Read the text of ``guide.yaml``."""
    top, problems = read_front(source, Span(0, len(source.text)), frozenset(each.key for each in FIELDS))
    reading = Reading(source, list(problems))
    values = read_fields(reading, top, FIELDS, "guide.yaml")
    return Settings(source, **values), tuple(reading.problems)
