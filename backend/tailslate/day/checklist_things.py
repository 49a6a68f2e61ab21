"""Which function asks for what each template names, and over which records and folds it goes.

Knows no ticks. H1 a quantity is that of the sheet's figure and is not worked out a second time. H2 what the
figure does not know stays "at least", or empty: never a number that looks known.
"""

from tailslate.day import checklist_electric, checklist_grip, checklist_others
from tailslate.day.checklist_shot import Shot
from tailslate.day.gathered import kind_of

_ASKING = (
    checklist_grip.rig_stand,
    checklist_grip.counterweight_on,
    checklist_grip.wind_named,
    checklist_grip.frames_up,
    checklist_grip.louvre_on,
    checklist_grip.flag_set,
    checklist_grip.place_source,
    checklist_grip.place_fill,
    checklist_grip.tape_at_hand,
    checklist_grip.strike,
    checklist_electric.lay_cable,
    checklist_electric.unroll_cable,
    checklist_electric.map_outlets,
    checklist_electric.agree_load,
    checklist_electric.charge_batteries,
    checklist_electric.swap_battery,
    checklist_electric.bulb_in,
    checklist_electric.practicals_set,
    checklist_electric.dimmers_set,
    checklist_electric.colour_matched,
    checklist_electric.last_reading,
    checklist_electric.battery_watch,
    checklist_others.lens_on,
    checklist_others.frame_edge,
    checklist_others.glasses_at_line,
    checklist_others.label_drink,
    checklist_others.label_food,
    checklist_others.lay_portions,
    checklist_others.reset_list,
    checklist_others.exits_walked,
    checklist_others.ask_watches,
    checklist_others.flame_watch,
    checklist_others.haze_watch,
    checklist_others.height_watch,
    checklist_others.glass_watch,
    checklist_others.boom_line,
    checklist_others.papers_in,
    checklist_others.return_kit,
)
ASK = {one.__name__: one for one in _ASKING}  # by the template's name


def of_kind(shot: "Shot", kind: str) -> "list[str]":
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


def thing_of(shot: "Shot", key: str) -> str:
    """Return the stand, circuit or glass by which a row about a record is folded, "" for none."""
    kind = kind_of(key)
    if kind == "layer":
        return thing_of(shot, shot.records.target(key, "source"))
    if kind == "source":
        found = shot.rigs_of(key)
        return found[0] if found else key
    return key if kind in ("rig", "circuit", "drink", "food") else ""
