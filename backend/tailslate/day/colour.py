"""The colour of a shot's light: each source behind its layers, the mix at each point, and what to change to match.

Knows levels only as weights. CL1 a reading of a source alone outranks its lamp and sheets. CL2 differences are told in
mired, never in kelvin. CL3 a tint that nobody read is not known: it is never taken as none, save where said.
CL4 the threshold of what is visible stands beside every word of it.
"""

from tailslate.craft.colour import chromaticity, colour_temperature, mixture
from tailslate.craft.correction import nearest_correction
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare, decimal_text, total
from tailslate.craft.units import k_from_mired, mired_from_k
from tailslate.day import chain, dimmer, level_words, names, readings, shown, target

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Colour = dict[str, Any]
    Missing = dict[str, str]

VISIBLE_MIRED = 5.0  # just noticeable side by side (Judd; Wyszecki and Stiles; from memory)
BLUEST_MIRED = 40.0  # 25,000 K: no colour temperature is told beyond it
VISIBLE_DUV = 0.003  # a step seen beside neutral (from memory)
THRESHOLD = (
    "visible from about 5 mired side by side (Judd; Wyszecki and Stiles), from about 0.003 Duv in tint"
)
WARM, COOL = "warmer", "cooler"
STRENGTHS = {"full": "full", "half": "half", "quarter": "quarter", "eighth": "eighth"}


def of_shot(shot: str, worked: "dict[str, Any]", records: "Gathered") -> "dict[str, Any]":
    """Return the colour of a shot's light.

    Args:
        shot: record key of the shot.
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
    Returns: dict, keys reference (dict, keys shown, k, duv, mired, mired_shown, missing), sources (list of dict as
        `of_source`; then readings of colour that are of no source alone: level and source are the reading), points (list of dict, keys point, title, kind, shown, k, duv, match, line), threshold (sentence).
    """
    reference = _reference(shot, records)
    sources = {key: of_source(shot, key, reference, records) for key in worked["sources"]}
    points = []
    for point in sorted({records.target(key, "point") for key in sources}):
        if point:
            made = _point(point, sources, worked, reference, records)
            if made:
                points.append(made)
    return {
        "reference": reference,
        "sources": [sources[key] for key in worked["sources"]] + _read(shot, sources, reference, records),
        "points": points,
        "threshold": THRESHOLD,
    }


def _read(
    shot: str, sources: "dict[str, Colour]", reference: "Colour", records: "Gathered"
) -> "list[Colour]":
    """Return the colours that were read and that no source has; without a reference each is told from the key's."""
    read = readings.of_colour(shot, records)
    keys = [one for one in read if one["role"] == "key" and one["fresh"]]
    found = []
    for one in read:
        here = [key for key in sources if records.target(key, "point") == one["point"]]
        if [
            key
            for key in here
            if records.text(key, "role") == one["role"] and sources[key]["kind"] == "reading"
        ]:
            continue  # it is the source's own
        made: Colour = {"level": one["record"], "source": one["record"], "kind": "reading", "layers": []}
        made["title"] = level_words.title_of(one["role"], one["point"], records)
        made["line"], made["missing"], made["match"] = one["line"], [], None
        made["duv"] = one["duv"]
        only = mired_from_k(one["k"])
        _tell({"low": only, "typical": only, "high": only}, made, one["record"])
        if reference["k"] is not None:
            made["match"] = _match(made["mired"], one["duv"], reference)
        elif keys and one["role"] != "key":
            made["match"] = _match(made["mired"], one["duv"], keys[0])
            if made["match"]:
                made["match"]["shown"] += ", against the key"
        found.append(made)
    return found


def _tell(mired: "Range", made: "Colour", record: str) -> None:
    """Put into words what a colour is; `record` is where its tint is filled in."""
    made["mired"] = mired
    made["k_low"], made["k_high"] = k_from_mired(mired["high"]), k_from_mired(mired["low"])
    made["mired_shown"] = _mireds(mired["low"], mired["high"])
    made["tint"] = _tint(made["duv"]).lstrip(", ")
    made["shown"] = _kelvins(made["k_low"], made["k_high"]) + _tint(made["duv"])
    if made["duv"] is None:
        sentence = "the tint of " + made["title"] + " is not known: read its Duv"
        made["missing"].append({"record": record, "field": "duv", "sentence": sentence})


