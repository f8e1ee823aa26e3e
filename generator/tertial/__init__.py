"""tertial: a field journal in plain text, checked, compared and published as a field guide."""

__version__ = "0.1.0"
