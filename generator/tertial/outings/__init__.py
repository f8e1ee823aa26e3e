"""The room of walks and numbers: counts, effort, seasons, flocks, and what of a position may be told."""
