"""What a remark offers as the mark that decides."""

from __future__ import annotations

import pytest

from tertial.marks.decisive import offered
from tertial.marks.parts import load_parts


@pytest.mark.parametrize(
    ("remark", "expected"),
    [
        ("bill against head decides it; the call agrees", [["bill", "head"]]),
        ("The bill settles it. The nape clinches it", [["bill"], ["nape"]]),
        ("told apart by the outer tail feathers", [["outer tail feathers"]]),
        ("bill diagnostic", [["bill"]]),
        ("an eye-ring decides it", [["eye-ring"]]),
        # What is denied, hedged, or names no part claims nothing.
        ("the bill never decides it", []),
        ("the bill does not settle it", []),
        ("size decides nothing", []),
        ("the bill helps to decide", []),
        ("decides itself on the wing beat of a moment", [["wingbeat"]]),
        ("the bill agrees", []),
        ("it decides", []),
        ("", []),
    ],
)
def test_a_clause_that_claims_to_decide_names_its_parts(remark: str, expected: list[list[str]]) -> None:
    """Each claiming clause gives the parts that it names, the longest names first; others give none."""
    found = [[each.part.word for each in clause] for clause in offered(remark, load_parts())]
    assert found == expected


def test_the_places_are_those_of_the_names() -> None:
    """A report can point at the very words of the author."""
    remark = "far off; the outer-tail feathers decide"
    ((named,),) = offered(remark, load_parts())
    assert remark[named.start : named.end] == "outer-tail feathers"
