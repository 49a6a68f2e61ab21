"""Full output is not enough: the ways out for one source in a shot, ranked, with what each costs.

Knows no screen. WA1 every way is tried on a scratch copy: what it promises is what the sheet says after its acts.
WA2 a way whose limit nobody has said (widest stop, highest index) is shown as such, after those that are known.
WA3 what is in the kit comes with its count; what is not in the kit is no way out. Minutes are common practice, no source.
"""

from tailslate.craft import focus, ways_out
from tailslate.craft.colour import shift_between_mired
from tailslate.craft.errors import RuleError
from tailslate.craft.exposure import stops_between
from tailslate.craft.rounding import compare, decimal_text, plain_text, round_down, round_half_up
from tailslate.day import cautions, chain, kinds, names, setting, shown, trial, what_if
from tailslate.day.gathered import kind_of
from tailslate.day.trial import Trial

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered
    from tailslate.day.trial import Act, Tried

    Way = dict[str, Any]
    Missing = dict[str, str]

MINUTES = {
    "open_up": 1, "raise_index": 1, "open_up_and_raise_index": 1, "drop_layer": 3, "move_in": 5,
    "swap_layer": 8, "other_lamp": 15,
}  # fmt: skip  # min, common practice, no source
# Stops and indices in thirds as they are engraved and set (ISO 5800 and ISO 2720 series, from memory).
STOPS = (
    0.7, 0.8, 0.9, 1.0, 1.1, 1.3, 1.4, 1.6, 1.8, 2.0, 2.2, 2.5, 2.8, 3.2, 3.6, 4.0, 4.5, 5.0, 5.6, 6.3, 7.1, 8.0,
    9.0, 10.0, 11.0, 13.0, 14.0, 16.0, 18.0, 20.0, 22.0,
)  # fmt: skip
INDICES = (
    50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000,
    6400, 8000, 10000, 12800, 16000, 20000, 25600,
)  # fmt: skip
ALL_RISES = "everything else rises with it by {}: dim fill, background and practicals to keep the picture"
EVERY_SHOT = "in every shot that uses it"
ENDS = ("low_", "", "high_")


def of_source(shot: str, key: str, records: "Gathered") -> "dict[str, Any]":
    """Return the ways to the level that is wanted of a source, the first to consider first.

    Args:
        shot: record key of the shot.
        key: record key of the source in the shot.
        records: the shot with what it reads, and the kit.
    Returns: dict, keys level (record key), title, line, short (dict, keys shown, low, high [stop]; None when full output is
        enough), acts (those that set the dimmer, when that is enough), ways (list of dict, keys way, title, gain (dict, keys
        shown, stops), is_enough (None when its limit is not known), after (dict, keys shown, low, high: against what is
        wanted), on_hand (None when nobody has counted), minutes, costs (sentences), caution, acts (list of dict, keys
        kind, record, set, painted), missing), missing (list of dict, keys record, field, sentence).
    Raises: RuleError "no_such_source".
    """
    if not records.is_there(key) or records.target(key, "shot") != shot:
        raise RuleError(
            "no_such_source", "that source does not burn in this shot; pick one that does", key=key
        )
    found = Trial(shot, key, records)
    made: dict[str, Any] = {"level": key, "title": names.name_of(key, records), "short": None}
    made.update({"ways": [], "acts": [], "missing": []})
    if key not in found.now.worked["models"]:
        made["line"] = made["title"] + " is off in this shot"
        return made
    if setting.wanted(shot, key, found.now.worked, records) is None:
        sentence = "nobody has said what level is wanted of " + made["title"]
        made["missing"].append({"record": key, "field": "wanted_stops", "sentence": sentence})
        made["line"] = sentence
        return made
    at_full = found.dimmed_to_meet([])
    if at_full is None or at_full[2].misses is None:
        made["missing"] = found.now.worked["models"][key]["missing"]
        made["line"] = "its level is not known: read it alone at its point"
        return made
    acts, after, full = at_full
    misses = full.misses
    assert misses is not None
    if trial.is_met(full):
        made["acts"], made["line"] = acts, "its dimmer is enough: " + trial.misses_words(after.misses)
        return made
    made["short"] = {
        "shown": trial.misses_words(misses), "low": -misses["high"], "high": -misses["low"],
    }  # fmt: skip
    made["line"] = "at full " + made["short"]["shown"]
    made["ways"] = _ranked(_ways(found, full, -misses["typical"]))
    return made


