"""A day's records as the crew makes them, act by act, and one shot that lacks nothing.

A test changes the one thing that it is about. Values are written as people type them: figures as text.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from people import (
    ART_DIRECTOR,
    ASSISTANT_DIRECTOR,
    CAMERA_ASSISTANT,
    EVERYONE,
    GAFFER,
    KEY_GRIP,
    CrewMember,
    Pen,
)
from tailslate.day import kinds, merge, readings, rows, sheet, shown, ticks
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered

Door = Callable[[str], str]
Record = dict[str, list[Any]]

SHOT = "12c"
FACE = "face"
# T4, EI 800, 24 frames a second, 180 degrees, C 250: 240 lx exactly (ISO 2720:1974, incident light).
EXPOSURE = {
    "t_stop": "T4",
    "exposure_index": 800,
    "frame_rate_per_s": "24 fps",
    "shutter_angle_deg": "180",
    "calibration_constant": "250",
}


class ADay:
    """Records with every edit merged into them as it is made."""

    def __init__(self) -> None:
        self.records: dict[str, Record] = {}
        self.pens = {
            member.role: Pen(by=member.person, incarnation=f"pen{place:07d}")
            for place, member in enumerate(EVERYONE)
        }
        self.minute = 0
        for member in EVERYONE:
            self.act(
                member, "person", member.person, name=member.name, role=member.role,
                departments=list(member.departments),
            )  # fmt: skip

    def act(self, who: CrewMember, kind: str, record: str, *, alone: bool = False, **changes: Any) -> Edit:
        """Make one edit a minute after the last one; `alone` has seen nothing of what others said."""
        self.minute += 1
        pen = self.pens[who.role]
        pen.at_ms = 1_764_054_000_000 + self.minute * 60_000  # 07:00 UTC and so many minutes
        key = f"{kind}/{record}"
        values = {field: self._value(kind, field, value) for field, value in changes.items()}
        fields = self.records.get(key, {})
        seen = {} if alone else {f: [e[0] for e in fields[f][merge.LIVE]] for f in values if f in fields}
        made = pen.write(kind, record, values, seen=seen)
        cells = {f"{key}/{field}": cell for field, cell in fields.items()}
        for name, cell in merge.join(cells, [made]).items():
            self.records.setdefault(key, {})[name.rsplit("/", 1)[1]] = cell
        return made

    def tick(self, who: CrewMember, kind: str, record: str, field: str = "done", **more: Any) -> Edit:
        """Tick for the inputs as they stand."""
        value = ticks.value_if_ticked(f"{kind}/{record}", field, Gathered(self.records))
        return self.act(who, kind, record, **{field: value}, **more)

    def tick_derived(self, shot: str = SHOT, *but: str) -> None:
        """Tick every row that the set-up of the shot asks for now, save those of the templates named."""
        found = sheet.gather(shot, self.records)
        for row in rows.all_rows(sheet.of_shot(shot, found)["rows"]):
            kind, record = row["record"].split("/")
            if kind == "task" and row["derived"] and row["derived"]["template"] not in but:
                self.tick(KEY_GRIP, kind, record)

    def read(
        self, record: str, lux: str, *, role: str = "key", point: str = FACE, shot: str = SHOT, **more: Any
    ) -> Edit:
        """Take a reading for what burns now."""
        found = sheet.gather(shot, self.records)
        taken_for = readings.taken_for(f"shot/{shot}", f"point/{point}", role, found)
        fields: dict[str, Any] = {"shot": shot, "point": point, "role": role, "illuminance_lx": lux}
        return self.act(GAFFER, "reading", record, **{**fields, "taken_for": taken_for, **more})

    def remove(self, who: CrewMember, key: str) -> Edit:
        """Take a record and its parts off the day."""
        kind, record = key.split("/")
        parts = {
            other: fields
            for other, fields in self.records.items()
            if other == key or (kind == "source" and _shown(fields, "source") == record)
        }
        return self.act(who, kind, record, present=merge.removal(parts, key))

    def ask(self, door: Door, do: str = "shot", **asked: Any) -> dict[str, Any]:
        """Ask the rules, on whichever Python the door leads to."""
        more: dict[str, Any] = {"records": self.records, "complete": True}
        if do == "shot":
            more["shot"] = SHOT
        answer: dict[str, Any] = json.loads(door(json.dumps({"do": do, **more, **asked}, ensure_ascii=False)))
        assert answer["ok"], answer
        return answer

    def readiness(self, door: Door, **asked: Any) -> dict[str, Any]:
        """The shot's readiness."""
        found: dict[str, Any] = self.ask(door, **asked)["readiness"]
        return found

    def levels(self, door: Door, **asked: Any) -> dict[str, dict[str, Any]]:
        """The shot's levels by role."""
        return {one["role"]: one for one in self.ask(door, **asked)["sheet"]["light"]["levels"]}

    def row(self, door: Door, title: str) -> dict[str, Any]:
        """One row of the shot by its title."""
        return next(row for row in self.rows(door) if row["title"] == title)

    def rows(self, door: Door) -> list[dict[str, Any]]:
        """All rows of the shot."""
        found = self.ask(door)["sheet"]["rows"]
        things = found["rigs"] + found["glasses"] + found["dressing"]
        return [*found["tasks"], *found["marks"], *(row for thing in things for row in thing["rows"])]

    def shown_text(self, key: str, field: str) -> Any:
        """The value that a field shows, None when nobody filled it in."""
        return _shown(self.records[key], field)

    def a_shot(self, shot: str = SHOT, **changes: Any) -> None:
        """A shot of scene 12 with its target set."""
        fields = {"number": shot.upper(), "title": "Over the Gambler", "scene": "12", "phase": "setting"}
        self.act(ASSISTANT_DIRECTOR, "shot", shot, **{**fields, **EXPOSURE, **changes})

    def a_source(self, source: str = "key", *, role: str = "key", shot: str = SHOT, **changes: Any) -> None:
        """A bare lamp that burns in the shot, aimed at the face 2 m away; fields of the lamp may be given."""
        lamp = {"title": source.capitalize(), "intensity_cd": "960 cd", "overhead": "no", **changes}
        self.act(GAFFER, "source", source, **lamp)
        level = {"source": source, "shot": shot, "on": "yes", "role": role, "point": FACE}
        self.act(GAFFER, "level", f"{source}~{shot}", **level, distance_m="2 m")

    def a_layer(self, layer: str, source: str = "key", **changes: Any) -> None:
        """A 4 by 4 ft diffusion sheet, lit all over, that passes half and scatters all of it."""
        sheet_of_cloth = {
            "title": "Half grid cloth", "source": source, "type": "diffusion", "order": 1, "gap_m": "1.5 m",
            "width_m": "4 ft", "height_m": "4 ft", "transmittance_ratio": "0.5", "direct_ratio": "0",
            "lit_share_ratio": "1",
        }  # fmt: skip
        self.act(KEY_GRIP, "layer", layer, **{**sheet_of_cloth, **changes})

    def a_task(self, task: str = "flag", **changes: Any) -> None:
        """A must-do of the grips."""
        fields = {"title": "Flag off the near shoulder", "department": "grip", "shot": SHOT, "must": "must"}
        self.act(KEY_GRIP, "task", task, **{**fields, **changes})

    def _value(self, kind: str, field: str, value: Any) -> Any:
        known = kinds.field_of(kind, field)
        if known and known.type == "quantity" and isinstance(value, str):
            return shown.read_typed(kind, field, value)["value"]
        return value


