"""Lamp -> layer 1 -> layer 2 -> subject: the level that is left, stage by stage, as a range.

Each scattering sheet becomes a new, even source of the size of its lit part; what a sheet lets
straight through keeps its old source (a hot centre). Sheets that face each other send light to
and fro; open gaps leak it. Two steps: passage (the layers alone), then level_at (one point).
Shapes of lamp, layer and fact: chain_facts.py. No figure where a fact is missing.
"""

import math

from .beam import lit_patch
from .chain_facts import check_facts, is_clear, is_louvre, lamp_intensity_cd, missing_facts
from .form_factors import parallel_rectangles_ratio, rectangle_solid_angle_sr
from .layers import return_gain, returned_ratio
from .photometry import rectangle_illuminance_lx
from .ranges import ENDS
from .rounding import total

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypedDict

    from .chain_facts import Fact, Lamp, Layer
    from .ranges import Range

    class Sheet(TypedDict):
        """A scattering sheet in place: its lit part, and what light reaches it from where."""

        number: int
        away_m: float
        width_m: float
        height_m: float
        lit_width_m: float
        lit_height_m: float
        lit_m2: float
        lamp_sr: float
        lamp_share: Range
        from_sheets: list[float]
        exchange_ratio: float
        back_ratio: float

    class Stage(TypedDict):
        """One run after so many layers: what is left of the lamp's beam, what each sheet gives out."""

        beam_cd: float
        exitances: list[float]

    class Run(TypedDict):
        """One choice of material values: the end it belongs to, light on each layer, the stages."""

        end: str
        on_lx: list[float | None]
        stages: list[Stage]

    class Passage(TypedDict):
        """The layers with all light computed up to the last; level_at takes it from there."""

        lamp: Lamp
        layers: list[Layer]
        away_m: list[float]
        sheets: list[Sheet]
        runs: list[Run]
        unknown: list[Fact]


def _share(layer: "Layer", field: str, end: str, unset: float) -> float:
    values: Any = layer.get(field)
    return unset if values is None else values[end]


def _lamp_patch(
    lamp: "Lamp", layer: "Layer", away_m: float, earlier: "list[Sheet]"
) -> "tuple[float, float, Range]":
    """Return width, height and share of the part of a frame that the lamp itself reaches."""
    width_m, height_m = layer["width_m"], layer["height_m"]
    assert width_m is not None
    assert height_m is not None
    for sheet in earlier:  # the light has come through the lit part of each earlier frame
        spread = away_m / sheet["away_m"]
        width_m = min(width_m, sheet["lit_width_m"] * spread)
        height_m = min(height_m, sheet["lit_height_m"] * spread)
    even: Range = {"low": 1.0, "typical": 1.0, "high": 1.0}
    lit_width_m, lit_height_m = layer.get("lit_width_m"), layer.get("lit_height_m")
    if lit_width_m is not None and lit_height_m is not None:
        return min(width_m, lit_width_m), min(height_m, lit_height_m), even
    beam_deg = lamp.get("beam_deg")
    if beam_deg is None:
        return width_m, height_m, even
    patch: Any = lit_patch(beam_deg=beam_deg, distance_m=away_m, width_m=width_m, height_m=height_m)
    return patch["width_m"], patch["height_m"], patch["share_ratio"]


def _spread_patch(layer: "Layer", sheet: "Sheet", gap_m: float) -> tuple[float, float, float]:
    """Return the share of a sheet's light that reaches a frame, and the even patch it makes there.

    Edges of the frame get less than its middle; the patch holds the same light at the middle's
    brightness, so that what stands before it gets neither too much nor too little.
    """
    frame_width_m, frame_height_m = layer["width_m"], layer["height_m"]
    assert frame_width_m is not None
    assert frame_height_m is not None
    size = {"width_m": sheet["lit_width_m"], "height_m": sheet["lit_height_m"]}
    ratio = parallel_rectangles_ratio(
        from_width_m=size["width_m"],
        from_height_m=size["height_m"],
        to_width_m=frame_width_m,
        to_height_m=frame_height_m,
        gap_m=gap_m,
    )
    middle = 1.0
    if gap_m > 0:
        middle = rectangle_illuminance_lx(1.0 / math.pi, distance_m=gap_m, **size)
    patch_m2 = min(frame_width_m * frame_height_m, size["width_m"] * size["height_m"] * ratio / middle)
    width_m = min(frame_width_m, size["width_m"] + 2.0 * gap_m)
    height_m = min(frame_height_m, size["height_m"] + 2.0 * gap_m)
    width_m = min(frame_width_m, width_m * math.sqrt(patch_m2 / (width_m * height_m)))
    height_m = min(frame_height_m, patch_m2 / width_m)
    return ratio, patch_m2 / height_m, height_m


