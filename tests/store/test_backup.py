"""Backups taken while phones write, checked, restored, and refilled.

Source: SQLite documentation, "How To Corrupt An SQLite Database File" (copying a file in use) and "Backup API".
"""

from __future__ import annotations

import json
import random
import sqlite3
import threading
from pathlib import Path

import pytest

from a_server import Here
from people import GAFFER, GRIP, KEY_GRIP
from tailslate.day import exchange
from tailslate.store.backup import FACTS_SUFFIX, BackupRefused, back_up, restore, verify
from tailslate.store.intake import Carrier


def test_a_copy_of_the_file_alone_lacks_what_a_backup_has(here: Here, tmp_path: Path) -> None:
    phone = here.phone_of(GRIP)
    for one in phone.pen.ticks(100):
        phone.keep([one])
    phone.exchange()
    copied = tmp_path / "copied.sqlite3"
    copied.write_bytes(Path(here.database).read_bytes())
    back_up(Path(here.database), tmp_path / "backup.sqlite3", 1)

    def count(file: Path) -> int:
        try:
            return int(sqlite3.connect(file).execute("SELECT count(*) FROM edits").fetchone()[0])
        except sqlite3.DatabaseError:
            return 0

    assert count(tmp_path / "backup.sqlite3") == len(here.edits())
    assert count(copied) < len(here.edits())


def test_b1_backups_under_load_each_hold_a_committed_beginning(here: Here, tmp_path: Path) -> None:
    phone, stop = here.phone_of(GRIP), threading.Event()

    def work() -> None:
        place = 0
        while not stop.is_set():
            place += 1
            phone.keep(phone.pen.ticks(3))
            phone.round()

    thread = threading.Thread(target=work)
    thread.start()
    files = [tmp_path / f"backup-{place}.sqlite3" for place in range(20)]
    facts = [back_up(Path(here.database), file, place) for place, file in enumerate(files)]
    stop.set()
    thread.join()
    everything = here.edits()
    counts = []
    for file, said in zip(files, facts, strict=True):
        assert verify(file) == said
        rows = (
            sqlite3.connect(file)
            .execute("SELECT edit_id FROM edits ORDER BY set_name, order_number")
            .fetchall()
        )
        held = [row[0] for row in rows]
        assert held == everything[: len(held)]
        counts.append(len(held))
    assert counts == sorted(counts)
    assert counts[0] < counts[-1]


def test_b2_a_server_restored_from_last_night_is_refilled_by_the_phones(here: Here, tmp_path: Path) -> None:
    phones = [here.phone_of(member) for member in (GRIP, KEY_GRIP, GAFFER)]
    for phone in phones:
        phone.keep(phone.pen.ticks(10))
        phone.exchange()
    backup = tmp_path / "backup.sqlite3"
    back_up(Path(here.database), backup, 1)
    hold = phones[1].act("hold", "h-1", {"why": "cable is hot", "type": "stop"})
    phones[0].exchange()
    cleared = phones[2].act("hold", "h-1", {"cleared": ["done", []]})
    for _again in range(2):
        for phone in phones:
            phone.keep(phone.pen.ticks(200))
            phone.exchange()
    wanted = set(here.edits())
    verdicts = phones[0].verdicts(cleared.id)
    assert [row[0] for row in verdicts] == ["counts"]

    here.close()
    restore(backup, Path(here.database), here.now_ms)
    here.open()
    assert set(here.edits()) < wanted
    late, others = phones[1], [phones[0], phones[2]]
    random.Random(5).shuffle(others)
    for phone in others:
        here.reconnect(phone)
        phone.exchange()
    assert set(here.edits()) >= wanted - {hold.id} - set(late.texts["floor"])
    here.reconnect(late)
    for phone in [late, *others]:
        phone.exchange()
    assert wanted <= set(here.edits())
    for phone in phones:
        assert set(phone.texts["floor"]) == set(here.edits())
        assert phone.is_matched()
        assert not exchange.completeness(
            phone.state,
            marks={"floor": exchange.add_to_marks({}, list(phone.texts["floor"]))},
            absent=[],
            voids=[],
        )
        assert {row[0] for row in phone.verdicts(cleared.id)} == {"counts"}


