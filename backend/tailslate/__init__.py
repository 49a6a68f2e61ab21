"""Tailslate: a film crew's shared prep checklist for one shooting day."""

__version__ = "0.1.0"
