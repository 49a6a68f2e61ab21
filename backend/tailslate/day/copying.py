"""A shot, its reverse, or one more thing like another -> the acts that make it. Nothing is stored; ids come in.

Y1 only structure is copied: what was done, read, raised, taken or said is of the shot where it happened. Y2 a
reverse is the shot as a mirror shows it that stands square across the line between the two faces: the camera stays
on its side of that line, so the eyeline is kept. Y3 mirrored twice, every place is what it was.
"""

from tailslate.craft.rounding import decimal_text
from tailslate.day import kinds, task_id
from tailslate.day.gathered import id_of, kind_of, number_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Act = dict[str, Any]
    Set = dict[str, Any]

# What a copy never takes along: it tells how things stand, not what they are. Ticks and times of the day are left out
# by their type. Who helps in an emergency, and where, is said of each day anew.
STATE = {
    "day": (
        "title", "date_label", "nearest_hospital", "medic", "assembly_point", "address", "first_aider", "who_decides",
    ),
    "shot": ("phase", "takes", "match_note"),
    "source": ("run_h",),
    "drink": ("start_degc", "highest_degc"),
    "food": ("start_degc", "highest_degc"),
    "rig": ("gust_m_s",),
    "circuit": ("mapped", "residual_current_protected", "other_leakage_ma"),
    "taping": ("ramp_laid",),
    "performer": ("status", "allowed_min"),
}  # fmt: skip
_LEFT_OUT = ("tick", "time", "presence", "verdict", "cells")
_OF_SHOT = ("level", "serves", "mark", "taping", "task")
_REVERSE = ", reverse"
_NUMBERING = (
    "ABCDEFGHJKLMNPQRSTUVWXYZ"  # I and O are left out: they read as 1 and 0 (common practice, no source)
)
_ORDER_STEP = 10
# What most shots have and a target needs (common practice, no source); the form shows it, to be changed.
_FIRST_SHOT = {
    "frame_rate_per_s": ["24", "24 fps"],
    "shutter_angle_deg": ["180", "180 deg"],
    "calibration_constant": ["250", "250"],
}
# Two things do not stand in one place; what is in a glass or on a plate is said of each anew.
_NOT_LIKE = ("x_m", "y_m", "end_x_m", "end_y_m", "allergens", "mixed_from", "made_from", "order")


class Mirror:
    """Where the mirror of a reverse stands: across x (left to right) or across y, halfway between the faces."""

    def __init__(self, scene: str, records: "Gathered") -> None:
        """Find it between the two faces of the scene that are placed; without two it stands in the origin."""
        self.across, self.twice_m, self.faces = "x_m", 0.0, _faces(scene, records)
        if len(self.faces) == 2:
            at = [
                (records.number(key, "x_m") or 0.0, records.number(key, "y_m") or 0.0) for key in self.faces
            ]
            if abs(at[0][1] - at[1][1]) > abs(at[0][0] - at[1][0]):
                self.across = "y_m"
            side = 0 if self.across == "x_m" else 1
            self.twice_m = at[0][side] + at[1][side]

    def point(self, key: str) -> str:
        """Return the point that takes a point's place: the other face for a face, else the point itself."""
        if key in self.faces and len(self.faces) == 2:
            return self.faces[1 - self.faces.index(key)]
        return key

    def changes(self, changes: "Set") -> "Set":
        """Return fields with every place and direction mirrored."""
        found = dict(changes)
        for field in changes:
            value = number_of(changes[field])
            if value is None:
                continue
            if field in (self.across, "end_" + self.across):
                found[field] = _quantity(self.twice_m - value, "m")
            elif field in ("pan_deg", "end_pan_deg", "faces_deg"):
                half_turn = 0.0 if self.across == "x_m" else 180.0
                found[field] = _quantity(_turned(half_turn - value), "deg")
        return found


