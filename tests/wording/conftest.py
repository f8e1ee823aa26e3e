"""The phrases that the program and its layouts ask for, read from their text, and the words of each language."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import tertial
from tertial.layouts import built_in_layouts
from tertial.marks.fitting import Fit
from tertial.marks.meaning import load_questions
from tertial.marks.measures import MEASURES, Basis
from tertial.marks.parts import Evidence, load_parts
from tertial.marks.sentences import CLAUSES, aspect_words
from tertial.marks.size import Beside
from tertial.marks.statements import Aspect
from tertial.marks.tables import read_table
from tertial.marks.verdicts import Verdict, load_thresholds
from tertial.marks.words import load_words
from tertial.names.alpha import RULES
from tertial.pages.browse import COUNTED_BY_SCRIPTS, SAID_BY_SCRIPTS
from tertial.pages.browse_sheet import OTHER as OTHER_EVIDENCE
from tertial.pages.finding import KINDS, WAYS
from tertial.pages.finding_words import COUNTED_AT, HABITAT, SAID_BY_SEARCH
from tertial.pages.frame import MENU
from tertial.pages.groups import REASONS
from tertial.pages.marks import OTHER, RESTS
from tertial.pages.templates import templates
from tertial.typesetting import TEMPLATE as POCKET_GUIDE
from tertial.wording import MONTHS, Wording
from tertial.wording.tables import read_wording

_SAID_IN_BOOK = re.compile(r'\bsay\("([^"]+)"')
SPEAKING = ("pages", "marks", "wording")
"""Rooms that look phrases up."""

PATTERNS = ("%(first)s and %(last)s", "%(first)s or %(last)s")
"""Phrases by which words are listed; they stand in ``wording`` itself."""


@pytest.fixture(scope="session")
def french() -> Wording:
    """The words of French."""
    return read_wording((built_in_layouts(),), "fr")


@pytest.fixture(scope="session")
def asked() -> dict[str, str]:
    """Every phrase that is asked for, with that for several, or ''."""
    return {**_said_in_tables(), **_said_in_code(), **_said_in_layouts()}


def _said_in_layouts() -> dict[str, str]:
    layouts = built_in_layouts()
    jinja = templates(layouts)
    found: dict[str, str] = {}
    for file in sorted(layouts.rglob("*.html")):
        for _, function, message in jinja.extract_translations(file.read_text(encoding="utf-8")):  # type: ignore[attr-defined]
            phrase, *others = (message,) if isinstance(message, str) else message
            found[phrase] = found.get(phrase) or (others[0] if function == "ngettext" else "")
    book = (layouts / POCKET_GUIDE).read_text(encoding="utf-8")
    return {**found, **dict.fromkeys(_SAID_IN_BOOK.findall(book), "")}


def _said_in_code() -> dict[str, str]:
    found: dict[str, str] = {}
    files = [file for room in SPEAKING for file in sorted((Path(tertial.__file__).parent / room).rglob("*.py"))]
    for node in (node for file in files for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            if node.func.attr == "say" and node.args:
                found.update(dict.fromkeys(_literals(node.args[0]), ""))
            elif node.func.attr == "count" and len(node.args) == 3:
                found.update(zip(_literals(node.args[0]), _literals(node.args[1]), strict=True))
    return found


def _literals(node: ast.expr) -> list[str]:
    """Give the texts that an argument may be; ``count`` of other objects has none."""
    if isinstance(node, ast.IfExp):
        return [*_literals(node.body), *_literals(node.orelse)]
    return [node.value] if isinstance(node, ast.Constant) and isinstance(node.value, str) else []


def _said_in_tables() -> dict[str, str]:
    parts = load_parts()
    thresholds = load_thresholds()
    facets = {term.facet for term in load_words().lists.terms.values()}
    phrases = (
        *MONTHS,
        *PATTERNS,
        *(text for ways in MENU for text, _ in ways),
        *SAID_BY_SCRIPTS,
        *SAID_BY_SEARCH,
        *(HABITAT, COUNTED_AT),
        *(text for text, *_ in WAYS),
        *KINDS.values(),
        *REASONS.values(),
        *MEASURES,
        *Basis,
        *Fit,
        *Verdict,
        *Aspect,
        *(facet for facet in facets if not facet.startswith("against ")),
        *(row["place"] for row in read_table("places.csv")),
        *(row["where"] for row in read_table("markings.csv") if row["where"]),
        *(row["word"] for row in read_table("function-words.csv") if row["kind"] == "counted"),
        *(row["part"] for row in read_table("proportion-parts.csv")),
        "wash",
        *(row["word"] for row in read_table("yardsticks.csv")),
        *load_questions().values(),
        *Beside,
        *aspect_words().values(),
        *(clause for clauses in CLAUSES.values() for clause in clauses),
        *(row.meaning for row in thresholds),
        *(rule.sentence for rule in RULES if rule.letters),
        *(text for region in parts.regions for text in (region.word, region.meaning)),
        *(view.heading for view in parts.views),
        *(view.meaning for view in parts.views[1:]),
        *(each.label for each in Evidence if each is not Evidence.SEASON_AND_PLACE),
        *(OTHER_EVIDENCE, OTHER),
        *(heading for _, heading, _, _ in RESTS),
    )
    return {
        **{str(phrase): "" for phrase in phrases},
        **COUNTED_BY_SCRIPTS,
        **{one: many for *_, one, many in (*WAYS, *RESTS)},
    }
