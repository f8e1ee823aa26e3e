"""The yardstick of the benchmark: the shortest way from the same text to as many pages, in one process.

No checks, no links, no inheritance, no care for what stands in the target folder: YAML by CSafeLoader,
CommonMark by markdown-it-py, the same templates, write. Run as ``python straight.py GUIDE TARGET``.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import jinja2
import yaml
from markdown_it import MarkdownIt
from markupsafe import Markup

from tertial.pages.accounts import Block, Row, SimilarView, SpeciesView
from tertial.pages.comparison import PairView, Side
from tertial.pages.marks import MarkGroup, MarkRow, NumberRow, Said
from tertial.pages.plates import PlatesView
from tertial.pages.plumage_tables import PlumageTable
from tertial.pages.site import Frame, Link
from tertial.pages.templates import built_in_layouts


def _rows(block: str) -> tuple[Row, ...]:
    lines = (line.partition(": ") for line in block.splitlines())
    return tuple(Row(Link(part, "parts.html#part"), (Link(text),)) for part, _, text in lines)


def _species(front: dict[str, Any], body: str) -> SpeciesView:
    similar = front.get("similar") or {}
    nothing: tuple[Any, ...] = ()
    return SpeciesView(
        name=front["species"],
        code=front["code"],
        scientific="",
        family="",
        french="",
        months=nothing,
        months_text="",
        where=tuple(front["where"]),
        how_common=nothing,
        size=tuple(Row(Link(key), (Link(str(value)),)) for key, value in front["size"].items()),
        size_source=nothing,
        measures=nothing,
        sketches=nothing,
        photos=nothing,
        marks=tuple(Block(plumage, _rows(block)) for plumage, block in front["marks"].items()),
        voice=nothing,
        foraging=nothing,
        behaviour=nothing,
        similar=tuple(
            SimilarView(Link(code), "", (Link(text),), f"pairs/{code}.html") for code, text in similar.items()
        ),
        flocks=nothing,
        body=body,  # type: ignore[arg-type]
        sources=tuple((Link(each),) for each in front["sources"]),
        written=str(front["written"]),
        changed="",
        before=None,
        after=None,
    )


def _pair(first: dict[str, Any], second: dict[str, Any]) -> PairView:
    tables = []
    for plumage in first["marks"]:
        left = {row.part.text: row for row in _rows(first["marks"][plumage])}
        right = {row.part.text: row for row in _rows(second["marks"][plumage])}
        parts = sorted(left.keys() | right.keys())
        rows = tuple(
            MarkRow(Link(part, "parts.html#part"), "", "v-weak", _cell(left.get(part)), _cell(right.get(part)), part)
            for part in parts
        )
        numbers = tuple(NumberRow(part, part, "colour", part, part, "0.80", "strong", "") for part in parts)
        tables.append(PlumageTable(plumage, plumage, (MarkGroup("", rows),), "", numbers))
    sides = [Side(f["species"], Link(f["code"], "x.html"), "", (), (), (), "") for f in (first, second)]
    return PairView(sides[0], sides[1], (), (), (), tuple(tables), (), (), (), (), PlatesView())


def _cell(row: Row | None) -> tuple[Said, ...]:
    return (Said(row.said, "", ()),) if row else ()


def main(guide: Path, target: Path) -> None:
    """Make the pages."""
    parser = MarkdownIt("commonmark", {"html": False})
    loader = jinja2.FileSystemLoader(str(built_in_layouts()))
    jinja = jinja2.Environment(
        loader=loader, autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    frame = Frame("A guide", "A. Watcher", "", "en", (Link("Species", "species/index.html"),), "", "")
    fronts = {}
    for folder in ("species", "pairs"):
        (target / folder).mkdir(parents=True)

    def write(path: str, template: str, view: object, body: Markup) -> None:
        page = {"path": path, "title": path, "description": path}
        text = jinja.get_template(template).render(
            page=page, root=Markup("../"), frame=frame, view=view, body=lambda _: body
        )
        (target / path).write_bytes(text.encode("utf-8"))

    for path in sorted((guide / "entries").iterdir()):
        _, front_text, body = path.read_text(encoding="utf-8").split("---\n", 2)
        front = yaml.load(front_text, Loader=yaml.CSafeLoader)
        fronts[front["code"]] = front
        html = Markup(parser.render(body))
        write(f"species/{path.stem}.html", "species.html", _species(front, body), html)
    for code, front in fronts.items():
        for other in front.get("similar") or {}:
            if code < other:
                view = _pair(front, fronts[other])
                write(f"pairs/{code}-{other}.html", "pair.html", view, Markup(""))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