def _ways(found: Trial, full: "Tried", short_stops: float) -> "list[Way]":
    tried: list[Way | None] = [open_up(found, short_stops), raise_index(found, short_stops)]
    tried.append(_both(found, short_stops))
    tried.append(move_in(found, full))
    for layer in chain.layers_of(found.source, found.now.records):
        tried.append(drop_layer(found, layer))
        tried.extend(swap_layer(found, layer))
    tried.extend(other_lamp(found))
    return [_finished(found, full, one) for one in tried if one is not None]


def _finished(found: Trial, full: "Tried", way: "Way") -> "Way":
    """Return a way with its dimmer set, its gain and what it comes to."""
    done = found.dimmed_to_meet(way["acts"])
    if done is None:
        way.update({"gain": None, "is_enough": None, "after": None})
        return way
    way["acts"], after, opened = done
    gain = trial.gain_stops(full, opened)
    way["gain"] = None if gain is None else {"shown": _gain(gain), "stops": gain}
    misses = after.misses
    way["after"] = None
    if misses is not None:
        way["after"] = {"shown": trial.misses_words(misses), "low": misses["low"], "high": misses["high"]}
        is_enough = trial.is_met(after)
        way["is_enough"] = None if is_enough and way["missing"] else is_enough
    way["costs"] = way["costs"] + _softness_cost(found, full, opened)
    return way


def _gain(gain: float) -> str:
    text = decimal_text(gain, 1)
    return text + (" stop" if text == "1.0" else " stops")


def _softness_cost(found: Trial, full: "Tried", opened: "Tried") -> "list[str]":
    before, after = found.seen(full), found.seen(opened)
    if before is None or after is None:
        return []
    first, last = before["width"]["deg"], after["width"]["deg"]
    if compare(abs(first - last), 0.5) < 0:
        return []
    word = "softer" if last > first else "harder"
    return [word + ": it looks " + after["width"]["shown"] + " wide, was " + before["width"]["shown"]]


def _ranked(ways: "list[Way]") -> "list[Way]":
    useful = [way for way in ways if way["gain"] and compare(way["gain"]["stops"], setting.MEETS_STOPS) > 0]
    return sorted(useful, key=_rank)


def _rank(way: "Way") -> "tuple[int, int, int, float, str, str]":
    enough = 0 if way["is_enough"] else 1 if way["is_enough"] is None else 2
    on_hand = 1 if way["on_hand"] is None else 0
    return (enough, on_hand, way["minutes"], -way["gain"]["stops"], way["way"], way["title"])


def _way(name: str, title: str, acts: "list[Act]", costs: "list[str]") -> "Way":
    return {
        "way": name, "title": title, "acts": acts, "costs": costs, "minutes": MINUTES[name],
        "caution": None, "missing": [], "on_hand": True, "is_enough": None,
    }  # fmt: skip


# The camera


def open_up(found: Trial, short_stops: float) -> "Way | None":
    """Return the way of opening the lens by what is missing, to an engraved third; None when it is open.

    Args:
        found: the source to try it on.
        short_stops: how much light is missing [stop], above 0.
    """
    records = found.now.records
    stop = records.number(found.shot, "t_stop")
    setup = records.target(found.shot, "setup")
    widest = records.number(setup, "widest_t_stop") if setup else None
    if not stop:
        return None
    least = widest if widest else STOPS[0]
    made = ways_out.opening_up(short_stops, stop=stop, widest_stop=least)
    wanted_stop = made["cost"]["new_stop"]
    marks = [mark for mark in STOPS if least <= mark <= wanted_stop + 0.005]
    new = marks[-1] if marks else least
    if compare(new, stop) >= 0:
        return None
    text = plain_text(new)
    acts = [what_if.act(found.shot, {"t_stop": [text, "T" + text]}, records)]
    steps = 2.0 * stops_between(stop, reference=new)
    way = _way(
        "open_up", "Open up to T" + text, acts, [_depth(found, stop, new), ALL_RISES.format(_gain(steps))]
    )
    if widest is None:
        sentence = "the widest stop of the lens is not known"
        way["missing"] = [{"record": setup or found.shot, "field": "widest_t_stop", "sentence": sentence}]
    return way


