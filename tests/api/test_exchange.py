"""The exchange over HTTP: every edit answered, bad ones named, nothing lost, nothing twice."""

from __future__ import annotations

import io
import json
import random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from a_server import Here
from people import DAY, GAFFER, GRIP, KEY_GRIP, PROPS_BUYER, Pen
from phone_double import PhoneDouble, Reply
from tailslate.day import exchange
from tailslate.day.edit import TEXT_LIMIT_BYTES

PATH = f"/api/days/{DAY}/exchange"


def a_request(texts: list[Any], **more: Any) -> dict[str, Any]:
    """Return a request that brings texts to the floor set."""
    return {
        "protocol": exchange.PROTOCOL,
        "nonce": "n1",
        "rules": 1,
        "epoch": None,
        "sets": {"floor": {"place": 0, "edits": texts}},
        "heard_of": [],
        **more,
    }


def answers(phone: PhoneDouble, texts: list[Any]) -> list[list[str]]:
    """Send texts and return the answers, which must come with a 200."""
    reply = phone.ask("POST", PATH, json.dumps(a_request(texts)).encode())
    assert reply.status == 200, reply.octets
    found: list[list[str]] = reply.json["sets"]["floor"]["answers"]
    return found


@pytest.fixture
def phone(on_both: Here) -> PhoneDouble:
    """A grip's phone, the same one for all generated examples."""
    return on_both.phone_of(GRIP)


def test_what_the_key_grip_enters_is_on_the_gaffers_phone(on_both: Here) -> None:
    grip, gaffer = on_both.phone_of(KEY_GRIP), on_both.phone_of(GAFFER)
    edit = grip.act("rig", "r-1", {"load_kg": ["12", "12 kg"]})
    grip.exchange()
    gaffer.exchange()
    assert edit.id in grip.confirmed
    assert gaffer.texts["floor"][edit.id] == edit.text
    assert gaffer.is_matched()
    carriers = {group["carrier"] for group in gaffer.last.json["sets"]["floor"]["groups"]}
    assert carriers <= {"", "Tove's phone"}


def test_a1_a_reply_that_is_lost_costs_nothing_but_a_second_request(on_both: Here) -> None:
    grip = on_both.phone_of(KEY_GRIP)
    edit = grip.act("task", "t-1", {"title": "bag the stand"})
    body, sent = grip.request()
    grip.ask("POST", PATH, body)
    assert grip.take(body, sent, Reply())["outcome"] == "no_signal"
    assert edit.id not in grip.confirmed
    grip.exchange()
    assert grip.confirmed >= {edit.id}
    assert on_both.edits().count(edit.id) == 1


def test_requests_replayed_and_shuffled_store_each_edit_once(on_both: Here) -> None:
    phone, chance = on_both.phone_of(GRIP), random.Random(11)
    edits = phone.pen.ticks(40)
    requests = [[one.text for one in chance.sample(edits, 12)] for _ in range(20)] + [
        [one.text for one in edits]
    ]
    told = [row for request in chance.sample(requests, len(requests)) for row in answers(phone, request)]
    assert {row[0] for row in told} == {"stored", "known"}
    assert sum(row[0] == "stored" for row in told) == 40
    assert sorted(set(on_both.edits()) & {one.id for one in edits}) == sorted(one.id for one in edits)
    assert len(on_both.edits()) == len(set(on_both.edits()))


def test_the_same_text_twice_in_one_request_is_stored_once(on_both: Here) -> None:
    phone = on_both.phone_of(GRIP)
    text = phone.pen.ticks(1)[0].text
    assert [row[0] for row in answers(phone, [text, text])] == ["stored", "known"]


def test_i1_three_bad_edits_in_two_hundred_stop_none_of_the_others(here: Here) -> None:
    phone = here.phone_of(GRIP)
    edits = phone.pen.ticks(200)
    texts: list[Any] = [one.text for one in edits]
    texts[0] = texts[0].replace("task", "tusk!", 1)
    texts[56] = Pen(phone.person, day="another-day").ticks(1)[0].text
    texts[199] = 12
    told = answers(phone, texts)
    assert [place for place, row in enumerate(told) if row[0] == "refused"] == [0, 56, 199]
    assert told[56][2] == "foreign_day"
    assert all(row[2] and row[3] for row in told if row[0] == "refused")
    assert {row[1] for row in told if row[0] == "stored"} == {one.id for one in edits if one.text in texts}


