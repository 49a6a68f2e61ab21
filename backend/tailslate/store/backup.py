"""Copies of the SQLite file that can be trusted, and the way back. (A database server has its own tools.)

B1 a backup is one committed state, taken while the server runs, checked before it is called one.
B2 a restore changes the epoch: phones then compare, and bring back what the backup lacks.
"""

from __future__ import annotations

import hashlib
import json
import os
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

from tailslate.store.crew import random_name

FACTS_SUFFIX = ".facts.json"


class BackupRefused(Exception):
    """A backup that could not be made or trusted, with what to do."""


def back_up(source: Path, target: Path, now_ms: int) -> dict[str, Any]:
    """Copy a database that may be in use to a file that must not exist; return its facts, kept beside it.

    Raises: BackupRefused.
    """
    if not source.is_file():
        raise BackupRefused(f"there is no database at {source}; give the path with --database")
    if target.exists():
        raise BackupRefused(f"{target} exists already; a backup never replaces one, choose another name")
    unfinished = target.with_name(target.name + ".unfinished")
    unfinished.unlink(missing_ok=True)
    with closing(_open(source)) as live, closing(_open(unfinished)) as copy:
        live.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")  # one file, nothing beside it
        facts = {"made_ms": now_ms, **_facts(copy)}
    with unfinished.open("rb") as file:
        os.fsync(file.fileno())
    unfinished.rename(target)
    _facts_file(target).write_text(json.dumps(facts, indent=2) + "\n")
    return facts


def verify(backup: Path) -> dict[str, Any]:
    """Check a backup against its own facts and return them.

    Raises: BackupRefused.
    """
    if not backup.is_file() or not _facts_file(backup).is_file():
        raise BackupRefused(f"{backup} needs {_facts_file(backup).name} beside it; copy both files")
    stored: dict[str, Any] = json.loads(_facts_file(backup).read_text())
    with closing(_open(backup)) as copy:
        found = _facts(copy)
    if found["days"] != stored["days"]:
        raise BackupRefused(f"{backup} does not hold what it did when it was made; use another backup")
    return stored


def restore(backup: Path, target: Path, now_ms: int) -> dict[str, Any]:
    """Put a backup in the place of a database that no server has open; return the backup's facts.

    The database that was there is kept beside it. A backup of other days is refused.
    Raises: BackupRefused.
    """
    facts = verify(backup)
    if target.exists():
        _refuse_foreign(facts, target)
        _set_aside(target, now_ms)
    unfinished = target.with_name(target.name + ".unfinished")
    unfinished.unlink(missing_ok=True)
    with closing(_open(backup)) as copy, closing(_open(unfinished)) as new:
        copy.backup(new)
        new.execute("PRAGMA synchronous = FULL")
        with new:  # B2: in the same file before anyone can open it
            new.execute("UPDATE server SET epoch = ?", (random_name(),))
            new.execute("UPDATE read_places SET place = 0")
    with unfinished.open("rb") as file:
        os.fsync(file.fileno())
    unfinished.rename(target)
    return facts


def _open(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=5)


def _facts_file(backup: Path) -> Path:
    return backup.with_name(backup.name + FACTS_SUFFIX)


def _facts(connection: sqlite3.Connection) -> dict[str, Any]:
    """Return count and digest of each set of each day, recomputed from the texts of a sound file."""
    try:
        found = connection.execute("PRAGMA integrity_check").fetchone()[0]
        if found != "ok":
            raise BackupRefused(f"the copy failed SQLite's check ({found}); the disk may be failing")
        days: dict[str, dict[str, Any]] = {}
        for (day_id,) in connection.execute("SELECT id FROM days ORDER BY id"):
            days[day_id] = {}
        rows = connection.execute(
            "SELECT day_id, set_name, text FROM edits ORDER BY day_id, set_name, order_number"
        )
        digests: dict[tuple[str, str], Any] = {}
        counts: dict[tuple[str, str], int] = {}
        for day_id, set_name, text in rows:
            key = (day_id, set_name)
            digests.setdefault(key, hashlib.sha256()).update(hashlib.sha256(text).digest())
            counts[key] = counts.get(key, 0) + 1
        _add_photographs(connection, days)
    except sqlite3.DatabaseError as error:
        raise BackupRefused(f"this is no database of ours ({error}); choose another file") from error
    for (day_id, set_name), digest in digests.items():
        days[day_id][set_name] = {"count": counts[day_id, set_name], "sha256": digest.hexdigest()}
    return {"days": days}


def _add_photographs(connection: sqlite3.Connection, days: dict[str, dict[str, Any]]) -> None:
    """Add count and digest of each day's pictures, each read and compared with its name.

    Raises: BackupRefused.
    """
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'photographs'").fetchone():
        return  # of a version that kept none
    names: dict[str, list[str]] = {}
    for day_id, digest, octets in connection.execute(
        "SELECT day_id, digest, octets FROM photographs ORDER BY day_id, digest"
    ):
        if hashlib.sha256(octets).hexdigest() != digest:
            raise BackupRefused(f"the picture {digest} is damaged in this copy; the disk may be failing")
        names.setdefault(day_id, []).append(digest)
    for day_id, digests in names.items():
        sha256 = hashlib.sha256("\n".join(digests).encode()).hexdigest()
        days[day_id]["photographs"] = {"count": len(digests), "sha256": sha256}


def _refuse_foreign(facts: dict[str, Any], target: Path) -> None:
    with closing(_open(target)) as there:
        try:
            held = {day_id for (day_id,) in there.execute("SELECT id FROM days")}
        except sqlite3.DatabaseError:
            return  # damaged or empty: nothing there to protect, and it is set aside anyway
    if held and not held & set(facts["days"]):
        raise BackupRefused(
            f"{target} holds other days ({', '.join(sorted(held))}) than the backup; "
            "restore into an empty place with --database"
        )


def _set_aside(target: Path, now_ms: int) -> None:
    """Keep the database that is being replaced, as one file; refuse while anything has it open."""
    with closing(_open(target)) as there:
        try:
            # SQLite leaves WAL mode only when it is alone on the file, and brings the WAL home first
            mode = there.execute("PRAGMA journal_mode = DELETE").fetchone()[0]
        except sqlite3.OperationalError as error:
            raise BackupRefused(f"{target} is in use ({error}); stop the server first") from error
        except sqlite3.DatabaseError:
            mode = "damaged"  # that is what restoring is for: whatever it is, it is kept
    if mode == "wal":
        raise BackupRefused(f"{target} is in use; stop the server first")
    for suffix in ("", "-wal", "-shm"):
        file = target.with_name(target.name + suffix)
        if file.exists():
            file.rename(target.with_name(f"{target.name}.before-{now_ms}{suffix}"))
