"""Where to set a source's dimmer so that its level meets what is wanted, and how short it is at full.

Knows one source at a time. SE1 what is wanted is the shot's stop for the key, what people set for others. SE2 a setting
is a range until two readings or a stated curve are known. SE3 what others give at the point, dressing too, is theirs:
the source owes the rest.
"""

from tailslate.craft.contrast import fill_for_ratio_lx
from tailslate.craft.exposure import stops_between
from tailslate.craft.ranges import exactly
from tailslate.craft.rounding import compare, decimal_text, plain_text
from tailslate.day import carried, carried_groups, dimmer, names, shown, target, what_if

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Worked = dict[str, Any]
    Own = dict[str, Any]
    Setting = dict[str, Any]

MEETS_STOPS = 0.05  # nearer than a meter shows (chosen)


def of_shot(shot: str, worked: "Worked", records: "Gathered") -> "list[Setting]":
    """Return the setting of each source of a shot for which a level is wanted.

    Args:
        shot: record key of the shot.
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
    """
    found = []
    for key in worked["sources"]:
        made = of_source(shot, key, worked, records)
        if made:
            found.append(made)
    return found


def wanted(shot: str, key: str, worked: "Worked", records: "Gathered") -> "dict[str, Any] | None":
    """Return the level that is wanted of a source's role at its point, None when nothing is.

    Args:
        shot: record key of the shot.
        key: record key of the source in the shot.
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
    Returns: dict, keys light (in unit), unit (lx, or stop: the stop squared), stops (from the target), shown, line.
    """
    unit, reference = "lx", worked["target_lx"]
    if reference is None:
        if worked["target_stop"] is None:
            return None
        unit, reference = "stop", worked["target_stop"] * worked["target_stop"]
    role = records.text(key, "role")
    stops = records.number(key, "wanted_stops")
    if stops is None and role == "key":
        return {
            "light": reference,
            "unit": unit,
            "stops": 0.0,
            "shown": "on the target",
            "line": "the shot's stop",
        }
    if stops is not None:
        words = shown.stops(stops, stops)
        light = reference * 2.0**stops
        return {"light": light, "unit": unit, "stops": stops, "shown": words, "line": "as set for it"}
    ratio = records.number(shot, "wanted_ratio")
    if role == "fill" and ratio is not None and compare(ratio, 1.0) > 0:
        return _of_ratio(shot, ratio, key, worked, records, reference, unit)
    return None


def _of_ratio(
    shot: str,
    ratio: float,
    key: str,
    worked: "Worked",
    records: "Gathered",
    reference: float,
    unit: str,
) -> "dict[str, Any] | None":
    point = records.target(key, "point")
    for other in worked["sources"]:
        if records.text(other, "role") == "key" and records.target(other, "point") == point:
            of_key = wanted(shot, other, worked, records)
            if of_key and of_key["unit"] == unit:
                light = fill_for_ratio_lx(of_key["light"], ratio=ratio)
                stops = stops_between(light, reference=reference)
                words = shown.stops(stops, stops)
                line = "for " + shown.figure(ratio, "to 1").replace("to 1", ": 1") + " against the key"
                return {"light": light, "unit": unit, "stops": stops, "shown": words, "line": line}
    return None


def own(key: str, worked: "Worked", records: "Gathered", unit: str = "lx") -> "Own":
    """Return what a source itself gives at its point, and what others give there in its role.

    Args:
        key: record key of the source in the shot.
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
        unit: lx, or stop (the stop squared).
    Returns: dict, keys light (range in unit, None when not known), others (in unit).
    """
    point, role = records.target(key, "point"), records.text(key, "role")
    group = worked["summed"][point + " " + role]
    members = worked["groups"][(point, role)]
    if unit == "stop":
        return {"light": group["of_stop"] if len(members) == 1 else None, "others": 0.0}
    rest = [worked["parts"][other] for other in members if other != key]
    if role == "fill":
        rest += [one["level_lx"] for one in worked["bounces"] if one["point"] == point]
    is_alone = not rest
    rest = [one for one in rest if one is not None]
    others: Range = carried_groups.summed(rest) if rest else exactly(0.0)
    light = group["level_lx"]
    if light is not None and not is_alone:
        light = _less(light, others)
    if light is None or light["typical"] <= 0.0:
        light = worked["parts"][key]
    return {"light": light, "others": others["typical"]}


def _less(light: "Range", others: "Range") -> "Range | None":
    """Return what of a level is left for one source, None when the others are said to give all of it."""
    low, high = light["low"] - others["high"], light["high"] - others["low"]
    typical = light["typical"] - others["typical"]
    if typical <= 0.0:
        return None
    return {"low": max(low, typical / 16.0), "typical": typical, "high": high}


