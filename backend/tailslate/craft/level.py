"""The level at one point behind a lamp's layers, with each layer's loss in stops.

Takes a passage (diffusion.py) to a face, a shoulder, a background or a table. A layer's loss is
what it costs at that point: the level without it and those after it, over the level with it.
"""

import math

from .beam import intensity_ratio
from .chain_facts import is_louvre, missing
from .diffusion import passage
from .exposure import stops_between
from .limits import above_zero, finite
from .louvre import louvre_transmittance_ratio, louvred_rectangle_illuminance_lx
from .photometry import facing, rectangle_illuminance_lx
from .rounding import total
from .vectors import dot, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypedDict

    from .chain_facts import Fact, Lamp, Layer
    from .diffusion import Passage
    from .ranges import Range

    class Subject(TypedDict, total=False):
        """A point that is lit: its place from the last layer (or the bare lamp), and its facing."""

        distance_m: float | None
        right_m: float
        up_m: float
        pan_deg: float
        tilt_deg: float


def _spread(pairs: "list[tuple[str, float]]") -> "Range | None":
    """Return the range of (end, value) pairs, None when there is no typical value."""
    typical = [value for end, value in pairs if end == "typical"]
    if not typical:
        return None
    values = [value for _, value in pairs]
    return {"low": min(values), "typical": typical[0], "high": max(values)}


def _louvre_depth(layers: "list[Layer]") -> float:
    """Return the depth of the deepest cells: one louvre before another hides no more than that."""
    depths: list[Any] = [layer["cell_depth_ratio"] for layer in layers if is_louvre(layer)]
    return max(depths, default=0.0)


def _place(subject: "Subject") -> "dict[str, float]":
    return {
        "right_m": subject.get("right_m", 0.0),
        "up_m": subject.get("up_m", 0.0),
        "pan_deg": subject.get("pan_deg", 0.0),
        "tilt_deg": subject.get("tilt_deg", 0.0),
    }


def _from_sheet(
    made: "Passage", index: int, subject_away_m: float, place: "dict[str, float]", depth: float
) -> float:
    """Return the level at the point per exitance of one sheet, no unit."""
    sheet = made["sheets"][index]
    distance_m = subject_away_m - sheet["away_m"]
    size: Any = {"width_m": sheet["lit_width_m"], "height_m": sheet["lit_height_m"], "distance_m": distance_m}
    for name in sorted(place):
        size[name] = place[name]
    if depth > 0:
        return louvred_rectangle_illuminance_lx(1.0 / math.pi, cell_depth_ratio=depth, **size)
    return rectangle_illuminance_lx(1.0 / math.pi, **size)


def _from_lamp(
    made: "Passage", subject_away_m: float, place: "dict[str, float]", depth: float
) -> float | None:
    """Return the level at the point per candela of the lamp's peak, None off a beam not known."""
    right_m, up_m = place["right_m"], place["up_m"]
    beam_deg = made["lamp"].get("beam_deg")
    off_axis = math.atan2(math.sqrt(right_m * right_m + up_m * up_m), subject_away_m)
    if beam_deg is None and off_axis > 0:
        return None
    ratio = (
        1.0 if beam_deg is None else intensity_ratio(off_axis_deg=math.degrees(off_axis), beam_deg=beam_deg)
    )
    if depth > 0:
        ratio *= louvre_transmittance_ratio(
            depth, right_ratio=right_m / subject_away_m, up_ratio=up_m / subject_away_m
        )
    ray = (right_m, up_m, subject_away_m)
    towards = -dot(ray, facing(place["pan_deg"], place["tilt_deg"]))
    return ratio * max(0.0, towards) / math.pow(length(ray), 3.0)


def _missed_sheets(made: "Passage", subject_away_m: float, place: "dict[str, float]") -> list[int]:
    """Return the numbers of the sheets that the straight ray from lamp to point passes by."""
    missed: list[int] = []
    for sheet in made["sheets"]:
        along = sheet["away_m"] / subject_away_m
        beside = abs(place["right_m"]) * along > sheet["width_m"] / 2.0
        if beside or abs(place["up_m"]) * along > sheet["height_m"] / 2.0:
            missed.append(sheet["number"])
    return missed


