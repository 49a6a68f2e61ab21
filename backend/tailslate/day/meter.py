"""What a meter shows, in any of its ways -> the reading as it is stored: converted once, kept as typed.

Knows one shot's exposure and no lamps. ME1 stops and tenths, footcandles, lux, or stops from the shot's target
are all taken. ME2 what a figure was converted with stands beside it in the reading's own text. ME3 a stop whose index,
shutter or constant is not known stays a stop: it still tells stops from the shot's stop, and no lux.
"""

from tailslate.craft import quantity
from tailslate.craft.errors import RuleError
from tailslate.craft.exposure import (
    exposure_time_s,
    illuminance_for_stop_lx,
    stop_difference_stops,
    stops_between,
    transmittance_ratio,
)
from tailslate.craft.rounding import decimal_text, plain_text
from tailslate.day import kinds, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

EXPOSURE = ("exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant")
WAYS = ("lx", "fc", "stop", "from_target")  # how a figure without a sign of its own is meant
HOW = "write it as 59 lx, 5.5 fc, T2.8 3/10 or 1/3 under"
LIMIT_STOPS = 20.0  # common practice, no source: farther from the target than any meter shows


def exposure(shot: str, records: "Gathered") -> "dict[str, float]":
    """Return what of a shot's exposure is known: field to figure, of EXPOSURE and t_stop.

    Args:
        shot: record key of the shot.
        records: the shot.
    """
    facts = {}
    for field in EXPOSURE + ("t_stop",):
        number = records.whole(shot, field) if field == "exposure_index" else records.number(shot, field)
        if number is not None:
            facts[field] = number * 1.0
    return facts


def stop_lx(stop: float, facts: "dict[str, float]") -> "float | None":
    """Return the light that exposes well at a stop, None when index, shutter or constant are not known.

    Args:
        stop: the stop [T-stop], above 0.
        facts: as `exposure` gives them.
    Raises: RuleError as illuminance_for_stop_lx does.
    """
    if [field for field in EXPOSURE if field not in facts]:
        return None
    return illuminance_for_stop_lx(
        stop,
        exposure_index=facts["exposure_index"],
        time_s=exposure_time_s(facts["shutter_angle_deg"], frame_rate_per_s=facts["frame_rate_per_s"]),
        calibration_constant=facts["calibration_constant"],
    )


def read(typed: str, *, shot: str, records: "Gathered", way: str = "lx") -> "dict[str, Any]":
    """Return a reading as it is to be set, from what was typed.

    Args:
        typed: as the meter or the camera shows it, such as "59 lx", "5.5 fc", "T2.8 3/10" (a stop and tenths),
            "1/3 under", "+0.7", "on the target".
        shot: record key of the shot that it is for.
        records: the shot.
        way: how a bare figure is meant: lx, fc, stop, from_target.
    Returns: dict, keys set (fields of a reading: illuminance_lx, or t_stop when the light cannot be told; the other is
        cleared), shown (the light, else the stop), from_target (dict, keys shown, stops; None when not known),
        missing (list of dict, keys record, field, sentence: what would tell more).
    Raises: RuleError "not_a_reading" and those of `quantity`.
    """
    facts = exposure(shot, records)
    text = _plain(typed)
    means = _means(text, way)
    if means == "stop":
        stop = _stop(text, typed)
    elif means == "from_target":
        stop = _stop_from_target(_stops(text, typed), facts, shot)
    else:
        written = quantity.quantity(typed, unit=means)["value"]
        return _told(_fields(written, _kept(typed, "")), float(written), None, facts, shot, records)
    lux_of_stop = stop_lx(stop, facts)
    if lux_of_stop is None:
        fields: dict[str, Any] = {"illuminance_lx": None, "t_stop": [plain_text(stop), _kept(typed, "")]}
        return _told(fields, None, stop, facts, shot, records)
    fields = _fields(plain_text(lux_of_stop), _kept(typed, _with(facts, means)))
    return _told(fields, lux_of_stop, stop, facts, shot, records)


def _plain(typed: str) -> str:
    text = typed.strip().lower().replace(shown.HARD_SPACE, " ").replace("\u2212", "-")
    return text.replace("\u2153", "1/3").replace("\u2154", "2/3").replace("\u00bd", "1/2")


def _means(text: str, way: str) -> str:
    """Return what a text is: lx and fc by their unit, a stop by its T or f, a distance by its word or sign."""
    if not text:
        raise RuleError("blank", "the field is empty; " + HOW, field="illuminance_lx")
    for sign in ("under", "over", "stop", "target"):
        if sign in text:
            return "from_target"
    if text[0] in "+-":
        return "from_target"
    if text[0] in "tf" and (text[1:2] in ("", "/", " ") or text[1:2].isdigit()):
        return "stop"
    for letter in text:
        if letter.isalpha():
            return "fc" if "f" in text else "lx"
    return way