def _reference(shot: str, records: "Gathered") -> "Colour":
    found: Colour = {
        "k": records.number(shot, "reference_colour_k"),
        "duv": records.number(shot, "reference_duv"),
        "mired": None,
        "mired_shown": "",
    }
    found["missing"] = []
    if found["k"] is None:
        sentence = "the colour that the shot is balanced for is not set"
        found["missing"].append({"record": shot, "field": "reference_colour_k", "sentence": sentence})
        found["shown"] = shown.NOT_KNOWN
    else:
        found["shown"] = shown.figure(found["k"], "K") + _tint(found["duv"])
        found["mired"] = mired_from_k(found["k"])
        found["mired_shown"] = _mireds(found["mired"], found["mired"])
    return found


def _mireds(low: float, high: float) -> str:
    first, last = decimal_text(low, 0), decimal_text(high, 0)
    return first if first == last else first + " to " + last


def _tint(duv: "float | None") -> str:
    if duv is None:
        return ""
    if compare(duv, 0.0) == 0:
        return ", no tint"
    return ", " + ("green " if duv > 0 else "magenta ") + decimal_text(abs(duv), 4)


def of_source(shot: str, key: str, reference: "Colour", records: "Gathered") -> "Colour":
    """Return the colour of one source behind its layers.

    Args:
        shot: record key of the shot.
        key: record key of the source in the shot.
        reference: as `of_shot` gives it.
        records: the source with its layers.
    Returns: dict, keys level (record key), source, title, kind (reading, range, unknown), shown, k_low, k_high,
        mired (range or None), mired_shown, duv (None when not known), tint (in words, "" when not known),
        layers (list of dict, keys title, shown, mired), match (dict as `_match`, or None), line, missing.
    """
    source = records.target(key, "source")
    made: Colour = {"level": key, "source": source, "title": names.name_of(source, records), "missing": []}
    made.update({"mired": None, "duv": None, "match": None, "k_low": None, "k_high": None, "layers": []})
    made.update({"mired_shown": "", "tint": ""})
    reading = _read_alone(shot, key, source, records)
    if reading:
        only = mired_from_k(reading["k"])
        made["mired"], made["duv"] = {"low": only, "typical": only, "high": only}, reading["duv"]
        made["kind"], made["line"] = "reading", reading["line"]
    else:
        made["mired"] = _behind_layers(key, source, made, records)
        made["duv"] = records.number(source, "duv")
        made["kind"] = "range" if made["mired"] else "unknown"
        made["line"] = _line(key, source, made, records)
    if made["mired"] is None:
        made["shown"] = shown.NOT_KNOWN
        return made
    _tell(made["mired"], made, source)
    made["match"] = _match(made["mired"], made["duv"], reference)
    return made


def _read_alone(shot: str, key: str, source: str, records: "Gathered") -> "Colour | None":
    """Return the colour of a fresh reading of this source alone in this shot, None when there is none."""
    point, role = records.target(key, "point"), records.text(key, "role")
    best = None
    for reading in records.pointing("reading", "shot", shot):
        found_k = records.number(reading, "colour_k")
        same = records.target(reading, "point") == point and records.text(reading, "role") == role
        if not found_k or not same or len(readings.burning(shot, point, role, records)) != 1:
            continue
        entry = records.entry(reading, "colour_k")
        made = readings.of_point(shot, point, role, records)
        if made and made["record"] == reading and made["fresh"] and entry:
            best = {"k": found_k, "duv": records.number(reading, "duv"), "line": made["line"]}
    return best


