"""What dressing sends up to a face in a shot: records -> the form factor and light that `craft` computes with.

Knows no lamps but by their worked-out levels. O1 the light on the dressing is a reading at its table; where nobody
read there, what is aimed at it. O2 only matt dressing has a figure, from its top or from its front; the point is
taken as turned towards it. O3 what is not known names the record and the field to fill in.
"""

from tailslate.craft.bounce import tabletop_ratio
from tailslate.craft.contrast import sum_lx
from tailslate.craft.errors import RuleError
from tailslate.craft.limits import share
from tailslate.craft.photometry import rectangle_illuminance_lx
from tailslate.craft.ranges import exactly
from tailslate.craft.rounding import compare
from tailslate.day import cautions, chain, kinds, names, readings

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Missing = dict[str, str]
    Models = dict[str, dict[str, Any]]

ENDS = ("low", "typical", "high")
LUMINANCE_OF_ONE_LX = 0.3183098861837907  # cd/m2 of a white matt surface in 1 lx: 1 / pi [light-3]
SIDES = {"top": "depth_m", "front": "tall_m"}


def level(serves: str, shot: str, records: "Gathered", models: "Models | None" = None) -> "dict[str, Any]":
    """Return the light that one piece of dressing sends to the point that it lifts.

    Args:
        serves: record key of what says that the dressing lifts a point in the shot.
        shot: record key of the shot.
        records: the shot with what it reads.
        models: level key to what `chain.level` gives, for tables that nobody has read.
    Returns: dict, keys record (serves), dressing, title, point, level_lx (range [lx] or None), line (where the light
        on it is from, and what is taken for granted), missing (list of dict, keys record, field, sentence),
        caution (of what is not proved flame-retardant, or None).
    """
    dressing = records.target(serves, "dressing")
    made: dict[str, Any] = {"record": serves, "dressing": dressing, "title": names.name_of(dressing, records)}
    made.update({"point": records.target(serves, "point"), "level_lx": None, "missing": []})
    made["caution"] = cautions.of_dressing(dressing, records)
    found = strength(serves, records, made["missing"])
    surface = surface_lx(shot, serves, records, models)
    made["missing"].extend(surface["missing"])
    made["line"] = surface["line"]
    if found and records.number(serves, "covered_ratio") is None:
        made["line"] += ", as if nothing covered it"
    light = surface["level_lx"]
    if light is None or found is None or found["form_factor"] is None:
        return made
    times = found["form_factor"] * found["open_ratio"]
    ends = {end: light[end] * found["reflectance"][end] * times for end in ENDS}
    made["level_lx"] = {"low": ends["low"], "typical": ends["typical"], "high": ends["high"]}
    return made


def strength(
    serves: str, records: "Gathered", missing: "list[Missing] | None" = None
) -> "dict[str, Any] | None":
    """Return how strongly dressing bounces, whatever the light on it; None while its reflectance is not known.

    Args:
        serves: record key of what says that the dressing lifts a point.
        records: it with its dressing and point.
        missing: takes what is not known: dict, keys record, field, sentence.
    Returns: dict, keys reflectance (range), form_factor (share of what the point sees; None when a place or a size is
        not known), open_ratio (share that nothing covers).
    """
    asked: list[Missing] = [] if missing is None else missing
    dressing, point = records.target(serves, "dressing"), records.target(serves, "point")
    title = names.name_of(dressing, records)
    side = _side(serves, dressing, records)
    factor = None
    if side not in SIDES or records.text(dressing, "glass") == "yes":
        sentence = title + " stands upright or is glass: say whether it bounces from its top or its front; "
        sentence += "glass has no model here, read it at the point"
        asked.append({"record": serves, "field": "bounces_from", "sentence": sentence})
    else:
        factor = _form_factor(serves, dressing, point, side, asked, records)
    reflectance = chain.spread(dressing, "reflectance", "ratio", records)
    if reflectance is None:
        sentence = "the reflectance of " + title + " is not known: pick its material"
        asked.append({"record": dressing, "field": "reflectance_ratio", "sentence": sentence})
        return None
    try:
        for end in ENDS:
            share(reflectance[end], field="reflectance_ratio")  # type: ignore[literal-required]
    except RuleError as error:
        asked.append(
            {"record": dressing, "field": "reflectance_ratio", "sentence": title + ": " + error.sentence}
        )
        return None
    open_ratio = 1.0 - min(1.0, records.number(serves, "covered_ratio") or 0.0)
    return {"reflectance": reflectance, "form_factor": factor, "open_ratio": open_ratio}


def _side(serves: str, dressing: str, records: "Gathered") -> str:
    """Return which side of it bounces: as said; what has no height of its own lies flat."""
    said = records.text(serves, "bounces_from")
    if said:
        return said
    return "" if (records.number(dressing, "tall_m") or 0.0) > 0.0 else "top"


