"""The yardstick of the benchmark: the shortest way from the same text to as many pages, in one process.

No checks, no links, no reading of phrases, no care for what stands in the target folder: YAML by CSafeLoader,
CommonMark by markdown-it-py, the same templates, write. Accounts, pairs, cards and genera get their pages, about
as long as those of the guide itself; what is computed there stands here ready. The dozen lists of a guide and the
data of its scripts are left out. Run as ``python straight.py GUIDE TARGET``.
"""

from __future__ import annotations

import sys
from itertools import groupby
from pathlib import Path
from typing import Any

import jinja2
import yaml
from markdown_it import MarkdownIt
from markupsafe import Markup

from tertial.layouts import built_in_layouts
from tertial.names.birds import load_names
from tertial.pages.accounts import SimilarView, SpeciesView
from tertial.pages.card_marks import CardRow
from tertial.pages.cards import CardBird, CardRemark, CardsView, CardView
from tertial.pages.comparison import Fact, Glance, PairView, Side, WantedView
from tertial.pages.group_tables import GroupRow, GroupTable, Member
from tertial.pages.groups import CoupletView, GroupView, GroupWanted, LeadView, LikenessCell
from tertial.pages.marks import MarkGroup, MarkRow, NumberRow, Said
from tertial.pages.plates import PlatesView
from tertial.pages.plumage_tables import PlumageTable
from tertial.pages.rows import Block, Row
from tertial.pages.shorts import Short
from tertial.pages.site import Frame, Link
from tertial.pages.sizes import Bar, SizeRow, Tick
from tertial.pages.telling import Telling
from tertial.pages.written_marks import MarkSheet, Missing, SheetRow

MENU = (tuple(Link(text, f"{text}.html") for text in ("Species", "Codes", "Size", "Pairs", "Groups", "Any", "Parts")),)
YEAR = tuple((month, True) for month in "JFMAMJJASOND")
WEAK = Link("weak", "method.html#verdict-weak")
PARTED = Link("parts 2 of 3 pairs", "method.html#verdicts")
VERDICTS = tuple((Link(word, f"method.html#{word}"), "v-weak") for word in ("settled", "strong", "weak", "shared"))
BAR = Bar(40.0, 400.0, 220.0, "14-18 cm")
TICKS = tuple(Tick(40.0 + 100 * at, str(at)) for at in range(6))
ADDRESS = "https://example.org/"
CARDS_ON_A_PAGE = 12
COUPLETS = 13
"""As many as a key of the guide has in the mean."""


def _rows(block: str) -> tuple[Row, ...]:
    lines = (line.partition(": ") for line in block.splitlines())
    return tuple(Row(Link(part, "parts.html#part"), (Link(text),)) for part, _, text in lines)


def _species(front: dict[str, Any], body: str) -> SpeciesView:
    similar = front.get("similar") or {}
    nothing: tuple[Any, ...] = ()
    blocks = tuple(Block(plumage, _rows(block)) for plumage, block in front["marks"].items())
    return SpeciesView(
        name=front["species"],
        code=front["code"],
        scientific="",
        family="",
        other_name=("", ""),
        months=YEAR,
        months_text=front["when"],
        where=tuple(front["where"]),
        how_common=nothing,
        size_class=nothing,
        size=tuple((key, str(value)) for key, value in front["size"].items()),
        size_source=nothing,
        measures=nothing,
        sketches=nothing,
        photos=nothing,
        marks=blocks,
        sheet=_sheet(blocks),
        voice=nothing,
        foraging=nothing,
        behaviour=nothing,
        similar=tuple(
            SimilarView(Link(code), "", (Link(text),), "", f"pairs/{code}.html") for code, text in similar.items()
        ),
        flocks=nothing,
        missing=Missing((), ()),
        body=body,  # type: ignore[arg-type]
        sources=tuple((Link(each),) for each in front["sources"]),
        written=str(front["written"]),
        changed="",
        before=None,
        after=None,
    )


