"""JSON text in, JSON text out: the only file that the phone's engine calls. It decides nothing itself."""

import json

from tailslate.craft.errors import RuleError
from tailslate.day import (
    board,
    check,
    exchange,
    forecast,
    history,
    kinds,
    legs,
    match,
    merge,
    meter,
    readiness,
    readings,
    reads,
    sheet,
    shown,
    solve,
    tables,
    ways,
    what_if,
    work,
)
from tailslate.day import edit as edits
from tailslate.day.gathered import Gathered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


def call(text: str) -> str:
    """Do what one call asks and return the answer.

    Args:
        text: JSON object with the key "do" and what that act takes.
    Returns: JSON object, "ok": true with the act's own keys; or "ok": false with code, sentence, facts.
    """
    try:
        asked = json.loads(text)
        answer = _ACTS[asked.pop("do")](asked)
        answer["ok"] = True
    except RuleError as error:
        answer = {"ok": False, "code": error.code, "sentence": error.sentence}
        answer["facts"] = {name: str(error.facts[name]) for name in error.facts}
    return json.dumps(answer)


def _kinds(_asked: "dict[str, Any]") -> "dict[str, Any]":
    departments = [{"name": n, "label": la, "short": s} for n, la, s in kinds.DEPARTMENTS]
    return {"rules": kinds.RULES, "kinds": kinds.table(), "departments": departments}


def _check(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"reasons": check.faults(asked["kind"], asked["set"])}


def _make(asked: "dict[str, Any]") -> "dict[str, Any]":
    one = edits.make(
        day=asked["day"],
        set_name=kinds.set_of(asked["kind"]),
        incarnation=asked["incarnation"],
        counter=asked["counter"],
        salt=asked["salt"],
        rules=kinds.RULES,
        at_ms=asked["at_ms"],
        by=asked["by"],
        for_whom=asked.get("for_whom", ""),
        how=asked.get("how", ""),
        kind=asked["kind"],
        record=asked["record"],
        changes=asked["changes"],
        seen=asked["seen"],
    )
    return {"text": one.text, "id": one.id}


def _merge(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Join what counts; name the records that must be folded from all their texts instead."""
    found, refused = merge.read_all(asked["items"], asked["day"])
    cells = asked["cells"]
    counting, needs_fold, verdict_on = [], set(), set()
    for one in found:
        if one is None:
            continue
        fields = [change[0] for change in one.changes]
        if one.kind == "verdict":
            verdict_on.add(one.record)
        key = one.record_key
        has_off = any(cells.get(key + "/" + f, _NO_CELL)[merge.OFF] for f in fields)
        if has_off or kinds.is_reserved(one.kind, one.changes):
            needs_fold.add(key)
        else:
            counting.append(one)
    counting = [one for one in counting if one.record_key not in needs_fold]
    return {
        "cells": merge.join(cells, counting),
        "ids": [one.id if one else None for one in found],
        "refused": refused,
        "needs_fold": sorted(needs_fold),
        "verdict_on": sorted(verdict_on),
    }


_NO_CELL: "list[Any]" = merge.new_cell()


def _join_ids(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Join on ids alone; the phone leaves out what `reserved` names and cells in which an edit is off."""
    merge.join_ids(asked["cells"], asked["edits"])
    return {"cells": asked["cells"]}


def _shown(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"cells": {name: list(merge.shown(name, live)) for name, live in asked["cells"].items()}}


def _reserved(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"reserved": [kinds.is_reserved(kind, changes) for kind, changes in asked["acts"]]}


def _fold(asked: "dict[str, Any]") -> "dict[str, Any]":
    found, _refused = merge.read_all(asked["items"], asked["day"])
    judged, _refused = merge.read_all(asked["verdicts"], asked["day"])
    words = merge.verdict_words([one for one in judged if one])
    return {"cells": merge.fold([one for one in found if one], words)}


def _presence(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"presence": merge.presence(asked["record"], asked["records"])}


def _removal(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"value": merge.removal(asked["records"], asked["record"])}


def _marks(asked: "dict[str, Any]") -> "dict[str, Any]":
    marks = exchange.add_to_marks(asked["marks"], asked.get("ids", []))
    for edit_id in asked.get("drop", []):
        marks = exchange.drop_from_marks(marks, edit_id)
    return {"marks": marks}


def _new_state(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"state": exchange.new_state(asked["sets"])}


def _completeness(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"reasons": exchange.completeness(**asked)}


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
    """Return the board; with the day's facts (`work` of the act `day`) and each shot's work, when each will be ready."""
    day = asked.get("day", {})
    old_min = day.get("old_after_min")
    made = board.board(
        asked["shots"],
        last_words=asked.get("last_words", {}),
        now_ms=asked["now_ms"],
        incomplete=_incomplete(asked),
        utc_offset_min=asked.get("utc_offset_min", 0),
        old_ms=asked.get("old_ms") or (old_min * 60000 if old_min else exchange.OLD_MS),
    )
    if day:
        works = [one["work"] for one in asked["shots"]]
        told = {"now_ms": asked["now_ms"], "utc_offset_min": asked.get("utc_offset_min", 0)}
        found = forecast.of_day(works, day, **told)
        for row, one in zip(made["rows"], found["shots"]):
            row["forecast"] = one
        made["wrap"] = found["wrap"]
    return made


def _day(asked: "dict[str, Any]") -> "dict[str, Any]":
    made = sheet.of_day(asked["records"], **_told(asked))
    made["work"] = work.of_day(Gathered(asked["records"]))
    return made


def _forecast(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return when shots will be ready: from stored works, or from the records of the day and the ids of shots."""
    shots, day = asked["shots"], asked.get("day", {})
    if "records" in asked:
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


def _change_words(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"changes": history.of_day(asked["lines"], asked["records"], **_told(asked))}


def _match(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return how a shot differs from an earlier one, of this day or another."""
    pairs = []
    for shot, records in ((asked["shot"], asked["records"]), (asked["shot_then"], asked["records_then"])):
        found = sheet.gather(shot, records, **_told(asked))
        pairs.append((sheet.of_shot(shot, found), found))
    return {"match": match.of_shots(pairs[0], pairs[1])}


_ACTS = {
    "kinds": _kinds,
    "check": _check,
    "make": _make,
    "merge": _merge,
    "join_ids": _join_ids,
    "shown": _shown,
    "reserved": _reserved,
    "fold": _fold,
    "presence": _presence,
    "removal": _removal,
    "marks": _marks,
    "new_state": _new_state,
    "next_request": lambda asked: exchange.next_request(**asked),
    "take_reply": lambda asked: exchange.take_reply(**asked),
    "settle": lambda asked: exchange.settle(**asked),
    "completeness": _completeness,
    "reads": lambda _asked: reads.table(),
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
    "change_words": _change_words,
    "match": _match,
}
