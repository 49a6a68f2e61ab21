"""A phone without a screen: the exchange decisions of day/exchange.py over a real HTTP connection, or none.

It keeps what a phone keeps (texts, marks, state), forgets nothing, and can be cut off at any point.
"""

from __future__ import annotations

import gzip
import http.client
import json
import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlsplit

from flask import Flask

from people import CrewMember, Pen
from tailslate.day import exchange, merge
from tailslate.day.edit import Edit, read

Json = dict[str, Any]


@dataclass
class Reply:
    """What came back, if anything did."""

    status: int = 0
    content_type: str = ""
    octets: bytes = b""
    retry_after_s: int = 0

    @property
    def json(self) -> Any:
        """The parsed body, None when it is not JSON."""
        try:
            return json.loads(self.octets)
        except ValueError:
            return None


Carry = Callable[[str, str, bytes | None, dict[str, str]], Reply]  # method, path, body, headers


def over_http(url: str, timeout_s: float = 20) -> Carry:
    """Carry requests over one kept connection; no answer in time, or none at all, is an empty Reply."""
    host = urlsplit(url).netloc
    kept: list[http.client.HTTPConnection] = []

    def carry(method: str, path: str, body: bytes | None, headers: dict[str, str]) -> Reply:
        connection = kept.pop() if kept else http.client.HTTPConnection(host, timeout=timeout_s)
        try:
            connection.request(method, path, body, {"Accept-Encoding": "gzip", **headers})
            response = connection.getresponse()
            octets = response.read()
        except (OSError, http.client.HTTPException):
            connection.close()
            return Reply()
        kept.append(connection)
        if response.headers.get("Content-Encoding") == "gzip":
            octets = gzip.decompress(octets)
        found = response.headers
        return Reply(response.status, found.get("Content-Type", ""), octets, int(found.get("Retry-After", 0)))

    return carry


def in_process(app: Flask) -> Carry:
    """Carry requests straight into an app."""
    client = app.test_client()

    def carry(method: str, path: str, body: bytes | None, headers: dict[str, str]) -> Reply:
        response = client.open(path, method=method, data=body, headers=headers)
        found = response.headers
        return Reply(
            response.status_code,
            found.get("Content-Type", ""),
            response.data,
            int(found.get("Retry-After", 0)),
        )

    return carry


