"""Set-ups to begin with instead of an empty page: trade words in, acts out. Usual sizes, as data.

S1 every size here is common practice, no source; lamps, sheets, stands and batteries take the figures of the shipped
tables. S2 what nobody can know beforehand is left open: a circuit, a rating, how gusts blow. S3 a place is worked out
only where the camera and who is lit have one: so many degrees round from the camera, so far away.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import decimal_text
from tailslate.craft.vectors import turned
from tailslate.day import copying, gathered, kinds, tables

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Act = dict[str, Any]
    Tables = dict[str, list[dict[str, Any]]]

SIZES = "Usual sizes: common practice, no source."
_OVERHEAD = (
    "A load over people: safety on before it goes up, nobody under it while it moves. "
    "Local codes and a competent grip decide."
)
_HOT = (
    "Hot or not, keep sheets and hands clear of the lamp. Its plate, local fire rules and the gaffer decide."
)
_STAND = "Bag every stand before the lamp goes on. Local codes and a competent grip decide."
_WIND = (
    "A frame is a sail: tie it down, watch it, name who strikes it and at which gust. "
    "Local codes and a competent grip decide."
)
_BATTERY = (
    "Charged in sight, spare ones at hand; lithium cells burn. The maker's plate and the fire watch decide."
)

# Keys: name, title, line, cautions; then what is made. lamp: (table, row, fitting); height_m; round_deg (from the
# camera, seen from above, to the camera's left) and away_m (last frame or lamp to who is lit); layers: (row of
# materials, gap_m, width_m, height_m); stand: (row of stands, load_kg, offset_m, bags); role; more: further fields.
POINTS: "tuple[dict[str, Any], ...]" = (
    {
        "name": "soft_side_key",
        "title": "Soft side key, two layers",
        "line": "300 W point source through half and quarter grid, from the side",
        "cautions": (_STAND, _HOT),
        "lamp": ("led_point_300", "reflector"),
        "height_m": "2",
        "role": "key",
        "round_deg": 60,
        "away_m": "1.5",
        "layers": (("grid_cloth_half", "1", "1.2", "1.2"), ("grid_cloth_quarter", "0.6", "1.2", "1.2")),
        "stand": ("combination_stand", "5", "0.1", 2),
    },
    {
        "name": "top_light",
        "title": "Top light on a boom",
        "line": "100 W panel with a dome, over the middle of the set",
        "cautions": (_OVERHEAD, _STAND),
        "lamp": ("led_panel_100", "dome"),
        "height_m": "2.6",
        "role": "key",
        "round_deg": 0,
        "away_m": "1.2",
        "off_axis_deg": "0",
        "stand": ("combination_stand", "4", "0", 3),
        "overhead": True,
        "more": {"rig": {"load_arm_m": "1.5", "weight_arm_m": "0.6", "boom_kg": "3", "boom_centre_m": "0.5"}},
    },
    {
        "name": "edge",
        "title": "Edge from behind",
        "line": "150 W point source through quarter grid, behind and to the side",
        "cautions": (_STAND, _HOT),
        "lamp": ("led_point_150", "reflector"),
        "height_m": "2.4",
        "role": "back",
        "round_deg": 150,
        "away_m": "2.5",
        "layers": (("grid_cloth_quarter", "0.5", "0.6", "0.6"),),
        "stand": ("grip_stand_tall", "4", "0.5", 1),
    },
    {
        "name": "table_bounce",
        "title": "Bounce from the table",
        "line": "white board flat on the table under the face: it lifts the shadow side",
        "cautions": (
            "Away from flames, hot lamps and drinks. Local fire rules and the art department decide.",
        ),
        "bounce": ("foam_board_white", "0.6", "0.4", "0.3"),
    },
    {
        "name": "practicals",
        "title": "Practical on battery",
        "line": "a lantern in the shot, on a battery of its own",
        "cautions": (_BATTERY,),
        "lamp": ("storm_lantern_led", "bare"),
        "height_m": "1",
        "role": "practical",
        "away_m": "1",
        "battery": "usb_bank",
    },
    {
        "name": "night_window",
        "title": "Night window",
        "line": "600 W point source outside the window, half blue: moonlight as film has it",
        "cautions": (_STAND, "Out of doors: cables, wet and wind. Local codes and the gaffer decide."),
        "lamp": ("led_point_600", "reflector"),
        "height_m": "3",
        "role": "back",
        "round_deg": 120,
        "away_m": "4",
        "layers": (("correction_blue_half", "0.1", "0.4", "0.4"),),
        "stand": ("combination_stand", "8", "0.1", 3),
    },
    {
        "name": "exterior_frame",
        "title": "Exterior, big frame in wind",
        "line": "1200 W point source through a 2.4 m half grid on a stand of its own, lines down",
        "cautions": (_WIND, _STAND),
        "lamp": ("led_point_1200", "reflector"),
        "height_m": "3",
        "role": "key",
        "round_deg": 45,
        "away_m": "3",
        "layers": (("grid_cloth_half", "2", "2.4", "2.4"),),
        "stand": ("crank_stand", "12", "0.1", 4),
        "frame_stand": ("frame_stand", "9", "0.2", 4),
    },
)

# Kind of shot, its title, and what is usually to be done for it: department, what, must or nice.
LISTS: "tuple[tuple[str, str, tuple[tuple[str, str, str], ...]], ...]" = (
    (
        "wide",
        "Wide",
        (
            ("camera", "Say where the frame ends, all four sides", "must"),
            ("grip", "Stands, bags and cable out of the wide", "must"),
            ("art", "Whole set dressed to the edges of frame", "must"),
            ("sound", "Say where a boom may come in", "nice"),
            ("script", "Photograph the set as it starts", "must"),
        ),
    ),
    (
        "pair",
        "Over the shoulder, one of a pair",
        (
            ("camera", "Write down lens, height and distance for the reverse", "must"),
            ("script", "Say the eyeline: left or right of the lens", "must"),
            ("grip", "Near shoulder: flag it", "nice"),
            ("electric", "Read key and fill, for the reverse to match", "must"),
        ),
    ),
    (
        "single",
        "Single",
        (
            ("script", "Say the eyeline and who stands in for it", "must"),
            ("camera", "Focus marks for every move", "must"),
            ("electric", "Catchlight looked at", "nice"),
            ("sound", "Fit or hide the microphone", "nice"),
        ),
    ),
    (
        "insert",
        "Insert",
        (
            ("props", "Thing in the hand: clean, the right way round, a spare one there", "must"),
            ("art", "Only what the frame sees, reset by a picture", "must"),
            ("script", "Hand, sleeve and ring match the wider shot", "must"),
            ("camera", "Close focus and depth looked at", "must"),
        ),
    ),
)


def rows_named() -> "tuple[set[str], set[tuple[str, str]]]":
    """Return the ids of the shipped rows that starting points name, and the (lamp, fitting) pairs."""
    ids, fittings = {"bag_10_kg"}, set()
    for point in POINTS:
        ids.update([layer[0] for layer in point.get("layers", ())])
        ids.update([point[name][0] for name in ("lamp", "stand", "frame_stand", "bounce") if name in point])
        ids.update([point[name] for name in ("battery",) if name in point])
        if "lamp" in point:
            fittings.add(point["lamp"])
    return ids, fittings


# No copy is kept: a set-up that was put right on the floor is then right for whoever starts from it.
_FOLLOWS = "Your own, as it stands in {} when it is used: what changes there changes this."


def offered(own: "Gathered | None" = None) -> "list[dict[str, Any]]":
    """Return what one may start from: list of dict, keys name, title, line, cautions, makes ("light" or "list").

    Args:
        own: the production's own, records of the kind starting_point, with their sources and shots.
    """
    found = [
        dict(title=p["title"], line=p["line"], cautions=list(p["cautions"]), name=p["name"]) for p in POINTS
    ]
    for one in found:
        one["makes"] = "light"
    for name, title, tasks in LISTS:
        line = "; ".join([what for _department, what, _must in tasks])
        found.append({"name": name, "title": title, "line": line, "cautions": [], "makes": "list"})
    for key in own.of_kind("starting_point") if own else []:
        if own and own.is_there(own.target(key, "source")):
            follows = _FOLLOWS.format(own.text(own.target(key, "shot"), "number") or "its shot")
            row: dict[str, Any] = {
                "name": key,
                "title": own.text(key, "title"),
                "line": " ".join([one for one in (own.text(key, "note"), follows) if one]),
            }
            found.append(dict(row, cautions=[_STAND], makes="light"))
    return found


def start(name: str, shot: str, records: "Gathered", shipped: "Tables", *, stem: str) -> "list[Act]":
    """Return the acts that put a starting point into a shot.

    Args:
        name: as `offered` gives it.
        shot: record key.
        records: the shot with set-up, points, sources, layers, rigs, levels and the production's own.
        shipped: rows by table: lamps, stands, batteries, materials.
        stem: random text of this start; new ids begin with it.
    Raises: RuleError "no_starting_point".
    """
    if name.startswith("starting_point/"):
        source, was = records.target(name, "source"), gathered.id_of(records.target(name, "shot"))
        level = "level/" + gathered.id_of(source) + "~" + was
        return copying.source_again(level, shot, records, stem=stem)
    for list_name, _title, tasks in LISTS:
        if list_name == name:
            return _tasks(tasks, shot, stem)
    for one in POINTS:
        if one["name"] == name:
            return _Start(one, shot, records, shipped, stem).acts
    raise RuleError("no_starting_point", "there is no starting point " + name + "; choose one that is listed")


def now(
    shot: str, what: str, row: "dict[str, Any]", records: "Gathered", *, stem: str, role: str, fitting: int
) -> "list[Act]":
    """Return the acts that put one thing into a shot with nothing known but its kind; the rest is filled in later.

    Args:
        shot: record key.
        what: lamp, stand, drink or mark.
        row: of the shipped lamps, stands or beverages; of a mark its title.
        records: the shot, with points, sources, rigs, drinks and marks.
        stem: random text; new ids begin with it.
        role: of a lamp, as level.role says it; of a mark the colour of its tape.
        fitting: which of a lamp's fittings, from 0.
    """
    if what == "lamp":
        changes = tables.taken("lamps", row, fitting=fitting)["set"]
        changes["title"] = _free_title(_capital(role), "source", records)
        return _Start({"role": role}, shot, records, {}, stem, source=changes).acts
    maker = _Start({}, shot, records, {}, stem)
    if what == "stand":
        made = tables.taken("stands", row)["set"]
        bare = [one for one in _burning(shot, records) if not records.pointing("rig", "source", one)]
        holds = {"source": gathered.id_of(bare[0])} if bare else {}
        title = _free_title("Stand 1", "rig", records)
        maker.add("rig", dict(made, **dict(maker.scene, title=title, **holds)))
    elif what == "drink":
        made = tables.taken("beverages", row)["set"]
        title = _free_title(_capital(row["passes_for"][0]), "drink", records)
        poured = records.of_kind("drink")
        like = sorted(poured, key=lambda key: (records.whole(key, "order") or 0, key))[-1:]
        glass = copying.usual("drink", maker.scene, records, like=like[0]) if like else maker.scene
        drink = maker.add("drink", dict(glass, title=title))
        maker.add("ingredient", dict(made, drink=drink, parts=_of("1", "parts")))
    else:
        maker.add("mark", {"title": row["name"], "colour": role, "shot": gathered.id_of(shot)})
    return maker.acts


class _Start:
    """Makes the acts of one starting point, one thing after the other."""

    def __init__(
        self,
        point: "dict[str, Any]",
        shot: str,
        records: "Gathered",
        shipped: "Tables",
        stem: str,
        *,
        source: "dict[str, Any] | None" = None,
    ) -> None:
        self.point, self.shot, self.records, self.shipped, self.stem = point, shot, records, shipped, stem
        self.acts: list[Act] = []
        scene = records.target(shot, "scene")
        self.scene = {"scene": gathered.id_of(scene)} if scene else {}
        self.lit = self._who_is_lit(scene) if point else ""
        if "bounce" in point:
            self._bounce()
        elif point:
            self._light(source)

    def add(self, kind: str, changes: "dict[str, Any]") -> str:
        record = self.stem + str(len(self.acts))
        if kinds.KINDS[kind].ends:
            record = kinds.record_id_of_ends(kind, changes)
        made = copying.usual(kind, changes, self.records)
        self.acts.append({"kind": kind, "record": record, "set": made})
        return record

    def _who_is_lit(self, scene: str) -> str:
        """Return the point aimed at: what the shot's light is aimed at already, a face of the scene, or a new one."""
        for level in self.records.pointing("level", "shot", self.shot):
            if self.records.text(level, "role") == "key" and self.records.target(level, "point"):
                return self.records.target(level, "point")
        for key in self.records.pointing("point", "scene", scene) if scene else []:
            if self.records.text(key, "type") == "face":
                return key
        if self.point.get("role") == "practical":
            return ""
        made = {"title": "the face", "type": "face", "height_m": _metres("1.2")}
        return "point/" + self.add("point", dict(made, **self.scene))

    def _light(self, source: "dict[str, Any] | None") -> None:
        point = self.point
        place = self._place()
        if source is None:
            row_id, fitting = point["lamp"]
            row = _row("lamps", row_id, self.shipped)
            names = [one["fitting"] for one in row["fittings"]]
            source = dict(tables.taken("lamps", row, fitting=names.index(fitting))["set"])
            source["title"] = _free_title(point["title"], "source", self.records)
            source["note"] = SIZES
            source["height_m"] = _metres(point["height_m"])
            if "battery" in point:
                source.update(
                    tables.taken("batteries", _row("batteries", point["battery"], self.shipped))["set"]
                )
                source["batteries"] = 1
            if point.get("overhead"):
                source["overhead"] = "yes"
        made = self.add("source", dict(source, **dict(self.scene, **place)))
        held = {}
        if "frame_stand" in point:
            held = {"rig": self._stand("Frame of " + source["title"], point["frame_stand"], {})}
        for place_number, layer in enumerate(point.get("layers", ())):
            row_id, gap_m, width_m, height_m = layer
            sheet = tables.taken("materials", _row("materials", row_id, self.shipped))["set"]
            sheet.update(
                {"gap_m": _metres(gap_m), "width_m": _metres(width_m), "height_m": _metres(height_m)}
            )
            sheet.update({"source": made, "order": place_number + 1, "note": SIZES})
            self.add("layer", dict(sheet, **held))
        if "stand" in point:
            self._stand("Stand of " + source["title"], point["stand"], dict(place, source=made))
        level = {"source": made, "shot": gathered.id_of(self.shot), "on": "yes", "role": point["role"]}
        if self.lit:
            level["point"] = gathered.id_of(self.lit)
        if "away_m" in point:
            level["distance_m"] = _metres(point["away_m"])
        self.add("level", level)

    def _stand(self, title: str, stand: "tuple[str, str, str, int]", more: "dict[str, Any]") -> str:
        row_id, load_kg, offset_m, bags = stand
        made = tables.taken("stands", _row("stands", row_id, self.shipped))["set"]
        bag = tables.taken("stands", _row("stands", "bag_10_kg", self.shipped))["set"]
        made.update({"title": title, "load_kg": _of(load_kg, "kg"), "offset_m": _metres(offset_m)})
        made.update(
            {"bag_kg": bag["bag_kg"], "bags": bags, "note": SIZES, "figures_from": made["figures_from"]}
        )
        for field, text in self.point.get("more", {}).get("rig", {}).items():
            made[field] = _of(text, (kinds.field_of("rig", field) or kinds.KINDS["rig"].fields[0]).unit)
        if self.point.get("overhead"):
            made["overhead"] = "yes"
        return self.add("rig", dict(made, **dict(self.scene, **more)))

    def _bounce(self) -> None:
        row_id, width_m, depth_m, near_m = self.point["bounce"]
        made = tables.taken("materials", _row("materials", row_id, self.shipped))["set"]
        made.update({"title": "White board on the table", "place": "table", "note": SIZES})
        made.update({"width_m": _metres(width_m), "depth_m": _metres(depth_m)})
        dressing = self.add("dressing", dict(made, **self.scene))
        serves = {
            "dressing": dressing,
            "shot": gathered.id_of(self.shot),
            "use": "bounce",
            "bounces_from": "top",
        }
        if self.lit:
            serves["point"] = gathered.id_of(self.lit)
        self.add("serves", dict(serves, near_m=_metres(near_m)))

    def _place(self) -> "dict[str, Any]":
        """Return where the lamp goes, {} while the camera or who is lit has no place."""
        setup, records = self.records.target(self.shot, "setup"), self.records
        ends = [records.number(key, field) for key in (self.lit, setup) for field in ("x_m", "y_m")]
        if None in ends or "round_deg" not in self.point or self.point.get("overhead"):
            return {}
        x_m, y_m, camera_x_m, camera_y_m = [float(end or 0.0) for end in ends]
        to_camera = (camera_x_m - x_m, camera_y_m - y_m)
        length_m = (to_camera[0] ** 2 + to_camera[1] ** 2) ** 0.5
        if length_m < 0.05:
            return {}
        gaps = [float(layer[1]) for layer in self.point.get("layers", ())]
        share = (float(self.point["away_m"]) + sum(gaps)) / length_m
        aside, _up, on = turned(
            (to_camera[0], 0.0, to_camera[1]), pan_deg=float(self.point["round_deg"]), tilt_deg=0.0
        )
        x_m, y_m = x_m + share * aside, y_m + share * on
        return {"x_m": _metres(decimal_text(x_m, 2)), "y_m": _metres(decimal_text(y_m, 2))}


