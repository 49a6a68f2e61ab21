"""What the phone asks about sheets, readiness and quantities: the larger part of the rules, behind phone_door.py.

Imported when it is first asked. A phone that opens has to write and merge edits at once; compiling all of this
first would take several times as long.
"""

from tailslate.day import (
    board,
    copying,
    exchange,
    forecast,
    history,
    legs,
    match,
    meanings,
    meter,
    paper_list,
    placing,
    readiness,
    readings,
    sheet,
    shown,
    solve,
    starting_points,
    tables,
    turn_around,
    ways,
    what_if,
    words,
    work,
)
from tailslate.day.gathered import Gathered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


def _told(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return how values are to be told: units, and the place's clock."""
    return {"units": asked.get("units", "metric"), "utc_offset_min": asked.get("utc_offset_min", 0)}


def _shot(asked: "dict[str, Any]") -> "dict[str, Any]":
    found = sheet.gather(asked["shot"], asked["records"], **_told(asked))
    made = sheet.of_shot(asked["shot"], found, incomplete=_incomplete(asked), now_ms=asked.get("now_ms"))
    ready = readiness.of_shot(made, found)
    return {"sheet": made, "readiness": ready, "work": work.of_shot(made, ready, found)}


def _incomplete(asked: "dict[str, Any]") -> "list[str]":
    """Return why the copy is incomplete; without a word that it is complete it is not.

    `complete` is yes or no, or the sentences why not; `incomplete` holds reasons as `completeness` gives them.
    """
    complete = asked.get("complete", False)
    if isinstance(complete, list):
        return complete
    reasons = [one["sentence"] for one in asked.get("incomplete", [])]
    return reasons or ([] if complete else [readiness.STILL_FETCHING])


def _board(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return the board, with what departments say of each shot; `old_after_min` as the day has it.

    When shots will be ready is a question of its own, `forecast`: it costs more, and few screens show it.
    """
    old_min = asked.get("old_after_min")
    made = board.board(
        asked["shots"],
        last_words=asked.get("last_words", {}),
        now_ms=asked["now_ms"],
        incomplete=_incomplete(asked),
        utc_offset_min=asked.get("utc_offset_min", 0),
        old_ms=asked.get("old_ms") or (old_min * 60000 if old_min else exchange.OLD_MS),
    )
    told = {"old_ms": made["old_ms"], "utc_offset_min": asked.get("utc_offset_min", 0)}
    for row, one in zip(made["rows"], asked["shots"]):
        row["words"] = [words.told(word, now_ms=asked["now_ms"], **told) for word in one.get("words", [])]
    return made


def _day(asked: "dict[str, Any]") -> "dict[str, Any]":
    made = sheet.of_day(asked["records"], **_told(asked))
    made["work"] = work.of_day(Gathered(asked["records"]))
    return made


def _forecast(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return when shots will be ready: from stored works, or from the records of the day and the ids of shots."""
    shots, day = asked["shots"], asked.get("day", {})
    if asked.get("records"):
        shots = [_shot(dict(asked, shot=one))["work"] for one in shots]
        day = work.of_day(Gathered(asked["records"]))
    return forecast.of_day(
        shots,
        day,
        now_ms=asked["now_ms"],
        utc_offset_min=asked.get("utc_offset_min", 0),
        first_of=asked.get("first_of", ""),
        changes=asked.get("changes", []),
    )


def _what_if(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return a shot as it would be after some acts; nothing is kept."""
    tried = dict(asked)
    tried["records"] = what_if.with_acts(asked["records"], asked["acts"])
    return _shot(tried)


def _ways(asked: "dict[str, Any]") -> "dict[str, Any]":
    found = sheet.gather(asked["shot"], asked["records"], **_told(asked))
    return {"ways": ways.of_source("shot/" + asked["shot"], asked["level"], found)}


def _solve(asked: "dict[str, Any]") -> "dict[str, Any]":
    found = sheet.gather(asked["shot"], asked["records"], **_told(asked))
    which = ("shot/" + asked["shot"], asked.get("level", ""), asked["may"], asked.get("hold", {}))
    return {"solved": solve.of_source(*which, found)}


def _read_meter(asked: "dict[str, Any]") -> "dict[str, Any]":
    found = sheet.gather(asked["shot"], asked["records"], **_told(asked))
    return meter.read(asked["typed"], shot="shot/" + asked["shot"], records=found, way=asked.get("way", "lx"))


def _taken_for(asked: "dict[str, Any]") -> "dict[str, Any]":
    found = sheet.gather(asked["shot"], asked["records"])
    which = ("shot/" + asked["shot"], asked["point"], asked.get("role", readings.ALL))
    kept = readings.fields_taken(*which, found)
    return {"taken_for": kept["taken_for"], "cells": readings.cells_for(*which, found), "set": kept}


def _table_values(asked: "dict[str, Any]") -> "dict[str, Any]":
    return tables.taken(asked["table"], asked["row"], fitting=asked.get("fitting", 0))


def _spread_legs(asked: "dict[str, Any]") -> "dict[str, Any]":
    return legs.spread("circuit/" + asked["circuit"], Gathered(asked["records"]))


def _show(asked: "dict[str, Any]") -> "dict[str, Any]":
    shown_in = shown.both(asked["kind"], asked["field"], asked["value"])
    return {"shown": shown_in[asked.get("units", "metric")], "both": shown_in}


def _read_typed(asked: "dict[str, Any]") -> "dict[str, Any]":
    return shown.read_typed(asked["kind"], asked["field"], asked["typed"], asked.get("units", "metric"))


def _history_words(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"sentences": history.of_record(asked["record"], asked["lines"], asked["records"], **_told(asked))}


def _match(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return how a shot differs from an earlier one, of this day or another."""
    pairs = []
    for shot, records in ((asked["shot"], asked["records"]), (asked["shot_then"], asked["records_then"])):
        found = sheet.gather(shot, records, **_told(asked))
        pairs.append((sheet.of_shot(shot, found), found))
    return {"match": match.of_shots(pairs[0], pairs[1])}


def _turn_around(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return what is to be done between two shots of this day."""
    found = Gathered(asked["records"], **_told(asked))
    return {"turn_around": turn_around.of_shots(asked["shot"], asked.get("shot_then", ""), found)}


def _usual(asked: "dict[str, Any]") -> "dict[str, Any]":
    found = Gathered(asked["records"])
    return {"set": copying.usual(asked["kind"], asked["about"], found, like=asked.get("like", ""))}


def _another_shot(asked: "dict[str, Any]") -> "dict[str, Any]":
    how = {"stem": asked["stem"], "is_reverse": asked.get("is_reverse", False)}
    return copying.another_shot("shot/" + asked["shot"], Gathered(asked["records"]), **how)


def _start(asked: "dict[str, Any]") -> "dict[str, Any]":
    where = ("shot/" + asked["shot"], Gathered(asked["records"]), asked["tables"])
    return {"acts": starting_points.start(asked["name"], *where, stem=asked["stem"])}


def _place(asked: "dict[str, Any]") -> "dict[str, Any]":
    where = (asked["from"], asked["distance"], asked["angle"], Gathered(asked["records"]))
    return {"set": placing.away_from(*where, units=asked.get("units", "metric"))}


def _now(asked: "dict[str, Any]") -> "dict[str, Any]":
    which = ("shot/" + asked["shot"], asked["what"], asked.get("row", {}), Gathered(asked["records"]))
    how = {"stem": asked["stem"], "role": asked.get("role", ""), "fitting": asked.get("fitting", 0)}
    return {"acts": starting_points.now(*which, **how)}


ACTS = {
    "shot": _shot,
    "day": _day,
    "board": _board,
    "forecast": _forecast,
    "list": lambda asked: {"groups": sheet.of_department(asked["department"], asked["shots"])},
    "what_if": _what_if,
    "ways": _ways,
    "solve": _solve,
    "taken_for": _taken_for,
    "read_meter": _read_meter,
    "spread_legs": _spread_legs,
    "table_values": _table_values,
    "show": _show,
    "read_typed": _read_typed,
    "history_words": _history_words,
    "match": _match,
    "turn_around": _turn_around,
    "paper_list": lambda asked: {"list": paper_list.of_sheet(asked["rows"])},
    "meanings": lambda asked: {"meanings": meanings.meanings(asked["labels"], asked.get("part", ""))},
    "usual": _usual,
    "another_shot": _another_shot,
    "starting_points": lambda asked: {"points": starting_points.offered(Gathered(asked["records"]))},
    "start": _start,
    "now": _now,
    "place": _place,
}