def another_shot(shot: str, records: "Gathered", *, stem: str, is_reverse: bool = False) -> "dict[str, Any]":
    """Return the acts that make a shot like another, or its reverse.

    Args:
        shot: record key.
        records: the shots, with levels, serves, marks, tape jobs, tasks, set-ups, points, sources, layers, rigs.
        stem: random text of this copying; new ids begin with it.
        is_reverse: mirrored, with a set-up, sources, frames and stands of its own.
    Returns: dict, keys shot (id of the new one) and acts (list of dict, keys kind, record, set).
    """
    scene = records.target(shot, "scene")
    mirror = Mirror(scene, records) if is_reverse else None
    maker = _Maker(stem, records, mirror)
    made = structure(shot, records)
    made["number"] = next_number(scene, records)
    made["order"] = _order_after(shot, records)
    made["phase"] = "setting"
    setup = records.target(shot, "setup")
    if mirror:
        made["title"] = _turned_title(records.text(shot, "title"))
        if setup:
            made["setup"] = maker.another(setup)
    new = maker.add("shot", made)
    swap = {"shot": new}
    for kind in _OF_SHOT:
        for key in records.pointing(kind, "shot", shot):
            if kind == "task" and task_id.parse(key):
                continue  # it follows from the set-up, for the new shot too
            maker.belonging(key, swap)
    return {"shot": new, "acts": maker.acts}


def source_again(level: str, shot: str, records: "Gathered", *, stem: str, title: str = "") -> "list[Act]":
    """Return the acts that make a source with its layers and stands again, burning in a shot as it burns in another.

    Args:
        level: record key of the source in the shot that it is copied from.
        shot: record key of the shot that it is wanted in.
        records: source, layers, rigs and levels.
        stem: random text of this copying.
        title: what the new source is called, "" for the old name.
    """
    maker = _Maker(stem, records, None)
    source = maker.another(records.target(level, "source"), is_whole=True)
    if title:
        maker.acts[0]["set"]["title"] = title
    swap = {"shot": id_of(shot), "source": source}
    made = dict(structure(level, records), **swap)
    if records.target(shot, "scene") != records.target(records.target(level, "shot"), "scene"):
        made.pop("point", None)
        for one in maker.acts:
            if "scene" in one["set"] or one["kind"] == "source":
                one["set"]["scene"] = id_of(records.target(shot, "scene")) or None
            one["set"] = {name: one["set"][name] for name in one["set"] if one["set"][name] is not None}
            for field in ("x_m", "y_m"):  # places are of the other set's floor
                one["set"].pop(field, None)
    maker.add("level", made)
    return maker.acts


def structure(key: str, records: "Gathered") -> "Set":
    """Return what a copy takes of a record: every field shown, without states, ticks, times and presence."""
    kind = kind_of(key)
    found = {}
    for field in sorted(records.records.get(key, {})):
        known = kinds.field_of(kind, field)
        value = records.value(key, field)
        if not known or value is None or known.type in _LEFT_OUT:
            continue
        if field not in STATE.get(kind, ()):
            found[field] = value
    return found


def usual(kind: str, about: "Set", records: "Gathered", *, like: str = "") -> "Set":
    """Return what a form begins with: the next number and order, what the last one of the place had, or one like it.

    Args:
        kind: kind of the new record.
        about: fields known already, such as scene.
        records: the records of that kind, and the scenes.
        like: key of the record that one more like it is wanted of, or "".
    """
    known = kinds.KINDS[kind]
    made: Set = {}
    if like:
        made = structure(like, records)
        title = made.pop("title", made.pop("name", ""))
        if title[-1:].isdigit() and known.field("title"):
            made["title"] = _next_title(title)
        for field in list(made):
            asked = kinds.field_of(kind, field)
            is_careful = asked is not None and asked.rule == "careful"
            if is_careful or field in _NOT_LIKE:
                made.pop(field)
    if kind == "shot":
        scene = "scene/" + str(about.get("scene") or made.get("scene") or "")
        made.update(_like_last_shot(scene, records) if not like else {})
        made["number"] = next_number(scene, records)
        made["phase"] = "setting"
    if kind == "scene":
        made["number"] = _next_title(_last([records.text(key, "number") for key in records.of_kind("scene")]))
    if kind == "level":
        made["on"] = "yes"
    if known.field("order"):
        made["order"] = _next_order(kind, records)
    made.update(about)
    return {field: made[field] for field in made if made[field] not in ("", None)}


def next_number(scene: str, records: "Gathered") -> str:
    """Return the next shot number of a scene: its number and the letter after the last one.

    Args:
        scene: record key.
        records: the scene and its shots.
    """
    start = records.text(scene, "number")
    taken = [records.text(key, "number").upper() for key in records.pointing("shot", "scene", scene)]
    last = -1
    for number in taken:
        rest = number[len(start) :] if number.startswith(start.upper()) else ""
        if len(rest) == 1 and rest in _NUMBERING:
            last = max(last, _NUMBERING.index(rest))
    if last + 1 < len(_NUMBERING):
        return start + _NUMBERING[last + 1]
    return start + "A" + str(len(taken))


