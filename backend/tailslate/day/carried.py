"""A reading carried on: over what was moved, dimmed or swapped since, and to other shots of the same source.

Knows no target. CA1 a reading moves by the model's own ratio, then to now, so what the model does not know of
lamp and sheets cancels out. CA2 it corrects a source only when it was of that source alone, and until the
lamp or a sheet before it is described anew; sheets that came or went are counted by the model. CA3 what dressing
sent up is taken apart from what lamps gave; of dressing that lies in the same place only the reflectance counts.
"""

from tailslate.craft.contrast import sum_lx
from tailslate.craft.errors import RuleError
from tailslate.craft.exposure import stops_between
from tailslate.craft.reading import correction_ratio, is_within_model, level_after_change_lx
from tailslate.craft.rounding import decimal_text
from tailslate.day import bounce, chain, dimmer, gathered, names, remembered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered
    from tailslate.day.remembered import Facts

    Reading = dict[str, Any]
    Carried = dict[str, Any]

ENDS = ("low", "typical", "high")
ONE: "Range" = {"low": 1.0, "typical": 1.0, "high": 1.0}
DIMMER_FIELDS = ("output_ratio", "dimmer_percent")


def of_sources(
    levels: "list[str]",
    models: "dict[str, dict[str, Any]]",
    by_source: "dict[str, list[Reading]]",
    records: "Gathered",
) -> "dict[str, Carried]":
    """Return what readings of a source alone say of its level in a shot.

    Args:
        levels: record keys of the sources in the shot.
        models: level key to what `chain.level` gives.
        by_source: as `readings.alone` gives it.
        records: the shot with what it reads; readings in other shots among it.
    Returns: level key to dict, keys level_lx (range), reading (as `readings.alone` gives it), factor (range: reading
        to now); only of those that a reading corrects.
    """
    found = {}
    for level in levels:
        source = records.target(level, "source")
        power = None
        if source in by_source:
            power = dimmer_power(source, by_source[source], records)
        for reading in by_source.get(source, []):
            made = _of_source(level, models[level], reading, power, records)
            if made:
                found[level] = made
                break
    return found


def _of_source(
    level: str, model: "dict[str, Any]", reading: "Reading", power: "float | None", records: "Gathered"
) -> "Carried | None":
    """Return one source's level carried on from one reading of it, None when that says nothing any more."""
    was, now = reading["facts"], remembered.facts_now([level], [], records)
    old_level = reading["level"]
    then = remembered.then(was, records)
    if then is None or _flags(was, then) != _flags(now, records):
        return None
    dimmed = _dimmed(was[old_level], now[level], power)
    if dimmed is None:
        return None
    factor = dimmed
    if _without_dimmer(was, old_level) != _without_dimmer(now, level):
        moved = _moved(level, model, old_level, now, then, records)
        if moved is None:
            return None
        factor = _times(dimmed, moved)
    lux = reading["lux"]
    level_lx: Range = {
        "low": lux * factor["low"],
        "typical": lux * factor["typical"],
        "high": lux * factor["high"],
    }
    return {"level_lx": level_lx, "reading": reading, "factor": factor, "then": then}


def _times(one: "Range", other: "Range") -> "Range":
    return {
        "low": one["low"] * other["low"],
        "typical": one["typical"] * other["typical"],
        "high": one["high"] * other["high"],
    }


def _flags(facts: "Facts", records: "Gathered") -> "dict[str, dict[str, str]]":
    """Return the flags among remembered layers: the model knows nothing of what they take."""
    return {
        key: facts[key] for key in remembered.of_kind("layer", facts) if records.text(key, "type") == "flag"
    }


def _without_dimmer(facts: "Facts", level: str) -> "Facts":
    """Return facts of one source without its dimmer, the same for every shot."""
    plain = {key: facts[key] for key in facts if gathered.kind_of(key) in ("source", "layer")}
    values = facts[level]
    plain["level/"] = {name: values[name] for name in values if name not in DIMMER_FIELDS and name != "on"}
    return plain