def _burning(shot: str, records: "Gathered") -> "list[str]":
    found = records.pointing("level", "shot", shot)
    return [records.target(level, "source") for level in found if records.text(level, "on") != "no"]


def _tasks(tasks: "tuple[tuple[str, str, str], ...]", shot: str, stem: str) -> "list[Act]":
    acts = []
    for place, (department, what, must) in enumerate(tasks):
        made = {"title": what, "department": department, "must": must, "shot": gathered.id_of(shot)}
        acts.append({"kind": "task", "record": stem + str(place), "set": dict(made, order=(place + 1) * 10)})
    return acts


def _row(table: str, row_id: str, shipped: "Tables") -> "dict[str, Any]":
    for row in shipped.get(table, []):
        if row["id"] == row_id:
            return row
    raise RuleError(
        "no_such_row", "the table " + table + " has no row " + row_id + "; update the app", table=table
    )


def _free_title(title: str, kind: str, records: "Gathered") -> str:
    taken = [records.text(key, "title") for key in records.of_kind(kind)]
    number = 2
    start = title[:-2] if title.endswith(" 1") else title
    found = title
    while found in taken:
        found = start + " " + str(number)
        number += 1
    return found


def _capital(word: str) -> str:
    return word[:1].upper() + word[1:]


def _metres(text: str) -> "list[str]":
    return _of(text, "m")


def _of(text: str, unit: str) -> "list[str]":
    return [text, text + " " + unit]
