"""A guide's own templates and assets: they replace the built-in ones of their name, and are read strictly."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from tertial.build import build_guide
from tertial.text.problem import Severity

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tertial.build import Build

    MakeGuide = Callable[[Mapping[str, str | bytes]], Path]

ENTRY = "---\nspecies: Hairy Woodpecker\nhow common: seldom\nmarks: |\n  bill: black\n---\nAt the mill.\n"


def faults(build: Build) -> list[tuple[str, int, Severity]]:
    """Give the file, line and weight of each fault of a template."""
    return [
        (problem.source.path, problem.source.position(problem.span.start).line, problem.severity)
        for problem in build.report.problems
        if problem.word == "layout-fault"
    ]


def test_a_template_of_the_guide_replaces_the_built_in_one(make_guide: MakeGuide) -> None:
    """The page of a species follows the guide's own template, which may build on the built-in frame."""
    own = "{% extends 'base.html' %}{% block content %}<p>{{ view.name }} in brief</p>{% endblock %}\n"
    folder = make_guide({"entries/a.md": ENTRY, "layouts/species.html": own})
    assert build_guide(folder).pages
    text = (folder / "build/species/hairy-woodpecker.html").read_text(encoding="utf-8")
    assert "<p>Hairy Woodpecker in brief</p>" in text
    assert "Content-Security-Policy" in text
    assert "in brief" not in (folder / "build/index.html").read_text(encoding="utf-8")


def test_a_frame_of_the_guide_goes_round_every_page(make_guide: MakeGuide) -> None:
    """Built-in pages are set into the guide's own frame."""
    own = "<!doctype html><title>{{ page.title }}</title><b>own</b>{% block content %}{% endblock %}\n"
    folder = make_guide({"entries/a.md": ENTRY, "layouts/base.html": own})
    assert build_guide(folder).pages
    texts = [path.read_text(encoding="utf-8") for path in (folder / "build").rglob("*.html")]
    assert len(texts) > 5
    assert all("<b>own</b>" in text for text in texts)


def test_assets_of_the_guide_join_and_replace_the_built_in_ones(make_guide: MakeGuide, repository: Path) -> None:
    """A style sheet of a built-in name takes its place, other files come along, hidden ones do not."""
    folder = make_guide(
        {
            "layouts/assets/guide.css": "p { color: green }\n",
            "layouts/assets/marks/own.svg": "<svg/>",
            "layouts/assets/.hidden": "",
            "layouts/assets/.drafts/old.svg": "",
        }
    )
    assert build_guide(folder).pages
    assets = folder / "build/assets"
    assert (assets / "guide.css").read_text(encoding="utf-8") == "p { color: green }\n"
    assert (assets / "marks/own.svg").read_text(encoding="utf-8") == "<svg/>"
    assert (assets / "icon.svg").read_bytes() == (repository / "layouts/assets/icon.svg").read_bytes()
    assert not [path for path in assets.iterdir() if path.name.startswith(".")]


def test_script_and_style_of_the_guide_in_another_encoding_end_no_build(make_guide: MakeGuide) -> None:
    """What is no UTF-8 in them stands as the sign for that, and the rest as it was written."""
    own = "/* \u00e9crit */ body { color: green }\n".encode("latin-1")
    unsolved = "---\nunknown: Brown duck\n---\n"
    folder = make_guide({"entries/a.md": unsolved, "layouts/question.css": own, "layouts/satchel.js": own})
    assert build_guide(folder).pages
    kept = "/* \ufffdcrit */ body { color: green }"
    assert kept in (folder / "build/questions/brown-duck.html").read_text(encoding="utf-8")
    assert kept in (folder / "build/satchel.js").read_text(encoding="utf-8")


def test_parts_of_the_style_sheet_are_joined_in_the_order_of_their_names(
    make_guide: MakeGuide, repository: Path
) -> None:
    """A guide's own part takes the place of the built-in one of its name; another name puts it among them."""
    names = sorted(part.name for part in (repository / "layouts/style").iterdir())
    own = {name: f".part-{at} {{}}\n" for at, name in enumerate(names)}
    own |= {
        "own.css": """/* gone */ .own {\n  content: "/* kept */ }" ; }\n\n  /*! kept, whole; */\n""",
        ".draft.css": ".draft {}\n",
    }
    folder = make_guide({"entries/a.md": ENTRY} | {f"layouts/style/{name}": text for name, text in own.items()})
    assert build_guide(folder).pages
    expected = (
        "".join(f".part-{at}{{}}\n" for at in range(len(names))) + '.own{content:"/* kept */ }"}/*! kept, whole; */\n'
    )
    assert (folder / "build/assets/guide.css").read_text(encoding="utf-8") == expected


def test_without_parts_of_its_own_a_guide_has_the_built_in_sheet(make_guide: MakeGuide, repository: Path) -> None:
    """Every rule of every part is in it, without remarks."""
    folder = make_guide({"entries/a.md": ENTRY})
    assert build_guide(folder).pages
    sheet = (folder / "build/assets/guide.css").read_text(encoding="utf-8")
    whole = "".join(part.read_text(encoding="utf-8") for part in (repository / "layouts/style").iterdir())
    assert sheet.count("{") == re.sub(r"/\*.*?\*/", "", whole, flags=re.DOTALL).count("{") > 500
    assert "/*" not in sheet


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("{{ view.nmae }}", "nmae"),
        ("{{ page.titel }}", "titel"),
        ("{{ veiw.name }}", "veiw"),
        ("{% for mark in view.marks %}{{ mark.headnig }}{% endfor %}", "headnig"),
        ("{% if view.nmae %}yes{% endif %}", "nmae"),
        ("{% iff view.name %}", "iff"),
        ("{{ view.name", "end of"),
        ("{{ view.name | shout }}", "shout"),
        ("{% include 'nowhere.html' %}", "nowhere.html"),
    ],
)
def test_a_slip_in_a_template_is_named_with_its_line(make_guide: MakeGuide, line: str, said: str) -> None:
    """A misspelt name, tag, filter or file is an error at its line, and nothing is built."""
    own = f"<p>\n{{# a remark #}}\n{line}\n"
    folder = make_guide({"entries/a.md": ENTRY, "layouts/species.html": own})
    build = build_guide(folder)
    assert faults(build) == [("layouts/species.html", 3, Severity.ERROR)]
    assert said in build.report.problems[0].message
    assert "species/hairy-woodpecker.html" in build.report.problems[0].message
    assert (build.pages, build.outcome) == (0, None)
    assert not (folder / "build").exists()