def _dimmed(was: "dict[str, str]", now: "dict[str, str]", power: "float | None") -> "Range | None":
    """Return the factor that the dimmer makes; a light given as such outranks the percent."""
    if [was.get(name) for name in DIMMER_FIELDS] == [now.get(name) for name in DIMMER_FIELDS]:
        return ONE
    before, after = _given(was), _given(now)
    if before is not None and after is not None:
        if before <= 0.0:
            return None
        return {"low": after / before, "typical": after / before, "high": after / before}
    first, last = _percent(was), _percent(now)
    if first is None or last is None or first <= 0.0:
        return None
    return dimmer.light_change(first / 100.0, last / 100.0, power)


def _given(values: "dict[str, str]") -> "float | None":
    """Return the light given as such; full when nobody said that it is dimmed."""
    if "output_ratio" in values:
        return float(values["output_ratio"])
    return 1.0 if float(values.get("dimmer_percent", "100")) >= 100.0 else None


def _percent(values: "dict[str, str]") -> "float | None":
    if "dimmer_percent" in values:
        return float(values["dimmer_percent"])
    return None if "output_ratio" in values else 100.0


def _moved(
    level: str, model: "dict[str, Any]", old_level: str, now: "Facts", then: "Gathered", records: "Gathered"
) -> "Range | None":
    """Return the factor of the model, undimmed, from then to now: distance, angle, gaps, sheets that came or went."""
    after = _undimmed(level, model, records)
    before = chain.level(old_level, then, at_full=True)["level_lx"]
    if before is None or after is None:  # the intensity cancels out: any will do, on both sides
        source = records.target(level, "source")
        before = chain.level(old_level, lit(then, source), at_full=True)["level_lx"]
        here = {key: records.records[key] for key in now if key in records.records}
        after = chain.level(level, lit(gathered.Gathered(here), source), at_full=True)["level_lx"]
    if before is None or after is None:
        return None
    try:
        return level_after_change_lx(1.0, modelled_then_lx=before, modelled_now_lx=after)
    except RuleError:
        return None  # dark then: a ratio says nothing, and the model itself stands


def _undimmed(level: str, model: "dict[str, Any]", records: "Gathered") -> "Range | None":
    output = dimmer.output_ratio(level, records.target(level, "source"), records)
    modelled = model["level_lx"]
    if modelled is None or not output:
        found: Range | None = chain.level(level, records, at_full=True)["level_lx"]
        return found
    return {
        "low": modelled["low"] / output,
        "typical": modelled["typical"] / output,
        "high": modelled["high"] / output,
    }


def lit(records: "Gathered", source: str) -> "Gathered":
    """Return records in which a source has some intensity or other: for ratios, in which it cancels out.

    Args:
        records: the source with its level and layers.
        source: record key of the source.
    """
    cells = {key: records.records[key] for key in records.records}
    cells[source] = dict(cells.get(source, {}))
    for end in ("low_", "", "high_"):
        cells[source]["intensity_" + end + "cd"] = remembered.cell(["1000", "1000"])
    return gathered.Gathered(cells)


def dimmer_power(source: str, alone: "list[Reading]", records: "Gathered") -> "float | None":
    """Return the power of a source's dimmer: as stated, else from readings of it at two settings.

    Args:
        source: record key of the source.
        alone: readings of it alone, as `readings.alone` gives them.
        records: the source.
    """
    stated = dimmer.stated_power(source, records)
    if stated is not None:
        return stated
    by_place: dict[str, dict[float, float]] = {}
    for reading in alone:  # the newest first: an older one at the same setting says nothing more
        values = reading["facts"][reading["level"]]
        setting = _percent(values)
        if setting and reading["lux"] > 0.0:
            place = str(sorted(_without_dimmer(reading["facts"], reading["level"]).items(), key=_first))
            by_place.setdefault(place, {}).setdefault(setting / 100.0, reading["lux"])
    for place in sorted(by_place):
        power = dimmer.power_of_readings(list(by_place[place].items()))
        if power is not None:
            return power
    return None


def _first(pair: "tuple[str, Any]") -> str:
    return pair[0]