def _behind_layers(key: str, source: str, made: "Colour", records: "Gathered") -> "Range | None":
    """Return the lamp's mired with the shifts of its layers, None when one of them is not known."""
    lamp_k = records.number(source, "colour_k")
    missing: list[Missing] = made["missing"]
    if lamp_k is None or lamp_k <= 0.0:
        sentence = (
            "the colour of " + made["title"] + " is not known: read it, or take it from the lamp's sheet"
        )
        missing.append({"record": source, "field": "colour_k", "sentence": sentence})
    shifts: list[Range] = []
    for layer in chain.layers_of(source, records):
        if records.text(layer, "type") not in ("diffusion", "gel"):
            continue
        shift = chain.spread(layer, "shift", "mired", records)
        name = names.name_of(layer, records)
        if shift is None:
            sentence = (
                "what " + name + " does to the colour is not known: pick its material, or read behind it"
            )
            missing.append({"record": layer, "field": "shift_mired", "sentence": sentence})
        else:
            shifts.append(shift)
            made["layers"].append(
                {"title": name, "shown": _shift(shift["low"], shift["high"]), "mired": shift}
            )
    if missing or lamp_k is None:
        return None
    mired = mired_from_k(lamp_k)
    if mired + total([shift["low"] for shift in shifts]) < BLUEST_MIRED:
        sentence = "the layers of " + made["title"] + " shift it bluer than any light: check their mired"
        missing.append({"record": source, "field": "colour_k", "sentence": sentence})
        return None
    return {
        "low": mired + total([shift["low"] for shift in shifts]),
        "typical": mired + total([shift["typical"] for shift in shifts]),
        "high": mired + total([shift["high"] for shift in shifts]),
    }


def _line(key: str, source: str, made: "Colour", records: "Gathered") -> str:
    if made["missing"]:
        return "not known: " + str(made["missing"][0]["sentence"])
    said = "lamp and sheets, worked out" if made["layers"] else "the lamp, as stated"
    output = dimmer.output_ratio(key, source, records)
    if output is None or compare(output, 1.0) < 0:
        said += ", dimmed: tungsten turns warmer with it, read it at that setting"
    return said


def _kelvins(low_k: float, high_k: float) -> str:
    first, last = decimal_text(low_k / 10.0, 0) + "0", decimal_text(high_k / 10.0, 0) + "0"
    return (first if first == last else first + " to " + last) + shown.HARD_SPACE + "K"


def _shift(low: float, high: float) -> str:
    first, last = decimal_text(low, 0, signed=True), decimal_text(high, 0, signed=True)
    return (first if first == last else first + " to " + last) + shown.HARD_SPACE + "mired"


def _match(mired: "Range", duv: "float | None", reference: "Colour") -> "dict[str, Any] | None":
    """Return how a light stands against the shot's colour and what brings it nearest.

    Returns: dict, keys shown (how far, with visible or not), is_visible, off_low_mired and off_high_mired (warmer above
        0), tint_duv (greener above 0, None when not known), is_tint_visible (None when not known), change (sentence),
        strength, filter_mired, residual_mired, is_residual_visible; None without a reference.
    """
    if reference["k"] is None:
        return None
    wanted = mired_from_k(reference["k"])
    low, high, typical = mired["low"] - wanted, mired["high"] - wanted, mired["typical"] - wanted
    nearest: Any = nearest_correction(k_from_mired(mired["typical"]), to_k=reference["k"])
    made: dict[str, Any] = {"off_low_mired": low, "off_high_mired": high}
    made["is_visible"] = compare(max(abs(low), abs(high)), VISIBLE_MIRED) >= 0
    made["strength"], made["filter_mired"] = nearest["strength"], nearest["filter_mired"]
    made["residual_mired"] = nearest["residual_mired"]
    made["is_residual_visible"] = compare(abs(nearest["residual_mired"]), VISIBLE_MIRED) >= 0
    made["tint_duv"] = made["is_tint_visible"] = None
    words = _off(low, high, typical)
    if duv is not None and reference["duv"] is not None:
        made["tint_duv"] = duv - reference["duv"]
        made["is_tint_visible"] = compare(abs(made["tint_duv"]), VISIBLE_DUV) >= 0
        words += _off_tint(made["tint_duv"])
    least = 0.0 if low < 0.0 < high else min(abs(low), abs(high))
    is_sure = bool(made["is_tint_visible"]) or compare(least, VISIBLE_MIRED) >= 0
    seen = ", visible" if is_sure else ", may be visible" if made["is_visible"] else ", not visible"
    made["shown"] = words + seen
    if made["tint_duv"] is None:
        made["shown"] += ", tint not known" if duv is None else ", tint of the shot's colour not known"
    made["change"] = _change(made, nearest) if is_sure else "read it before anything is added"
    return made


