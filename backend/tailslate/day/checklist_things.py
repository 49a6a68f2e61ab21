"""What each template asks for in one shot: its records, how many, and the words beside it. Set-up -> quantities.

Knows no ticks. H1 a quantity is that of the sheet's figure and is not worked out a second time. H2 what the
figure does not know stays "at least", or empty: never a number that looks known.
"""

from tailslate.craft.rounding import round_up, total
from tailslate.day import names, rows, shown
from tailslate.day.gathered import kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Asked = tuple[list[str], str, str, str]  # records, amount, unit, words beside it

LIT_ROLES = (
    "key",
    "fill",
    "back",
    "background",
    "",
)  # a lamp to which nobody gave a role yet is lit all the same
WATCHES = ("open_flame", "haze", "at_height", "real_glass")
BOOM_FIELDS = ("load_arm_m", "weight_arm_m", "boom_kg", "counterweight_kg")


class Shot:
    """What a shot holds, looked up once.

    Attributes: key, scene, setup (record keys, "" for none); levels (keys of what burns or may, with its source
    there); source_of (level to source); sources, rigs, circuits, drinks, foods (sorted keys); layers (source to
    keys); figures (record to label to figure); frame and rolls (the sheet's); records.
    """

    def __init__(self, key: str, things: "dict[str, Any]", records: "Gathered") -> None:
        """Take the shot and the sheet's rigging, power, drinks, tape and frame."""
        self.key = key
        self.records = records
        self.frame = things["frame"]
        self.rolls = things["tape"]["rolls"]
        self.scene = self._there(records.target(key, "scene"))
        self.setup = self._there(records.target(key, "setup"))
        self.sources = rows.sources(key, records)
        self.rigs = rows.rig_keys(key, records)
        self.source_of: dict[str, str] = {}
        for level in records.pointing("level", "shot", key):
            source = records.target(level, "source")
            if source in self.sources and records.text(level, "on") != "no":
                self.source_of[level] = source
        self.levels = sorted(self.source_of)
        self.layers = {one: _from_the_lamp(one, records) for one in self.sources}
        circuits = {self._there(records.target(one, "circuit")) for one in self.sources}
        self.circuits = sorted([one for one in circuits if one])
        self.drinks = records.pointing("drink", "scene", self.scene) if self.scene else []
        self.foods = records.pointing("food", "scene", self.scene) if self.scene else []
        self.figures: dict[str, dict[str, Any]] = {}
        power = things["power"]
        for thing in (
            things["rigging"]
            + power["circuits"]
            + power["batteries"]
            + things["drinks"]
            + things["tape"]["jobs"]
        ):
            labels = self.figures.setdefault(thing["record"], {})
            for figure in thing["figures"]:
                labels[figure["label"]] = figure

    def _there(self, key: str) -> str:
        return key if key and self.records.is_there(key) else ""

    def figure(self, record: str, label: str) -> "Any":
        """Return a figure of the sheet, None when it has none."""
        return self.figures.get(record, {}).get(label)

    def words(self, record: str, label: str) -> str:
        """Return what a figure shows, "" when it has none or is not known at all."""
        found = self.figure(record, label)
        return "" if not found or found["shown"] == shown.NOT_KNOWN else str(found["shown"])

    def named(self, key: str) -> str:
        """Return what a record is called."""
        return names.name_of(key, self.records)

    def said(self, key: str, field: str) -> str:
        """Return a field in words, "" when nobody filled it in."""
        held = self.records.value(key, field)
        return "" if held is None else names.value_words(key, field, held, self.records)

    def of_roles(self, roles: "tuple[str, ...]") -> "list[str]":
        """Return the levels in these roles."""
        return [one for one in self.levels if self.records.text(one, "role") in roles]

    def rigs_of(self, source: str) -> "list[str]":
        """Return the rigs of a source that are in the shot."""
        return self.records.pointing("rig", "source", source)

    def is_set_up(self) -> bool:
        """Tell whether anyone said how the shot is made: a lamp or a camera position."""
        return bool(self.levels or self.setup)

    def scene_says(self, field: str, word: str) -> bool:
        """Tell whether the scene says that word of a field; what nobody said is unknown."""
        return bool(self.scene) and (self.records.text(self.scene, field) or "unknown") == word


def _from_the_lamp(source: str, records: "Gathered") -> "list[str]":
    """Return the layers before a source, the nearest to the lamp first."""

    def place(layer: str) -> "tuple[int, str]":
        order = records.whole(layer, "order")
        return (rows.LAST if order is None else order, layer)

    return sorted(records.pointing("layer", "source", source), key=place)