def _placed_sheet(
    lamp: "Lamp", layer: "Layer", number: int, away_m: float, earlier: "list[Sheet]", arriving: "Stage"
) -> "Sheet":
    """Return a sheet in its place: lit part, light per candela and per earlier sheet.

    arriving is what a typical lamp of 1 cd sends on: it weighs the part that the lamp lights itself
    against the parts that earlier sheets light.
    """
    frame_width_m, frame_height_m = layer["width_m"], layer["height_m"]
    assert frame_width_m is not None
    assert frame_height_m is not None
    lamp_width_m, lamp_height_m, share = _lamp_patch(lamp, layer, away_m, earlier)
    lamp_sr = rectangle_solid_angle_sr(width_m=lamp_width_m, height_m=lamp_height_m, distance_m=away_m)
    lit = [(arriving["beam_cd"] * lamp_sr, lamp_width_m, lamp_height_m)]
    from_sheets: list[float] = []
    for place, sheet in enumerate(earlier):
        ratio, width_m, height_m = _spread_patch(layer, sheet, away_m - sheet["away_m"])
        lumens = arriving["exitances"][place] * sheet["lit_m2"] * ratio
        lit.append((lumens, width_m, height_m))
        from_sheets.append(ratio)
    whole = total([lumens for lumens, _, _ in lit])
    if whole > 0:
        width_m = total([lumens * width_m for lumens, width_m, _ in lit]) / whole
        height_m = total([lumens * height_m for lumens, _, height_m in lit]) / whole
    else:
        width_m, height_m = lamp_width_m, lamp_height_m  # an opaque layer before it: dark, any size will do
    back = 0.0
    if earlier:
        back = parallel_rectangles_ratio(
            from_width_m=width_m,
            from_height_m=height_m,
            to_width_m=earlier[-1]["width_m"],
            to_height_m=earlier[-1]["height_m"],
            gap_m=away_m - earlier[-1]["away_m"],
        )
    return {
        "number": number,
        "away_m": away_m,
        "width_m": frame_width_m,
        "height_m": frame_height_m,
        "lit_width_m": width_m,
        "lit_height_m": height_m,
        "lit_m2": width_m * height_m,
        "lamp_sr": lamp_sr,
        "lamp_share": share,
        "from_sheets": from_sheets,
        "exchange_ratio": from_sheets[-1] * back if earlier else 0.0,
        "back_ratio": back,
    }


def _lumens(sheet: "Sheet", sheets: "list[Sheet]", stage: "Stage", end: str) -> float:
    """Return the light that reaches a sheet from the lamp and from the sheets before it."""
    amount: float = stage["beam_cd"] * sheet["lamp_sr"] * sheet["lamp_share"][end]  # type: ignore[literal-required]
    for place, exitance in enumerate(stage["exitances"]):
        amount += exitance * sheets[place]["lit_m2"] * sheet["from_sheets"][place]
    return amount


