"""The demonstration day: acts in a file -> ordinary edits, told as if the crew had made them up to now.

Knows no database: the server takes the edits as it takes anyone's. The file's form is described in
seed_data/README.md; times are minutes before now, so the day looks alive whenever it is loaded.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

from tailslate import seed_data_folder
from tailslate.day import edit as edits
from tailslate.day import gathered, kinds, merge, readings, shown, ticks
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered

FILE = "demonstration_day.json"
MINUTE_MS = 60_000

Plan = dict[str, Any]
Seal = Callable[..., Edit]


def plan() -> Plan:
    """Return the demonstration day as its file holds it: keys title, people, acts."""
    return dict(json.loads((seed_data_folder() / FILE).read_text(encoding="utf-8")))


def pictures() -> list[bytes]:
    """Return the pictures that its photographs name: drawings of our own."""
    return [file.read_bytes() for file in sorted(seed_data_folder().glob("demonstration_*.jpg"))]


def edits_of(
    the_plan: Plan,
    *,
    day_id: str,
    incarnation: str,
    salts: Iterator[str],
    now_ms: int,
    seal: Seal | None = None,
) -> list[Edit]:
    """Return the edits of the demonstration day, in the order in which they were made.

    Args:
        the_plan: as `plan` gives it.
        day_id: id of the day.
        incarnation: random name of this loading, ten of a-z and 0-9.
        salts: gives eight random characters, again and again.
        now_ms: now [ms since 1970 UTC].
        seal: makes an edit of the server (people and verdicts) from the arguments of `edit.make` but by, how
            and salt; a server passes its own seal. Without one these edits are unsealed, which is enough for
            whoever only reads the day.
    Raises: RuleError when an act in the file is no edit, or holds a figure that cannot be read.
    """

    def unsealed(**parts: Any) -> Edit:
        return edits.make(salt=next(salts), by="", how="server", **parts)

    writer = _Writer(day_id, incarnation, salts, now_ms, seal or unsealed)
    for person in the_plan["people"]:
        writer.add_person(person)
    for act in sorted(the_plan["acts"], key=lambda one: int(one["at_min"])):
        writer.add(act)
    return writer.made


class _Writer:
    """Makes one edit after the other, each having seen what came before it."""

    def __init__(self, day_id: str, incarnation: str, salts: Iterator[str], now_ms: int, seal: Seal) -> None:
        self.day_id = day_id
        self.incarnation = incarnation
        self.salts = salts
        self.now_ms = now_ms
        self.seal = seal
        self.made: list[Edit] = []
        self.counters = dict.fromkeys(edits.SETS, 0)
        self.cells: merge.Cells = {}
        self.records: dict[str, dict[str, merge.Cell]] = {}

    def add_person(self, person: dict[str, Any]) -> None:
        """Write the record of a person, as the server does for whoever joins."""
        changes = {name: person[name] for name in ("name", "role", "departments", "head")}
        made = self.seal(
            **self._parts("floor", "person", person["id"], changes, {}, self.now_ms - 400 * MINUTE_MS)
        )
        self._keep(made)
        self._count(made)

    def add(self, act: dict[str, Any]) -> None:
        """Write one act of a person; a reserved one counts, as the server would say."""
        kind, record = act["kind"], act.get("id", self.day_id)
        changes = {field: self._value(kind, record, field, value, act) for field, value in act["set"].items()}
        seen = {field: self._seen(kind, record, field, act) for field in changes}
        at_ms = self.now_ms + int(act["at_min"]) * MINUTE_MS
        parts = self._parts(kinds.set_of(kind), kind, record, changes, seen, at_ms)
        made = edits.make(
            salt=next(self.salts), by=act["by"], for_whom=act.get("for_whom", ""), how="demo", **parts
        )
        self._keep(made)
        if kinds.is_reserved(kind, made.changes):
            self._count(made)

    def _parts(
        self,
        set_name: str,
        kind: str,
        record: str,
        changes: dict[str, Any],
        seen: dict[str, list[str]],
        at_ms: int,
    ) -> dict[str, Any]:
        self.counters[set_name] += 1
        return {
            "day": self.day_id,
            "set_name": set_name,
            "incarnation": self.incarnation,
            "counter": self.counters[set_name],
            "rules": kinds.RULES,
            "at_ms": at_ms,
            "kind": kind,
            "record": record,
            "changes": changes,
            "seen": seen,
        }

    def _count(self, made: Edit) -> None:
        says = {"says": ["counts", "demonstration", "part of the demonstration day"]}
        self.made.append(self.seal(**self._parts(made.set, "verdict", made.id, says, {}, made.at_ms)))

    def _keep(self, made: Edit) -> None:
        self.made.append(made)
        changed = merge.join(self.cells, [made])
        self.cells.update(changed)
        for name, cell in changed.items():
            record = gathered.record_of(name)
            self.records.setdefault(record, {})[name[len(record) + 1 :]] = cell

    def _seen(self, kind: str, record: str, field: str, act: dict[str, Any]) -> list[str]:
        if act.get("alone"):
            return []  # made without signal: its author saw nothing of the others' answer
        cell = self.cells.get(f"{kind}/{record}/{field}", merge.new_cell())
        return [entry[0] for entry in cell[merge.LIVE]]

    def _value(self, kind: str, record: str, field: str, value: Any, act: dict[str, Any]) -> Any:
        """Return a value as it is stored: figures from their text, ticks with their inputs."""
        known = kinds.field_of(kind, field)
        if known and known.type == "quantity" and isinstance(value, str):
            return shown.read_typed(kind, field, value)["value"]
        if known and known.type == "time" and isinstance(value, int):
            return shown.clock(_to_five_minutes(self.now_ms + value * MINUTE_MS), 0)
        if known and known.type == "tick" and value is True:
            return ticks.value_if_ticked(f"{kind}/{record}", field, Gathered(self.records))
        if kind == "reading" and field == "taken_for" and value is True:
            shot, point = f"shot/{act['set']['shot']}", f"point/{act['set']['point']}"
            return readings.taken_for(shot, point, act["set"]["role"], Gathered(self.records))
        return value


def _to_five_minutes(at_ms: int) -> int:
    step_ms = 5 * MINUTE_MS
    return (at_ms + step_ms // 2) // step_ms * step_ms
