"""The bell of a running server: it rings on real connections, lets go of phones that left, and stops when told to."""

from __future__ import annotations

import http.client
import json
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from a_server import Here
from people import DAY, GAFFER, GRIP
from phone_double import PhoneDouble, in_process, over_http
from server_process import ServerProcess

pytestmark = pytest.mark.slow
STREAMS = 50


class Stream:
    """One open stream."""

    def __init__(self, server: ServerProcess, token: str) -> None:
        self.connection = http.client.HTTPConnection(urlsplit(server.url).netloc, timeout=20)
        self.connection.request("GET", f"/api/days/{DAY}/bell", headers={"Authorization": f"Bearer {token}"})
        self.response = self.connection.getresponse()

    def next_ring(self) -> dict[str, int]:
        """Read on to the next ring."""
        while True:
            line = self.response.readline()
            if line.startswith(b"data: "):
                found: dict[str, int] = json.loads(line[6:])
                return found
            assert line, "the stream ended"

    def leave(self) -> None:
        """Go away without a word."""
        self.response.close()
        self.connection.close()


@pytest.fixture
def crew(tmp_path: Path) -> tuple[str, list[PhoneDouble]]:
    """A database and phones that joined before the server starts."""
    database = str(tmp_path / "day.sqlite3")
    here = Here(database)
    phones = [PhoneDouble(in_process(here.app), member, seed) for seed in range(STREAMS) for member in [GRIP]]
    code = here.code_for(GRIP, uses=STREAMS)
    for phone in phones:
        phone.join(code)
    phones.append(here.phone_of(GAFFER))
    here.close()
    return database, phones


def test_fifty_phones_hear_every_commit_and_are_let_go(
    crew: tuple[str, list[PhoneDouble]],
    start_server: Callable[[str], ServerProcess],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("TAILSLATE_HEARTBEAT_SECONDS", "0.2")
    monkeypatch.setenv("TAILSLATE_STREAMS_IN_ALL", str(STREAMS))
    database, phones = crew
    server = start_server(database)
    gaffer = phones.pop()
    gaffer.carry = over_http(server.url)
    streams = [Stream(server, phone.token) for phone in phones]
    first = [one.next_ring()["floor"] for one in streams]
    assert len(set(first)) == 1
    for place in range(100):
        gaffer.act("task", f"t-{place}", {"title": "check the cable run"})
        gaffer.exchange()
    reach = gaffer.last.json["sets"]["floor"]["reach"]
    assert reach == first[0] + 100
    for one in streams:
        heard = one.next_ring()["floor"]
        while heard < reach:  # rings that come quickly are one ring
            heard = one.next_ring()["floor"]
        assert heard == reach
    full = Stream(server, gaffer.token)
    assert full.response.status == 503
    for one in streams:
        one.leave()
    tries = (Stream(server, gaffer.token).response.status for _try in range(5000))
    assert any(status == 200 for status in tries), "streams of phones that left still count"


def test_a_server_told_to_stop_does_so_while_phones_listen(
    crew: tuple[str, list[PhoneDouble]], start_server: Callable[[str], ServerProcess]
) -> None:
    database, phones = crew
    server = start_server(database)
    gaffer = phones.pop()
    gaffer.carry = over_http(server.url)
    streams = [Stream(server, phone.token) for phone in phones]
    for one in streams:
        one.next_ring()
    edit = gaffer.act("task", "t-1", {"title": "check the cable run"})
    gaffer.exchange()
    assert server.stop() == 0
    for one in streams:
        one.leave()
    server.start()
    gaffer.carry = over_http(server.url)
    gaffer.exchange()
    assert gaffer.is_matched()
    assert edit.id in gaffer.confirmed