def _questions(made: "Passage", missed: list[int]) -> "list[Fact]":
    questions: list[Fact] = []
    for number in missed:
        name = made["layers"][number - 1].get("name", f"layer {number}")
        sentence = f"the point sees the lamp past the edge of {name}: flag it, or meter it; not in the figure"
        questions.append(missing("width_m", layer=number, sentence=sentence, code="spill_past_edge"))
    return questions


def level_at(made: "Passage", *, subject: "Subject") -> "dict[str, Any]":
    """Return the level at one point behind the layers, as a range, with each layer's loss.

    Args:
        made: dict from passage [m, cd, lx].
        subject: dict, keys distance_m (from the last layer's plane, or from the bare lamp, square to
            it [m]), right_m and up_m (off the axis [m]), pan_deg and tilt_deg (from facing the lamp
            [deg]; tilt 90 is a table top).
    Returns: dict, keys level_lx, bare_lx (the lamp alone, no layers), loss_stops [lx, stop] (ranges or None),
        stages (list of dict, one a layer, keys number, name, on_lx, luminance_cd_m2,
        level_lx (at the point, this layer being the last), loss_stops),
        source (dict, keys width_m, height_m, distance_m of the largest share of the light, or None for
        the lamp itself), lamp_share_ratio (share that comes straight from the lamp), shift_mired,
        unknown and questions (lists of dict as Fact). level_lx is None exactly when unknown is not empty.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [light-1], [light-5], [light-9]

    >>> bulb = {"intensity_cd": {"low": 90.0, "typical": 100.0, "high": 110.0}, "beam_deg": 360.0}
    >>> level_at(passage(bulb, layers=[]), subject={"distance_m": 5.0})["level_lx"]["typical"]
    4.0
    """
    unknown, place = list(made["unknown"]), _place(subject)
    for field in sorted(place):
        finite(place[field], field=field, unit="m or deg", next_step="measure the place again")
    distance_m = subject.get("distance_m")
    answer: dict[str, Any] = {
        "level_lx": None, "bare_lx": None, "loss_stops": None, "stages": [], "source": None,
        "lamp_share_ratio": None, "shift_mired": shift_mired(made["layers"]),
        "unknown": unknown, "questions": [],
    }  # fmt: skip
    if distance_m is None:
        sentence = "the distance to the point is not known: measure it from the last layer"
        unknown.append(missing("distance_m", layer=len(made["layers"]), sentence=sentence))
    else:
        above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the last layer")
    if unknown:
        return answer
    assert distance_m is not None
    subject_away_m = distance_m + (made["away_m"][-1] if made["away_m"] else 0.0)
    missed = _missed_sheets(made, subject_away_m, place)
    answer["questions"] = _questions(made, missed)
    levels = _levels(made, subject_away_m, place, missed)
    if _spread(levels[-1]) is None:
        sentence = "the point is off the lamp's axis and its beam angle is not known: read it off its sheet"
        unknown.append(missing("beam_deg", layer=0, sentence=sentence))
        return answer
    answer["bare_lx"], answer["level_lx"] = _spread(levels[0]), _spread(levels[-1])
    answer["loss_stops"] = _loss(levels[0], levels[-1])
    answer["stages"] = [_stage(made, number, levels) for number in range(1, len(levels))]
    _add_source(answer, made, subject_away_m, place, missed)
    return answer


def _levels(
    made: "Passage", subject_away_m: float, place: "dict[str, float]", missed: list[int]
) -> "list[list[tuple[str, float]]]":
    """Return, for no layer, the first, the first two ..., the level of each run with its end."""
    levels: list[list[tuple[str, float]]] = []
    plain = [_from_sheet(made, index, subject_away_m, place, 0.0) for index in range(len(made["sheets"]))]
    for count in range(len(made["layers"]) + 1):
        depth = _louvre_depth(made["layers"][:count])
        per_sheet = plain
        if depth > 0:
            per_sheet = [_from_sheet(made, i, subject_away_m, place, depth) for i in range(len(plain))]
        per_candela = _from_lamp(made, subject_away_m, place, depth)
        if [number for number in missed if number <= count]:
            per_candela = 0.0  # past the edge it is spill: a question, not part of the figure
        level: list[tuple[str, float]] = []
        for run in made["runs"]:
            stage = run["stages"][count]
            if per_candela is None and stage["beam_cd"] > 0:
                continue
            amount = stage["beam_cd"] * (per_candela or 0.0)
            for index, exitance in enumerate(stage["exitances"]):  # in the layers' order on both Pythons
                amount += exitance * per_sheet[index]
            level.append((run["end"], amount))
        levels.append(level)
    return levels


