"""What dressing sends up to a face in a shot: records -> the form factor and light that `craft` computes with.

Knows no lamps. O1 the light on the dressing is a fresh reading at a table of the shot, never a guess.
O2 only matt dressing that lies flat has a figure; the face is taken as turned towards it. O3 what is not
known names the record and the field to fill in.
"""

from tailslate.craft.bounce import bounced_illuminance_lx, tabletop_ratio
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare
from tailslate.day import chain, kinds, names, readings

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

DRESSING_FIELDS = ("x_m", "y_m", "width_m", "depth_m", "base_height_m")
POINT_FIELDS = ("x_m", "y_m", "height_m")


def level(serves: str, shot: str, records: "Gathered") -> "dict[str, Any]":
    """Return the light that one piece of dressing sends to the point that it lifts.

    Args:
        serves: record key of what says that the dressing lifts a point in the shot.
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: dict, keys title, level_lx (range [lx] or None), missing (list of dict, keys record, field,
        sentence).
    """
    dressing, point = records.target(serves, "dressing"), records.target(serves, "point")
    title = names.name_of(dressing, records)
    made: dict[str, Any] = {"title": title, "level_lx": None, "missing": []}
    facts = _facts(dressing, DRESSING_FIELDS, made["missing"], records)
    place = _facts(point, POINT_FIELDS, made["missing"], records)
    reflectance = chain.spread(dressing, "reflectance", "ratio", records)
    if reflectance is None:
        sentence = "the reflectance of " + title + " is not known"
        made["missing"].append({"record": dressing, "field": "reflectance_ratio", "sentence": sentence})
    surface_lx = _surface_lx(shot, dressing, made["missing"], records)
    if (records.number(dressing, "tall_m") or 0.0) > 0.0 or records.text(dressing, "glass") == "yes":
        sentence = title + " stands upright or is glass and has no model here: read it at the point"
        made["missing"].append({"record": dressing, "field": "tall_m", "sentence": sentence})
    if made["missing"] or reflectance is None or surface_lx is None:
        return made
    try:
        made["level_lx"] = _level(facts, place, reflectance, surface_lx)
    except RuleError as error:
        made["missing"].append({"record": dressing, "field": "", "sentence": title + ": " + error.sentence})
    return made


def _facts(
    key: str, fields: "tuple[str, ...]", missing: "list[dict[str, str]]", records: "Gathered"
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


def _surface_lx(
    shot: str, dressing: str, missing: "list[dict[str, str]]", records: "Gathered"
) -> "float | None":
    """Return the light on the dressing: what a meter read at the table of the scene, for what burns now."""
    scene = records.target(shot, "scene")
    tables = []
    for key in records.of_kind("point"):
        if records.text(key, "type") == "table" and records.target(key, "scene") == scene:
            tables.append(key)
    for key in tables:
        reading = readings.of_point(shot, key, readings.ALL, records)
        if reading and reading["fresh"]:
            return float(reading["lux"])
    where = names.name_of(tables[0], records) if tables else "the table"
    sentence = "the light on " + where + " is not read: lay the meter on it, all lamps on"
    missing.append({"record": tables[0] if tables else dressing, "field": "", "sentence": sentence})
    return None


def _level(
    facts: "dict[str, float]", place: "dict[str, float]", reflectance: "Range", surface_lx: float
) -> "Range":
    """Return the level at a face that is turned, square to an edge, towards the dressing."""
    right_m, away_m = facts["x_m"] - place["x_m"], facts["y_m"] - place["y_m"]
    across_m, along_m = facts["width_m"], facts["depth_m"]
    if compare(abs(right_m), abs(away_m)) > 0:
        right_m, away_m, across_m, along_m = away_m, right_m, along_m, across_m
    factor = tabletop_ratio(
        near_edge_m=abs(away_m) - along_m / 2.0,
        far_edge_m=abs(away_m) + along_m / 2.0,
        left_m=across_m / 2.0 - right_m,
        right_m=across_m / 2.0 + right_m,
        height_m=place["height_m"] - facts["base_height_m"],
    )
    levels = {}
    for end in ("low", "typical", "high"):
        levels[end] = bounced_illuminance_lx(
            surface_lx,
            reflectance_ratio=reflectance[end],
            form_factor_ratio=factor,
        )
    return {"low": levels["low"], "typical": levels["typical"], "high": levels["high"]}
