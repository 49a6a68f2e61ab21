"""The light of a shot: the level at each point by role, key to fill, a ladder a source.

Knows no rows and no readiness. U1 a fresh reading is plain and outranks the model; an estimate is a range.
U2 levels add in lux at one point, never in stops; back light is left out of sums and of the ratio.
U3 stops first, lux second, footcandles third; what is not known says what to fill in.
"""

from tailslate.craft.contrast import contrast_ratio, sum_lx
from tailslate.craft.ranges import exactly
from tailslate.craft.rounding import compare, decimal_text
from tailslate.day import bounce, chain, names, readings, rows, shown, target
from tailslate.day.readings import ALL

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Level = dict[str, Any]

ROLES = ("key", "fill", "back", "background", "practical")  # the order in which levels stand
NOT_SUMMED = ("back", "background")


def of_shot(shot: str, wanted: "dict[str, Any]", records: "Gathered") -> "dict[str, Any]":
    """Return the light of a shot.

    Args:
        shot: record key of the shot.
        wanted: as target.of_shot gives it.
        records: the shot with what it reads.
    Returns: dict, keys levels (list of dict: point, title, role, kind, stops, lux, footcandles, line, fresh,
        missing, changed, caution), key_to_fill (dict, keys kind, shown, line, or None), ladders (list of
        dict: source, title, role, stages, reading_stops).
    """
    target_lx = wanted["lux"]["low"] if wanted["lux"] else None
    sources = [key for key in records.pointing("level", "shot", shot) if records.text(key, "on") != "no"]
    made = {key: chain.level(key, records) for key in sources}
    groups = _groups(shot, sources, records)
    levels: list[Level] = []
    summed: dict[str, Level] = {}
    for point, role in groups:
        members = [made[key] for key in groups[(point, role)]]
        one = _level(shot, point, role, members, target_lx, records)
        levels.append(one)
        summed[point + " " + role] = one
    for point in sorted({point for point, _role in groups}):
        both = _all(shot, point, levels, target_lx, records)
        if both:
            levels.append(both)
    levels.sort(key=lambda one: _place(one, records))
    ladders = [
        _ladder(key, made[key], groups, summed, target_lx, records) for key in sources if made[key]["stages"]
    ]
    contrast = _key_to_fill(summed, records)
    for one in levels:
        for name in ("level_lx", "lacks_bounce"):  # for sums only
            del one[name]
    return {"levels": levels, "key_to_fill": contrast, "ladders": ladders}


def _place(one: "Level", records: "Gathered") -> "tuple[Any, ...]":
    order = records.whole(one["point"], "order")
    role = ROLES.index(one["role"]) if one["role"] in ROLES else len(ROLES)
    return (role, rows.LAST if order is None else order, one["point"], one["role"])


def _groups(shot: str, sources: "list[str]", records: "Gathered") -> "dict[tuple[str, str], list[str]]":
    """Return the sources by point and role, with a group for each reading and each bounce that has none."""
    groups: dict[tuple[str, str], list[str]] = {}
    for key in sources:
        group = (records.target(key, "point"), records.text(key, "role"))
        groups.setdefault(group, []).append(key)
    for key in records.pointing("reading", "shot", shot):
        role = records.text(key, "role") or ALL
        if role != ALL:
            groups.setdefault((records.target(key, "point"), role), [])
    for key in records.pointing("serves", "shot", shot):
        point = records.target(key, "point")
        if records.text(key, "use") == "bounce" and point:
            groups.setdefault((point, "fill"), [])
    return groups


def _level(
    shot: str,
    point: str,
    role: str,
    members: "list[dict[str, Any]]",
    target_lx: "float | None",
    records: "Gathered",
) -> "Level":
    """Return the level of one role at one point: a fresh reading, else the sum of its sources."""
    reading = readings.of_point(shot, point, role, records) if point else None
    missing: list[dict[str, str]] = []
    notes: list[str] = []
    for member in members:
        missing.extend(member["missing"])
        notes.extend(member["notes"])
    lifts = readings.bouncing(shot, point, records) if role == "fill" else []
    bounces = [bounce.level(key, shot, records) for key in lifts]
    unknown = [one for one in bounces if one["level_lx"] is None]
    asked = list(missing)
    for lacking in unknown:
        asked.extend(lacking["missing"])
        if members:  # the lamps' light is known: the figure stands, and says what it leaves out
            notes.append("without the bounce of " + lacking["title"] + ": read it")
        else:
            missing.extend(lacking["missing"])
    parts = [one["level_lx"] for one in members + bounces if one["level_lx"] is not None]
    model = None if missing or not parts else _sum(parts)
    told = _told(point, role, reading, model, asked, notes, target_lx, records)
    told["lacks_bounce"] = bool(unknown)
    if not point or not role:
        where = "role" if point else "point"
        sentence = "say where each source is aimed, and as what"
        told["missing"] = told["missing"] + [{"record": "", "field": where, "sentence": sentence}]
    return told


def _sum(levels: "list[Range]") -> "Range":
    return {
        "low": sum_lx([one["low"] for one in levels]),
        "typical": sum_lx([one["typical"] for one in levels]),
        "high": sum_lx([one["high"] for one in levels]),
    }