def rig_stand(shot: Shot) -> "list[Asked]":
    """One row a stand: its bags by the sum, for the worst way it can swing."""
    found: list[Asked] = []
    for rig in shot.rigs:
        bags = shot.figure(rig, "Bags")
        words = shot.words(rig, "Bags") or "at least 1 bag"
        if bags and bags["value"] is not None:
            count, _space, unit = words.partition(" ")
            found.append(([rig], count, unit, ""))
        else:
            found.append(([rig], words, "", ""))
    return found


def counterweight_on(shot: Shot) -> "list[Asked]":
    """One row a boom."""
    found: list[Asked] = []
    for rig in shot.rigs:
        if shot.figure(rig, "Counterweight"):
            found.append(([rig], shot.words(rig, "Counterweight"), "", "off after it, two people"))
    return found


def wind_named(shot: Shot) -> "list[Asked]":
    """One row a stand that holds a frame outdoors."""
    found: list[Asked] = []
    for rig in shot.rigs:
        if shot.figure(rig, "Tips in gusts"):
            limit = shot.words(rig, "Wind limit")
            found.append(([rig], limit, "", shot.said(rig, "strikes")))
    return found


def frames_up(shot: Shot) -> "list[Asked]":
    """One row a source with sheets or gels before it, with their gaps."""
    found: list[Asked] = []
    for source in shot.sources:
        built = [one for one in shot.layers[source] if shot.records.text(one, "type") in ("diffusion", "gel")]
        if built:
            gaps = [_at_gap(shot, one) for one in built]
            found.append(
                ([source], str(len(built)), "frame" if len(built) == 1 else "frames", ", ".join(gaps))
            )
    return found


def _at_gap(shot: Shot, layer: str) -> str:
    gap = shot.said(layer, "gap_m")
    return shot.named(layer) + (" at " + gap if gap else ", gap not known")


def _layers_of_type(shot: Shot, type_: str) -> "list[Asked]":
    found: list[Asked] = []
    for source in shot.sources:
        for layer in shot.layers[source]:
            if shot.records.text(layer, "type") == type_:
                found.append(([layer], "", "", _at_gap(shot, layer)))
    return found


def louvre_on(shot: Shot) -> "list[Asked]":
    """One row a louvre."""
    return _layers_of_type(shot, "louvre")


def flag_set(shot: Shot) -> "list[Asked]":
    """One row a flag."""
    return _layers_of_type(shot, "flag")


def _placed(shot: Shot, roles: "tuple[str, ...]") -> "list[Asked]":
    found: list[Asked] = []
    for level in shot.of_roles(roles):
        source = shot.source_of[level]
        if shot.rigs_of(source) or shot.layers[source]:
            point = shot.records.target(level, "point")
            to = "to " + shot.named(point) if shot.records.is_there(point) else ""
            found.append(([shot.key, source], shot.said(level, "distance_m"), "", to))
    return found


def place_source(shot: Shot) -> "list[Asked]":
    """One row a source on a stand or behind a frame, other than a fill."""
    return _placed(shot, ("key", "back", "background", ""))


def place_fill(shot: Shot) -> "list[Asked]":
    """One row a fill on a stand or behind a frame: it is set beside what the dressing bounces."""
    return _placed(shot, ("fill",))


def lay_cable(shot: Shot) -> "list[Asked]":
    """One row a source on a circuit, with the tape of its runs when someone measured them."""
    found: list[Asked] = []
    for source in shot.sources:
        circuit = shot.records.target(source, "circuit")
        if circuit not in shot.circuits:
            continue
        runs = shot.records.pointing("taping", "source", source)
        lengths = [shot.figure(run, "Tape") for run in runs]
        known_m = [one["value"] for one in lengths if one and one["value"] is not None]
        to = "to " + shot.named(circuit)
        if known_m and len(known_m) == len(runs):
            taped = shown.figure(round_up(total(known_m), 2), "m", shot.records.units)
            found.append(([source], taped, "of tape", to))
        else:
            found.append(([source], "1", "run", to + ", its length is not known"))
    return found


def unroll_cable(shot: Shot) -> "list[Asked]":
    """One row a circuit with a cable of its own: a coil heats."""
    found: list[Asked] = []
    for circuit in shot.circuits:
        if shot.records.number(circuit, "cable_length_m"):
            found.append(
                ([circuit], shot.said(circuit, "cable_length_m"), "", shot.said(circuit, "cable_size"))
            )
    return found


def map_outlets(shot: Shot) -> "list[Asked]":
    """One row a circuit whose outlets nobody mapped."""
    return [([one], "", "", "") for one in shot.circuits if shot.records.text(one, "mapped") != "yes"]


def agree_load(shot: Shot) -> "list[Asked]":
    """One row a circuit, with what is on it."""
    found: list[Asked] = []
    for circuit in shot.circuits:
        load = shot.figure(circuit, "Load")
        found.append(([circuit], shot.words(circuit, "Load"), "", load["word"] if load else ""))
    return found


