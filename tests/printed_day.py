"""A day of one shot on paper, and what a PDF says: its pages as text."""

from __future__ import annotations

import datetime
import io
import json
from pathlib import Path
from typing import Any

from pypdf import PdfReader

from people import ASSISTANT_DIRECTOR, DAY, GAFFER, KEY_GRIP, PROPS_BUYER, Pen
from tailslate.day.edit import Edit
from tailslate.pack import paper
from tailslate.pack.blocks import Block
from tailslate.pack.whole_day import WholeDay

AT = datetime.datetime(2025, 11, 25, 12, 5, tzinfo=datetime.UTC)
NOON = "2025-11-25T12:05+00:00"


class Crew:
    """Pens of the crew, and the edits that they made."""

    def __init__(self) -> None:
        self.made: list[Edit] = []
        self.pens = {
            member.role: Pen(by=member.person, incarnation=f"pen{place:07d}")
            for place, member in enumerate((GAFFER, KEY_GRIP, PROPS_BUYER, ASSISTANT_DIRECTOR))
        }
        server = Pen(by="", incarnation="server0001")
        for member in (GAFFER, KEY_GRIP, PROPS_BUYER, ASSISTANT_DIRECTOR):
            fields = {"name": member.name, "role": member.role, "departments": list(member.departments)}
            person = server.write("person", member.person, {**fields, "head": "no"})
            self.made += [person, server.write("verdict", person.id, {"says": ["counts", "", ""]})]

    def write(self, role: str, kind: str, record: str, changes: dict[str, Any], **more: Any) -> Edit:
        """Make one edit."""
        self.made.append(self.pens[role].write(kind, record, changes, **more))
        return self.made[-1]

    def day(self, **more: Any) -> WholeDay:
        """The day that these edits make."""
        return WholeDay.of(self.made, AT, **more)

    def file(self, folder: Path) -> Path:
        """The day as `tailslate export` writes it."""
        target = folder / "day.json"
        held = {
            "file": "tailslate-day-1",
            "day": DAY,
            "title": "Night Crossing",
            "sets": {"floor": [one.text for one in self.made]},
        }
        target.write_text(json.dumps(held), encoding="utf-8")
        return target


def a_crew(title: str = "Night Crossing", shot_title: str = "Over the Gambler") -> Crew:
    """One shot, its lamp on a wall circuit that is over its breaker, a rig over people, a drink."""
    crew = Crew()
    crew.write(
        "Assistant director", "day", DAY,
        {"title": title, "time_zone": "Europe/Oslo", "call_time": "07:00", "medic": "Unit nurse, at the bar"},
    )  # fmt: skip
    crew.write("Assistant director", "scene", "12", {"number": "12", "title": "Saloon"})
    crew.write(
        "Assistant director", "shot", "12c",
        {"number": "12C", "title": shot_title, "scene": "12", "phase": "setting", "t_stop": ["4", "T4"]},
    )  # fmt: skip
    crew.write(
        "Gaffer",
        "circuit",
        "wall",
        {"title": "Wall", "breaker_a": ["16", "16 A"], "voltage_v": ["120", "120 V"], "mapped": "yes"},
    )
    crew.write(
        "Gaffer",
        "source",
        "key",
        {
            "title": "Key",
            "input_w": ["3000", "3000 W"],
            "power_factor_ratio": ["1", "1"],
            "circuit": "wall",
            "overhead": "yes",
        },
    )
    crew.write(
        "Gaffer",
        "level",
        "key~12c",
        {"source": "key", "shot": "12c", "on": "yes", "role": "key", "dimmer_percent": ["60", "60 %"]},
    )
    crew.write(
        "Key grip", "rig", "stand", {"title": "Stand 1", "source": "key", "scene": "12", "overhead": "yes"}
    )
    crew.write(
        "Props buyer",
        "drink",
        "rum",
        {"title": "Dark rum", "scene": "12", "allergens": "none named on the label"},
    )
    return crew


def printed(blocks: list[Block], day: WholeDay) -> bytes:
    """The blocks as PDF."""
    return paper.pdf(blocks, title=day.title, printed_at=day.printed_at)


def pages(octets: bytes) -> list[str]:
    """What each page says, with white space made one, and what only lets a word break left out."""
    found = [page.extract_text().replace("\u200b", "") for page in PdfReader(io.BytesIO(octets)).pages]
    return [" ".join(text.split()) for text in found]
