"""How soft each source of a shot is at its subject: both axes, shadow edge, wrap, the light in the eye.

Knows no level. SO1 what the subject sees counts: the lit part of the last sheet, as far as a louvre lets see it, or the
lamp's own face. SO2 each axis has its own figure. SO3 the head and the edge that figures are told for are said with them.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.placement import lit_sides_m
from tailslate.craft.rounding import compare, decimal_text
from tailslate.craft.softness import apparent_size_deg, near_last_lit_deg, penumbra_m
from tailslate.day import chain, names, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Seen = dict[str, float]

HEAD_RADIUS_M = 0.09  # half the width of a head (common practice, no source)
EDGE_M = 0.1  # the edge that throws the shadow, before the skin (chosen)
EYE_MIRROR_M = (
    0.0039  # focal length of the cornea as a mirror: half its radius of 7.8 mm (Gullstrand, from memory)
)
IRIS_M = 0.012  # across (from memory)
SQUARE_TO = 1.15  # sides this near to each other look square (chosen)
HARD_CORE_RATIO = 0.1  # share straight from the lamp from which it is worth a word (chosen)


def of_shot(worked: "dict[str, Any]", records: "Gathered") -> "list[dict[str, Any]]":
    """Return how soft each source is, those without any known size left out.

    Args:
        worked: as light.worked_out gives it.
        records: the shot with what it reads.
    """
    found = [of_source(key, worked["models"][key], records) for key in worked["sources"]]
    return [one for one in found if one]


def of_source(key: str, model: "dict[str, Any]", records: "Gathered") -> "dict[str, Any] | None":
    """Return how soft one source is at its subject, None when its size or distance is not known.

    Args:
        key: record key of the source in the shot.
        model: as `chain.level` gives it.
        records: the source with its layers.
    Returns: dict, keys level (record key), source, title, role, from (what is seen as the source), width and height
        (dict, keys shown, deg), penumbra (dict, keys shown, width_m, height_m), wrap (dict, keys shown, width_deg,
        height_deg), catchlight (dict, keys shown, shape), hard_core (sentence, or ""), line.
    """
    source = records.target(key, "source")
    seen = model["seen"] or _without_model(key, source, records)
    if not seen or min(seen["width_m"], seen["height_m"], seen["distance_m"]) <= 0.0:
        return None
    made: dict[str, Any] = {"level": key, "source": source, "title": names.name_of(source, records)}
    made.update({"role": records.text(key, "role"), "from": _seen_name(source, records)})
    try:
        for side in ("width", "height"):
            size_deg = apparent_size_deg(seen[side + "_m"], distance_m=seen["distance_m"])
            made[side] = {"shown": _deg(size_deg), "deg": size_deg}
        made["penumbra"] = _penumbra(seen, records.units)
        made["wrap"] = _wrap(seen)
    except RuleError:
        return None  # nearer than a head or an edge: no figure that means anything
    made["catchlight"] = _catchlight(seen, _has_louvre(source, records))
    made["hard_core"] = _hard_core(model)
    made["line"] = made["width"]["shown"] + " wide, " + made["height"]["shown"] + " high, " + made["from"]
    return made


def size_deg(key: str, model: "dict[str, Any]", records: "Gathered") -> "float | None":
    """Return the smaller of the two angles that a source fills at its subject [deg], None when not known.

    Args:
        key: record key of the source in the shot.
        model: as `chain.level` gives it.
        records: the source with its layers.
    """
    found = of_source(key, model, records)
    return min(found["width"]["deg"], found["height"]["deg"]) if found else None


def _without_model(key: str, source: str, records: "Gathered") -> "Seen | None":
    """Return the last sheet, or the lamp's face, from sizes alone: no intensity and no material is needed."""
    away_m = records.number(key, "distance_m")
    if away_m is None:
        return None
    for layer in reversed(chain.layers_of(source, records)):
        if records.text(layer, "type") == "diffusion":
            width_m, height_m = records.number(layer, "width_m"), records.number(layer, "height_m")
            if width_m is None or height_m is None:
                return None
            lit = records.number(layer, "lit_share_ratio")
            if lit is not None:
                width_m, height_m = lit_sides_m(width_m=width_m, height_m=height_m, lit_share_ratio=lit)
            return {"width_m": width_m, "height_m": height_m, "distance_m": away_m}
        away_m += records.number(layer, "gap_m") or 0.0
    width_m, height_m = records.number(source, "face_width_m"), records.number(source, "face_height_m")
    if width_m is None or height_m is None:
        return None
    return {"width_m": width_m, "height_m": height_m, "distance_m": away_m}