def _of_plumage(front: dict[str, Any], plumage: str) -> dict[str, Row]:
    """Give what is written of a plumage and of all."""
    return {row.part.text: row for name in ("all", plumage) for row in _rows(front["marks"][name])}


def _sheet(blocks: tuple[Block, ...]) -> MarkSheet:
    found: dict[str, dict[str, tuple[Row, ...]]] = {}
    for block in blocks:
        for row in block.rows:
            found.setdefault(row.part.text, {})[block.heading] = (row,)
    heads = tuple(block.heading for block in blocks)
    return MarkSheet(
        heads,
        tuple(
            SheetRow(Link(part, "parts.html#part"), (), tuple(said.get(head, ()) for head in heads))
            for part, said in found.items()
        ),
    )


def _pair(first: dict[str, Any], second: dict[str, Any]) -> PairView:
    tables = []
    glances: dict[str, Glance] = {}
    for plumage in first["marks"]:
        left, right = (_of_plumage(front, plumage) for front in (first, second))
        rows = tuple(
            MarkRow(Link(part, "parts.html#part"), WEAK, "0.30", "v-weak", _cell(left, part), _cell(right, part), part)
            for part in sorted(left.keys() | right.keys())
        )
        shared = sorted(left.keys() & right.keys())
        numbers = tuple(
            NumberRow(part, Link(part, "x.html"), "colour", part, part, "0.30", WEAK, "") for part in shared
        )
        tables.append(PlumageTable(plumage, plumage, (MarkGroup("near", rows),), (), "90", numbers))
        glances.update((part, Glance(Link(part, "parts.html"), (("weak", "v-weak", "x.html"),) * 3)) for part in shared)
    sides = tuple(
        Side(f["species"], Link(f["code"], "x.html"), "", (), (Link(f["code"]),), YEAR, f["when"])
        for f in (first, second)
    )
    words = (Link(", ".join(first["where"])),)
    code, part = sides[0].code, Link("bill", "parts.html#bill")
    return PairView(
        first=sides[0],
        second=sides[1],
        shorts=tuple(Short(plumage, (Link("the bill settles it"),), plumage, "v-weak") for plumage in first["marks"]),
        headings=tuple(Link(plumage, f"#{plumage}") for plumage in first["marks"]),
        glance=tuple(glances.values()),
        tables=tuple(tables),
        sizes=tuple(
            SizeRow(Link(name), "cm", BAR, BAR, TICKS, WEAK, WEAK, False, "v-weak", "0.10", "90", "1.0", ("a", "a"))
            for name in first["size"]
        ),
        facts=tuple(Fact(Link(matter), words, words) for matter in ("met in", "where")),
        wanted=(WantedView(code, part, "male", code, Said(words, "", ())),) * 6,
        verdicts=VERDICTS,
        plates=PlatesView(),
        card="cards/x.html",
    )


def _card(first: dict[str, Any], second: dict[str, Any]) -> CardView:
    birds = tuple(CardBird(Link(front["code"], "x.html"), front["species"]) for front in (first, second))
    rows = tuple(
        CardRow(row.part.text, "males", "strong", "v-strong", row.said[0].text, row.said[0].text)
        for row in _rows(first["marks"]["male"])[:5]
    )
    return CardView(
        Link(f"{first['species']} or {second['species']}", "x.html"),
        "x.html",
        birds[0],
        birds[1],
        None,
        tuple(CardRemark(bird.code.text, "the bill against the head decides it") for bird in birds),
        (),
        rows,
        (f"{birds[0].code.text} (all birds), uppertail coverts",) * 3,
    )


def _told(path: str) -> Telling:
    """Give what a head tells of a page: as much as that of an account."""
    address, words = f"{ADDRESS}{path}", "It came down to the third branch and looked at me sideways."
    whole = {"@type": "WebSite", "name": "A guide", "url": ADDRESS}
    about = {"@type": "Taxon", "name": path, "scientificName": path, "taxonRank": "species", "url": address}
    about["parentTaxon"] = "a family"
    kept = {"author": {"@type": "Person", "name": "A. Watcher"}, "dateModified": "2026-01-04", "inLanguage": "en"}
    work = {"@context": ["https://schema.org"], "@type": "CreativeWork", "about": [about], "description": words, **kept}
    return Telling(words, address, f"{ADDRESS}preview.jpg", work | {"isPartOf": whole, "name": path, "url": address})


