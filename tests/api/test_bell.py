"""The bell in this process: what rings, for whom, and that no stream keeps anything after it ends."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from werkzeug.test import TestResponse

from a_server import Here
from people import DAY, GAFFER, GRIP, PRODUCER, PROPS_BUYER
from phone_double import PhoneDouble

PATH = f"/api/days/{DAY}/bell"


def listen(here: Here, phone: PhoneDouble) -> TestResponse:
    """Open a stream whose lines are read one by one."""
    return here.app.test_client().get(
        PATH, headers={"Authorization": f"Bearer {phone.token}"}, buffered=False
    )


def lines(response: TestResponse) -> Iterator[str]:
    """Return what the stream says, block by block."""
    return (block.decode() if isinstance(block, bytes) else block for block in response.iter_encoded())


def next_places(said: Iterator[str]) -> str:
    """Return the data of the next ring, past padding and heartbeats."""
    return next(block.split("data: ")[1].strip() for block in said if block.startswith("event: bell"))


@pytest.fixture
def quick(tmp_path: Path) -> Iterator[Here]:
    """A server whose heart beats fast."""
    server = Here(str(tmp_path / "day.sqlite3"), HEARTBEAT_SECONDS=0.01)
    yield server
    server.close()


def test_it_rings_at_once_and_after_each_commit(quick: Here) -> None:
    gaffer, grip = quick.phone_of(GAFFER), quick.phone_of(GRIP)
    response = listen(quick, gaffer)
    said = lines(response)
    first = next_places(said)
    grip.act("task", "t-1", {"title": "bag the stand"})
    grip.exchange()
    reach = grip.last.json["sets"]["floor"]["reach"]
    assert first == f'{{"floor":{reach - 1}}}'
    assert next_places(said) == f'{{"floor":{reach}}}'
    response.close()
    assert len(quick.parts.bell) == 0


def test_the_health_set_rings_only_where_it_may_be_held(quick: Here) -> None:
    gaffer, props = quick.phone_of(GAFFER), quick.phone_of(PROPS_BUYER)
    streams = [listen(quick, phone) for phone in (gaffer, props)]
    assert ["health" in next_places(lines(one)) for one in streams] == [False, True]
    for one in streams:
        one.close()


def test_a_phone_taken_off_the_day_hears_no_more(quick: Here) -> None:
    producer, lost = quick.phone_of(PRODUCER), quick.phone_of(GRIP)
    response = listen(quick, lost)
    said = lines(response)
    next_places(said)
    producer.ask("POST", f"/api/days/{DAY}/devices/{lost.device}/revoke")
    assert list(said) == []
    assert len(quick.parts.bell) == 0
    assert listen(quick, lost).status_code == 403


def test_one_taken_off_by_another_process_is_cut_at_the_next_heartbeat(quick: Here) -> None:
    producer, lost = quick.phone_of(PRODUCER), quick.phone_of(GRIP)
    said = lines(listen(quick, lost))
    next_places(said)
    office = Here(quick.database, opens_day=False)
    office.reconnect(producer)
    producer.ask("POST", f"/api/days/{DAY}/devices/{lost.device}/revoke")
    assert all(block.startswith(":") for block in said)
    office.close()


def test_a_third_stream_of_a_phone_ends_its_first(quick: Here) -> None:
    phone = quick.phone_of(GRIP)
    first, second, third = (listen(quick, phone) for _stream in range(3))
    assert [block for block in lines(first) if block.startswith("event")] == []
    assert len(quick.parts.bell) == 2
    for one in (first, second, third):
        one.close()


def test_when_as_many_listen_as_may_the_next_is_told_to_wait(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "day.sqlite3"), STREAMS_IN_ALL=2)
    phones = [here.phone_of(GRIP, seed=seed) for seed in range(3)]
    streams = [listen(here, phone) for phone in phones]
    assert [one.status_code for one in streams] == [200, 200, 503]
    assert streams[2].json
    assert streams[2].json["error"]["code"] == "bell_full"
    assert int(streams[2].headers["Retry-After"]) > 0
    streams[0].close()
    assert listen(here, phones[2]).status_code == 200


def test_a_stream_ends_by_itself_and_a_stopping_server_ends_all(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "day.sqlite3"), STREAM_SECONDS=0)
    assert not [block for block in lines(listen(here, here.phone_of(GRIP))) if block.startswith("event")]
    assert len(here.parts.bell) == 0
    lasting = Here(str(tmp_path / "other.sqlite3"))
    streams = [listen(lasting, lasting.phone_of(GRIP, seed=seed)) for seed in range(3)]
    lasting.parts.bell.close()
    assert [[block for block in lines(one) if block.startswith("event")] for one in streams] == [[], [], []]


def test_d3_no_stream_holds_a_connection_to_the_database(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "day.sqlite3"), HEARTBEAT_SECONDS=0.01)
    streams = [listen(here, here.phone_of(GRIP, seed=seed)) for seed in range(50)]
    said = [lines(one) for one in streams]
    for one in said:
        next_places(one)
        next(one)  # a heartbeat, which looks the device up
    assert len(here.parts.bell) == 50
    assert here.parts.database.engine.pool.checkedout() == 0  # type: ignore[attr-defined]
    grip = here.phone_of(GRIP, seed=99)
    for place in range(100):
        grip.act("task", f"t-{place}", {"title": "x"})
        grip.round()
    assert not any(grip.unsent().values())
    for one in streams:
        one.close()
    assert len(here.parts.bell) == 0


def test_proxies_are_told_to_pass_it_on(here: Here) -> None:
    response = listen(here, here.phone_of(GRIP))
    assert response.mimetype == "text/event-stream"
    assert response.headers["Cache-Control"] == "no-store, no-transform"
    assert response.headers["X-Accel-Buffering"] == "no"
    said = lines(response)
    assert len(next(said)) > 2048
    assert next(said).startswith("retry: ")
    response.close()