def _shown(fields: Record, field: str) -> Any:
    cell = fields.get(field)
    return cell[merge.LIVE][0][1] if cell else None


def a_ready_day() -> ADay:
    """A day whose one shot lacks nothing: target set, must-do ticked, key read, nobody asked."""
    day = ADay()
    day.act(ASSISTANT_DIRECTOR, "day", "today", title="Night Crossing")
    day.act(ASSISTANT_DIRECTOR, "scene", "12", number="12", title="Saloon")
    day.act(CAMERA_ASSISTANT, "point", FACE, title="the Gambler's face", scene="12", type="face")
    day.a_shot()
    day.a_source()
    day.a_task()
    day.tick(KEY_GRIP, "task", "flag")
    day.tick_derived()
    day.read("r-1", "240 lx")
    return day


def with_dressing(day: ADay) -> ADay:
    """The same day with a chart on the table that lifts the face."""
    day.act(
        ART_DIRECTOR, "dressing", "chart", title="Nautical chart", scene="12", place="card table",
        material="pale paper", reflectance_ratio="0.7", flame_retardant="yes",
    )  # fmt: skip
    day.act(ART_DIRECTOR, "serves", f"chart~{SHOT}", dressing="chart", shot=SHOT, use="bounce", point=FACE)
    return day