def test_a_refused_text_is_named_by_the_id_that_its_own_phone_knows_it_by(here: Here) -> None:
    phone = here.phone_of(PROPS_BUYER)
    misplaced = phone.pen.write("allergy", "a-1", {"what": "nuts"}, set_name="floor")
    phone.keep([misplaced])
    phone.exchange()
    assert phone.refused[misplaced.id][0] == "wrong_set"
    assert misplaced.id not in here.edits()


NASTY = [
    "",
    "[]",
    "null",
    "\x00",
    "\ud800",
    "[" * 9000,
    '[1,"a"' + ",1" * 12 + "]",
    "x" * (TEXT_LIMIT_BYTES + 1),
    "\U0001f469\u200d\U0001f469",
    None,
    True,
    1.5,
    [],
    {"text": "x"},
    "[Infinity]",
    "[" + "9" * 5000 + "]",
]


def test_whatever_stands_in_place_of_an_edit_is_refused_by_name(phone: PhoneDouble) -> None:
    for nasty in NASTY:
        good = phone.pen.ticks(1)[0]
        told = answers(phone, [nasty, good.text])
        assert told[0][0] == "refused", nasty
        assert told[0][2], nasty
        assert told[1] == ["stored", good.id, "", ""]


any_text = st.text(
    st.characters(exclude_categories=()), max_size=60
)  # NUL, surrogates, four-byte signs and all


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(texts=st.lists(any_text, min_size=1, max_size=6), value=any_text)
def test_any_text_at_all_gets_the_same_verdict_from_every_database(
    on_both: Here, phone: PhoneDouble, texts: list[str], value: str
) -> None:
    pen = Pen(phone.person, incarnation=f"{phone.chance.getrandbits(40):x}")
    edit = pen.ticks(1)[0].text.replace('"done"', json.dumps(value, ensure_ascii=False), 1)
    told = answers(phone, [*texts, edit])
    assert all(row[0] == "refused" for row in told[:-1])
    # the rules alone decide, so that SQLite and PostgreSQL cannot differ
    expected = on_both.parts.office.read({"floor": [edit]}, day_id=DAY)["floor"][0]
    assert told[-1][0] == ("stored" if expected.edit else "refused")
    assert (expected.id in on_both.edits()) == bool(expected.edit)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    day=any_text,
    nonce=any_text,
    names=st.lists(any_text, max_size=3),
    junk=st.recursive(
        st.none() | st.booleans() | st.integers() | any_text,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(any_text, inner, max_size=3),
        max_leaves=8,
    ),
)
def test_no_frame_of_a_request_makes_the_server_fail(
    phone: PhoneDouble, day: str, nonce: str, names: list[str], junk: Any
) -> None:
    ids = [f"{name[:9]}.1.{name:.16}" for name in names] + [
        "abc.1.\x00" + "x" * 15,
        "abc.1.\ud800" + "x" * 15,
    ]
    bodies: list[Any] = [
        junk,
        a_request([], nonce=nonce),
        a_request([], heard_of=ids),
        a_request([], epoch=nonce),
        a_request([], sets={"floor": {"place": 0, "edits": [], "compare": dict.fromkeys(names, ids)}}),
        a_request([], sets={"floor": {"place": 0, "edits": [], "compare": {"abc": ids}}}),
        a_request([], sets={"floor": {"place": 2**53 - 1, "edits": [], "details": junk}}),
        a_request([], sets=junk),
    ]
    for body in bodies:
        reply = phone.ask("POST", PATH, json.dumps(body).encode())
        assert reply.status in (200, 400), (body, reply.octets)
        assert reply.json
    assert phone.carry("POST", "/api/days/" + json.dumps(day)[1:-1] + "/exchange", b"{}", {}).status < 500


