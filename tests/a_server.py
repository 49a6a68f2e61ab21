"""A server in this process on a database of its own: one day, a clock set by hand, phones that joined."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from people import DAY, DAY_TITLE, MORNING_MS, CrewMember
from phone_double import PhoneDouble, in_process
from tailslate.api.at_hand import KEY, Parts
from tailslate.app import create_app
from tailslate.store import crew
from tailslate.store.tables import StoredEdit

HOUR_MS = 3_600_000


class Here:
    """The app, its parts, and what a test does to them."""

    def __init__(self, database: str, *, opens_day: bool = True, **config: Any) -> None:
        self.database = database
        self.config = config
        self.now_ms = MORNING_MS
        self.open()
        if not opens_day:
            return
        with self.parts.database.writing() as session:
            self.parts.office.open_day(session, title=DAY_TITLE, now_ms=self.now_ms, day_id=DAY)

    def open(self) -> None:
        """Start the server, again after `close`."""
        self.app = create_app({"DATABASE": self.database, "NOW_MS": lambda: self.now_ms, **self.config})
        self.parts: Parts = self.app.extensions[KEY]

    def close(self) -> None:
        """Stop the server: no connection of it stays open."""
        self.parts.database.engine.dispose()

    def code_for(self, member: CrewMember, uses: int = 10) -> str:
        """Return a join code made by whoever runs the server."""
        with self.parts.database.writing() as session:
            return crew.invite(
                session,
                day_id=DAY,
                departments=member.departments,
                is_head=member.is_head,
                uses=uses,
                expires_ms=self.now_ms + 24 * HOUR_MS,
                made_by="",
                now_ms=self.now_ms,
            )[1]

    def phone_of(self, member: CrewMember, seed: int = 1, **joining: Any) -> PhoneDouble:
        """Return a phone that joined as this person."""
        phone = PhoneDouble(in_process(self.app), member, seed)
        reply = phone.join(self.code_for(member), **joining)
        assert reply.status == 201, reply.octets
        return phone

    def reconnect(self, phone: PhoneDouble) -> None:
        """Let a phone reach the server that was opened last."""
        phone.carry = in_process(self.app)

    def edits(self) -> list[str]:
        """Return the ids of all edits on the server, in commit order, floor first."""
        with self.parts.database.reading() as session:
            rows = select(StoredEdit.edit_id).order_by(StoredEdit.set_name, StoredEdit.order_number)
            return list(session.scalars(rows))


@pytest.fixture
def here(tmp_path: Path) -> Iterator[Here]:
    """A server on an empty SQLite database, with one day on it."""
    server = Here(str(tmp_path / "day.sqlite3"))
    yield server
    server.close()


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.slow)])
def on_both(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Here]:
    """The server once on each database."""
    is_sqlite = request.param == "sqlite"
    server = Here(str(tmp_path / "day.sqlite3") if is_sqlite else request.getfixturevalue("postgresql_url"))
    yield server
    server.close()
