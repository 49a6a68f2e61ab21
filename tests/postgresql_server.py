"""A throw-away PostgreSQL server from Debian's binaries; as root it runs as the user postgres."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

import psycopg
import pytest

DEBIAN_BINARIES = Path("/usr/lib/postgresql")


def binaries() -> Path:
    """Return the folder of initdb and pg_ctl, the newest version when there are several."""
    found = sorted(DEBIAN_BINARIES.glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    on_path = shutil.which("initdb")
    if found:
        return found[-1].parent
    if on_path:
        return Path(on_path).parent
    pytest.fail(
        "no PostgreSQL server programs here; run `apt-get install postgresql`, or leave out slow tests"
    )


class PostgreSQL:
    """The server process, in a folder of its own that its user can enter."""

    def __init__(self) -> None:
        self._folder = Path(tempfile.mkdtemp(prefix="tailslate-postgresql-"))
        self._count = 0
        self._as_postgres = (
            {"user": "postgres", "group": "postgres", "extra_groups": []} if os.geteuid() == 0 else {}
        )
        if self._as_postgres:
            shutil.chown(self._folder, "postgres", "postgres")

    def start(self) -> None:
        """Make an empty cluster and start it; nothing is listened to but the socket in the folder."""
        self._run(
            "initdb", "--auth=trust", "--username=postgres", "--encoding=UTF8", "--locale=C", "-D", "data"
        )
        options = f"-c listen_addresses='' -c unix_socket_directories={self._folder} -c fsync=off -c max_connections=200"
        self._run("pg_ctl", "start", "--wait", "-D", "data", "-l", "log", "-o", options)

    def stop(self) -> None:
        """Stop the server and remove its folder."""
        self._run("pg_ctl", "stop", "--wait", "--mode=immediate", "-D", "data")
        shutil.rmtree(self._folder)

    def create_database(self) -> str:
        """Make an empty database and return its name."""
        self._count += 1
        name = f"day_{self._count}"
        self._execute(f"CREATE DATABASE {name}")
        return name

    def drop_database(self, name: str) -> None:
        """Remove a database, and end connections that a test left open."""
        self._execute(f"DROP DATABASE {name} WITH (FORCE)")

    def url(self, name: str) -> str:
        """Return the SQLAlchemy URL of a database."""
        return f"postgresql+psycopg://postgres@/{name}?host={self._folder}"

    def _execute(self, statement: str) -> None:
        with psycopg.connect(
            f"host={self._folder} user=postgres dbname=postgres", autocommit=True
        ) as connection:
            connection.execute(statement.encode())

    def _run(self, program: str, *arguments: str) -> None:
        log = self._folder / "output"
        with log.open("wb") as output:
            finished = subprocess.run(
                [binaries() / program, *arguments],
                cwd=self._folder,
                stdout=output,
                stderr=subprocess.STDOUT,
                **self._as_postgres,
            )
        assert finished.returncode == 0, f"{program} failed:\n{log.read_text()}"
