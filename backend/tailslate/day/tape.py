"""The tape of a shot: marks, cable runs, edges, tubes, and the bumps that people walk over. Records -> figures.

Tape is no ramp, and hides the heat of a cable. A length that is only usual says so. A bump across a
walkway that nobody measured is not known.
"""

from tailslate.craft import tape
from tailslate.craft.rounding import round_up
from tailslate.craft.walkway import bump_needs
from tailslate.day import cautions, figures, names, rolls, shown
from tailslate.day.figures import OVER, PLAIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

# What is usual where nobody said otherwise (common practice, no source).
USUAL_BAR_M = 0.15
USUAL_STEM_M = 0.15
MARK_WASTE_RATIO = 0.1
USUAL = {"pitch_m": 1.5, "strip_m": 0.15, "layers": 1.0, "overlap_m": 0.04, "overlap_ratio": 0.5}
BUMPS = {
    "flush": "low enough to lie flush",
    "bevel": "needs a bevelled edge, one in two",
    "ramp": "needs a ramp or a mat",
}


def of_shot(shot: str, records: "Gathered") -> "dict[str, Any]":
    """Return the tape of a shot.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: dict, keys jobs (list of dict, keys record, title, figures, caution), rolls (list of dict, keys
        record, title, figure). Marks are one job for each roll.
    """
    scene, jobs = records.target(shot, "scene"), []
    lengths: list[tuple[str, float | None]] = []
    marks: dict[str, list[str]] = {}
    for key in records.pointing("mark", "shot", shot):
        marks.setdefault(records.target(key, "roll"), []).append(key)
    for roll in sorted(marks):
        figure = figures.tried("Marks", _marks, marks[roll], records)
        jobs.append(_job(marks[roll][0], "Marks", [figure], None))
        lengths.append((roll, figure["value"]))
    for key in records.of_kind("taping"):
        on_shot, on_scene = records.target(key, "shot"), records.target(key, "scene")
        if on_shot == shot or (not on_shot and scene and on_scene == scene):
            found = _taping(key, records)
            is_no_cable = records.text(key, "type") in ("edge", "tube")  # what nobody said may be one
            caution = None if is_no_cable else cautions.caution("hot_cable")
            jobs.append(_job(key, names.name_of(key, records), found, caution))
            lengths.append((records.target(key, "roll"), found[0]["value"]))
    return {"jobs": jobs, "rolls": rolls.together(lengths, records)}


def _job(key: str, title: str, found: "list[Figure]", caution: "dict[str, str] | None") -> "dict[str, Any]":
    return {"record": key, "title": title, "figures": found, "caution": caution}


def _metres(length_m: float, records: "Gathered") -> str:
    return shown.figure(round_up(length_m, 2), "m", records.units)


def _marks(keys: "list[str]", records: "Gathered") -> "Figure":
    length_m, usual = 0.0, False
    for key in keys:
        facts = Facts(key, records)
        bar_m, stem_m = facts.known("bar_m"), facts.known("stem_m")
        usual = usual or bar_m is None or stem_m is None
        length_m += tape.marks_m(
            1,
            bar_m=USUAL_BAR_M if bar_m is None else bar_m,
            stem_m=USUAL_STEM_M if stem_m is None else stem_m,
            waste_ratio=MARK_WASTE_RATIO,
        )
    line = str(len(keys)) + (" mark" if len(keys) == 1 else " marks") + ", 10 % torn or laid again"
    if usual:
        line += "; a bar and a stem of 15 cm where nobody said otherwise"
    return figures.plain("Marks", _metres(length_m, records), line, value=length_m)


def _taping(key: str, records: "Gathered") -> "list[Figure]":
    type_ = records.text(key, "type")
    facts = Facts(key, records)
    if type_ not in _LENGTHS:
        facts.miss("type", "say whether it is a run, an edge or a tube")
        return [figures.unknown("Tape", facts.missing)]
    found = [figures.tried("Tape", _LENGTHS[type_], facts, records)]
    if type_ == "run":
        found.append(figures.tried("Walkway", _walkway, key, records, caution="hot_cable"))
    return found