def _cell(rows: dict[str, Row], part: str) -> tuple[Said, ...]:
    return (Said(rows[part].said, "", ()),) if part in rows else ()


def _group(name: str, fronts: list[dict[str, Any]]) -> GroupView:
    members = tuple(Member(Link(front["species"], "x.html"), front["code"], None) for front in fronts)
    tables = []
    for plumage in fronts[0]["marks"]:
        said = [_of_plumage(front, plumage) for front in fronts]
        parts = sorted({part for each in said for part in each if sum(part in other for other in said) > 1})
        rows = tuple(
            GroupRow(
                Link(part, "parts.html"),
                Link("parts 2 of 3 pairs", "x.html"),
                "v-weak",
                tuple(_cell(each, part) for each in said),
                tuple(((front["code"],), _cell(each, part)) for front, each in zip(fronts, said, strict=True)),
            )
            for part in parts
        )
        tables.append(GroupTable(plumage, plumage, members, rows, ()))
    bird, words = members[0].name, (Link("always black"),)
    lead = LeadView((words, words), 2, (), ())
    end = LeadView((words,), 0, (bird,), (bird, bird))
    return GroupView(
        name,
        "Birds of one genus.",
        members,
        tuple(tables),
        tuple(
            tuple(None if one is other else LikenessCell("0.50", 9, "all", "", 18.0) for other in members)
            for one in members
        ),
        30,
        tuple(CoupletView(at, at - 1, bird, "near", (lead, end), ("a", "b")) for at in range(1, COUPLETS + 1)),
        (),
        PlatesView(),
        (GroupWanted(bird, "in any plumage", bird, (bird,)),) * 8,
    )


def _genera(fronts: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    """Give the accounts of each genus that is compared."""
    names = {bird.english: bird.scientific.split()[0] for bird in load_names()}
    ordered = sorted(fronts, key=lambda front: names[front["species"]])
    genera = {name: list(each) for name, each in groupby(ordered, key=lambda front: names[front["species"]])}
    return {name: each for name, each in genera.items() if 3 <= len(each) <= 8}


def main(guide: Path, target: Path) -> None:
    """Make the pages."""
    parser = MarkdownIt("commonmark", {"html": False})
    loader = jinja2.FileSystemLoader(str(built_in_layouts()))
    jinja = jinja2.Environment(
        loader=loader,
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )
    jinja.install_null_translations(newstyle=True)  # type: ignore[attr-defined]
    jinja.globals.update(theirs="", ours="", english="")
    jinja.filters["tongued"] = lambda text, upright=False: text
    frame = Frame("A guide", "A. Watcher", "", "en", MENU, ADDRESS, "feed.xml", "find.html")
    fronts, cards = {}, []
    for folder in ("species", "pairs", "groups", "cards"):
        (target / folder).mkdir(parents=True)

    def write(path: str, template: str, view: object, body: Markup) -> None:
        page = {"path": path, "title": path, "description": path, "about": path}
        text = jinja.get_template(template).render(
            page=page, root=Markup("../"), frame=frame, view=view, told=_told(path), body=lambda _: body
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
                cards.append(_card(front, fronts[other]))
                write(f"cards/{code}-{other}.html", "card.html", cards[-1], Markup(""))
    for at in range(0, len(cards), CARDS_ON_A_PAGE):
        write(f"cards/part-{at}.html", "cards.html", CardsView(tuple(cards[at : at + CARDS_ON_A_PAGE]), ()), Markup(""))
    for name, members in _genera(list(fronts.values())).items():
        write(f"groups/{name}.html", "group.html", _group(name, members), Markup(""))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