def _off(low: float, high: float, typical: float) -> str:
    first, last = decimal_text(abs(low), 0), decimal_text(abs(high), 0)
    if first == "0" and last == "0":
        return "on the shot's colour"
    if low < 0.0 < high and first != "0" and last != "0":
        return first + " mired " + COOL + " to " + last + " mired " + WARM
    if typical < 0.0:
        first, last = last, first
    word = WARM if typical > 0.0 else COOL
    return (first if first == last else first + " to " + last) + shown.HARD_SPACE + "mired " + word


def _off_tint(duv: float) -> str:
    text = decimal_text(abs(duv), 4)
    return "" if text == "0.0000" else ", " + text + (" greener" if duv > 0.0 else " more magenta")


def _change(made: "dict[str, Any]", nearest: "dict[str, Any]") -> str:
    said = []
    if made["is_visible"] and nearest["strength"] != "none":
        way = "amber" if nearest["filter_mired"] > 0.0 else "blue"
        left = decimal_text(abs(nearest["residual_mired"]), 0) + shown.HARD_SPACE + "mired left"
        seen = "still visible" if made["is_residual_visible"] else "no longer visible"
        said.append("add " + STRENGTHS[nearest["strength"]] + " " + way + ", " + left + ", " + seen)
    elif made["is_visible"]:
        said.append("no single strength comes nearer; a mired from a sheet's own data may")
    if made["is_tint_visible"]:
        word = "minus green (magenta)" if made["tint_duv"] > 0.0 else "plus green"
        said.append("add " + word + " for the tint, its strength by the sheet's own data")
    if said:
        said.append("it takes light too: read the level again")
    return "; ".join(said)


def _point(
    point: str,
    sources: "dict[str, Colour]",
    worked: "dict[str, Any]",
    reference: "Colour",
    records: "Gathered",
) -> "Colour | None":
    """Return the colour of all light at a point, each source weighted by its light; None with fewer than two."""
    lights, unknown, has_tint = [], [], True
    here = [key for key in worked["sources"] if records.target(key, "point") == point]
    if len(here) < 2:
        return None
    for key in here:
        one, level = sources[key], worked["parts"][key]
        if one["mired"] is None:
            unknown.append("the colour of " + one["title"])
        elif level is None:
            unknown.append("the light of " + one["title"])
        elif level["typical"] >= target.DARKEST_LX:
            has_tint = has_tint and one["duv"] is not None
            lights.append((k_from_mired(one["mired"]["typical"]), one["duv"] or 0.0, level["typical"]))
    made: Colour = {"point": point, "title": names.name_of(point, records), "match": None}
    made.update({"kind": "unknown", "shown": shown.NOT_KNOWN, "k": None, "duv": None})
    if unknown or not lights:
        made["line"] = "not known: " + (" and ".join(unknown) or "no light")
        return made
    try:
        mixed = _mixed(lights)
    except RuleError as error:
        made["line"] = "not known: " + error.sentence
        return made
    made["kind"], made["k"] = "range", mixed["temperature_k"]
    made["duv"] = mixed["duv"] if has_tint else None
    made["shown"] = _kelvins(made["k"], made["k"]) + _tint(made["duv"])
    made["line"] = "mixed by light, worked out"
    if not has_tint:
        made["line"] += ", as if no source had a tint: read their Duv"
    only = mired_from_k(made["k"])
    made["match"] = _match({"low": only, "typical": only, "high": only}, made["duv"], reference)
    return made


def _mixed(lights: "list[tuple[float, float, float]]") -> "dict[str, float]":
    parts = []
    for found_k, duv, light_lx in lights:
        place = chromaticity(found_k, duv=duv)
        parts.append({"x": place["x"], "y": place["y"], "illuminance_lx": light_lx})
    mixed = mixture(parts)
    return colour_temperature(mixed["x"], y=mixed["y"])
