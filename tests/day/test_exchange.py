"""The exchange as a whole system in one process: phones and a server that share only JSON, and faults between.

The server here is a few lines over the same rules; the real one is tested over HTTP elsewhere. Time and
chance are set by hand, so a seed repeats a run.
"""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tailslate.craft.errors import RuleError
from tailslate.day import edit, exchange, kinds, merge

DAY = "run"
PAGE = 7  # edits in a page: small, so that reading takes several rounds
Json = dict[str, Any]


class Server:
    """Keeps edits in commit order and answers exchanges; may be set back to an older copy of itself."""

    def __init__(self) -> None:
        self.epoch = "epoch-0"
        self.texts: list[str] = []
        self.ids: dict[str, int] = {}

    def restore(self, count: int, epoch: str) -> None:
        self.texts = self.texts[:count]
        self.ids = {i: place for i, place in self.ids.items() if place <= count}
        self.epoch = epoch

    def marks(self) -> exchange.Marks:
        return exchange.add_to_marks({}, list(self.ids))

    def answer(self, text: str) -> Json:
        body = exchange.read_request(json.loads(text), sets_allowed=["floor"])
        asked = body["sets"]["floor"]
        answers = []
        for one in asked["edits"]:
            known = edit.read(one, day=DAY)
            word = "known" if known.id in self.ids else "stored"
            if word == "stored":
                self.texts.append(one)
                self.ids[known.id] = len(self.texts)
            answers.append([word, known.id, "", ""])
        is_known_epoch = body["epoch"] in (None, self.epoch)
        place = min(asked["place"], len(self.texts))
        page = self.texts[place : place + PAGE] if is_known_epoch else []
        floor: Json = {"answers": answers, "from": asked["place"], "reach": len(self.texts)}
        floor["place"] = place + len(page) if is_known_epoch else 0
        floor["mark"] = exchange.total(self.marks())
        floor["groups"] = [{"carrier": "someone", "received_ms": 1, "edits": page}]
        if "compare" in asked:
            floor["want"], floor["missing"] = self.compare(asked["compare"])
        if asked.get("details") or not is_known_epoch:
            floor["details"] = exchange.details(self.marks())
        reply = {"protocol": exchange.PROTOCOL, "nonce": body["nonce"], "epoch": self.epoch}
        return reply | {"rules": kinds.RULES, "now_ms": 1, "sets": {"floor": floor}, "heard": {}}

    def compare(self, compare: dict[str, list[str]]) -> tuple[list[str], list[Json]]:
        listed = {i for ids in compare.values() for i in ids}
        held = {i for i in self.ids if i.split(".")[0] in compare}
        missing = [self.texts[self.ids[i] - 1] for i in held - listed]
        return sorted(listed - held), [{"carrier": "", "received_ms": 1, "edits": missing}]


