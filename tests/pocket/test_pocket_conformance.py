"""The pocket guide against PDF/UA-1, by checks of our own that know nothing of the typesetter, each shown to find."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DecodedStreamObject,
    DictionaryObject,
    NameObject,
    NumberObject,
    TextStringObject,
)
from tests.pocket import conformance
from tests.pocket.conformance import CHECKS, elements, kids, parents, placed_annotations, tree

from tertial.pocket import FILE, OUTPUT

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.pocket.conformance import Check

Damage = tuple["Check", str, "Callable[[PdfReader], None]"]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_the_book_keeps_to_the_standard(check: Check, book: PdfReader) -> None:
    """Nothing that a machine can tell speaks against what the book says of itself."""
    assert [*check(book)] == []


def first(reader: PdfReader, name: str) -> Any:
    """Give the first element of a type."""
    return next(element for element, _ in elements(reader) if element["/S"] == f"/{name}")


def become(name: str, other: str) -> Callable[[PdfReader], None]:
    """Make the first element of a type one of another."""
    return lambda reader: first(reader, name).update({NameObject("/S"): NameObject(f"/{other}")})


def role(**mapped: str) -> Callable[[PdfReader], None]:
    """Lead types to others."""
    names = {NameObject(f"/{one}"): NameObject(f"/{other}") for one, other in mapped.items()}
    return lambda reader: tree(reader)["/RoleMap"].update(names)


def painted(pattern: str, written: str) -> Callable[[PdfReader], None]:
    """Change what the first page paints, once."""

    def damage(reader: PdfReader) -> None:
        page = reader.pages[0]
        contents = page.get_contents()
        assert contents is not None
        changed, times = re.subn(pattern.encode(), written.encode(), contents.get_data(), count=1)
        assert times == 1
        stream = DecodedStreamObject()
        stream.set_data(changed)
        page[NameObject("/Contents")] = stream

    return damage


def on_the_catalog(**told: Any) -> Callable[[PdfReader], None]:
    """Put something into the catalog."""
    return lambda reader: reader.root_object.update({NameObject(f"/{key}"): value for key, value in told.items()})


def of_a_link(key: str) -> Callable[[PdfReader], None]:
    """Take something from the first link."""
    return lambda reader: next(placed_annotations(reader))[1].pop(key)


def _tabs(reader: PdfReader) -> None:
    next(placed_annotations(reader))[0][NameObject("/Tabs")] = NameObject("/R")


def _swap_ways_back(reader: PdfReader) -> None:
    led = next(each for each in parents(reader).values() if isinstance(each, list) and len({*map(repr, each)}) > 1)
    led.reverse()


def _short_row(reader: PdfReader) -> None:
    kids(first(reader, "TBody"))[0]["/K"].pop()


def _unscoped(reader: PdfReader) -> None:
    for told in first(reader, "TH")["/A"]:
        told.get_object().pop("/Scope", None)


def _lost_heads(reader: PdfReader) -> None:
    first(reader, "TH").pop("/ID")


def _unreached(reader: PdfReader) -> None:
    link = first(reader, "Link")
    link[NameObject("/K")] = ArrayObject(each for each in kids(link) if not isinstance(each, dict) or "/S" in each)


def _font(reader: PdfReader) -> Any:
    resources: Any = reader.pages[0]["/Resources"]
    return next(iter(resources["/Font"].values())).get_object()


def _no_characters(reader: PdfReader) -> None:
    _font(reader).pop("/ToUnicode")


def _no_such_character(reader: PdfReader) -> None:
    stream = DecodedStreamObject()
    stream.set_data(b"1 begincodespacerange <0000> <FFFF> endcodespacerange 1 beginbfchar <0001> <FFFE> endbfchar")
    _font(reader)[NameObject("/ToUnicode")] = stream


def _same_note_twice(reader: PdfReader) -> None:
    for name in ("Quote", "Quote"):
        note = first(reader, name)
        note.update({NameObject("/S"): NameObject("/Note"), NameObject("/ID"): TextStringObject("note")})


def _untitled(reader: PdfReader) -> None:
    held: Any = reader.root_object["/Metadata"]
    stream = DecodedStreamObject()
    stream.set_data(held.get_object().get_data().replace(b"dc:title", b"dc:source"))
    reader.root_object[NameObject("/Metadata")] = stream


def _locked(reader: PdfReader) -> None:
    reader.trailer[NameObject("/Encrypt")] = DictionaryObject({NameObject("/P"): NumberObject(-3904 & ~(1 << 9))})


def _dictionary(**told: Any) -> DictionaryObject:
    return DictionaryObject({NameObject(f"/{key}"): value for key, value in told.items()})


_FILES = _dictionary(Names=ArrayObject([TextStringObject("a"), _dictionary(F=TextStringObject("a"))]))
DAMAGES: tuple[Damage, ...] = (
    (conformance.roles, "02-001", role(Strong="Loud")),
    (conformance.roles, "02-003", role(Strong="Em", Em="Strong")),
    (conformance.roles, "02-004", role(P="Span")),
    (conformance.content, "01-003", painted(r"(/MCID \d+\s*>>\s*BDC)", r"\1 /Artifact BMC EMC")),
    (conformance.content, "01-004", painted(r"(/\w+\s*<<\s*/MCID)", r"/Artifact BMC \1")),
    (conformance.content, "01-005", painted(r"\A", "0 0 9 9 re f ")),
    (conformance.ways_back, "14.7.4.4", lambda reader: reader.pages[0].pop("/StructParents")),
    (conformance.ways_back, "14.7.4.4", _swap_ways_back),
    (conformance.headings, "14-002", become("H1", "H2")),
    (conformance.headings, "14-003", become("H2", "H4")),
    (conformance.headings, "14-007", become("H3", "H")),
    (conformance.nesting, "09-004", become("TR", "Div")),
    (conformance.nesting, "09-005", become("LI", "Div")),
    (conformance.nesting, "09-006", become("TOCI", "P")),
    (conformance.tables, "7.5", _short_row),
    (conformance.tables, "15-003", _unscoped),
    (conformance.tables, "15-003", _lost_heads),
    (conformance.links, "28-011", become("Link", "Span")),
    (conformance.links, "28-011", of_a_link("/StructParent")),
    (conformance.links, "28-011", _unreached),
    (conformance.links, "28-012", of_a_link("/Contents")),
    (conformance.links, "28-009", _tabs),
    (conformance.fonts, "31-027", _no_characters),
    (conformance.fonts, "31-028", _no_such_character),
    (conformance.fonts, "31-004", lambda reader: _font(reader)["/DescendantFonts"][0].get_object().pop("/CIDToGIDMap")),
    (conformance.notes, "19-003", become("Quote", "Note")),
    (conformance.notes, "19-004", _same_note_twice),
    (conformance.metadata, "06-003", _untitled),
    (conformance.hindrances, "01-007", on_the_catalog(MarkInfo=_dictionary(Suspects=BooleanObject(True)))),
    (conformance.hindrances, "20-001", on_the_catalog(OCProperties=_dictionary(D=_dictionary()))),
    (
        conformance.hindrances,
        "20-003",
        on_the_catalog(OCProperties=_dictionary(D=_dictionary(Name=TextStringObject("a"), AS=ArrayObject()))),
    ),
    (conformance.hindrances, "21-001", on_the_catalog(Names=_dictionary(EmbeddedFiles=_FILES))),
    (conformance.hindrances, "25-001", on_the_catalog(AcroForm=_dictionary(XFA=ArrayObject()))),
    (conformance.hindrances, "26-001", _locked),
)


@pytest.mark.parametrize(
    ("check", "condition", "damage"), DAMAGES, ids=[f"{check.__name__} {condition}" for check, condition, _ in DAMAGES]
)
def test_a_damaged_copy_is_found_out(
    check: Check, condition: str, damage: Callable[[PdfReader], None], demo: Path
) -> None:
    """Each check tells by its failure condition what was done to a copy of the book."""
    reader = PdfReader(io.BytesIO((demo / OUTPUT / FILE).read_bytes()))
    damage(reader)
    assert condition in next(check(reader), "")


def test_every_check_is_shown_to_find(book: PdfReader) -> None:
    """No check is without a damaged copy; and the book has what they look at."""
    assert {check for check, _, _ in DAMAGES} == {*CHECKS}
    kinds = {element["/S"] for element, _ in elements(book)}
    assert {"/H1", "/H4", "/TOCI", "/LI", "/TH", "/TD", "/Link", "/Strong"} <= kinds
    assert sum(1 for _ in placed_annotations(book)) > 100
