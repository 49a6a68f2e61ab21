"""Ways out of too little light at the source: move it in, drop or swap a layer, another lamp of the kit.

Knows no camera. LW1 what stands behind a layer that goes stays where it is. LW2 what is not in the kit is no way out;
what nobody counted says so. LW3 lamp and layers are shared: their change counts in every shot that uses them.
"""

from tailslate.craft.colour import shift_between_mired
from tailslate.craft.rounding import compare, decimal_text, round_down
from tailslate.day import cautions, chain, kinds, names, setting, shown, trial, way, what_if
from tailslate.day.gathered import kind_of
from tailslate.day.trial import Trial

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered
    from tailslate.day.trial import Act, Tried
    from tailslate.day.way import Way


ENDS = ("low_", "", "high_")


def move_in(found: Trial, full: "Tried") -> "Way | None":
    """Return the way of moving the source nearer, as far as it may stand; None when sizes are not known.

    Args:
        found: the source to try it on.
        full: what it comes to at full output.
    """
    records = found.now.records
    here_m = records.number(found.key, "distance_m")
    nearest_m = records.number(found.key, "nearest_m")
    factor = found.needs(full)
    if not here_m or factor is None:
        return None
    least_m = nearest_m if nearest_m else min(trial.NEAREST_M, here_m)
    away_m = found.distance_to_meet_m(factor, nearest_m=least_m, farthest_m=here_m)
    if away_m is None:
        return None
    away_m = max(least_m, round_down(away_m + trial.TAPE_M, 2))
    if compare(here_m - away_m, 0.02) < 0:
        return None
    acts = [what_if.act(found.key, {"distance_m": setting.figure(away_m, "m")}, records)]
    title = "Move " + names.name_of(found.key, records) + " in to " + shown.figure(away_m, "m", records.units)
    costs = ["falls off faster behind the face; check the frame's edge at every lens"]
    made_way = way.new("move_in", title, acts, costs)
    made_way["caution"] = cautions.of_source(found.source, records)
    if nearest_m is None:
        sentence = "nobody has said how near it may stand"
        made_way["missing"] = [{"record": found.key, "field": "nearest_m", "sentence": sentence}]
    return made_way


def drop_layer(found: Trial, layer: str) -> "Way | None":
    """Return the way of taking one layer away, what stands behind it staying where it is; None for a flag.

    Args:
        found: the source to try it on.
        layer: record key of the layer.
    """
    records = found.now.records
    if records.text(layer, "type") not in ("diffusion", "gel", "louvre"):
        return None
    acts = [what_if.removal(layer, records)]
    gap_m = records.number(layer, "gap_m")
    keys = chain.layers_of(found.source, records)
    place = keys.index(layer)
    if gap_m is not None:
        where, field = (keys[place + 1], "gap_m") if place + 1 < len(keys) else (found.key, "distance_m")
        behind_m = records.number(where, field)
        if behind_m is not None:
            known = kinds.field_of(kind_of(where), field)
            if known and known.high is not None and behind_m + gap_m > known.high:
                return None  # farther than anybody stands: a fact of the set-up is wrong
            acts.append(what_if.act(where, {field: setting.figure(behind_m + gap_m, "m")}, records))
    name = names.name_of(layer, records)
    shift = chain.spread(layer, "shift", "mired", records)
    costs = [way.EVERY_SHOT]
    if shift is not None and compare(abs(shift["typical"]), 0.5) >= 0:
        word = "cooler" if shift["typical"] > 0.0 else "warmer"
        costs.append(decimal_text(abs(shift["typical"]), 0) + " mired " + word + " without it")
    if not [one for one in keys if one != layer and records.text(one, "type") == "diffusion"]:
        costs.append("hard: what is left is the lamp's own face")
    made_way = way.new("drop_layer", "Drop " + name, acts, costs)
    made_way["caution"] = cautions.of_source(found.source, records)
    return made_way