def _told(
    point: str,
    role: str,
    reading: "dict[str, Any] | None",
    model: "Range | None",
    missing: "list[dict[str, str]]",
    notes: "list[str]",
    target_lx: "float | None",
    records: "Gathered",
) -> "Level":
    fresh = bool(reading and reading["fresh"])
    level = exactly(reading["lux"]) if reading and fresh else model
    kind = "reading" if fresh else "range" if level else "unknown"
    made: Level = {
        "point": point,
        "title": _title(role, point, records),
        "role": role,
        "kind": kind,
        "stops": target.stops(level, target_lx) if level else None,
        "lux": target.lux(level) if level else None,
        "footcandles": target.footcandles(level) if level else None,
        "line": _line(kind, reading, missing, notes, target_lx),
        "fresh": fresh,
        "missing": [] if fresh else missing,
        "changed": reading["changed"] if reading and not fresh else [],
        "caution": None,
        "level_lx": level,
        "lacks_bounce": False,
    }
    return made


def _title(role: str, point: str, records: "Gathered") -> str:
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
        was = target.stops(exactly(reading["lux"]), target_lx)
        said += ". Was " + (was["shown"] if was else shown.lux(reading["lux"])) + ", " + str(reading["line"])
    return said


def _all(
    shot: str, point: str, levels: "list[Level]", target_lx: "float | None", records: "Gathered"
) -> "Level | None":
    """Return all light at a point together, None when one role is all there is and nobody read the sum."""
    reading = readings.of_point(shot, point, ALL, records) if point else None
    parts = [one for one in levels if one["point"] == point and one["role"] not in NOT_SUMMED]
    if not reading and len(parts) < 2:
        return None
    missing: list[dict[str, str]] = []
    for one in parts:
        missing.extend(one["missing"])
    known = [one["level_lx"] for one in parts if one["level_lx"]]
    model = _sum(known) if known and len(known) == len(parts) else None
    return _told(point, ALL, reading, model, missing, [], target_lx, records)


def _key_to_fill(summed: "dict[str, Level]", records: "Gathered") -> "dict[str, str] | None":
    """Return the contrast at the first point that has a key and a fill, None when there is none."""
    points = sorted(
        [one["point"] for one in summed.values() if one["role"] == "key" and one["point"] + " fill" in summed]
    )
    if not points:
        return None
    key, fill = summed[points[0] + " key"], summed[points[0] + " fill"]
    said = "(key + fill) : fill, at " + names.name_of(points[0], records)
    if fill["kind"] == "range" and fill["lacks_bounce"]:
        said += ", fill without the bounce of dressing"
    key_lx, fill_lx = key["level_lx"], fill["level_lx"]
    if (
        key_lx is None
        or fill_lx is None
        or fill_lx["low"] < target.DARKEST_LX
        or key_lx["low"] < target.DARKEST_LX
    ):
        lacking = key if key_lx is None else fill
        return {
            "kind": "unknown",
            "shown": shown.NOT_KNOWN,
            "line": said + ". " + lacking["title"] + ": " + lacking["line"],
        }
    low = contrast_ratio(key_lx["low"], fill_lx=fill_lx["high"])
    high = contrast_ratio(key_lx["high"], fill_lx=fill_lx["low"])
    is_read = key["kind"] == "reading" and fill["kind"] == "reading"
    first, last = _ratio_text(low), _ratio_text(high)
    words = (first if first == last else first + " to " + last) + " : 1"
    return {
        "kind": "reading" if is_read else "range",
        "shown": words,
        "line": said + (", read" if is_read else ", worked out"),
    }


def _ratio_text(ratio: float) -> str:
    text = decimal_text(ratio, 1 if compare(ratio, 9.95) < 0 else 0)
    return text[:-2] if text.endswith(".0") else text


def _ladder(
    key: str,
    made: "dict[str, Any]",
    groups: "dict[tuple[str, str], list[str]]",
    summed: "dict[str, Level]",
    target_lx: "float | None",
    records: "Gathered",
) -> "dict[str, Any]":
    """Return the stages of one source from the bare lamp on, in stops from the target."""
    source = records.target(key, "source")
    point, role = records.target(key, "point"), records.text(key, "role")
    group = summed[point + " " + role]
    is_alone = len(groups[(point, role)]) == 1
    stages = []
    for stage in made["stages"]:
        stops = target.stops(stage["level_lx"], target_lx)
        loss = stage["loss_stops"]
        one: dict[str, Any] = {"title": stage["title"], "loss": None}
        if loss:
            words = shown.loss(loss["low"], loss["high"])
            one["loss"] = {"shown": words, "low": loss["low"], "high": loss["high"]}
        one["level_low_stops"] = stops["low"] if stops else None
        one["level_high_stops"] = stops["high"] if stops else None
        stages.append(one)
    is_read = is_alone and group["kind"] == "reading" and group["stops"]
    return {
        "source": source,
        "title": names.name_of(source, records),
        "role": role,
        "stages": stages,
        "reading_stops": group["stops"]["low"] if is_read else None,
    }
