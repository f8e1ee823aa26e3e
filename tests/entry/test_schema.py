"""The schemas for editors: equal to the field tables, right about entries, and kept up to date."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from tertial.entries import settings
from tertial.entries.flock import FIELDS as FLOCK
from tertial.entries.load import FIELD_TABLES, KINDS, read_entry
from tertial.entries.outing import FIELDS as OUTING
from tertial.entries.pictures import PHOTO_FIELDS, SKETCH_FIELDS
from tertial.entries.settings import read_settings
from tertial.entries.species import SpeciesEntry
from tertial.marks.families import load_habits
from tertial.schema import (
    ENTRY_SCHEMA,
    GUIDE_SCHEMA,
    MARK,
    entry_schema,
    guide_schema,
    modeline,
    refresh_schemas,
    schema_files,
)
from tertial.starting import start_guide
from tertial.text.problem import Severity
from tertial.text.source import SourceText

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tertial.entries.fields import Field

REPOSITORY = Path(__file__).resolve().parents[2]
DEMO = sorted((REPOSITORY / "entries").rglob("*.md"))
CASES = Path(__file__).with_name("cases")
RIGHT = sorted((CASES / "right").iterdir())
WRONG = sorted((CASES / "wrong").iterdir())


class Core(yaml.SafeLoader):
    """YAML as editors read it: the core schema of YAML 1.2.2, chapter 10.3."""


Core.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("null", "~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", "true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", "[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", list("-+0123456789")),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", list("-+.0123456789")),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"({pattern})$"), first)


def front_of(text: str) -> object:
    """Read the front matter of an entry as an editor does."""
    return yaml.load(text.split("---\n")[1], Loader=Core)


def faults(schema: dict[str, Any], value: object) -> list[str]:
    return [fault.message for fault in Draft202012Validator(schema).iter_errors(value)]


def keys_of(schema: object) -> Iterator[str]:
    """Give every key that a schema has properties for, at any depth."""
    if isinstance(schema, dict):
        properties = schema.get("properties", {})
        yield from properties
        for each in (*properties.values(), *(value for key, value in schema.items() if key != "properties")):
            yield from keys_of(each)
    elif isinstance(schema, list):
        for each in schema:
            yield from keys_of(each)


@pytest.mark.parametrize("schema", [entry_schema(), guide_schema()], ids=["entry", "guide"])
def test_each_schema_is_one_of_its_draft(schema: dict[str, Any]) -> None:
    """Both schemas pass the meta-schema of draft 2020-12."""
    assert schema["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
    Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("kind", KINDS)
def test_each_branch_has_the_keys_of_its_table_and_no_other(kind: str) -> None:
    """Keys come in the order of the table, each with what it is for and an example."""
    branch = entry_schema()["$defs"][kind]
    table: dict[str, Field] = {each.key: each for each in FIELD_TABLES[kind]}
    assert list(branch["properties"]) == list(table)
    assert branch["additionalProperties"] is False
    assert branch["required"] == [kind]
    assert branch["title"]
    for key, property_ in branch["properties"].items():
        assert property_["description"] == table[key].about
        assert property_["examples"] == [table[key].example]


def test_settings_have_the_keys_of_their_table_and_no_other() -> None:
    """The schema of guide.yaml follows its table likewise."""
    schema = guide_schema()
    assert list(schema["properties"]) == [each.key for each in settings.FIELDS]
    assert schema["additionalProperties"] is False


def test_keys_below_the_top_are_those_of_the_tables() -> None:
    """Pictures, sizes and flocks of outings are told to editors, and nothing that the reader does not know."""
    species = set(keys_of(entry_schema()["$defs"]["species"]))
    below = {each.key for each in (*SKETCH_FIELDS, *PHOTO_FIELDS)}
    size = {"class", "length", "wingspan", "mass", "source"}
    assert species == {each.key for each in FIELD_TABLES["species"]} | below | size | {"foraging"}
    assert set(keys_of(entry_schema()["$defs"]["flock"])) == {each.key for each in FLOCK} | below | {"foraging"}
    assert set(keys_of(entry_schema()["$defs"]["outing"])) == {each.key for each in OUTING} | below | {
        "members",
        "doing",
        "scan",
    }


def test_equal_tables_give_equal_bytes() -> None:
    """The files are the same every time, and read back as the schemas they were made of."""
    assert schema_files() == schema_files()
    assert [json.loads(data) for data in schema_files().values()] == [entry_schema(), guide_schema()]


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_every_entry_of_the_demo_is_right(path: Path) -> None:
    """What the demo writes, no editor complains about."""
    assert faults(entry_schema(), front_of(path.read_text(encoding="utf-8"))) == []


def test_the_settings_of_the_demo_are_right() -> None:
    """The same of its guide.yaml."""
    value = yaml.load((REPOSITORY / "guide.yaml").read_text(encoding="utf-8"), Loader=Core)
    assert faults(guide_schema(), value) == []


def read_case(path: Path) -> tuple[str, set[Severity], bool]:
    """Read a case: its text, how grave what the reader says of it is, and whether an entry came of it."""
    text = path.read_text(encoding="utf-8")
    entry, problems = read_entry(SourceText("entries/a.md", text))
    return text, {problem.severity for problem in problems}, entry is not None


@pytest.mark.parametrize("path", RIGHT, ids=lambda path: path.stem)
def test_what_the_reader_takes_is_right(path: Path) -> None:
    """Entries of every kind, in every form that the reader takes with gaps at most, are right to an editor."""
    text, severities, is_entry = read_case(path)
    assert is_entry
    assert severities <= {Severity.GAP}
    assert faults(entry_schema(), front_of(text)) == []


@pytest.mark.parametrize("path", WRONG, ids=lambda path: path.stem)
def test_what_the_reader_warns_of_is_wrong(path: Path) -> None:
    """Unknown keys and wrong shapes are told by the editor as they are told by check."""
    text, severities, _ = read_case(path)
    assert severities & {Severity.ERROR, Severity.WARNING}
    assert faults(entry_schema(), front_of(text))


@pytest.mark.parametrize("key", ["marks", "measures"])
def test_plumages_are_offered_and_told_from_what_is_none(key: str) -> None:
    """An editor offers the plumages of families, each explained, takes any other, and names a slip."""
    usual = entry_schema()["$defs"]["plumages"]["properties"]
    assert set(usual) == {plumage for habit in load_habits().values() for plumage in habit.plumages}
    assert all(each["description"] for each in usual.values())
    for plumage in (*usual, "Male, juvenile", "light morph", "1st-winter female"):
        assert faults(entry_schema(), {"species": "Hairy Woodpecker", key: {plumage: "bill: 31 mm"}}) == []
    for slip in ("mael", "juv", "male/female"):
        assert faults(entry_schema(), {"species": "Hairy Woodpecker", key: {slip: "bill: 31 mm"}})


@pytest.mark.parametrize(
    "text", ["codes: ABA", "units: [metric]", "titel: Birds", "groups: [DOWO, HAWO]", "title: {a: b}"]
)
def test_wrong_settings_are_wrong(text: str) -> None:
    """What check warns of in guide.yaml, the schema does not admit either."""
    _, problems = read_settings(SourceText("guide.yaml", text))
    assert any(problem.severity < Severity.GAP for problem in problems)
    assert faults(guide_schema(), yaml.load(text, Loader=Core))


@pytest.mark.parametrize("demo", [False, True], ids=["empty", "demo"])
def test_a_new_guide_comes_with_its_schemas(tmp_path: Path, demo: bool) -> None:
    """Both files are there, guide.yaml leads to its own, and is read without a word in spite of the comment."""
    start_guide(tmp_path / "guide", demo=demo)
    for path, data in schema_files().items():
        assert (tmp_path / "guide" / path).read_bytes() == data
    text = (tmp_path / "guide/guide.yaml").read_text(encoding="utf-8")
    assert text.startswith(modeline(GUIDE_SCHEMA) + "title: ")
    values, problems = read_settings(SourceText("guide.yaml", text))
    assert values.title is not None
    assert not problems
    assert faults(guide_schema(), yaml.load(text, Loader=Core)) == []


def test_front_matter_may_begin_with_a_comment() -> None:
    """The comment that leads editors to the schema is nothing to the reader."""
    text = f"---\n{modeline(ENTRY_SCHEMA)}species: Hairy Woodpecker\n---\n"
    entry, problems = read_entry(SourceText("entries/a.md", text))
    assert isinstance(entry, SpeciesEntry)
    assert problems == ()


def test_every_new_entry_is_right(guide: Path, entered: Callable[..., str]) -> None:
    """A skeleton is right to an editor before anything is filled in."""
    for kind in KINDS:
        name = {"species": "HAWO", "outing": "2026-01-17"}.get(kind, "Some name")
        text = (guide / entered(name, kind)).read_text(encoding="utf-8")
        assert faults(entry_schema(), front_of(text)) == []


def test_outdated_schemas_are_made_anew_with_the_next_entry(guide: Path, entered: Callable[..., str]) -> None:
    """A file with tertial's mark is rewritten and a missing one is put back."""
    (guide / ENTRY_SCHEMA).write_text(json.dumps({"$comment": MARK, "title": "old"}), encoding="utf-8")
    (guide / GUIDE_SCHEMA).unlink()
    entered("HAWO")
    assert all((guide / path).read_bytes() == data for path, data in schema_files().items())
    assert refresh_schemas(guide) == ()


