"""Joining by code: what a code gives, what it does not, and how guessing is slowed down."""

from __future__ import annotations

import json
from typing import Any

import pytest

from a_server import HOUR_MS, Here
from people import ART_DIRECTOR, DAY, DAY_TITLE, GAFFER, GRIP, KEY_GRIP, PRODUCER, PROPS_BUYER
from phone_double import PhoneDouble, Reply, in_process
from tailslate.day import merge


def join(here: Here, code: str, **changes: Any) -> Reply:
    """Try to join as a grip, with some fields otherwise."""
    return PhoneDouble(in_process(here.app), GRIP).join(code, **changes)


def refusal(reply: Reply) -> tuple[int, str]:
    """Return status and code of a refusal."""
    return reply.status, reply.json["error"]["code"]


def test_a_code_makes_a_device_and_a_person_whom_everyone_sees(on_both: Here) -> None:
    gaffer = on_both.phone_of(GAFFER)
    joined = on_both.phone_of(ART_DIRECTOR)
    answer = joined.last.json
    assert (answer["day"], answer["day_title"], answer["sets"]) == (DAY, DAY_TITLE, ["floor", "health"])
    gaffer.exchange()
    cells = gaffer.cells("person", joined.person)
    shown = {key.rsplit("/", 1)[1]: cell[merge.LIVE][0][1] for key, cell in cells.items()}
    assert shown == {"name": "Sanne", "role": "Art director", "departments": ["art", "props"], "head": "yes"}


def test_the_token_is_kept_as_a_hash_only(here: Here) -> None:
    phone = here.phone_of(GRIP)
    with here.parts.database.engine.connect() as connection:
        dump = "".join(connection.connection.driver_connection.iterdump())  # type: ignore[union-attr]
    assert phone.token not in dump


@pytest.mark.parametrize("typed", ["{}", " {} ", "{lower}", "{bare}"])
def test_a_code_may_be_typed_as_people_type(here: Here, typed: str) -> None:
    code = here.code_for(GRIP)
    assert join(here, typed.format(code, lower=code.lower(), bare=code.replace("-", ""))).status == 201


def test_each_code_that_is_not_good_says_why(on_both: Here) -> None:
    assert refusal(join(on_both, "2222-2222")) == (403, "code_unknown")
    assert refusal(join(on_both, "no code")) == (403, "code_unknown")
    once = on_both.code_for(GRIP, uses=1)
    assert join(on_both, once).status == 201
    assert refusal(join(on_both, once)) == (403, "code_used_up")
    late = on_both.code_for(GRIP)
    on_both.now_ms += 24 * HOUR_MS
    assert refusal(join(on_both, late)) == (403, "code_expired")


def test_looking_at_the_join_page_uses_nothing_up(here: Here) -> None:
    code = here.code_for(GRIP, uses=1)
    for _visit in range(10):
        here.app.test_client().get("/join")
    assert join(here, code).status == 201


def test_a_code_opens_only_the_departments_that_it_was_made_for(on_both: Here) -> None:
    code = on_both.code_for(ART_DIRECTOR)
    assert refusal(join(on_both, code, departments=["art", "production"])) == (403, "department_not_invited")
    assert join(on_both, code, departments=["art"]).json["sets"] == ["floor"]
    assert join(on_both, code, departments=["props"]).json["sets"] == ["floor", "health"]


BAD_FIELDS: list[tuple[str, Any]] = [
    ("name", ""),
    ("name", "   "),
    ("name", None),
    ("name", "x" * 201),
    ("name", "half \ud800"),
    ("name", "nul \x00"),
    ("role", 7),
    ("departments", ["catering"]),
    ("departments", []),
    ("departments", "grip"),
    ("device_name", ""),
    ("device_name", "x" * 61),
    ("device_name", "nul \x00"),
    ("device_name", "half \udfff"),
    ("person", "a/b"),
    ("person", "x" * 201),
    ("person", "nul\x00"),
    ("code", None),
    ("code", 12345678),
]


def test_a_field_that_is_no_good_is_named_and_uses_nothing_up(on_both: Here) -> None:
    code = on_both.code_for(GRIP, uses=1)
    phone = PhoneDouble(in_process(on_both.app), GRIP)
    good = {"code": code, "name": "Milo", "role": "Grip", "departments": ["grip"], "device_name": "phone"}
    for field, value in BAD_FIELDS:
        reply = phone.ask("POST", "/api/join", json.dumps({**good, field: value}).encode())
        assert refusal(reply) == (400, "bad_field"), (field, value)
        assert field in reply.json["error"]["fields"], (field, value)
    assert join(on_both, code).status == 201


def test_coming_back_with_a_new_code_one_stays_the_same_person(on_both: Here) -> None:
    phone = on_both.phone_of(KEY_GRIP)
    again = on_both.phone_of(KEY_GRIP, seed=2, person=phone.person)
    assert again.person == phone.person
    assert again.device != phone.device
    again.exchange()
    assert len(again.cells("person", phone.person)[f"person/{phone.person}/name"][merge.LIVE]) == 1


def test_a_grip_s_code_makes_nobody_the_producer(on_both: Here) -> None:
    producer, key_grip = on_both.phone_of(PRODUCER), on_both.phone_of(KEY_GRIP)
    code = on_both.code_for(GRIP)
    assert refusal(join(on_both, code, person=producer.person)) == (403, "person_of_others")
    assert refusal(join(on_both, code, person=key_grip.person)) == (403, "person_of_others")


def test_guessing_is_slowed_down_per_address_and_joining_is_not(here: Here) -> None:
    good = here.code_for(PROPS_BUYER, uses=200)
    tried = [join(here, "3333-3333") for _guess in range(40)]
    assert [reply.status for reply in tried] == [403] * 20 + [429] * 20
    assert 0 < tried[-1].retry_after_s <= 60
    client = here.app.test_client()
    body = {"code": good, "name": "Bram", "role": "Props", "departments": ["props"], "device_name": "phone"}
    elsewhere = client.post("/api/join", json=body, environ_base={"REMOTE_ADDR": "10.0.0.9"})
    assert elsewhere.status_code == 201
    here.now_ms += 61_000
    assert join(here, good, departments=["props"]).status == 201


def test_eighty_phones_behind_one_address_join_at_once(here: Here) -> None:
    code = here.code_for(GRIP, uses=80)
    assert {join(here, code).status for _phone in range(80)} == {201}
    assert refusal(join(here, code)) == (403, "code_used_up")


def test_a_made_up_forwarding_header_changes_nothing(here: Here) -> None:
    client = here.app.test_client()
    body = {"code": "3333-3333", "name": "x", "role": "", "departments": ["grip"], "device_name": "phone"}
    statuses = [
        client.post("/api/join", json=body, headers={"X-Forwarded-For": f"10.0.0.{place}"}).status_code
        for place in range(25)
    ]
    assert statuses == [403] * 20 + [429] * 5


def test_with_one_proxy_of_ours_only_its_own_word_counts(tmp_path: Any) -> None:
    here = Here(str(tmp_path / "day.sqlite3"), PROXY_HOPS=1, FAILED_JOINS=1)
    client = here.app.test_client()
    body = {"code": "3333-3333", "name": "x", "role": "", "departments": ["grip"], "device_name": "phone"}

    def tried(forwarded: str) -> int:
        return client.post("/api/join", json=body, headers={"X-Forwarded-For": forwarded}).status_code

    assert [tried("1.1.1.1, 10.0.0.1"), tried("2.2.2.2, 10.0.0.1"), tried("2.2.2.2, 10.0.0.2")] == [
        403,
        429,
        403,
    ]
