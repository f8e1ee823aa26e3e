"""So that ``python -m tertial`` is the command ``tertial``."""

from tertial.cli import main

main(prog_name="tertial")
