"""So that ``python -m tertial`` is the command ``tertial``."""

from tertial.entrypoint import main

main()
