"""A reading of one source carried on: over what was moved, dimmed or swapped since, and to its other shots.

Knows no target. CA1 a reading moves by the model's own ratio, then to now, so what the model does not know of
lamp and sheets cancels out. CA2 it corrects a source only when it was of that source alone, and until the
lamp or a sheet before it is described anew; sheets that came or went are counted by the model.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.exposure import stops_between
from tailslate.craft.reading import correction_ratio, is_within_model, level_after_change_lx
from tailslate.craft.rounding import decimal_text
from tailslate.day import chain, dimmer, gathered, names, remembered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered
    from tailslate.day.remembered import Facts

    Reading = dict[str, Any]
    Carried = dict[str, Any]

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
    if then is None or flags(was, then) != flags(now, records):
        return None
    dimmed = _dimmed(was[old_level], now[level], power)
    if dimmed is None:
        return None
    factor = dimmed
    if _without_dimmer(was, old_level) != _without_dimmer(now, level):
        moved = _moved(level, model, old_level, now, then, records)
        if moved is None:
            return None
        factor = times(dimmed, moved)
    lux = reading["lux"]
    level_lx: Range = {
        "low": lux * factor["low"],
        "typical": lux * factor["typical"],
        "high": lux * factor["high"],
    }
    return {"level_lx": level_lx, "reading": reading, "factor": factor, "then": then}


def times(one: "Range", other: "Range") -> "Range":
    """Return the product of two ranges, end by end: what is unknown in both is the same thing."""
    return {
        "low": one["low"] * other["low"],
        "typical": one["typical"] * other["typical"],
        "high": one["high"] * other["high"],
    }


def flags(facts: "Facts", records: "Gathered") -> "dict[str, dict[str, str]]":
    """Return the flags among remembered layers: the model knows nothing of what they take.

    Args:
        facts: as `remembered.facts_of` gives them.
        records: the layers, as they were.
    """
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
