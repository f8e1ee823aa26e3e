"""``tertial code``: the code of a name, and why."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner, Result

from tertial.cli import main


def code(*words: str) -> Result:
    return CliRunner().invoke(main, ["code", *words])


@pytest.mark.parametrize(
    ("name", "ibp", "bbl"),
    [
        # The two lists: Institute for Bird Populations 2024 and USGS Bird Banding Laboratory 2025.
        ("Hairy Woodpecker", "HAWO", "HAWO"),
        ("hairy woodpecker", "HAWO", "HAWO"),
        ("Pic chevelu", "HAWO", "HAWO"),
        ("HAWO", "HAWO", "HAWO"),
        ("Bank Swallow", "BANS", "BANS"),
        ("Barn Swallow", "BARS", "BARS"),
        ("Canada Goose", "CANG", "CAGO"),
    ],
)
def test_a_listed_name_gives_the_code_of_each_list(name: str, ibp: str, bbl: str) -> None:
    """English and French names and codes themselves lead to the bird, in any case of letters."""
    done = code(name)
    assert (done.exit_code, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert next(line for line in lines if line.startswith("IBP")).split()[1] == ibp
    assert next(line for line in lines if line.startswith("BBL")).split()[1] == bbl


def test_the_reason_names_rule_and_rivals() -> None:
    """Where the list departs from the rules, the rule, the code that it gives, and its other claimants are told."""
    text = code("Barn Swallow").stdout
    assert "the natural code would be BASW" in text
    assert "Two words give two letters each." in text
    assert "BASW is also what Bank Swallow would get; it has BANS" in text


@pytest.mark.parametrize(
    ("name", "derived", "near"),
    [("Hairy Woodpeker", "HAWO", "Hairy Woodpecker"), ("Bird of the Weir", "BOTW", ""), ("鳥", "(none)", "")],
)
def test_a_name_that_no_list_has_is_coded_by_the_rules(name: str, derived: str, near: str) -> None:
    """The answer says so, offers names that look like it, and ends with exit code 1."""
    done = code(name)
    assert done.exit_code == 1
    assert f"{name!r} is not in the list of birds" in done.stdout
    assert {line.split()[1] for line in done.stdout.splitlines() if line[:3] in ("IBP", "BBL")} == {derived}
    assert (near in done.stderr, "mend:" in done.stderr) == (True, bool(near))


def test_programs_get_the_same_as_json() -> None:
    """Bird, code, rule and rivals stand in fields of their own."""
    done = code("--json", "Barn Swallow")
    assert (done.exit_code, done.stderr) == (0, "")
    answer = json.loads(done.stdout)
    assert (answer["name"], [bird["scientific"] for bird in answer["birds"]]) == ("Barn Swallow", ["Hirundo rustica"])
    ibp, bbl = answer["codes"]
    assert (ibp["list"], ibp["code"], ibp["listed"], ibp["natural"], ibp["rule"]) == ("IBP", "BARS", True, "BASW", 2)
    assert (bbl["list"], bbl["code"]) == ("BBL", "BARS")
    assert {"name": "Bank Swallow", "code": "BANS"} in ibp["rivals"]


def test_programs_are_told_of_an_unknown_name_too() -> None:
    """An unknown name is JSON and exit code 1, with nothing beside it."""
    done = code("--json", "Bird of the Weir")
    assert (done.exit_code, done.stderr) == (1, "")
    answer = json.loads(done.stdout)
    assert (answer["birds"], [(each["code"], each["listed"]) for each in answer["codes"]]) == (
        [],
        [("BOTW", False)] * 2,
    )
