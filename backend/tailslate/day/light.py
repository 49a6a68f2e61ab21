"""The light of a shot: the level at each point by role, key to fill, a ladder a source.

Knows no rows and no readiness. U1 a fresh reading is plain and outranks the model; an estimate is a range.
U2 levels add in lux at one point, never in stops; back light is left out of sums and of the ratio.
U3 stops first, lux second, footcandles third; what is not known says what to fill in. U4 a reading that is not
fresh is carried on by the model's ratio (see carried.py) before the model alone is asked.
"""

from tailslate.day import (
    bounce,
    carried,
    carried_groups,
    chain,
    colour,
    contrast,
    ladder,
    level_words,
    readings,
    remembered,
    rows,
    setting,
    since,
    softness,
)
from tailslate.day.readings import ALL

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Level = dict[str, Any]
    Worked = dict[str, Any]

ROLES = ("key", "fill", "back", "background", "practical")  # the order in which levels stand
NOT_SUMMED = ("back", "background")
OF_LEVEL = (
    "point", "title", "role", "kind", "stops", "lux", "footcandles", "line", "fresh", "missing", "changed",
    "caution", "from_key",
)  # fmt: skip


def of_shot(shot: str, wanted: "dict[str, Any]", records: "Gathered") -> "dict[str, Any]":
    """Return the light of a shot.

    Args:
        shot: record key of the shot.
        wanted: as target.of_shot gives it.
        records: the shot with what it reads.
    Returns: dict, keys levels (list of dict: point, title, role, kind, stops, lux, footcandles, line, fresh,
        missing, changed, caution, from_key), key_to_fill (as contrast.key_to_fill, or None), ladders (list of dict as
        ladder.of_source), spread (as contrast.spread), bounces (list of dict as bounce.level, told), corrections (list
        of dict as carried.correction), changes (list of dict as since.of_levels), settings (list of dict as
        setting.of_source), softness (list of dict as softness.of_source), colour (as colour.of_shot).
    """
    worked = worked_out(shot, wanted, records)
    levels, summed, groups = worked["levels"], worked["summed"], worked["groups"]
    ladders = []
    for key in worked["sources"]:
        if worked["models"][key]["stages"]:
            group = (records.target(key, "point"), records.text(key, "role"))
            is_alone = len(groups[group]) == 1
            one = ladder.of_source(
                key, worked["models"][key], summed[" ".join(group)], is_alone, worked["target_lx"], records
            )
            ladders.append(one)
    changes = since.of_levels(shot, worked, records)
    contrasted = contrast.key_to_fill(summed, records)
    if contrasted:
        before = [
            one["was_ratio"] for one in changes if one["point"] == contrasted["point"] and one["was_ratio"]
        ]
        contrasted["was"] = before[0] if before else ""
    carries = worked["carried"]
    return {
        "levels": [{name: one[name] for name in OF_LEVEL} for one in levels],
        "key_to_fill": contrasted,
        "ladders": ladders,
        "spread": contrast.spread(levels),
        "bounces": [
            level_words.of_bounce(one, summed, worked["target_lx"], records) for one in worked["bounces"]
        ],
        "corrections": [carried.correction(key, carries[key], records) for key in sorted(carries)],
        "changes": changes,
        "settings": setting.of_shot(shot, worked, records),
        "softness": softness.of_shot(worked, records),
        "colour": colour.of_shot(shot, worked, records),
    }


def worked_out(shot: str, wanted: "dict[str, Any]", records: "Gathered") -> "Worked":
    """Return all levels of a shot with what they were worked out from.

    Args:
        shot: record key of the shot.
        wanted: as target.of_shot gives it.
        records: the shot with what it reads.
    Returns: dict, keys target_lx ([lx] or None), sources (level keys of what burns), models (level key to dict as
        chain.level), alone (as readings.alone), carried (as carried.of_sources), parts (level key to range [lx] or None: the model, corrected),
        groups ((point, role) to level keys), bounces (list of dict as bounce.level), levels (list of dict as a sheet
        has them, and level_lx, of_stop, lacks_bounce, reading, factor), summed ("point role" to such a level).
    """
    target_lx = wanted["lux"]["low"] if wanted["lux"] else None
    sources = [key for key in records.pointing("level", "shot", shot) if records.text(key, "on") != "no"]
    models = {key: chain.level(key, records) for key in sources}
    worked: Worked = {"target_lx": target_lx, "sources": sources, "models": models, "bounces": []}
    worked["target_stop"] = records.number(shot, "t_stop")
    alone = worked["alone"] = readings.alone(shot, records)
    carries = worked["carried"] = carried.of_sources(sources, models, alone, records)
    parts = worked["parts"] = {}
    for key in sources:
        parts[key] = carries[key]["level_lx"] if key in carries else models[key]["level_lx"]
    groups = worked["groups"] = _groups(shot, sources, records)
    levels: list[Level] = []
    summed: dict[str, Level] = {}
    for point, role in sorted(groups):
        one = _level(shot, point, role, worked, records)
        levels.append(one)
        summed[point + " " + role] = one
    for point in sorted({point for point, _role in groups}):
        both = _all(shot, point, levels, worked, records)
        if both:
            levels.append(both)
    levels.sort(key=lambda one: _place(one, records))
    contrast.against_key(levels)
    worked["levels"], worked["summed"] = levels, summed
    return worked


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