class Phone:
    """Holds edits by id, those to send, and the state that exchange.py gives it."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.counter = 0
        self.texts: dict[str, str] = {}
        self.to_send: list[str] = []
        self.state = exchange.new_state(["floor"])
        self.marks: exchange.Marks = {}
        self.ask_ids: list[str] = []

    def act(self, words: str) -> str:
        self.counter += 1
        one = edit.make(
            day=DAY,
            set_name="floor",
            incarnation=self.name,
            counter=self.counter,
            salt="saltsalt",
            rules=1,
            at_ms=1,
            by="p",
            kind="note",
            record=f"{self.name}-{self.counter}",
            changes={"text": words},
            seen={},
        )
        self.take([one.text])
        self.to_send.append(one.id)
        return one.id

    def take(self, texts: list[str]) -> None:
        found, _refused = merge.read_all(texts, DAY)
        fresh = {one.id: one.text for one in found if one and one.id not in self.texts}
        self.texts |= fresh
        self.marks = exchange.add_to_marks(self.marks, list(fresh))

    def request(self, now_ms: int, urge: str = "news") -> Json:
        ids: dict[str, list[str]] = {name: [] for name in self.ask_ids}
        for i in self.texts:
            if i.split(".")[0] in ids:
                ids[i.split(".")[0]].append(i)
        unsent = [[i, self.texts[i]] for i in self.to_send]
        return exchange.next_request(
            self.state,
            now_ms=now_ms,
            nonce=f"n{now_ms}",
            unsent={"floor": unsent},
            marks={"floor": self.marks},
            ids={"floor": ids},
            open_holds=[],
            urge=urge,
        )

    def receive(self, asked: Json, now_ms: int, reply: Any, status: int = 200, **more: Any) -> Json:
        told = exchange.take_reply(
            self.state,
            now_ms=now_ms,
            chance=more.get("chance", 0),
            nonce=asked["body"]["nonce"],
            sent=asked["sent"],
            status=status,
            content_type=more.get("content_type", "application/json"),
            reply=reply,
            retry_after_s=more.get("retry_after_s", 0),
        )
        self.state = told["state"]
        confirmed = told["confirmed"].get("floor", [])
        self.to_send = [i for i in self.to_send if i not in confirmed]
        self.to_send += [
            i for i in told["want"].get("floor", []) if i in self.texts and i not in self.to_send
        ]
        if told["outcome"] == "taken":
            floor = reply["sets"]["floor"]
            for group in floor.get("groups", []) + floor.get("missing", []):
                self.take(group["edits"])
        settled = exchange.settle(
            self.state,
            now_ms=now_ms,
            marks={"floor": self.marks},
            unsent={"floor": len(self.to_send)},
        )
        self.state = settled["state"]
        self.ask_ids = settled["differing"].get("floor", [])
        return told | {"again": told["again"] or settled["again"] or bool(self.to_send)}

    def rounds(self, server: Server, now_ms: int, most: int = 60) -> int:
        """Exchange until there is nothing more to do; return how many rounds it took."""
        for count in range(1, most + 1):
            asked = self.request(now_ms + count)
            assert asked["wait_ms"] == 0, asked
            told = self.receive(asked, now_ms + count, server.answer(json.dumps(asked["body"])))
            if not told["again"]:
                return count
        raise AssertionError("the exchange does not come to rest")


def test_x1_a_lost_reply_is_sent_again_and_stored_once() -> None:
    server, phone = Server(), Phone("phone00001")
    first = phone.act("bag stand 3")
    asked = phone.request(1000)
    server.answer(json.dumps(asked["body"]))  # it arrives, the reply does not
    phone.receive(asked, 1001, None, status=0, content_type="")
    assert phone.to_send == [first]
    phone.rounds(server, 10_000_000)
    assert phone.to_send == []
    assert len(server.texts) == 1


def test_x1_only_what_was_asked_is_confirmed() -> None:
    phone = Phone("phone00001")
    first, second = phone.act("one"), phone.act("two")
    asked = phone.request(1000)
    asked["sent"]["floor"] = [first]
    reply = Server().answer(json.dumps(asked["body"]))
    assert [row[1] for row in reply["sets"]["floor"]["answers"]] == [first, second]
    phone.receive(asked, 1001, reply)
    assert phone.to_send == [second]


NOT_OURS: dict[str, tuple[int, str, Any, str]] = {
    "a sign-in page": (200, "text/html", None, "sign_in_page"),
    "a page that asks to sign in, 511": (511, "text/html", None, "sign_in_page"),
    "half of a text": (200, "application/json", None, "sign_in_page"),
    "JSON of someone else": (200, "application/json", {"ok": True}, "sign_in_page"),
    "nothing": (0, "", None, "no_signal"),
    "a broken proxy": (502, "text/html", None, "no_signal"),
    "the server's own fault": (500, "application/json", {"error": {}}, "no_signal"),
    "too busy": (503, "application/json", {"error": {}}, "busy"),
    "an expired credential": (401, "application/json", {"error": {}}, "not_allowed"),
    "too large": (413, "application/json", {"error": {}}, "too_large"),
}


@pytest.mark.parametrize("what", NOT_OURS)
def test_x3_what_is_no_answer_of_ours_marks_nothing_as_sent(what: str) -> None:
    status, content_type, reply, outcome = NOT_OURS[what]
    phone = Phone("phone00001")
    phone.act("bag stand 3")
    before = dict(phone.state)
    asked = phone.request(1000)
    told = phone.receive(asked, 1001, reply, status=status, content_type=content_type)
    assert told["outcome"] == outcome
    assert told["sentence"]
    assert len(phone.to_send) == 1
    assert phone.state["sets"] == before["sets"]
    assert phone.state["heard_ms"] == 0


def test_x3_a_reply_to_another_request_changes_nothing() -> None:
    server, phone = Server(), Phone("phone00001")
    old = phone.request(1000)
    reply = server.answer(json.dumps(old["body"]))
    phone.act("bag stand 3")
    asked = phone.request(2000)
    assert phone.receive(asked, 2001, reply)["outcome"] == "sign_in_page"
    assert len(phone.to_send) == 1


def test_x4_waiting_grows_to_five_minutes_is_drawn_by_chance_and_obeys_retry_after() -> None:
    phone = Phone("phone00001")
    longest = []
    for failures in range(12):
        now_ms = failures * 10_000_000
        asked = phone.request(now_ms)
        phone.receive(asked, now_ms, None, status=0, content_type="", chance=999_999)
        longest.append(phone.state["next_ms"] - now_ms)
    assert longest == sorted(longest)
    assert longest[0] <= 5000
    assert 299_000 < longest[-1] <= 301_000
    asked = phone.request(10**9)
    phone.receive(asked, 10**9, None, status=0, content_type="", chance=0)
    assert phone.state["next_ms"] - 10**9 < 1000, "the same failure draws from the whole span"
    asked = phone.request(2 * 10**9)
    busy: Json = {"error": {}}
    phone.receive(asked, 2 * 10**9, busy, status=503, chance=0, retry_after_s=120)
    assert phone.request(2 * 10**9)["wait_ms"] == 120_000


@pytest.mark.parametrize(("urge", "waits"), [("time", True), ("news", True), ("asked", False)])
def test_x4_only_someone_who_asks_cuts_a_wait_after_a_failure_short(urge: str, waits: bool) -> None:
    phone = Phone("phone00001")
    phone.receive(phone.request(1000), 1000, None, status=0, content_type="", chance=999_999)
    assert (phone.request(1001, urge)["wait_ms"] > 0) == waits


@pytest.mark.parametrize(("urge", "waits"), [("time", True), ("news", False), ("asked", False)])
def test_a_rest_is_cut_short_by_news(urge: str, waits: bool) -> None:
    phone = Phone("phone00001")
    phone.rounds(Server(), 1000)
    assert (phone.request(2000, urge)["wait_ms"] > 0) == waits


def test_x4_a_clock_set_back_does_not_silence_a_phone() -> None:
    phone = Phone("phone00001")
    phone.receive(phone.request(10**12), 10**12, None, status=0, content_type="", chance=5)
    assert phone.request(10**9)["wait_ms"] == 0


def test_x2_a_server_restored_from_an_older_copy_is_refilled_by_the_phones() -> None:
    server = Server()
    phones = [Phone(f"phone0000{n}") for n in range(3)]
    for phone in phones:
        for n in range(15):
            phone.act(f"note {n}")
        phone.rounds(server, 1000)
    for phone in phones:
        phone.rounds(server, 2_000_000)
    wanted = set(server.ids)
    assert len(wanted) == 45
    server.restore(10, "epoch-1")
    phones[0].rounds(server, 3_000_000)
    assert set(server.ids) == wanted, "one phone that had read everything is enough"
    for phone in phones:
        phone.act("after")
        phone.rounds(server, 4_000_000)
    for phone in phones:
        phone.rounds(server, 5_000_000)
        assert set(phone.texts) == set(server.ids)
        assert phone.state["matched_ms"] >= 5_000_000


def test_x2_an_edit_that_a_server_lost_without_a_word_is_found_by_its_mark() -> None:
    server, phone = Server(), Phone("phone00001")
    for n in range(5):
        phone.act(f"note {n}")
    phone.rounds(server, 1000)
    lost = next(iter(server.ids))
    server.texts[server.ids.pop(lost) - 1] = edit.make(
        day=DAY, set_name="floor", incarnation="other00001", counter=1, salt="saltsalt", rules=1,
        at_ms=1, by="p", kind="note", record="n", changes={"text": "x"}, seen={},
    ).text  # fmt: skip
    server.ids[edit.read(server.texts[0], day=DAY).id] = 1
    phone.rounds(server, 2_000_000)
    assert set(phone.texts) == set(server.ids)
    assert lost in server.ids


def test_x5_a_copy_is_complete_only_when_read_without_gaps_and_with_nothing_absent() -> None:
    server, writer, reader = Server(), Phone("phone00001"), Phone("phone00002")
    for n in range(20):
        writer.act(f"note {n}")
    writer.rounds(server, 1000)

    def why(absent: list[str] | None = None, voids: list[str] | None = None) -> list[str]:
        reasons = exchange.completeness(
            reader.state, marks={"floor": reader.marks}, absent=absent or [], voids=voids or []
        )
        return [reason["code"] for reason in reasons]

    assert why() == ["never_heard"]
    asked = reader.request(5000)
    reader.receive(asked, 5000, server.answer(json.dumps(asked["body"])))
    assert why() == ["not_read"]
    reader.rounds(server, 6000)
    assert why() == []
    assert why(absent=["gone000001.4.0123456789abcdef"]) == ["absent"]
    assert why(["gone000001.4.0123456789abcdef"], ["gone000001.4.0123456789abcdef"]) == []
    assert why(["gone000001.4.0123456789abcdef"], ["gone000001.4"]) == []
    writer.act("lost on its way")
    writer.act("arrived")
    reader.take([list(writer.texts.values())[-1]])
    assert why() == ["gap"]
    assert why(voids=["phone00001.21"]) == []


@settings(max_examples=150)
@given(st.integers(0, 10**9))
def test_x1_x2_after_any_faults_every_reachable_phone_comes_to_hold_the_same(seed: int) -> None:
    """Lost requests, lost replies, sign-in pages, restores, and late phones; then everyone meets again."""
    chance = random.Random(seed)
    server = Server()
    phones = [Phone(f"phone{n:05d}") for n in range(chance.randint(2, 5))]
    confirmed: set[str] = set()
    now_ms = 0
    for step in range(60):
        now_ms += 1_000_000
        phone = chance.choice(phones)
        what = chance.random()
        if what < 0.45:
            phone.act(f"note {step}")
        elif what < 0.5:
            server.restore(chance.randint(0, len(server.texts)), f"epoch-{seed}-{step}")
        else:
            asked = phone.request(now_ms)
            waiting = set(phone.to_send)
            if chance.random() < 0.2:  # the request is lost
                phone.receive(asked, now_ms, None, status=0, content_type="")
                continue
            reply = server.answer(json.dumps(asked["body"]))
            if chance.random() < 0.2:  # the reply is lost, or replaced by a page
                phone.receive(asked, now_ms, None, status=200, content_type="text/html")
                continue
            phone.receive(asked, now_ms, json.loads(json.dumps(reply)))
            confirmed |= waiting - set(phone.to_send)
    for rest in range(3):
        for phone in phones:
            phone.rounds(server, now_ms + (rest + 1) * 10_000_000)
    made = {i for phone in phones for i in phone.texts}
    assert confirmed <= set(server.ids)
    assert made == set(server.ids)
    for phone in phones:
        assert set(phone.texts) == made
        assert phone.to_send == []
        assert exchange.total(phone.marks) == exchange.total(server.marks())


@settings(max_examples=200)
@given(st.lists(st.tuples(st.integers(0, 3), st.integers(1, 30), st.integers(0, 2)), unique=True))
def test_marks_count_find_the_gapless_counter_and_do_not_depend_on_order(
    rows: list[tuple[int, int, int]],
) -> None:
    ids = [f"phone{a}.{c}.{'abc'[d] * 16}" for a, c, d in rows]
    one = exchange.add_to_marks({}, ids)
    other: exchange.Marks = {}
    for i in reversed(ids):
        other = exchange.add_to_marks(other, [i])
    assert one == other
    assert exchange.total(one)[0] == len(ids)
    for name, mark in one.items():
        counters = {c for a, c, _d in rows if f"phone{a}" == name}
        assert all(c in counters for c in range(1, mark[1] + 1))
        assert mark[1] + 1 not in counters
        assert mark[3] == max(counters)
        assert mark[4] == sorted(c for c in counters if c > mark[1])
    for i in ids:
        one = exchange.drop_from_marks(one, i)
    assert exchange.total(one) == [0, "0" * 24]


@pytest.mark.parametrize(
    "body",
    [
        None, [], {}, {"protocol": "other"},
        {"protocol": exchange.PROTOCOL},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": "1"},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": 3},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": None, "sets": []},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": None, "sets": {"attic": {}}},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": None, "sets": {"floor": 3}},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": None,
         "sets": {"floor": {"edits": [], "place": -1}}},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": None,
         "sets": {"floor": {"edits": ["x"] * 501, "place": 0}}},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": None,
         "sets": {"floor": {"edits": [], "place": 0, "compare": {"a": ["b"]}}}},
        {"protocol": exchange.PROTOCOL, "nonce": "n", "rules": 1, "epoch": None,
         "sets": {}, "heard_of": ["x"]},
    ],
)  # fmt: skip
def test_x3_a_request_that_is_no_exchange_is_refused_whole_with_its_part_named(body: Any) -> None:
    with pytest.raises(RuleError) as refused:
        exchange.read_request(body, sets_allowed=["floor", "health"])
    assert refused.value.code == "not_an_exchange"
    assert refused.value.facts["part"]