def test_a_schema_without_the_mark_is_the_author_s(guide: Path, entered: Callable[..., str]) -> None:
    """Who takes the mark out keeps the file as it is."""
    (guide / ENTRY_SCHEMA).write_text("{}", encoding="utf-8")
    entered("HAWO")
    assert (guide / ENTRY_SCHEMA).read_text(encoding="utf-8") == "{}"


def test_a_guide_without_the_folder_gets_neither_schema_nor_comment(guide: Path, entered: Callable[..., str]) -> None:
    """Who deletes the folder is not pestered with it."""
    for path in schema_files():
        (guide / path).unlink()
    (guide / ENTRY_SCHEMA.parent).rmdir()
    text = (guide / entered("HAWO")).read_text(encoding="utf-8")
    assert not (guide / ENTRY_SCHEMA.parent).exists()
    assert text.startswith("---\nspecies: Hairy Woodpecker\n")


def test_an_empty_folder_is_filled_and_settings_stay_as_they_are(
    make_guide: Callable[..., Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A guide from before can have the schemas; its guide.yaml is the author's to change."""
    folder = make_guide({"guide.yaml": "title: Old\n"})
    (folder / ENTRY_SCHEMA.parent).mkdir()
    assert refresh_schemas(folder) == tuple(folder / path for path in schema_files())
    assert (folder / "guide.yaml").read_text(encoding="utf-8") == "title: Old\n"