def _level(shot: str, point: str, role: str, worked: "Worked", records: "Gathered") -> "Level":
    """Return the level of one role at one point: a fresh reading, else one carried on, else the sum of its sources."""
    reading = readings.of_point(shot, point, role, records) if point else None
    members = worked["groups"][(point, role)]
    missing: list[dict[str, str]] = []
    asked: list[dict[str, str]] = []
    notes: list[str] = []
    for key in members:
        asked.extend(worked["models"][key]["missing"])
        if worked["parts"][key] is None:
            missing.extend(worked["models"][key]["missing"])
        notes.extend(worked["models"][key]["notes"])
        if key in worked["carried"]:
            notes.extend(_as_read(shot, point, worked["carried"][key], records))
    lifts = readings.bouncing(shot, point, records) if role == "fill" else []
    bounces = [bounce.level(key, shot, records, worked["models"]) for key in lifts]
    worked["bounces"].extend(bounces)
    unknown = [one for one in bounces if one["level_lx"] is None]
    for lacking in unknown:
        asked.extend(lacking["missing"])
        if members:  # the lamps' light is known: the figure stands, and says what it leaves out
            notes.append("without the bounce of " + lacking["title"] + ": read it")
        else:
            missing.extend(lacking["missing"])
    lamps = [worked["parts"][key] for key in members]
    found = [one for one in lamps + [one["level_lx"] for one in bounces] if one is not None]
    model = None if missing or not found else carried_groups.summed(found)
    factor = None
    if reading and not reading["fresh"] and (lifts or len(members) != 1):
        known = None if None in lamps or not lamps else carried_groups.summed(lamps)
        factor = _factor(reading, members, lifts, known, shot, records)
        if factor and reading["lux"] is not None:
            model, unknown = _times(factor["factor"], reading["lux"]), []
            notes = ["carried on from the reading"]
    told = level_words.told(point, role, reading, model, asked, notes, worked, records)
    told["lacks_bounce"], told["factor"] = bool(unknown), factor
    if not point or not role:
        where = "role" if point else "point"
        sentence = "say where each source is aimed, and as what"
        told["missing"] = told["missing"] + [{"record": "", "field": where, "sentence": sentence}]
    return told


def _as_read(shot: str, point: str, one: "dict[str, Any]", records: "Gathered") -> "list[str]":
    """Return that a source stands corrected, unless by the reading that the line names anyway."""
    reading = one["reading"]["record"]
    where = records.target(reading, "shot")
    if where == shot and records.target(reading, "point") == point:
        return ["carried on from the reading"]
    number = records.text(where, "number") or where[where.find("/") + 1 :].upper()
    return ["corrected as " + one["reading"]["line"] + (" in " + number if where != shot else "")]


def _factor(
    reading: "dict[str, Any]",
    members: "list[str]",
    lifts: "list[str]",
    lamps_lx: "Range | None",
    shot: str,
    records: "Gathered",
) -> "dict[str, Any] | None":
    facts = remembered.facts_of(records.text(reading["record"], "taken_for"))
    if not facts:
        return None
    was = {"facts": facts, "lux": reading["lux"]}
    return carried_groups.factor(was, members, lifts, lamps_lx, shot, records)


def _times(one: "Range", times: float) -> "Range":
    return {"low": one["low"] * times, "typical": one["typical"] * times, "high": one["high"] * times}


def _all(
    shot: str, point: str, levels: "list[Level]", worked: "Worked", records: "Gathered"
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
    model = carried_groups.summed(known) if known and len(known) == len(parts) else None
    made = level_words.told(point, ALL, reading, model, missing, [], worked, records)
    in_stops = [one["of_stop"] for one in parts if one["of_stop"]]
    if made["kind"] == "unknown" and parts and len(in_stops) == len(parts):
        level_words.put_of_stop(made, carried_groups.summed(in_stops), worked["target_stop"])
    return made
