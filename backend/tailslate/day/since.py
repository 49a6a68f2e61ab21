"""What a change did to the light: stops gained or lost since a level was read, and the contrast before and now.

Knows no lamps. SI1 what was is what a meter read; where nobody read, what ticks remember of the dressing. SI2 a change
that a meter would not show is none. SI3 one sentence says it all: how much, since when, the ratio, and why.
"""

from tailslate.craft.exposure import stops_between
from tailslate.craft.ranges import exactly
from tailslate.craft.rounding import decimal_text
from tailslate.day import (
    carried_groups,
    contrast,
    gathered,
    kinds,
    merge,
    names,
    remembered,
    shown,
    target,
    ticks,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered
    from tailslate.day.remembered import Facts

    Level = dict[str, Any]
    Change = dict[str, Any]

NOTHING = ("0.0", "-0.0")


def of_levels(shot: str, worked: "dict[str, Any]", records: "Gathered") -> "list[Change]":
    """Return what changed in the levels of a shot since they were read, or since dressing was ticked.

    Args:
        shot: record key of the shot.
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
    Returns: list of dict, keys point, role, title, stops (dict, keys shown, low, high; None when nothing is left),
        sentence, because (list of sentences), of_dressing (as stops: what the dressing alone did, where lamps changed
        too, or None), was_ratio and now_ratio ("" or a contrast in words).
    """
    found = []
    for level in worked["levels"]:
        if level["role"] == "all":
            continue
        reading = level["reading"]
        was: Range | None = None
        now: Range | None = level["level_lx"]
        if reading and not reading["fresh"] and reading["lux"]:
            was, when, because = (
                exactly(reading["lux"]),
                "since it was " + reading["line"],
                reading["changed"],
            )
        elif not reading and level["role"] == "fill":
            ticked = _ticked(shot, level["point"], worked, records)
            if ticked is None:
                continue
            was, now, when, because = ticked["was"], ticked["now"], ticked["when"], ticked["because"]
        if was is None or now is None:
            continue
        made = _change(level, was, now, when, because, worked, records)
        if made:
            found.append(made)
    return found


def _change(
    level: "Level",
    was: "Range",
    now: "Range",
    when: str,
    because: "list[str]",
    worked: "dict[str, Any]",
    records: "Gathered",
) -> "Change | None":
    made: Change = {"point": level["point"], "role": level["role"], "title": level["title"]}
    if now["low"] < target.DARKEST_LX:
        made["stops"], said = None, "nothing left of it"
    else:
        low = stops_between(now["low"], reference=was["high"])
        high = stops_between(now["high"], reference=was["low"])
        words = moved(low, high)
        if not words:
            return None
        made["stops"], said = {"shown": words, "low": low, "high": high}, words
    made["because"] = because
    made["was_ratio"], made["now_ratio"] = _ratios(level, was, worked)
    sentence = level["title"] + ": " + said + " " + when
    made["of_dressing"] = _of_dressing(level)
    if made["of_dressing"]:
        sentence += ", the dressing alone " + made["of_dressing"]["shown"]
    if made["was_ratio"]:
        sentence += (
            ". Key to fill was " + made["was_ratio"] + ", now " + (made["now_ratio"] or shown.NOT_KNOWN)
        )
    made["sentence"] = sentence
    return made


def _of_dressing(level: "Level") -> "dict[str, Any] | None":
    """Return what the dressing alone made of a level, where lamps changed too."""
    alone = level["factor"]["of_dressing"] if level["factor"] else None
    if alone is None or alone["low"] <= 0.0:
        return None
    low, high = stops_between(alone["low"], reference=1.0), stops_between(alone["high"], reference=1.0)
    words = moved(low, high)
    return {"shown": words, "low": low, "high": high} if words else None


def moved(low: float, high: float) -> str:
    """Return a change of level in words: "down 1.2 to 1.6 stops"; "" when a meter would not show it.

    >>> moved(-1.6, -1.2), moved(0.5, 0.5), moved(-0.2, 0.4), moved(0.01, 0.04)
    ('down 1.2 to 1.6 stops', 'up 0.5 stops', 'down 0.2 to up 0.4 stops', '')
    """
    first, last = decimal_text(low, 1), decimal_text(high, 1)
    if first in NOTHING and last in NOTHING:
        return ""
    if first[0] == "-" and (last[0] == "-" or last in NOTHING):
        return "down " + _span(last.lstrip("-"), first[1:])
    if first[0] == "-":
        return "down " + first[1:] + " to up " + last + " stops"
    return "up " + _span(first, last)


def _span(first: str, last: str) -> str:
    return (first if first == last else first + " to " + last) + (" stop" if last == "1.0" else " stops")


def _ratios(level: "Level", was: "Range", worked: "dict[str, Any]") -> "tuple[str, str]":
    """Return the contrast at the point before and now, each "" when it is not known."""
    summed = worked["summed"]
    key, fill = summed.get(level["point"] + " key"), summed.get(level["point"] + " fill")
    if not key or not fill or level["level_lx"] is None or level["lacks_bounce"]:
        return "", ""
    key_was, fill_was = _was(key, level, was), _was(fill, level, was)
    before = contrast.of_ranges(key_was, fill_was) if key_was and fill_was else None
    now = contrast.of_levels(key, fill)
    return (contrast.ratio_words(before[0], before[1]) if before else ""), (
        contrast.ratio_words(now[0], now[1]) if now else ""
    )


def _was(one: "Level", changed: "Level", was: "Range") -> "Range | None":
    """Return a level as it was: the changed one as read, another as its own reading says, else as it is."""
    if one is changed:
        return was
    reading = one["reading"]
    found: Range | None = exactly(reading["lux"]) if reading and reading["lux"] else one["level_lx"]
    return found


# What ticks remember of dressing


def _ticked(shot: str, point: str, worked: "dict[str, Any]", records: "Gathered") -> "dict[str, Any] | None":
    """Return the fill with the dressing as it was when somebody ticked: keys was, now, when, because."""
    before = _before(shot, point, records)
    if not before:
        return None
    members = worked["groups"].get((point, "fill"), [])
    lifts = [one["record"] for one in worked["bounces"] if one["point"] == point]
    facts = remembered.facts_now(members, [], records)
    facts.update(before["facts"])
    lamps = [worked["parts"][key] for key in members]
    known = None if None in lamps or not lamps else carried_groups.summed(lamps)
    found = carried_groups.factor({"facts": facts, "lux": None}, members, lifts, known, shot, records)
    factor: Range | None = found["factor"] if found else None
    if factor is None or factor["high"] <= 0.0:
        return None
    fill = worked["summed"][point + " fill"]
    now = None if fill["lacks_bounce"] else fill["level_lx"]
    if now is None:  # only the change is known, not the level: told against one lux
        return {"was": exactly(1.0), "now": factor, "when": before["when"], "because": before["because"]}
    was: Range = {
        "low": now["typical"] / factor["high"],
        "typical": now["typical"] / factor["typical"],
        "high": now["typical"] / factor["low"] if factor["low"] > 0.0 else now["typical"] / factor["typical"],
    }
    return {"was": was, "now": exactly(now["typical"]), "when": before["when"], "because": before["because"]}


def _before(shot: str, point: str, records: "Gathered") -> "dict[str, Any] | None":
    """Return the dressing of a point as ticks remember it: keys facts, when, because; None when it is the same."""
    facts: Facts = {}
    because: list[str] = []
    newest = 0
    for serves in records.keys_of("serves"):
        dressing = records.target(serves, "dressing")
        is_one = records.target(serves, "shot") == shot and records.target(serves, "point") == point
        if not is_one or records.text(serves, "use") != "bounce":
            continue
        then = remembered.facts_now([], [serves], records)
        old = _old_values(dressing, records)
        is_there = records.is_there(serves) and records.is_there(dressing)
        if is_there and not old["values"] and not _was_there(serves, shot, point, records):
            continue
        if not is_there and not old["ticked_ms"]:
            continue
        if not is_there:
            gone = serves if records.is_there(dressing) else dressing
            said = names.name_of(dressing, records) + " is no longer there"
            because.append(names.signed(said, records.entry(gone, "present"), records))
        for field in old["values"]:
            then[dressing][field] = old["values"][field]
        because.extend(old["because"])
        newest = max(newest, old["ticked_ms"])
        facts.update(then)
    if not because:
        return None
    when = "since it was ticked " + shown.clock(newest, records.utc_offset_min)
    return {"facts": facts, "when": when, "because": because}


def _was_there(serves: str, shot: str, point: str, records: "Gathered") -> bool:
    """Tell whether a piece lifted the point before anything that lifted it was taken away."""
    since = records.entry(serves, "use")
    for other in records.keys_of("serves"):
        dressing = records.target(other, "dressing")
        if records.target(other, "shot") == shot and records.target(other, "point") == point:
            ticked_ms = _old_values(dressing, records)["ticked_ms"]
            is_there = records.is_there(other) and records.is_there(dressing)
            if not is_there and ticked_ms and since and since[gathered.AT_MS] > ticked_ms:
                return False
    return True


def _old_values(dressing: str, records: "Gathered") -> "dict[str, Any]":
    """Return what the newest tick that differs from now says of a piece: keys values, because, ticked_ms."""
    found: dict[str, Any] = {"values": {}, "because": [], "ticked_ms": 0}
    entries = []
    for key, field in [(dressing, "in_place")] + [(task, "done") for task in records.of_kind("task")]:
        cell = records.cell(key, field)
        for entry in cell[merge.LIVE] if cell else []:
            if kinds.is_done(entry[gathered.VALUE]):
                entries.append(entry)
    for entry in sorted(entries, key=lambda one: (one[gathered.AT_MS], one[0])):
        for cell_key, was in entry[gathered.VALUE][1]:
            field = cell_key[cell_key.rfind("/") + 1 :]
            if gathered.record_of(cell_key) != dressing:
                continue
            found["ticked_ms"] = max(found["ticked_ms"], entry[gathered.AT_MS])
            now = records.value(dressing, field)
            if field in remembered.OF_DRESSING and ticks.has_moved("dressing", field, was, now):
                if isinstance(was, list) and was and isinstance(was[0], str):
                    _put_old(found, dressing, field, was[0], records)
    return found


def _put_old(found: "dict[str, Any]", dressing: str, field: str, was: str, records: "Gathered") -> None:
    found["values"][field] = was
    if field == "reflectance_ratio":  # its ends belong to the new cloth; of the old one only this is known
        for end in ("reflectance_low_ratio", "reflectance_high_ratio"):
            found["values"][end] = was
    words = names.value_words(dressing, field, records.value(dressing, field), records)
    said = names.cell_name(dressing + "/" + field, records) + ": now " + words
    found["because"].append(names.signed(said, records.entry(dressing, field), records))