def _form_factor(
    serves: str, dressing: str, point: str, side: str, missing: "list[Missing]", records: "Gathered"
) -> "float | None":
    facts = _facts(dressing, ("width_m", SIDES[side], "base_height_m"), missing, records)
    height = _facts(point, ("height_m",), missing, records)
    place = _place(serves, dressing, point, facts, side, missing, records)
    if place is None or len(facts) < 3 or not height:
        return None
    right_m, away_m, across_m, along_m = place
    up_m = height["height_m"] - facts["base_height_m"]
    try:
        if side == "front":
            return rectangle_illuminance_lx(
                LUMINANCE_OF_ONE_LX,
                width_m=facts["width_m"],
                height_m=facts["tall_m"],
                distance_m=away_m,
                right_m=right_m,
                up_m=up_m - facts["tall_m"] / 2.0,
            )
        return tabletop_ratio(
            near_edge_m=away_m - along_m / 2.0,
            far_edge_m=away_m + along_m / 2.0,
            left_m=across_m / 2.0 - right_m,
            right_m=across_m / 2.0 + right_m,
            height_m=up_m,
        )
    except RuleError as error:
        title = names.name_of(dressing, records)
        missing.append({"record": dressing, "field": "", "sentence": title + ": " + error.sentence})
        return None


def _place(
    serves: str,
    dressing: str,
    point: str,
    facts: "dict[str, float]",
    side: str,
    missing: "list[Missing]",
    records: "Gathered",
) -> "tuple[float, float, float, float] | None":
    """Return how far off and away from the point its middle is, and its sides across and along that way [m]."""
    across_m, along_m = facts.get("width_m", 0.0), facts.get("depth_m", 0.0)
    near_m = records.number(serves, "near_m")
    if near_m is not None:  # measured from below the point, straight before it
        return 0.0, near_m + along_m / 2.0, across_m, along_m
    here = _facts(dressing, ("x_m", "y_m"), missing, records)
    there = _facts(point, ("x_m", "y_m"), missing, records)
    if len(here) < 2 or len(there) < 2:
        return None
    right_m, away_m = here["x_m"] - there["x_m"], here["y_m"] - there["y_m"]
    if compare(abs(right_m), abs(away_m)) > 0:
        right_m, away_m = away_m, right_m
        if side == "top":
            across_m, along_m = along_m, across_m
    return right_m, abs(away_m), across_m, along_m


def _facts(
    key: str, fields: "tuple[str, ...]", missing: "list[Missing]", records: "Gathered"
) -> "dict[str, float]":
    facts = {}
    for field in fields:
        number = records.number(key, field)
        if number is None:
            known = kinds.field_of(key[: key.find("/")], field)
            label = known.label if known else field
            sentence = names.name_of(key, records) + ": " + label + " is not known, measure it"
            missing.append({"record": key, "field": field, "sentence": sentence})
        else:
            facts[field] = number
    return facts


def surface_lx(
    shot: str, serves: str, records: "Gathered", models: "Models | None" = None
) -> "dict[str, Any]":
    """Return the light on dressing, as it is at its table.

    Args:
        shot: record key of the shot.
        serves: record key of what says that the dressing lifts a point.
        records: the shot with what it reads.
        models: level key to what `chain.level` gives.
    Returns: dict, keys level_lx (range [lx] or None), line, missing (list of dict, keys record, field, sentence).
    """
    tables = _tables(shot, serves, records)
    for key in tables:
        reading = readings.of_point(shot, key, readings.ALL, records)
        if reading and reading["fresh"] and reading["lux"] is not None:
            line = "by the light at " + names.name_of(key, records) + ", " + reading["line"]
            return {"level_lx": exactly(reading["lux"]), "line": line, "missing": []}
        if not reading and models:
            found = _aimed_at(shot, key, models, records)
            if found:
                line = (
                    "by what is aimed at " + names.name_of(key, records) + ", worked out: lay the meter on it"
                )
                return {"level_lx": found, "line": line, "missing": []}
    where = names.name_of(tables[0], records) if tables else "the table"
    sentence = "the light on " + where + " is not read: lay the meter on it, all lamps on"
    record = tables[0] if tables else serves
    asked = {"record": record, "field": "" if tables else "lit_at", "sentence": sentence}
    return {"level_lx": None, "line": "", "missing": [asked]}


def _tables(shot: str, serves: str, records: "Gathered") -> "list[str]":
    """Return the points whose light is that on the dressing: as said, else the tables of the scene."""
    said = records.target(serves, "lit_at")
    if said:
        return [said]
    scene = records.target(shot, "scene")
    found = []
    for key in records.of_kind("point"):
        if records.text(key, "type") == "table" and records.target(key, "scene") == scene:
            found.append(key)
    return found


def _aimed_at(shot: str, point: str, models: "Models", records: "Gathered") -> "Range | None":
    parts = [
        models[key]["level_lx"]
        for key in readings.burning(shot, point, readings.ALL, records)
        if key in models
    ]
    if not parts or None in parts:
        return None
    return {
        "low": sum_lx([part["low"] for part in parts]),
        "typical": sum_lx([part["typical"] for part in parts]),
        "high": sum_lx([part["high"] for part in parts]),
    }