def test_i5_a_restored_server_that_judged_anew_lets_the_first_verdict_stand(
    here: Here, tmp_path: Path
) -> None:
    """Its person record came back after the clearance: what was 'counts' may not end as 'out'."""
    backup = tmp_path / "backup.sqlite3"
    phone = here.phone_of(GRIP)
    back_up(Path(here.database), backup, 1)
    in_backup = here.edits()
    head = here.phone_of(KEY_GRIP)
    cleared = head.act("hold", "h-1", {"cleared": ["done", []]})
    head.exchange()
    phone.exchange()
    here.close()
    restore(backup, Path(here.database), here.now_ms)
    here.open()
    here.reconnect(phone)
    texts = {one.id: one for one in phone.edits() if one.id not in in_backup}
    alone = [texts[cleared.id]]
    rest = [one for one in texts.values() if one.id != cleared.id and one.kind != "verdict"]
    verdicts = [one for one in texts.values() if one.kind == "verdict"]
    for batch in (alone, rest, verdicts):
        arrivals = here.parts.office.read({"floor": [one.text for one in batch]}, day_id=phone.day)
        with here.parts.database.writing() as session:
            here.parts.office.take(
                session,
                arrivals,
                day_id=phone.day,
                carrier=Carrier(phone.device, phone.person),
                now_ms=here.now_ms,
            )
    phone.exchange()
    assert phone.cells("hold", "h-1")["hold/h-1/cleared"][1][0][0] == cleared.id


def test_the_database_that_was_there_is_kept_beside_the_restored_one(here: Here, tmp_path: Path) -> None:
    backup = tmp_path / "backup.sqlite3"
    back_up(Path(here.database), backup, 1)
    phone = here.phone_of(GRIP)
    here.close()
    restore(backup, Path(here.database), 77)
    kept = sqlite3.connect(f"{here.database}.before-77")
    assert kept.execute("SELECT count(*) FROM devices WHERE id = ?", (phone.device,)).fetchone() == (1,)
    here.open()


def test_a_restore_while_a_server_has_the_file_open_is_refused(here: Here, tmp_path: Path) -> None:
    here.phone_of(GRIP)
    backup = tmp_path / "backup.sqlite3"
    back_up(Path(here.database), backup, 1)
    before = here.edits()
    with pytest.raises(BackupRefused, match="stop the server"):
        restore(backup, Path(here.database), 2)
    assert here.edits() == before


def test_a_backup_of_other_days_is_refused(here: Here, tmp_path: Path) -> None:
    other = Here(str(tmp_path / "other.sqlite3"))
    with other.parts.database.writing() as session:
        session.connection().exec_driver_sql("PRAGMA defer_foreign_keys = ON")
        for table, column in (
            ("edits", "day_id"),
            ("day_sets", "day_id"),
            ("incarnation_marks", "day_id"),
            ("days", "id"),
        ):
            session.connection().exec_driver_sql(f"UPDATE {table} SET {column} = 'another-day'")
    backup = tmp_path / "backup.sqlite3"
    back_up(Path(other.database), backup, 1)
    here.close()
    with pytest.raises(BackupRefused, match="other days"):
        restore(backup, Path(here.database), 2)
    here.open()


@pytest.mark.parametrize("harm", ["cut", "altered", "no facts", "not ours"])
def test_a_backup_that_is_not_what_it_was_is_refused(here: Here, tmp_path: Path, harm: str) -> None:
    phone = here.phone_of(GRIP)
    phone.keep(phone.pen.ticks(200))
    phone.exchange()
    backup = tmp_path / "backup.sqlite3"
    back_up(Path(here.database), backup, 1)
    octets = backup.read_bytes()
    facts = tmp_path / ("backup.sqlite3" + FACTS_SUFFIX)
    if harm == "cut":
        backup.write_bytes(octets[: len(octets) // 2])
    elif harm == "altered":
        backup.write_bytes(octets.replace(b'"done"', b'"gone"', 1))
    elif harm == "no facts":
        facts.unlink()
    else:
        backup.write_bytes(b"a shopping list, not a database")
    here.close()
    with pytest.raises(BackupRefused):
        restore(backup, Path(here.database), 2)
    here.open()
    assert len(here.edits()) > 200


def test_a_backup_never_replaces_one_and_says_what_it_holds(here: Here, tmp_path: Path) -> None:
    backup = tmp_path / "backup.sqlite3"
    facts = back_up(Path(here.database), backup, 5)
    assert json.loads((tmp_path / ("backup.sqlite3" + FACTS_SUFFIX)).read_text()) == facts
    assert facts["days"]["night-crossing"]["floor"]["count"] == len(here.edits())
    with pytest.raises(BackupRefused, match="never replaces"):
        back_up(Path(here.database), backup, 6)
    with pytest.raises(BackupRefused, match="no database"):
        back_up(tmp_path / "nowhere.sqlite3", tmp_path / "b", 6)