def correction(level: str, carried: "Carried", records: "Gathered") -> "dict[str, Any]":
    """Return in words how a reading corrects its source.

    Args:
        level: record key of the source in the shot.
        carried: as `of_sources` gives it.
        records: the shot with what it reads.
    Returns: dict, keys source, title, reading (record key), ratio (reading to model, typical; None without a model),
        stops (likewise), is_outside (the model does not allow the reading), at_ms, line.
    """
    reading = carried["reading"]
    source = records.target(level, "source")
    modelled = chain.level(reading["level"], carried["then"])["level_lx"]
    name = names.name_of(source, records)
    made: dict[str, Any] = {"source": source, "title": name, "ratio": None, "stops": None}
    made.update({"reading": reading["record"], "is_outside": False, "at_ms": reading["at_ms"]})
    said = name + " stands as it was " + reading["line"]
    if modelled is not None and modelled["typical"] > 0.0 and reading["lux"] > 0.0:
        made["ratio"] = correction_ratio(reading["lux"], modelled_lx=modelled)
        made["stops"] = stops_between(reading["lux"], reference=modelled["typical"])
        made["is_outside"] = not is_within_model(reading["lux"], modelled_lx=modelled)
        said = name + " gives " + _against_model(made["stops"]) + ", " + reading["line"]
    if made["is_outside"]:
        said += "; farther off than what is known of it allows: check the set-up"
    made["line"] = said + ". It counts here and in other shots until its lamp or a sheet before it changes"
    return made


def _against_model(stops: float) -> str:
    size = decimal_text(abs(stops), 1)
    if size == "0.0":
        return "what was worked out"
    word = " stop" if size == "1.0" else " stops"
    return size + word + (" more" if stops > 0.0 else " less") + " than worked out"


def summed(levels: "list[Range]") -> "Range":
    """Return the light of several sources at one point together."""
    return {
        "low": sum_lx([one["low"] for one in levels]),
        "typical": sum_lx([one["typical"] for one in levels]),
        "high": sum_lx([one["high"] for one in levels]),
    }


# A reading of several sources, or with dressing in it


def factor_of_group(
    reading: "Reading",
    levels: "list[str]",
    lifts: "list[str]",
    lamps_lx: "Range | None",
    shot: str,
    records: "Gathered",
) -> "dict[str, Any] | None":
    """Return the factor from a reading, or from what was remembered, to now; None when that is not known.

    Args:
        reading: dict, keys facts (as remembered), lux (None when nobody read).
        levels: record keys of the sources that are in it now.
        lifts: record keys of what says that dressing is in it now.
        lamps_lx: the sources together as they are now, range [lx], None when not known.
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: dict, keys factor (range), of_dressing (range: what the dressing alone makes of it; None when nothing else
        changed, or no dressing).
    """
    was, now = reading["facts"], remembered.facts_now(levels, lifts, records)
    lamps = _lamps_factor(was, now, lamps_lx, records)
    dressing = _dressing_factor(was, now, shot, records)
    has_lamps, has_dressing = bool(remembered.of_kind("level", was)), bool(remembered.of_kind("serves", was))
    if not has_dressing:
        is_new = bool(remembered.of_kind("serves", now))
        return None if is_new or lamps is None else {"factor": lamps["factor"], "of_dressing": None}
    if dressing is None or lamps is None:
        return None
    if not has_lamps:
        share: Range | None = ONE
    else:
        share = _share(lamps["then_lx"], dressing["then_lx"], reading["lux"])
    if share is None:
        return None
    made = {"factor": _mixed(share, lamps["factor"], dressing["factor"]), "of_dressing": None}
    if lamps["factor"] is not ONE and has_lamps:
        made["of_dressing"] = _mixed(share, ONE, dressing["factor"])
    return made


def _mixed(share: "Range", lamps: "Range", dressing: "Range") -> "Range":
    low, high = [], []
    for part in (share["low"], share["high"]):
        low.append((1.0 - part) * lamps["low"] + part * dressing["low"])
        high.append((1.0 - part) * lamps["high"] + part * dressing["high"])
    part = share["typical"]
    typical = (1.0 - part) * lamps["typical"] + part * dressing["typical"]
    return {"low": min(low), "typical": typical, "high": max(high)}