def _depth(found: Trial, stop: float, new: float) -> str:
    """Return what opening costs in depth of field: in metres where the lens is known, else as a share."""
    records = found.now.records
    setup = records.target(found.shot, "setup")
    lens_mm = records.number(setup, "lens_mm") if setup else None
    away_m, blur_mm = records.number(setup, "camera_distance_m"), records.number(setup, "blur_mm")
    if lens_mm and away_m and blur_mm and away_m > lens_mm / 1000.0:
        totals = []
        for number in (stop, new):
            depth = focus.depth_of_field(
                lens_mm / 1000.0, f_number=number, blur_m=blur_mm / 1000.0, distance_m=away_m
            )
            totals.append(depth["total_m"])
        if totals[0] is not None and totals[1] is not None:
            first, last = [
                shown.figure(round_half_up(total_m, 2), "m", records.units)
                for total_m in totals
                if total_m is not None
            ]
            return "sharp over " + last + ", was " + first + " (the T-stop taken as f, a little optimistic)"
    return "depth of field about " + decimal_text(new / stop, 1) + " of what it was"


def raise_index(found: Trial, short_stops: float) -> "Way | None":
    """Return the way of raising the exposure index by what is missing, to a third that is set; None without an index.

    Args:
        found: the source to try it on.
        short_stops: how much light is missing [stop], above 0.
    """
    records = found.now.records
    index = records.whole(found.shot, "exposure_index")
    if not index or found.now.worked["target_lx"] is None:
        return None
    highest = records.whole(found.shot, "highest_exposure_index")
    most = highest if highest else INDICES[-1]
    made = ways_out.raising_index(short_stops, exposure_index=index, highest_index=most)
    wanted_index = made["cost"]["new_index"]
    marks = [mark for mark in INDICES if wanted_index - 0.5 <= mark <= most]
    new = marks[0] if marks else int(most)
    if new <= index:
        return None
    steps = _gain(stops_between(new, reference=index))
    acts = [what_if.act(found.shot, {"exposure_index": new}, records)]
    costs = ["noise: shadows come " + steps + " nearer to it", ALL_RISES.format(steps)]
    way = _way("raise_index", "Raise the index to EI " + str(new), acts, costs)
    if highest is None:
        sentence = "nobody has said the highest index that is accepted"
        way["missing"] = [{"record": found.shot, "field": "highest_exposure_index", "sentence": sentence}]
    return way


def _both(found: Trial, short_stops: float) -> "Way | None":
    """Return opening up as far as the lens goes, and the index for the rest; only where neither alone does it."""
    wide = open_up(found, short_stops)
    if wide is None or wide["missing"]:
        return None
    opened = Trial(found.shot, found.key, found.after(wide["acts"]).records)
    full = opened.after(opened.at_full())
    if full.misses is None or trial.is_met(full):
        return None
    index = raise_index(opened, -full.misses["typical"])
    if index is None or index["missing"] or _reaches(found, raise_index(found, short_stops)):
        return None
    acts = what_if.merged(wide["acts"] + index["acts"])
    title = wide["title"] + " and raise the index to EI " + str(index["acts"][0]["set"]["exposure_index"])
    return _way("open_up_and_raise_index", title, acts, wide["costs"] + index["costs"][:1])


def _reaches(found: Trial, way: "Way | None") -> bool:
    done = found.dimmed_to_meet(way["acts"]) if way else None
    return bool(done) and done is not None and trial.is_met(done[1])


# The light


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
    way = _way("move_in", title, acts, costs)
    over = records.text(found.source, "overhead")
    way["caution"] = cautions.caution("heat" if over == "no" else "overhead")
    if nearest_m is None:
        sentence = "nobody has said how near it may stand"
        way["missing"] = [{"record": found.key, "field": "nearest_m", "sentence": sentence}]
    return way


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
    costs = [EVERY_SHOT]
    if shift is not None and compare(abs(shift["typical"]), 0.5) >= 0:
        word = "cooler" if shift["typical"] > 0.0 else "warmer"
        costs.append(decimal_text(abs(shift["typical"]), 0) + " mired " + word + " without it")
    if not [one for one in keys if one != layer and records.text(one, "type") == "diffusion"]:
        costs.append("hard: what is left is the lamp's own face")
    return _way("drop_layer", "Drop " + name, acts, costs)


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
        way = _way("swap_layer", title, [_changing(layer, changes, records)], [EVERY_SHOT])
        if records.text(kit, "flame_retardant") != "yes":
            way["caution"] = cautions.caution("flame")
        way["on_hand"] = _on_hand(kit, records)
        made.append(way)
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
            [EVERY_SHOT] + _power_cost(found.source, kit, records) + _colour_cost(found.source, kit, records)
        )
        way = _way("other_lamp", title, [_changing(found.source, changes, records)], costs)
        way["caution"] = cautions.caution("electric")
        way["on_hand"] = _on_hand(kit, records)
        made.append(way)
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
