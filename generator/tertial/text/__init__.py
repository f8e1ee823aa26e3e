"""The first room: a file as text. It knows places, problems and YAML, and no birds at all."""
