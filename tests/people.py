"""The same crew in every test, by role, and builders of what they do. No test makes up people of its own."""

from __future__ import annotations

import itertools
import random
from dataclasses import dataclass, field
from typing import Any

from tailslate.day import edit, kinds
from tailslate.day.edit import Edit

DAY = "night-crossing"
DAY_TITLE = "Night Crossing, day 4"
MORNING_MS = 1_764_054_000_000  # 25 November 2025, 07:00 UTC


@dataclass(frozen=True)
class CrewMember:
    """Someone on the day: who they are, and what their join code is for."""

    name: str
    role: str
    departments: tuple[str, ...]
    is_head: bool = False

    @property
    def person(self) -> str:
        """The id that this person has on the day, in tests that need not join."""
        return "p-" + self.role.lower().replace(" ", "-")


GAFFER = CrewMember("Ida", "Gaffer", ("electric",), is_head=True)
KEY_GRIP = CrewMember("Tove", "Key grip", ("grip",), is_head=True)
GRIP = CrewMember("Milo", "Grip", ("grip",))
CAMERA_ASSISTANT = CrewMember("Noor", "Camera assistant", ("camera",))
ART_DIRECTOR = CrewMember("Sanne", "Art director", ("art", "props"), is_head=True)
PROPS_BUYER = CrewMember("Bram", "Props buyer", ("props",))
ASSISTANT_DIRECTOR = CrewMember("Ravi", "Assistant director", ("assistant_directors",))
PRODUCER = CrewMember("Lena", "Producer", ("production",), is_head=True)
EVERYONE = (GAFFER, KEY_GRIP, GRIP, CAMERA_ASSISTANT, ART_DIRECTOR, PROPS_BUYER, ASSISTANT_DIRECTOR, PRODUCER)


@dataclass
class Pen:
    """Writes edits as one engine does: one incarnation, counters without a gap in each set."""

    by: str
    day: str = DAY
    incarnation: str = "pen0000001"
    at_ms: int = MORNING_MS
    rules: int = kinds.RULES
    chance: random.Random = field(default_factory=lambda: random.Random(7))
    counters: dict[str, itertools.count[int]] = field(default_factory=dict)

    def write(
        self,
        kind: str,
        record: str,
        changes: dict[str, Any],
        *,
        seen: dict[str, list[str]] | None = None,
        set_name: str = "",
        **more: Any,
    ) -> Edit:
        """Return the next edit; `seen` is field to ids, whatever else `edit.make` takes may be given too."""
        name = set_name or kinds.set_of(kind)
        self.at_ms += 1000
        parts: dict[str, Any] = {
            "day": self.day,
            "incarnation": self.incarnation,
            "rules": self.rules,
            "at_ms": self.at_ms,
            "by": self.by,
        }
        return edit.make(
            set_name=name,
            counter=next(self.counters.setdefault(name, itertools.count(1))),
            salt="".join(self.chance.choices("abcdefghijklmnopqrstuvwxyz", k=8)),
            kind=kind,
            record=record,
            changes=changes,
            seen=seen or {},
            **{**parts, **more},
        )

    def ticks(self, count: int) -> list[Edit]:
        """Return edits that each tick a task of its own."""
        return [
            self.write("task", f"t-{self.incarnation}-{place}", {"done": ["done", []]})
            for place in range(count)
        ]


def a_light(*, throw_m: str = "4", **changes: Any) -> dict[str, Any]:
    """Return the fields of a source in a shot, with all but the named ones filled in."""
    return {"source": "s-1", "shot": "12a", "on": "yes", "distance_m": [throw_m, f"{throw_m} m"], **changes}