def _lamps_factor(
    was: "Facts", now: "Facts", now_lx: "Range | None", records: "Gathered"
) -> "dict[str, Any] | None":
    """Return what lamps make of it: keys factor, then_lx (range or None)."""
    if remembered.lamps(was) == remembered.lamps(now):
        return {"factor": ONE, "then_lx": now_lx}
    then = remembered.then(was, records)
    levels = remembered.of_kind("level", was)
    if then is None or now_lx is None or _flags(was, then) != _flags(now, records):
        return None
    parts = [chain.level(key, then)["level_lx"] for key in levels]
    if not parts:
        return {"factor": ONE, "then_lx": None} if not remembered.of_kind("level", now) else None
    if None in parts:
        return None
    then_lx = summed([part for part in parts if part is not None])
    try:
        factor = level_after_change_lx(1.0, modelled_then_lx=then_lx, modelled_now_lx=now_lx)
    except RuleError:
        return None  # dark then: no ratio
    return {"factor": factor, "then_lx": then_lx}


def _dressing_factor(was: "Facts", now: "Facts", shot: str, records: "Gathered") -> "dict[str, Any] | None":
    """Return what dressing makes of it: keys factor, then_lx (range or None)."""
    dressed = remembered.dressed_then(was, records)
    before = _strengths(remembered.of_kind("serves", was), dressed)
    after = _strengths(remembered.of_kind("serves", now), records)
    if not before or after is None:
        return None
    has_place = all([one["form_factor"] is not None for one in before + after])
    first, last = _strength(before, has_place), _strength(after, has_place)
    if first["low"] <= 0.0:
        return None
    is_same_cloth = [one["reflectance"] for one in before] == [one["reflectance"] for one in after]
    if is_same_cloth:  # its reflectance is the same one, whatever it is
        factor: Range = {end: last[end] / first[end] for end in ENDS}  # type: ignore[assignment, literal-required]
    else:
        factor = {
            "low": last["low"] / first["high"],
            "typical": last["typical"] / first["typical"],
            "high": last["high"] / first["low"],
        }
    then_lx = None
    surface_lx = bounce.surface_lx(shot, remembered.of_kind("serves", was)[0], dressed)["level_lx"]
    if has_place and surface_lx is not None:
        then_lx = _times(surface_lx, first)
    return {"factor": factor, "then_lx": then_lx}


def _strengths(keys: "list[str]", records: "Gathered") -> "list[dict[str, Any]] | None":
    found = []
    for key in keys:
        one = bounce.strength(key, records)
        if one is None:
            return None
        found.append(one)
    return found


def _strength(parts: "list[dict[str, Any]]", has_place: bool) -> "Range":
    """Return reflectance times what the point sees of it, summed; times the light on it, that is the bounce."""
    ends = {}
    for end in ENDS:
        shares = []
        for part in parts:
            seen = part["form_factor"] if has_place else 1.0
            shares.append(part["reflectance"][end] * seen * part["open_ratio"])
        ends[end] = sum(shares)
    return {"low": ends["low"], "typical": ends["typical"], "high": ends["high"]}


def _share(lamps: "Range | None", dressing: "Range | None", lux: "float | None") -> "Range | None":
    """Return which share of a level came from dressing, from what is known of the two and of the whole."""
    if lamps is not None and dressing is not None:
        return {
            "low": _part(dressing["low"], lamps["high"]),
            "typical": _part(dressing["typical"], lamps["typical"]),
            "high": _part(dressing["high"], lamps["low"]),
        }
    if lux is None or lux <= 0.0:
        return None
    if lamps is not None:
        ends = [1.0 - lamps["high"] / lux, 1.0 - lamps["typical"] / lux, 1.0 - lamps["low"] / lux]
    elif dressing is not None:
        ends = [dressing["low"] / lux, dressing["typical"] / lux, dressing["high"] / lux]
    else:
        ends = [0.0, 0.5, 1.0]
    low, typical, high = [min(1.0, max(0.0, end)) for end in ends]
    return {"low": low, "typical": typical, "high": high}


def _part(one: float, other: float) -> float:
    return one / (one + other) if one + other > 0.0 else 0.0