@pytest.mark.parametrize("cut", [0, 1, 17, 200])
def test_half_a_request_is_refused_and_stores_nothing(here: Here, cut: int) -> None:
    phone = here.phone_of(GRIP)
    edit = phone.pen.ticks(1)[0]
    octets = json.dumps(a_request([edit.text])).encode()[: -1 - cut]
    reply = phone.ask("POST", PATH, octets)
    assert (reply.status, reply.json["error"]["code"]) == (400, "not_json")
    assert edit.id not in here.edits()


def test_a_body_in_another_encoding_is_refused(here: Here) -> None:
    reply = here.phone_of(GRIP).ask("POST", PATH, json.dumps(a_request([])).encode("utf-16"))
    assert (reply.status, reply.json["error"]["code"]) == (400, "not_json")


def test_what_is_too_large_is_answered_with_the_limits(here: Here) -> None:
    phone = here.phone_of(GRIP)
    reply = phone.ask("POST", PATH, b" " * (exchange.BODY_LIMIT_BYTES + 1))
    error = reply.json["error"]
    assert (reply.status, error["code"]) == (413, "too_large")
    assert error["limits"] == {"body_bytes": exchange.BODY_LIMIT_BYTES, "edits": exchange.EDITS_LIMIT}
    many = phone.ask("POST", PATH, a_request(["x"] * (exchange.EDITS_LIMIT + 1)))
    assert (many.status, many.json["error"]["code"]) == (400, "not_an_exchange")


@pytest.mark.parametrize(("size_bytes", "status"), [(exchange.BODY_LIMIT_BYTES, 413), (1000, 400)])
def test_a_body_in_chunks_has_the_same_limit(here: Here, size_bytes: int, status: int) -> None:
    phone = here.phone_of(GRIP)
    response = here.app.test_client().post(
        PATH,
        input_stream=io.BytesIO(b" " * (2 * size_bytes)),
        headers={"Authorization": f"Bearer {phone.token}", "Content-Type": "application/json"},
        environ_overrides={"wsgi.input_terminated": True, "HTTP_TRANSFER_ENCODING": "chunked"},
    )
    assert response.status_code == status


def test_only_json_is_taken(here: Here) -> None:
    phone = here.phone_of(GRIP)
    headers = {"Authorization": f"Bearer {phone.token}", "Content-Type": "text/plain"}
    reply = phone.carry("POST", PATH, json.dumps(a_request([])).encode(), headers)
    assert (reply.status, reply.json["error"]["code"]) == (415, "not_json")


@pytest.mark.parametrize(
    ("header", "status", "code"),
    [
        ("", 401, "not_known"),
        ("Bearer nonsense", 401, "not_known"),
        ("Bearer \xff\x01", 401, "not_known"),
        ("Basic abc", 401, "not_known"),
    ],
)
def test_without_a_credential_of_this_server_nothing_is_read(
    here: Here, header: str, status: int, code: str
) -> None:
    reply = PhoneDouble(here.phone_of(GRIP).carry, GRIP).carry(
        "POST", PATH, b"{}", {"Authorization": header, "Content-Type": "application/json"}
    )
    assert (reply.status, reply.json["error"]["code"]) == (status, code)


def test_a_credential_is_good_for_its_own_day_only(here: Here) -> None:
    phone = here.phone_of(GRIP)
    reply = phone.ask("POST", "/api/days/another-day/exchange", a_request([]))
    assert (reply.status, reply.json["error"]["code"]) == (403, "other_day")


def test_a2_pages_are_bounded_in_commit_order_and_lead_to_what_was_promised(on_both: Here) -> None:
    phone, reader = on_both.phone_of(KEY_GRIP), on_both.phone_of(GRIP)
    long_words = [phone.pen.write("note", f"n-{place}", {"text": "å" * 1900}) for place in range(300)]
    for start in range(0, 300, 40):
        answers(phone, [one.text for one in long_words[start : start + 40]])
    seen, place, pages = [], 0, 0
    while True:
        request = a_request([], sets={"floor": {"place": place, "edits": []}})
        floor = reader.ask("POST", PATH, request).json["sets"]["floor"]
        assert len(reader.last.octets) < 512 * 1024
        assert floor["from"] == place
        seen += [text for group in floor["groups"] for text in group["edits"]]
        place, pages = floor["place"], pages + 1
        if place == floor["reach"]:
            break
    assert pages > 2
    assert [text for text in seen if text in {one.text for one in long_words}] == [
        one.text for one in long_words
    ]
    assert len(seen) == len(on_both.edits())


