"""What editors are told of our files: JSON Schema, made from the field tables by which they are read.

Nothing about a key is said here, so that the schema cannot say anything else than the reader does;
and plumages come from their own table.
The files lie in ``.schema/`` of a guide. That folder is tertial's as long as its files carry
``MARK``: ``tertial entry`` brings them up to date and puts back what is missing from it. Without
the folder nothing is written.
"""

from __future__ import annotations

import json
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any, Final

from tertial.entries import settings
from tertial.entries.fields import schema_of
from tertial.entries.load import FIELD_TABLES
from tertial.entries.phrases import LINES
from tertial.marks.families import load_habits
from tertial.marks.folding import fold
from tertial.marks.plumage_words import load_plumage_words
from tertial.marks.plumages import plumage_pattern, read_plumage

if TYPE_CHECKING:
    from collections.abc import Mapping

ENTRY_SCHEMA: Final = PurePosixPath(".schema/entry.json")
"""The schema of the front matter of entries, from the guide's folder."""

GUIDE_SCHEMA: Final = PurePosixPath(".schema/guide.json")
"""The schema of ``guide.yaml``, from the guide's folder."""

MARK: Final = "Made by tertial, and made anew when it changes. To keep it as you mend it, take this line out."
"""The comment of a schema file that may be written over."""

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_TITLES: Final = {
    "species": "Account of a species",
    "flock": "Account of a flock",
    "outing": "Outing",
    "place": "Place",
    "unknown": "Bird that could not be named",
}
_PLUMAGE: Final = "Birds of one plumage: words for age, sex, season and morph in any order, as in juvenile male."


def entry_schema() -> dict[str, Any]:
    """Say what the front matter of an entry may hold: one branch a kind, chosen by the key that names it."""
    return {
        **_head("Entry of a guide", "Front matter of an entry; its first key names the kind."),
        "type": "object",
        "minProperties": 1,
        "allOf": [_branch(kind) for kind in FIELD_TABLES],
        "anyOf": [{"required": [kind]} for kind in FIELD_TABLES],
        "$defs": {
            **{
                kind: {"title": _TITLES[kind], "description": fields[0].about, **schema_of(fields, kind)}
                for kind, fields in FIELD_TABLES.items()
            },
            "plumages": _plumages(),
        },
    }


def _plumages() -> dict[str, Any]:
    """Say what the plumages are that lines may stand under, and name those that some family is looked at in."""
    words = load_plumage_words()
    usual = {
        text: plumage
        for habit in load_habits().values()
        for text in habit.plumages
        if (plumage := read_plumage(text)) is not None
    }
    return {
        "type": "object",
        "properties": {
            text: {**LINES, "description": " ".join(words.accepted[fold(word)].meaning for word in plumage.words)}
            for text, plumage in sorted(usual.items(), key=lambda each: each[1].order)
        },
        "patternProperties": {plumage_pattern(): {**LINES, "description": _PLUMAGE}},
        "additionalProperties": False,
    }


def _branch(kind: str) -> dict[str, Any]:
    """Apply a kind's keys where its own key is, and no other kind has that key as well.

    JSON knows no first key. Outings and unknown birds name their place, so there ``place`` decides nothing.
    """
    rivals = [
        other for other, fields in FIELD_TABLES.items() if other != kind and kind in {each.key for each in fields}
    ]
    condition: dict[str, Any] = {"required": [kind]}
    if rivals:
        condition["not"] = {"anyOf": [{"required": [other]} for other in rivals]}
    return {"if": condition, "then": {"$ref": f"#/$defs/{kind}"}}


def guide_schema() -> dict[str, Any]:
    """Say what ``guide.yaml`` may hold."""
    return {
        **_head("Settings of a guide", "What guide.yaml says of the guide as a whole."),
        **schema_of(settings.FIELDS),
    }


def _head(title: str, about: str) -> dict[str, Any]:
    return {"$schema": _DIALECT, "$comment": MARK, "title": title, "description": about}


def schema_files() -> Mapping[PurePosixPath, bytes]:
    """Give the files of ``.schema/`` by their path from the guide's folder."""
    return {ENTRY_SCHEMA: _as_file(entry_schema()), GUIDE_SCHEMA: _as_file(guide_schema())}


def _as_file(schema: Mapping[str, Any]) -> bytes:
    return (json.dumps(schema, ensure_ascii=False, indent=2) + "\n").encode()


def modeline(schema: PurePosixPath) -> str:
    """Give the comment by which editors find a file's schema, from the folder of that file."""
    return f"# yaml-language-server: $schema={schema}\n"


def refresh_schemas(folder: Path) -> tuple[Path, ...]:
    """Bring the schemas of a guide up to date, if it has the folder for them.

    :returns: the files written. One that has lost its mark is the author's, and stays.
    """
    if not (folder / ENTRY_SCHEMA.parent).is_dir():
        return ()
    written = []
    for name, data in schema_files().items():
        path = folder / name
        there = path.read_bytes() if path.exists() else MARK.encode()
        if MARK.encode() in there and there != data:
            path.write_bytes(data)
            written.append(path)
    return tuple(written)
