"""Whatever starts a browser is slow."""

from pathlib import Path

import pytest

from a_server import here  # noqa: F401  # a fixture


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test of this folder."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.slow)
