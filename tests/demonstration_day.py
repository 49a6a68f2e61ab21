"""The demonstration day as records, for acts to be added to; and the same day with no figure filled in."""

from __future__ import annotations

import itertools

from a_day import ADay
from people import DAY, KEY_GRIP
from tailslate import demonstration
from tailslate.day import kinds, merge

NOW_MS = 1_764_079_920_000  # 25 November 2025, 14:12 UTC
SHOTS = ("12a", "12b", "12c", "12d", "12e", "13a")
READ_BY_SHEETS = (
    "shot", "setup", "source", "layer", "level", "reading", "point", "dressing", "serves", "drink", "ingredient",
    "food", "mark", "taping", "rig", "circuit", "kit",
)  # fmt: skip


def a_demonstration_day() -> ADay:
    """The demonstration day, as a phone of the floor holds it."""
    made = demonstration.edits_of(
        demonstration.plan(), day_id=DAY, incarnation="demo000001",
        salts=(f"{number:08d}" for number in itertools.count()), now_ms=NOW_MS,
    )  # fmt: skip
    floor = [one for one in made if one.kind != "verdict" and one.set == "floor"]
    words = merge.verdict_words([one for one in made if one.kind == "verdict"])
    day = ADay()
    for name, cell in merge.fold(floor, words).items():
        key, field = name.rsplit("/", 1)
        day.records.setdefault(key, {})[field] = cell
    return day


def without_figures(day: ADay, *wanted: str) -> ADay:
    """The day with every quantity, count, choice and time of these kinds taken back; of all kinds that a sheet reads."""
    for kind in wanted or READ_BY_SHEETS:
        for key in [one for one in day.records if one.startswith(f"{kind}/")]:
            taken = {
                field.name: None
                for field in kinds.KINDS[kind].fields
                if field.name in day.records[key]
                and (field.type in ("quantity", "count", "time") or field.choices == kinds.YES_NO_UNKNOWN)
            }
            if taken:
                day.act(KEY_GRIP, kind, key.split("/")[1], **taken)
    return day
