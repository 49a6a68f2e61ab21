"""How the database is opened, and that every write takes its lock first.

Sources: SQLite documentation, "PRAGMA synchronous" and "Write-Ahead Logging"; SQLite release notes 3.51.3.
"""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event, text

from a_server import Here
from people import DAY, GRIP, KEY_GRIP, PRODUCER
from tailslate.store import database
from tailslate.store.database import DatabaseDamaged, sqlite_warnings

WRITES = ("INSERT", "UPDATE", "DELETE", "REPLACE", "CREATE", "DROP", "ALTER")


def test_d1_every_write_began_with_the_lock(here: Here) -> None:
    begun: dict[int, str] = {}
    written: list[tuple[str, str]] = []

    def note(connection: Any, _cursor: Any, statement: str, *_more: Any) -> None:
        word = statement.split()[0].upper()
        key = id(connection.connection.dbapi_connection)
        if word == "BEGIN":
            begun[key] = statement
        elif word in WRITES:
            written.append((statement, begun[key]))

    event.listen(here.parts.database.engine, "before_cursor_execute", note)
    producer, grip = here.phone_of(PRODUCER), here.phone_of(GRIP)
    grip.act("rig", "r-1", {"legs": 2})
    grip.exchange()
    producer.exchange()
    producer.ask("POST", f"/api/days/{DAY}/invitations", {"departments": ["grip"]})
    producer.ask("POST", f"/api/days/{DAY}/devices/{grip.device}/revoke")
    assert len(written) > 20
    assert {begin for _statement, begin in written} == {database.BEGIN_WRITE}


def test_reading_waits_for_no_writer(here: Here) -> None:
    phone = here.phone_of(KEY_GRIP)
    with here.parts.database.writing() as session:
        session.execute(text("UPDATE days SET title = 'being changed'"))
        assert phone.ask("GET", "/healthz").status == 200
        reply = phone.ask("POST", f"/api/days/{DAY}/devices", None)
    assert reply.status == 405


def test_an_error_inside_a_write_leaves_nothing_behind(on_both: Here) -> None:
    def write_half() -> None:
        with on_both.parts.database.writing() as session:
            on_both.parts.office.open_day(session, title="half a day", now_ms=1, day_id="half")
            raise RuntimeError("on purpose")

    before = on_both.edits()
    with pytest.raises(RuntimeError, match="on purpose"):
        write_half()
    assert on_both.edits() == before


def test_d2_what_is_confirmed_is_on_the_disk(here: Here) -> None:
    with here.parts.database.engine.connect() as connection:
        found = {
            name: connection.execute(text(f"PRAGMA {name}")).scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout", "mmap_size")
        }
    full = 2  # PRAGMA synchronous: 0 OFF, 1 NORMAL, 2 FULL
    assert found == {
        "journal_mode": "wal",
        "synchronous": full,
        "foreign_keys": 1,
        "busy_timeout": 5000,
        "mmap_size": 0,
    }


def test_a_writer_that_waits_too_long_is_told_to_come_again(
    here: Here, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = here.phone_of(GRIP)
    edit = phone.act("task", "t-1", {"title": "bag the stand"})
    monkeypatch.setattr(database, "TURN_TIMEOUT_S", 0.01)
    with here.parts.database.writing():
        outcome: list[Any] = []
        other = threading.Thread(target=lambda: outcome.append(phone.exchange()))
        other.start()
        other.join()
    assert (phone.last.status, phone.last.json["error"]["code"]) == (503, "busy")
    assert phone.last.retry_after_s > 0
    assert outcome[0]["outcome"] == "busy"
    phone.exchange()
    assert edit.id in phone.confirmed


def test_a_file_locked_by_another_program_is_said_as_busy(here: Here) -> None:
    phone = here.phone_of(GRIP)
    phone.act("task", "t-1", {"title": "bag the stand"})
    here.close()
    here.open()
    here.reconnect(phone)

    def hurry(connection: sqlite3.Connection, _record: object) -> None:
        connection.execute("PRAGMA busy_timeout = 1")

    event.listen(here.parts.database.engine, "connect", hurry)
    here.close()  # the next connection hurries
    other = sqlite3.connect(here.database, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert phone.exchange()["outcome"] == "busy"
    assert phone.last.status == 503
    other.execute("ROLLBACK")
    other.close()
    assert phone.exchange()["outcome"] == "taken"


def test_a_full_disk_under_sqlite_is_507_and_nothing_is_half_stored(here: Here) -> None:
    phone = here.phone_of(GRIP)
    before = here.edits()
    pages = []

    def no_room(connection: sqlite3.Connection, _record: object) -> None:
        pages.append(connection.execute("PRAGMA page_count").fetchone()[0])
        connection.execute(f"PRAGMA max_page_count = {pages[-1]}")  # SQLite then answers SQLITE_FULL

    event.listen(here.parts.database.engine, "connect", no_room)
    here.close()
    for place in range(300):
        phone.act("note", f"n-{place}", {"text": "x" * 1000})
    assert phone.exchange()["outcome"] == "busy"
    assert (phone.last.status, phone.last.json["error"]["code"]) == (507, "disk_full")
    assert here.edits() == before
    event.remove(here.parts.database.engine, "connect", no_room)
    here.close()
    phone.exchange()
    assert not any(phone.unsent().values())


@pytest.mark.parametrize(
    ("version", "count"), [((3, 40, 1), 1), ((3, 51, 2), 1), ((3, 51, 3), 0), ((3, 53, 0), 0), ((4, 0, 0), 0)]
)
def test_an_sqlite_that_may_damage_files_is_named(version: tuple[int, ...], count: int) -> None:
    found = sqlite_warnings(version)
    assert len(found) == count
    assert all(".".join(map(str, version)) in words for words in found)


def test_a_damaged_file_is_not_served(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "day.sqlite3"))
    phone = here.phone_of(GRIP)
    for place in range(200):
        phone.act("note", f"n-{place}", {"text": "x" * 500})
    phone.exchange()
    here.close()
    file = tmp_path / "day.sqlite3"
    octets = bytearray(file.read_bytes())
    for page in range(4, len(octets) // 4096 - 1):
        octets[page * 4096 : page * 4096 + 64] = b"\x55" * 64
    file.write_bytes(octets)
    with pytest.raises(DatabaseDamaged, match="restore a backup"):
        here.open()


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ("postgresql://u@h/d", "postgresql+psycopg://u@h/d"),
        ("postgres://u@h/d", "postgresql+psycopg://u@h/d"),
        ("postgresql+psycopg://u@h/d", "postgresql+psycopg://u@h/d"),
        ("/data/day.sqlite3", "sqlite:////data/day.sqlite3"),
    ],
)
def test_a_database_may_be_named_as_people_name_it(given: str, expected: str) -> None:
    assert database.database_url(given) == expected