def of_source(shot: str, key: str, worked: "Worked", records: "Gathered") -> "Setting | None":
    """Return where to set one source, None when no level is wanted of it.

    Args:
        shot: record key of the shot.
        key: record key of the source in the shot.
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
    Returns: dict, keys level (record key), source, title, role, point, wanted (dict, keys shown, stops, line), output
        (dict, keys shown, low, high: share of its full light; None when not known), percent (likewise, of the dimmer),
        short (dict, keys shown, low, high: stops short at full; None when it is enough), meets (it does now), line,
        acts (list of dict: one tap applies them), missing (list of dict, keys record, field, sentence).
    """
    asked_for = wanted(shot, key, worked, records)
    if asked_for is None:
        return None
    source, point = records.target(key, "source"), records.target(key, "point")
    made: Setting = {"level": key, "source": source, "title": names.name_of(source, records)}
    made.update({"role": records.text(key, "role"), "point": point, "acts": [], "missing": []})
    made.update({"output": None, "percent": None, "short": None, "meets": False})
    made["wanted"] = {name: asked_for[name] for name in ("shown", "stops", "line")}
    mine = own(key, worked, records, asked_for["unit"])
    if mine["light"] is None or mine["light"]["low"] <= 0.0:
        made["missing"] = worked["models"][key]["missing"] or _ask_reading(key, made["title"])
        made["line"] = "not known: " + made["missing"][0]["sentence"]
        return made
    needed = asked_for["light"] - mine["others"]
    if needed <= 0.0:
        made["line"] = "the others give " + asked_for["shown"] + " and more: switch it off, or dim them"
        return made
    _put_setting(made, key, needed, mine["light"], worked, records)
    return made


def _ask_reading(key: str, title: str) -> "list[dict[str, str]]":
    return [{"record": key, "field": "", "sentence": title + ": read it alone at its point"}]


def _put_setting(
    made: "Setting", key: str, needed: float, light: "Range", worked: "Worked", records: "Gathered"
) -> None:
    change: Range = {
        "low": needed / light["high"],
        "typical": needed / light["typical"],
        "high": needed / light["low"],
    }
    power = power_of(key, made["source"], worked, records)
    output = dimmer.output_ratio(key, made["source"], records)
    percent = records.number(key, "dimmer_percent")
    is_percent = records.number(key, "output_ratio") is None and percent is not None
    made["meets"] = abs(stops_between(change["typical"], reference=1.0)) < MEETS_STOPS
    top = _top(output, percent if is_percent else None, power)
    if top is None or change["typical"] > top["typical"] * 2.0**MEETS_STOPS:
        if top is None:
            sentence = made["title"] + ": say where its dimmer stands"
            made["missing"] = [{"record": key, "field": "output_ratio", "sentence": sentence}]
            made["line"] = "not known: " + sentence
            return
        made["short"] = _short(change, top)
        made["line"] = made["short"]["shown"] + " at full"
        return
    if output is not None:
        ends = {end: min(1.0, output * change[end]) for end in ("low", "typical", "high")}
        made["output"] = {
            "shown": _percent(ends["low"], ends["high"]) + " of its light",
            "low": ends["low"],
            "high": ends["high"],
        }
        low, high = dimmer.setting(ends["low"], power)["low"], dimmer.setting(ends["high"], power)["high"]
        typical = dimmer.setting(ends["typical"], power)["typical"]
    else:
        assert percent is not None
        low = _step(percent, change["low"], power, "low")
        high = min(1.0, _step(percent, change["high"], power, "high"))
        typical = min(1.0, _step(percent, change["typical"], power, "typical"))
    made["percent"] = {"shown": _percent(low, high), "low": low * 100.0, "high": high * 100.0}
    made["line"] = _line(made, change, power, records)
    made["acts"] = [_act(key, output, typical, change["typical"], is_percent, power, records)]
    if made["meets"]:
        made["acts"] = []


def power_of(key: str, source: str, worked: "Worked", records: "Gathered") -> "float | None":
    """Return the power of a source's dimmer, as stated or by two readings; None when neither is there."""
    stated = dimmer.stated_power(source, records)
    return (
        stated
        if stated is not None
        else carried.dimmer_power(source, worked["alone"].get(source, []), records)
    )


def _top(output: "float | None", percent: "float | None", power: "float | None") -> "Range | None":
    """Return by which factor the light rises to full, None when nobody knows where the dimmer stands."""
    if output is not None:
        return exactly(1.0 / output) if output > 0.0 else None
    if percent is None or percent <= 0.0:
        return None
    return dimmer.light_change(percent / 100.0, 1.0, power)


