"""One level in words: a reading plain, an estimate as a range, what is not known with what to fill in.

Knows no sum. LT1 stops first, lux second, footcandles third. LT2 a stop that was read without index or shutter tells
stops from the shot's stop, and no lux. LT3 what a level was stands behind what it is.
"""

from tailslate.craft.exposure import stop_difference_stops, stops_between
from tailslate.craft.ranges import exactly
from tailslate.day import names, shown, target

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Level = dict[str, Any]
    Worked = dict[str, Any]


def told(
    point: str,
    role: str,
    reading: "dict[str, Any] | None",
    model: "Range | None",
    missing: "list[dict[str, str]]",
    notes: "list[str]",
    worked: "Worked",
    records: "Gathered",
) -> "Level":
    """Return one level as a sheet shows it, with what sums and trials need.

    Args:
        point: record key of the point.
        role: all, or one role.
        reading: as readings.of_point gives it.
        model: range [lx], what is worked out; None when not known.
        missing: list of dict, keys record, field, sentence.
        notes: what the figure leaves out or comes from.
        worked: dict, keys target_lx [lx] and target_stop, each None when not known.
        records: the point.
    Returns: dict as light.of_shot has its levels, and level_lx, of_stop, reading, factor, lacks_bounce.
    """
    fresh = bool(reading and reading["fresh"])
    level = _read_level(reading) if reading and fresh else model
    of_stop = _of_stop(reading) if reading and fresh else None
    kind = "reading" if fresh else "range" if level else "unknown"
    stops = target.stops(level, worked["target_lx"]) if level else None
    if reading and fresh and stops is None:
        stops = _stops_of_stop(reading, worked["target_stop"])
    made: Level = {
        "point": point,
        "title": title_of(role, point, records),
        "role": role,
        "kind": kind,
        "stops": stops,
        "lux": target.lux(level) if level else None,
        "footcandles": target.footcandles(level) if level else None,
        "line": _line(kind, reading, missing, notes, worked["target_lx"]),
        "fresh": fresh,
        "missing": [] if fresh else missing,
        "changed": reading["changed"] if reading and not fresh else [],
        "caution": None,
        "level_lx": level,
        "of_stop": of_stop,
        "reading": reading,
        "factor": None,
        "lacks_bounce": False,
    }
    return made


def _read_level(reading: "dict[str, Any]") -> "Range | None":
    return None if reading["lux"] is None else exactly(reading["lux"])


def _of_stop(reading: "dict[str, Any]") -> "Range | None":
    """Return a reading taken as a stop as an amount of light in a unit of its own: the stop squared."""
    stop = reading["t_stop"]
    return None if stop is None else exactly(stop * stop)


def _stops_of_stop(reading: "dict[str, Any]", target_stop: "float | None") -> "dict[str, Any] | None":
    """Return how far a reading taken as a stop lies from the shot's stop; no index and no shutter is needed."""
    if reading["t_stop"] is None or target_stop is None:
        return None
    stops = stop_difference_stops(reading["t_stop"], reference=target_stop)
    return {"shown": shown.stops(stops, stops), "low": stops, "high": stops}


def put_of_stop(made: "Level", light: "Range", target_stop: "float | None") -> None:
    """Make a level one that is worked out from readings taken as stops: its light is in the unit of `of_stop`.

    Args:
        made: as `told` gives it.
        light: the readings' light together, in that unit.
        target_stop: the shot's stop, None when not known.
    """
    made.update({"of_stop": light, "kind": "range", "line": "worked out", "missing": []})
    if target_stop:
        low, high = [
            stops_between(light[end], reference=target_stop * target_stop) for end in ("low", "high")
        ]
        made["stops"] = {"shown": shown.stops(low, high), "low": low, "high": high}


def title_of(role: str, point: str, records: "Gathered") -> str:
    """Return what a level is called: "Fill, the face"."""
    word = role or "not said as what"
    where = names.name_of(point, records) if point else "not said where"
    return word[0].upper() + word[1:] + ", " + where


def _line(
    kind: str,
    reading: "dict[str, Any] | None",
    missing: "list[dict[str, str]]",
    notes: "list[str]",
    target_lx: "float | None",
) -> str:
    if reading and kind == "reading":
        return str(reading["line"])
    said = "worked out"
    if kind == "unknown":
        said = "not known: " + (missing[0]["sentence"] if missing else "no source and no reading")
    for note in notes if kind != "unknown" else ():
        said += ", " + note
    if reading:
        level = _read_level(reading)
        was = target.stops(level, target_lx) if level else None
        if was:
            said += ". Was " + was["shown"]
        elif reading["lux"] is not None:
            said += ". Was " + shown.lux(reading["lux"])
        else:
            said += ". Was " + shown.figure(reading["t_stop"], "T")
        said += ", " + str(reading["line"])
    return said


def of_bounce(
    one: "dict[str, Any]", summed: "dict[str, Level]", target_lx: "float | None", records: "Gathered"
) -> "dict[str, Any]":
    """Return one piece of dressing as a sheet tells it: what it sends to its point, and its share of the fill there.

    Args:
        one: as bounce.level gives it.
        summed: "point role" to level.
        target_lx: the target [lx], None when not known.
        records: the point.
    Returns: dict, keys record, dressing, title, point, lifts, line, missing, caution, stops, lux, share.
    """
    found = one["level_lx"]
    told = {
        name: one[name] for name in ("record", "dressing", "title", "point", "line", "missing", "caution")
    }
    told["lifts"] = names.name_of(one["point"], records)
    told["stops"] = target.stops(found, target_lx) if found else None
    told["lux"] = target.lux(found) if found else None
    fill = summed[one["point"] + " fill"]["level_lx"]
    told["share"] = None
    if found and fill and fill["typical"] >= target.DARKEST_LX:
        share = min(1.0, found["typical"] / fill["typical"])
        told["share"] = {"shown": shown.figure(share * 100.0, "percent") + " of the fill", "ratio": share}
    return told