class _Maker:
    """Makes acts one after the other; a record copied once is copied once."""

    def __init__(self, stem: str, records: "Gathered", mirror: "Mirror | None") -> None:
        self.stem = stem
        self.records = records
        self.mirror = mirror
        self.acts: list[Act] = []
        self.new: dict[str, str] = {}

    def add(self, kind: str, changes: "Set") -> str:
        record = self.stem + str(len(self.acts))
        if kinds.KINDS[kind].ends:
            record = kinds.record_id_of_ends(kind, changes)
        self.acts.append({"kind": kind, "record": record, "set": changes})
        return record

    def another(self, key: str, *, is_whole: bool = False) -> str:
        """Return the id of a copy; a source brings its layers and stands."""
        if key in self.new:
            return self.new[key]
        made = structure(key, self.records)
        if self.mirror:
            made = self.mirror.changes(made)
            made["title"] = _turned_title(made.get("title", ""))
        if "order" in made and kind_of(key) != "layer":
            made["order"] = _next_order(kind_of(key), self.records)
        self.new[key] = self.add(kind_of(key), made)
        if kind_of(key) == "source":
            swap = {"source": self.new[key]}
            for rig in self.records.pointing("rig", "source", key):
                self.belonging(rig, swap)
            for layer in self.records.pointing("layer", "source", key):
                holder = self.records.target(layer, "rig")
                held = {"rig": self.another(holder)} if holder else {}
                self.belonging(layer, dict(swap, **held))
        return self.new[key]

    def belonging(self, key: str, swap: "Set") -> None:
        """Copy what belongs to a copied record; the fields named point to the new ones."""
        if key in self.new:
            return
        made = dict(structure(key, self.records), **swap)
        if self.mirror:
            made = self.mirror.changes(made)
            for field in ("point", "lit_at"):
                if field in made:
                    made[field] = id_of(self.mirror.point("point/" + made[field]))
            source = self.records.target(key, "source")
            if kind_of(key) == "level" and self.records.text(key, "role") != "practical" and source:
                made["source"] = self.another(source)  # a practical is part of the set: it stays where it is
        self.new[key] = self.add(kind_of(key), made)


def _faces(scene: str, records: "Gathered") -> "list[str]":
    found = []
    for key in records.pointing("point", "scene", scene):
        is_placed = records.number(key, "x_m") is not None and records.number(key, "y_m") is not None
        if records.text(key, "type") == "face" and is_placed:
            found.append((records.whole(key, "order") or 0, key))
    return [key for _order, key in sorted(found)[:2]]


def _quantity(value: float, unit: str) -> "list[str]":
    text = decimal_text(value, 6)
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return [text, text + " " + unit]


def _turned(angle_deg: float) -> float:
    return angle_deg - 360.0 if angle_deg > 180.0 else angle_deg + 360.0 if angle_deg <= -180.0 else angle_deg


def _turned_title(title: str) -> str:
    return title[: -len(_REVERSE)] if title.endswith(_REVERSE) else title + _REVERSE


def _next_title(title: str) -> str:
    start = len(title)
    while start and title[start - 1].isdigit():
        start -= 1
    return title[:start] + str(int(title[start:]) + 1) if start < len(title) else ""


def _last(numbers: "list[str]") -> str:
    whole = [(int(one), one) for one in numbers if one.isdigit()]
    return max(whole)[1] if whole else ""


def _next_order(kind: str, records: "Gathered") -> int:
    return max([0] + [records.whole(key, "order") or 0 for key in records.of_kind(kind)]) + _ORDER_STEP


def _order_after(shot: str, records: "Gathered") -> int:
    """Return an order between a shot and the one after it; with no room between, at the end."""
    own = records.whole(shot, "order") or 0
    later = [records.whole(key, "order") or 0 for key in records.of_kind("shot")]
    later = [order for order in later if order > own]
    if later and min(later) - own < 2:
        return _next_order("shot", records)
    return own + _ORDER_STEP if not later else (own + min(later)) // 2


def _like_last_shot(scene: str, records: "Gathered") -> "Set":
    """Return the exposure of the last shot of a scene, or of the day: it seldom changes within a day."""
    found = records.pointing("shot", "scene", scene) or records.of_kind("shot")
    if not found:
        return dict(_FIRST_SHOT)
    last = sorted(found, key=lambda key: (records.whole(key, "order") or 0, key))[-1]
    made = structure(last, records)
    names = ("t_stop", "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant")
    return {name: made[name] for name in names if name in made}
