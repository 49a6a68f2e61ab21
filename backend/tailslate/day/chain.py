"""One source in one shot: records -> the lamp and layers that `craft` computes with -> its level at the subject.

Knows no shot target and no readings. L1 what is not known stays not known: the answer names the record
and the field to fill in. L2 a flag is in no figure: it says so. L3 a lamp without a dimmer's word burns
in full; a dimmer's percent alone is no light.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.level import level_through_layers
from tailslate.craft.placement import lit_sides_m, turned_subject
from tailslate.day import dimmer, names
from tailslate.day.rows import LAST

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.chain_facts import Fact, Lamp, Layer
    from tailslate.craft.level import Subject
    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Missing = dict[str, str]

KEPT = 64  # sources in shots whose last answers are kept: the same facts give the same light
KEPT_OF_ONE = 3  # answers of each: now, as it was read, undimmed
CLEAR: "Range" = {"low": 1.0, "typical": 1.0, "high": 1.0}  # a gel scatters nothing
LAMP_FIELDS = {"intensity_cd": "intensity_cd", "beam_deg": "beam_deg"}
# The fields of a layer by the names that `craft` has for the same facts.
LAYER_FIELDS = {
    "lit_width_m": "lit_share_ratio",
    "lit_height_m": "lit_share_ratio",
    "cell_depth_ratio": "depth_to_width_ratio",
    "kind": "type",
}


def layers_of(source: str, records: "Gathered") -> "list[str]":
    """Return the keys of a source's layers from the lamp on.

    Args:
        source: record key of the source.
        records: the source with its layers.
    """
    keys = records.pointing("layer", "source", source)
    return sorted(keys, key=lambda key: (_order(key, records), key))


def _order(key: str, records: "Gathered") -> int:
    order = records.whole(key, "order")
    return LAST if order is None else order


_SPREADS: "dict[str, tuple[str, ...]]" = {}  # name -> its three fields; each has one unit


def spread(key: str, name: str, unit: str, records: "Gathered") -> "Range | None":
    """Return what is known of a thing as low, typical, high; a missing end is the typical value.

    Args:
        key: record key.
        name: name of the three fields without end and unit, such as transmittance.
        unit: their unit in the field's name, such as ratio.
        records: the record.
    """
    ends = _SPREADS.get(name)
    if ends is None:
        ends = _SPREADS[name] = tuple([name + end + unit for end in ("_", "_low_", "_high_")])
    typical, low, high = [records.number(key, one) for one in ends]
    if typical is None:
        if low is None or high is None:
            return None
        typical = (low + high) / 2.0
    low = typical if low is None else low
    high = typical if high is None else high
    return {"low": min(low, typical), "typical": typical, "high": max(high, typical)}


def level(key: str, records: "Gathered", *, at_full: bool = False) -> "dict[str, Any]":
    """Return the level that one source gives its subject in one shot.

    Args:
        key: record key of the level (a source in a shot).
        records: the level with its source and layers.
        at_full: as if it burned undimmed.
    Returns: dict, keys level_lx (range [lx] or None), stages (list of dict, keys title, loss_stops and
        level_lx, the bare lamp first), missing (list of dict, keys record, field, sentence), notes (sentences
        about what the figure leaves out), seen (dict, keys width_m, height_m, distance_m of what the subject
        sees as the source; None for the lamp itself), lamp_share_ratio (share that comes straight from it).
    """
    source = records.target(key, "source")
    name = names.name_of(source, records)
    missing = _missing_here(key, source, name, at_full, records)
    if missing:
        return _unknown(missing)
    keys, notes = [], []
    for one in layers_of(source, records):
        if records.text(one, "type") == "flag":
            notes.append(names.name_of(one, records) + " is not in the figure: meter behind it")
        else:
            keys.append(one)
    try:
        lamp = _lamp(key, source, keys, at_full, records)
        layers = [_layer(keys, place, records) for place in range(len(keys))]
        found = _worked_out(key, lamp, layers, _subject(key, records))
    except RuleError as error:
        return _unknown([{"record": source, "field": "", "sentence": name + ": " + error.sentence}])
    if found["unknown"]:
        return _unknown([_where(fact, key, source, keys, name) for fact in found["unknown"]])
    notes.extend([fact["sentence"] for fact in found["questions"]])
    stages = [{"title": "lamp, bare", "loss_stops": None, "level_lx": found["bare_lx"]}]
    for stage in found["stages"]:
        made = {"title": stage["name"], "loss_stops": stage["loss_stops"], "level_lx": stage["level_lx"]}
        stages.append(made)
    answer: dict[str, Any] = {"level_lx": found["level_lx"], "stages": stages, "missing": [], "notes": notes}
    answer["seen"], answer["lamp_share_ratio"] = found["source"], found["lamp_share_ratio"]
    return answer


_last: "dict[str, list[tuple[Any, dict[str, Any]]]]" = {}


def _worked_out(key: str, lamp: "Lamp", layers: "list[Layer]", subject: "Subject") -> "dict[str, Any]":
    """Return what `craft` makes of these facts; answers are kept, so that an edit works only its own source out anew."""
    facts = (lamp, layers, subject)
    kept = _last.setdefault(key, [])
    for known, found in kept:
        if known == facts:
            return found
    made = level_through_layers(lamp, layers=layers, subject=subject)
    kept.append((facts, made))
    if len(kept) > KEPT_OF_ONE:
        del kept[0]
    if len(_last) > KEPT:
        _last.clear()
    return made


def _unknown(missing: "list[Missing]") -> "dict[str, Any]":
    answer: dict[str, Any] = {"level_lx": None, "stages": [], "missing": missing, "notes": []}
    answer["seen"] = answer["lamp_share_ratio"] = None
    return answer


def _missing_here(key: str, source: str, name: str, at_full: bool, records: "Gathered") -> "list[Missing]":
    """Return what a level needs before any figure: that it burns, its source, its dimmer in light."""
    missing = []
    if not records.is_there(source):
        missing.append(
            {"record": key, "field": "source", "sentence": "the source is not on the day any more"}
        )
    elif records.text(key, "on") != "yes":
        missing.append(
            {"record": key, "field": "on", "sentence": "nobody has said whether " + name + " burns"}
        )
    elif not at_full and dimmer.output_ratio(key, source, records) is None:
        sentence = (
            "how much light the dimmer lets through at that percent is not known: read it with and without"
        )
        missing.append({"record": key, "field": "output_ratio", "sentence": name + ": " + sentence})
    return missing


def _lamp(key: str, source: str, keys: "list[str]", at_full: bool, records: "Gathered") -> "Lamp":
    intensity = spread(source, "intensity", "cd", records)
    output = None if at_full else dimmer.output_ratio(key, source, records)
    if intensity is not None and output is not None:
        intensity = {
            "low": intensity["low"] * output,
            "typical": intensity["typical"] * output,
            "high": intensity["high"] * output,
        }
    gap_m = records.number(keys[0], "gap_m") if keys else None
    return {"intensity_cd": intensity, "beam_deg": records.number(source, "beam_deg"), "gap_to_next_m": gap_m}


def _layer(keys: "list[str]", place: int, records: "Gathered") -> "Layer":
    key = keys[place]
    type_ = records.text(key, "type")
    reflectance = records.number(key, "reflectance_ratio")
    made: Layer = {
        "name": names.name_of(key, records),
        "kind": "louvre" if type_ == "louvre" else "sheet",
        "transmittance_ratio": spread(key, "transmittance", "ratio", records),
        "reflectance_ratio": None
        if reflectance is None
        else {"low": reflectance, "typical": reflectance, "high": reflectance},
        "direct_ratio": CLEAR if type_ == "gel" else spread(key, "direct", "ratio", records),
        "width_m": records.number(key, "width_m"),
        "height_m": records.number(key, "height_m"),
        "cell_depth_ratio": records.number(key, "depth_to_width_ratio"),
        "gap_to_next_m": records.number(keys[place + 1], "gap_m") if place + 1 < len(keys) else None,
    }
    lit = records.number(key, "lit_share_ratio")
    width_m, height_m = made["width_m"], made["height_m"]
    if lit is not None and width_m is not None and height_m is not None:
        sides = lit_sides_m(width_m=width_m, height_m=height_m, lit_share_ratio=lit)
        made["lit_width_m"], made["lit_height_m"] = sides
    return made


def _subject(key: str, records: "Gathered") -> "Subject":
    """Return the subject as it stands off the axis, its face turned to the middle of the source."""
    away_m = records.number(key, "distance_m")
    off_deg = records.number(key, "off_axis_deg")
    if away_m is None or off_deg is None:
        return {"distance_m": away_m}  # nothing said of an angle: the source is aimed at its point
    return turned_subject(distance_m=away_m, off_axis_deg=off_deg)


def _where(fact: "Fact", key: str, source: str, keys: "list[str]", name: str) -> "Missing":
    """Return a missing fact with the record and the field that hold it."""
    field, layer = fact["field"], fact["layer"]
    if field == "distance_m":
        record = key
    elif field == "gap_to_next_m":
        record, field = keys[layer], "gap_m"  # the gap before a layer is that layer's own field
    elif layer == 0:
        record, field = source, LAMP_FIELDS.get(field, field)
    else:
        record, field = keys[layer - 1], LAYER_FIELDS.get(field, field)
    return {"record": record, "field": field, "sentence": name + ": " + fact["sentence"]}
