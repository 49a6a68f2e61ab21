"""How a read and a write of the database begin. Every write on SQLite starts with BEGIN IMMEDIATE.

D1 a write takes its lock first and waits for it: no transaction reads, then finds that it may not write.
D2 an answer is given only after a commit that reached the disk. D3 no connection outlives its block.
"""

from __future__ import annotations

import logging
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, event, text
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.orm import Session

from tailslate.store.turns import TurnNotCome, Turns

log = logging.getLogger(__name__)

BUSY_TIMEOUT_MS = 5000
TURN_TIMEOUT_S = 10
# Fewer than the pool has connections, so that nobody waits in it. A reader of SQLite computes all the time, and more
# than two only take the processor from each other; one of PostgreSQL waits for the other server.
AT_ONCE_ON_SQLITE = 2
AT_ONCE_ON_POSTGRESQL = 8
SOUND_SQLITE = (
    3,
    51,
    3,
)  # SQLite release notes: older ones may damage a WAL file that several processes write
BEGIN = "BEGIN"
BEGIN_WRITE = "BEGIN IMMEDIATE"


class DatabaseBusy(Exception):
    """Another writer kept the lock longer than anyone should wait; the same request may be sent again."""


class DatabaseDamaged(Exception):
    """The file failed SQLite's own check; restore a backup."""


def database_url(database: str) -> str:
    """Return the SQLAlchemy URL of a path to an SQLite file or of a PostgreSQL address."""
    if database.startswith(("postgresql://", "postgres://")):
        return "postgresql+psycopg://" + database.split("://", 1)[1]
    if "://" in database:
        return database
    return "sqlite:///" + str(Path(database).resolve())


def engine_options(url: str) -> dict[str, Any]:
    """Return what SQLAlchemy is told about the connections of this kind of database."""
    options: dict[str, Any] = {"pool_size": 10, "max_overflow": 10, "pool_timeout": 10, "pool_pre_ping": True}
    if url.startswith("sqlite"):
        # threads share the pool, one at a time each; the begin event below writes BEGIN itself
        options |= {
            "pool_pre_ping": False,
            "connect_args": {"check_same_thread": False, "isolation_level": None},
        }
    return options


@contextmanager
def _turn(turns: Turns) -> Iterator[None]:
    try:
        with turns.taken(TURN_TIMEOUT_S):
            yield
    except TurnNotCome:
        raise DatabaseBusy("too many are waiting for the database; send it again in a few seconds") from None


class Database:
    """The two doors to one database: `reading()` and `writing()`."""

    def __init__(self, engine: Engine) -> None:
        """Take over an engine that has no open connection yet."""
        self.engine = engine
        self.is_sqlite = engine.dialect.name == "sqlite"
        self._write_engine = engine.execution_options(tailslate_writes=True)
        self._readers = Turns(AT_ONCE_ON_SQLITE if self.is_sqlite else AT_ONCE_ON_POSTGRESQL)
        # One process, one file: writers queue here and not on a polling file lock.
        self._writers = Turns(1 if self.is_sqlite else AT_ONCE_ON_POSTGRESQL)
        if self.is_sqlite:
            event.listen(engine, "connect", _prepare_connection)
            event.listen(engine, "begin", _begin)

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give a session on one snapshot; it is closed when the block ends."""
        with _turn(self._readers), Session(self.engine) as session:
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """Give a session that holds the write lock; commits at the end of the block, rolls back on an error."""
        with _turn(self._writers), Session(self._write_engine) as session, session.begin():
            yield session

    @property
    def file(self) -> Path | None:
        """The SQLite file, or None for a database server."""
        name = self.engine.url.database
        return Path(name) if self.is_sqlite and name else None

    def check(self) -> list[str]:
        """Return what should worry whoever starts a server on this database; raise when it is damaged."""
        if not self.is_sqlite:
            return []
        try:
            with self.engine.connect() as connection:
                found = connection.execute(text("PRAGMA quick_check")).scalars().first()
        except OperationalError:
            raise  # busy, not readable: says so itself
        except DatabaseError as error:
            found = str(error.orig)
        if found != "ok":
            raise DatabaseDamaged(f"{self.file} failed SQLite's check ({found}); restore a backup")
        return sqlite_warnings(sqlite3.sqlite_version_info)


def sqlite_warnings(version: tuple[int, ...]) -> list[str]:
    """Return the warning that an SQLite library of this version deserves, if any."""
    if version >= SOUND_SQLITE:
        return []
    shown = ".".join(str(part) for part in version)
    return [
        f"SQLite {shown} is older than 3.51.3: it may damage the database when several processes write at once. "
        "One server process is safe; never start a second one on the same file."
    ]


def _prepare_connection(connection: sqlite3.Connection, _record: object) -> None:
    for pragma in (
        f"busy_timeout = {BUSY_TIMEOUT_MS}",
        "journal_mode = WAL",
        "synchronous = FULL",  # D2: in WAL mode NORMAL may lose the last commits when the power goes
        "foreign_keys = ON",
        "mmap_size = 0",
    ):
        connection.execute("PRAGMA " + pragma).close()


def _begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get("tailslate_writes", False)
    connection.exec_driver_sql(BEGIN_WRITE if writes else BEGIN)
