"""Full output is not enough: the ways out for one source in a shot, ranked, with what each costs.

Knows no screen. WA1 every way is tried on a scratch copy: what it promises is what the sheet says after its acts.
WA2 a way whose limit nobody has said (widest stop, highest index) is shown as such, after those that are known.
WA3 what is in the kit comes with its count; what is not in the kit is no way out. Minutes are common practice, no source.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare
from tailslate.day import camera_ways, chain, light_ways, names, setting, trial, way
from tailslate.day.trial import Trial

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered
    from tailslate.day.trial import Tried
    from tailslate.day.way import Way


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
    tried = [camera_ways.open_up(found, short_stops), camera_ways.raise_index(found, short_stops)]
    tried.append(camera_ways.both(found, short_stops))
    tried.append(light_ways.move_in(found, full))
    for layer in chain.layers_of(found.source, found.now.records):
        tried.append(light_ways.drop_layer(found, layer))
        tried.extend(light_ways.swap_layer(found, layer))
    tried.extend(light_ways.other_lamp(found))
    return [_finished(found, full, one) for one in tried if one is not None]


def _finished(found: Trial, full: "Tried", one: "Way") -> "Way":
    """Return a way with its dimmer set, its gain and what it comes to."""
    done = found.dimmed_to_meet(one["acts"])
    if done is None:
        one.update({"gain": None, "is_enough": None, "after": None})
        return one
    one["acts"], after, opened = done
    gain = trial.gain_stops(full, opened)
    one["gain"] = None if gain is None else {"shown": way.gain_words(gain), "stops": gain}
    misses = after.misses
    one["after"] = None
    if misses is not None:
        one["after"] = {"shown": trial.misses_words(misses), "low": misses["low"], "high": misses["high"]}
        is_enough = trial.is_met(after)
        one["is_enough"] = None if is_enough and one["missing"] else is_enough
    one["costs"] = one["costs"] + _softness_cost(found, full, opened)
    return one


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
    useful = [one for one in ways if one["gain"] and compare(one["gain"]["stops"], setting.MEETS_STOPS) > 0]
    return sorted(useful, key=_rank)


def _rank(one: "Way") -> "tuple[int, int, int, float, str, str]":
    enough = 0 if one["is_enough"] else 1 if one["is_enough"] is None else 2
    on_hand = 1 if one["on_hand"] is None else 0
    return (enough, on_hand, one["minutes"], -one["gain"]["stops"], one["way"], one["title"])
