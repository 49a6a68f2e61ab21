"""A whole day as one file, and back: every edit as it was written. Taking a file in twice changes nothing.

{"file": "tailslate-day-1", "day": id, "title": text, "sets": {"floor": [text, ...], "health": [text, ...]}}
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from sqlalchemy import select

from tailslate.day.edit import RECORD_ID, SETS
from tailslate.store.database import Database
from tailslate.store.edits import add_day, lock_day
from tailslate.store.intake import Carrier, NoSuchDay, Office
from tailslate.store.tables import Day, StoredEdit

FORMAT = "tailslate-day-1"
AT_ONCE = 500


class FileRefused(Exception):
    """A file that is no day, with what to do."""


def write_day(database: Database, day_id: str, *, with_health: bool) -> dict[str, Any]:
    """Return a day as its file holds it; health data only when asked for.

    Raises: NoSuchDay.
    """
    with database.reading() as session:
        day = session.get(Day, day_id)
        if day is None:
            raise NoSuchDay(day_id)
        held: dict[str, list[str]] = {}
        for name in SETS if with_health else ("floor",):
            texts = session.scalars(
                select(StoredEdit.text)
                .where(StoredEdit.day_id == day_id, StoredEdit.set_name == name)
                .order_by(StoredEdit.order_number)
            )
            held[name] = [text.decode("utf-8") for text in texts]
        return {"file": FORMAT, "day": day.id, "title": day.title, "sets": held}


def read_file(file: Path) -> dict[str, Any]:
    """Return what a file holds.

    Raises: FileRefused.
    """
    try:
        found = json.loads(file.read_text(encoding="utf-8"))
    except (ValueError, RecursionError) as error:
        raise FileRefused(f"{file} is not whole JSON in UTF-8; export the day again") from error
    if not isinstance(found, dict) or found.get("file") != FORMAT:
        raise FileRefused(f"{file} is no day ({FORMAT}); choose a file that `tailslate export` wrote")
    sets = found.get("sets")
    is_named = RECORD_ID.fullmatch(str(found.get("day"))) and isinstance(found.get("title"), str)
    if (
        not is_named
        or not isinstance(sets, dict)
        or not all(isinstance(sets.get(name, []), list) for name in SETS)
    ):
        raise FileRefused(f"{file} lacks its day, title or sets; export the day again")
    return {**found, "sets": {name: sets[name] for name in SETS if name in sets}}


def take_day(database: Database, office: Office, found: dict[str, Any], now_ms: int) -> dict[str, int]:
    """Store what a file holds, as edits that anyone brings; return how many were stored, known and refused.

    Whoever runs the server answers for the file: what another server wrote in it is taken as that server's.
    """
    day_id = found["day"]
    arrivals = office.read(found["sets"], day_id=day_id, trusts_servers=True)
    words: list[str] = []
    with database.writing() as session:
        if lock_day(session, day_id) is None:
            add_day(session, day_id=day_id, title=found["title"], now_ms=now_ms)
        for set_name, rows in arrivals.items():
            # verdicts first: what they are about is then not judged a second time
            rows.sort(key=lambda one: one.edit is None or one.edit.kind != "verdict")
            for start in range(0, len(rows), AT_ONCE):
                page = {set_name: rows[start : start + AT_ONCE]}
                answers = office.take(session, page, day_id=day_id, carrier=Carrier(), now_ms=now_ms)
                words += [answer[0] for answer in answers[set_name]]
    return {word: words.count(word) for word in ("stored", "known", "refused")}
