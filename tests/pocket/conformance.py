"""What ISO 14289-1 (PDF/UA-1) asks of a document and a machine can tell, a function for each thing it asks.

Each gives its faults with the failure condition of the Matterhorn Protocol 1.1 (PDF Association), which numbers them.
What ``test_pocket_book.py`` asks of the book itself is not asked again: identification, title, language, pictures.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final
from xml.etree import ElementTree

from pypdf.generic import BooleanObject, ContentStream

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pypdf import PageObject, PdfReader

    Check = Callable[[PdfReader], Iterator[str]]

# ISO 32000-1, 14.8.4: the standard structure types.
STANDARD: Final = frozenset(
    re.findall(
        r"\w+",
        "Document Part Art Sect Div BlockQuote Caption TOC TOCI Index NonStruct Private P H H1 H2 H3 H4 H5 H6 L LI Lbl "
        "LBody Table TR TH TD THead TBody TFoot Span Quote Note Reference BibEntry Code Link Annot Ruby RB RT RP "
        "Warichu WT WP Figure Formula Form",
    )
)
# ISO 32000-1, 14.8.4.3: what may hold what; a kind that is not named may stand anywhere.
HELD_BY: Final = {
    "LI": {"L"},
    "Lbl": {"LI", "Note", "Reference", "BibEntry", "TOCI"},
    "LBody": {"LI"},
    "TOCI": {"TOC"},
    "THead": {"Table"},
    "TBody": {"Table"},
    "TFoot": {"Table"},
    "TR": {"Table", "THead", "TBody", "TFoot"},
    "TH": {"TR"},
    "TD": {"TR"},
}
HOLDS: Final = {
    "L": {"L", "LI", "Caption"},
    "LI": {"Lbl", "LBody"},
    "TOC": {"TOC", "TOCI", "Caption"},
    "TR": {"TH", "TD"},
}
PAINTS: Final = frozenset(re.findall(r"\S+", "Tj TJ ' \" f F f* B B* b b* S s sh Do")) | {"INLINE IMAGE"}
MAY_BE_READ_ALOUD: Final = 1 << 9
"""Bit 10 of the permissions of an encrypted document (ISO 32000-1, table 22)."""


def tree(reader: PdfReader) -> Any:
    """Give the root of the tree of tags."""
    root: Any = reader.root_object["/StructTreeRoot"]
    return root.get_object()


def elements(reader: PdfReader) -> Iterator[tuple[Any, Any]]:
    """Give every element of the tree in reading order with the one that holds it, the root for the first."""
    root = tree(reader)
    waiting = [(root["/K"], root)]
    while waiting:
        found, holder = waiting.pop()
        found = found.get_object()
        if isinstance(found, list):
            waiting += [(each, holder) for each in reversed(found)]
        elif isinstance(found, dict) and "/S" in found:
            yield found, holder
            waiting += [(found["/K"], found)] if "/K" in found else []


def kind(reader: PdfReader, element: Any) -> str:
    """Give the standard structure type of an element, or what its own leads to."""
    roles = tree(reader).get("/RoleMap", {})
    name = element.get("/S", "")
    for _ in range(len(roles)):
        name = roles.get(name, name)
    return str(name).removeprefix("/")


def kids(element: Any) -> list[Any]:
    """Give what an element holds."""
    held = element.get("/K", [])
    held = held.get_object()
    return [each.get_object() for each in held] if isinstance(held, list) else [held]


def parents(reader: PdfReader) -> dict[int, Any]:
    """Give the tree that leads from content to its elements: by key an element, or those of a page by number."""
    found: dict[int, Any] = {}
    waiting = [tree(reader)["/ParentTree"]]
    while waiting:
        node = waiting.pop().get_object()
        numbers = node.get("/Nums", [])
        found.update((int(key), value.get_object()) for key, value in zip(numbers[::2], numbers[1::2], strict=True))
        waiting += node.get("/Kids", [])
    return found


def placed_annotations(reader: PdfReader) -> Iterator[tuple[PageObject, Any]]:
    """Give every annotation with its page."""
    for page in reader.pages:
        held: Any = page.get("/Annots", [])
        yield from ((page, each.get_object()) for each in held)


def roles(reader: PdfReader) -> Iterator[str]:
    """7.1: own types of elements lead to standard ones, and no standard one is made another."""
    mapped = tree(reader).get("/RoleMap", {})
    for element, _ in elements(reader):
        if kind(reader, element) not in STANDARD:
            yield f"02-001, 02-003: {element['/S']} leads to no standard type"
    yield from (f"02-004: {name} is remapped" for name in mapped if name.removeprefix("/") in STANDARD)


def content(reader: PdfReader) -> Iterator[str]:
    """7.1: whatever is painted is tagged or an artifact, and neither within the other."""
    for number, page in enumerate(reader.pages, 1):
        within: list[str] = []
        for operands, operator in ContentStream(page.get_contents(), reader).operations:
            name = operator.decode()
            if name in ("BMC", "BDC"):
                marks = operands[1] if len(operands) > 1 and isinstance(operands[1], dict) else {}
                mark = "artifact" if operands[0] == "/Artifact" else "tagged" if "/MCID" in marks else "other"
                if mark == "artifact" and "tagged" in within:
                    yield f"01-003: an artifact in tagged content, page {number}"
                if mark == "tagged" and "artifact" in within:
                    yield f"01-004: tagged content in an artifact, page {number}"
                within.append(mark)
            elif name == "EMC":
                within.pop()
            elif name in PAINTS and not {"artifact", "tagged"} & {*within}:
                yield f"01-005: {name} paints what is neither tagged nor an artifact, page {number}"


def ways_back(reader: PdfReader) -> Iterator[str]:
    """7.1 (ISO 32000-1, 14.7.4.4): each piece of tagged content leads to the element that holds it."""
    by_key = parents(reader)
    for number, page in enumerate(reader.pages, 1):
        led: Any = by_key.get(int(page.get("/StructParents", -1)), [])
        pieces = {int(each) for each in re.findall(rb"/MCID (\d+)", page.get_contents().get_data())}  # type: ignore[union-attr]
        for piece in sorted(pieces):
            held = kids(led[piece].get_object()) if piece < len(led) else []
            if not any(piece == (each.get("/MCID") if isinstance(each, dict) else each) for each in held):
                yield f"14.7.4.4: piece {piece} of page {number} leads to no element that holds it"


def headings(reader: PdfReader) -> Iterator[str]:
    """7.4.2: headings begin at the first level and leave none out on the way down; no other kind stands among them."""
    kinds = [name for element, _ in elements(reader) if re.fullmatch(r"H\d?", name := kind(reader, element))]
    yield from ("14-007: an H among numbered headings" for name in kinds if name == "H")
    levels = [int(name[1:]) for name in kinds if name != "H"]
    if levels[:1] != [1]:
        yield "14-002: the first heading is not an H1"
    yield from (f"14-003: from H{one} to H{next_one}" for one, next_one in pairwise(levels) if next_one > one + 1)


def nesting(reader: PdfReader) -> Iterator[str]:
    """7.5, 7.6: parts of tables and lists stand where they belong, and hold what they may."""
    for element, holder in elements(reader):
        name, above = kind(reader, element), kind(reader, holder)
        if above not in HELD_BY.get(name, {above}) or name not in HOLDS.get(above, {name}):
            yield f"09-004, 09-005, 09-006: {name} in {above}"


def tables(reader: PdfReader) -> Iterator[str]:
    """7.5: rows have cells for the same columns, heads have a scope or cells name their heads."""
    identified = {str(element["/ID"]) for element, _ in elements(reader) if "/ID" in element}
    for table, _ in elements(reader):
        if kind(reader, table) != "Table":
            continue
        rows = [row for part in kids(table) for row in ([part] if part["/S"] == "/TR" else kids(part))]
        widths, hanging = set(), dict[int, int]()
        for at, row in enumerate(rows):
            told = [_told_of_cell(cell) for cell in kids(row)]
            widths.add(sum(int(cell.get("/ColSpan", 1)) for cell in told) + hanging.get(at, 0))
            for cell in told:
                for below in range(at + 1, at + int(cell.get("/RowSpan", 1))):
                    hanging[below] = hanging.get(below, 0) + int(cell.get("/ColSpan", 1))
            for cell, facts in zip(kids(row), told, strict=True):
                named = [str(each) for each in facts.get("/Headers", [])]
                if {*named} - identified:
                    yield f"15-003: a cell names heads that are not there: {named}"
                if kind(reader, cell) == "TH" and "/Scope" not in facts:
                    yield "15-003: a head without a scope"
        if len(widths) > 1:
            yield f"7.5: rows of {sorted(widths)} columns in one table"


def _told_of_cell(cell: Any) -> Any:
    held = cell.get("/A", [])
    held = held.get_object()
    every = [each.get_object() for each in held] if isinstance(held, list) else [held]
    return next((each for each in every if each.get("/O") == "/Table"), {})


def links(reader: PdfReader) -> Iterator[str]:
    """7.18: links stand in elements of their kind that lead to them, and say where they go; tabs follow the tags."""
    by_key = parents(reader)
    for page, each in placed_annotations(reader):
        wanted = {"/Link": "Link", "/Widget": "Form"}.get(each["/Subtype"], "Annot")
        element = by_key.get(int(each.get("/StructParent", -1)))
        if element is None or kind(reader, element) != wanted:
            yield f"28-002, 28-011: a {each['/Subtype']} is not in an element {wanted}"
        elif not any(isinstance(kid, dict) and kid.get("/Type") == "/OBJR" for kid in kids(element)):
            yield f"28-002, 28-011: an element {wanted} does not lead to what it stands for"
        if not str(each.get("/Contents", "")).strip():
            yield f"28-004, 28-012: a {each['/Subtype']} has no words"
        if page.get("/Tabs") != "/S":
            yield "28-008, 28-009: the order of tabs is not that of the tags"


def fonts(reader: PdfReader) -> Iterator[str]:
    """7.21: letters lead to characters, and to no sign that is none; glyphs of composite fonts are told apart."""
    seen: dict[str, Any] = {}
    for page in reader.pages:
        resources: Any = page["/Resources"]
        seen.update((str(font.get_object()["/BaseFont"]), font.get_object()) for font in resources["/Font"].values())
    for name, font in seen.items():
        if "/ToUnicode" not in font:
            yield f"31-027: {name} leads to no characters"
            continue
        mapped = font["/ToUnicode"].get_object().get_data()
        if re.search(rb"<[0-9A-Fa-f]+>\s*<(?:0000|FEFF|FFFE)>", mapped.partition(b"endcodespacerange")[2]):
            yield f"31-028, 31-029: {name} has letters that lead to no character"
        (inner,) = (each.get_object() for each in font["/DescendantFonts"])
        if inner["/Subtype"] == "/CIDFontType2" and "/CIDToGIDMap" not in inner:
            yield f"31-004: {name} does not say which glyphs are meant"


def notes(reader: PdfReader) -> Iterator[str]:
    """7.9: every note can be told from all others."""
    found = [element.get("/ID") for element, _ in elements(reader) if kind(reader, element) == "Note"]
    yield from ("19-003: a note without an identifier" for each in found if not each)
    yield from ("19-004: two notes have one identifier" for each in {*found} if each and found.count(each) > 1)


def metadata(reader: PdfReader) -> Iterator[str]:
    """7.1: the title is in the metadata too."""
    stream: Any = reader.root_object["/Metadata"]
    told = ElementTree.fromstring(stream.get_object().get_data())
    titles = told.iter("{http://purl.org/dc/elements/1.1/}title")
    if not any("".join(title.itertext()).strip() for title in titles):
        yield "06-003: no dc:title"


def hindrances(reader: PdfReader) -> Iterator[str]:
    """7.1, 7.10, 7.11, 7.15, 7.16: no doubts about tags, names for layers and files, no XFA, nothing locked away."""
    root: Any = reader.root_object
    if root["/MarkInfo"].get_object().get("/Suspects", BooleanObject(False)).value:
        yield "01-007: the tags are under suspicion"
    layers = root.get("/OCProperties", {}).get_object() if "/OCProperties" in root else {}
    for each in (one.get_object() for one in (*([layers["/D"]] if layers else []), *layers.get("/Configs", []))):
        if not each.get("/Name"):
            yield "20-001, 20-002: an arrangement of layers without a name"
        if "/AS" in each:
            yield "20-003: layers come and go by themselves"
    files = root["/Names"].get_object().get("/EmbeddedFiles", {}).get("/Names", [])
    yield from (
        "21-001: a file without its names" for each in files[1::2] if not {"/F", "/UF"} <= each.get_object().keys()
    )
    if "/AcroForm" in root and "/XFA" in root["/AcroForm"].get_object():
        yield "25-001: a form of XFA"
    lock: Any = reader.trailer.get("/Encrypt")
    if lock is not None and not int(lock.get_object().get("/P", 0)) & MAY_BE_READ_ALOUD:
        yield "26-001, 26-002: locked against being read aloud"


CHECKS: Final[tuple[Check, ...]] = (
    roles,
    content,
    ways_back,
    headings,
    nesting,
    tables,
    links,
    fonts,
    notes,
    metadata,
    hindrances,
)