def _loss(before: "list[tuple[str, float]]", after: "list[tuple[str, float]]") -> "Range | None":
    if len(before) != len(after):
        return None
    losses: list[tuple[str, float]] = []
    for index, (end, level) in enumerate(after):
        if level > 0 and before[index][1] > 0:
            losses.append((end, stops_between(before[index][1], reference=level)))
    return _spread(losses)


def _stage(made: "Passage", number: int, levels: "list[list[tuple[str, float]]]") -> "dict[str, Any]":
    """Return what one layer gets, gives and costs at the point."""
    on_lx: list[tuple[str, float]] = []
    luminance: list[tuple[str, float]] = []
    order = [sheet["number"] for sheet in made["sheets"]]
    for run in made["runs"]:
        light = run["on_lx"][number - 1]
        if light is not None:
            on_lx.append((run["end"], light))
            exitance = run["stages"][number]["exitances"][order.index(number)]
            luminance.append((run["end"], exitance / math.pi))
    return {
        "number": number,
        "name": made["layers"][number - 1].get("name", f"layer {number}"),
        "on_lx": _spread(on_lx),
        "luminance_cd_m2": _spread(luminance),
        "level_lx": _spread(levels[number]),
        "loss_stops": _loss(levels[number - 1], levels[number]),
    }


def _add_source(
    answer: "dict[str, Any]",
    made: "Passage",
    subject_away_m: float,
    place: "dict[str, float]",
    missed: list[int],
) -> None:
    """Add what the point sees as the source: the sheet that gives it most, and the lamp's own share."""
    run = next(run for run in made["runs"] if run["end"] == "typical")
    stage, depth = run["stages"][-1], _louvre_depth(made["layers"])
    level, most = answer["level_lx"]["typical"], 0.0
    if level <= 0:
        return
    beam = 0.0 if missed else stage["beam_cd"] * (_from_lamp(made, subject_away_m, place, depth) or 0.0)
    answer["lamp_share_ratio"] = beam / level
    for index, sheet in enumerate(made["sheets"]):
        part = stage["exitances"][index] * _from_sheet(made, index, subject_away_m, place, depth)
        if part > most:
            most, distance_m = part, subject_away_m - sheet["away_m"]
            reach_m = 2.0 * distance_m / depth if depth > 0 else math.inf
            answer["source"] = {
                "width_m": min(sheet["lit_width_m"], reach_m),
                "height_m": min(sheet["lit_height_m"], reach_m),
                "distance_m": distance_m,
            }


def shift_mired(layers: "list[Layer]") -> "Range | None":
    """Return the colour shift of all layers together; mireds add, warm is positive.

    Args:
        layers: list of dict; shift_mired is a range [mired], or None when not known.
    Returns: range [mired], or None when one of the sheets has none.
    Raises: nothing.
    Source: [colour-1]

    >>> shift_mired([])
    {'low': 0.0, 'typical': 0.0, 'high': 0.0}
    """
    shifts: list[Any] = [layer.get("shift_mired") for layer in layers if not is_louvre(layer)]
    if None in shifts:
        return None
    return {
        "low": total([shift["low"] for shift in shifts]),
        "typical": total([shift["typical"] for shift in shifts]),
        "high": total([shift["high"] for shift in shifts]),
    }


def level_through_layers(lamp: "Lamp", *, layers: "list[Layer]", subject: "Subject") -> "dict[str, Any]":
    """Return the level at one point behind a lamp's layers; layers=[] is the bare lamp.

    Args:
        lamp: dict as in passage; intensity_cd range [cd], beam_deg [deg], gap_to_next_m [m].
        layers: list of dict as in passage; lengths [m], shares [ratio].
        subject: dict as in level_at; lengths [m], angles [deg].
    Returns: dict as level_at [lx, stop].
    Raises: RuleError as passage and level_at.
    Source: [light-1], [light-5]

    >>> bulb = {"intensity_cd": None}
    >>> [fact["field"] for fact in level_through_layers(bulb, layers=[], subject={"distance_m": 2.0})["unknown"]]
    ['intensity_cd']
    """
    return level_at(passage(lamp, layers=layers), subject=subject)