def _run(
    lamp_cd: float, layers: "list[Layer]", sheets: "list[Sheet]", end: str, directs: list[float]
) -> "Run":
    """Return the light through all layers for one choice of material values."""
    stage: Stage = {"beam_cd": lamp_cd, "exitances": []}
    stages, behind = [stage], 0.0
    on_lx: list[float | None] = []
    for index, layer in enumerate(layers):
        passed = 1.0 if is_louvre(layer) else _share(layer, "transmittance_ratio", end, 0.0)
        straight = passed * directs[index]
        exitances, place = list(stage["exitances"]), len(stage["exitances"])
        scattered: list[float] = []
        if place < len(sheets) and sheets[place]["number"] == index + 1:
            sheet = sheets[place]
            lumens = _lumens(sheet, sheets, stage, end)
            returned = min(_share(layer, "reflectance_ratio", end, 0.0), 1.0 - passed)
            facts = {"reflectance_ratio": returned, "behind_ratio": behind}
            facts["exchange_ratio"] = sheet["exchange_ratio"]
            lumens *= return_gain(**facts)
            if place:  # what this sheet sends back makes the one before it brighter
                back = lumens * returned * sheet["back_ratio"] * behind
                exitances[-1] += back / sheets[place - 1]["lit_m2"]
            behind = returned_ratio(transmittance_ratio=passed, **facts)
            on_lx.append(lumens / sheet["lit_m2"])
            scattered = [(passed - straight) * lumens / sheet["lit_m2"]]
        else:
            on_lx.append(None)
        exitances = [exitance * straight for exitance in exitances] + scattered
        stage = {"beam_cd": stage["beam_cd"] * straight, "exitances": exitances}
        stages.append(stage)
    return {"end": end, "on_lx": on_lx, "stages": stages}


def _direct_choices(layers: "list[Layer]", end: str) -> list[list[float]]:
    """Return the choices of direct shares for one end.

    A level is linear in each share, so its extremes lie where each is at its low or high end;
    which of the two depends on the geometry, so all such corners are computed.
    """
    choices: list[list[float]] = [[]]
    for layer in layers:
        values: Any = layer.get("direct_ratio")
        if is_louvre(layer):
            picks = [1.0]
        elif end == "typical" or values["low"] == values["high"]:
            picks = [values["typical"]]
        else:
            picks = [values["low"], values["high"]]
        choices = [choice + [pick] for choice in choices for pick in picks]
    return choices


def passage(lamp: "Lamp", *, layers: "list[Layer]") -> "Passage":
    """Return the light through a lamp's layers, up to the last one; level_at gives a point's level.

    Args:
        lamp: dict, keys intensity_cd (range, peak [cd]) or illuminance_lx (range [lx], in the beam's
            middle) with at_distance_m [m]; beam_deg (full angle at half the peak [deg],
            180 and more for a bulb), gap_to_next_m (lamp to first layer [m]); None is unknown.
        layers: list of dict from the lamp on, keys name, kind (sheet, louvre), transmittance_ratio,
            reflectance_ratio, direct_ratio (share of the passed light that goes straight on) and
            shift_mired (ranges), width_m, height_m, lit_width_m, lit_height_m, gap_to_next_m [m],
            cell_depth_ratio (louvre); None is unknown. Flags are left out: meter behind them.
    Returns: dict as Passage [m, cd, lx]; its list unknown names what is missing, and then there are no runs.
    Raises: RuleError as check_facts.
    Source: [light-3], [light-5], [light-6], [light-7], [light-2] C-13

    >>> bulb = {"intensity_cd": {"low": 100.0, "typical": 100.0, "high": 100.0}, "beam_deg": 360.0}
    >>> passage(bulb, layers=[])["runs"][0]["stages"]
    [{'beam_cd': 100.0, 'exitances': []}]
    """
    check_facts(lamp, layers=layers)
    unknown = missing_facts(lamp, layers=layers)
    made: Passage = {
        "lamp": lamp,
        "layers": layers,
        "away_m": [],
        "sheets": [],
        "runs": [],
        "unknown": unknown,
    }
    if unknown:
        return made
    away_m, before = 0.0, lamp
    for index, layer in enumerate(layers):
        gap_m = before["gap_to_next_m"]
        assert gap_m is not None
        away_m += gap_m
        made["away_m"].append(away_m)
        before = layer  # type: ignore[assignment]
        if not is_louvre(layer) and not is_clear(layer):
            typical = _direct_choices(layers[:index], "typical")[0]
            arriving = _run(1.0, layers[:index], made["sheets"], "typical", typical)["stages"][-1]
            made["sheets"].append(_placed_sheet(lamp, layer, index + 1, away_m, made["sheets"], arriving))
    intensity: Any = lamp_intensity_cd(lamp)
    for end in ENDS:
        for directs in _direct_choices(layers, end):
            made["runs"].append(_run(intensity[end], layers, made["sheets"], end, directs))
    return made
