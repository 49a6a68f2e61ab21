"""The next day, made by whoever heads production: like this one or empty, once however often it is asked for."""

from __future__ import annotations

from typing import Any

import pytest

from a_server import Here
from people import DAY, GAFFER, GRIP, KEY_GRIP, PRODUCER, CrewMember
from phone_double import PhoneDouble, in_process
from tailslate.day import merge

NEXT = f"/api/days/{DAY}/next"
WISH = {"title": "Night Crossing, day 5", "wish": "wish000001"}


def joined(here: Here, member: CrewMember, code: str) -> PhoneDouble:
    """Return a phone that joined with a code and has read the day."""
    phone = PhoneDouble(in_process(here.app), member, seed=2)
    assert phone.join(code).status == 201, phone.last.octets
    phone.exchange()
    return phone


def shown(phone: PhoneDouble, kind: str, record: str) -> dict[str, Any]:
    """Return what a phone shows of a record."""
    cells = phone.cells(kind, record)
    return {key.rsplit("/", 1)[1]: cell[merge.LIVE][0][1] for key, cell in cells.items() if cell[merge.LIVE]}


def test_it_is_like_this_one_without_its_states_and_all_are_expected_on_it(on_both: Here) -> None:
    grip = on_both.phone_of(KEY_GRIP)
    grip.act("shot", "12c", {"number": "12C", "title": "Over the Gambler", "phase": "done"})
    grip.act("rig", "stand-1", {"title": "Stand 1", "bags": 2, "safety_on": ["done", []]})
    grip.exchange()
    producer = on_both.phone_of(PRODUCER)
    reply = producer.ask("POST", NEXT, WISH)
    assert reply.status == 201, reply.octets
    made = reply.json
    assert made["day_title"] == "Night Crossing, day 5"
    assert made["own"]["link"].endswith("/join#" + made["own"]["code"])
    hers = joined(on_both, PRODUCER, made["own"]["code"])
    assert (hers.day, hers.person) == (made["day"], producer.person), "she is who she was"
    assert shown(hers, "shot", "12c") == {"number": "12C", "title": "Over the Gambler"}
    assert shown(hers, "rig", "stand-1") == {"title": "Stand 1", "bags": 2}
    again = joined(on_both, KEY_GRIP, made["heads"]["code"])
    assert again.person == grip.person
    assert shown(again, "person", grip.person)["head"] == "yes"
    others = joined(on_both, GRIP, made["crew"]["code"])
    assert shown(others, "person", others.person)["head"] == "no"


def test_a_code_for_the_crew_makes_nobody_the_head_who_has_that_name(here: Here) -> None:
    grip = here.phone_of(KEY_GRIP)
    made = here.phone_of(PRODUCER).ask("POST", NEXT, WISH).json
    again = joined(here, KEY_GRIP, made["crew"]["code"])
    assert again.person != grip.person
    assert shown(again, "person", again.person)["head"] == "no"


def test_an_empty_day_has_its_title_alone(here: Here) -> None:
    producer = here.phone_of(PRODUCER)
    producer.act("shot", "12c", {"number": "12C"})
    producer.exchange()
    made = producer.ask("POST", NEXT, {**WISH, "like": False}).json
    hers = joined(here, PRODUCER, made["own"]["code"])
    assert shown(hers, "day", made["day"]) == {"title": "Night Crossing, day 5"}
    assert shown(hers, "shot", "12c") == {}


def test_asked_again_it_is_the_same_day_and_its_edits_are_there_once(here: Here) -> None:
    producer = here.phone_of(PRODUCER)
    first, second = (producer.ask("POST", NEXT, WISH).json for _time in range(2))
    before = len(here.edits())
    third = producer.ask("POST", NEXT, {**WISH, "title": "Another"}).json
    assert first["day"] == second["day"] == third["day"]
    assert third["day_title"] == "Night Crossing, day 5"
    assert len(here.edits()) == before
    assert producer.ask("POST", NEXT, {**WISH, "wish": "wish000002"}).json["day"] != first["day"]


def test_another_phone_s_wish_of_the_same_name_is_another_day(here: Here) -> None:
    made = [here.phone_of(PRODUCER, seed=seed).ask("POST", NEXT, WISH).json["day"] for seed in (1, 2)]
    assert made[0] != made[1]


@pytest.mark.parametrize(
    ("member", "code"),
    [
        (KEY_GRIP, "production_only"),
        (GAFFER, "production_only"),
        (CrewMember("Pia", "Runner", ("production",)), "head_of_production_only"),
    ],
)
def test_nobody_else_makes_one(here: Here, member: CrewMember, code: str) -> None:
    reply = here.phone_of(member).ask("POST", NEXT, WISH)
    assert (reply.status, reply.json["error"]["code"]) == (403, code)
    assert reply.json["error"]["request_id"]


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"wish": "wish000001"}, "title"),
        ({"title": "  ", "wish": "wish000001"}, "title"),
        ({"title": "Day 5"}, "wish"),
        ({"title": "Day 5", "wish": "../../x"}, "wish"),
    ],
)
def test_what_is_missing_is_named(here: Here, body: dict[str, Any], field: str) -> None:
    reply = here.phone_of(PRODUCER).ask("POST", NEXT, body)
    assert (reply.status, list(reply.json["error"]["fields"])) == (400, [field])
