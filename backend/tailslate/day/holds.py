"""Holds and requests: what stops a shot, who asks whom for what.

Knows no rows and no light. H1 a hold stands until it is cleared for the reason and the place it has now;
removing its record clears nothing. H2 a hold on a record that is gone, or on nothing, holds the whole
day. H3 a watch holds nothing, it is shown. H4 a clearing that does not count yet leaves the hold.
"""

from tailslate.day import cautions, gathered, kinds, merge, names, shown, ticks
from tailslate.day.gathered import id_of, kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Hold = dict[str, Any]
    Request = dict[str, Any]

RAISING = ("why", "type", "on", "shot", "scene", "department")
OPEN_ANSWERS = ("asked", "declined", "heard", "doing")  # of these only `asked` owes an answer


def is_on_whole_day(key: str, records: "Gathered") -> bool:
    """Tell whether a hold holds every shot: it names the day, nothing, or only what is gone.

    Args:
        key: record key of the hold.
        records: the hold with its targets.
    """
    targets = _targets(key, records)
    if not targets:
        return True
    return any(kind_of(one) == "day" for one in targets) or not any(records.is_there(one) for one in targets)


def _targets(key: str, records: "Gathered") -> "list[str]":
    found = [records.target(key, field) for field in ("on", "shot", "scene")]
    return [one for one in found if one]


def of_shot(shot: str, own: "list[str]", records: "Gathered") -> "list[Hold]":
    """Return the holds and watches on a shot, stops that stand first, then by time.

    Args:
        shot: record key of the shot.
        own: record keys of what belongs to the shot.
        records: the shot with what it reads, all holds among it.
    """
    found = []
    for key in _all(records):
        if is_on_whole_day(key, records) or _is_on(key, shot, own, records):
            found.append(hold(key, records))
    return in_order(found)


def of_day(records: "Gathered") -> "list[Hold]":
    """Return all holds and watches of the day, stops that stand first, then by time.

    Args:
        records: all holds with their targets.
    """
    return in_order([hold(key, records) for key in _all(records)])


def _all(records: "Gathered") -> "list[str]":
    return records.keys_of("hold")  # H1: removed ones too


def _is_on(key: str, shot: str, own: "list[str]", records: "Gathered") -> bool:
    on_shot, on_scene = records.target(key, "shot"), records.target(key, "scene")
    if on_shot:
        return on_shot == shot
    return (bool(on_scene) and on_scene == records.target(shot, "scene")) or records.target(key, "on") in own


def in_order(holds: "list[Hold]") -> "list[Hold]":
    """Return holds, those that hold first, then by time and record."""
    return sorted(holds, key=lambda one: (not does_hold(one), one["at_ms"], one["record"]))


def does_hold(one: "Hold") -> bool:
    """Tell whether a hold stops its shot now."""
    return one["type"] != "watch" and not one["cleared"]


def hold(key: str, records: "Gathered") -> "Hold":
    """Return one hold as a sheet shows it.

    Args:
        key: record key of the hold.
        records: the hold with its targets and who raised it.
    Returns: dict, keys record, why, type, raised_by, department, at_ms, cleared, waiting, again, ids, painted,
        value_if_cleared, line, whole_day, on, shot, caution (of what it is on, or None).
    """
    first, ids = None, set()
    for field in RAISING:
        ids.update(records.painted(key, field))
        entry = records.entry(key, field)
        if entry and (first is None or (entry[gathered.AT_MS], entry[0]) < (first[gathered.AT_MS], first[0])):
            first = entry
    cell = records.cell(key, "cleared")
    cleared, again = _cleared(key, records)
    waiting = not cleared and bool(cell and cell[merge.OFF :] and cell[merge.OFF])
    why = records.text(key, "why") or "no reason given"
    made = {
        "record": key,
        "why": why,
        "type": "watch" if records.text(key, "type") == "watch" else "stop",
        "raised_by": first[gathered.BY] if first else "",
        "department": records.text(key, "department") or names.department(first, records),
        "at_ms": first[gathered.AT_MS] if first else 0,
        "cleared": cleared,
        "waiting": waiting,
        "again": again,
        "ids": sorted(ids),
        "painted": {"cleared": records.painted(key, "cleared")},
        "value_if_cleared": ticks.value_if_ticked(key, "cleared", records),
        "whole_day": is_on_whole_day(key, records),
        "on": records.target(key, "on"),
        "shot": id_of(records.target(key, "shot")) if records.target(key, "shot") else "",
        "caution": cautions.of_record(records.target(key, "on"), records),
    }
    made["line"] = _line(made, first, records)
    return made


def _cleared(key: str, records: "Gathered") -> "tuple[bool, list[str]]":
    """Return whether a hold is cleared and, when it was for another reason or place, what changed."""
    cell = records.cell(key, "cleared")
    live = cell[merge.LIVE] if cell else []
    if not live or not kinds.is_done(live[0][gathered.VALUE]):
        return False, []
    found = [ticks.changes(key, "cleared", entry, records) for entry in live]
    return not min([len(one) for one in found]), min(found, key=lambda one: (len(one), one))


def _line(one: "Hold", first: "Any", records: "Gathered") -> str:
    said: str = names.DEPARTMENT_LABELS.get(one["department"], "Someone")
    if first:
        said += " " + shown.clock(first[gathered.AT_MS], records.utc_offset_min)
    said += ": " + str(one["why"])
    gone = [target for target in _targets(one["record"], records) if not records.is_there(target)]
    if gone:
        said += ". What it was on is gone: it holds the day until it is cleared"
    if one["waiting"]:
        said += ". A clearing is here that does not count yet"
    if one["again"]:
        said += ". Cleared for something else: " + one["again"][0]
    return said


def requests(shot: str, records: "Gathered") -> "list[Request]":
    """Return the requests about a shot that are not done, oldest first.

    Args:
        shot: record key of the shot, "" for those about no shot.
        records: the requests and who asked.
    """
    found = []
    for key in records.of_kind("request"):
        if records.target(key, "shot") == shot:
            found.append(request(key, records))
    return sorted(
        [one for one in found if one["answer"] in OPEN_ANSWERS], key=lambda one: (one["at_ms"], one["record"])
    )


def request(key: str, records: "Gathered") -> "Request":
    """Return one request as a sheet shows it.

    Args:
        key: record key of the request.
        records: the request and who asked.
    Returns: dict, keys record, ask, from, to, place, must, answer, at_ms, painted, shot, answered.
    """
    entry = records.entry(key, "ask")
    answer_entry = records.entry(key, "answer")
    answer = records.text(key, "answer")
    shot = records.target(key, "shot")
    return {
        "record": key,
        "ask": records.text(key, "ask") or "nothing written",
        "from": records.text(key, "from_department") or names.department(entry, records),
        "to": records.text(key, "to_department"),
        "place": records.text(key, "place"),
        "must": "nice" if records.text(key, "must") == "nice" else "must",
        "answer": answer if answer in OPEN_ANSWERS or answer == "done" else "asked",
        "at_ms": entry[gathered.AT_MS] if entry else 0,
        "painted": {"answer": records.painted(key, "answer")},
        "shot": id_of(shot) if shot else "",
        "answered": names.signed(answer, answer_entry, records) if answer and answer != "asked" else "",
    }