def _usual(facts: Facts, field: str, said: "list[str]") -> float:
    """Return a quantity, or what is usual of it, and note that in words."""
    found = facts.known(field)
    if found is not None:
        return found
    name = field[: field.rfind("_")].replace("_", " ") if "_" in field else field
    unit = "m" if field.endswith("_m") else "ratio"
    said.append(name + " " + shown.figure(USUAL[field], unit, facts.records.units))
    return USUAL[field]


def _told(length_m: float, line: str, said: "list[str]", records: "Gathered") -> "Figure":
    parts = [line] if line else []
    if said:
        parts.append("usual: " + ", ".join(said))
    return figures.plain("Tape", _metres(length_m, records), "; ".join(parts), value=length_m)


def _run(facts: Facts, records: "Gathered") -> "Figure":
    said: list[str] = []
    length_m = facts.number("length_m", "pace the run")
    if length_m is None:
        return figures.unknown("Tape", facts.missing)
    pitch_m, strip_m = _usual(facts, "pitch_m", said), _usual(facts, "strip_m", said)
    strips = tape.strip_count(length_m, pitch_m=pitch_m)
    taped_m = tape.cable_run_m(length_m, pitch_m=pitch_m, strip_m=strip_m)
    return _told(taped_m, "along its whole length, " + str(strips) + " cross strips", said, records)


def _edge(facts: Facts, records: "Gathered") -> "Figure":
    said: list[str] = []
    width_m, height_m = facts.number("width_m"), facts.number("height_m")
    if width_m is None or height_m is None:
        return figures.unknown("Tape", facts.missing)
    layers, overlap_m = _usual(facts, "layers", said), _usual(facts, "overlap_m", said)
    taped_m = tape.edge_wrap_m(
        width_m=width_m, height_m=height_m, layer_count=int(layers), overlap_m=overlap_m
    )
    return _told(taped_m, "round the panel's edge", said, records)


def _tube(facts: Facts, records: "Gathered") -> "Figure":
    said: list[str] = []
    across_m, length_m = facts.number("diameter_m"), facts.number("length_m")
    tape_m = facts.number("tape_width_m", "read the tape's width off the roll")
    if across_m is None or length_m is None or tape_m is None:
        return figures.unknown("Tape", facts.missing)
    overlap = _usual(facts, "overlap_ratio", said)
    taped_m = tape.tube_wrap_m(
        tube_diameter_m=across_m, wrapped_m=length_m, tape_width_m=tape_m, overlap_ratio=overlap
    )
    return _told(taped_m, "wound on; half a turn more at each end", said, records)


_LENGTHS = {"run": _run, "edge": _edge, "tube": _tube}


def _walkway(key: str, records: "Gathered") -> "Figure":
    """Return what a run across where people walk needs."""
    facts, label, crosses = Facts(key, records), "Walkway", records.text(key, "crosses_walkway")
    if crosses == "no":
        return figures.plain(label, "not across", "keep it so; walk the route", caution="hot_cable")
    if records.text(key, "ramp_laid") == "yes":
        line = "taped down at its edges, route walked in the light it will have"
        return figures.plain(label, "ramp or mat over it", line, caution="hot_cable")
    if crosses != "yes":
        facts.miss("crosses_walkway", "say whether people walk across it")
    bump_m = facts.number("bump_m", "measure its highest point on the floor")
    if facts.missing or bump_m is None:
        return figures.unknown(label, facts.missing, caution="hot_cable")
    needs = bump_needs(bump_m)
    words = shown.figure(bump_m, "m", records.units) + " " + BUMPS[needs]
    state = PLAIN if needs == "flush" else OVER
    return figures.plain(
        label,
        words,
        "cross at right angles, no loop; once the ramp or mat lies, say so",
        caution="hot_cable",
        state=state,
        value=bump_m,
    )