def test_a3_health_data_reaches_only_phones_of_departments_that_need_it(on_both: Here) -> None:
    props, gaffer = on_both.phone_of(PROPS_BUYER), on_both.phone_of(GAFFER)
    allergy = props.act("allergy", "a-1", {"what": "nuts", "answer": "yes"})
    props.exchange()
    assert allergy.id in props.confirmed
    body = a_request(
        [], sets={"health": {"place": 0, "edits": [allergy.text]}, "floor": {"place": 0, "edits": []}}
    )
    reply = gaffer.ask("POST", PATH, body)
    assert reply.json["sets"]["health"] == {"not_allowed": True}
    assert b"nuts" not in reply.octets
    assert set(gaffer.texts) == {"floor"}
    other = on_both.phone_of(PROPS_BUYER, seed=2)
    other.exchange()
    assert allergy.id in other.texts["health"]


def test_a_hold_says_how_many_other_phones_have_read_past_it(on_both: Here) -> None:
    grip, gaffer, third = (on_both.phone_of(member) for member in (KEY_GRIP, GAFFER, GRIP))
    hold = grip.act("hold", "h-1", {"why": "cable is hot", "type": "stop"})
    grip.exchange()
    assert grip.heard == {hold.id: 0}
    gaffer.exchange()
    gaffer.round()  # only now does the server know that the page before arrived
    grip.exchange()
    assert grip.heard == {hold.id: 1}
    third.exchange()
    third.round()
    grip.exchange()
    assert grip.heard == {hold.id: 2}


def test_a_full_disk_is_said_and_what_was_sent_stays_on_the_phone(tmp_path: Any) -> None:
    free = {"bytes": 10}
    here = Here(str(tmp_path / "day.sqlite3"), FREE_BYTES=lambda _folder: free["bytes"])
    phone = here.phone_of(GRIP)
    edit = phone.act("task", "t-1", {"title": "bag the stand"})
    assert phone.exchange()["outcome"] == "busy"
    assert (phone.last.status, phone.last.json["error"]["code"]) == (507, "disk_full")
    assert phone.last.retry_after_s > 0
    free["bytes"] = 10**12
    phone.exchange()
    assert phone.confirmed >= {edit.id}


def test_a_phone_with_newer_rules_is_kept_and_relayed_unjudged(on_both: Here) -> None:
    newer, older = on_both.phone_of(KEY_GRIP), on_both.phone_of(GRIP)
    strange = newer.pen.write("winch", "w-1", {"pull_kn": ["4", "4 kN"]}, rules=9)
    too_much = newer.pen.write("rig", "r-1", {"load_kg": ["90000", "90 t"]}, rules=9)
    newer.keep([strange, too_much])
    newer.exchange()
    older.exchange()
    assert older.texts["floor"][strange.id] == strange.text
    assert older.verdicts(strange.id) == older.verdicts(too_much.id) == []


def test_replies_are_compressed_for_whoever_takes_it(here: Here) -> None:
    phone = here.phone_of(GRIP)
    answers(phone, [one.text for one in phone.pen.ticks(100)])
    client = here.app.test_client()
    headers = {"Authorization": f"Bearer {phone.token}", "Accept-Encoding": "gzip"}
    small = client.post(PATH, json=a_request([]), headers=headers)
    whole = client.post(PATH, json=a_request([]), headers={"Authorization": f"Bearer {phone.token}"})
    assert small.headers["Content-Encoding"] == "gzip"
    assert small.headers["Vary"] == "Accept-Encoding"
    assert len(small.data) * 3 < len(whole.data)
