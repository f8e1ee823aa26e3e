"""How the tests of entries draw their examples."""

from __future__ import annotations

from hypothesis import settings

# A slow machine is no fault of the program.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
