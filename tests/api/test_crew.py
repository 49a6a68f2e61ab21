"""Production's own routes: invitations, devices, taking one off the day, and its word on parked edits."""

from __future__ import annotations

import json

import pytest

from a_server import Here
from people import DAY, GAFFER, GRIP, KEY_GRIP, PRODUCER, Pen
from phone_double import PhoneDouble, in_process
from tailslate.day import merge

INVITATIONS, DEVICES = f"/api/days/{DAY}/invitations", f"/api/days/{DAY}/devices"


def take_off(producer: PhoneDouble, phone: PhoneDouble) -> None:
    """Let production take a phone off the day."""
    assert producer.ask("POST", f"{DEVICES}/{phone.device}/revoke").status == 200


def test_production_invites_and_the_code_works(on_both: Here) -> None:
    producer = on_both.phone_of(PRODUCER)
    made = producer.ask("POST", INVITATIONS, {"departments": ["grip", "electric"], "uses": 2})
    assert made.status == 201
    assert made.json["link"].endswith("/join#" + made.json["code"])
    phone = PhoneDouble(in_process(on_both.app), GRIP)
    assert phone.join(made.json["code"]).status == 201
    (listed,) = (
        one for one in producer.ask("GET", INVITATIONS).json["invitations"] if one["id"] == made.json["id"]
    )
    assert listed["uses_left"] == 1
    assert "code" not in listed


def test_a_withdrawn_invitation_makes_no_more_devices(on_both: Here) -> None:
    producer = on_both.phone_of(PRODUCER)
    made = producer.ask("POST", INVITATIONS, {"departments": ["grip"]}).json
    assert producer.ask("POST", f"{INVITATIONS}/{made['id']}/withdraw").json["uses_left"] == 0
    assert (
        PhoneDouble(in_process(on_both.app), GRIP).join(made["code"]).json["error"]["code"] == "code_used_up"
    )


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", INVITATIONS),
        ("POST", INVITATIONS),
        ("POST", f"{INVITATIONS}/x/withdraw"),
        ("GET", DEVICES),
        ("POST", f"{DEVICES}/x/revoke"),
        ("POST", f"/api/days/{DAY}/verdicts"),
    ],
)
def test_these_are_production_s_alone(here: Here, method: str, path: str) -> None:
    body = {"departments": ["grip"], "edit": "a", "says": "counts"} if method == "POST" else None
    reply = here.phone_of(KEY_GRIP).ask(method, path, body)
    assert (reply.status, reply.json["error"]["code"]) == (403, "production_only")


@pytest.mark.parametrize(
    "body",
    [
        {},
        {"departments": []},
        {"departments": ["catering"]},
        {"departments": "grip"},
        {"departments": ["grip"], "uses": 0},
        {"departments": ["grip"], "uses": "many"},
        {"departments": ["grip"], "hours": 10**30},
        [],
        None,
    ],
)
def test_a_bad_invitation_is_refused(here: Here, body: object) -> None:
    reply = here.phone_of(PRODUCER).ask("POST", INVITATIONS, json.dumps(body).encode())
    assert (reply.status, reply.json["error"]["code"]) == (400, "bad_field")


def test_a4_a_phone_taken_off_the_day_reads_nothing_and_what_it_sends_is_parked(on_both: Here) -> None:
    producer, lost, gaffer = (on_both.phone_of(member) for member in (PRODUCER, GRIP, GAFFER))
    before = lost.act("task", "t-1", {"title": "sent in time"})
    lost.exchange()
    take_off(producer, lost)
    after = lost.act("task", "t-2", {"title": "sent too late"}, at_ms=before.at_ms - 10_000)
    assert lost.exchange()["outcome"] == "not_allowed"
    assert (lost.last.status, lost.last.json["error"]["code"]) == (403, "device_revoked")
    assert "sets" not in lost.last.json
    gaffer.exchange()
    assert gaffer.verdicts(before.id) == []
    assert [row[:2] for row in gaffer.verdicts(after.id)] == [["parked", "device_revoked"]]
    (row,) = (one for one in producer.ask("GET", DEVICES).json["devices"] if one["id"] == lost.device)
    assert row["revoked_ms"] == on_both.now_ms


def test_parked_edits_come_to_count_by_one_word_of_production(on_both: Here) -> None:
    producer, lost, gaffer = (on_both.phone_of(member) for member in (PRODUCER, GRIP, GAFFER))
    take_off(producer, lost)
    late = lost.act("task", "t-2", {"title": "sent too late"})
    lost.exchange()
    told = producer.ask("POST", f"/api/days/{DAY}/verdicts", {"edit": late.id, "says": "counts"})
    assert told.status == 201
    gaffer.exchange()
    assert merge.verdict_words([one for one in gaffer.edits() if one.kind == "verdict"])[late.id] == "counts"
    assert gaffer.cells("task", "t-2")["task/t-2/title"][merge.LIVE][0][0] == late.id


@pytest.mark.parametrize("edit", ["abc.1.0123456789abcdef", "nul\x00", "x" * 300, 5])
def test_a_word_on_no_edit_is_refused(on_both: Here, edit: object) -> None:
    reply = on_both.phone_of(PRODUCER).ask(
        "POST", f"/api/days/{DAY}/verdicts", {"edit": edit, "says": "counts"}
    )
    assert reply.status in (400, 404)


def test_i3_edits_of_a_lost_phone_are_parked_whoever_carries_them(on_both: Here) -> None:
    producer, lost, carrier = (on_both.phone_of(member) for member in (PRODUCER, GRIP, GAFFER))
    known = lost.act("task", "t-1", {"title": "sent in time"})
    lost.exchange()
    take_off(producer, lost)
    same_run = lost.act("task", "t-2", {"title": "handed over"})
    lost.start()
    later_run = lost.act("task", "t-3", {"title": "handed over after a restart"})
    carrier.keep([known, same_run, later_run])
    own = carrier.act("task", "t-4", {"title": "the carrier's own"})
    carrier.exchange()
    says = {one.id: [row[0] for row in carrier.verdicts(one.id)] for one in (known, same_run, later_run, own)}
    assert says == {known.id: [], same_run.id: ["parked"], later_run.id: ["parked"], own.id: []}


def test_the_same_person_s_next_phone_is_not_parked(on_both: Here) -> None:
    producer, lost = on_both.phone_of(PRODUCER), on_both.phone_of(GRIP)
    take_off(producer, lost)
    found = on_both.phone_of(GRIP, seed=2, person=lost.person)
    edit = found.act("task", "t-1", {"title": "from the new phone"})
    found.exchange()
    assert found.verdicts(edit.id) == []


def test_anyone_may_carry_anyone_s_edits(on_both: Here) -> None:
    """Author and carrier are two things: a phone that never comes back is carried by another."""
    carrier, gaffer = on_both.phone_of(KEY_GRIP), on_both.phone_of(GAFFER)
    handed_over = Pen("p-someone", incarnation="someone001").ticks(3)
    carrier.keep(handed_over)
    carrier.exchange()
    gaffer.exchange()
    assert {one.id for one in handed_over} <= set(gaffer.texts["floor"])
    groups = gaffer.last.json["sets"]["floor"]["groups"]
    assert {group["carrier"] for group in groups for text in group["edits"] if "someone001" in text} == {
        "Tove's phone"
    }