def _seen_name(source: str, records: "Gathered") -> str:
    for layer in reversed(chain.layers_of(source, records)):
        if records.text(layer, "type") == "diffusion":
            return names.name_of(layer, records)
    return "the lamp's own face"


def _has_louvre(source: str, records: "Gathered") -> bool:
    layers = chain.layers_of(source, records)
    return bool(layers) and records.text(layers[-1], "type") == "louvre"


def _deg(angle_deg: float) -> str:
    return decimal_text(angle_deg, 0 if compare(angle_deg, 9.95) >= 0 else 1) + "\u00b0"


def _penumbra(seen: "Seen", units: str) -> "dict[str, Any]":
    found: dict[str, Any] = {}
    for side in ("width_m", "height_m"):
        to_edge_m = seen["distance_m"] - EDGE_M
        found[side] = penumbra_m(
            source_size_m=seen[side], source_to_edge_m=to_edge_m, edge_to_surface_m=EDGE_M
        )
    words = shown.figure(found["width_m"], "m", units) + " sideways, "
    words += shown.figure(found["height_m"], "m", units) + " up and down"
    found["shown"] = (
        "shadow edge " + words + ", of what is " + shown.figure(EDGE_M, "m", units) + " before the skin"
    )
    return found


def _wrap(seen: "Seen") -> "dict[str, Any]":
    found: dict[str, Any] = {}
    to_head_m = seen["distance_m"] + HEAD_RADIUS_M
    for side in ("width", "height"):
        radius_m = seen[side + "_m"] / 2.0
        found[side + "_deg"] = near_last_lit_deg(radius_m, distance_m=to_head_m, head_radius_m=HEAD_RADIUS_M)
    found["shown"] = "lights round the head to " + _deg(found["width_deg"]) + " sideways, "
    found["shown"] += _deg(found["height_deg"]) + " up and down"
    return found


def _catchlight(seen: "Seen", has_louvre: bool) -> "dict[str, Any]":
    """Return the reflection in the eye: the cornea is a small round mirror."""
    width_m, height_m = seen["width_m"], seen["height_m"]
    ratio = max(width_m, height_m) / min(width_m, height_m)
    shape = "square"
    if compare(ratio, SQUARE_TO) > 0:
        shape = ("wide, " if width_m > height_m else "tall, ") + _side(ratio) + " to 1"
    if has_louvre:
        shape = "a grid of cells, " + shape
    across = EYE_MIRROR_M * max(width_m, height_m) / seen["distance_m"] / IRIS_M
    size = (
        "about 1/" + decimal_text(1.0 / across, 0) + " of the iris"
        if across < 0.5
        else "over half of the iris"
    )
    return {"shown": shape + ", " + size, "shape": shape}


def _side(ratio: float) -> str:
    text = decimal_text(ratio, 1)
    return text[:-2] if text.endswith(".0") else text


def _hard_core(model: "dict[str, Any]") -> str:
    share = model["lamp_share_ratio"]
    if model["seen"] is None or share is None or compare(share, HARD_CORE_RATIO) < 0:
        return ""
    return (
        shown.figure(share * 100.0, "percent")
        + " of it comes straight from the lamp: its shadows have a hard core"
    )
