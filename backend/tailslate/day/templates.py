"""What a set-up asks for: the templates of derived tasks, as data. A production adds its own as records.

Knows no shot and no record. L1 a template's name and records never change meaning: a new name instead.
L2 an input is a stored cell; "field:step" gives a step of the template's own, wider than the field's.
L3 minutes are low, likely and high. What is asked, and the minutes, are common practice, no source.

A path leads from the records that a task names to others: "rig" is the one named; "<layer.source" all
layers whose source it is; ">setup" what its field points to; "?role=key,fill" keeps those with that value;
"@level" is the level of the named source in the named shot.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Input = tuple[list[tuple[str, str, str]], list[str]]

BEFORE, BETWEEN, AFTER = "before", "between", "after"  # the roll, takes, the shot or the day
SPOT = "x_m:0.3 y_m:0.3"  # a stand nudged by a hand's breadth is where it was


class Template:
    """One kind of derived task.

    Attributes: name; department; title ("{}" is the name of its last record); over (kinds of the records it
    names, in order); inputs (list of path and fields); steps (kind/field to the template's own step); must;
    when; minutes; needs (names of templates to be done first); caution (its code, "" for that of its record).
    """

    def __init__(
        self,
        name: str,
        department: str,
        title: str,
        over: str,
        inputs: "tuple[tuple[str, str], ...]",
        **more: "Any",
    ) -> None:
        """Take a row of the table; `more` holds what is not at its usual value."""
        self.name = name
        self.department = department
        self.title = title
        self.over = tuple(over.split(" "))
        self.steps: dict[str, str] = {}
        self.inputs: list[Input] = []
        for path, fields in inputs:
            self._add(path, fields)
        self.must: bool = more.get("must", True)
        self.when: str = more.get("when", BEFORE)
        self.minutes: tuple[int, int, int] = more.get("minutes", (2, 4, 8))
        self.needs: tuple[str, ...] = more.get("needs", ())
        self.caution: str = more.get("caution", "")

    def _add(self, path: str, fields: str) -> None:
        kind, steps = "", []
        for word in path.split(" "):
            sign, rest = word[0], word[1:]
            if sign == "<":
                kind, _dot, field = rest.partition(".")
                steps.append(("<", kind, field))
            elif sign == ">":
                steps.append((">", rest, ""))
                kind = rest  # a reference is called by the kind that it points to
            elif sign == "?":
                field, _equals, values = rest.partition("=")
                steps.append(("?", field, values))
            else:
                kind = rest if sign == "@" else word
                steps.append(("@" if sign == "@" else "=", kind, ""))
        names = []
        for word in fields.split(" "):
            field, _colon, step = word.partition(":")
            names.append(field)
            if step:
                self.steps[kind + "/" + field] = step
        self.inputs.append((steps, names))


_LIT = "?role=key,fill,back,background,"  # the last: nobody gave it a role yet
_DIMMED = "on output_ratio dimmer_percent"
_RIGS = "shot <level.shot >source <rig.source"
_BOUNCE = ("shot <serves.shot ?use=bounce >dressing", "material reflectance_ratio place width_m depth_m")
_CAMERA = (
    "shot >setup",
    "lens_mm camera_height_m:0.1 camera_distance_m:0.3 path pan_deg:3 tilt_deg:3 end_x_m:0.3 end_y_m:0.3 "
    + SPOT,
)

TEMPLATES = (
    Template(
        "rig_stand",
        "grip",
        "{}: rig it, bag it",
        "rig",
        (
            (
                "rig",
                "source load_kg offset_m stand_kg legs leg_radius_m bag_kg load_arm_m boom_kg top_height_m:0.3 "
                + SPOT,
            ),
        ),
        minutes=(5, 10, 20),
    ),
    Template(
        "counterweight_on",
        "grip",
        "{}: counterweight on before the lamp",
        "rig",
        (("rig", "load_kg load_arm_m weight_arm_m boom_kg boom_centre_m"),),
        minutes=(3, 5, 10),
        needs=("rig_stand",),
        caution="load",
    ),
    Template(
        "wind_named",
        "grip",
        "{}: gust limit set, who strikes it named",
        "rig",
        (("rig", "gust_limit_m_s strikes"), ("rig <layer.rig", "width_m height_m on_lines")),
        minutes=(2, 3, 5),
        caution="wind",
    ),
    Template(
        "frames_up",
        "grip",
        "{}: frames built, gaps set",
        "source",
        (("source <layer.source ?type=diffusion,gel", "title order gap_m:0.1 width_m height_m"),),
        minutes=(5, 10, 20),
        needs=("rig_stand",),
    ),
    Template(
        "louvre_on",
        "grip",
        "{}: on, square to the frame",
        "layer",
        (("layer", "title source gap_m:0.1 width_m height_m depth_to_width_ratio"),),
        needs=("frames_up",),
    ),
    Template(
        "flag_set",
        "grip",
        "{}: set, its shadow looked at",
        "layer",
        (("layer", "title source gap_m:0.1 width_m height_m"),),
        needs=("rig_stand",),
    ),
    Template(
        "place_source",
        "grip",
        "{}: placed",
        "shot source",
        (("@level", "distance_m off_axis_deg:10 point"),),
        minutes=(2, 5, 10),
        needs=("rig_stand", "frames_up", "louvre_on"),
    ),
    Template(
        "place_fill",
        "grip",
        "{}: placed",
        "shot source",
        (("@level", "distance_m off_axis_deg:10 point"), _BOUNCE),
        minutes=(2, 5, 10),
        needs=("rig_stand", "frames_up", "louvre_on"),
    ),
    Template(
        "lay_cable",
        "electric",
        "{}: cable laid, taped",
        "source",
        (("source", "circuit x_m:1 y_m:1"), ("source <taping.source", "length_m crosses_walkway")),
        minutes=(3, 6, 12),
        caution="hot_cable",
    ),
    Template(
        "unroll_cable",
        "electric",
        "{}: cable unrolled, off the route",
        "circuit",
        (("circuit", "cable_length_m cable_size"),),
        minutes=(3, 6, 12),
        caution="hot_cable",
    ),
    Template(
        "map_outlets",
        "electric",
        "{}: outlets mapped",
        "circuit",
        (("circuit", "place breaker_a"),),
        minutes=(5, 10, 20),
    ),
    Template(
        "agree_load",
        "electric",
        "{}: load agreed",
        "circuit",
        (
            ("circuit", "breaker_a voltage_v phase_count mapped continuous other_w"),
            ("circuit <source.circuit", "input_w power_factor_ratio"),
        ),
        minutes=(3, 5, 10),
        needs=("map_outlets",),
    ),
    Template(
        "charge_batteries",
        "electric",
        "{}: batteries charged",
        "source",
        (("source", "batteries energy_wh run_h input_w cold_ratio"),),
        minutes=(30, 60, 180),
        caution="battery",
    ),
    Template(
        "swap_battery",
        "electric",
        "{}: battery swapped by the clock",
        "source",
        (("source", "energy_wh input_w cold_ratio"),),
        must=False,
        when=BETWEEN,
        needs=("charge_batteries",),
        caution="battery",
    ),
    Template(
        "bulb_in",
        "electric",
        "{}: bulb in, clear of the shade",
        "source",
        (("source", "lamp input_w"),),
        needs=("lay_cable",),
        caution="heat",
    ),
    Template(
        "practicals_set",
        "electric",
        "Practicals: levels set and logged",
        "shot",
        (("shot <level.shot ?role=practical", _DIMMED),),
        minutes=(2, 4, 10),
        needs=("bulb_in",),
    ),
    Template(
        "dimmers_set",
        "electric",
        "Dimmers set and logged",
        "shot",
        (("shot <level.shot " + _LIT, _DIMMED),),
        minutes=(3, 6, 12),
        needs=("lay_cable", "place_source", "place_fill"),
    ),
    Template(
        "colour_matched",
        "electric",
        "Colour metered and matched",
        "shot",
        (
            ("shot <level.shot >source", "lamp colour_k duv"),
            ("shot <level.shot >source <layer.source ?type=gel", "title"),
        ),
        must=False,
        minutes=(3, 6, 12),
        needs=("dimmers_set", "practicals_set"),
    ),
    Template(
        "last_reading",
        "electric",
        "Last reading of what burns, for the record",
        "shot",
        (("shot <level.shot", _DIMMED),),
        must=False,
        when=AFTER,
        needs=("dimmers_set",),
    ),
    Template(
        "lens_on",
        "camera",
        "Lens, stop and filters on",
        "shot",
        (
            ("shot >setup", "lens_mm"),
            ("shot", "t_stop exposure_index frame_rate_per_s shutter_angle_deg"),
        ),
        minutes=(3, 5, 10),
    ),
    Template(
        "frame_edge",
        "camera",
        "Frame edge and path checked against stands",
        "shot",
        (_CAMERA, (_RIGS, SPOT)),
        minutes=(3, 5, 10),
        needs=("lens_on", "place_source", "place_fill"),
        caution="path",
    ),
    Template(
        "glasses_at_line",
        "props",
        "Glasses at the line",
        "shot",
        (("shot >scene <drink.scene", "glass fill_l line_height_m glasses spares"),),
        minutes=(3, 5, 10),
        caution="food",
    ),
    Template(
        "label_drink",
        "props",
        "{}: jug labelled, time on it",
        "drink",
        (("drink", "mixed_from allergens mixed_time left_cold_time"),),
        minutes=(1, 2, 4),
        caution="batch",
    ),
    Template(
        "label_food",
        "props",
        "{}: labelled, time on it",
        "food",
        (("food", "made_from allergens made_time left_cold_time"),),
        minutes=(1, 2, 4),
        caution="batch",
    ),
    Template(
        "lay_portions",
        "props",
        "{}: portions laid",
        "food",
        (("food", "made_from portions takes_planned performers"),),
        minutes=(2, 5, 10),
    ),
    Template(
        "glass_watch",
        "props",
        "Glass: a broom at hand, who sweeps named",
        "scene",
        (("scene", "real_glass"),),
        minutes=(1, 2, 4),
        caution="glass",
    ),
    Template(
        "reset_list",
        "props",
        "Reset between takes",
        "shot",
        (("shot >scene <drink.scene", "line_height_m glasses"),),
        must=False,
        when=BETWEEN,
        needs=("glasses_at_line",),
    ),
    Template(
        "exits_walked",
        "assistant_directors",
        "Exits and route walked",
        "shot",
        ((_RIGS, SPOT), ("shot <taping.shot", "length_m crosses_walkway")),
        minutes=(2, 3, 5),
        needs=("lay_cable",),
        caution="trip",
    ),
    Template(
        "ask_watches",
        "assistant_directors",
        "Say on the scene: open flame, haze, work at height, real glass",
        "scene",
        (("scene", "open_flame haze at_height real_glass"),),
        minutes=(1, 2, 4),
        caution="watch",
    ),
    Template(
        "flame_watch",
        "assistant_directors",
        "Open flame: who watches it named, extinguisher there",
        "scene",
        (("scene", "open_flame"),),
        caution="open_flame",
    ),
    Template(
        "haze_watch",
        "assistant_directors",
        "Haze: announced, detectors and air seen to",
        "scene",
        (("scene", "haze"),),
        caution="haze",
    ),
    Template(
        "height_watch",
        "assistant_directors",
        "Work at height: called out, who foots the ladder named",
        "scene",
        (("scene", "at_height"),),
        caution="height",
    ),
    Template(
        "battery_watch",
        "electric",
        "Cells charge in sight, who watches them named",
        "scene",
        (),
        minutes=(1, 2, 4),
        caution="battery",
    ),
    Template(
        "tape_at_hand",
        "grip",
        "Tape at hand",
        "shot",
        (
            ("shot <mark.shot", "bar_m stem_m roll"),
            ("shot <taping.shot", "length_m roll"),
            ("shot >scene <taping.scene", "length_m roll"),
        ),
        must=False,
        minutes=(1, 3, 10),
    ),
    Template(
        "boom_line",
        "sound",
        "Boom line and its shadow walked",
        "shot",
        (_CAMERA, ("shot <level.shot ?role=key", "distance_m:0.3")),
        must=False,
        minutes=(3, 5, 10),
        needs=("place_source", "lens_on"),
    ),
    Template(
        "papers_in",
        "production",
        "Permits, insurance, allergy forms in hand",
        "scene",
        (("scene", "place inside"),),
        minutes=(5, 15, 60),
    ),
    Template(
        "strike",
        "grip",
        "Strike: lamp off, then weight, then stand, two people",
        "scene",
        (),
        must=False,
        when=AFTER,
        minutes=(20, 40, 90),
        caution="load",
    ),
    Template(
        "return_kit",
        "production",
        "What is hired or borrowed goes back",
        "scene",
        (),
        must=False,
        when=AFTER,
        minutes=(20, 40, 90),
        needs=("strike",),
    ),
)
# What is done between two shots: these name the shot that comes, the one before it and what it is done to. No checklist
# asks for them; turn_around.py does.
TURN = "turn_"
TURNS = (
    Template(
        "turn_add",
        "",
        "Add: {}",
        "shot",
        (
            ("level", "on distance_m point role output_ratio dimmer_percent"),
            ("rig", "top_height_m:0.3 " + SPOT),
            ("serves", "use point"),
            ("serves >dressing", "place"),
            ("drink", "glasses fill_l line_height_m"),
        ),
    ),
    Template("turn_drop", "", "Drop: {}", "shot", ()),
    Template(
        "turn_move",
        "",
        "Move: {}",
        "shot",
        (
            ("shot", "scene"),
            ("level", "distance_m off_axis_deg:10 point role"),
            ("setup", "camera_height_m:0.1 camera_distance_m:0.3 path pan_deg:3 tilt_deg:3 " + SPOT),
        ),
    ),
    Template("turn_dim", "", "Dim: {}", "shot", (("level", "output_ratio dimmer_percent"),)),
    Template(
        "turn_set",
        "",
        "Set: camera for {}",
        "shot",
        (
            ("shot", "t_stop exposure_index frame_rate_per_s shutter_angle_deg reference_colour_k"),
            ("shot >setup", "lens_mm"),
        ),
    ),
    Template("turn_dress", "", "Dress: {}", "shot", (("serves", "use point"),)),
    Template("turn_reset", "", "Reset: {}", "shot", (("drink", "glasses fill_l line_height_m"),)),
)
BY_NAME = {one.name: one for one in TEMPLATES + TURNS}
PLACE = {one.name: place for place, one in enumerate(TEMPLATES)}