def swap_layer(found: Trial, layer: str) -> "list[Way]":
    """Return the ways of putting a sheet of the kit in a sheet's frame.

    Args:
        found: the source to try it on.
        layer: record key of the layer.
    """
    records = found.now.records
    if records.text(layer, "type") != "diffusion":
        return []
    made = []
    for kit in _kit("sheet", records):
        changes: dict[str, Any] = {"title": names.name_of(kit, records)}
        for name in ("transmittance", "direct", "shift"):
            unit = "mired" if name == "shift" else "ratio"
            for end in ENDS:
                changes[name + "_" + end + unit] = records.value(kit, name + "_" + end + unit)
        changes["reflectance_ratio"] = records.value(kit, "reflectance_ratio")
        if changes["transmittance_ratio"] is None:
            continue
        title = names.name_of(kit, records) + " in place of " + names.name_of(layer, records)
        made_way = way.new("swap_layer", title, [_changing(layer, changes, records)], [way.EVERY_SHOT])
        proved = records.text(kit, "flame_retardant") == "yes"
        made_way["caution"] = (
            cautions.of_source(found.source, records) if proved else cautions.caution("flame")
        )
        made_way["on_hand"] = _on_hand(kit, records)
        made.append(made_way)
    return made


def other_lamp(found: Trial) -> "list[Way]":
    """Return the ways of hanging another lamp of the kit in its place.

    Args:
        found: the source to try it on.
    """
    records = found.now.records
    made = []
    for kit in _kit("lamp", records):
        changes: dict[str, Any] = {"lamp": names.name_of(kit, records), "dimmer_curve": None, "duv": None}
        for end in ENDS:
            changes["intensity_" + end + "cd"] = records.value(kit, "intensity_" + end + "cd")
        for field in ("beam_deg", "input_w", "colour_k"):
            changes[field] = records.value(kit, field)
        if changes["intensity_cd"] is None:
            continue
        title = names.name_of(kit, records) + " in its place"
        costs = (
            [way.EVERY_SHOT]
            + _power_cost(found.source, kit, records)
            + _colour_cost(found.source, kit, records)
        )
        made_way = way.new("other_lamp", title, [_changing(found.source, changes, records)], costs)
        made_way["caution"] = cautions.caution("electric")
        made_way["on_hand"] = _on_hand(kit, records)
        made.append(made_way)
    return made


def _changing(key: str, changes: "dict[str, Any]", records: "Gathered") -> "Act":
    """Return the act with only what differs from how things stand."""
    kept = {name: changes[name] for name in changes if changes[name] != records.value(key, name)}
    return what_if.act(key, kept, records)


def _kit(type_: str, records: "Gathered") -> "list[str]":
    """Return what the kit has of a type; what is counted as none is left out."""
    found = []
    for key in records.of_kind("kit"):
        if records.text(key, "type") == type_ and records.whole(key, "count") != 0:
            found.append(key)
    return found


def _on_hand(kit: str, records: "Gathered") -> "bool | None":
    return None if records.whole(kit, "count") is None else True


def _power_cost(source: str, kit: str, records: "Gathered") -> "list[str]":
    before, after = records.number(source, "input_w"), records.number(kit, "input_w")
    if after is None:
        return ["its power is not known: read its plate before it goes on a circuit"]
    if before is None or compare(before, after) == 0:
        return []
    more = shown.figure(abs(after - before), "W") + (" more" if after > before else " less")
    return [more + " on its circuit"]


def _colour_cost(source: str, kit: str, records: "Gathered") -> "list[str]":
    before, after = records.number(source, "colour_k"), records.number(kit, "colour_k")
    if after is None:
        return ["its colour is not known: read it"]
    if before is None:
        return []
    shift = shift_between_mired(before, to_k=after)
    if compare(abs(shift), 0.5) < 0:
        return []
    return [decimal_text(abs(shift), 0) + " mired " + ("warmer" if shift > 0.0 else "cooler")]
