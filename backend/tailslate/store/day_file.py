"""A whole day between the database and its file; what a file is, day/day_file.py says. Taken in twice it changes nothing."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from sqlalchemy import select

from tailslate.craft.errors import RuleError
from tailslate.day import day_file
from tailslate.day.edit import SETS
from tailslate.store.database import Database
from tailslate.store.edits import add_day, lock_day
from tailslate.store.intake import Carrier, NoSuchDay, Office
from tailslate.store.tables import Day, StoredEdit

AT_ONCE = 500
FAULTS_TOLD = 5


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
        return day_file.whole(day.id, day.title, held)


def read_file(file: Path, *, only_whole: bool = False) -> dict[str, Any]:
    """Return what a file holds, whole or not at all; with `only_whole` the edits of it that are whole.

    Raises: FileRefused.
    """
    text = file.read_text(encoding="utf-8", errors="replace")
    found, is_cut = _parsed(text)
    if found is None and only_whole:
        found, is_cut = _parsed(day_file.closed(text))[0], True
    if found is None:
        raise FileRefused(
            f"{file} is not whole JSON in UTF-8; export the day again, or take what is whole with --only-whole"
        )
    sets = found.get("sets") if isinstance(found, dict) else None
    is_lists = isinstance(sets, dict) and all(isinstance(texts, list) for texts in sets.values())
    counts = {name: len(texts) for name, texts in sets.items()} if sets is not None and is_lists else None
    head = {**found, "sets": counts} if isinstance(found, dict) else found
    try:
        faults = day_file.read_head(head, size_bytes=len(text))
    except RuleError as error:
        raise FileRefused(f"{file}: {error.sentence}") from error
    assert isinstance(sets, dict)  # read_head refused it otherwise
    whole: dict[str, list[str]] = {}
    for name, texts in sets.items():
        taken, more = day_file.read_page(
            texts,
            day=found["day"],
            part=name,
            digests=day_file.digests_of(found, name),
            judged={},  # whoever runs the server answers for the servers whose word is in the file
        )
        whole[name] = [one.text for one in taken if one]
        faults += more
    if (faults or is_cut) and not only_whole:
        raise FileRefused(_told(file, faults))
    return {"day": found["day"], "title": found["title"], "sets": whole}


def _parsed(text: str) -> tuple[Any, bool]:
    try:
        return json.loads(text), False
    except (ValueError, RecursionError):
        return None, True


def _told(file: Path, faults: list[dict[str, Any]]) -> str:
    lines = [
        f"{one['part']}{', edit ' + str(one['place']) if one['place'] else ''}: {one['sentence']}"
        for one in faults[:FAULTS_TOLD]
    ]
    more = [f"and {len(faults) - FAULTS_TOLD} more"] if len(faults) > FAULTS_TOLD else []
    last = "nothing was taken in; take what is whole with --only-whole"
    return "\n".join([f"{file} is damaged", *lines, *more, last])


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
