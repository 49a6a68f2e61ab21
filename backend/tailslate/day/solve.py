"""Solved backwards: which settings give the level, the contrast and the softness that must hold.

Knows no screen. SV1 only what may move is moved. SV2 each answer is tried on a scratch copy and says which of the wishes
it holds. SV3 the least change first; what holds nothing more than the others is still shown, a person chooses.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import decimal_text, plain_text, round_down, round_half_up
from tailslate.day import (
    camera_ways,
    cautions,
    chain,
    contrast,
    light_ways,
    names,
    setting,
    shown,
    trial,
    way,
    what_if,
)
from tailslate.day.trial import Trial

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered
    from tailslate.day.trial import Act, Tried

    Solution = dict[str, Any]
    Hold = dict[str, Any]

MAY = ("dimmer", "distance", "layers", "stop", "index")
RATIO_STEP = 0.06  # share by which a contrast may miss: a tenth of a stop (chosen)
SOFTNESS_STEP_DEG = 0.3  # a tape reads no finer (chosen)


def of_source(shot: str, key: str, may: "list[str]", hold: "Hold", records: "Gathered") -> "dict[str, Any]":
    """Return settings that give what must hold, by moving only what may move.

    Args:
        shot: record key of the shot.
        key: record key of the source in the shot, "" for the first key light.
        may: what may move, of MAY: dimmer, distance, layers (dropped), stop, index.
        hold: dict, keys level_stops (from the shot's stop; left out: what is wanted of the source), ratio (contrast at its
            point, to 1), softness_deg (the smaller angle that it fills, at least); each may be left out.
        records: the shot with what it reads.
    Returns: dict, keys level (record key), title, solutions (list of dict, keys title, acts, holds (list of dict, keys what,
        shown, is_held), level (shown), key_to_fill (shown, or ""), softness (shown, or ""), costs, caution, is_solved),
        line, missing (list of dict, keys record, field, sentence).
    Raises: RuleError "no_such_source", "not_a_choice".
    """
    for one in may:
        if one not in MAY:
            sentence = "what may move must be of " + ", ".join(MAY) + ", got " + one
            raise RuleError("not_a_choice", sentence, may=one)
    key = key or _first_key(shot, records)
    if not key or not records.is_there(key) or records.target(key, "shot") != shot:
        raise RuleError(
            "no_such_source", "that source does not burn in this shot; pick one that does", key=key
        )
    found = Trial(shot, key, _wishing(shot, key, hold, records))
    made: dict[str, Any] = {
        "level": key,
        "title": names.name_of(key, records),
        "solutions": [],
        "missing": [],
    }
    if key not in found.now.worked["models"] or found.needs(found.now) is None:
        model = found.now.worked["models"].get(key)
        made["missing"] = model["missing"] if model else []
        made["line"] = "its level is not known: read it alone at its point, and set the shot's stop"
        return made
    solutions = [_solution(found, acts, may, hold) for acts in _tries(found, may, hold)]
    useful = [one for one in solutions if one is not None and (one["acts"] or one["is_solved"])]
    known = sorted(useful, key=_rank)
    made["solutions"] = _different(known)
    solved = [one for one in known if one["is_solved"]]
    made["line"] = (
        "solved" if solved else "nothing that may move holds all of it: what comes nearest stands first"
    )
    return made


def _first_key(shot: str, records: "Gathered") -> str:
    for key in records.pointing("level", "shot", shot):
        if records.text(key, "role") == "key" and records.text(key, "on") != "no":
            return key
    return ""


def _wishing(shot: str, key: str, hold: "Hold", records: "Gathered") -> "Gathered":
    """Return records in which the wishes are set; they are tried, and in no act that is handed back."""
    acts = []
    if hold.get("level_stops") is not None:
        acts.append(what_if.act(key, {"wanted_stops": setting.figure_signed(hold["level_stops"])}, records))
    if hold.get("ratio") is not None:
        acts.append(what_if.act(shot, {"wanted_ratio": setting.figure(hold["ratio"], "")}, records))
    return what_if.like(what_if.with_acts(records.records, acts), records) if acts else records


def _tries(found: Trial, may: "list[str]", hold: "Hold") -> "list[list[Act]]":
    """Return what is worth trying: as it stands, then each thing that may move; nearer first where softness asks."""
    start: list[list[Act]] = [[]]
    if "distance" in may and hold.get("softness_deg"):
        soft = _soft_enough(found, float(hold["softness_deg"]))
        if soft:
            start = [soft]
    tries = []
    for acts in start:
        tries.append(acts)
        here = Trial(found.shot, found.key, found.after(acts).records) if acts else found
        factor = here.needs(here.now)
        if factor is None or factor <= 0.0:
            continue  # not known, or the others give all of it
        for more in _moves(here, factor, may, has_moved=bool(acts)):
            tries.append(what_if.merged(acts + more))
    return tries


def _moves(here: Trial, factor: float, may: "list[str]", *, has_moved: bool) -> "list[list[Act]]":
    records = here.now.records
    found: list[list[Act]] = []
    if "distance" in may and not has_moved:
        found.extend(_distance(here, factor))
    if "layers" in may and factor > 1.0:
        for layer in chain.layers_of(here.source, records):
            dropped = light_ways.drop_layer(here, layer)
            if dropped:
                found.append(dropped["acts"])
    stop, index = records.number(here.shot, "t_stop"), records.whole(here.shot, "exposure_index")
    if "stop" in may and stop:
        setup = records.target(here.shot, "setup")
        widest = records.number(setup, "widest_t_stop") if setup else None
        new = min(camera_ways.STOPS[-1], max(stop / factor**0.5, widest if widest else camera_ways.STOPS[0]))
        text = plain_text(round_half_up(new, 2))
        found.append([what_if.act(here.shot, {"t_stop": [text, "T" + text]}, records)])
    if "index" in may and index and here.now.worked["target_lx"] is not None:
        most = records.whole(here.shot, "highest_exposure_index")
        new_index = max(camera_ways.INDICES[0], int(decimal_text(index * factor, 0)))
        new_index = min(new_index, most if most else camera_ways.INDICES[-1])
        found.append([what_if.act(here.shot, {"exposure_index": new_index}, records)])
    return found


def _distance(here: Trial, factor: float) -> "list[list[Act]]":
    least_m = here.now.records.number(here.key, "nearest_m") or trial.NEAREST_M
    away_m = here.distance_to_meet_m(factor, nearest_m=least_m, farthest_m=trial.FARTHEST_M)
    return [] if away_m is None else [[_at(here, away_m)]]


def _at(here: Trial, away_m: float) -> "Act":
    """Return the act that puts the source at a distance, to the centimetre that a tape reads, nearer rather than farther."""
    return what_if.act(
        here.key, {"distance_m": setting.figure(round_down(away_m + trial.TAPE_M, 2), "m")}, here.now.records
    )


def _soft_enough(found: Trial, wanted_deg: float) -> "list[Act]":
    """Return the act that brings the source near enough to look so large, [] when it does or cannot."""
    seen = found.seen()
    here_m = found.now.records.number(found.key, "distance_m")
    if seen is None or not here_m or _smaller_deg(seen) >= wanted_deg:
        return []
    low, high = trial.NEAREST_M, here_m
    for _ in range(trial.HALVINGS):
        middle = (low + high) / 2.0
        nearer = found.seen_at(middle)
        if nearer is not None and _smaller_deg(nearer) < wanted_deg:
            high = middle
        else:
            low = middle
    return [_at(found, low)]


def _smaller_deg(seen: "dict[str, Any]") -> float:
    return float(min(seen["width"]["deg"], seen["height"]["deg"]))


def _solution(found: Trial, acts: "list[Act]", may: "list[str]", hold: "Hold") -> "Solution | None":
    if "dimmer" in may:
        dimmed = found.dimmed_to_meet(acts)
        if dimmed is None:
            return None
        acts, tried = dimmed[0], dimmed[1]
        more = _fill(found, tried, hold)
        if more:
            acts = what_if.merged(acts + more)
            tried = found.after(acts)
    else:
        tried = found.after(acts)
    acts = _changing(acts, found)
    held = _holds(found, tried, hold)
    seen = found.seen(tried)
    contrasted = contrast.key_to_fill(tried.worked["summed"], tried.records)
    made: Solution = {"acts": acts, "holds": held, "title": _title(acts, found), "costs": [], "caution": None}
    made["level"] = trial.misses_words(tried.misses)
    made["key_to_fill"] = contrasted["shown"] if contrasted else ""
    made["softness"] = seen["line"] if seen else ""
    made["is_solved"] = not [one for one in held if not one["is_held"]]
    moved = [one for one in acts if "distance_m" in one["set"]]
    handled = [one for one in acts if one["kind"] == "layer"]
    if moved or handled:
        made["caution"] = cautions.of_source(found.source, found.now.records)
    if moved:
        made["costs"].append("check the frame's edge at every lens, and what stands beside it")
    if handled:
        made["costs"].append(way.EVERY_SHOT)
    if [one for one in acts if one["kind"] == "shot"]:
        made["costs"].append("everything else in the picture rises or falls with it")
    return made


def _fill(found: Trial, tried: "Tried", hold: "Hold") -> "list[Act]":
    """Return the acts that set the fills at the point for the wanted contrast."""
    if hold.get("ratio") is None:
        return []
    acts: list[Act] = []
    point = tried.records.target(found.key, "point")
    for key in tried.worked["groups"].get((point, "fill"), []):
        if key != found.key and tried.records.number(key, "wanted_stops") is None:
            made = setting.of_source(found.shot, key, tried.worked, tried.records)
            if made:
                acts.extend([what_if.act(key, one["set"], found.now.records) for one in made["acts"]])
    return acts


def _changing(acts: "list[Act]", found: Trial) -> "list[Act]":
    """Return acts without values that stand already, and none that sets nothing."""
    kept = []
    for one in acts:
        key = one["kind"] + "/" + one["record"]
        changes = {}
        for field in one["set"]:
            if one["set"][field] != found.now.records.value(key, field):
                changes[field] = one["set"][field]
        if changes:
            kept.append(what_if.act(key, changes, found.now.records))
    return kept


def _holds(found: Trial, tried: "Tried", hold: "Hold") -> "list[dict[str, Any]]":
    misses = tried.misses
    is_met = misses is not None and abs(misses["typical"]) <= setting.MEETS_STOPS
    held = [{"what": "level", "shown": trial.misses_words(misses), "is_held": is_met}]
    if hold.get("ratio") is not None:
        point = tried.records.target(found.key, "point")
        made = contrast.key_to_fill(tried.worked["summed"], tried.records)
        is_held, words = False, shown.NOT_KNOWN
        if made and made["point"] == point and made["low"] is not None:
            middle = (made["low"] * made["high"]) ** 0.5
            is_held = abs(middle / float(hold["ratio"]) - 1.0) <= RATIO_STEP
            words = made["shown"]
        held.append({"what": "ratio", "shown": words, "is_held": is_held})
    if hold.get("softness_deg") is not None:
        seen = found.seen(tried)
        is_soft = seen is not None and _smaller_deg(seen) >= float(hold["softness_deg"]) - SOFTNESS_STEP_DEG
        held.append(
            {"what": "softness", "shown": seen["line"] if seen else shown.NOT_KNOWN, "is_held": is_soft}
        )
    return held


def _title(acts: "list[Act]", found: Trial) -> str:
    """Return in words what the acts do."""
    said = []
    for one in acts:
        key = one["kind"] + "/" + one["record"]
        for field in sorted(one["set"]):
            words = _said(key, field, one["set"][field], found.now.records)
            if words:
                said.append(words)
    return "; ".join(said) if said else "as it stands"


def _said(key: str, field: str, value: "Any", records: "Gathered") -> str:
    """Return what setting one field does, "" where another field of the same act says it."""
    name = names.name_of(key, records)
    if field == "present":
        return "drop " + name
    if value is None or field == "gap_m":
        return ""
    words = names.value_words(key, field, value, records)
    if field == "t_stop":
        return words
    if field == "exposure_index":
        return "EI " + words
    return name + " at " + words


def _rank(one: "Solution") -> "tuple[int, int, str]":
    missed = len([hold for hold in one["holds"] if not hold["is_held"]])
    changes = sum([len(act["set"]) for act in one["acts"]])
    return (missed, changes, one["title"])


def _different(solutions: "list[Solution]") -> "list[Solution]":
    kept: list[Solution] = []
    for one in solutions:
        if not [other for other in kept if other["title"] == one["title"]]:
            kept.append(one)
    return kept
