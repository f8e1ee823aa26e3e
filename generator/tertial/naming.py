"""The answer to ``tertial code``: which code a bird has in each list, by which rule, and who else claims it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from tertial.names.alpha import CodeReport, ListedCode, explain_code
from tertial.names.birds import load_names

if TYPE_CHECKING:
    from collections.abc import Iterator

_LISTS = {"IBP": "Institute for Bird Populations", "BBL": "Bird Banding Laboratory"}


def explain_name(name: str) -> CodeReport:
    """Look a name up in the shipped list and explain its codes."""
    return explain_code(name, load_names())


def near_names(name: str) -> tuple[str, ...]:
    """Give names of the list that look like this one."""
    return load_names().near(name)


def is_code(name: str) -> bool:
    """Whether a name is written as a code: four capitals and nothing else."""
    return len(name) == 4 and name.isascii() and name.isalpha() and name.isupper()


def name_as_text(report: CodeReport) -> str:
    """Write the answer for a person."""
    return "".join(f"{line}\n" for line in _lines(report))


def _lines(report: CodeReport) -> Iterator[str]:
    bird = report.birds[0] if report.birds else None
    if bird is None and is_code(report.name):
        yield f"{report.name!r} is the code of no bird in either list"
        return
    if bird is None:
        yield f"{report.name!r} is not in the list of birds; the rules alone give:"
    else:
        yield f"{bird.english}, {bird.scientific}"
        if len(report.birds) > 1:
            yield f"(also the name of {', '.join(other.english for other in report.birds[1:])})"
    for code in report.codes:
        yield f"{code.scheme}  {code.code or '(none)'}  {_origin(code)}"
        yield f"     {code.natural.sentence}"
        for rival in code.rivals:
            name, listed = rival.listed_name(code.scheme), rival.listed_code(code.scheme)
            yield f"     {code.natural.code} is also what {name} would get; it has {listed}"


def _origin(code: ListedCode) -> str:
    whose = _LISTS[code.scheme]
    spelled = f", listed as {code.name}" if code.listed else ""
    if not code.listed:
        taken = f"; taken by {code.holder.listed_name(code.scheme)}" if code.holder else ""
        return f"not on the list of the {whose}; derived{taken}"
    if code.listed == code.natural.code:
        return f"on the list of the {whose}{spelled}; the natural code"
    return f"on the list of the {whose}{spelled}; the natural code would be {code.natural.code}"


def name_as_json(report: CodeReport) -> str:
    """Write the answer for a program."""
    value = {
        "name": report.name,
        "birds": [{"english": bird.english, "scientific": bird.scientific} for bird in report.birds],
        "codes": [
            {
                "list": code.scheme,
                "code": code.code,
                "listed": bool(code.listed),
                "natural": code.natural.code,
                "rule": code.natural.rule,
                "rule in words": code.natural.sentence,
                "rivals": [
                    {"name": rival.listed_name(code.scheme), "code": rival.listed_code(code.scheme)}
                    for rival in code.rivals
                ],
            }
            for code in report.codes
        ],
    }
    return json.dumps(value, ensure_ascii=False, indent=2) + "\n"