def _stop(text: str, typed: str) -> float:
    """Return a stop and its tenths, "t2.8 3/10" or "2.8 3": three tenths of a stop less light than the next one asks.

    The engraved number itself counts, on both sides of a comparison: 11 and not 11.31.
    """
    words = text.lstrip("tf").lstrip("/ ").replace("+", " ").split(" ")
    words = [word for word in words if word]
    if not words or len(words) > 2:
        raise RuleError("not_a_reading", "'{}' is no stop; {}".format(typed, HOW), typed=typed)
    stop = float(quantity.quantity(words[0], unit="count")["value"])
    tenths = _tenths(words[1]) if len(words) == 2 else 0.0
    if not 0.1 <= stop <= 256.0 or not 0.0 <= tenths < 1.0:
        raise RuleError(
            "not_a_reading",
            "'{}' must be a stop from 0.1 to 256 and tenths from 0 to 9; {}".format(typed, HOW),
            typed=typed,
        )
    return stop * transmittance_ratio(-tenths / 2.0)


def _tenths(word: str) -> float:
    number = float(quantity.quantity(word, unit="count")["value"])
    return number if "/" in word or "." in word or "," in word else number / 10.0


def _stops(text: str, typed: str) -> float:
    sign = -1.0 if "under" in text or text[0] == "-" else 1.0
    for word in ("stops", "stop", "under", "over", "the target", "target", "from", "+", "-"):
        text = text.replace(word, " ")
    text = text.strip()
    if text in ("on", "at"):
        return 0.0
    if not text:
        raise RuleError("not_a_reading", "'{}' says no number of stops; {}".format(typed, HOW), typed=typed)
    stops = sign * float(quantity.quantity(text, unit="count")["value"])
    if abs(stops) > LIMIT_STOPS:
        raise RuleError(
            "not_a_reading", "'{}' is over 20 stops from the target; {}".format(typed, HOW), typed=typed
        )
    return stops


def _stop_from_target(stops: float, facts: "dict[str, float]", shot: str) -> float:
    if "t_stop" not in facts:
        raise RuleError(
            "target_not_known",
            "the shot's stop is not set, so stops from it say no level; set it, or read in lux",
            record=shot,
            field="t_stop",
        )
    return facts["t_stop"] * transmittance_ratio(-stops / 2.0)


def _with(facts: "dict[str, float]", means: str) -> str:
    """Return what a stop was converted with, to stand beside what was typed."""
    time_s = exposure_time_s(facts["shutter_angle_deg"], frame_rate_per_s=facts["frame_rate_per_s"])
    said = ", T" + plain_text(facts["t_stop"]) if means == "from_target" else ""
    said += " at EI " + plain_text(facts["exposure_index"]) + ", 1/" + decimal_text(1.0 / time_s, 0) + " s"
    return said + ", C " + plain_text(facts["calibration_constant"])


def _kept(typed: str, conversion: str) -> str:
    return (typed.strip() + conversion)[:60]


def _fields(lux_text: str, kept: str) -> "dict[str, Any]":
    return {"illuminance_lx": [lux_text, kept], "t_stop": None}


def _told(
    fields: "dict[str, Any]",
    lux: "float | None",
    stop: "float | None",
    facts: "dict[str, float]",
    shot: str,
    records: "Gathered",
) -> "dict[str, Any]":
    from_target = None
    target_lx = stop_lx(facts["t_stop"], facts) if "t_stop" in facts else None
    if stop is None and lux is not None and target_lx is not None and lux > 0:
        from_target = stops_between(lux, reference=target_lx)
    elif stop is not None and "t_stop" in facts:
        from_target = stop_difference_stops(stop, reference=facts["t_stop"])
    missing = []
    for field in EXPOSURE + ("t_stop",):
        if field not in facts:
            known = kinds.field_of("shot", field)
            sentence = "the shot's " + (known.label if known else field) + " is not set"
            missing.append({"record": shot, "field": field, "sentence": sentence})
    figure = shown.lux(lux) if lux is not None else "T" + decimal_text(stop or 0.0, 1)
    if lux is not None and records.units == "imperial":
        figure = shown.figure(lux, "lx", "imperial")
    told = (
        None
        if from_target is None
        else {"shown": shown.stops(from_target, from_target), "stops": from_target}
    )
    return {"set": fields, "shown": figure, "from_target": told, "missing": missing}
