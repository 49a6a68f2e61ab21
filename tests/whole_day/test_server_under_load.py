"""A running server with a whole crew on it, or with its plug pulled: what it confirmed is there, once, in one order."""

from __future__ import annotations

import json
import random
import sqlite3
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from a_server import Here
from people import DAY, GRIP, Pen
from phone_double import Carry, PhoneDouble, Reply, in_process, over_http
from server_process import ServerProcess
from tailslate.day import exchange

pytestmark = pytest.mark.slow
PATH = f"/api/days/{DAY}/exchange"
THREADS = 32
EXCHANGES = 200
KILLS = 50
WRITERS = 8


class Talker:
    """A phone reduced to its exchanges: sends one edit at a time, reads on from where it is."""

    def __init__(self, number: int, token: str, person: str) -> None:
        self.pen = Pen(person, incarnation=f"talker{number:04}", chance=random.Random(number))
        self.headers = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
        self.place = 0
        self.read: list[str] = []
        self.confirmed: set[str] = set()
        self.wrong: list[Any] = []

    def exchange(self, carry: Carry, texts: list[str]) -> Reply:
        """One exchange; what does not fit is noted in `wrong`."""
        body = {
            "protocol": exchange.PROTOCOL,
            "nonce": f"{self.pen.chance.getrandbits(64):x}",
            "rules": 1,
            "epoch": None,
            "sets": {"floor": {"place": self.place, "edits": texts}},
            "heard_of": [],
        }
        reply = carry("POST", PATH, json.dumps(body).encode(), self.headers)
        if reply.status != 200:
            return reply
        floor = reply.json["sets"]["floor"]
        if reply.json["nonce"] != body["nonce"] or floor["from"] != self.place:
            self.wrong.append(reply.json)
        self.confirmed.update(row[1] for row in floor["answers"] if row[0] in ("stored", "known"))
        self.read += [text for group in floor["groups"] for text in group["edits"]]
        self.place = floor["place"]
        return reply

    def read_to_the_end(self, carry: Carry) -> None:
        """Read until nothing is left."""
        while True:
            floor = self.exchange(carry, []).json["sets"]["floor"]
            if floor["place"] == floor["reach"]:
                return


def talkers(database: str, count: int) -> list[Talker]:
    """Make a day and devices on a database that no server has open yet."""
    here = Here(database)
    code = here.code_for(GRIP, uses=count)
    found = []
    for number in range(count):
        phone = PhoneDouble(in_process(here.app), GRIP, number)
        phone.join(code)
        found.append(Talker(number, phone.token, phone.person))
    here.close()
    return found


def together(work: Callable[[Talker], None], crew: list[Talker]) -> None:
    """Let every talker do its work at once; what breaks in one breaks the test."""
    broken: list[BaseException] = []

    def run(talker: Talker) -> None:
        try:
            work(talker)
        except Exception as error:  # noqa: BLE001  # raised below, in the test's own thread
            broken.append(error)

    threads = [threading.Thread(target=run, args=(talker,)) for talker in crew]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if broken:
        raise broken[0]


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A database of either kind, by its address."""
    if request.param == "sqlite":
        return str(tmp_path / "day.sqlite3")
    found: str = request.getfixturevalue("postgresql_url")
    return found


def test_thirty_two_phones_at_once_lose_nothing_and_read_one_order(
    database: str, start_server: Callable[[str], ServerProcess]
) -> None:
    crew = talkers(database, THREADS)
    server = start_server(database)
    statuses: list[int] = []

    def work(talker: Talker) -> None:
        carry = over_http(server.url)
        for edit in talker.pen.ticks(EXCHANGES):
            statuses.append(talker.exchange(carry, [edit.text]).status)

    together(work, crew)
    together(lambda talker: talker.read_to_the_end(over_http(server.url)), crew)
    assert statuses == [200] * (THREADS * EXCHANGES)
    assert [talker.wrong for talker in crew] == [[]] * THREADS
    assert [len(talker.confirmed) for talker in crew] == [EXCHANGES] * THREADS
    written = [text for text in crew[0].read if '"task"' in text]
    assert len(written) == len(set(written)) == THREADS * EXCHANGES
    assert all(talker.read == crew[0].read for talker in crew)  # a reader that was passed by would lack some


def test_d2_whatever_was_confirmed_outlives_fifty_kills(
    tmp_path: Path, start_server: Callable[[str], ServerProcess]
) -> None:
    database = str(tmp_path / "day.sqlite3")
    crew = talkers(database, WRITERS)
    server = start_server(database)
    chance = random.Random(20)
    is_up, is_over = threading.Event(), threading.Event()
    tally, more = [0], threading.Condition()
    is_up.set()

    def work(talker: Talker) -> None:
        carry = over_http(server.url)
        while not is_over.is_set():
            edits = talker.pen.ticks(chance.randint(1, 4))
            while not is_over.is_set() and not {edit.id for edit in edits} <= talker.confirmed:
                is_up.wait()
                before = len(talker.confirmed)
                talker.exchange(carry, [edit.text for edit in edits])
                with more:
                    tally[0] += len(talker.confirmed) - before
                    more.notify_all()

    writers = threading.Thread(target=together, args=(work, crew))
    writers.start()
    for _kill in range(KILLS):
        with more:
            goal = tally[0] + chance.randint(1, 60)
            assert more.wait_for(lambda goal=goal: tally[0] >= goal, timeout=60)
        is_up.clear()
        server.kill()
        server.start()
        is_up.set()
    is_over.set()
    writers.join()
    confirmed = {edit_id for talker in crew for edit_id in talker.confirmed}
    server.kill()
    rows = sqlite3.connect(database).execute("SELECT edit_id FROM edits ORDER BY order_number").fetchall()
    stored = [row[0] for row in rows]
    assert confirmed <= set(stored)
    assert len(stored) == len(set(stored))
    assert len(confirmed) > KILLS
    assert [talker.wrong for talker in crew] == [[]] * WRITERS
    (found,) = sqlite3.connect(database).execute("PRAGMA integrity_check").fetchone()
    assert found == "ok"
