"""What the tests of texts share: both parsers, and how examples are drawn."""

from __future__ import annotations

import pytest
from hypothesis import settings

from tertial.text import events

# A slow machine is no fault of the program.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


@pytest.fixture(params=[events.parser_class, events.SlowParser], ids=["fast", "slow"])
def either_parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Read with libyaml where it is there, then with the slow parser."""
    monkeypatch.setattr(events, "parser_class", request.param)