def _short(change: "Range", top: "Range") -> "dict[str, Any]":
    low = stops_between(change["low"], reference=top["high"])
    high = stops_between(change["high"], reference=top["low"])
    first, last = decimal_text(max(0.0, low), 1), decimal_text(high, 1)
    words = (first if first == last else first + " to " + last) + (" stop" if last == "1.0" else " stops")
    return {"shown": words + " short", "low": low, "high": high}


def _step(percent: float, change: float, power: "float | None", end: str) -> float:
    """Return the setting that changes the light by a factor; without a curve the end that is farthest that way."""
    here = percent / 100.0
    ends = dimmer.setting(change, power) if change <= 1.0 else _above(change, power)
    return here * ends[end]  # type: ignore[literal-required, no-any-return]


def _above(change: float, power: "float | None") -> "Range":
    below = dimmer.setting(1.0 / change, power)
    return {"low": 1.0 / below["high"], "typical": 1.0 / below["typical"], "high": 1.0 / below["low"]}


def dimmed(factor: float, power: "float | None") -> float:
    """Return the setting, as a share of where the dimmer stands, that leaves a share of the light: the typical one.

    Args:
        factor: share of the light that is to be left, above 0 to 1.
        power: as dimmer.setting takes it.
    """
    return dimmer.setting(factor, power)["typical"]


def _percent(low: float, high: float) -> str:
    first, last = decimal_text(low * 100.0, 0), decimal_text(high * 100.0, 0)
    return (first if first == last else first + " to " + last) + shown.HARD_SPACE + "%"


def _line(made: "Setting", change: "Range", power: "float | None", records: "Gathered") -> str:
    if made["meets"]:
        apart = [abs(stops_between(change[end], reference=1.0)) for end in ("low", "high")]
        return (
            "meets it now" if max(apart) < MEETS_STOPS else "in the middle of its range it meets it: read it"
        )
    said: str = "set it to " + made["percent"]["shown"]
    if power is None:
        return said + ", then read: percent is rarely light; two readings or a stated curve tell more"
    if dimmer.stated_power(made["source"], records) is not None:
        return said + ", by its stated curve"
    return said + ", by two readings"


def _act(
    key: str,
    output: "float | None",
    setting: float,
    change: float,
    is_percent: bool,
    power: "float | None",
    records: "Gathered",
) -> "dict[str, Any]":
    """Return the act that sets the dimmer; a percent that nobody knows any more is cleared."""
    if is_percent:
        return what_if.act(key, {"dimmer_percent": figure(setting * 100.0, "%")}, records)
    assert output is not None
    changes: dict[str, Any] = {"output_ratio": figure(min(1.0, output * change), "")}
    if power is not None:
        changes["dimmer_percent"] = figure(setting * 100.0, "%")
    elif records.number(key, "dimmer_percent") is not None:
        changes["dimmer_percent"] = None
    return what_if.act(key, changes, records)


def figure(number: float, unit: str) -> "list[str]":
    """Return a quantity as it is stored, worked out and not typed: four figures, and the unit beside them.

    >>> figure(0.0312345, ""), figure(62.5, "%")
    (['0.03123', '0.03123'], ['62.5', '62.5 %'])
    """
    decimals = 4
    while decimals > 0 and number >= 10.0 ** (4 - decimals):
        decimals -= 1
    while decimals < 9 and 0.0 < number < 10.0 ** (3 - decimals):
        decimals += 1
    text = decimal_text(number, decimals)
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return [text, (text + " " + unit).strip()]


def figure_signed(number: float) -> "list[str]":
    """Return a quantity that may be below zero as it is stored, such as stops from a target."""
    text = plain_text(number)
    return [text, text]


def misses_stops(shot: str, key: str, worked: "Worked", records: "Gathered") -> "Range | None":
    """Return by how many stops a role's level at its point lies over what is wanted of it, None when not known.

    Args:
        shot: record key of the shot.
        key: record key of the source in the shot.
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
    """
    asked_for = wanted(shot, key, worked, records)
    if asked_for is None:
        return None
    group = worked["summed"][records.target(key, "point") + " " + records.text(key, "role")]
    light = group["level_lx"] if asked_for["unit"] == "lx" else group["of_stop"]
    if light is None or light["low"] < target.DARKEST_LX:
        return None
    return {
        "low": stops_between(light["low"], reference=asked_for["light"]),
        "typical": stops_between(light["typical"], reference=asked_for["light"]),
        "high": stops_between(light["high"], reference=asked_for["light"]),
    }
