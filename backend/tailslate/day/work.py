"""What a forecast needs of one shot, stored beside its readiness, and of the day. Knows no clock.

H1 what is open is work; what somebody must answer, decide or find out is a condition: nobody can say how long it
takes, so it removes the range.
"""

from tailslate.day import gathered, names, readiness, templates, ticks, words
from tailslate.day.keys import joined
from tailslate.day.rows import all_rows

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Work = dict[str, Any]

# Reasons that are work with a length; every other reason is a condition.
WORK = ("left", "again", "key_old", "key_not_read")
UNTOLD = (2, 5, 20)  # minutes of a task that people added: nobody said how long (chosen, wide)
READ_KEY = (2, 4, 8)  # minutes to read the key again: common practice, no source
LIT_BY = ("grip", "electric")


def of_shot(sheet: "dict[str, Any]", found: "dict[str, Any]", records: "Gathered") -> "Work":
    """Return what is open in a shot, what was ticked, what departments say, and what removes a range.

    Args:
        sheet: as sheet.of_shot gives it.
        found: as readiness.of_shot gives it.
        records: what the sheet read.
    Returns: dict, keys shot (id), number, phase, phase_at_ms, planned, shooting_min, tasks (list of dict, keys cell,
        record, title, department, minutes, needs), ticks (list of dict, keys cell, department, at_ms, minutes),
        words (as words.of_shot), conditions (list of sentences).
    """
    key = sheet["shot"]["record"]
    rows = [row for row in all_rows(sheet["rows"]) if row["state"] != ticks.OFF]
    entry = records.entry(key, "phase")
    return {
        "shot": gathered.id_of(key),
        "number": sheet["shot"]["number"],
        "phase": sheet["shot"]["phase"],
        "phase_at_ms": entry[gathered.AT_MS] if entry else 0,
        "planned": records.text(key, "planned_roll_time"),
        "shooting_min": records.whole(key, "shooting_min"),
        "tasks": _tasks(rows, found["reasons"]),
        "ticks": _ticks(rows),
        "words": words.of_shot(key, records),
        "conditions": [one["sentence"] for one in found["reasons"] if one["code"] not in WORK],
    }


def _minutes(row: "dict[str, Any]") -> "list[int]":
    return list(row["derived"]["minutes"] if row["derived"] else UNTOLD)


def _tasks(rows: "list[dict[str, Any]]", reasons: "list[dict[str, str]]") -> "list[dict[str, Any]]":
    made, is_read_listed = [], False
    known = set()
    for row in rows:
        cell = joined(row["record"], row["field"])
        when = row["derived"]["when"] if row["derived"] else templates.BEFORE
        if not row["must"] or row["state"] not in (ticks.OPEN, ticks.AGAIN) or when != templates.BEFORE:
            continue
        if cell in known:
            continue
        known.add(cell)
        low, likely, high = _minutes(row)
        if row["state"] == ticks.AGAIN:
            low = min(low, 1)  # perhaps it only has to be looked at
        if row["derived"] and row["derived"]["template"] == "last_reading":
            is_read_listed = True
        made.append(
            {
                "cell": cell,
                "record": row["record"],
                "title": row["title"],
                "department": row["department"],
                "minutes": [low, likely, high],
                "needs": list(row["derived"]["needs"]) if row["derived"] else [],
            }
        )
    for one in made:
        one["needs"] = sorted([need for need in set(one["needs"]) if need in known and need != one["cell"]])
    unread = [one for one in reasons if one["code"] in ("key_old", "key_not_read")]
    if unread and not is_read_listed:
        made.append(
            {
                "cell": unread[0]["record"] + "/read",
                "record": unread[0]["record"],
                "title": "Read the key",
                "department": "electric",
                "minutes": list(READ_KEY),
                "needs": sorted([one["cell"] for one in made if one["department"] in LIT_BY]),
            }
        )
    return made


def _ticks(rows: "list[dict[str, Any]]") -> "list[dict[str, Any]]":
    made = []
    for row in rows:
        if row["state"] in (ticks.DONE, ticks.AGAIN) and row["at_ms"] > 0:
            made.append(
                {
                    "cell": joined(row["record"], row["field"]),
                    "department": row["department"],
                    "at_ms": row["at_ms"],
                    "minutes": _minutes(row),
                }
            )
    return made


def of_day(records: "Gathered") -> "dict[str, Any]":
    """Return what a forecast needs of the day.

    Args:
        records: those of the kinds day, person and performer.
    Returns: dict, keys call, wrap, meal, next_call (times such as 07:12, "" when not set), meal_min, shooting_min,
        turn_around_min, old_after_min, rest_min (counts, None when not set), crew (dict department to people),
        minors (list of dict, keys title, arrived, away, allowed_min, is_known: whether they are under age).
    """
    days = records.of_kind("day")
    key = days[0] if days else "day/"
    made: dict[str, Any] = {}
    for name in ("call", "wrap", "meal", "next_call"):
        made[name] = records.text(key, name + "_time")
    for name in ("meal_min", "shooting_min", "turn_around_min", "old_after_min", "rest_min"):
        made[name] = records.whole(key, name)
    crew: dict[str, int] = {}
    for person in records.of_kind("person"):
        departments = records.value(person, "departments")
        for one in departments if isinstance(departments, list) else []:
            if one in names.DEPARTMENT_LABELS:
                crew[one] = crew.get(one, 0) + 1
    made["crew"] = crew
    made["minors"] = [
        {
            "title": names.name_of(one, records),
            "is_known": records.text(one, "under_age") == "yes",
            "arrived": records.text(one, "arrived_time"),
            "away": records.text(one, "away_time"),
            "allowed_min": records.whole(one, "allowed_min"),
        }
        for one in records.of_kind("performer")
        if records.entry(one, "under_age")
        and records.text(one, "under_age") != "no"
        and records.text(one, "status") != "released"
    ]
    return made


def not_said(department: str) -> str:
    """Return what a department is called that a task is for."""
    return names.DEPARTMENT_LABELS.get(department, "nobody yet")


def is_settled(work: "Work") -> bool:
    """Tell whether a shot is done: it no longer takes part in a forecast."""
    return bool(work["phase"] == readiness.DONE)
