"""What stands on the set at a place: lamps, frames, stands, dressing, marks, as upright boxes.

Knows no camera. A thing that faces anywhere counts at its widest side. What has no place is told too.
"""

from tailslate.day import names
from tailslate.day.figures import Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Box = tuple[float, float, float]  # (lower edge, own height, half width), all in m
    Thing = dict[str, Any]

# What is taken where nobody measured it (common practice, no source).
LAMP_SIDE_M = 0.3
COLUMN_RADIUS_M = 0.03
LEGS_HEIGHT_M = 0.3
LEG_RADIUS_M = 0.55
LEVEL_SIDE_M = 0.05  # a mark's tape on the floor
LAMP, FRAME, STAND, DRESSING, MARK = "lamp", "frame", "stand", "dressing", "mark"


def of_shot(shot: str, records: "Gathered") -> "list[Thing]":
    """Return what stands on the set of a shot, burning or not, sorted by record.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: list of dict, keys record, title, what, wanted (it is meant to be seen), place ((right, forward)
        in m, None when nobody placed it), boxes (list of (lower edge, own height, half width) in m, [] when
        a size is missing), reach_m (on the floor, None when it is not on the floor), missing.
    """
    scene = records.target(shot, "scene")
    roles, served = {}, []
    for level in records.pointing("level", "shot", shot):
        roles[records.target(level, "source")] = records.text(level, "role")
    for serves in records.pointing("serves", "shot", shot):
        served.append(records.target(serves, "dressing"))
    found, sources = [], set(roles)
    sources.update(records.pointing("source", "scene", scene) if scene else ())
    for source in sorted(sources):
        if records.is_there(source):
            found.append(_lamp(source, roles.get(source) == "practical", records))
            found.extend([_frame(key, records) for key in records.pointing("layer", "source", source)])
            found.extend([_stand(key, records) for key in records.pointing("rig", "source", source)])
    for key in records.pointing("dressing", "scene", scene) if scene else ():
        found.append(_dressing(key, key in served, records))
    found.extend([_mark(key, records) for key in records.pointing("mark", "shot", shot)])
    return sorted([one for one in found if one], key=lambda one: (one["record"], one["what"]))


def _thing(facts: Facts, what: str, wanted: bool, boxes: "list[Box]", reach_m: "float | None") -> "Thing":
    x_m = facts.number("x_m", "place it: measure it from the origin that the crew agreed on")
    y_m = facts.number("y_m", "place it: measure it from the origin that the crew agreed on")
    return {
        "record": facts.key,
        "title": names.name_of(facts.key, facts.records),
        "what": what,
        "wanted": wanted,
        "place": None if x_m is None or y_m is None else (x_m, y_m),
        "boxes": boxes,
        "reach_m": reach_m,
        "missing": facts.missing,
    }


def _lamp(key: str, wanted: bool, records: "Gathered") -> "Thing":
    facts = Facts(key, records)
    height_m = facts.number("height_m", "measure floor to lamp")
    side_m, tall_m = facts.known("face_width_m") or LAMP_SIDE_M, facts.known("face_height_m") or LAMP_SIDE_M
    boxes = [] if height_m is None else [(height_m - tall_m / 2.0, tall_m, side_m / 2.0)]
    return _thing(facts, LAMP, wanted, boxes, None)


def _frame(key: str, records: "Gathered") -> "Thing":
    facts = Facts(key, records)
    if records.text(key, "type") == "gel" and facts.known("width_m") is None:
        return {}  # it sits in the lamp's own frame
    width_m, tall_m = facts.number("width_m"), facts.number("height_m")
    middle_m = facts.number("centre_height_m", "measure floor to the frame's middle")
    boxes, reach_m = [], None
    if width_m is not None and tall_m is not None and middle_m is not None:
        boxes = [(middle_m - tall_m / 2.0, tall_m, width_m / 2.0)]
        reach_m = width_m / 2.0
    return _thing(facts, FRAME, False, boxes, reach_m)


def _stand(key: str, records: "Gathered") -> "Thing":
    facts = Facts(key, records)
    top_m = facts.known("top_height_m")
    if top_m is None:
        top_m = records.number(records.target(key, "source"), "height_m")
    if top_m is None:
        facts.miss("top_height_m", "measure floor to the top of the stand")
    leg_m = facts.known("leg_radius_m") or LEG_RADIUS_M
    boxes = []
    if top_m is not None:
        boxes = [(0.0, top_m, COLUMN_RADIUS_M), (0.0, min(top_m, LEGS_HEIGHT_M), leg_m)]
    return _thing(facts, STAND, False, boxes, leg_m)


def _dressing(key: str, wanted: bool, records: "Gathered") -> "Thing":
    facts = Facts(key, records)
    base_m = facts.number("base_height_m", "measure floor to its lower edge")
    tall_m = facts.known("tall_m") or 0.0
    sides = [facts.known(name) or 0.0 for name in ("width_m", "depth_m")]
    boxes = [] if base_m is None else [(base_m, tall_m, max(sides) / 2.0)]
    return _thing(facts, DRESSING, wanted, boxes, max(sides) / 2.0)


def _mark(key: str, records: "Gathered") -> "Thing":
    return _thing(Facts(key, records), MARK, False, [(0.0, 0.0, LEVEL_SIDE_M)], None)
