"""Two invented accounts in single words, so that every answer about them can be worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner, Result

from tertial.cli import main

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

FIRST = """---
species: Downy Woodpecker
size:
  length: 14-18 cm
  source: handbook range, from memory
marks:
  all: |
    bill: black
    breast: white
    flanks: white, blotchlike
  male: |
    nape: red
  female: |
    nape: black
  juvenile: |
    crown: red
---
"""

SECOND = """---
species: Hairy Woodpecker
size:
  length: 18-26 cm
  source: handbook range, from memory
marks:
  all: |
    bill: yellow
    breast: white
    rump: white
  male: |
    nape: black
  female: |
    nape: black
---
"""


@pytest.fixture
def ask(make_guide: Callable[[Mapping[str, str | bytes]], Path]) -> Callable[..., Result]:
    """Put a command to the guide of both accounts, in a terminal of the width given."""
    folder = make_guide({"entries/downy.md": FIRST, "entries/hairy.md": SECOND})

    def put(*words: str, columns: int = 80) -> Result:
        return CliRunner().invoke(main, [*words, "--guide", str(folder)], env={"COLUMNS": str(columns)})

    return put
