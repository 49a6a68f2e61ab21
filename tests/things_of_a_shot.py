"""A shot with things in it, for tests of the things side of its sheet: figures by their label, cautions, fields missing."""

from __future__ import annotations

from typing import Any

from a_day import SHOT, ADay, Door
from people import ASSISTANT_DIRECTOR

Figure = dict[str, Any]
SAFE = "within"


def plain(text: str) -> str:
    """A text of the rules with ordinary spaces."""
    return text.replace("\u00a0", " ")


def a_shot_in(inside: str = "interior") -> ADay:
    """A day with one shot in one scene, inside or outside, and one lamp that burns in it."""
    day = ADay()
    day.act(ASSISTANT_DIRECTOR, "scene", "12", number="12", title="Saloon", inside=inside)
    day.a_shot()
    day.a_source(scene="12")
    return day


def part(day: ADay, door: Door, name: str, **asked: Any) -> Any:
    """One part of the shot's sheet."""
    return day.ask(door, shot=SHOT, **asked)["sheet"][name]


def thing(things: list[dict[str, Any]], record: str) -> dict[str, Any]:
    """The thing of that record."""
    return next(one for one in things if one["record"] == record)


def by_label(found: dict[str, Any]) -> dict[str, Figure]:
    """The figures of a thing by label, hard spaces made soft."""
    return {
        one["label"]: {**one, "shown": plain(one["shown"]), "line": plain(one["line"])}
        for one in found["figures"]
    }


def asked_for(figure: Figure) -> list[tuple[str, str]]:
    """Which fields a figure asks to fill in: (record, field)."""
    return [(one["record"], one["field"]) for one in figure["missing"]]
