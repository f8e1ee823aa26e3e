"""The proof: the guide as pages on this machine while it is being written.

One state of the guide after another is held in memory (``edition``), pages are rendered when asked for,
and open pages are told when a new state is there. Nothing here writes a file but pictures into their
store, and ``build/`` is never touched.
"""