def _battery_sources(shot: Shot) -> "list[str]":
    return [one for one in shot.sources if shot.figure(one, "Batteries")]


def charge_batteries(shot: Shot) -> "list[Asked]":
    """One row a source on batteries, with how many for how long."""
    return [([one], shot.words(one, "Batteries"), "", "") for one in _battery_sources(shot)]


def swap_battery(shot: Shot) -> "list[Asked]":
    """One row a source on batteries, with how long one lasts."""
    return [([one], shot.words(one, "Runs for"), "", "") for one in _battery_sources(shot)]


def bulb_in(shot: Shot) -> "list[Asked]":
    """One row a practical."""
    found: list[Asked] = []
    for source in sorted({shot.source_of[one] for one in shot.of_roles(("practical",))}):
        found.append(([source], "", "", shot.records.text(source, "lamp")))
    return found


def _levels_in_words(shot: Shot, levels: "list[str]") -> str:
    parts = []
    for level in levels:
        said = shot.said(level, "dimmer_percent") or shot.said(level, "output_ratio")
        if said:
            parts.append(shot.named(level) + " " + said)
    return ", ".join(parts)


def practicals_set(shot: Shot) -> "list[Asked]":
    """One row for all practicals of the shot."""
    levels = shot.of_roles(("practical",))
    unit = "practical" if len(levels) == 1 else "practicals"
    return [([shot.key], str(len(levels)), unit, _levels_in_words(shot, levels))] if levels else []


def dimmers_set(shot: Shot) -> "list[Asked]":
    """One row for all other lamps of the shot."""
    levels = shot.of_roles(LIT_ROLES)
    unit = "lamp" if len(levels) == 1 else "lamps"
    return [([shot.key], str(len(levels)), unit, _levels_in_words(shot, levels))] if levels else []


def colour_matched(shot: Shot) -> "list[Asked]":
    """One row where lamps of several kinds burn together."""
    count = len(shot.sources)
    return [([shot.key], str(count), "lamps", "")] if count > 1 else []


def last_reading(shot: Shot) -> "list[Asked]":
    """One row for the record of how it was really lit."""
    return [([shot.key], "", "", "")] if shot.levels else []


def lens_on(shot: Shot) -> "list[Asked]":
    """One row with what the camera is set to."""
    said = [shot.said(shot.setup, "lens_mm")] if shot.setup else []
    said.extend([shot.said(shot.key, "t_stop"), shot.said(shot.key, "shutter_angle_deg")])
    index = shot.said(shot.key, "exposure_index")
    said.insert(2, "EI " + index if index else "")
    words = ", ".join([one for one in said if one])
    return [([shot.key], "", "", words)] if shot.setup else []


def frame_edge(shot: Shot) -> "list[Asked]":
    """One row with how many things stand in the camera's way, as far as they are placed."""
    path = shot.frame["path"]
    way = path["in_the_way"] if path else []
    words = way[0]["sentence"] if way else ""
    amount, unit = (str(len(way)), "in the way") if way else ("", "")
    return [([shot.key], amount, unit, words)] if shot.setup else []


def glasses_at_line(shot: Shot) -> "list[Asked]":
    """One row for the glasses of the scene, with their spares and lines."""
    if not shot.drinks:
        return []
    counts, spares, lines, is_open = [], [], [], False
    for drink in shot.drinks:
        glasses = shot.records.whole(drink, "glasses")
        is_open = is_open or glasses is None
        counts.append(glasses or 0)
        spares.append((shot.records.whole(drink, "spares") or 0) * (glasses or 0))
        line = shot.said(drink, "line_height_m")
        lines.append(shot.named(drink) + (" " + line if line else ", line not known"))
    amount = ("at least " if is_open else "") + str(sum(counts))
    unit = ("glass" if sum(counts) == 1 else "glasses") + " and " + str(sum(spares)) + " spare"
    return [([shot.key], amount, unit, ", ".join(lines))]


def label_drink(shot: Shot) -> "list[Asked]":
    """One row a drink."""
    return [([one], "", "", shot.words(one, "Out of the cold")) for one in shot.drinks]


def label_food(shot: Shot) -> "list[Asked]":
    """One row a food."""
    return [([one], "", "", shot.words(one, "Out of the cold")) for one in shot.foods]


def lay_portions(shot: Shot) -> "list[Asked]":
    """One row a food, with the portions for its takes and performers."""
    found: list[Asked] = []
    for food in shot.foods:
        needed = shot.words(food, "Portions")
        there = shot.records.whole(food, "portions")
        words = "" if there is None else str(there) + " there"
        found.append(([food], needed, "portions" if needed else "", words))
    return found


