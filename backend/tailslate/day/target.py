"""The level that a shot's stop asks for, and how levels are told from it.

Knows no lamps. J1 nothing of the target is taken for granted: an unset constant is asked, with the two in
use named beside it.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.exposure import exposure_time_s, illuminance_for_stop_lx, stops_between
from tailslate.craft.ranges import exactly
from tailslate.craft.units import fc_from_lx
from tailslate.day import kinds, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

TARGET_FIELDS = ("t_stop", "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant")
DARKEST_LX = 1e-6  # below this a point is dark and has no level in stops


def of_shot(shot: str, records: "Gathered") -> "dict[str, Any]":
    """Return the level that a shot's stop asks for.

    Args:
        shot: record key of the shot.
        records: the shot.
    Returns: dict, keys t_stop and exposure_index (stored values), lux (keys shown, low, high; None when not
        known), footcandles, sentence, missing (list of dict, keys record, field, sentence).
    """
    made: dict[str, Any] = {
        "t_stop": records.value(shot, "t_stop"),
        "exposure_index": records.value(shot, "exposure_index"),
        "lux": None,
        "footcandles": None,
        "missing": [],
    }
    facts: dict[str, float] = {}
    for field in TARGET_FIELDS:
        number = records.whole(shot, field) if field == "exposure_index" else records.number(shot, field)
        if number is None:
            made["missing"].append({"record": shot, "field": field, "sentence": _asked(field)})
        else:
            facts[field] = float(number)
    if made["missing"]:
        said = "Target not known: "
        if "t_stop" in facts:  # a meter that shows stops needs no more
            said = shown.value("shot", "t_stop", made["t_stop"], records.units) + ", in lux not known: "
        made["sentence"] = said + "; ".join([one["sentence"] for one in made["missing"]])
        return made
    try:
        level_lx = illuminance_for_stop_lx(
            facts["t_stop"],
            exposure_index=facts["exposure_index"],
            time_s=exposure_time_s(facts["shutter_angle_deg"], frame_rate_per_s=facts["frame_rate_per_s"]),
            calibration_constant=facts["calibration_constant"],
        )
    except RuleError as error:
        made["missing"].append(
            {"record": shot, "field": str(error.facts.get("field", "")), "sentence": error.sentence}
        )
        made["sentence"] = "Target not known: " + error.sentence
        return made
    made["lux"] = lux(exactly(level_lx))
    made["footcandles"] = footcandles(exactly(level_lx))
    words = [shown.value("shot", field, records.value(shot, field), records.units) for field in TARGET_FIELDS]
    words[1] = "EI" + shown.HARD_SPACE + words[1]
    made["sentence"] = ", ".join(words) + ": " + made["lux"]["shown"] + ", " + made["footcandles"]["shown"]
    return made


def _asked(field: str) -> str:
    if field == "calibration_constant":
        return "the meter constant C is not set; 250 is in use for a flat receptor, 340 for a dome"
    known = kinds.field_of("shot", field)
    return "the shot's " + (known.label if known else field) + " is not set"


def lux(level: "Range") -> "dict[str, Any]":
    """Return a level in lux as a sheet shows it: keys shown, low, high [lx]."""
    return {
        "shown": shown.span(level["low"], level["high"], "lx"),
        "low": level["low"],
        "high": level["high"],
    }


def footcandles(level: "Range") -> "dict[str, Any]":
    """Return a level [lx] in footcandles as a sheet shows it: keys shown, low, high [fc]."""
    low, high = fc_from_lx(level["low"]), fc_from_lx(level["high"])
    return {"shown": shown.span(low, high, "fc"), "low": low, "high": high}


def stops(level: "Range", target_lx: "float | None") -> "dict[str, Any] | None":
    """Return how far a level lies from the target [lx], None without a target or in the dark."""
    if target_lx is None or level["low"] < DARKEST_LX:
        return None
    low = stops_between(level["low"], reference=target_lx)
    high = stops_between(level["high"], reference=target_lx)
    return {"shown": shown.stops(low, high), "low": low, "high": high}
