"""Tailslate: a film crew's shared prep checklist for one shooting day."""

from pathlib import Path

__version__ = "0.1.0"


def seed_data_folder() -> Path:
    """Return the folder of the shipped JSON: inside the installed package, or, installed editable, the repository's."""
    package = Path(__file__).resolve().parent
    shipped = package / "seed_data"
    return shipped if shipped.is_dir() else package.parent.parent / "seed_data"