def reset_list(shot: Shot) -> "list[Asked]":
    """One row with what goes back to where it was."""
    put_back = [shot.named(one) for one in shot.drinks]
    for serves in shot.records.pointing("serves", "shot", shot.key):
        if shot.records.is_there(shot.records.target(serves, "dressing")):
            put_back.append(shot.named(serves))
    return [([shot.key], str(len(put_back)), "things", ", ".join(put_back))] if put_back else []


def exits_walked(shot: Shot) -> "list[Asked]":
    """One row a shot."""
    return [([shot.key], "", "", "")] if shot.is_set_up() else []


def ask_watches(shot: Shot) -> "list[Asked]":
    """One row a scene of which nobody said what needs a watch."""
    asked = [one for one in WATCHES if shot.scene_says(one, "unknown")]
    return [([shot.scene], "", "", "not known is not no")] if asked and shot.is_set_up() else []


def flame_watch(shot: Shot) -> "list[Asked]":
    """One row a scene with open flame."""
    return [([shot.scene], "", "", "")] if shot.scene_says("open_flame", "yes") else []


def haze_watch(shot: Shot) -> "list[Asked]":
    """One row a scene with haze or smoke."""
    return [([shot.scene], "", "", "")] if shot.scene_says("haze", "yes") else []


def height_watch(shot: Shot) -> "list[Asked]":
    """One row a scene with work at height."""
    return [([shot.scene], "", "", "")] if shot.scene_says("at_height", "yes") else []


def glass_watch(shot: Shot) -> "list[Asked]":
    """One row a scene with real glass in hands."""
    return [([shot.scene], "", "", "")] if shot.scene_says("real_glass", "yes") else []


def battery_watch(shot: Shot) -> "list[Asked]":
    """One row a scene with lamps on batteries."""
    return [([shot.scene], "", "", "")] if shot.scene and _battery_sources(shot) else []


def tape_at_hand(shot: Shot) -> "list[Asked]":
    """One row with what to bring, in rolls where the roll is known."""
    needed = [one["title"] + " " + one["figure"]["shown"] for one in shot.rolls]
    first = shot.rolls[0]["figure"]["shown"] if len(shot.rolls) == 1 else ""
    words = ", ".join(needed) if len(needed) > 1 else shot.rolls[0]["title"] if needed else ""
    return [([shot.key], first, "", words)] if needed else []


def boom_line(shot: Shot) -> "list[Asked]":
    """One row where a camera and a key are set."""
    return [([shot.key], "", "", "")] if shot.setup and shot.of_roles(("key",)) else []


def papers_in(shot: Shot) -> "list[Asked]":
    """One row a scene."""
    return [([shot.scene], "", "", "")] if shot.scene and shot.is_set_up() else []


def strike(shot: Shot) -> "list[Asked]":
    """One row a scene with stands."""
    unit = "stand" if len(shot.rigs) == 1 else "stands"
    return [([shot.scene], str(len(shot.rigs)), unit, "")] if shot.scene and shot.rigs else []


def return_kit(shot: Shot) -> "list[Asked]":
    """One row a scene."""
    return papers_in(shot)


def of_kind(shot: Shot, kind: str) -> "list[str]":
    """Return the records of a kind that are in the shot: what a production's own template is derived over."""
    if kind == "shot":
        return [shot.key]
    if kind == "layer":
        found: list[str] = []
        for source in shot.sources:
            found.extend(shot.layers[source])
        return found
    if kind == "dressing":
        serves = shot.records.pointing("serves", "shot", shot.key)
        keys = {shot.records.target(one, "dressing") for one in serves}
        return sorted([one for one in keys if shot.records.is_there(one)])
    held = {"scene": [shot.scene] if shot.scene else [], "source": shot.sources, "rig": shot.rigs}
    held.update({"circuit": shot.circuits, "drink": shot.drinks, "food": shot.foods})
    return held.get(kind, [])


ASK = {
    one.__name__: one
    for one in (
        rig_stand, counterweight_on, wind_named, frames_up, louvre_on, flag_set, place_source, place_fill, lay_cable,
        unroll_cable, map_outlets, agree_load, charge_batteries, swap_battery, bulb_in, practicals_set, dimmers_set,
        colour_matched, last_reading, lens_on, frame_edge, glasses_at_line, label_drink, label_food, lay_portions,
        glass_watch, reset_list, exits_walked, ask_watches, flame_watch, haze_watch, height_watch, battery_watch,
        tape_at_hand, boom_line, papers_in, strike, return_kit,
    )
}  # fmt: skip


def thing_of(shot: Shot, key: str) -> str:
    """Return the stand, circuit or glass by which a row about a record is folded, "" for none."""
    kind = kind_of(key)
    if kind == "layer":
        return thing_of(shot, shot.records.target(key, "source"))
    if kind == "source":
        found = shot.rigs_of(key)
        return found[0] if found else key
    return key if kind in ("rig", "circuit", "drink", "food") else ""
