"""What the grips' templates ask for in one shot: stands, weights, frames, places, tape. Set-up -> quantities.

Knows no ticks. Quantities and what is not known: rules H1 and H2 of `checklist_things.py`.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.checklist_shot import Asked, Shot


def rig_stand(shot: "Shot") -> "list[Asked]":
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


def counterweight_on(shot: "Shot") -> "list[Asked]":
    """One row a boom."""
    found: list[Asked] = []
    for rig in shot.rigs:
        if shot.figure(rig, "Counterweight"):
            found.append(([rig], shot.words(rig, "Counterweight"), "", "off after it, two people"))
    return found


def wind_named(shot: "Shot") -> "list[Asked]":
    """One row a stand that holds a frame outdoors."""
    found: list[Asked] = []
    for rig in shot.rigs:
        if shot.figure(rig, "Tips in gusts"):
            limit = shot.words(rig, "Wind limit")
            found.append(([rig], limit, "", shot.said(rig, "strikes")))
    return found


def frames_up(shot: "Shot") -> "list[Asked]":
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


def _at_gap(shot: "Shot", layer: str) -> str:
    gap = shot.said(layer, "gap_m")
    return shot.named(layer) + (" at " + gap if gap else ", gap not known")


def _layers_of_type(shot: "Shot", type_: str) -> "list[Asked]":
    found: list[Asked] = []
    for source in shot.sources:
        for layer in shot.layers[source]:
            if shot.records.text(layer, "type") == type_:
                found.append(([layer], "", "", _at_gap(shot, layer)))
    return found


def louvre_on(shot: "Shot") -> "list[Asked]":
    """One row a louvre."""
    return _layers_of_type(shot, "louvre")


def flag_set(shot: "Shot") -> "list[Asked]":
    """One row a flag."""
    return _layers_of_type(shot, "flag")


def _placed(shot: "Shot", roles: "tuple[str, ...]") -> "list[Asked]":
    found: list[Asked] = []
    for level in shot.of_roles(roles):
        source = shot.source_of[level]
        if shot.rigs_of(source) or shot.layers[source]:
            point = shot.records.target(level, "point")
            to = "to " + shot.named(point) if shot.records.is_there(point) else ""
            found.append(([shot.key, source], shot.said(level, "distance_m"), "", to))
    return found


def place_source(shot: "Shot") -> "list[Asked]":
    """One row a source on a stand or behind a frame, other than a fill."""
    return _placed(shot, ("key", "back", "background", ""))


def place_fill(shot: "Shot") -> "list[Asked]":
    """One row a fill on a stand or behind a frame: it is set beside what the dressing bounces."""
    return _placed(shot, ("fill",))


def tape_at_hand(shot: "Shot") -> "list[Asked]":
    """One row with what to bring, in rolls where the roll is known."""
    needed = [one["title"] + " " + one["figure"]["shown"] for one in shot.rolls]
    first = shot.rolls[0]["figure"]["shown"] if len(shot.rolls) == 1 else ""
    words = ", ".join(needed) if len(needed) > 1 else shot.rolls[0]["title"] if needed else ""
    return [([shot.key], first, "", words)] if needed else []


def strike(shot: "Shot") -> "list[Asked]":
    """One row a scene with stands."""
    unit = "stand" if len(shot.rigs) == 1 else "stands"
    return [([shot.scene], str(len(shot.rigs)), unit, "")] if shot.scene and shot.rigs else []
