"""What the electricians' templates ask for in one shot: cables, loads, batteries, lamps. Set-up -> quantities.

Knows no ticks. Quantities and what is not known: rules H1 and H2 of `checklist_things.py`.
"""

from tailslate.craft.rounding import round_up, total
from tailslate.day import shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.checklist_shot import Asked, Shot

LIT_ROLES = (
    "key",
    "fill",
    "back",
    "background",
    "",
)  # a lamp to which nobody gave a role yet is lit all the same


def lay_cable(shot: "Shot") -> "list[Asked]":
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


def unroll_cable(shot: "Shot") -> "list[Asked]":
    """One row a circuit with a cable of its own: a coil heats."""
    found: list[Asked] = []
    for circuit in shot.circuits:
        if shot.records.number(circuit, "cable_length_m"):
            found.append(
                ([circuit], shot.said(circuit, "cable_length_m"), "", shot.said(circuit, "cable_size"))
            )
    return found


def map_outlets(shot: "Shot") -> "list[Asked]":
    """One row a circuit whose outlets nobody mapped."""
    return [([one], "", "", "") for one in shot.circuits if shot.records.text(one, "mapped") != "yes"]


def agree_load(shot: "Shot") -> "list[Asked]":
    """One row a circuit, with what is on it."""
    found: list[Asked] = []
    for circuit in shot.circuits:
        load = shot.figure(circuit, "Load")
        found.append(([circuit], shot.words(circuit, "Load"), "", load["word"] if load else ""))
    return found


def _battery_sources(shot: "Shot") -> "list[str]":
    return [one for one in shot.sources if shot.figure(one, "Batteries")]


def charge_batteries(shot: "Shot") -> "list[Asked]":
    """One row a source on batteries, with how many for how long."""
    return [([one], shot.words(one, "Batteries"), "", "") for one in _battery_sources(shot)]


def swap_battery(shot: "Shot") -> "list[Asked]":
    """One row a source on batteries, with how long one lasts."""
    return [([one], shot.words(one, "Runs for"), "", "") for one in _battery_sources(shot)]


def bulb_in(shot: "Shot") -> "list[Asked]":
    """One row a practical."""
    found: list[Asked] = []
    for source in sorted({shot.source_of[one] for one in shot.of_roles(("practical",))}):
        found.append(([source], "", "", shot.records.text(source, "lamp")))
    return found


def _levels_in_words(shot: "Shot", levels: "list[str]") -> str:
    parts = []
    for level in levels:
        said = shot.said(level, "dimmer_percent") or shot.said(level, "output_ratio")
        if said:
            parts.append(shot.named(level) + " " + said)
    return ", ".join(parts)


def practicals_set(shot: "Shot") -> "list[Asked]":
    """One row for all practicals of the shot."""
    levels = shot.of_roles(("practical",))
    unit = "practical" if len(levels) == 1 else "practicals"
    return [([shot.key], str(len(levels)), unit, _levels_in_words(shot, levels))] if levels else []


def dimmers_set(shot: "Shot") -> "list[Asked]":
    """One row for all other lamps of the shot."""
    levels = shot.of_roles(LIT_ROLES)
    unit = "lamp" if len(levels) == 1 else "lamps"
    return [([shot.key], str(len(levels)), unit, _levels_in_words(shot, levels))] if levels else []


def colour_matched(shot: "Shot") -> "list[Asked]":
    """One row where lamps of several kinds burn together."""
    count = len(shot.sources)
    return [([shot.key], str(count), "lamps", "")] if count > 1 else []


def last_reading(shot: "Shot") -> "list[Asked]":
    """One row for the record of how it was really lit."""
    return [([shot.key], "", "", "")] if shot.levels else []


def battery_watch(shot: "Shot") -> "list[Asked]":
    """One row a scene with lamps on batteries."""
    return [([shot.scene], "", "", "")] if shot.scene and _battery_sources(shot) else []
