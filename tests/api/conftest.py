"""A server in this process, with a clock set by hand, and the crew's phones on it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from flask import Flask

from a_server import Here
from people import CrewMember
from phone_double import PhoneDouble


@pytest.fixture
def here(tmp_path: Path) -> Here:
    """A server on an empty SQLite database, with one day on it."""
    return Here(str(tmp_path / "day.sqlite3"))


@pytest.fixture
def app(here: Here) -> Flask:
    """That server's app."""
    return here.app


@pytest.fixture
def phone_of(here: Here) -> Callable[[CrewMember], PhoneDouble]:
    """`phone_of(GAFFER)` is a phone that joined the day as the gaffer."""
    return here.phone_of


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.slow)])
def on_both(request: pytest.FixtureRequest, tmp_path: Path) -> Here:
    """The server once on each database."""
    if request.param == "postgresql":
        return Here(request.getfixturevalue("postgresql_url"))
    return Here(str(tmp_path / "day.sqlite3"))
