"""The frame of a shot: what the lens takes in, what stands in it, the camera's path, glass, even light.

Knows no light levels. A lens can see what nobody placed: what has no place is told, and camera looks. What
stands behind something else is not known here.
"""

from tailslate.craft import in_picture
from tailslate.craft.errors import RuleError
from tailslate.craft.floor_path import gap_to_path_m
from tailslate.craft.rounding import compare, round_up
from tailslate.day import cautions, even_light, lens, mirrored, shown, standing, viewpoint
from tailslate.day.standing import DRESSING, FRAME

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Thing = dict[str, Any]

STATES = ("in", "edge", "out")
WORDS = {"in": "in frame", "edge": "at the edge", "out": "clear", "unknown": "not known"}
HEADROOM_M = 2.0  # what hangs higher is not in the way of people (common practice, no source)


def of_shot(shot: str, records: "Gathered") -> "dict[str, Any]":
    """Return the frame of a shot.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: dict, keys figures (list of dict as in `figures.plain`: angle of view, field, depth of field, even
        light, flashes), camera (list of dict, keys at, x_m, y_m, height_m, pan_deg, tilt_deg, half_angle_ratio,
        floor; [] when it is not placed), missing (what places the camera), things (list of dict, keys record,
        title, what, wanted, state, word, at, left, right, bottom, top, x_m, y_m), unplaced (list of dict, keys
        record, title, what, fields: to fill in), path (dict, keys floor_m, moves, in_the_way, caution; None), glass
        (list of dict as in `mirrored.seen`), glass_missing.
    """
    setup = records.target(shot, "setup")
    found = lens.of_setup(shot, setup, records)
    things = standing.of_shot(shot, records)
    cameras, missing = _cameras(setup, records)
    panes, glass_missing = mirrored.panes(things, records)
    return {
        "figures": found + even_light.of_shot(shot, records),
        "camera": [_told(one) for one in cameras],
        "missing": missing,
        "things": [_seen(one, cameras) for one in things if one["place"] and one["boxes"]],
        "unplaced": [_unplaced(one) for one in things if not one["place"] or not one["boxes"]],
        "path": _path(setup, cameras, things, records),
        "glass": mirrored.seen(cameras, things, panes, records),
        "glass_missing": glass_missing,
    }


def _cameras(setup: str, records: "Gathered") -> "tuple[list[dict[str, Any]], list[dict[str, str]]]":
    if not setup:
        return [], [{"record": "", "field": "setup", "sentence": "give the shot a set-up"}]
    try:
        cameras, facts = viewpoint.positions(setup, records)
    except RuleError as error:
        return [], [{"record": setup, "field": "", "sentence": error.sentence}]
    return cameras, facts.missing


def _told(one: "dict[str, Any]") -> "dict[str, Any]":
    """Return a camera position as a drawing needs it."""
    right, up, forward = one["lens"]
    return {
        "at": one["name"],
        "x_m": right,
        "y_m": forward,
        "height_m": up,
        "pan_deg": one["pan_deg"],
        "tilt_deg": one["tilt_deg"],
        "half_angle_ratio": one["view"]["half_right"],
        "floor": list(one["floor"]),
    }


def _seen(one: "Thing", cameras: "list[dict[str, Any]]") -> "Thing":
    """Return where a thing falls, at the moment of the move at which it is most in the picture."""
    made: Thing = {"state": "unknown", "at": ""}
    made.update({"left": None, "right": None, "bottom": None, "top": None})
    for camera in cameras:
        for base_m, tall_m, half_m in one["boxes"] if made["state"] != "in" else ():
            bounds = in_picture.upright_in_picture(
                camera["view"],
                foot=(one["place"][0], base_m, one["place"][1]),
                height_m=tall_m,
                half_width_m=half_m,
            )
            if made["state"] == "unknown" or STATES.index(bounds["state"]) < STATES.index(made["state"]):
                made.update(bounds)
                made["at"] = camera["name"] if len(cameras) > 1 else ""
    for name in ("record", "title", "what", "wanted"):
        made[name] = one[name]
    made["word"] = WORDS[made["state"]] + (
        ", at the " + made["at"] if made["at"] and made["state"] != "out" else ""
    )
    made["x_m"], made["y_m"] = one["place"]
    return made


def _unplaced(one: "Thing") -> "Thing":
    made = {name: one[name] for name in ("record", "title", "what")}
    made["fields"] = [asked["field"] for asked in one["missing"]]
    return made


def _path(
    setup: str, cameras: "list[dict[str, Any]]", things: "list[Thing]", records: "Gathered"
) -> "dict[str, Any] | None":
    """Return what stands in the way of the camera and its people."""
    if not cameras:
        return None
    depth_m, way = viewpoint.floor_m(setup, records), []
    for one in things:
        if one["place"] is None or one["reach_m"] is None or _is_overhead(one):
            continue
        gap_m = gap_to_path_m(
            one["place"],
            radius_m=one["reach_m"],
            start=cameras[0]["floor"],
            end=cameras[-1]["floor"],
            depth_m=depth_m,
        )
        if compare(gap_m, 0.0) < 0:
            by = shown.figure(round_up(-gap_m, 2), "m", records.units)
            line = one["title"] + " stands " + by + " in the way"
            way.append({"record": one["record"], "title": one["title"], "sentence": line})
    return {
        "floor_m": depth_m,
        "moves": len(cameras) > 1,
        "in_the_way": way,
        "caution": cautions.caution("path"),
    }


def _is_overhead(one: "Thing") -> bool:
    lows = [base_m for base_m, _tall, _half in one["boxes"]]
    return one["what"] in (FRAME, DRESSING) and bool(lows) and compare(min(lows), HEADROOM_M) >= 0
