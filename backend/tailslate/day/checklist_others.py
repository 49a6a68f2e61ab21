"""What the templates of camera, props, assistant directors, sound and production ask for. Set-up -> quantities.

Knows no ticks. Quantities and what is not known: rules H1 and H2 of `checklist_things.py`.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.checklist_shot import Asked, Shot

WATCHES = ("open_flame", "haze", "at_height", "real_glass")


def lens_on(shot: "Shot") -> "list[Asked]":
    """One row with what the camera is set to."""
    said = [shot.said(shot.setup, "lens_mm")] if shot.setup else []
    said.extend([shot.said(shot.key, "t_stop"), shot.said(shot.key, "shutter_angle_deg")])
    index = shot.said(shot.key, "exposure_index")
    said.insert(2, "EI " + index if index else "")
    words = ", ".join([one for one in said if one])
    return [([shot.key], "", "", words)] if shot.setup else []


def frame_edge(shot: "Shot") -> "list[Asked]":
    """One row with how many things stand in the camera's way, as far as they are placed."""
    path = shot.frame["path"]
    way = path["in_the_way"] if path else []
    words = way[0]["sentence"] if way else ""
    amount, unit = (str(len(way)), "in the way") if way else ("", "")
    return [([shot.key], amount, unit, words)] if shot.setup else []


def glasses_at_line(shot: "Shot") -> "list[Asked]":
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


def label_drink(shot: "Shot") -> "list[Asked]":
    """One row a drink."""
    return [([one], "", "", shot.words(one, "Out of the cold")) for one in shot.drinks]


def label_food(shot: "Shot") -> "list[Asked]":
    """One row a food."""
    return [([one], "", "", shot.words(one, "Out of the cold")) for one in shot.foods]


def lay_portions(shot: "Shot") -> "list[Asked]":
    """One row a food, with the portions for its takes and performers."""
    found: list[Asked] = []
    for food in shot.foods:
        needed = shot.words(food, "Portions")
        there = shot.records.whole(food, "portions")
        words = "" if there is None else str(there) + " there"
        found.append(([food], needed, "portions" if needed else "", words))
    return found


def reset_list(shot: "Shot") -> "list[Asked]":
    """One row with what goes back to where it was."""
    put_back = [shot.named(one) for one in shot.drinks]
    for serves in shot.records.pointing("serves", "shot", shot.key):
        if shot.records.is_there(shot.records.target(serves, "dressing")):
            put_back.append(shot.named(serves))
    unit = "thing" if len(put_back) == 1 else "things"
    return [([shot.key], str(len(put_back)), unit, ", ".join(put_back))] if put_back else []


def exits_walked(shot: "Shot") -> "list[Asked]":
    """One row a shot."""
    return [([shot.key], "", "", "")] if shot.is_set_up() else []


def ask_watches(shot: "Shot") -> "list[Asked]":
    """One row a scene of which nobody said what needs a watch."""
    asked = [one for one in WATCHES if shot.scene_says(one, "unknown")]
    return [([shot.scene], "", "", "not known is not no")] if asked and shot.is_set_up() else []


def flame_watch(shot: "Shot") -> "list[Asked]":
    """One row a scene with open flame."""
    return [([shot.scene], "", "", "")] if shot.scene_says("open_flame", "yes") else []


def haze_watch(shot: "Shot") -> "list[Asked]":
    """One row a scene with haze or smoke."""
    return [([shot.scene], "", "", "")] if shot.scene_says("haze", "yes") else []


def height_watch(shot: "Shot") -> "list[Asked]":
    """One row a scene with work at height."""
    return [([shot.scene], "", "", "")] if shot.scene_says("at_height", "yes") else []


def glass_watch(shot: "Shot") -> "list[Asked]":
    """One row a scene with real glass in hands."""
    return [([shot.scene], "", "", "")] if shot.scene_says("real_glass", "yes") else []


def boom_line(shot: "Shot") -> "list[Asked]":
    """One row where a camera and a key are set."""
    return [([shot.key], "", "", "")] if shot.setup and shot.of_roles(("key",)) else []


def papers_in(shot: "Shot") -> "list[Asked]":
    """One row a scene."""
    return [([shot.scene], "", "", "")] if shot.scene and shot.is_set_up() else []


def return_kit(shot: "Shot") -> "list[Asked]":
    """One row a scene."""
    return papers_in(shot)
