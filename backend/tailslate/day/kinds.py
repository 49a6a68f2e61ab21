"""Every kind of record and every field: the one table. Server schemas and phone forms come from it.

K1 kinds, fields and what they mean never change: a new field or kind instead, and RULES goes up.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

RULES = 1  # raised with every change of this file

DEPARTMENTS = (
    ("grip", "Grip", "Grip"),
    ("electric", "Electric", "Elec"),
    ("camera", "Camera", "Cam"),
    ("art", "Art", "Art"),
    ("props", "Props", "Prop"),
    ("sound", "Sound", "Snd"),
    ("script", "Script", "Scr"),
    ("assistant_directors", "Assistant directors", "AD"),
    ("production", "Production", "Prod"),
)
DEPARTMENT_NAMES = tuple(row[0] for row in DEPARTMENTS)
YES_NO_UNKNOWN = ("unknown", "no", "yes")
_HAZARDS = ("none", "overhead", "electric", "wind", "heat", "trip", "food", "height")


class Field:
    """One field of a kind.

    Attributes: name; type (text, long_text, choice, yes_no, count, quantity, tick, reference,
    any_reference, departments, department, time, cells, presence, verdict); label (words of the
    form); rule (plain, ask, careful); unit; low and high (range, inclusive); step (how far an input
    may move before a tick that relied on it asks again); choices (for careful fields the most careful
    first); kind (what a reference points to); reserved (who may set it, empty: anyone).
    """

    def __init__(self, name: str, type: str, label: str, rule: str, **more: "Any") -> None:
        """Take the row of the table; `more` holds what is not at its usual value."""
        self.name = name
        self.type = type
        self.label = label
        self.rule = rule
        self.unit: str = more.get("unit", "")
        self.low: float | None = more.get("low")
        self.high: float | None = more.get("high")
        self.step: str = more.get("step", "")
        self.choices: tuple[str, ...] = more.get("choices", ())
        self.kind: str = more.get("kind", "")
        self.reserved: tuple[str, ...] = more.get("reserved", ())


class Kind:
    """One kind of record.

    Attributes: name; label; set (floor or health); fields (tuple of Field, in the form's order);
    departments (whom it is for, empty: everyone); part_of (field whose record it is a part of);
    ends (fields whose ids make its own id); reserved (who may write it, empty: anyone).
    """

    def __init__(self, name: str, label: str, fields: "list[Field | list[Field]]", **more: "Any") -> None:
        """Take the row of the table, `_spread`s within it; every kind also has `present`."""
        self.name = name
        self.label = label
        self.set: str = more.get("set", "floor")
        flat: list[Field] = []
        for one in fields:
            flat.extend(one if isinstance(one, list) else [one])
        self.fields = tuple(flat) + (Field("present", "presence", "on the day", "plain"),)
        self._by_name = {one.name: one for one in self.fields}
        self.departments: tuple[str, ...] = more.get("departments", ())
        self.part_of: str = more.get("part_of", "")
        self.ends: tuple[str, ...] = more.get("ends", ())
        self.reserved: tuple[str, ...] = more.get("reserved", ())

    def field(self, name: str) -> "Field | None":
        """Return the field of that name, or None."""
        return self._by_name.get(name)


def _text(name: str, label: str, rule: str = "plain") -> Field:
    return Field(name, "text", label, rule)


def _words(name: str, label: str) -> Field:
    return Field(name, "long_text", label, "ask")


def _choice(name: str, label: str, choices: "tuple[str, ...]", rule: str = "ask") -> Field:
    return Field(name, "choice", label, rule, choices=choices)


def _yes_no_unknown(name: str, label: str) -> Field:
    return Field(name, "choice", label, "careful", choices=YES_NO_UNKNOWN)


def _count(name: str, label: str, high: int, rule: str = "ask", low: int = 0) -> Field:
    return Field(name, "count", label, rule, low=low, high=high, step="1")


def _quantity(name: str, label: str, unit: str, low: float, high: float, step: str) -> Field:
    return Field(name, "quantity", label, "ask", unit=unit, low=low, high=high, step=step)


def _tick(name: str, label: str, reserved: "tuple[str, ...]" = ()) -> Field:
    return Field(name, "tick", label, "careful", reserved=reserved)


def _reference(name: str, label: str, kind: str) -> Field:
    return Field(name, "reference", label, "plain", kind=kind)


def _on(label: str) -> Field:
    return Field("on", "any_reference", label, "plain")


def _department(name: str, label: str) -> Field:
    return Field(name, "department", label, "plain")


def _time(name: str, label: str) -> Field:
    return Field(name, "time", label, "ask")


def _spread(name: str, label: str, unit: str, low: float, high: float) -> "list[Field]":
    """Return three fields, low, typical and high: what is known of a thing only as a range."""
    return [
        _quantity(name + "_low_" + unit, label + ", low", unit, low, high, ""),
        _quantity(name + "_" + unit, label + ", typical", unit, low, high, ""),
        _quantity(name + "_high_" + unit, label + ", high", unit, low, high, ""),
    ]


_HEADS = ("head", "assistant_directors")
_CONTINUITY = ("script", "camera_when_no_script")
_SCENE = _reference("scene", "scene", "scene")
_SHOT = _reference("shot", "shot", "shot")
_SOURCE = _reference("source", "light source", "source")
_NOTE = _words("note", "note")
_ORDER = _count("order", "order", 100000, "plain")
_ROLES = ("key", "fill", "back", "background", "practical")
_PLACE = _text("place", "place", "ask")
# On the set's floor, from an origin that the crew agrees on, such as the corner of the table.
_ACROSS = _quantity("x_m", "to the right of the origin", "m", -1000, 1000, "0.05")
_AWAY = _quantity("y_m", "away from the origin", "m", -1000, 1000, "0.05")
_FIGURES_FROM = _text("figures_from", "figures from", "ask")
_DUV = _quantity("duv", "tint, green above 0", "Duv", -0.05, 0.05, "0.001")
_BATCH = [
    _time("left_cold_time", "left cold or hot keeping at"),
    _quantity("start_degc", "temperature then", "degC", -30, 130, "0.5"),
    _quantity("highest_degc", "highest since", "degC", -30, 130, "0.5"),
    _choice("perishable", "spoils out of the cold", ("unknown", "yes", "no"), "careful"),
]
CABLE_SIZES = (
    "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2", "25 mm2", "35 mm2", "50 mm2",
    "70 mm2", "95 mm2", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG",
    "2/0 AWG", "4/0 AWG",
)  # fmt: skip

_TABLE = (
    Kind(
        "day",
        "Day",
        [
            _text("title", "title"),
            _text("date_label", "date"),
            _PLACE,
            _text("time_zone", "time zone of the place"),
            _time("call_time", "call"),
            _time("wrap_time", "wrap"),
            _NOTE,
            _count("old_after_min", "minutes after which what a department says is old", 1440, low=1),
            _time("meal_time", "meal"),
            _count("meal_min", "minutes of the meal", 240),
            _count("shooting_min", "minutes to shoot a shot", 1440),
            _count("turn_around_min", "minutes to turn round between shots", 1440),
            _text("emergency_number", "emergency number", "ask"),
            _text("nearest_hospital", "nearest hospital, with address", "ask"),
            _text("medic", "medic, with number", "ask"),
            _text("assembly_point", "assembly point", "ask"),
            _text("address", "address of the place, as an ambulance is told it", "ask"),
            _text("first_aider", "first aider, and how to reach them", "ask"),
            _text("who_decides", "who decides in an emergency", "ask"),
            _time("next_call_time", "next call"),
            _count("rest_min", "least minutes of rest before the next call", 2880),
        ],
    ),
    Kind(
        "scene",
        "Scene",
        [
            _text("number", "number"),
            _text("title", "title"),
            _choice("inside", "inside or outside", ("interior", "exterior")),
            _text("time_of_day", "time of day"),
            _PLACE,
            _ORDER,
            _NOTE,
            _yes_no_unknown("open_flame", "open flame"),
            _yes_no_unknown("haze", "haze or smoke"),
            _yes_no_unknown("at_height", "work at height"),
            _yes_no_unknown("real_glass", "real glass in hands"),
        ],
    ),
    Kind(
        "setup",
        "Set-up",
        [
            _text("title", "title"),
            _SCENE,
            _quantity("lens_mm", "lens", "mm", 4, 2000, "0.5"),
            _quantity("camera_height_m", "lens height", "m", 0, 50, "0.05"),
            _quantity("camera_distance_m", "lens to subject", "m", 0.05, 500, "0.05"),
            _text("path", "camera path", "ask"),
            _NOTE,
            _quantity("sensor_width_mm", "recorded width", "mm", 1, 200, "0.1"),
            _quantity("sensor_height_mm", "recorded height", "mm", 1, 200, "0.1"),
            _quantity("aspect_ratio", "width over height of the picture", "ratio", 0.3, 10, "0.01"),
            _quantity("squeeze_ratio", "squeeze", "ratio", 0.5, 3, "0.05"),
            _ACROSS,
            _AWAY,
            _quantity("pan_deg", "panned to the right", "deg", -360, 360, "1"),
            _quantity("tilt_deg", "tilted up", "deg", -90, 90, "1"),
            _quantity("end_x_m", "end of the move, to the right", "m", -1000, 1000, "0.05"),
            _quantity("end_y_m", "end of the move, away", "m", -1000, 1000, "0.05"),
            _quantity("end_height_m", "end of the move, lens height", "m", 0, 50, "0.05"),
            _quantity("end_pan_deg", "end of the move, panned to the right", "deg", -360, 360, "1"),
            _quantity("end_tilt_deg", "end of the move, tilted up", "deg", -90, 90, "1"),
            _quantity("lens_transmittance_ratio", "light that the lens passes", "ratio", 0.1, 1, "0.02"),
            _quantity("blur_mm", "circle of confusion", "mm", 0.001, 0.2, "0.001"),
            _quantity("operator_floor_m", "clear floor behind the lens", "m", 0.3, 10, "0.1"),
            _FIGURES_FROM,
            _quantity("widest_t_stop", "widest stop of the lens", "T", 0.5, 64, "0.1"),
        ],
        departments=("camera",),
    ),
    Kind(
        "shot",
        "Shot",
        [
            _text("number", "number"),
            _text("title", "title"),
            _SCENE,
            _reference("setup", "set-up", "setup"),
            _ORDER,
            _choice(
                "phase",
                "phase",
                ("setting", "rehearsing", "last_looks", "rolling", "done"),
                "plain",
            ),
            _time("planned_roll_time", "planned to roll"),
            _quantity("t_stop", "stop", "T", 0.5, 64, "0.1"),
            _count("exposure_index", "exposure index", 409600, low=1),
            _quantity("frame_rate_per_s", "frame rate", "fps", 1, 1000, "0.01"),
            _quantity("shutter_angle_deg", "shutter angle", "deg", 1, 360, "0.1"),
            _quantity("calibration_constant", "meter constant C", "C", 240, 540, "1"),
            Field("takes", "count", "takes", "ask", low=0, high=999, reserved=_CONTINUITY),
            Field("match_note", "long_text", "match note", "ask", reserved=_CONTINUITY),
            _NOTE,
            _quantity("reference_colour_k", "colour that the shot is balanced for", "K", 1000, 25000, "50"),
            _quantity("reference_duv", "tint that the shot is balanced for", "Duv", -0.05, 0.05, "0.001"),
            _quantity("wanted_ratio", "wanted contrast, (key + fill) to fill", "to 1", 1.01, 1000, "0.5"),
            _count("highest_exposure_index", "highest index accepted", 409600, low=1),
            _count("shooting_min", "minutes to shoot it", 1440),
        ],
    ),
    Kind(
        "source",
        "Light source",
        [
            _text("title", "title"),
            _SCENE,
            _text("lamp", "lamp", "ask"),
            _spread("intensity", "intensity along the beam", "cd", 0, 100000000),
            _quantity("beam_deg", "beam, full angle at half the intensity", "deg", 1, 360, "1"),
            _quantity("input_w", "input power", "W", 0, 100000, "1"),
            _quantity("colour_k", "colour temperature", "K", 1000, 25000, "50"),
            _quantity("height_m", "height to the lens", "m", 0, 100, "0.05"),
            _yes_no_unknown("overhead", "over people"),
            _reference("circuit", "circuit", "circuit"),
            _ORDER,
            _NOTE,
            _ACROSS,
            _AWAY,
            _quantity("power_factor_ratio", "power factor", "ratio", 0.05, 1, "0.02"),
            _count("leg", "leg of a three-phase supply", 3, low=1),
            _quantity("leakage_ma", "leakage to earth", "mA", 0, 1000, "0.5"),
            _quantity("pulse_hz", "pulses of its light", "Hz", 1, 1000000, "1"),
            _quantity("flashes_per_s", "flashes", "1/s", 0.1, 100, "0.5"),
            _count("batteries", "batteries", 1000),
            _quantity("energy_wh", "energy of one battery", "Wh", 0.1, 100000, "1"),
            _quantity("usable_ratio", "usable share of a battery", "ratio", 0.05, 1, "0.02"),
            _quantity("cold_ratio", "share that the cold leaves", "ratio", 0.05, 1, "0.02"),
            _quantity("converter_ratio", "share that the converter passes", "ratio", 0.05, 1, "0.02"),
            _quantity("run_h", "must run for", "h", 0.1, 100, "0.25"),
            _FIGURES_FROM,
            _DUV,
            _choice("dimmer_curve", "light against the dimmer's percent", ("straight", "square")),
            _quantity("face_width_m", "lit face of the lamp, width", "m", 0.001, 30, "0.01"),
            _quantity("face_height_m", "lit face of the lamp, height", "m", 0.001, 30, "0.01"),
        ],
        departments=("electric", "grip"),
    ),
    Kind(
        "layer",
        "Layer",
        [
            _text("title", "sheet", "ask"),
            _SOURCE,
            _choice("type", "type", ("diffusion", "louvre", "gel", "flag")),
            _ORDER,
            _quantity("gap_m", "from the lamp or the layer before", "m", 0.01, 100, "0.05"),
            _quantity("width_m", "width", "m", 0.01, 30, "0.05"),
            _quantity("height_m", "height", "m", 0.01, 30, "0.05"),
            _spread("transmittance", "transmittance", "ratio", 0, 1),
            _spread("direct", "share of the passed light that goes straight on", "ratio", 0, 1),
            _quantity("reflectance_ratio", "reflectance", "ratio", 0, 1, ""),
            _quantity("lit_share_ratio", "share of the frame that is lit", "ratio", 0.01, 1, "0.05"),
            _quantity("depth_to_width_ratio", "cell depth to width", "ratio", 0, 20, "0.1"),
            _NOTE,
            _reference("rig", "held by", "rig"),
            _yes_no_unknown("on_lines", "on lines of its own"),
            _ACROSS,
            _AWAY,
            _quantity("centre_height_m", "height of its middle", "m", 0, 50, "0.05"),
            _spread("shift", "colour shift, warm above 0", "mired", -400, 400),
        ],
        departments=("grip", "electric"),
        part_of="source",
    ),
    Kind(
        "level",
        "Source in a shot",
        [
            _SOURCE,
            _SHOT,
            _choice("on", "burning", ("no", "yes")),
            _choice("role", "role", _ROLES),
            _reference("point", "aimed at", "point"),
            _quantity("distance_m", "last frame or lamp to the subject", "m", 0.05, 500, "0.1"),
            _quantity("off_axis_deg", "off the axis", "deg", 0, 180, "5"),
            _quantity("output_ratio", "light let through by the dimmer", "ratio", 0, 1, "0.02"),
            _quantity("dimmer_percent", "dimmer", "percent", 0, 100, "1"),
            _NOTE,
            _quantity("wanted_stops", "wanted, from the shot's stop", "stop", -15, 15, "0.1"),
            _quantity("nearest_m", "may stand no nearer than", "m", 0.05, 500, "0.1"),
        ],
        departments=("electric", "grip"),
        ends=("source", "shot"),
    ),
    Kind(
        "point",
        "Point that matters",
        [
            _text("title", "title"),
            _SCENE,
            _choice("type", "type", ("face", "shoulder", "background", "table", "other")),
            _quantity("height_m", "height", "m", 0, 50, "0.05"),
            _ORDER,
            _ACROSS,
            _AWAY,
        ],
    ),
    Kind(
        "reading",
        "Meter reading",
        [
            _SHOT,
            _reference("point", "at", "point"),
            _choice("role", "of", ("all", "key", "fill", "back", "background")),
            _quantity("illuminance_lx", "level", "lx", 0, 10000000, ""),
            _text("taken_time", "taken at"),
            Field("taken_for", "long_text", "what burned when it was taken", "plain"),
            _quantity("colour_k", "colour temperature", "K", 1000, 25000, "50"),
            _NOTE,
            _quantity("t_stop", "read as a stop, at the shot's index and shutter", "T", 0.1, 256, ""),
            _DUV,
            _reference("of_source", "of this source alone", "source"),
        ],
        departments=("electric", "camera"),
    ),
    Kind(
        "dressing",
        "Dressing",
        [
            _text("title", "title"),
            _SCENE,
            _PLACE,
            _text("material", "material", "ask"),
            _spread("reflectance", "reflectance", "ratio", 0, 1),
            _quantity("width_m", "width", "m", 0, 100, "0.05"),
            _quantity("depth_m", "depth", "m", 0, 100, "0.05"),
            _yes_no_unknown("flame_retardant", "flame-retardant"),
            _tick("in_place", "in place"),
            _ORDER,
            _NOTE,
            _ACROSS,
            _AWAY,
            _quantity("base_height_m", "height of its lower edge", "m", 0, 50, "0.05"),
            _quantity("tall_m", "its own height", "m", 0, 100, "0.05"),
            _yes_no_unknown("glass", "flat glass or a mirror"),
            _quantity("faces_deg", "the glass faces, turned to the right", "deg", -360, 360, "2"),
        ],
        departments=("art", "props"),
    ),
    Kind(
        "serves",
        "Dressing that serves a shot",
        [
            _reference("dressing", "dressing", "dressing"),
            _SHOT,
            _choice("use", "serves as", ("bounce", "seen", "eyeline", "covers")),
            _reference("point", "lifts", "point"),
            _NOTE,
            _choice("bounces_from", "bounces from its top or its front", ("top", "front")),
            _quantity("near_m", "from below the point to its near edge", "m", 0, 100, "0.05"),
            _reference("lit_at", "the light on it is that at", "point"),
            _quantity("covered_ratio", "share covered or in someone's shadow", "ratio", 0, 1, "0.05"),
        ],
        departments=("art", "grip", "electric"),
        ends=("dressing", "shot"),
    ),
    Kind(
        "drink",
        "Drink",
        [
            _text("title", "passes for"),
            _SCENE,
            _text("mixed_from", "mixed from", "ask"),
            _text("glass", "glass", "ask"),
            _quantity("fill_l", "filled to", "l", 0, 20, "0.005"),
            _quantity("line_height_m", "height of the line", "m", 0, 1, "0.002"),
            _count("glasses", "glasses", 1000),
            _count("spares", "spares", 1000),
            _count("resets", "resets planned", 1000),
            _words("allergens", "allergens"),
            _tick("round_done", "allergy round done"),
            _tick("mixed", "mixed and filled"),
            _time("mixed_time", "mixed at"),
            _ORDER,
            _NOTE,
            _count("takes_planned", "takes planned, rehearsals too", 1000),
            _count("performers", "performers who drink it", 100),
            _quantity("swallowed_l", "swallowed in one take by one", "l", 0, 5, "0.005"),
            _quantity("waste_ratio", "spilt and left over", "ratio", 0, 5, "0.05"),
            _quantity("path_m", "drink that the lens looks through", "m", 0.001, 1, "0.002"),
            _quantity("red_absorbance", "wanted look, absorbance in red", "absorbance", 0, 6, "0.02"),
            _quantity("green_absorbance", "wanted look, absorbance in green", "absorbance", 0, 6, "0.02"),
            _quantity("blue_absorbance", "wanted look, absorbance in blue", "absorbance", 0, 6, "0.02"),
            _BATCH,
        ],
        departments=("props",),
    ),
    Kind(
        "ingredient",
        "Ingredient of a drink",
        [
            _text("title", "ingredient", "ask"),
            _reference("drink", "drink", "drink"),
            _quantity("parts", "parts", "parts", 0, 10000, "0.05"),
            _quantity("red_per_cm", "absorbance a centimetre, red", "1/cm", 0, 100, "0.02"),
            _quantity("green_per_cm", "absorbance a centimetre, green", "1/cm", 0, 100, "0.02"),
            _quantity("blue_per_cm", "absorbance a centimetre, blue", "1/cm", 0, 100, "0.02"),
            _quantity("density_kg_per_l", "density", "kg/l", 0.5, 2, "0.01"),
            _quantity("sugar_g_per_hundred_g", "sugars", "g/100 g", 0, 100, "0.5"),
            _quantity("caffeine_mg_per_hundred_g", "caffeine", "mg/100 g", 0, 10000, "1"),
            _quantity("sulphites_mg_per_kg", "sulphites", "mg/kg", 0, 10000, "1"),
            _words("allergens", "allergens"),
            _FIGURES_FROM,
            _ORDER,
            _NOTE,
        ],
        departments=("props",),
        part_of="drink",
    ),
    Kind(
        "food",
        "Food",
        [
            _text("title", "title"),
            _SCENE,
            _text("made_from", "made from", "ask"),
            _count("portions", "portions", 10000),
            _words("allergens", "allergens"),
            _tick("round_done", "allergy round done"),
            _time("made_time", "made at"),
            _NOTE,
            _count("takes_planned", "takes planned, rehearsals too", 1000),
            _count("performers", "performers who eat it", 100),
            _BATCH,
        ],
        departments=("props",),
    ),
    Kind(
        "used",
        "Used up",
        [
            _on("what"),
            _SHOT,
            _quantity("amount_l", "amount", "l", 0, 1000, ""),
            _count("amount", "pieces", 100000),
            _count("take", "take", 999),
        ],
    ),
    Kind(
        "mark",
        "Mark",
        [
            _text("title", "for"),
            _SHOT,
            _text("colour", "tape colour", "ask"),
            _PLACE,
            _tick("laid", "laid"),
            _ORDER,
            _NOTE,
            _ACROSS,
            _AWAY,
            _quantity("bar_m", "cross bar", "m", 0, 2, "0.01"),
            _quantity("stem_m", "stem", "m", 0, 2, "0.01"),
            _reference("roll", "off which roll", "kit"),
        ],
        departments=("camera", "grip"),
    ),
    Kind(
        "taping",
        "Tape job",
        [
            _text("title", "what is taped"),
            _SHOT,
            _SCENE,
            _choice("type", "run, edge or tube", ("run", "edge", "tube")),
            _quantity("length_m", "length of the run or tube", "m", 0, 10000, "0.1"),
            _quantity("pitch_m", "one cross strip each", "m", 0.05, 100, "0.05"),
            _quantity("strip_m", "one cross strip", "m", 0, 10, "0.01"),
            _quantity("width_m", "panel, width", "m", 0.01, 30, "0.05"),
            _quantity("height_m", "panel, height", "m", 0.01, 30, "0.05"),
            _count("layers", "layers", 20, low=1),
            _quantity("overlap_m", "overlap where a layer closes", "m", 0, 2, "0.01"),
            _quantity("diameter_m", "tube, across", "m", 0.001, 5, "0.001"),
            _quantity("tape_width_m", "tape, across", "m", 0.001, 1, "0.001"),
            _quantity("overlap_ratio", "share of a turn on the last", "ratio", 0, 0.95, "0.05"),
            _yes_no_unknown("crosses_walkway", "across where people walk"),
            _quantity("bump_m", "highest point on the floor", "m", 0, 1, "0.001"),
            _reference("roll", "off which roll", "kit"),
            _ORDER,
            _NOTE,
            _reference("source", "the cable of", "source"),
            _yes_no_unknown("ramp_laid", "ramp or mat over it"),
        ],
        departments=("grip", "electric"),
    ),
    Kind(
        "rig",
        "Rig",
        [
            _text("title", "title"),
            _SOURCE,
            _SCENE,
            _quantity("load_kg", "load", "kg", 0, 1000, "0.5"),
            _quantity("offset_m", "load out from the column", "m", 0, 20, "0.05"),
            _quantity("stand_kg", "stand", "kg", 0, 1000, "0.5"),
            _quantity("leg_radius_m", "column to foot", "m", 0.05, 10, "0.05"),
            _count("legs", "legs", 12, low=3),
            _quantity("bag_kg", "one bag", "kg", 0, 100, "0.5"),
            _count("bags", "bags on it", 100),
            _quantity("rating_kg", "maker's rating", "kg", 0, 10000, "0.5"),
            _yes_no_unknown("overhead", "over people"),
            _tick("safety_on", "safety on"),
            _NOTE,
            _ACROSS,
            _AWAY,
            _quantity("top_height_m", "top of the stand", "m", 0, 50, "0.05"),
            _quantity("load_arm_m", "pivot to load along the boom", "m", 0.01, 20, "0.05"),
            _quantity("weight_arm_m", "pivot to counterweight along the boom", "m", 0.01, 20, "0.05"),
            _quantity("boom_kg", "boom", "kg", 0, 1000, "0.5"),
            _quantity("boom_centre_m", "pivot to the middle of the boom, load side", "m", -20, 20, "0.05"),
            _quantity("counterweight_kg", "counterweight on it", "kg", 0, 1000, "0.5"),
            _quantity(
                "holding_rating_nm", "maker's holding moment of head and knuckle", "Nm", 0, 100000, "1"
            ),
            _quantity("gust_limit_m_s", "struck at gusts of", "m/s", 0.1, 40, "0.1"),
            _quantity("gust_m_s", "strongest gust read", "m/s", 0, 80, ""),
            _text("strikes", "who strikes it", "ask"),
            _FIGURES_FROM,
        ],
        departments=("grip",),
    ),
    Kind(
        "circuit",
        "Circuit",
        [
            _text("title", "title"),
            _PLACE,
            _quantity("breaker_a", "breaker", "A", 0, 10000, "1"),
            _quantity("voltage_v", "voltage", "V", 0, 1000, "1"),
            _yes_no_unknown("mapped", "outlets mapped"),
            _yes_no_unknown("residual_current_protected", "residual-current protected"),
            _NOTE,
            _count("phase_count", "phases", 3, low=1),
            _choice("cable_size", "cable", CABLE_SIZES),
            _quantity("cable_length_m", "cable, one way", "m", 0, 5000, "1"),
            _quantity(
                "cable_ohm_per_km", "measured resistance of one conductor", "ohm/km", 0.001, 1000, "0.05"
            ),
            _choice("continuous", "loaded three hours or more", ("unknown", "yes", "no"), "careful"),
            _quantity("other_w", "other things plugged in", "W", 0, 1000000, "1"),
            _quantity("device_ma", "residual-current device", "mA", 1, 10000, "1"),
            _quantity("other_leakage_ma", "leakage of other things", "mA", 0, 10000, "0.5"),
            _quantity("mains_hz", "frequency", "Hz", 1, 1000, "0.5"),
            _FIGURES_FROM,
        ],
        departments=("electric",),
    ),
    Kind(
        "kit",
        "Kit",
        [
            _text("title", "title"),
            _choice("owner", "owned, hired or household", ("owned", "hired", "household")),
            _count("count", "how many", 100000),
            _text("rating", "rating", "ask"),
            _text("cost", "cost", "ask"),
            _yes_no_unknown("flame_retardant", "flame-retardant"),
            _NOTE,
            _quantity("roll_m", "tape on one roll", "m", 0.1, 1000, "0.1"),
            _FIGURES_FROM,
            _choice("type", "type", ("lamp", "sheet", "other")),
            _spread("intensity", "lamp, intensity along the beam", "cd", 0, 100000000),
            _quantity("beam_deg", "lamp, full angle at half the intensity", "deg", 1, 360, "1"),
            _quantity("input_w", "lamp, input power", "W", 0, 100000, "1"),
            _quantity("colour_k", "lamp, colour temperature", "K", 1000, 25000, "50"),
            _spread("transmittance", "sheet, transmittance", "ratio", 0, 1),
            _spread("direct", "sheet, share of the passed light that goes straight on", "ratio", 0, 1),
            _quantity("reflectance_ratio", "sheet, reflectance", "ratio", 0, 1, ""),
            _spread("shift", "sheet, colour shift, warm above 0", "mired", -400, 400),
            _PLACE,
        ],
    ),
    Kind(
        "task",
        "Task",
        [
            _text("title", "what to do"),
            _department("department", "department"),
            _SHOT,
            _SCENE,
            _choice("must", "must or nice", ("must", "nice"), "careful"),
            _text("amount", "how many", "ask"),
            _text("unit", "of what", "ask"),
            _PLACE,
            _choice("hazard", "hazard", _HAZARDS, "ask"),
            Field("relies_on", "cells", "relies on", "plain"),
            _tick("done", "done"),
            _ORDER,
            _NOTE,
            _reference("instead_of", "in place of the derived task", "task"),
        ],
    ),
    Kind(
        "template",
        "Template of tasks",
        [
            _text("title", "what to do, {} is what it is done to", "ask"),
            _department("department", "department"),
            _choice(
                "over",
                "one for each",
                ("shot", "scene", "source", "rig", "layer", "circuit", "dressing", "drink", "food"),
            ),
            _choice("must", "must or nice", ("must", "nice"), "careful"),
            _choice("when", "before the roll, between takes, after", ("before", "between", "after")),
            _text("amount", "how many", "ask"),
            _text("unit", "of what", "ask"),
            _choice("hazard", "hazard", _HAZARDS, "ask"),
            _text("asks_again_by", "fields that make it ask again, such as load_kg, x_m:0.3", "ask"),
            _count("low_min", "minutes at best", 10000),
            _count("likely_min", "minutes, likely", 10000),
            _count("high_min", "minutes at worst", 10000),
            _text("instead_of", "in place of the usual template of that name"),
            _ORDER,
            _NOTE,
        ],
    ),
    Kind(
        "request",
        "Request",
        [
            _text("ask", "what is asked"),
            _department("from_department", "from"),
            _department("to_department", "to"),
            _SHOT,
            _PLACE,
            _choice("must", "must or nice", ("must", "nice"), "careful"),
            _choice("answer", "answer", ("asked", "declined", "heard", "doing", "done"), "careful"),
            _NOTE,
        ],
    ),
    Kind(
        "hold",
        "Hold",
        [
            _text("why", "why", "ask"),
            _choice("type", "stop or watch", ("stop", "watch"), "careful"),
            _on("on"),
            _SHOT,
            _SCENE,
            _department("department", "raised by"),
            _tick("cleared", "cleared", _HEADS),
            _NOTE,
        ],
    ),
    Kind("note", "Note", [_words("text", "note"), _on("on"), _SHOT]),
    Kind(
        "booking",
        "Kit for a shot",
        [_reference("kit", "kit", "kit"), _SHOT, _count("count", "how many", 100000, low=1), _NOTE],
        ends=("kit", "shot"),
    ),
    Kind(
        "performer",
        "Performer",
        [
            _text("title", "character"),
            _choice("status", "status", ("not_called", "called", "preparing", "on_set", "released")),
            _NOTE,
            _choice("under_age", "under age", ("unknown", "yes", "no"), "careful"),
            _time("arrived_time", "here since"),
            _count("allowed_min", "minutes allowed here today, by local rules or licence", 1440),
            _time("away_time", "away by, by local rules or licence"),
        ],
        departments=("assistant_directors",),
    ),
    Kind(
        "person",
        "Person",
        [
            _text("name", "name"),
            _text("role", "role"),
            Field("departments", "departments", "departments", "ask"),
            _choice("head", "head of the department", ("no", "yes")),
        ],
        reserved=("production",),
    ),
    Kind(
        "allergy",
        "Allergy or intolerance",
        [
            _reference("performer", "performer", "performer"),
            _text("what", "to what", "ask"),
            _choice("answer", "answer", ("unknown", "yes", "no"), "careful"),
            _NOTE,
        ],
        set="health",
        departments=("props", "production", "assistant_directors"),
        reserved=("props", "production", "assistant_directors"),
    ),
    Kind(
        "verdict",
        "Verdict",
        [Field("says", "verdict", "says", "careful", choices=("out", "parked", "counts"))],
        reserved=("server",),
    ),
    Kind("void", "Void", [_text("why", "why it will never arrive")]),
    Kind(
        "word",
        "Word on a shot",
        [
            _SHOT,
            _department("department", "department"),
            _choice("said", "said", ("stuck", "more", "ready"), "careful"),
            _count("minutes", "minutes more", 1440, "plain"),
        ],
        ends=("shot", "department"),
    ),
    Kind(
        "photograph",
        "Photograph",
        [
            _text("says", "what it shows"),
            Field("of", "any_reference", "of", "plain"),
            _text("digest", "SHA-256 of the picture"),
            _count("width_px", "width in pixels", 4096, "plain", 1),
            _count("height_px", "height in pixels", 4096, "plain", 1),
            _count("bytes", "size in bytes", 2_097_152, "plain", 1),
        ],
    ),
    Kind(
        "incident",
        "Incident",
        [
            _words("what", "what happened; no diagnosis, nothing of anyone's health"),
            _text("place", "where", "ask"),
            _time("happened_time", "when"),
            _text("told", "who was told", "ask"),
            _choice("injured", "anyone hurt", ("unknown", "yes", "no"), "careful"),
            _SHOT,
            _department("department", "reported by"),
        ],
    ),
    Kind(
        "starting_point",
        "Starting point of the production",
        [_text("title", "title"), _SOURCE, _SHOT, _NOTE],
        departments=("electric", "grip"),
    ),
)
KINDS = {kind.name: kind for kind in _TABLE}
# What a bare figure is read in by a phone that is set to imperial; other units are the same everywhere.
IMPERIAL = {"m": "ft", "kg": "lb", "lx": "fc", "m/s": "mph", "degC": "degf"}
HEALTH_DEPARTMENTS = ("props", "production", "assistant_directors")


def field_of(kind: str, field: str) -> "Field | None":
    """Return the field, or None when these rules do not know it."""
    known = KINDS.get(kind)
    return known.field(field) if known else None


def rule_of(kind: str, field: str) -> str:
    """Return the merge rule of a field: plain, ask or careful; an unknown field asks."""
    known = field_of(kind, field)
    return known.rule if known else "ask"


def set_of(kind: str) -> str:
    """Return the set that a kind is in; a kind of newer rules travels in the floor set."""
    known = KINDS.get(kind)
    return known.set if known else "floor"


def is_reserved(kind: str, changes: "list[list[Any]]") -> bool:
    """Tell whether an act waits for a server's `counts`; a verdict itself never waits.

    Args:
        kind: kind of the record.
        changes: list of [field, value, ...] that the act sets.
    """
    return bool(reserved_for(kind, changes)) and kind != "verdict"


def reserved_for(kind: str, changes: "list[list[Any]]") -> "tuple[str, ...]":
    """Return who may do this act, empty when anyone on the day may.

    The careful direction is free: anyone raises a hold, or takes a reserved tick away.

    Args:
        kind: kind of the record.
        changes: list of [field, value, ...] that the act sets.
    Returns: department names, "head" (of any department), "camera_when_no_script", "server".
    """
    known = KINDS.get(kind)
    if not known:
        return ()
    if known.reserved:
        return known.reserved
    for change in changes:
        one = known.field(change[0])
        if one and one.reserved and not (one.type == "tick" and change[1] in (False, None)):
            return one.reserved
    return ()


def may(who: "tuple[str, ...]", *, departments: "list[str]", is_head: bool, script_on_day: bool) -> bool:
    """Tell whether a person may do an act that is reserved.

    Args:
        who: as `reserved_for` gives it; empty means anyone.
        departments: departments of the person.
        is_head: whether the person heads a department.
        script_on_day: whether anyone on the day is of the script department.
    """
    if not who:
        return True
    for one in who:
        if one == "head" and is_head:
            return True
        if one == "camera_when_no_script" and not script_on_day and "camera" in departments:
            return True
        if one in departments:
            return True
    return False


def record_id_of_ends(kind: str, changes: "dict[str, Any]") -> str:
    """Return the id that a record with two ends takes from them, so two phones make the same one.

    Args:
        kind: a kind with `ends`, such as level.
        changes: field to value, with both ends.
    """
    return "~".join(str(changes[end]) for end in KINDS[kind].ends)


def careful_rank(kind: str, field: str, value: "Any") -> int:
    """Return how careful a value is: the lower, the more careful; what is not known ranks lowest."""
    known = field_of(kind, field)
    if not known:
        return -1
    if known.type == "tick":
        if value is False or value is None:
            return 0
        return 1 if is_done(value) else -1
    word = value[0] if known.type == "verdict" and isinstance(value, list) and value else value
    return known.choices.index(word) if word in known.choices else -1


def is_done(value: "Any") -> bool:
    """Tell whether a tick's value is 'done for these'."""
    return isinstance(value, list) and len(value) == 2 and value[0] == "done"


def comparable(kind: str, field: str, value: "Any") -> "Any":
    """Return what two answers are compared by: a quantity by its number, a tick by done or not."""
    known = field_of(kind, field)
    if known and known.type == "quantity" and isinstance(value, list) and value:
        return value[0]
    if known and known.type == "tick":
        return is_done(value)
    if known and known.type == "verdict" and isinstance(value, list) and value:
        return value[0]
    return value


def table() -> "list[dict[str, Any]]":
    """Return the table as plain lists and dicts, for the forms of the phone.

    Returns: list of dict, keys name, label, set, departments, part_of, ends, reserved, fields (list
    of dict, keys name, type, label, rule, unit, imperial (where it is another), low, high, choices, kind, reserved).
    """
    rows = []
    row: dict[str, Any]
    for kind in _TABLE:
        fields = []
        for one in kind.fields:
            row = {"name": one.name, "type": one.type, "label": one.label, "rule": one.rule}
            row.update({"unit": one.unit, "low": one.low, "high": one.high, "kind": one.kind})
            if one.unit in IMPERIAL:
                row["imperial"] = IMPERIAL[one.unit]
            row.update({"choices": list(one.choices), "reserved": list(one.reserved)})
            fields.append(row)
        row = {"name": kind.name, "label": kind.label, "set": kind.set, "part_of": kind.part_of}
        row.update({"departments": list(kind.departments), "ends": list(kind.ends)})
        row.update({"reserved": list(kind.reserved), "fields": fields})
        rows.append(row)
    return rows
