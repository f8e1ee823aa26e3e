"""YAML's own parsers behind one door: events of a text, from libyaml where it is there.

Both parsers stop at the first fault by raising; whoever takes events has to expect that.
"""

from __future__ import annotations

from typing import Any

import yaml
from yaml.parser import Parser
from yaml.reader import Reader
from yaml.scanner import Scanner


class SlowParser(Reader, Scanner, Parser):
    """The parser for machines without libyaml; the same work takes it some twenty times as long."""

    def __init__(self, text: str) -> None:
        Reader.__init__(self, text)
        Scanner.__init__(self)
        Parser.__init__(self)


FAST: bool = yaml.__with_libyaml__
"""Whether libyaml does the reading."""

SLOW = "PyYAML has no libyaml here; entries are read the slow way, some ten times slower."
"""What to say where it does not."""

parser_class: Any = yaml._yaml.CParser if FAST else SlowParser
"""What turns text into YAML events."""


class Events:
    """The events of one text, with one of them in view."""

    def __init__(self, text: str) -> None:
        self._get = parser_class(text).get_event
        self.ahead: Any = self._get()

    def take(self) -> Any:
        """Give the event in view and look at the next."""
        event, self.ahead = self.ahead, self._get()
        return event