class PhoneDouble:
    """One phone of one crew member."""

    def __init__(self, carry: Carry, member: CrewMember, seed: int = 1) -> None:
        self.carry = carry
        self.member = member
        self.chance = random.Random(f"{seed}/{member.role}")
        self.now_ms = 1_764_054_000_000
        self.token = ""
        self.day = ""
        self.texts: dict[str, dict[str, str]] = {}  # set: id: text, in the order in which they came
        self.confirmed: set[str] = set()
        self.refused: dict[str, list[str]] = {}
        self.heard: dict[str, int] = {}
        self.last = Reply()

    def join(self, code: str, **more: Any) -> Reply:
        """Join with a code, as the app does."""
        asked = {
            "code": code,
            "name": self.member.name,
            "role": self.member.role,
            "departments": list(self.member.departments),
            "device_name": f"{self.member.name}'s phone",
            **more,
        }
        reply = self.ask("POST", "/api/join", asked)
        if reply.status == 201:
            joined = reply.json
            self.token, self.day, self.person = joined["token"], joined["day"], joined["person"]
            self.device = joined["device"]
            self.texts = {name: self.texts.get(name, {}) for name in joined["sets"]}
            self.state = exchange.new_state(joined["sets"])
            self.start()
        return reply

    def start(self) -> None:
        """Start the engine anew: another incarnation."""
        name = "".join(self.chance.choices("abcdefghijklmnopqrstuvwxyz0123456789", k=10))
        self.pen = Pen(self.person, day=self.day, incarnation=name, chance=self.chance)

    def ask(self, method: str, path: str, body: Any = None) -> Reply:
        """Ask the server anything, with this phone's credential."""
        headers = {"Authorization": f"Bearer {self.token}"} if self.token else {}
        octets = None
        if body is not None:
            headers["Content-Type"] = "application/json"
            octets = body if isinstance(body, bytes) else json.dumps(body, ensure_ascii=False).encode()
        self.last = self.carry(method, path, octets, headers)
        return self.last

    def act(self, kind: str, record: str, changes: Json, **more: Any) -> Edit:
        """Make an edit that replaces what this phone shows, and keep it."""
        cells = self.cells(kind, record)
        seen = {
            name: [entry[0] for entry in cells.get(f"{kind}/{record}/{name}", merge.new_cell())[merge.LIVE]]
            for name in changes
        }
        one = self.pen.write(kind, record, changes, **{"seen": seen, **more})
        self.keep([one])
        return one

    def keep(self, edits: Iterable[Edit]) -> None:
        """Keep edits of this phone or of one that handed them over."""
        for one in edits:
            self.texts[one.set].setdefault(one.id, one.text)

    def cells(self, kind: str, record: str) -> merge.Cells:
        """Return what this phone shows of a record."""
        batch = [one for one in self.edits() if (one.kind, one.record) == (kind, record)]
        return merge.fold(batch, merge.verdict_words([one for one in self.edits() if one.kind == "verdict"]))

    def edits(self) -> list[Edit]:
        """Return all edits that this phone holds."""
        return [read(text, day=self.day) for texts in self.texts.values() for text in texts.values()]

    def verdicts(self, edit_id: str) -> list[list[str]]:
        """Return what servers say about an edit."""
        return [one.changes[0][1] for one in self.edits() if one.kind == "verdict" and one.record == edit_id]

    def unsent(self) -> dict[str, list[list[str]]]:
        """Return what the server has not confirmed."""
        return {
            name: [
                [i, text] for i, text in texts.items() if i not in self.confirmed and i not in self.refused
            ]
            for name, texts in self.texts.items()
        }

    def request(self, urge: str = "news") -> tuple[Json, dict[str, list[str]]]:
        """Return the next request's body and the ids that it sends."""
        self.marks = {name: exchange.add_to_marks({}, list(texts)) for name, texts in self.texts.items()}
        ids = {
            name: {
                incarnation: [i for i in self.texts[name] if i.split(".")[0] == incarnation]
                for incarnation in exchange.differing(one["details"], self.marks[name])
            }
            for name, one in self.state["sets"].items()
        }
        self.now_ms += exchange.LONGEST_WAIT_MS  # a test does not wait for the clock
        asked = exchange.next_request(
            self.state,
            now_ms=self.now_ms,
            nonce=f"{self.chance.getrandbits(64):x}",
            unsent=self.unsent(),
            marks=self.marks,
            ids=ids,
            open_holds=[one.id for one in self.edits() if one.kind == "hold"],
            urge=urge,
        )
        return asked["body"], asked["sent"]

    def round(self) -> Json:
        """One request and its reply, taken as a phone takes it; returns what the rules made of it."""
        body, sent = self.request()
        reply = self.ask("POST", f"/api/days/{self.day}/exchange", body)
        return self.take(body, sent, reply)

    def take(self, body: Json, sent: dict[str, list[str]], reply: Reply) -> Json:
        """Take a reply, or the lack of one."""
        told = exchange.take_reply(
            self.state,
            now_ms=self.now_ms,
            chance=self.chance.randrange(exchange.CHANCE_PARTS),
            nonce=body["nonce"],
            sent=sent,
            status=reply.status,
            content_type=reply.content_type,
            reply=reply.json,
            retry_after_s=reply.retry_after_s,
        )
        self.state = told["state"]
        if told["outcome"] == "taken":
            self._take_edits(reply.json, told)
            marks = {name: exchange.add_to_marks({}, list(texts)) for name, texts in self.texts.items()}
            unsent = {name: len(rows) for name, rows in self.unsent().items()}
            settled = exchange.settle(self.state, now_ms=self.now_ms, marks=marks, unsent=unsent)
            self.state = settled["state"]
            told["again"] = told["again"] or settled["again"]
        return told

    def exchange(self, rounds: int = 200) -> Json:
        """Exchange until there is nothing more to do; more rounds than that is a fault."""
        for _round in range(rounds):
            told = self.round()
            if told["outcome"] != "taken" or (not told["again"] and not any(self.unsent().values())):
                return told
        raise AssertionError(f"still not at rest after {rounds} rounds: {self.state}")

    def is_matched(self) -> bool:
        """Tell whether the last exchange found both sides equal."""
        return bool(self.state["matched_ms"] == self.now_ms)

    def _take_edits(self, reply: Json, told: Json) -> None:
        for name, one in reply["sets"].items():
            for group in [*one.get("groups", []), *one.get("missing", [])]:
                for text in group["edits"]:
                    found = read(text, day=self.day)
                    self.texts[name].setdefault(found.id, text)
                    self.confirmed.add(found.id)
            self.confirmed.update(told["confirmed"].get(name, []))
            self.confirmed.difference_update(told["want"].get(name, []))
            for edit_id, code, sentence in told["refused"].get(name, []):
                self.refused[edit_id] = [code, sentence]
                self.texts[name].pop(edit_id, None)
        self.heard = told["heard"]
