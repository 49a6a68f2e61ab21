"""Measures a server: row J. `PYTHONPATH=tests:backend python tests/bench/server.py`, options by environment as in run.mjs.

J  exchange throughput against plain batched inserts of the same rows into the same tables, both on the disk before they
   are answered; then 200 phones that come back at once, each with what it did and all that it missed.
ROUNDS=3 EDITS=10000 PHONES=200. Absolute times mean little; the ratio counts.
"""

from __future__ import annotations

import json
import os
import re
import sqlite3
import statistics
import sys
import tempfile
import threading
import time
from pathlib import Path
from typing import Any

from people import GRIP, Pen
from phone_double import PhoneDouble, over_http
from server_process import ServerProcess, command
from tailslate.day.edit import Edit
from tailslate.day.exchange import PROTOCOL
from tailslate.day.kinds import RULES

ROUNDS = int(os.environ.get("ROUNDS", "3"))
EDITS = int(os.environ.get("EDITS", "10000"))
PHONES = int(os.environ.get("PHONES", "200"))
AT_ONCE = 500  # edits in one request: what the rules allow
SENDERS = 4
OWN, MISSED = 20, 500  # edits that a phone brings, and that it has not read
COLUMNS = "day_id, set_name, order_number, edit_id, text, kind, record, author, incarnation, counter, received_ms, carrier"


def work(pen: Pen, count: int) -> list[Edit]:
    """Return edits as a day has them: ticks with what they are for, and figures."""
    return [
        pen.write(
            "task",
            f"t{place % 800}",
            {"done": ["done", [[f"task/t{place % 800}/title", f"Bag stand {place}"]]]},
        )
        if place % 2
        else pen.write(
            "level", f"l{place % 400}", {"distance_m": [f"2.{place % 90 + 10}", f"2.{place % 90 + 10} m"]}
        )
        for place in range(count)
    ]


def send(phone: PhoneDouble, edits: list[Edit], place: int = 0) -> tuple[int, int, float]:
    """Send edits; return the place after the reply, the place to reach, and how long [s] the answer took."""
    body: dict[str, Any] = {
        "protocol": PROTOCOL,
        "nonce": "bench",
        "rules": RULES,
        "epoch": None,
        "lines": True,
    }
    body["sets"] = {"floor": {"place": place, "edits": [one.text for one in edits]}}
    octets = json.dumps(body).encode()
    start = time.perf_counter()
    reply = phone.ask("POST", f"/api/days/{phone.day}/exchange", octets)
    took = time.perf_counter() - start
    if reply.status != 200:
        raise SystemExit(f"the server answered {reply.status}: {reply.octets[:300]!r}")
    floor = reply.json["sets"]["floor"]
    if [one[0] for one in floor["answers"]] != ["stored"] * len(edits):
        raise SystemExit(f"not stored: {floor['answers'][:3]}")
    return int(floor["place"]), int(floor["reach"]), took


def inserted(database: Path, day: str, edits: list[Edit]) -> float:
    """Return the time [s] of plain inserts of these edits, a transaction for as many as a request holds."""
    connection = sqlite3.connect(database, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL").close()
    connection.execute("PRAGMA synchronous = FULL").close()
    sql = f"insert into edits ({COLUMNS}) values ({', '.join('?' * (COLUMNS.count(',') + 1))})"
    rows = [
        (day, "floor", 10**6 + place, one.id, one.text.encode(), one.kind, one.record, one.by, one.incarnation,
         one.counter, one.at_ms, "bench")
        for place, one in enumerate(edits)
    ]  # fmt: skip
    start = time.perf_counter()
    for first in range(0, len(rows), AT_ONCE):
        connection.execute("BEGIN IMMEDIATE")
        connection.executemany(sql, rows[first : first + AT_ONCE])
        connection.execute("COMMIT")
    took = time.perf_counter() - start
    connection.close()
    return took


def sent_by(url: str, phones: list[PhoneDouble]) -> tuple[float, int]:
    """Return the time [s] in which the server took in what a few phones have to send, and how far it reaches now."""
    own = [work(phone.pen, EDITS // len(phones)) for phone in phones]
    reaches: list[int] = []
    gate = threading.Barrier(len(phones) + 1, timeout=60)

    def send_all(at: int) -> None:
        phones[at].carry = over_http(url, timeout_s=60)
        place, reach, _took = send(phones[at], [])
        gate.wait()
        for first in range(0, len(own[at]), AT_ONCE):
            place, reach, _took = send(phones[at], own[at][first : first + AT_ONCE], place)
        reaches.append(reach)

    threads = [threading.Thread(target=send_all, args=(at,)) for at in range(len(phones))]
    for thread in threads:
        thread.start()
    gate.wait()
    start = time.perf_counter()
    for thread in threads:
        thread.join()
    return time.perf_counter() - start, max(reaches)


def back_at_once(url: str, phones: list[PhoneDouble], place_then: int) -> list[float]:
    """Return how long [s] each request took: all phones at the same moment, each until it has read on to the end."""
    gate = threading.Barrier(len(phones), timeout=60)
    times: list[float] = []

    def come_back(phone: PhoneDouble) -> None:
        own = work(phone.pen, OWN)
        phone.carry = over_http(url, timeout_s=60)
        gate.wait()
        before, place = -1, place_then
        while place != before:
            before = place
            place, _reach, took = send(phone, own, place)
            times.append(took)
            own = []

    threads = [threading.Thread(target=come_back, args=(phone,)) for phone in phones]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return times


def measure(folder: Path) -> tuple[float, float, list[float]]:
    """Return the times [s] of plain inserts, of exchanges, and of the requests of phones that are back at once."""
    database = folder / "day.sqlite"
    server = ServerProcess(str(database), folder)
    server.start()
    try:
        told = command("invite", "--database", str(database), "--department", "grip", "--uses", str(PHONES))
        code = re.findall(r"[A-Z0-9]{4}-[A-Z0-9]{4}", told)[0]
        phones = [PhoneDouble(over_http(server.url), GRIP, seed) for seed in range(PHONES)]
        for one in phones:
            if one.join(code).status != 201:
                raise SystemExit(f"nobody could join: {one.last}")
        exchanged, reach = sent_by(server.url, phones[:SENDERS])
        other = Pen(GRIP.person, day=phones[0].day, incarnation="plain00001")
        plain = inserted(database, other.day, work(other, EDITS))
        return plain, exchanged, back_at_once(server.url, phones, reach - MISSED)
    finally:
        server.stop()


def say(line: str) -> None:
    """Write one line, at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def main() -> None:
    """Measure, and say how it stands to the budgets."""
    say(f"load {os.getloadavg()[0]:.1f}")
    ratios, slowest = [], []
    for _round in range(ROUNDS):
        with tempfile.TemporaryDirectory() as folder:
            plain, exchanged, times = measure(Path(folder))
        ratios.append(plain / exchanged)
        slowest.append(max(times))
        say(
            f"plain {plain * 1e6 / EDITS:.0f} us an edit, exchange {exchanged * 1e6 / EDITS:.0f} us,"
            f" {len(times)} requests of {PHONES} phones: median {statistics.median(times):.2f} s,"
            f" slowest {max(times):.2f} s"
        )
    for held, said in (
        (
            statistics.median(ratios) >= 1 / 3,
            f"throughput {statistics.median(ratios):.2f} of plain, at least 0.33",
        ),
        (max(slowest) <= 5, f"slowest request {max(slowest):.2f} s, at most 5"),
    ):
        say(f"{'holds ' if held else 'FAILS '} J: {said}")


if __name__ == "__main__":
    main()
